"""Rails bent more sharply than their data sheet allows: round corner and bend posts, and on the tensioner's spool."""

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import Rail
from fencewright.findings import CAUTION, STOP, Finding, Place
from fencewright.pipeline.record import Design, post_id
from fencewright.quantity.show import UnitSystem
from fencewright.strength.remedies import written
from fencewright.strength.turns import turning_posts
from fencewright.tables.fence import Role

Ints = NDArray[np.int64]

_CLOSE_M = 1e-6


def bending_findings(design: Design) -> list[Finding]:
    """Check each rail whose data sheet states a least bend radius.

    Returns
    -------
    list of Finding
        `rail-bent-at-post`: the post's radius and its bracket bend the rail too sharply; a `stop` at a corner, a
        `caution` at a bend, where so small a turn may spare it. `rail-bent-on-spool` (`caution`).

    Notes
    -----
    Radius of the rail = half the post's diameter + [tension] corner_bracket; on the spool, half its bare diameter.
    """
    rails = dict.fromkeys(row.rail for row in design.job.settings.strands)
    findings = []
    for rail in rails:
        if rail.least_bend_radius_m is not None:
            findings += _at_posts(design, rail, rail.least_bend_radius_m)
            findings += _on_spool(design, rail, rail.least_bend_radius_m)
    return findings


def _at_posts(design: Design, rail: Rail, least_m: float) -> list[Finding]:
    posts, bracket = design.layout.posts, design.job.settings.tension.bracket_m
    turns = np.unique(turning_posts(design.layout)[0])
    sharp = turns[posts.diameter_m[turns] / 2 + bracket < least_m - _CLOSE_M]
    is_corner = posts.role[sharp] != int(Role.BEND)
    found = ((STOP, sharp[is_corner]), (CAUTION, sharp[~is_corner]))
    return [_one(design, rail, least_m, level, rows) for level, rows in found if len(rows)]


def _one(design: Design, rail: Rail, least_m: float, level: str, rows: Ints) -> Finding:
    """One finding for all posts of a kind, at the thinnest."""
    posts, settings = design.layout.posts, design.job.settings
    show, sheets = UnitSystem(design.job.asked.job.sheets), design.job.asked.job.sheets
    row = int(rows[np.argmin(posts.diameter_m[rows])])
    radius = float(posts.diameter_m[row]) / 2 + settings.tension.bracket_m
    names = post_id(row) + (f" and {len(rows) - 1} more" if len(rows) > 1 else "")
    message = (
        f"{names} bend the {rail.name} to a radius of {show.small(radius)}, half the post's diameter and its bracket; "
        f"its data sheet allows {show.small(least_m)}, {show.small(least_m - radius)} more."
    )
    line = design.layout.lines[int(posts.line_index[row])].name
    place = Place("post", post_id(row), line, float(posts.station_m[row]))
    bracket = written(least_m - float(posts.diameter_m[row]) / 2, sheets, 0.25)
    others = (
        f'a roller or bracket that stands further off, [tension] corner_bracket = "{bracket}"; or two bends, a span '
        "apart, in place of one"
    )
    wanted = 2 * (least_m - settings.tension.bracket_m)
    thicker = next((one for one in settings.strength.diameters_m if one >= wanted - _CLOSE_M), None)
    if thicker is None or thicker >= settings.holes.auger_m:
        edit = {"path": ["tension", "corner_bracket"], "value": bracket}
        return Finding(level, "rail-bent-at-post", place, message, f"Use {others}.", (edit,))
    value = written(thicker, sheets, 0.5)
    edit = {"path": ["posts", "end_diameter"], "value": value}
    remedy = f'Use thicker posts, [posts] end_diameter = "{value}"; {others}.'
    return Finding(level, "rail-bent-at-post", place, message, remedy, (edit,))


def _on_spool(design: Design, rail: Rail, least_m: float) -> list[Finding]:
    core = design.job.settings.tension.spool.core_m
    if core / 2 >= least_m - _CLOSE_M:
        return []
    sheets = design.job.asked.job.sheets
    show = UnitSystem(sheets)
    message = (
        f"A spool of {show.small(core)} winds the {rail.name} to a radius of {show.small(core / 2)}; its data sheet "
        f"allows {show.small(least_m)}."
    )
    value = written(2 * least_m, sheets, 0.25)
    remedy = (
        f'Take tensioners with a bare spool of {value} and state it, [tension] spool_core = "{value}", with spool_full; '
        "or such as grip the rail and draw it straight."
    )
    return [Finding(CAUTION, "rail-bent-on-spool", Place("rail", rail.name), message, remedy)]
