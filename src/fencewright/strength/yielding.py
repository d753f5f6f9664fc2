"""How far braces give under their thrust, and every post under its pull."""

import numpy as np
from numpy.typing import NDArray

from fencewright.mechanics.brace_stiffness import (
    diagonal_flexibility_m_n,
    rail_flexibility_m_n,
    tie_flexibility_m_n,
)
from fencewright.mechanics.embedment import MOTION_FACTOR
from fencewright.mechanics.rigid_post import grade_movement_m, movement_at_height_m
from fencewright.mechanics.sections import round_area_m2
from fencewright.strength.braces import BraceFrame, footing_top_m
from fencewright.strength.post_loads import PostForces
from fencewright.strength.posts import Reactions, size
from fencewright.strength.task import Footing, Members, StrengthTask

Floats = NDArray[np.float64]

# the code's doubled lateral value goes with half an inch of motion, source: ibc-1806-3
HALF_INCH_M = 0.0127
# three times the bearing value at an inch of settlement, source: bowles-subgrade
BEARING_FACTOR, INCH_M = 3.0, 0.0254


def subgrade_n_m3(task: StrengthTask, footing: Footing) -> Floats:
    """Stiffness nh of the soil beside each post: the doubled lateral value at half an inch. (posts,) [N/m3]

    References
    ----------
    ibc-1806-3 (1806.3.4).
    """
    doubled = 1.0 if task.settings.strength.ground.is_half_inch else MOTION_FACTOR
    return np.asarray(footing.lateral_pa_m * doubled * footing.width_m / HALF_INCH_M)


def brace_flexibility_m_n(
    task: StrengthTask, footing: Footing, members: Members, frame: BraceFrame
) -> Floats:
    """Movement of each post at its brace's contact for a level thrust of one: (braces,). [m/N]

    Notes
    -----
    Diagonal: strut, upright, footing sideways and down. Horizontal: strut, tie, and the two feet side by side; with a
    second bay the tie stretches under its share alone, and a third foot helps. Infinite where the soil has no values.
    """
    braces, settings = task.layout.braces, task.settings
    post, second = braces.post_index, braces.second_post
    nh = subgrade_n_m3(task, footing)
    depth = task.brace_holes.depth_m
    top = footing_top_m(task, depth)
    area = round_area_m2(settings.brace.diameter_m) * settings.strength.timber.modulus_pa
    upright = members.stiffness_n_m2[post] * 16.0 / task.layout.posts.diameter_m[post] ** 2
    width = task.brace_holes.diameter_m
    down = BEARING_FACTOR / INCH_M * footing.bearing_pa[post] * round_area_m2(width)
    with np.errstate(divide="ignore", invalid="ignore"):
        side = nh[post] * (depth**2 - top**2) / 2.0
        diagonal = diagonal_flexibility_m_n(frame.drop_m, frame.reach_m, upright, area, side, down)
        foot = 1.0 / grade_movement_m(1.0, 0.0, task.holes.depth_m[post], nh[post])
        foot = foot + 1.0 / grade_movement_m(1.0, 0.0, task.holes.depth_m[second], nh[second])
        third = second[frame.behind]
        more = 1.0 / grade_movement_m(1.0, 0.0, task.holes.depth_m[third], nh[third])
        foot = foot + np.where(frame.behind >= 0, more, 0.0)
        tie = tie_flexibility_m_n(frame.contact_m, frame.reach_m, settings.strength.tie_stiffness_n, upright)
        tied = frame.first_share * tie + rail_flexibility_m_n(frame.reach_m, area)
        flexible = np.where(braces.is_horizontal, tied + 1.0 / foot, diagonal)
    return np.nan_to_num(flexible, nan=np.inf, posinf=np.inf)


def movement_m(
    task: StrengthTask,
    footing: Footing,
    frame: BraceFrame,
    flexible_m_n: Floats,
    reactions: Reactions,
    braced_loads: PostForces,
) -> Floats:
    """Movement of every post's top under the pull: (posts,). [m]

    Notes
    -----
    A braced post turns about grade as its braces give; two of them move it so that each gives its own, but never
    further than its own soil would let it without braces: those of a corner that turns little stand nearly across its
    pull. A free one turns in its soil as a stiff body. Its bending is left out. 0 where the soil has no values.
    """
    nh = subgrade_n_m3(task, footing)
    force, moment = reactions.kick_n, reactions.turn_n_m
    with np.errstate(divide="ignore", invalid="ignore"):
        moved = movement_at_height_m(force, moment, task.holes.depth_m, nh, task.height_m)
    moved = np.where((force + moment > 0) & np.isfinite(moved), moved, 0.0)
    if not len(frame.braced):
        return moved
    own = np.where(frame.slot >= 0, frame.slot, 0)
    soft = np.where(np.isfinite(flexible_m_n), flexible_m_n, 0.0)
    given = reactions.thrust_n * soft
    each = np.where(frame.slot >= 0, given[own], 0.0)
    best = each.max(axis=1)
    for one in range(own.shape[1]):
        for two in range(one + 1, own.shape[1]):
            a, b = frame.unit[own[:, one]], frame.unit[own[:, two]]
            crossing = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
            both = (each[:, one] > 0) & (each[:, two] > 0) & (np.abs(crossing) > 1e-3)
            safe = np.where(both, crossing, 1.0)
            x = (each[:, one] * b[:, 1] - each[:, two] * a[:, 1]) / safe
            y = (a[:, 0] * each[:, two] - b[:, 0] * each[:, one]) / safe
            best = np.where(both, np.maximum(best, np.hypot(x, y)), best)
    top = task.height_m[frame.braced] / frame.contact_m[own[:, 0]]
    braced = frame.braced
    force, moment = size(braced_loads.force_n), size(braced_loads.moment_n_m)
    with np.errstate(divide="ignore", invalid="ignore"):
        alone = movement_at_height_m(
            force, moment, task.holes.depth_m[braced], nh[braced], task.height_m[braced]
        )
    moved[braced] = np.where(best > 0, np.fmin(best * top, alone), moved[braced])
    return moved
