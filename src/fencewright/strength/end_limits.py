"""Greatest pull that each end of a run carries by each check, in closed form: every demand grows with the pull."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.mechanics.bearing import COHESION_DEAD_SHARE
from fencewright.mechanics.embedment import free_capacity_n
from fencewright.strength.brace_footings import FootingCapacity
from fencewright.strength.braces import BraceFrame
from fencewright.strength.fence import Fence
from fencewright.strength.holds import Holds
from fencewright.strength.load_cases import member_resistance
from fencewright.strength.reactions import SECOND_SHARE
from fencewright.strength.task import Footing, Members, StrengthTask
from fencewright.tables.strength import Check

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class RunEnds:
    """The two ends of each run, flat, (ends,): post, plan direction of the pull, height of the rails' pull, brace or -1."""

    post: Ints
    unit: Floats
    height_m: Floats
    brace: Ints


def end_limits(fence: Fence, holds: Holds, ends: RunEnds, case: LoadCase) -> dict[Check, Floats]:
    """Greatest pull of each end by each check, infinite where it does not apply: (ends,). [N]

    Notes
    -----
    Thrust of an end's braces = pull x `height_m` / contact; each brace takes its share of it.
    """
    task, footing, members, frame, post = fence.task, fence.footing, fence.members, fence.frame, ends.post
    bending = members.bending_n_m * member_resistance(case, task.settings, "bending", members.is_steel)
    alone = free_capacity_n(
        task.holes.depth_m[post], ends.height_m, footing.width_m[post], footing.lateral_pa_m[post]
    )
    if not (ends.brace >= 0).any():
        return {Check.EMBEDMENT: alone, Check.BENDING: bending[post] / ends.height_m}
    braced = ends.brace >= 0
    brace = np.where(braced, ends.brace, 0)
    lever = ends.height_m / frame.contact_m[brace]
    lifts = np.bincount(frame.lead, frame.share * frame.slope * frame.first_share, len(frame.lead))
    strut = holds.strut_n[case.duration, case.time_effect]
    with np.errstate(divide="ignore"):
        limits = {
            check: limit[brace] / lever
            for check, limit in _thrust_limits(task, frame, holds.footings, strut).items()
        }
        limits[Check.UPLIFT] = holds.down_n[post] / (lever * lifts[brace])
        limits[Check.EMBEDMENT] = _foot_limits(task, footing, members, frame, ends, brace)
    limits[Check.BENDING] = bending[post] / _bending_lever_m(task, ends, frame.contact_m[brace])
    free = {Check.EMBEDMENT: alone, Check.BENDING: bending[post] / ends.height_m}
    return {
        check: np.where(braced, value, free.get(check, np.full(len(post), np.inf)))
        for check, value in limits.items()
    }


def _thrust_limits(
    task: StrengthTask, frame: BraceFrame, holds: FootingCapacity, strut_n: Floats
) -> dict[Check, Floats]:
    """Greatest level thrust of each post's braces one way by what each brace, footing and tie carries: (braces,). [N]"""
    settings, flat, slope = task.settings, task.layout.braces.is_horizontal, frame.slope
    count, long = len(slope), np.hypot(1.0, frame.slope)
    rows, whole = np.arange(count), np.ones(count)
    own = {
        Check.BRACE_COMPRESSION: strut_n / np.where(flat, 1.0, long),
        Check.FOOTING_PUSH: np.where(flat, np.inf, _push_limit(holds, rows, whole, slope)),
        Check.FOOTING_TIPPING: np.where(flat, np.inf, _tipping_limit(holds, rows, whole, slope)),
        Check.FOOTING_BEARING: np.where(flat, np.inf, (holds.down_n - holds.weight_n) / slope),
        Check.TIE: np.where(flat, settings.strength.tie_n / long / frame.first_share, np.inf),
    }
    limits = {}
    for check, limit in own.items():
        shared = np.full(count, np.inf)
        np.minimum.at(shared, frame.lead, limit / frame.share)
        passed = np.maximum(1.0 - frame.first_share, 1e-9)
        limits[check] = np.minimum(shared, np.where(frame.behind >= 0, limit[frame.behind] / passed, np.inf))
    return limits


def _foot_limits(
    task: StrengthTask, footing: Footing, members: Members, frame: BraceFrame, ends: RunEnds, brace: Ints
) -> Floats:
    """Pull at which the soil round an end's uprights is used up: (ends,). [N]

    Notes
    -----
    Diagonal: the foot kicks with the pull less the thrust. Horizontal: the foot takes what the second upright does
    not; with a second bay that one hands on in turn.
    """
    post, lever = ends.post, ends.height_m / frame.contact_m[brace]
    second = task.layout.braces.second_post
    flat, behind = task.layout.braces.is_horizontal[brace], frame.behind[brace]

    def foot_n(row: Ints, height_m: Floats | float) -> Floats:
        return free_capacity_n(
            task.holes.depth_m[row], height_m, footing.width_m[row], footing.lateral_pa_m[row]
        )

    def last_n(first: Ints, last: Ints, contact_m: Floats) -> Floats:
        most = members.bending_n_m[last] / contact_m
        far = np.where(most <= (hold := foot_n(last, contact_m)), np.inf, hold / SECOND_SHARE)
        return np.minimum(_shared_limit(foot_n(first, 0.0), most), far)

    tied = last_n(post, second[brace], frame.contact_m[brace])
    onward = np.maximum((1.0 - frame.first_share[brace]) * lever, 1e-9)
    middle = last_n(second[brace], second[behind], frame.contact_m[behind]) / onward
    two = np.minimum(foot_n(post, 0.0) / np.abs(1.0 - onward), middle)
    diagonal = foot_n(post, 0.0) / np.abs(1.0 - lever)
    return np.where(flat, np.where(behind >= 0, two, tied), diagonal)


def _shared_limit(foot_n: Floats, most_n: Floats) -> Floats:
    """Pull at which the foot of a tied post gives, the second upright helping by a third but no more than its most. [N]"""
    third = foot_n / (1 - SECOND_SHARE)
    return np.where(third * SECOND_SHARE <= most_n, third, foot_n + most_n)


def _push_limit(holds: FootingCapacity, brace: Ints, lever: Floats, slope: Floats) -> Floats:
    """Pull at which a footing slides: what presses on it grows with the pull too. [N]"""
    fixed, weight = holds.fixed_n[brace], holds.weight_n[brace]
    rub, stick = holds.friction[brace], holds.stick_n[brace]

    def limit(share: Floats | float) -> Floats:
        left = lever * (1.0 - share * slope)
        none = np.full(len(brace), np.inf)
        return np.asarray(np.divide(fixed + share * weight, left, out=none, where=left > 1e-9))

    clay = np.minimum((fixed + stick) / lever, limit(COHESION_DEAD_SHARE))
    return np.where(rub > 0, limit(rub), np.maximum(clay, fixed / lever))


def _tipping_limit(holds: FootingCapacity, brace: Ints, lever: Floats, slope: Floats) -> Floats:
    """Pull at which a footing tips: what presses on it grows with the pull too. [N]"""
    fixed = holds.turning_n_m[brace] + holds.weight_n[brace] * holds.half_m[brace]
    left = lever * (holds.lever_m[brace] - slope * holds.half_m[brace])
    return np.asarray(np.divide(fixed, left, out=np.full(len(brace), np.inf), where=left > 1e-9))


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
