"""Checks of the posts as laid out: clearances, holes that touch, gates' arcs, heave, overhead lines."""

import numpy as np
import shapely
from scipy.spatial import cKDTree

from fencewright.findings import CAUTION, STOP, Finding, Place
from fencewright.job.record import Job
from fencewright.layout.gate_arcs import arc_findings
from fencewright.layout.gate_moves import clear_station_m, station_text
from fencewright.layout.solid_things import solid_findings
from fencewright.quantity.show import UnitSystem
from fencewright.site.clearances import obstacle_shape, trespass_m
from fencewright.tables.fence import Layout, Role


def check_posts(job: Job, layout: Layout) -> list[Finding]:
    """Check the layout as a whole.

    Returns
    -------
    list of Finding
        `post-in-clearance`, `rail-through-solid` (`stop`), `holes-touch`, `gate-swing`, `under-overhead-line`
        (`caution`).
    """
    return [
        *_clearances(job, layout),
        *solid_findings(job, layout),
        *_touching(job, layout),
        *arc_findings(job, layout),
        *_overhead(job, layout),
    ]


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
            move, edits = _moved(job, layout, row, float(radius[row]))
            remedy = f"{move}, or have the {obstacle.kind} located and its clearance made smaller."
            findings.append(Finding(STOP, "post-in-clearance", _place(layout, row), message, remedy, edits))
    return findings


def _moved(job: Job, layout: Layout, row: int, radius_m: float) -> tuple[str, tuple[dict[str, object], ...]]:
    """How a post is moved out of a clearance, and the edit where that is its gate's."""
    openings = layout.openings
    own = np.flatnonzero(~openings.is_crossing & ((openings.from_post == row) | (openings.to_post == row)))
    station = clear_station_m(job, layout, int(own[0]), radius_m) if len(own) == 1 else None
    if station is None:
        return "Move it as far away", ()
    at = station_text(station, job.asked.job.sheets)
    edit: dict[str, object] = {"path": ["gate", int(own[0]), "at"], "value": at}
    return f'Move {openings.name[int(own[0])]} to at = "{at}"', (edit,)


def _touching(job: Job, layout: Layout) -> list[Finding]:
    """Posts and brace footings of any line whose holes would break into each other."""
    posts, braces = layout.posts, layout.braces
    show = UnitSystem(job.asked.job.sheets)
    feet = np.flatnonzero(~braces.is_horizontal)
    x, y = np.concatenate([posts.x_m, braces.x_m[feet]]), np.concatenate([posts.y_m, braces.y_m[feet]])
    room = job.settings.holes.auger_m
    tree = cKDTree(
        np.column_stack([x, y]), compact_nodes=False, balanced_tree=False
    )  # asked once: quick to build
    pairs = tree.query_pairs(room * (1 - 1e-9), output_type="ndarray")
    pairs = pairs[np.lexsort((pairs[:, 1], pairs[:, 0]))]
    findings = []
    for a, b in pairs.tolist():
        apart = float(np.hypot(x[a] - x[b], y[a] - y[b]))
        names = [f"P{row + 1}" if row < len(posts) else f"B{feet[row - len(posts)] + 1}" for row in (a, b)]
        message = f"The holes of {names[0]} and {names[1]} stand {show.small(apart)} apart and break into each other."
        remedy = "Move one of them, or let the two lines share one post by ending the later on the earlier."
        post = a if a < len(posts) else int(braces.post_index[feet[a - len(posts)]])
        findings.append(Finding(CAUTION, "holes-touch", _place(layout, post), message, remedy))
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
