"""What each run's two ends carry and how far they yield, and how far every post moves under the pull."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.mechanics.bearing import COHESION_DEAD_SHARE
from fencewright.mechanics.brace_stiffness import (
    diagonal_flexibility_m_n,
    rail_flexibility_m_n,
    tie_flexibility_m_n,
)
from fencewright.mechanics.embedment import MOTION_FACTOR, free_capacity_n
from fencewright.mechanics.rigid_post import grade_movement_m, movement_at_height_m, stiffness_n_m
from fencewright.mechanics.sections import round_area_m2
from fencewright.strength.braces import BraceFrame, FootingCapacity, brace_capacity_n, footing_top_m
from fencewright.strength.load_cases import member_resistance
from fencewright.strength.post_loads import Rails
from fencewright.strength.posts import Reactions, size
from fencewright.strength.reactions import SECOND_SHARE
from fencewright.strength.task import Footing, Members, StrengthTask
from fencewright.tables.strength import Check, EndAssemblies

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

# the code's doubled lateral value goes with half an inch of motion, source: ibc-1806-3
HALF_INCH_M = 0.0127
# three times the bearing value at an inch of settlement, source: bowles-subgrade
BEARING_FACTOR, INCH_M = 3.0, 0.0254
# a brace belongs to a rail's end when it points the same way within about 25 degrees
_SAME_WAY = 0.9


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
    Diagonal: strut, upright, footing sideways and down. Horizontal: strut, tie, and the two feet side by side.
    Infinite where the soil has no values.
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
        tied = tie_flexibility_m_n(
            frame.contact_m, frame.reach_m, settings.strength.tie_stiffness_n, upright
        ) + rail_flexibility_m_n(frame.reach_m, area)
        flexible = np.where(braces.is_horizontal, tied + 1.0 / foot, diagonal)
    return np.nan_to_num(flexible, nan=np.inf, posinf=np.inf)


def movement_m(
    task: StrengthTask, footing: Footing, frame: BraceFrame, flexible_m_n: Floats, reactions: Reactions
) -> Floats:
    """Movement of every post's top under the pull: (posts,). [m]

    Notes
    -----
    A braced post turns about grade as its braces give; two of them move it so that each gives its own. A free one
    turns in its soil as a stiff body. Its bending is left out. 0 where the soil has no values.
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
    moved[frame.braced] = np.where(best > 0, best * top, moved[frame.braced])
    return moved


@dataclass(frozen=True, slots=True, eq=False)
class RunEnds:
    """The two ends of each run, flat, (ends,): post, plan direction of the pull, height of the rails' pull, brace or -1."""

    post: Ints
    unit: Floats
    height_m: Floats
    brace: Ints


def run_ends(task: StrengthTask, rails: Rails, frame: BraceFrame) -> RunEnds:
    """Ends of the runs: all beginnings, then all finishes.

    Notes
    -----
    The pull of all rails together acts at the mean of their heights, weighted by their cold pull.
    """
    runs, strands = task.layout.runs, task.strands
    starting, ending = np.flatnonzero(rails.is_starting), np.flatnonzero(rails.is_ending)
    first = starting[np.argsort(rails.run[starting], kind="stable")]
    last = ending[np.argsort(rails.run[ending], kind="stable")]
    post = np.concatenate([runs.from_post, runs.to_post])
    unit = rails.unit[np.concatenate([first, last]), :2]
    unit = unit / np.maximum(size(unit), 1e-9)[:, None]
    drop = float(strands.cold_pull_n @ strands.drop_m) / float(strands.cold_pull_n.sum())
    place = np.full(len(task.layout.posts), -1)
    place[frame.braced] = np.arange(len(frame.braced))
    brace = np.full(len(post), -1)
    if len(frame.braced):
        slots = np.where(place[post][:, None] >= 0, frame.slot[place[post]], -1)
        along = (frame.unit[np.where(slots >= 0, slots, 0)] * unit[:, None, :]).sum(axis=2)
        along = np.where(slots >= 0, along, -1.0)
        pick = along.argmax(axis=1)
        rows = np.arange(len(post))
        brace = np.where(along[rows, pick] > _SAME_WAY, slots[rows, pick], -1)
    return RunEnds(post, unit, task.height_m[post] - drop, brace)


