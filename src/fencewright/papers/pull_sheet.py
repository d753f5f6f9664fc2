"""The pull sheet: for each run where the rail is held and drawn, how the spool turns, tension by the day, proofs."""

from collections.abc import Sequence
from typing import Any

from fencewright.findings.cautions import TIGHT_RAIL
from fencewright.papers.blocks import Block, Column, Facts, Heading, Section, Table, Words
from fencewright.papers.measures import UNKNOWN, Measures, Record
from fencewright.quantity.show import counted

_WAY = {"left": "anticlockwise", "right": "clockwise"}
_OTHER = {"left": "right", "right": "left"}
_MOST_DAYS = 13


def turning_words(face: str, is_at_first: bool) -> str:
    """Say which way a spool turns, from the face of its post that carries the rail.

    Parameters
    ----------
    face : str
        `left`, `right` or `both`, seen along the line.
    is_at_first : bool
        Whether the tensioner stands at the first post of the run, and so looks along the line.

    Returns
    -------
    str
        The rail comes on to the near side of an upright spool: seen from above it turns anticlockwise where
        the rail lies to the left, seen from tensioner to anchor, and clockwise where it lies to the right.
    """
    if face not in _OTHER:
        return "by the side on which you mount it: anticlockwise from above with the rail left of it, else clockwise"
    side = face if is_at_first else _OTHER[face]
    return f"{_WAY[side]}, seen from above; the rail lies {side} of it, seen from tensioner to anchor"


def _run_facts(
    pulls: Sequence[dict[str, Any]], tension: dict[str, Any], posts: dict[str, Any], told: Measures
) -> list[tuple[str, str]]:
    first = pulls[0]
    drawn = tension["tensioner_post"]
    both = tension["drawn_from"] == "both"
    anchor = f"{tension['anchor_post']}, which has a tensioner too" if both else tension["anchor_post"]
    turns = UNKNOWN if tension["turns"] is None else f"{tension['turns']:.1f}"
    grips = f"; grip anew {counted(tension['regrips'], 'time')}" if tension["regrips"] else ""
    least, most = (told.force(value) for value in tension["window_n"])
    warm = told.temperature(tension["reference_temperature_c"])
    apart = told.small(tension["marked_stretch_m"])
    return [
        ("Tensioner at", drawn),
        ("Anchor at", anchor),
        *(
            (f"Spool at {post} turns", turning_words(posts[post]["rail_face"], post == first["from_post"]))
            for post in (drawn, *([tension["anchor_post"]] if both else []))
        ),
        ("Turns of the spool", f"{turns}, {told.small(tension['take_up_m'])} of rail{grips}"),
        ("Marks to watch", f"{told.long(tension['marked_m'])} apart; they move {apart} further apart"),
        (
            "Set tension",
            f"{told.force(tension['set_tension_n'])} at a rail of {warm}; never below {least} nor above {most}",
        ),
        (
            "Pull again",
            f"after {counted(round(tension['repull_days']), 'day')}: take in {told.small(tension['repull_m'])}",
        ),
    ]


