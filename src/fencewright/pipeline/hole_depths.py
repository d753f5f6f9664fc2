"""Depths of the finished holes: those that nothing digs, and those that rock stopped."""

from dataclasses import replace

import numpy as np

from fencewright.findings import CAUTION, STOP, Finding
from fencewright.pipeline.bridges import unstable_posts
from fencewright.pipeline.record import Design, place_of, post_id
from fencewright.pipeline.sizes import holes_asked, stated_sizes
from fencewright.quantity.show import UnitSystem
from fencewright.strength.sizing import FIXED, whole_steps_m

_SAME_M = 1e-6


def depth_findings(design: Design) -> list[Finding]:
    """Check how deep the holes are.

    Parameters
    ----------
    design : Design
        With its holes as sized.

    Returns
    -------
    list of Finding
        `hole-too-deep` (`stop`), one for posts and one for braces' footings; `hole-meets-rock` (`caution`).
    """
    show = UnitSystem(design.job.asked.job.sheets)
    return [*_too_deep(design, show), *_rock(design, show)]


def _too_deep(design: Design, show: UnitSystem) -> list[Finding]:
    """Holes to be dug that go deeper than the deepest that can be dug: frost and stated depths ask without knowing it."""
    deepest, posts, braces = design.job.settings.strength.deepest_m, design.layout.posts, design.layout.braces
    findings = []
    for letter, holes, post, is_dug in (
        ("P", design.holes, np.arange(len(posts)), ~posts.is_built),
        ("B", design.brace_holes, braces.post_index, np.ones(len(braces), bool)),
    ):
        over = np.flatnonzero(is_dug & (holes.depth_m > deepest + _SAME_M))
        if not len(over):
            continue
        worst = int(over[np.argmax(holes.depth_m[over])])
        names = f"{letter}{worst + 1}" + (f" and {len(over) - 1} more" if len(over) > 1 else "")
        message = (
            f"The hole of {names} goes {show.small(float(holes.depth_m[worst]))} down; the deepest that can be dug is "
            f"{show.small(deepest)}."
        )
        remedy = "State what your machine digs as [strength] deepest, or a smaller depth in [holes]."
        findings.append(Finding(STOP, "hole-too-deep", place_of(design, int(post[worst])), message, remedy))
    return findings


def _rock(design: Design, show: UnitSystem) -> list[Finding]:
    """Holes that rock stopped above the depth that they would have without it."""
    job, layout, found = design.job, design.layout, design.layout.posts.rock_depth_m
    met = np.flatnonzero(np.isfinite(found))
    if not len(met):
        return []
    free = replace(layout, posts=replace(layout.posts, rock_depth_m=np.full(len(found), np.nan)))
    sizes, unstable = stated_sizes(job, free)[0], unstable_posts(job, free)
    asked, _ = holes_asked(job, free, sizes, unstable, design.top_line.needs_concrete)
    step, least = job.settings.strength.depth_step_m, design.strength.sizes.least_depth_m
    findings = []
    for row in met.tolist():
        wanted, needed = float(asked.depth_m[row]), float(least[row])
        if np.isfinite(needed) and needed > wanted and asked.governs[row] not in FIXED:
            wanted = float(whole_steps_m(np.array(needed), step))
        short = wanted - float(found[row])
        if short <= 0:
            continue
        message = f"The hole of {post_id(row)} met rock {show.small(short)} above its depth of {show.small(wanted)}."
        remedy = "Move the post along the line with a [[pin]], concrete a collar round it, or drill a socket into the rock."
        findings.append(Finding(CAUTION, "hole-meets-rock", place_of(design, row), message, remedy))
    return findings