@dataclass(frozen=True, slots=True, eq=False)
class EndHolds:
    """What the ends' parts hold: `down_n` of each post, `footings` and `flexible_m_n` of each brace. [N], [m/N]"""

    down_n: Floats
    footings: FootingCapacity
    flexible_m_n: Floats


def end_assemblies(
    task: StrengthTask,
    footing: Footing,
    members: Members,
    frame: BraceFrame,
    holds: EndHolds,
    ends: RunEnds,
    case: LoadCase,
) -> EndAssemblies:
    """Pull that each end of each run carries, and how stiff it is.

    Parameters
    ----------
    task, footing, members, frame
        The fence and its columns.
    holds : EndHolds
        Of posts, footings and braces.
    ends : RunEnds
        From `run_ends`.
    case : LoadCase
        The cold pull: its duration is the timber's.

    Returns
    -------
    EndAssemblies
        Of this run's rails alone: what another run does at the same post is in the checks.

    Notes
    -----
    Every demand grows with the pull P: thrust P h / hb, uplift of that times the slope, kick of the foot P - thrust,
    so each check gives its own greatest P in closed form, and the least of them is the end's.
    """
    limits = _end_limits(task, footing, members, frame, holds, ends, case)
    kinds = np.array([int(check) for check in limits])
    values = np.stack(list(limits.values()))
    pick = values.argmin(axis=0)
    capacity = values[pick, np.arange(values.shape[1])]
    braced = ends.brace >= 0
    brace = np.where(braced, ends.brace, 0)
    nh = subgrade_n_m3(task, footing)[ends.post]
    with np.errstate(divide="ignore", invalid="ignore"):
        free = stiffness_n_m(
            ends.height_m, task.holes.depth_m[ends.post], nh, members.stiffness_n_m2[ends.post]
        )
        if len(holds.flexible_m_n):
            tied = (frame.contact_m[brace] / ends.height_m) ** 2 / holds.flexible_m_n[brace]
            free = np.where(braced, tied, free)
    count = len(task.layout.runs)
    shape = (2, count)
    return EndAssemblies(
        np.ascontiguousarray(np.maximum(capacity, 0.0).reshape(shape).T),
        np.ascontiguousarray(np.nan_to_num(free).reshape(shape).T),
        np.ascontiguousarray(kinds[pick].reshape(shape).T),
        np.full(count, np.inf),
    )


def turn_capacity_n(task: StrengthTask, used: Floats) -> Floats:
    """Pull of all rails at which the weakest post that a run turns at, its ends left out, is used up.

    Parameters
    ----------
    task : StrengthTask
        Runs, and the cold tension.
    used : float array (posts,)
        Utilisation of each post and its braces under the cold pull alone. [-]

    Returns
    -------
    float array (runs,)
        The cold pull over the largest utilisation, demands being in proportion to the pull; infinite for a run
        that turns nowhere. [N]
    """
    spans, runs, posts = task.layout.spans, task.layout.runs, task.layout.posts
    inner = np.flatnonzero(spans.run_index >= 0)
    post, run = spans.to_post[inner], spans.run_index[inner]
    turns = (post != runs.to_post[run]) & (np.abs(posts.turning_rad[post]) > 0)
    worst = np.zeros(len(runs))
    np.maximum.at(worst, run[turns], used[post[turns]])
    pull = task.tension_n["cold"].sum(axis=1)
    return np.asarray(np.divide(pull, worst, out=np.full(len(runs), np.inf), where=worst > 0))


