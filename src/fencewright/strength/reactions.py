"""What holds each post in one case: thrust of its braces, what its soil takes, what lifts it and presses it down."""

import numpy as np
from numpy.typing import NDArray

from fencewright.mechanics.embedment import free_capacity_n
from fencewright.strength.braces import BraceFrame, thrusts_n
from fencewright.strength.post_loads import PostForces
from fencewright.strength.posts import Reactions
from fencewright.strength.task import Footing, StrengthTask

Floats = NDArray[np.float64]


def reactions_of(task: StrengthTask, footing: Footing, frame: BraceFrame, loads: PostForces) -> Reactions:
    """Reactions of every post.

    Parameters
    ----------
    task : StrengthTask
        Depths of the holes, which matter to horizontal braces alone.
    footing : Footing
        Soil and holes.
    frame : BraceFrame
        Braces.
    loads : PostForces
        Of one case; posts to which it does not apply get nothing.

    Returns
    -------
    Reactions

    Notes
    -----
    The upright turns about grade; its own soil takes the pull less the thrust there (the foot's kick), and what the
    braces cannot hold because it lies across them. That is one equilibrium that loads every part to what statics
    asks; soil that yields a little finds it (lower bound). A horizontal brace hands the second upright what its soil
    can take at the brace's height beside the first one's foot; the tie returns the rest to the foot.

    References
    ----------
    statics.
    """
    on = loads.applies[:, None]
    force, moment = np.where(on, loads.force_n, 0.0), np.where(on, loads.moment_n_m, 0.0)
    up = np.where(loads.applies, loads.up_n, 0.0)
    braces = task.layout.braces
    post, count = braces.post_index, len(task.layout.posts)
    thrust = thrusts_n(frame, moment)
    passed = _passed_on_n(task, footing, frame, force, thrust)
    push = thrust[:, None] * frame.unit
    held = _per_post(post, push, count)
    taken = np.where(braces.is_horizontal, passed, thrust)[:, None] * frame.unit
    foot = force - _per_post(post, taken, count)
    turning = moment - _per_post(post, push * frame.contact_m[:, None], count)
    tied = np.where(braces.is_horizontal, thrust - passed, thrust) * frame.slope
    lift = up + np.bincount(post, tied, count)
    second = braces.second_post
    mine = second >= 0
    if mine.any():
        handed = passed[mine, None] * frame.unit[mine]
        foot = foot + _per_post(second[mine], handed, count)
        turning = turning + _per_post(second[mine], handed * frame.contact_m[mine, None], count)
        lift = lift - np.bincount(second[mine], tied[mine], count)
    return Reactions(thrust, held, foot, turning, np.maximum(lift, 0.0), np.maximum(-lift, 0.0))


def _per_post(post: NDArray[np.int64], vector: Floats, count: int) -> Floats:
    return np.column_stack([np.bincount(post, vector[:, axis], count) for axis in range(2)])


def _passed_on_n(
    task: StrengthTask, footing: Footing, frame: BraceFrame, force_n: Floats, thrust_n: Floats
) -> Floats:
    """Part of a horizontal brace's force that the second upright's soil takes at the brace's height: (braces,). [N]"""
    braces = task.layout.braces
    rows = np.flatnonzero(braces.is_horizontal & (braces.second_post >= 0))
    passed = np.zeros(len(braces))
    if not len(rows):
        return passed
    first, second = braces.post_index[rows], braces.second_post[rows]
    depth, height = task.holes.depth_m, frame.contact_m[rows]

    def holds(post: NDArray[np.int64], at_m: Floats) -> Floats:
        return free_capacity_n(depth[post], at_m, footing.width_m[post], footing.lateral_pa_m[post])

    near, far = holds(first, np.zeros(len(rows))), holds(second, height)
    along = np.maximum((force_n[first] * frame.unit[rows]).sum(axis=1), 0.0)
    share = np.divide(far, near + far, out=np.zeros(len(rows)), where=near + far > 0)
    passed[rows] = np.minimum(along * share, thrust_n[rows])
    return passed
