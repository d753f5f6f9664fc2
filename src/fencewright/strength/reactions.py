"""What holds each post in one case: thrust of its braces, what its soil takes, what lifts it and presses it down."""

import numpy as np
from numpy.typing import NDArray

from fencewright.strength.braces import BraceFrame, thrusts_n
from fencewright.strength.post_loads import PostForces
from fencewright.strength.posts import Reactions
from fencewright.strength.task import Members, StrengthTask

Floats = NDArray[np.float64]

# which equilibrium is chosen, not a property: a foot pushed at grade holds about twice a post pushed at its head
SECOND_SHARE = 1.0 / 3.0


def reactions_of(task: StrengthTask, members: Members, frame: BraceFrame, loads: PostForces) -> Reactions:
    """Reactions of every post.

    Parameters
    ----------
    task : StrengthTask
        The fence.
    members : Members
        Bending that a second upright may take.
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
    can take at the brace's height (`passed_on_n`); the tie returns the rest to the first one's foot.

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
    passed = _passed(task, members, frame, force, thrust)
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


def passed_on_n(
    along_n: Floats, thrust_n: Floats, bending_n_m: Floats, contact_m: Floats
) -> Floats:
    """Part of a horizontal brace's force that the second upright's soil takes at the brace's height.

    Parameters
    ----------
    along_n : array
        Pull along the brace. [N]
    thrust_n : array
        Force of the brace: no more can be handed on. [N]
    bending_n_m : array
        Bending moment that the second upright may take. [N m]
    contact_m : array
        Height of the brace. [m]

    Returns
    -------
    float array
        At most a third of the pull, which is what a post pushed at its head holds beside one pushed at its foot. [N]
    """
    return np.minimum(np.minimum(along_n * SECOND_SHARE, thrust_n), bending_n_m / contact_m)


def _passed(
    task: StrengthTask, members: Members, frame: BraceFrame, force_n: Floats, thrust_n: Floats
) -> Floats:
    """What each brace hands on, 0 for a diagonal: (braces,). [N]"""
    braces = task.layout.braces
    rows = np.flatnonzero(braces.is_horizontal & (braces.second_post >= 0))
    passed = np.zeros(len(braces))
    if len(rows):
        along = np.maximum((force_n[braces.post_index[rows]] * frame.unit[rows]).sum(axis=1), 0.0)
        bending = members.bending_n_m[braces.second_post[rows]]
        passed[rows] = passed_on_n(along, thrust_n[rows], bending, frame.contact_m[rows])
    return passed
