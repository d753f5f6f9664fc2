"""Tables for people: order, rolls, posts, braces, pulls and findings in the units of the job's sheets."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from fencewright.quantity.parse import FOOT_M, INCH_M, POUND_FORCE_N

Row = dict[str, Any]
Cell = str | float | int | None

_UNITS: dict[str, dict[str, tuple[str, float, int]]] = {
    "us": {
        "small": ("in", INCH_M, 2),
        "long": ("ft", FOOT_M, 2),
        "volume": ("ft3", FOOT_M**3, 2),
        "force": ("lbf", POUND_FORCE_N, 0),
    },
    "metric": {
        "small": ("mm", 0.001, 0),
        "long": ("m", 1.0, 3),
        "volume": ("m3", 1.0, 3),
        "force": ("N", 1.0, 0),
    },
}
_PLAIN = {
    "bags": ("", 1.0, 3),
    "amount": ("", 1.0, 3),
    "angle": ("deg", math.pi / 180, 1),
    "whole": ("", 1.0, 0),
}


@dataclass(frozen=True, slots=True)
class Heading:
    """Head of a column: `name` with the unit last, `kind`, `decimals` shown, `width` in characters."""

    name: str
    kind: str
    decimals: int = 0
    width: int = 10


@dataclass(frozen=True, slots=True)
class SheetTable:
    """A table as printed: its title, the heads of its columns, and its rows of cells."""

    title: str
    headings: tuple[Heading, ...]
    rows: list[list[Cell]]


@dataclass(frozen=True, slots=True)
class _Asked:
    """A column before it has a unit: name, kind (`text`, `small`, `long`, ...), and a row's cell in SI."""

    name: str
    kind: str
    value: Callable[[Row], Any]
    width: int = 10


def _key(name: str, kind: str = "text", *, key: str = "", width: int = 10) -> _Asked:
    return _Asked(name, kind, lambda row, key=key or name: row[key], width)  # type: ignore[misc]


def _table(title: str, system: str, asked: Sequence[_Asked], rows: Sequence[Row]) -> SheetTable:
    units = {**_UNITS[system], **_PLAIN}
    headings: list[Heading] = []
    columns: list[list[Cell]] = []
    for column in asked:
        unit, factor, decimals = units.get(column.kind, ("", 1.0, 0))
        name = f"{column.name}_{unit}" if unit else column.name
        headings.append(Heading(name, column.kind, decimals, max(column.width, len(name) + 1)))
        cells = [column.value(row) for row in rows]
        if column.kind == "text":
            columns.append([_text(cell) for cell in cells])
        else:
            columns.append(
                [None if cell is None else round(cell / factor, decimals + 3) + 0.0 for cell in cells]
            )
    return SheetTable(title, tuple(headings), [list(row) for row in zip(*columns, strict=True)])


