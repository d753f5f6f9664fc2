"""Stake-out: chainage, place and offsets of each hole; ties; what proves the corners; string-line pegs."""

from typing import Any

from fencewright.papers.blocks import Band, Block, Column, Heading, Section, Table, Words
from fencewright.papers.measures import UNKNOWN, Measures, Record

Rows = list[list[str] | Band]


class _Place:
    """Writes coordinates: in the units of the sheets on a plane of the job's own, else in those of the grid."""

    def __init__(self, record: Record, told: Measures) -> None:
        is_own = record["crs"] == "local"
        self.unit_m = told.units.long_factor if is_own else float(record["plane"]["unit_m"])
        self.unit = told.units.long_unit if is_own else ("m" if self.unit_m == 1.0 else "ft")

    def told(self, value: float | None) -> str:
        return UNKNOWN if value is None else f"{value / self.unit_m:,.2f}"


def _by_line(rows: list[dict[str, Any]], row: Any) -> Rows:
    told: Rows = []
    for name in dict.fromkeys(one["line"] for one in rows):
        told.append(Band(f"Line {name}"))
        told += [row(one) for one in rows if one["line"] == name]
    return told


def _stakes(record: Record, told: Measures) -> Table:
    place, long, small = _Place(record, told), told.units.long_unit, told.units.small_unit

    stakes = record["stake_out"]["stakes"]
    is_level = all(
        told.bare_long(stake["station_m"]) == told.bare_long(stake["slope_station_m"]) for stake in stakes
    )

    def row(stake: dict[str, Any]) -> list[str]:
        return [
            stake["id"],
            told.bare_long(stake["station_m"]),
            *([] if is_level else [told.bare_long(stake["slope_station_m"])]),
            told.bare_long(stake["slope_from_previous_m"]),
            told.bare_small(stake["left_of_string_m"]),
            told.bare_small(stake["left_of_line_m"]),
            f"{place.told(stake['x_m'])},  {place.told(stake['y_m'])}",
        ]

    columns = [
        Column("Stake", 20, is_strong=True),
        Column(f"Chainage\nlevel, {long}", 25, "right", is_strong=True),
        *([] if is_level else [Column(f"Chainage on\nslope, {long}", 25, "right")]),
        Column(f"From the last\non slope, {long}", 25, "right"),
        Column(f"Left of\nstring, {small}", 20, "right"),
        Column(f"Left of\nline, {small}", 20, "right"),
        Column(f"East (x), north (y)\n{place.unit}", 50, "right"),
    ]
    return Table(columns, _by_line(stakes, row), 8.5)


def _letter(row: int) -> str:
    """Short name of a reference point in the table: A, B, ..., Z, then numbers."""
    return chr(ord("A") + row) if row < 26 else str(row + 1)


def _ties(record: Record, told: Measures) -> list[Block]:
    """Tape ties from the reference points; nothing where the job names none."""
    out = record["stake_out"]
    every = [stake for stake in out["stakes"] if stake["ties"]]
    tied = [stake for stake in every if stake["tie_state"] != "too long"]
    if not every:
        return []
    beyond = len(every) - len(tied)
    long, small = told.units.long_unit, told.units.small_unit
    letters = {one["name"]: _letter(k) for k, one in enumerate(out["references"])}

    def row(stake: dict[str, Any]) -> list[str]:
        one, two = stake["ties"][0], stake["ties"][-1]
        return [
            stake["id"],
            letters[one["reference"]],
            told.bare_long(one["level_m"]),
            told.bare_long(one["slope_m"]),
            letters[two["reference"]],
            told.bare_long(two["level_m"]),
            told.bare_long(two["slope_m"]),
            stake["tie_side"],
            told.bare_small(stake["position_sd_m"]) if stake["tie_state"] == "good" else UNKNOWN,
            "" if stake["tie_state"] == "good" else stake["tie_state"],
            "",
        ]

    columns = [
        Column("Stake", 16, is_strong=True),
        Column("From", 12),
        Column(f"Level\n{long}", 23, "right", is_strong=True),
        Column(f"On slope\n{long}", 21, "right"),
        Column("From", 12),
        Column(f"Level\n{long}", 23, "right", is_strong=True),
        Column(f"On slope\n{long}", 21, "right"),
        Column("Side", 12),
        Column(f"Good to\n± {small}", 15, "right"),
        Column("Beware", 19),
        Column("By", 12, is_blank=True),
    ]
    names = ", ".join(f"{letters[one['name']]}: {one['name']}" for one in out["references"])
    said = (
        f"Ties from {names}. Hold the tape level, or let it lie on the slope and use the second figure. The side is"
        " that of the stake, going from the first point to the second. Beware of ties that cross too sharp or too flat:"
        " set such a stake by its chainage."
    )
    if beyond:
        said += f" Ties longer than the tape are left out: set those {beyond} stakes by chainage and offset."
    return [Heading("Tape ties"), Words(said), Table(columns, _by_line(tied, row), 8.5)]


