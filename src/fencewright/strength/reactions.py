"""What holds each post in one case: thrust of its braces, what its soil takes, what lifts it and presses it down."""

import numpy as np
from numpy.typing import NDArray

from fencewright.strength.braces import BraceFrame, thrusts_n
from fencewright.strength.post_loads import PostForces
from fencewright.strength.posts import Reactions, east_and_north, size
from fencewright.strength.reach import Reach, everywhere
from fencewright.strength.task import Members, StrengthTask

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

# which equilibrium is chosen, not a property: a foot pushed at grade holds about twice a post pushed at its head
SECOND_SHARE = 1.0 / 3.0


def reactions_of(
    task: StrengthTask, members: Members, frame: BraceFrame, loads: PostForces, reach: Reach | None = None
) -> Reactions:
    """Reactions of every post, or of some.

    Parameters
    ----------
    task : StrengthTask
        The fence.
    members : Members
        Bending that a second upright may take.
    frame : BraceFrame
        Braces.
    loads : PostForces
        Of one case, or of several along a leading axis; posts to which one does not apply get nothing.
    reach : Reach, optional
        Posts that the loads are of; all of them unless given.

    Returns
    -------
    Reactions

    Notes
    -----
    The upright turns about grade; its own soil takes the pull less the thrust there (the foot's kick), and what the
    braces cannot hold because it lies across them. That is one equilibrium that loads every part to what statics
    asks; soil that yields a little finds it (lower bound). A horizontal brace hands the second upright what its soil
    can take at the brace's height (`passed_on_n`); the tie returns the rest to the first one's foot. Where a second
    bay stands behind it, that upright is braced itself, and gets what the first tie's stiffness leaves to it.

    References
    ----------
    statics.
    """
    reach = reach or everywhere(task.layout.braces, frame, loads.up_n.shape[-1])
    force, moment = (together(east_and_north(one).copy()) for one in (loads.force_n, loads.moment_n_m))
    own = PostForces(force, moment, loads.up_n.copy(), loads.applies)
    return reactions_in_place(task, members, reach, own)


def reactions_in_place(task: StrengthTask, members: Members, reach: Reach, loads: PostForces) -> Reactions:
    """Give the reactions as `reactions_of`, in the memory of the loads, which are gone then.

    East and north of the loads must lie apart, each one stretch of memory, as `forces_together` gives them.
    """
    foot, turning, lift = east_and_north(loads.force_n), east_and_north(loads.moment_n_m), loads.up_n
    off = ~loads.applies
    if off.any():
        for one in (foot, turning, lift):
            np.copyto(one, 0.0, where=off)
    braces = task.layout.braces
    post, second, frame = reach.post, reach.second, reach.frame
    unit = frame.unit.T.reshape(2, *(1,) * (lift.ndim - 1), len(post))
    thrust = thrusts_n(frame, together(turning))
    held = np.zeros((*foot.shape[:-1], len(frame.braced)))
    place = np.full(foot.shape[-1], -1)
    place[frame.braced] = np.arange(len(frame.braced))
    first = frame.behind >= 0
    if first.any():
        onward = (thrust * (1.0 - frame.first_share))[..., first] * unit[..., first]
        _add(foot, second[first], onward)
        _add(turning, second[first], onward * frame.contact_m[first])
        _add(held, place[second[first]], -onward)
        thrust = thrusts_n(frame, together(turning))
    passed = _passed(task, members, reach, together(foot), thrust)
    push = thrust * unit
    _add(held, place[post], push)
    _add(foot, post, -np.where(braces.is_horizontal, passed, thrust) * unit)
    _add(turning, post, -push * frame.contact_m)
    tied = np.where(braces.is_horizontal, thrust - passed, thrust) * frame.slope
    _add(lift, post, tied)
    has_second = second >= 0
    if has_second.any():
        mine = has_second & ~first
        handed = passed[..., mine] * unit[..., mine]
        _add(foot, second[mine], handed)
        _add(turning, second[mine], handed * frame.contact_m[mine])
        _add(lift, second[has_second], -tied[..., has_second])
    brought = np.where(braces.is_horizontal, thrust - passed, 0.0)
    foot, turning = together(foot), together(turning)
    return Reactions(
        thrust,
        brought,
        together(held),
        foot,
        turning,
        size(foot),
        size(turning),
        np.maximum(lift, 0.0),
        np.maximum(-lift, 0.0),
    )


def together(apart: Floats) -> Floats:
    """East and north as the last axis: (..., posts, 2), a view."""
    return apart.transpose(*range(1, apart.ndim), 0)


def _add(sums: Floats, post: Ints, more: Floats) -> None:
    """Add rows of braces (..., braces) to those of their posts (..., posts), in place."""
    posts = sums.shape[-1]
    start = posts * np.arange(sums.size // max(posts, 1))
    np.add.at(sums.reshape(-1, copy=False), (start[:, None] + post).ravel(), more.ravel())


def passed_on_n(along_n: Floats, thrust_n: Floats, bending_n_m: Floats, contact_m: Floats) -> Floats:
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


def _passed(task: StrengthTask, members: Members, reach: Reach, force_n: Floats, thrust_n: Floats) -> Floats:
    """What each brace hands on, 0 for a diagonal: (..., braces). [N]"""
    braces, frame = task.layout.braces, reach.frame
    rows = np.flatnonzero(braces.is_horizontal & (braces.second_post >= 0))
    passed = np.zeros(thrust_n.shape)
    if len(rows):
        along = np.maximum((force_n[..., reach.post[rows], :] * frame.unit[rows]).sum(axis=-1), 0.0)
        bending = members.bending_n_m[braces.second_post[rows]]
        alone = passed_on_n(along, thrust_n[..., rows], bending, frame.contact_m[rows])
        onward = thrust_n[..., rows] * (1.0 - frame.first_share[rows])
        passed[..., rows] = np.where(frame.behind[rows] >= 0, onward, alone)
    return passed
