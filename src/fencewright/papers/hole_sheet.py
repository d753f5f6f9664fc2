"""The hole schedule by digging order: ends and corners with their brace footings, then the line posts."""

import math
from typing import Any

from fencewright.papers.blocks import Band, Column, Section, Table, Words
from fencewright.papers.measures import UNKNOWN, Measures, Record

Rows = list[list[str] | Band]


def bags_told(bags: float | None) -> str:
    """Whole bags to take to a hole; a dash where it takes none."""
    return str(math.ceil(bags - 1e-6)) if bags else UNKNOWN


def post_row(post: dict[str, Any], told: Measures) -> list[str]:
    """One row of the schedule: the hole of a post."""
    bell = post["hole_bell_m"]
    is_belled = bell is not None and bell > (post["hole_diameter_m"] or 0.0) + 1e-4
    return [
        post["id"],
        f"{post['role']}, {told.long(post['station_m'])}",
        told.bare_small(post["hole_diameter_m"]),
        told.bare_small(bell) if is_belled else UNKNOWN,
        told.bare_small(post["hole_depth_m"]),
        setting(post["set"], post["bags"]),
        post["hole_governs"],
    ]


def setting(kind: str, bags: float | None) -> str:
    """How a post is held: `tamped`, or `concrete, 5 bags`."""
    return f"{kind}, {bags_told(bags)} bags" if bags else kind


def brace_row(brace: dict[str, Any], told: Measures) -> list[str]:
    """One row of the schedule: the footing of a diagonal brace."""
    return [
        brace["id"],
        f"foot, brace of {brace['post']}",
        told.bare_small(brace["hole_diameter_m"]),
        UNKNOWN,
        told.bare_small(brace["hole_depth_m"]),
        setting("concrete" if brace["bags"] else "tamped", brace["bags"]),
        UNKNOWN,
    ]


def hole_section(record: Record) -> Section:
    """Give the schedule; one row a hole, in the order in which they are dug."""
    told = Measures(record)
    small = told.units.small_unit
    feet: dict[str, list[dict[str, Any]]] = {}
    for brace in record["braces"]:
        if brace["hole_diameter_m"] is not None:
            feet.setdefault(brace["post"], []).append(brace)
    first = [post for post in record["posts"] if post["role"] != "line"]
    rows: Rows = [Band("First: ends, corners and gates, each with the feet of its braces")] if first else []
    for post in first:
        rows.append(post_row(post, told))
        rows += [brace_row(brace, told) for brace in feet.get(post["id"], ())]
    for name in dict.fromkeys(post["line"] for post in record["posts"]):
        posts = [post for post in record["posts"] if post["line"] == name and post["role"] == "line"]
        rows += [Band(f"Then the line posts of {name}")] if posts else []
        rows += [post_row(post, told) for post in posts]
    columns = [
        Column("Hole", 20, is_strong=True),
        Column("Of, station", 40),
        Column(f"Width\n{small}", 22, "right"),
        Column(f"Bell\n{small}", 22, "right"),
        Column(f"Depth\n{small}", 24, "right", is_strong=True),
        Column("Set", 31),
        Column("Depth by", 27),
    ]
    said = (
        "Write what you dug under each number, and your initials under the hole's name. Dig by hand near a mark. Bags are"
        " whole bags to take to each hole, waste left out. Stop and call where a hole meets rock, water or a service."
    )
    return Section("Hole schedule", [Words(said), Table(columns, rows, 9.0)])