def _end_limits(
    task: StrengthTask,
    footing: Footing,
    members: Members,
    frame: BraceFrame,
    holds: EndHolds,
    ends: RunEnds,
    case: LoadCase,
) -> dict[Check, Floats]:
    """Greatest pull of each end by each check, infinite where it does not apply: (ends,). [N]"""
    post, settings = ends.post, task.settings
    depth = task.holes.depth_m[post]
    width, lateral = footing.width_m[post], footing.lateral_pa_m[post]
    bending = members.bending_n_m * member_resistance(case, settings, "bending", members.is_steel)
    alone = free_capacity_n(depth, ends.height_m, width, lateral)
    if not (ends.brace >= 0).any():
        return {Check.EMBEDMENT: alone, Check.BENDING: bending[post] / ends.height_m}
    braced = ends.brace >= 0
    brace = np.where(braced, ends.brace, 0)
    flat = task.layout.braces.is_horizontal[brace]
    lever, slope = ends.height_m / frame.contact_m[brace], frame.slope[brace]
    along = np.where(flat, 1.0, np.hypot(1.0, slope))
    strut = brace_capacity_n(task, frame, case, np.full(len(frame.reach_m), settings.brace.diameter_m))[brace]
    foot = free_capacity_n(depth, 0.0, width, lateral)
    second = task.layout.braces.second_post[brace]
    far = free_capacity_n(
        task.holes.depth_m[second],
        frame.contact_m[brace],
        footing.width_m[second],
        footing.lateral_pa_m[second],
    )
    most = members.bending_n_m[second] / frame.contact_m[brace]
    tied = np.minimum(_shared_limit(foot, most), np.where(most <= far, np.inf, far / SECOND_SHARE))
    kick = np.abs(1.0 - lever)
    with np.errstate(divide="ignore"):
        limits = {
            Check.BRACE_COMPRESSION: strut / (lever * along),
            Check.UPLIFT: holds.down_n[post] / (lever * slope),
            Check.EMBEDMENT: np.where(flat, tied, foot / kick),
            Check.FOOTING_PUSH: np.where(flat, np.inf, _push_limit(holds.footings, brace, lever, slope)),
            Check.FOOTING_BEARING: np.where(
                flat, np.inf, (holds.footings.down_n - holds.footings.weight_n)[brace] / (lever * slope)
            ),
            Check.TIE: np.where(flat, settings.strength.tie_n / (lever * np.hypot(1.0, slope)), np.inf),
            Check.BENDING: bending[post] / _bending_lever_m(task, ends, frame.contact_m[brace]),
        }
    free = {Check.EMBEDMENT: alone, Check.BENDING: bending[post] / ends.height_m}
    return {
        check: np.where(braced, value, free.get(check, np.full(len(post), np.inf)))
        for check, value in limits.items()
    }


def _shared_limit(foot_n: Floats, most_n: Floats) -> Floats:
    """Pull at which the foot of a tied post gives, the second upright helping by a third but no more than its most. [N]"""
    third = foot_n / (1 - SECOND_SHARE)
    return np.where(third * SECOND_SHARE <= most_n, third, foot_n + most_n)


def _push_limit(holds: FootingCapacity, brace: Ints, lever: Floats, slope: Floats) -> Floats:
    """Pull at which a footing slides: what presses on it grows with the pull too. [N]"""
    fixed, weight = holds.fixed_n[brace], holds.weight_n[brace]
    rub = np.nan_to_num(holds.friction[brace])
    stick = np.nan_to_num(holds.stick_n[brace])

    def limit(share: Floats | float) -> Floats:
        left = lever * (1.0 - share * slope)
        none = np.full(len(brace), np.inf)
        return np.asarray(np.divide(fixed + share * weight, left, out=none, where=left > 1e-9))

    clay = np.minimum((fixed + stick) / lever, limit(COHESION_DEAD_SHARE))
    return np.where(rub > 0, limit(rub), np.maximum(clay, fixed / lever))


def _bending_lever_m(task: StrengthTask, ends: RunEnds, contact_m: Floats) -> Floats:
    """Greatest bending moment of a braced upright for a pull of one, its rails sharing as on the coldest day. [m]"""
    strands = task.strands
    share = strands.cold_pull_n / strands.cold_pull_n.sum()
    top = task.height_m[ends.post]
    heights = top - strands.drop_m[:, None]
    thrust = ends.height_m / contact_m
    worst = np.full(len(top), 1e-6)
    for level in (*heights, contact_m):
        bend = (share[:, None] * np.maximum(heights - level, 0.0)).sum(axis=0)
        worst = np.maximum(worst, np.abs(bend - thrust * np.maximum(contact_m - level, 0.0)))
    return worst
