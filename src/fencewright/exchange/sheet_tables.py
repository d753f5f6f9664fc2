"""Tables for people: order, rolls, posts, braces, pulls and findings in the units of the job's sheets."""

import math
from functools import partial

from fencewright.exchange.sheet_columns import (
    UNITS,
    Asked,
    Row,
    SheetTable,
    asked_key,
    built_column,
    sheet_table,
)


def order_table(record: Row) -> SheetTable:
    """Everything to buy; the record is that of design.json."""
    asked = [
        asked_key("id", width=18),
        asked_key("item", width=28),
        asked_key("size", width=22),
        asked_key("unit"),
        asked_key("net", "amount"),
        asked_key("waste", "amount"),
        asked_key("order", "amount"),
        asked_key("pack", "amount"),
        asked_key("why", width=50),
        built_column(record),
    ]
    return sheet_table("Order", record["job"]["sheets"], asked, record["order"])


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
        asked_key("roll", key="roll_id"),
        asked_key("product", key="roll_product", width=18),
        asked_key("from_yard", key="roll_from_yard"),
        asked_key("roll_length", "long", key="roll_length_m"),
        asked_key("piece", "whole", key="number"),
        asked_key("pull"),
        asked_key("line", width=16),
        asked_key("from", "long", key="from_m"),
        asked_key("to", "long", key="to_m"),
        asked_key("cut_off", "long", key="rail_m"),
        asked_key("spliced", key="is_spliced"),
        asked_key("offcut", "long", key="roll_offcut_m"),
        built_column(record),
    ]
    return sheet_table("Rolls", record["job"]["sheets"], asked, rows)


def posts_table(record: Row) -> SheetTable:
    """One row a post."""
    together = _assembly_bags(record)
    rails = max((len(post["rail_marks_m"]) for post in record["posts"]), default=0)
    asked = [
        asked_key("id"),
        asked_key("line", width=16),
        asked_key("station", "long", key="station_m"),
        Asked("also", "text", lambda post: _also(post, record["job"]["sheets"]), 18),
        asked_key("role"),
        asked_key("x", "long", key="x_m"),
        asked_key("y", "long", key="y_m"),
        asked_key("offset", "small", key="offset_m"),
        asked_key("ground", "long", key="ground_m"),
        asked_key("top", "long", key="top_m"),
        asked_key("top_sd", "small", key="top_sd_m"),
        asked_key("diameter", "small", key="diameter_m"),
        asked_key("stock_length", "long", key="stock_length_m"),
        asked_key("hole_diameter", "small", key="hole_diameter_m"),
        asked_key("hole_bottom", "small", key="hole_bell_m"),
        asked_key("hole_depth", "small", key="hole_depth_m"),
        asked_key("embedment", "small", key="embedment_m"),
        asked_key("set"),
        asked_key("concrete", "volume", key="concrete_m3"),
        asked_key("bags", "bags"),
        Asked("assembly_bags", "whole", lambda post: together.get(post["id"])),
        asked_key("above_ground", "small", key="above_ground_m"),
        Asked("set_long", "text", lambda post: not post["cut"]),
        asked_key("cut", "small", key="cut_m"),
        asked_key("bevel_falls"),
        *(Asked(f"rail_{rail + 1}", "small", partial(_mark, rail=rail)) for rail in range(rails)),
        asked_key("control"),
        asked_key("uplift", "force", key="uplift_n"),
        asked_key("utilisation", "percent"),
        asked_key("governs", width=16),
        asked_key("least_hole_depth", "small", key="least_hole_depth_m"),
        asked_key("why", width=60),
        built_column(record),
    ]
    return sheet_table("Posts", record["job"]["sheets"], asked, record["posts"])


def _mark(post: Row, rail: int) -> float | None:
    """Mark of one rail; none on a post that carries fewer."""
    marks: list[float | None] = post["rail_marks_m"]
    return marks[rail] if rail < len(marks) else None


def _also(post: Row, system: str) -> str:
    unit, factor, decimals = UNITS[system]["long"]
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
        asked_key("id"),
        asked_key("post"),
        asked_key("kind", width=12),
        asked_key("x", "long", key="x_m"),
        asked_key("y", "long", key="y_m"),
        asked_key("reach", "small", key="reach_m"),
        asked_key("contact", "small", key="contact_m"),
        asked_key("length", "small", key="length_m"),
        asked_key("second_post"),
        asked_key("utilisation", "percent"),
        asked_key("fastener", "force", key="fastener_n"),
        asked_key("hole_diameter", "small", key="hole_diameter_m"),
        asked_key("hole_depth", "small", key="hole_depth_m"),
        asked_key("concrete", "volume", key="concrete_m3"),
        asked_key("bags", "bags"),
        built_column(record),
    ]
    return sheet_table("Braces", record["job"]["sheets"], asked, record["braces"])


def pulls_table(record: Row) -> SheetTable:
    """One row a pull."""
    asked = [
        asked_key("id"),
        asked_key("line", width=16),
        asked_key("rail", "whole"),
        asked_key("product", width=18),
        asked_key("from_post"),
        asked_key("to_post"),
        asked_key("length", "long", key="length_m"),
        asked_key("length_sd", "small", key="length_sd_m"),
        asked_key("tail", "small", key="tail_m"),
        asked_key("rail_to_cut", "long", key="rail_m"),
        asked_key("turning", "angle", key="turning_rad"),
        asked_key("turning_3d", "angle", key="turning_3d_rad"),
        built_column(record),
    ]
    return sheet_table("Pulls", record["job"]["sheets"], asked, record["pulls"])


def findings_table(record: Row) -> SheetTable:
    """One row a finding, stops first."""
    asked = [
        asked_key("level"),
        asked_key("code", width=22),
        Asked("kind", "text", lambda finding: finding["where"]["kind"]),
        Asked("id", "text", lambda finding: finding["where"]["id"]),
        Asked("line", "text", lambda finding: finding["where"]["line"], 16),
        Asked("station", "long", lambda finding: finding["where"]["station_m"]),
        asked_key("message", width=80),
        asked_key("remedy", width=60),
    ]
    return sheet_table("Findings", record["job"]["sheets"], asked, record["findings"])
