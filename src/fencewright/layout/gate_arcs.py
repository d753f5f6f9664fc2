"""Arcs of the gates' leaves over the ground: whether a leaf meets it within a quarter turn."""

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import CAUTION, Finding, Place
from fencewright.job.record import Job
from fencewright.quantity.show import UnitSystem
from fencewright.site.ground import Ground
from fencewright.tables.fence import Layout

Floats = NDArray[np.float64]

_ARC_STEPS = 19
_LEAF_STEPS = 9
_SIDES = (1, -1)


def arc_findings(job: Job, layout: Layout) -> list[Finding]:
    """Check every leaf's arc over the ground.

    Returns
    -------
    list of Finding
        `gate-swing` where the ground meets the leaf: by how much, and whether the other side is free.
    """
    openings, posts = layout.openings, layout.posts
    gates = np.flatnonzero(~openings.is_crossing)
    if not len(gates):
        return []
    hinge = openings.hinge_post[gates]
    near = hinge == openings.from_post[gates]
    latch = np.where(near, openings.to_post[gates], openings.from_post[gates])
    at = np.column_stack([posts.x_m[hinge], posts.y_m[hinge]])
    heading = np.arctan2(posts.y_m[latch] - at[:, 1], posts.x_m[latch] - at[:, 0])
    rises = leaf_rises_m(job.site.ground, at, heading, openings.leaf_m[gates])
    over = rises - (job.settings.bottom_gap_m - job.settings.layout.gate_swing_clearance_m)
    facing = np.where(near, 1, -1)  # the job names sides as seen along the line
    swing = openings.swing[gates] * facing
    is_met = (over > 0) & ((swing[:, None] == 0) | (swing[:, None] == _SIDES))
    findings = []
    for gate, place in np.argwhere(is_met).tolist():
        row = int(gates[gate])
        other = float(over[gate, 1 - place])
        is_way_out = swing[gate] != 0 and not other > 0
        side = int(_SIDES[place] * facing[gate])
        findings.append(_met(job, layout, row, side, float(over[gate, place]), is_way_out))
    return findings


def leaf_rises_m(ground: Ground, hinge_xy_m: Floats, heading_rad: Floats, leaf_m: Floats) -> Floats:
    """Greatest rise of the ground above that at the hinge post, within a quarter turn of each leaf to each side.

    Parameters
    ----------
    ground : Ground
        Elevation at points.
    hinge_xy_m : float array (gates, 2)
        Centres of the hinge posts. [m]
    heading_rad : float array (gates,)
        From the hinge post along the shut leaf. [rad]
    leaf_m : float array (gates,)
        Lengths of the leaves. [m]

    Returns
    -------
    float array (gates, 2)
        To the left and to the right of the heading; NaN where the ground is unknown. [m]
    """
    turn = np.multiply.outer(_SIDES, np.linspace(0.0, np.pi / 2, _ARC_STEPS))
    angle = heading_rad[:, None, None, None] + turn[None, :, :, None]
    reach = leaf_m[:, None, None, None] * np.linspace(1 / _LEAF_STEPS, 1.0, _LEAF_STEPS)
    x = hinge_xy_m[:, 0][:, None, None, None] + np.cos(angle) * reach
    y = hinge_xy_m[:, 1][:, None, None, None] + np.sin(angle) * reach
    under = np.asarray(ground.elevation_m(x.ravel(), y.ravel()), np.float64).reshape(x.shape)
    base = np.asarray(ground.elevation_m(hinge_xy_m[:, 0].copy(), hinge_xy_m[:, 1].copy()), np.float64)
    rise = under.reshape(*x.shape[:2], -1) - base[:, None, None]
    known = np.isfinite(rise)
    return np.where(known.any(axis=-1), np.max(np.where(known, rise, -np.inf), axis=-1), np.nan)


def _met(job: Job, layout: Layout, row: int, side: int, over_m: float, is_way_out: bool) -> Finding:
    """Say that a leaf meets the ground on a side of its line, +1 left."""
    show = UnitSystem(job.asked.job.sheets)
    name, other = ("left", "right") if side > 0 else ("right", "left")
    message = f"The leaf swinging {name} meets ground {show.small(over_m)} too high within a quarter turn."
    remedy = "Grade the arc, hang the leaf higher, or use two short leaves."
    edits: tuple[dict[str, object], ...] = ()
    if is_way_out:
        remedy = f'Swing it {other}: swing = "{other}".'
        edits = ({"path": ["gate", row, "swing"], "value": other},)
    return Finding(CAUTION, "gate-swing", _place(layout, row), message, remedy, edits)


def _place(layout: Layout, row: int) -> Place:
    openings = layout.openings
    line = layout.lines[int(openings.line_index[row])].name
    return Place("gate", openings.name[row], line, float(layout.posts.station_m[openings.from_post[row]]))
