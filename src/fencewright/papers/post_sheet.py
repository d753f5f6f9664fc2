"""The post sheet: per post its stock, top, cut, rail marks, and the side to which its top falls."""

from typing import Any

from fencewright.papers.blocks import Band, Column, Section, Table, Words
from fencewright.papers.measures import Measures, Record

_MARKS_MM = 68.0  # of a row, shared by the rail marks
_LEAST_MARK_MM = 13.6


def _row(post: dict[str, Any], marks: int, told: Measures) -> list[str]:
    cut = told.bare_small(post["cut_m"]) if post["cut"] else "to string"
    shown = [told.bare_small(mark) for mark in post["rail_marks_m"]]
    control = ", control" if post["control"] else ""
    return [
        post["id"],
        f"{post['role']}, {told.post(post['stock_length_m'])}{control}",
        told.bare_small(post["above_ground_m"]),
        cut,
        *(shown + [""] * marks)[:marks],
        post["bevel_falls"],
    ]


def post_section(record: Record) -> Section:
    """Give the sheet, line by line in the order of stations."""
    told = Measures(record)
    small = told.units.small_unit
    marks = max((len(post["rail_marks_m"]) for post in record["posts"]), default=0)
    wide = max(_LEAST_MARK_MM, _MARKS_MM / max(marks, 4))
    columns = [
        Column("Post", 18, is_strong=True),
        Column("Kind, stock", 46),
        Column(f"Top above\nground, {small}", 20, "right", is_strong=True),
        Column(f"Cut off\n{small}", 18, "right"),
        *(Column(f"Rail {k + 1}\n{small}", wide, "right") for k in range(marks)),
        Column("Top\nfalls", 14),
    ]
    rows: list[list[str] | Band] = []
    for name in dict.fromkeys(post["line"] for post in record["posts"]):
        rows.append(Band(f"Line {name}"))
        rows += [_row(post, marks, told) for post in record["posts"] if post["line"] == name]
    slopes = sorted({post["bevel_rad"] for post in record["posts"] if post["bevel_rad"] is not None})
    fall = (
        f" Saw each top to fall {told.degrees(slopes[0])} to the side named, seen along the line."
        if slopes
        else ""
    )
    said = (
        "Rail marks are heights of rail centres above the ground at the post, rail 1 the lowest."
        f"{fall} Write the measure under each number, and your initials under the post's name."
        " A post whose cut is to string is set long: string between control posts and saw it there."
    )
    is_wide = sum(column.width_mm for column in columns) > 186
    return Section("Post sheet", [Words(said), Table(columns, rows, 9.0)], is_landscape=is_wide)