def _text(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else str(value)


def order_table(record: Row) -> SheetTable:
    """Everything to buy; the record is that of design.json."""
    asked = [
        _key("id", width=18),
        _key("item", width=28),
        _key("size", width=22),
        _key("unit"),
        _key("net", "amount"),
        _key("waste", "amount"),
        _key("order", "amount"),
        _key("pack", "amount"),
        _key("why", width=50),
        _built(record),
    ]
    return _table("Order", record["job"]["sheets"], asked, record["order"])


def _built(record: Row) -> _Asked:
    """Whether the design may be built, on every row: a table may be printed alone."""
    may = bool(record["may_be_built"])
    return _Asked("may_be_built", "text", lambda _: may, 14)


def rolls_table(record: Row) -> SheetTable:
    """Cut list: one row a piece, in the order in which pieces come off each roll."""
    pulls = {pull["id"]: pull for pull in record["pulls"]}
    rows = [
        {
            **{f"roll_{key}": roll[key] for key in ("id", "product", "from_yard", "length_m", "offcut_m")},
            **piece,
            "number": number,
            "line": pulls[piece["pull"]]["line"],
            "is_spliced": not (
                piece["from_m"] == 0 and piece["to_m"] >= pulls[piece["pull"]]["rail_m"] - 1e-3
            ),
        }
        for roll in record["rolls"]
        for number, piece in enumerate(roll["pieces"], start=1)
    ]
    asked = [
        _key("roll", key="roll_id"),
        _key("product", key="roll_product", width=18),
        _key("from_yard", key="roll_from_yard"),
        _key("roll_length", "long", key="roll_length_m"),
        _key("piece", "whole", key="number"),
        _key("pull"),
        _key("line", width=16),
        _key("from", "long", key="from_m"),
        _key("to", "long", key="to_m"),
        _key("cut_off", "long", key="rail_m"),
        _key("spliced", key="is_spliced"),
        _key("offcut", "long", key="roll_offcut_m"),
        _built(record),
    ]
    return _table("Rolls", record["job"]["sheets"], asked, rows)


def posts_table(record: Row) -> SheetTable:
    """One row a post."""
    together = _assembly_bags(record)
    rails = max((len(post["rail_marks_m"]) for post in record["posts"]), default=0)
    asked = [
        _key("id"),
        _key("line", width=16),
        _key("station", "long", key="station_m"),
        _Asked("also", "text", lambda post: _also(post, record["job"]["sheets"]), 18),
        _key("role"),
        _key("x", "long", key="x_m"),
        _key("y", "long", key="y_m"),
        _key("offset", "small", key="offset_m"),
        _key("ground", "long", key="ground_m"),
        _key("top", "long", key="top_m"),
        _key("top_sd", "small", key="top_sd_m"),
        _key("diameter", "small", key="diameter_m"),
        _key("stock_length", "long", key="stock_length_m"),
        _key("hole_diameter", "small", key="hole_diameter_m"),
        _key("hole_bottom", "small", key="hole_bell_m"),
        _key("hole_depth", "small", key="hole_depth_m"),
        _key("embedment", "small", key="embedment_m"),
        _key("set"),
        _key("concrete", "volume", key="concrete_m3"),
        _key("bags", "bags"),
        _Asked("assembly_bags", "whole", lambda post: together.get(post["id"])),
        _key("above_ground", "small", key="above_ground_m"),
        _Asked("set_long", "text", lambda post: not post["cut"]),
        _key("cut", "small", key="cut_m"),
        _key("bevel_falls"),
        *(_Asked(f"rail_{rail + 1}", "small", partial(_mark, rail=rail)) for rail in range(rails)),
        _key("control"),
        _key("uplift", "force", key="uplift_n"),
        _key("why", width=60),
        _built(record),
    ]
    return _table("Posts", record["job"]["sheets"], asked, record["posts"])


def _mark(post: Row, rail: int) -> float | None:
    """Mark of one rail; none on a post that carries fewer."""
    marks: list[float | None] = post["rail_marks_m"]
    return marks[rail] if rail < len(marks) else None


def _also(post: Row, system: str) -> str:
    unit, factor, decimals = _UNITS[system]["long"]
    return "; ".join(
        f"{place['line']} {place['station_m'] / factor:.{decimals}f} {unit}" for place in post["also"]
    )


def _assembly_bags(record: Row) -> dict[str, int]:
    """Whole bags of each assembly by its post: the post, its braces' footings and second uprights."""
    owner = {brace["second_post"]: brace["post"] for brace in record["braces"] if brace["second_post"]}
    bags: dict[str, float] = {}
    for post in record["posts"]:
        home = owner.get(post["id"], post["id"])
        bags[home] = bags.get(home, 0.0) + (post["bags"] or 0.0)
    for brace in record["braces"]:
        bags[brace["post"]] = bags.get(brace["post"], 0.0) + (brace["bags"] or 0.0)
    return {post: math.ceil(count - 1e-6) for post, count in bags.items() if count > 0}


def braces_table(record: Row) -> SheetTable:
    """One row a brace."""
    asked = [
        _key("id"),
        _key("post"),
        _key("kind", width=12),
        _key("x", "long", key="x_m"),
        _key("y", "long", key="y_m"),
        _key("reach", "small", key="reach_m"),
        _key("contact", "small", key="contact_m"),
        _key("length", "small", key="length_m"),
        _key("second_post"),
        _key("hole_diameter", "small", key="hole_diameter_m"),
        _key("hole_depth", "small", key="hole_depth_m"),
        _key("concrete", "volume", key="concrete_m3"),
        _key("bags", "bags"),
        _built(record),
    ]
    return _table("Braces", record["job"]["sheets"], asked, record["braces"])


def pulls_table(record: Row) -> SheetTable:
    """One row a pull."""
    asked = [
        _key("id"),
        _key("line", width=16),
        _key("rail", "whole"),
        _key("product", width=18),
        _key("from_post"),
        _key("to_post"),
        _key("length", "long", key="length_m"),
        _key("length_sd", "small", key="length_sd_m"),
        _key("tail", "small", key="tail_m"),
        _key("rail_to_cut", "long", key="rail_m"),
        _key("turning", "angle", key="turning_rad"),
        _key("turning_3d", "angle", key="turning_3d_rad"),
        _built(record),
    ]
    return _table("Pulls", record["job"]["sheets"], asked, record["pulls"])


def findings_table(record: Row) -> SheetTable:
    """One row a finding, stops first."""
    asked = [
        _key("level"),
        _key("code", width=22),
        _Asked("kind", "text", lambda finding: finding["where"]["kind"]),
        _Asked("id", "text", lambda finding: finding["where"]["id"]),
        _Asked("line", "text", lambda finding: finding["where"]["line"], 16),
        _Asked("station", "long", lambda finding: finding["where"]["station_m"]),
        _key("message", width=80),
        _key("remedy", width=60),
    ]
    return _table("Findings", record["job"]["sheets"], asked, record["findings"])
