"""Checks of the posts as laid out: clearances, holes that touch, gates' arcs, heave, overhead lines."""

import numpy as np
import shapely

from fencewright.findings import CAUTION, STOP, Finding, Place
from fencewright.geometry.shapes import point_shapes, search_tree
from fencewright.job.record import Job
from fencewright.layout.gates import Opening, swing_findings
from fencewright.quantity.show import UnitSystem
from fencewright.site.clearances import obstacle_shape, trespass_m
from fencewright.tables.fence import Layout, Role


def check_posts(job: Job, layout: Layout) -> list[Finding]:
    """Check the layout as a whole.

    Returns
    -------
    list of Finding
        `post-in-clearance` (`stop`), `holes-touch`, `gate-swing`, `under-overhead-line` (`caution`).
    """
    return _clearances(job, layout) + _touching(job, layout) + _swings(job, layout) + _overhead(job, layout)


def _place(layout: Layout, post: int) -> Place:
    line = layout.lines[int(layout.posts.line_index[post])].name
    return Place("post", f"P{post + 1}", line, float(layout.posts.station_m[post]))


def _clearances(job: Job, layout: Layout) -> list[Finding]:
    posts, holes = layout.posts, job.settings.holes
    show = UnitSystem(job.asked.job.sheets)
    concreted = posts.is_fixed | (posts.role == int(Role.BRACE)) | (holes.line_set == "concrete")
    radius = np.where(concreted, holes.auger_m + holes.bell_m, holes.auger_m) / 2
    findings = []
    for obstacle in (one for one in job.site.obstacles if not one.is_overhead):
        over = trespass_m(obstacle, posts.x_m, posts.y_m, 0.0) + radius
        for row in np.flatnonzero((over > 1e-3) & ~posts.is_built).tolist():
            role = Role(int(posts.role[row])).label
            message = (
                f"The hole of P{row + 1} ({role}) reaches {show.small(float(over[row]))} into the clearance of "
                f"{obstacle.name}."
            )
            remedy = (
                f"Move it as far away, or have the {obstacle.kind} located and its clearance made smaller."
            )
            findings.append(Finding(STOP, "post-in-clearance", _place(layout, row), message, remedy))
    return findings


def _touching(job: Job, layout: Layout) -> list[Finding]:
    """Posts and brace footings of any line whose holes would break into each other."""
    posts, braces = layout.posts, layout.braces
    show = UnitSystem(job.asked.job.sheets)
    feet = np.flatnonzero(~braces.is_horizontal)
    names = [f"P{row + 1}" for row in range(len(posts))] + [f"B{row + 1}" for row in feet.tolist()]
    x, y = np.concatenate([posts.x_m, braces.x_m[feet]]), np.concatenate([posts.y_m, braces.y_m[feet]])
    points = point_shapes(x, y)
    room = job.settings.holes.auger_m
    one, other = search_tree(points).query(list(points), predicate="dwithin", distance=room * (1 - 1e-9))
    findings = []
    for a, b in zip(one.tolist(), other.tolist(), strict=True):
        if a >= b:
            continue
        apart = float(np.hypot(x[a] - x[b], y[a] - y[b]))
        message = f"The holes of {names[a]} and {names[b]} stand {show.small(apart)} apart and break into each other."
        remedy = "Move one of them, or let the two lines share one post by ending the later on the earlier."
        post = a if a < len(posts) else int(braces.post_index[feet[a - len(posts)]])
        findings.append(Finding(CAUTION, "holes-touch", _place(layout, post), message, remedy))
    return findings


def _swings(job: Job, layout: Layout) -> list[Finding]:
    openings, posts = layout.openings, layout.posts
    findings = []
    for row in np.flatnonzero(~openings.is_crossing).tolist():
        hinge = int(openings.hinge_post[row])
        latch = int(openings.to_post[row] if hinge == openings.from_post[row] else openings.from_post[row])
        near = hinge == int(openings.from_post[row])
        at = np.array([posts.x_m[hinge], posts.y_m[hinge]])
        way = np.array([posts.x_m[latch], posts.y_m[latch]]) - at
        swing = int(openings.swing[row]) * (1 if near else -1)
        opening = Opening(
            openings.name[row], "", int(openings.line_index[row]), False, float(posts.station_m[openings.from_post[row]]),
            0.0, float(openings.opening_m[row]), float(openings.leaf_m[row]), near, swing,
        )  # fmt: skip
        allowed = job.settings.bottom_gap_m - job.settings.layout.gate_swing_clearance_m
        line = layout.lines[opening.line_index]
        heading = float(np.arctan2(way[1], way[0]))
        findings += swing_findings(
            job.site.ground, opening, line, at, heading, allowed, job.asked.job.sheets, row
        )
    return findings


def _overhead(job: Job, layout: Layout) -> list[Finding]:
    posts = layout.posts
    findings = []
    for obstacle in (one for one in job.site.obstacles if one.is_overhead):
        away = shapely.distance(obstacle_shape(obstacle), shapely.points(posts.x_m, posts.y_m))
        near = np.flatnonzero(away <= job.settings.layout.overhead_reach_m + obstacle.clearance_m)
        if not len(near):
            continue
        names = f"P{near[0] + 1}" if len(near) == 1 else f"P{near[0] + 1} and {len(near) - 1} more"
        message = f"{obstacle.name} passes over or near {names}: no auger mast, post or rail may come near the line."
        remedy = "Ask the line's owner for the safe distance, and dig there by hand."
        findings.append(
            Finding(CAUTION, "under-overhead-line", _place(layout, int(near[0])), message, remedy)
        )
    return findings
