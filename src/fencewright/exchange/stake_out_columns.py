"""Columns of design.json that say how each hole is found, what goes on the truck, and what was measured."""

from fencewright.exchange.design_columns import Column
from fencewright.tables.load import STEPS
from fencewright.tables.stake_out import TIES

REFERENCES = (
    Column("name", "text", "Name of the reference point."),
    Column("x_m", "length", "Its place in the plane. [m]"),
    Column("y_m", "length", "Its place in the plane. [m]"),
    Column("ground_m", "length", "Its elevation, as stated or of the ground; null: not known. [m]"),
)
TIE_ROWS = (
    Column("reference", "text", "Reference point that the tape starts from."),
    Column("level_m", "length", "Tape held level. [m]"),
    Column("slope_m", "length", "Tape from point to point on the slope; null: a height is not known. [m]"),
)
STAKES = (
    Column("id", "text", "Post or brace; a brace's row is its foot."),
    Column("post", "text", "The post itself, or the post that the brace holds."),
    Column("line", "text", "Line of the stake."),
    Column("station_m", "length", "Running chainage on plan. [m]"),
    Column("slope_station_m", "length", "Running chainage of a tape laid on the ground from station 0. [m]"),
    Column("x_m", "length", "Centre of the hole, in the plane. [m]"),
    Column("y_m", "length", "Centre of the hole, in the plane. [m]"),
    Column("left_of_line_m", "length", "Hole's centre left of the drawn line. [m]"),
    Column("left_of_string_m", "length", "Hole's centre left of the string at the rail's face. [m]"),
    Column(
        "from_previous_m", "length", "Level from the stake before; null at the first of an open line. [m]"
    ),
    Column("slope_from_previous_m", "length", "The same on the slope. [m]"),
    Column("ties", "table", "The two ties; empty without reference points.", rows=TIE_ROWS),
    Column(
        "tie_side",
        "text",
        "Side on which the stake lies, going from the first reference to the second.",
        ("left", "right", "none"),
    ),
    Column("tie_angle_rad", "angle", "Angle at which the two ties cross at the stake. [rad]"),
    Column("tie_state", "text", "Whether the ties cross well: not under sharp, flat or too long ones.", TIES),
    Column("position_sd_m", "length", "Standard deviation of a stake set by its ties; null without end. [m]"),
    Column("major_sd_m", "length", "Longer half axis of its error ellipse. [m]"),
    Column("minor_sd_m", "length", "Shorter half axis. [m]"),
    Column("major_heading_rad", "angle", "Direction of the longer axis, anticlockwise from east. [rad]"),
)
CORNER_CHECKS = (
    Column("post", "text", "Post at the corner; empty where none stands there."),
    Column("line", "text", "Its line."),
    Column("station_m", "length", "Its station. [m]"),
    Column("corner_rad", "angle", "Angle between the two legs. [rad]"),
    Column("right_angle", "flag", "A 3-4-5 corner."),
    Column("back_m", "length", "Measured from the corner along the leg before. [m]"),
    Column("ahead_m", "length", "Measured from the corner along the leg after. [m]"),
    Column("closing_m", "length", "Between those two points, level. [m]"),
    Column(
        "corner_sd_rad", "angle", "Standard deviation of the angle so proven, from the tape's error. [rad]"
    ),
    Column("leg_error_m", "length", "By which the leg after is then off at its end. [m]"),
)
DIAGONALS = (
    Column("line", "text", "A closed line of four corners."),
    Column("from_post", "text", "One corner; empty where no post stands there."),
    Column("to_post", "text", "The corner across; empty where no post stands there."),
    Column("from_station_m", "length", "Station of the one. [m]"),
    Column("to_station_m", "length", "Station of the other. [m]"),
    Column("length_m", "length", "Level, between the corners' centres. [m]"),
    Column("slope_length_m", "length", "Tape from ground to ground. [m]"),
)
PEGS = (
    Column("post", "text", "Corner or end beyond which the peg stands; empty where no post stands there."),
    Column("line", "text", "Its line."),
    Column("station_m", "length", "Station of the corner or end. [m]"),
    Column("beyond", "text", "Past the leg's far end, or before its near one.", ("ahead", "back")),
    Column("x_m", "length", "Peg, on the string's extension, in the plane. [m]"),
    Column("y_m", "length", "Peg, on the string's extension, in the plane. [m]"),
    Column("beyond_m", "length", "Distance past the corner or end. [m]"),
    Column("string_left_m", "length", "String left of the line through the fixed posts' centres. [m]"),
    Column("moved", "flag", "Off its usual distance to keep clear of what lies in the way."),
    Column("clear", "flag", "False: no place near it is clear; do not drive it."),
)
STAKE_OUT = (
    Column("references", "table", "Points that ties start from; empty: none given.", rows=REFERENCES),
    Column("stakes", "table", "One row a post, then one a brace's foot.", rows=STAKES),
    Column("corner_checks", "table", "What proves each corner's angle.", rows=CORNER_CHECKS),
    Column("diagonals", "table", "Diagonals of each closed line of four corners.", rows=DIAGONALS),
    Column("pegs", "table", "String-line pegs past corners and ends.", rows=PEGS),
)
LOAD_ITEMS = (
    Column("step", "text", "Step of the work that it is for.", STEPS),
    Column("order", "text", "Line of the order (`id`); empty for what lies in the yard."),
    Column("item", "text", "What it is."),
    Column("size", "text", "Its size in the units of the sheets."),
    Column("unit", "text", "What is counted."),
    Column("count", "amount", "How many, in `unit`. [-]"),
    Column("mass_each_kg", "mass", "Mass of one; null: not known. [kg]"),
    Column("mass_kg", "mass", "Mass of all; null: not known. [kg]"),
    Column("volume_m3", "volume", "Solid volume of all; null: not known. [m3]"),
    Column("weighed_by", "text", "How the mass is known; empty where it is not."),
)
LOADS = (
    Column("number", "whole", "Load, in the order of work; 1 is the first."),
    Column("mass_kg", "mass", "Of all whose mass is known. [kg]"),
    Column("volume_m3", "volume", "Of all whose volume is known. [m3]"),
    Column("unknown_items", "whole", "Rows whose mass is not known and not in `mass_kg`."),
    Column("over_payload", "flag", "True where one thing alone is heavier than the payload."),
    Column("items", "table", "What goes on it.", rows=LOAD_ITEMS),
)
LOAD = (
    Column("payload_kg", "mass", "What the truck may carry. [kg]"),
    Column("mass_kg", "mass", "Of all loads, what is not known left out. [kg]"),
    Column("volume_m3", "volume", "Of all loads, what is not known left out. [m3]"),
    Column("left_out", "names", "Things whose mass is not known."),
    Column("loads", "table", "Loads in the order of work.", rows=LOADS),
)
TOLERANCES = (
    Column("what", "text", "What is measured on the finished fence."),
    Column("within_m", "length", "How far it may be off; common practice. [m]"),
)
MEASURED = (
    Column("post", "text", "Post that was measured; empty where a pull as a whole was."),
    Column("pull", "text", "Pull that was measured; empty where none."),
    Column("line", "text", "Its line."),
    Column("station_m", "length", "Station of the post; null where none. [m]"),
    Column("what", "text", "What was measured."),
    Column("kind", "text", "Kind of quantity: metres or newtons.", ("length", "force")),
    Column("designed", "amount", "What the design says. [m, N]"),
    Column("measured", "amount", "What was found. [m, N]"),
    Column("difference", "amount", "Measured less designed. [m, N]"),
    Column("least", "amount", "Least that is in tolerance; null without limit. [m, N]"),
    Column("most", "amount", "Most that is in tolerance; null without limit. [m, N]"),
    Column("in_tolerance", "flag", "Whether it lies between them."),
    Column("by", "text", "Who measured."),
    Column("when", "text", "Day, year-month-day."),
    Column("says", "text", "What to do about it; empty where nothing."),
)