def _chart(tension: dict[str, Any], told: Measures) -> Table:
    """Tension by the rail's temperature: days across, as many as the page holds."""
    days = tension["chart"]
    step = -(-len(days) // _MOST_DAYS)
    days = days[::step]
    head = [Column(f"Rail at, {told.units.temperature_unit}", 28, is_strong=True)]
    wide = min(20.0, 158.0 / max(len(days), 1))
    columns = [*head, *(Column(_degrees(day, told), wide, "right") for day in days)]
    unit = told.units.force_unit
    rows = [
        [f"Pull to, {unit}", *(told.bare_force(day["tension_n"]) for day in days)],
        ["Least", *(told.bare_force(day["window_n"][0]) for day in days)],
        ["Most", *(told.bare_force(day["window_n"][1]) for day in days)],
    ]
    return Table(columns, rows, 6.0, 9.0, has_room=False)


def _degrees(day: dict[str, Any], told: Measures) -> str:
    return told.temperature(day["rail_temperature_c"]).removesuffix(f" {told.units.temperature_unit}")


def _pulls(pulls: Sequence[dict[str, Any]], told: Measures) -> Table:
    """One row a rail, to write down what was done."""
    long = told.units.long_unit
    columns = [
        Column("Pull", 18, is_strong=True),
        Column("Rail", 11, "right"),
        Column(f"Post to post\n{long}", 26, "right"),
        Column(f"Cut\n{long}", 22, "right"),
        Column("Rail at", 22, is_blank=True),
        Column("Pulled to", 26, is_blank=True),
        Column("Turns", 18, is_blank=True),
        Column("Day", 25, is_blank=True),
        Column("By", 18, is_blank=True),
    ]
    rows = [
        [
            pull["id"],
            str(pull["rail"]),
            told.bare_long(pull["length_m"]),
            told.bare_long(pull["rail_m"]),
            *[""] * 5,
        ]
        for pull in pulls
    ]
    return Table(columns, rows, 8.5, has_room=False)


def _proofs(checks: Sequence[dict[str, Any]], told: Measures) -> list[Block]:
    """Push and pluck at each place and day."""
    if not checks:
        return []
    small = told.units.small_unit
    columns = [
        Column("Span beyond", 22, is_strong=True),
        Column("Where", 24),
        Column("Rail at", 18, "right"),
        Column(f"Span\n{told.units.long_unit}", 18, "right"),
        Column(f"Tension\n{told.units.force_unit}", 20, "right"),
        Column(f"Gives, {small}\nsliding", 24, "right", is_strong=True),
        Column(f"Gives, {small}\nheld", 24, "right"),
        Column("Beats\na second", 20, "right", is_strong=True),
        Column("By", 16, is_blank=True),
    ]
    rows = [
        [
            check["post"],
            check["place"],
            told.temperature(check["rail_temperature_c"]),
            told.bare_long(check["span_m"]),
            told.bare_force(check["tension_n"]),
            told.bare_small(check["deflection_sliding_m"]),
            told.bare_small(check["deflection_pinned_m"]),
            UNKNOWN if check["frequency_hz"] is None else f"{check['frequency_hz']:.1f}",
            "",
        ]
        for check in checks
    ]
    said = (
        f"Prove it: push {told.force(checks[0]['push_n'])} at mid-span of the span beyond the post, seen from the"
        " tensioner. The rail gives between held and sliding. Or pluck it and count its beats."
    )
    return [Words(said), Table(columns, rows, 8.5)]


def pull_section(record: Record) -> Section | None:
    """Give the sheet: each run and product of rail with its facts, chart, pulls and proofs; None without pulls.

    Notes
    -----
    Strands of one product in one run are alike, so they share facts, chart and proofs; each has a row of its own.
    """
    if not record["pulls"]:
        return None
    told = Measures(record)
    tension = {row["pull"]: row for row in record["tension"]}
    posts = {post["id"]: post for post in record["posts"]}
    checks: dict[str, list[dict[str, Any]]] = {}
    for check in record["site_checks"]:
        checks.setdefault(check["pull"], []).append(check)
    groups: dict[tuple[str, str], list[dict[str, Any]]] = {}
    for pull in record["pulls"]:
        groups.setdefault((pull["run"], pull["product"]), []).append(pull)
    said = "Feel or measure the rail, not the air: in the sun it is warmer. Tension is that of one rail."
    blocks: list[Block] = [Words(TIGHT_RAIL, "caution"), Words(said)]
    for (run, product), pulls in groups.items():
        first = pulls[0]
        of_run = next((checks[pull["id"]] for pull in pulls if pull["id"] in checks), [])
        blocks += [
            Heading(f"Run {run}: {first['from_post']} to {first['to_post']}, {first['line']}, {product}"),
            Facts(_run_facts(pulls, tension[first["id"]], posts, told), 38.0),
            _chart(tension[first["id"]], told),
            _pulls(pulls, told),
            *_proofs(of_run, told),
        ]
    return Section("Pull sheet", blocks)