def _corners(record: Record, told: Measures) -> list[Block]:
    out = record["stake_out"]
    long = told.units.long_unit
    blocks: list[Block] = []
    if out["corner_checks"]:
        columns = [
            Column("Corner", 18, is_strong=True),
            Column("Line", 34),
            Column("Angle", 20, "right"),
            Column(f"Back\n{long}", 22, "right", is_strong=True),
            Column(f"Ahead\n{long}", 22, "right", is_strong=True),
            Column(f"Across\n{long}", 22, "right", is_strong=True),
            Column("Then the leg\nends within", 28, "right"),
            Column("By", 16, is_blank=True),
        ]
        rows = [
            [
                one["post"] or told.long(one["station_m"]),
                one["line"],
                told.degrees(one["corner_rad"]),
                told.bare_long(one["back_m"]),
                told.bare_long(one["ahead_m"]),
                told.bare_long(one["closing_m"]),
                f"± {told.small(one['leg_error_m'])}",
                "",
            ]
            for one in out["corner_checks"]
        ]
        said = "Measure back and ahead from the corner along both legs, level, and the length across between the two."
        blocks += [Heading("Corners: 3-4-5 and its like"), Words(said), Table(columns, rows, 9.0)]
    if out["diagonals"]:
        columns = [
            Column("Line", 50, is_strong=True),
            Column("From", 30),
            Column("To", 30),
            Column(f"Level\n{long}", 28, "right", is_strong=True),
            Column(f"On slope\n{long}", 28, "right"),
            Column("By", 16, is_blank=True),
        ]
        rows = [
            [
                one["line"],
                one["from_post"] or told.long(one["from_station_m"]),
                one["to_post"] or told.long(one["to_station_m"]),
                told.bare_long(one["length_m"]),
                told.bare_long(one["slope_length_m"]),
                "",
            ]
            for one in out["diagonals"]
        ]
        blocks += [Heading("Diagonals"), Table(columns, rows, 9.0)]
    return blocks


def _pegs(record: Record, told: Measures) -> list[Block]:
    pegs = record["stake_out"]["pegs"]
    if not pegs:
        return []
    place = _Place(record, told)
    columns = [
        Column("Beyond", 20, is_strong=True),
        Column("Line", 34),
        Column("Which way", 22),
        Column(f"Past it\n{told.units.long_unit}", 22, "right", is_strong=True),
        Column(f"String left of\nline, {told.units.small_unit}", 24, "right"),
        Column(f"East (x)\n{place.unit}", 24, "right"),
        Column(f"North (y)\n{place.unit}", 24, "right"),
        Column("By", 14, is_blank=True),
    ]
    rows = [
        [
            (peg["post"] or told.long(peg["station_m"])) + ("" if peg["clear"] else " NO"),
            peg["line"],
            peg["beyond"] + (", moved" if peg["moved"] else ""),
            told.bare_long(peg["beyond_m"]),
            told.bare_small(peg["string_left_m"]),
            place.told(peg["x_m"]),
            place.told(peg["y_m"]),
            "",
        ]
        for peg in pegs
    ]
    said = (
        "Pegs stand past each corner and end on the string's own line, so that the string outlives the hole."
        " NO: no clear place near it; do not drive that peg."
    )
    return [Heading("String-line pegs"), Words(said), Table(columns, rows, 8.5)]


def stake_section(record: Record) -> Section | None:
    """Give the stake-out; None where the record has none."""
    if not record.get("stake_out"):
        return None
    told = Measures(record)
    said = (
        "Chainage runs along each line from its first post, on plan; on slope, where it differs, it is what a tape on"
        " the ground shows."
        " Left is seen along the line, a minus is right of it. A brace's row is its foot. Write what you found under"
        " each number, and your initials under the name."
    )
    blocks = [
        Words(said),
        _stakes(record, told),
        *_ties(record, told),
        *_corners(record, told),
        *_pegs(record, told),
    ]
    return Section("Stake-out", blocks)
