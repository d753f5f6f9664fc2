"""What was measured on the finished fence beside what the design says; room to write where nothing was."""

from typing import Any

from fencewright.papers.blocks import Band, Block, Column, Facts, Heading, Points, Table, Words, is_cut
from fencewright.papers.measures import Measures, Record

_WHAT = {
    "top": "Top above ground",
    "plumb": "Off plumb at the top",
    "depth": "Depth of the hole",
    "post_offset": "Face off the string",
    "gap": "Gap under lowest rail",
    "spacing": "From the post before",
    "string": "Top off the string",
    "deflection": "Tension, by a push",
    "beats": "Tension, by beats",
    "tension": "Tension, by a gauge",
}
_MOST_BLANK = 400  # fixed posts and pulls that have a row to write in


def measured_blocks(record: Record) -> list[Block]:
    """Give the measured rows beside the design's, or say that there are none and leave room to write."""
    told = Measures(record)
    rows = record["measured"]
    if not rows:
        said = "Nothing that was measured on the finished fence is written in the job. Measure and write it here."
        return [Words(said, "strong"), *_blank(record, told)]
    out = sum(not row["in_tolerance"] for row in rows)
    count = "1 measure" if len(rows) == 1 else f"{len(rows)} measures"
    verdict = "all in tolerance" if not out else f"{out} out of tolerance"
    blocks: list[Block] = [
        Words(f"{count} beside the design's: {verdict}.", "strong"),
        Table(_COLUMNS, [_row(row, told) for row in rows], 7.0, 9.0, has_room=False),
    ]
    mends = [
        (f"{_where(row)}, {_WHAT.get(row['what'], row['what']).lower()}", row["says"])
        for row in rows
        if row["says"]
    ]
    if mends:
        blocks += [Heading("What is to be done"), Facts(mends, 60.0, is_strong=False)]
    long = [name for name in dict.fromkeys(row["by"] for row in rows) if is_cut(name, _COLUMNS[-1], 9.0)]
    if long:
        blocks += [Words("Measured by, in full:"), Points(long)]
    return blocks


_COLUMNS = (
    Column("Where", 18, is_strong=True),
    Column("What", 36),
    Column("Designed", 20, "right"),
    Column("Measured", 20, "right", is_strong=True),
    Column("Tolerance", 32, "right"),
    Column("In or out", 15, is_strong=True),
    Column("Day", 20),
    Column("By", 25),
)


def _where(row: dict[str, Any]) -> str:
    return " ".join(part for part in (row["pull"], row["post"]) if part)


def _row(row: dict[str, Any], told: Measures) -> list[str]:
    write = told.small if row["kind"] == "length" else told.force
    return [
        _where(row),
        _WHAT.get(row["what"], row["what"]),
        write(row["designed"]),
        write(row["measured"]),
        _band(row, told),
        "in" if row["in_tolerance"] else "OUT",
        row["when"],
        row["by"],
    ]


def _band(row: dict[str, Any], told: Measures) -> str:
    """Between which a measure is in tolerance."""
    write = told.small if row["kind"] == "length" else told.force
    bare = told.bare_small if row["kind"] == "length" else told.force
    least, most = row["least"], row["most"]
    if most is None:
        return f"at least {write(least)}"
    if least is None:
        return f"at most {write(most)}"
    return f"{bare(least)} to {write(most)}"


def _blank(record: Record, told: Measures) -> list[Block]:
    """Tables to write in: tops and plumb of the posts that hold the fence, tension of each pull, gates."""
    small = told.units.small_unit
    posts = [post for post in record["posts"] if post["role"] not in ("line", "brace")]
    by = [Column("Day", 24, is_blank=True), Column("By", 22, is_blank=True)]
    columns = [
        Column("Post", 18, is_strong=True),
        Column("Role", 24),
        Column(f"Top, designed\n{small}", 28, "right"),
        Column(f"Top, found\n{small}", 28, is_blank=True),
        Column(f"Off plumb\n{small}", 28, is_blank=True),
        *by,
    ]
    rows: list[list[str] | Band] = [
        [post["id"], post["role"], told.bare_small(post["above_ground_m"]), *[""] * 4]
        for post in posts[:_MOST_BLANK]
    ]
    return [
        Heading("Posts that hold the fence"),
        Table(columns, [*rows, *_more(len(posts))], 8.0, has_room=False),
        *_blank_pulls(record, told, by),
    ]


def _more(count: int) -> list[Band]:
    left = count - _MOST_BLANK
    return (
        [Band(f"{left:,} more have no room here: state them as [[measured]] in the job.")] if left > 0 else []
    )


def _blank_pulls(record: Record, told: Measures, by: list[Column]) -> list[Block]:
    if not record["tension"]:
        return []
    force = told.units.force_unit
    warm = told.temperature(record["tension"][0]["reference_temperature_c"])
    columns = [
        Column("Pull", 22, is_strong=True),
        Column(f"Set, rail at {warm}\n{force}", 34, "right"),
        Column("Rail found at", 30, is_blank=True),
        Column(f"Tension found\n{force}", 34, is_blank=True),
        *by,
    ]
    rows: list[list[str] | Band] = [
        [one["pull"], told.bare_force(one["set_tension_n"]), *[""] * 4]
        for one in record["tension"][:_MOST_BLANK]
    ]
    return [Heading("Tension"), Table(columns, [*rows, *_more(len(record["tension"]))], 8.0, has_room=False)]
