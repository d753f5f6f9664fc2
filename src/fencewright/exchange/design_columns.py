"""Columns of design.json: name, what kind of value, what it says; rounding and JSON Schema come from here.

SI throughout. The record is rounded to what a tape or a gauge can tell: 0.1 mm, 0.1 N, 1e-6 rad.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

DECIMALS: Mapping[str, int] = {
    "length": 4,
    "force": 1,
    "angle": 6,
    "volume": 6,
    "bags": 3,
    "amount": 4,
    "ratio": 6,
    "temperature": 2,
    "frequency": 3,
    "turns": 3,
    "mass": 3,
}
_TYPES: Mapping[str, Mapping[str, Any]] = {
    "text": {"type": "string"},
    "flag": {"type": "boolean"},
    "whole": {"type": "integer"},
    "lengths": {"type": "array", "items": {"type": ["number", "null"]}},
    "forces": {"type": "array", "items": {"type": ["number", "null"]}},
    "names": {"type": "array", "items": {"type": "string"}},
    "points": {
        "type": "array",
        "items": {"type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 2},
    },
}


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table of design.json.

    Attributes
    ----------
    name : str
        Its key in each row, the unit last.
    kind : str
        `length`, `force`, `angle`, `volume`, `bags`, `amount`, `mass`, `ratio`, `temperature`, `frequency`, `turns`
        (numbers, null where unknown), `text`, `flag`, `whole`, `lengths`, `forces`, `names`, `points`, `table`
        (rows of its own) or `object` (one such row).
    says : str
        What it holds.
    choices : tuple of str
        All values that a text may take; empty: any.
    rows : tuple of Column
        Columns of a `table` or `object`.
    """

    name: str
    kind: str
    says: str
    choices: tuple[str, ...] = ()
    rows: tuple["Column", ...] = ()

    @property
    def schema(self) -> dict[str, Any]:
        """JSON Schema of one value."""
        if self.kind == "table":
            return {"type": "array", "description": self.says, "items": row_schema(self.rows)}
        if self.kind == "object":
            return {**row_schema(self.rows), "description": self.says}
        base = dict(_TYPES.get(self.kind, {"type": ["number", "null"]}))
        if self.choices:
            base["enum"] = list(self.choices)
        return {**base, "description": self.says}


def row_schema(columns: tuple[Column, ...]) -> dict[str, Any]:
    """JSON Schema of one row: every column is there, more may be added later."""
    return {
        "type": "object",
        "required": [column.name for column in columns],
        "properties": {column.name: column.schema for column in columns},
    }


ROLES = ("end", "gate", "corner", "bend", "strain", "tee", "crossing", "line", "brace")
SETTINGS = ("tamped", "driven", "concrete")
SIDES = ("left", "right", "both", "none")

