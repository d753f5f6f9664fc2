"""Bending and shear of the posts: cantilevers in soil, and uprights held by their braces."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.mechanics.rigid_post import greatest_moment_n_m
from fencewright.strength.braces import BraceFrame
from fencewright.strength.meetings import Rails
from fencewright.strength.post_loads import PostForces
from fencewright.strength.task import StrengthTask

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Reactions:
    """What holds the posts in one case, or in several along a leading axis of every column.

    `thrust_n` (braces,) level, of each brace, `tied_n` the part of it that the tie of a horizontal one brings back [N];
    `held_n` (braced, 2) what braces hold of each braced post at their contact, less what they hand on to it there [N];
    `foot_n`, `foot_moment_n_m` (posts, 2) what is left for the soil at grade, `kick_n` and
    `turn_n_m` (posts,) their sizes [N], [N m]; `uplift_n` (posts,)
    lift that the hole holds, 0 or more [N]; `down_n` (posts,) what presses on its foot, 0 or more [N].
    """

    thrust_n: Floats
    tied_n: Floats
    held_n: Floats
    foot_n: Floats
    foot_moment_n_m: Floats
    kick_n: Floats
    turn_n_m: Floats
    uplift_n: Floats
    down_n: Floats

    def of(self, case: int) -> "Reactions":
        """Give those of one of several cases."""
        return Reactions(*(getattr(self, name)[case] for name in self.__slots__))


def size(vector: Floats) -> Floats:
    """Length of plan vectors (..., rows, 2): (..., rows)."""
    return np.sqrt(vector[..., 0] ** 2 + vector[..., 1] ** 2)


def free_bending_n_m(task: StrengthTask, reactions: Reactions, depth_m: Floats, is_concrete: Flags) -> Floats:
    """Greatest bending moment of every post that the reactions are of as its soil holds it.

    Notes
    -----
    In soil it grows below grade; a concreted post is held where its concrete begins.
    """
    force, moment = reactions.kick_n, reactions.turn_n_m
    grown = greatest_moment_n_m(force, moment, depth_m)
    return np.where(is_concrete, moment + force * task.settings.holes.recess_m, grown)


@dataclass(frozen=True, slots=True, eq=False)
class BracedRails:
    """Meetings of rails with braced posts, (meetings,), as `Rails`: `at` row of the braced posts, of which `count`."""

    at: Ints
    run: Ints
    unit: Floats
    is_ending: Flags
    is_starting: Flags
    count: int


def braced_rails(rails: Rails, braced: Ints, posts: int) -> BracedRails:
    """Pick the meetings at braced posts: rows `braced` of the posts."""
    place = np.full(posts, -1)
    place[braced] = np.arange(len(braced))
    at = place[rails.post]
    rows = np.flatnonzero(at >= 0)
    return BracedRails(
        at[rows], rails.run[rows], rails.unit[rows, :2], rails.is_ending[rows], rails.is_starting[rows],
        len(braced),
    )  # fmt: skip


def rails_at_braced_n(rails: BracedRails, tension_n: Floats, side: str) -> Floats:
    """Pull of each rail on each braced post, before factors, east and north: (2, strands, braced). [N]

    Parameters
    ----------
    rails : BracedRails
        Their meetings.
    tension_n : float array (runs, strands)
        Of one rail. [N]
    side : str
        `all`, or only the runs that are `ending` or `starting` there.
    """
    at, run, unit = rails.at, rails.run, rails.unit
    if side != "all":
        mine = rails.is_ending if side == "ending" else rails.is_starting
        at, run, unit = at[mine], run[mine], unit[mine]
    tension = tension_n[run]
    strands = tension.shape[1]
    own = (np.arange(strands)[:, None] * rails.count + at).ravel()
    sums = np.empty((2, strands * rails.count))
    for axis in range(2):
        each = (tension * unit[:, axis, None]).T.ravel()
        sums[axis] = np.bincount(own, each, strands * rails.count)
    return sums.reshape(2, strands, rails.count)


def braced_bending_n_m(
    task: StrengthTask,
    frame: BraceFrame,
    height_m: Floats,
    pulls_n: Floats,
    loads: PostForces,
    reactions: Reactions,
) -> tuple[Floats, Floats]:
    """Greatest bending moment and shear of the braced posts above grade.

    Parameters
    ----------
    task : StrengthTask
        The fence.
    frame : BraceFrame
        Braces at the posts.
    height_m : float array (braced,)
        Of the braced posts. [m]
    pulls_n : float array (2, ..., strands, braced)
        Of `rails_at_braced_n`, with the factor of the pull; the axes between are cases, as in the loads. [N]
    loads, reactions
        Of the same cases, the loads of the braced posts alone.

    Returns
    -------
    moment_n_m, shear_n : float arrays (..., braced)
        [N m], [N]

    Notes
    -----
    Between grade and the top: rails at their heights, the braces' thrust at the contact; what is not rail (wind,
    leaf) is added with its moment falling evenly from grade to the top.
    """
    top = height_m
    heights = top - task.strands.drop_m[:, None]
    contact = frame.contact_m[np.where(frame.slot[:, 0] >= 0, frame.slot[:, 0], 0)]
    thrust, force, moment = map(east_and_north, (reactions.held_n, loads.force_n, loads.moment_n_m))
    rest = moment - (pulls_n * heights).sum(axis=-2)
    shear = _size(thrust - force)
    # from here on with an axis of levels before the posts: (2, ..., levels, braced)
    level = np.stack([*heights, contact, np.zeros(len(top))])
    thrust, rest = thrust[..., None, :], rest[..., None, :]
    bend, above = np.zeros((2, 2, *shear.shape[:-1], *level.shape))
    for strand, height in enumerate(heights):
        pull = pulls_n[..., strand, None, :]
        bend += pull * np.maximum(height - level, 0.0)
        above += pull * (height > level - 1e-9)
    bend -= np.maximum(contact - level, 0.0) * thrust
    bend += rest * (1 - level / top)
    above -= (level < contact - 1e-9) * thrust
    return _size(bend).max(axis=-2), np.maximum(shear, _size(above).max(axis=-2))


def east_and_north(vector: Floats) -> Floats:
    """Plan vectors (..., rows, 2) with their two axes first: (2, ..., rows), a view."""
    axes = range(vector.ndim)
    return vector.transpose(axes[-1], *axes[:-1])


def _size(apart: Floats) -> Floats:
    """Length of plan vectors (2, ...)."""
    return np.asarray(np.sqrt(apart[0] ** 2 + apart[1] ** 2))