LINES = (
    Column("name", "text", "Name of the line in the job."),
    Column("closed", "flag", "Whether its last point joins its first."),
    Column("length_m", "length", "Plan length, gates included. [m]"),
    Column("points_m", "points", "Centres of its fixed posts, x and y in the plane. [m]"),
    Column("station_m", "lengths", "Their stations; a closed line has its length as one more. [m]"),
    Column("rail_side", "text", "Side of the line posts that carries the rail, seen along the line.", SIDES),
    Column("stock_side", "text", "Side on which the animals stand.", SIDES),
)
GATES = (
    Column("name", "text", "Name of the gate."),
    Column("line", "text", "Line in which it stands."),
    Column("station_m", "length", "Station of the centre of its nearer post. [m]"),
    Column("from_post", "text", "Nearer post."),
    Column("to_post", "text", "Farther post."),
    Column("opening_m", "length", "Between post faces. [m]"),
    Column("leaf_m", "length", "Length of the leaf. [m]"),
    Column("hinge_post", "text", "Post that carries the leaf."),
    Column("swing", "text", "Side to which the leaf swings.", SIDES),
)
CROSSINGS = tuple(column for column in GATES if column.name not in {"leaf_m", "hinge_post", "swing"})
SPANS = (
    Column("line", "text", "Line of the span."),
    Column("from_post", "text", "Post where it begins, in the order in which the rail is drawn."),
    Column("to_post", "text", "Post where it ends."),
    Column("kind", "text", "What stands there.", ("fence", "gate", "crossing")),
    Column("run", "text", "Run of rail that it belongs to; empty where no rail."),
    Column("length_m", "length", "Plan distance of the hole centres. [m]"),
    Column("slope_length_m", "length", "Along the ground's chord. [m]"),
    Column("lowest_gap_m", "length", "Least gap under the lowest rail; null where no fence. [m]"),
    Column("gap_sd_m", "length", "Its standard deviation. [m]"),
)
ALSO = (
    Column("line", "text", "Another line that this post serves."),
    Column("station_m", "length", "Station along that line. [m]"),
)
POSTS = (
    Column("id", "text", "Name of the post on every sheet."),
    Column("line", "text", "First line in job order that it serves."),
    Column("also", "table", "Other lines that share it.", rows=ALSO),
    Column("role", "text", "Why it stands.", ROLES),
    Column("station_m", "length", "Plan distance along its line. [m]"),
    Column("x_m", "length", "Hole centre in the plane. [m]"),
    Column("y_m", "length", "Hole centre in the plane. [m]"),
    Column("offset_m", "length", "Hole centre from the string, left positive. [m]"),
    Column("ground_m", "length", "Elevation of the ground there. [m]"),
    Column("top_m", "length", "Elevation of the cut top. [m]"),
    Column("top_sd_m", "length", "Standard deviation of the top's height. [m]"),
    Column("above_ground_m", "length", "Cut top above the ground. [m]"),
    Column("embedment_m", "length", "Post below the ground. [m]"),
    Column("diameter_m", "length", "Diameter of the post. [m]"),
    Column("hole_diameter_m", "length", "Diameter of the hole at the ground. [m]"),
    Column("hole_bell_m", "length", "Diameter of the hole at the bottom. [m]"),
    Column("hole_depth_m", "length", "Depth of the hole. [m]"),
    Column("hole_governs", "text", "What decided the depth."),
    Column("set", "text", "How it is held.", SETTINGS),
    Column("concrete_m3", "volume", "Concrete net of the post. [m3]"),
    Column("bags", "bags", "Bags of concrete, exact, waste left out. [bags]"),
    Column("uplift_n", "force", "Upward part of the rail tensions at cold pull. [N]"),
    Column("stock_length_m", "length", "Length of post to buy; null where none is long enough. [m]"),
    Column("cut_m", "length", "To be sawn off after setting; null where set long. [m]"),
    Column("rail_marks_m", "lengths", "Centre of each rail above grade, lowest first. [m]"),
    Column("cut", "flag", "False: set long, and cut to a string."),
    Column("control", "flag", "True: a control post to string from."),
    Column(
        "rail_face",
        "text",
        "Face of the post that carries the rail, seen along the line.",
        ("left", "right", "both"),
    ),
    Column("bevel_rad", "angle", "Slope of the sawn top. [rad]"),
    Column(
        "bevel_falls",
        "text",
        "Side to which the sawn top falls: away from the rail.",
        ("left", "right", "either"),
    ),
    Column("turning_rad", "angle", "Turning of the line in plan, left positive. [rad]"),
    Column("why", "text", "Why a fixed post stands here."),
)
BRACES = (
    Column("id", "text", "Name of the brace."),
    Column("post", "text", "Post that it props."),
    Column(
        "kind",
        "text",
        "Diagonal to a footing, or horizontal to a second upright.",
        ("diagonal", "horizontal"),
    ),
    Column("x_m", "length", "Foot, or second upright. [m]"),
    Column("y_m", "length", "Foot, or second upright. [m]"),
    Column("length_m", "length", "Of the brace itself. [m]"),
    Column("hole_diameter_m", "length", "Diameter of its footing's hole; null for a horizontal brace. [m]"),
    Column("hole_depth_m", "length", "Depth of its footing's hole. [m]"),
    Column("concrete_m3", "volume", "Concrete of its footing. [m3]"),
    Column("bags", "bags", "Bags of concrete, exact, waste left out. [bags]"),
    Column("reach_m", "length", "Foot from the post's centre, in plan. [m]"),
    Column("contact_m", "length", "Height on the post where it meets it. [m]"),
    Column(
        "cut_rad", "angle", "Slope of the brace, to which its ends are sawn; 0 for a horizontal one. [rad]"
    ),
    Column("lean_m", "length", "By which the top of its post is set away from the pull. [m]"),
    Column("second_post", "text", "Second upright of a horizontal brace; empty for a diagonal."),
)
PULLS = (
    Column("id", "text", "Name of the pull: run and rail."),
    Column("line", "text", "Line in which it is drawn."),
    Column("run", "text", "Run of rail."),
    Column("rail", "whole", "Which rail, 1 for the lowest."),
    Column("product", "text", "Catalogue row of the rail."),
    Column("length_m", "length", "Post to post along the slope. [m]"),
    Column("length_sd_m", "length", "Standard deviation of that length. [m]"),
    Column("tail_m", "length", "Spare rail at each end. [m]"),
    Column("rail_m", "length", "Rail to cut, both tails included. [m]"),
    Column("turning_rad", "angle", "Turning in plan, summed without sign. [rad]"),
    Column("turning_3d_rad", "angle", "Turning in space. [rad]"),
    Column("from_post", "text", "Post where it begins."),
    Column("to_post", "text", "Post where it ends."),
)
PIECES = (
    Column("pull", "text", "Pull that the piece is for."),
    Column("from_m", "length", "Where it begins along the pull, tails included. [m]"),
    Column("to_m", "length", "Where it ends along the pull. [m]"),
    Column("rail_m", "length", "Rail taken off the roll, a splice's overlap included. [m]"),
)
ROLLS = (
    Column("id", "text", "Name of the roll."),
    Column("product", "text", "Catalogue row of the rail."),
    Column("from_yard", "flag", "True: a remainder in the yard; false: a new roll."),
    Column("length_m", "length", "Length of the roll. [m]"),
    Column("used_m", "length", "Rail taken off it. [m]"),
    Column("offcut_m", "length", "What is left in one length. [m]"),
    Column("pieces", "table", "Pieces in the order in which they come off the roll.", rows=PIECES),
)
ORDER = (
    Column("id", "text", "Stable short name."),
    Column("item", "text", "What to buy."),
    Column("size", "text", "Its size, as the shop says it."),
    Column("unit", "text", "What is counted."),
    Column("net", "amount", "Needed by the geometry."),
    Column("waste", "amount", "Waste, apart from the net."),
    Column("order", "amount", "To order, whole packs."),
    Column("pack", "amount", "Pack size."),
    Column("why", "text", "What it is for."),
)
