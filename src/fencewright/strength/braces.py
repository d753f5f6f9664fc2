"""Braces: how they stand at their posts, the thrust of each, and what brace, tie and footing carry."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.mechanics.brace_stiffness import (
    diagonal_flexibility_m_n,
    first_bay_share,
    rail_flexibility_m_n,
    tie_flexibility_m_n,
)
from fencewright.mechanics.resistance import timber_factor
from fencewright.mechanics.sections import round_area_m2
from fencewright.mechanics.timber import round_column_pa
from fencewright.strength.task import StrengthTask
from fencewright.tables.fence import Braces

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

# braces point the same way within about 25 degrees
SAME_WAY = 0.9
# two directions whose sine is below this are one straight line
_STRAIGHT = 1e-3
# which equilibrium is chosen, not a property: two braces that point apart hold what pushes across both only by pushing
# against each other; where the fence turns by less than twice this half angle, the soil takes an ever larger part of it
_SQUEEZED_FROM = float(np.sin(np.radians(5.0))) ** 2
# of two ways that leave as little, the one of less thrust
_THRUST_COUNTS = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class BraceFrame:
    """Geometry of the braces, (braces,), and which stand at each post.

    `unit` (braces, 2) from the post to the foot; `contact_m` above the post's grade; `drop_m` from the contact down
    to where the brace ends: the footing's concrete, or for a horizontal brace the ground; `reach_m`; `length_m`;
    `slot` (braced, slots) braces of each braced post, -1 none, of two diagonals one behind the other the nearer
    alone; `braced` (braced,) rows of the posts. Two bays, (braces,): `lead` row of the nearer of two diagonals, its
    own for any other; `share` that it takes of their thrust [-]; `behind` row of the horizontal brace that stands at
    its second upright and points the same way, -1 none; `first_share` of a horizontal brace's force that its own
    tie takes, 1 without a second bay [-].
    """

    unit: Floats
    contact_m: Floats
    drop_m: Floats
    reach_m: Floats
    length_m: Floats
    slot: Ints
    braced: Ints
    lead: Ints
    share: Floats
    behind: Ints
    first_share: Floats

    @property
    def slope(self) -> Floats:
        """Fall over reach: uplift of the post for a level thrust of one. [-]"""
        return self.drop_m / self.reach_m


def brace_frame(task: StrengthTask) -> BraceFrame:
    """Geometry of the braces.

    Notes
    -----
    A diagonal ends on its footing's concrete, below grade: the strut's line, and so the uplift, is that steep. Two
    diagonals share their thrust, and two bays of horizontal braces theirs, as their stiffness has it on unyielding
    feet.

    References
    ----------
    statics.
    """
    braces, posts, settings = task.layout.braces, task.layout.posts, task.settings
    post = braces.post_index
    way = np.column_stack([braces.x_m - posts.x_m[post], braces.y_m - posts.y_m[post]])
    reach = np.maximum(np.hypot(way[:, 0], way[:, 1]), 1e-9)
    unit = way / reach[:, None]
    lead, behind = _second_bays(braces, unit, reach)
    tie = tie_flexibility_m_n(braces.contact_m, reach, settings.strength.tie_stiffness_n)
    first = first_bay_share(tie, rail_flexibility_m_n(reach, _axial_n(task)))
    leads = np.flatnonzero(lead == np.arange(len(lead)))
    order = leads[np.argsort(post[leads], kind="stable")]
    braced, start, number = np.unique(post[order], return_index=True, return_counts=True)
    slot = np.full((len(braced), int(number.max(initial=1))), -1)
    place = np.arange(len(order)) - np.repeat(start, number)
    slot[np.repeat(np.arange(len(braced)), number), place] = order
    none = np.zeros(len(lead))
    flat = BraceFrame(
        unit, braces.contact_m, none, reach, none, slot, braced, lead, none, behind,
        np.where(behind >= 0, first, 1.0),
    )  # fmt: skip
    return frame_at_depth(task, flat)


def frame_at_depth(task: StrengthTask, frame: BraceFrame) -> BraceFrame:
    """Give the frame of the same braces on footings of the task's depth: their ends and shares, in plan nothing."""
    braces, posts = task.layout.braces, task.layout.posts
    rise = braces.contact_m + posts.ground_m[braces.post_index] - braces.ground_m
    drop = np.where(
        braces.is_horizontal, braces.contact_m, rise + footing_top_m(task, task.brace_holes.depth_m)
    )
    length = np.where(braces.is_horizontal, frame.reach_m, np.hypot(frame.reach_m, drop))
    stiff = 1.0 / diagonal_flexibility_m_n(drop, frame.reach_m, np.inf, _axial_n(task))
    share = stiff
    if len(stiff):
        share = stiff / np.bincount(frame.lead, stiff, len(stiff))[frame.lead]
    return replace(frame, drop_m=drop, length_m=length, share=share)


def _axial_n(task: StrengthTask) -> Floats:
    """E A of a brace. [N]"""
    return round_area_m2(task.settings.brace.diameter_m) * task.settings.strength.timber.modulus_pa


def _second_bays(braces: Braces, unit: Floats, reach_m: Floats) -> tuple[Ints, Ints]:
    """For each brace the nearer of two diagonals, and the horizontal brace behind it: (braces,) both."""
    count = len(braces)
    lead, behind = np.arange(count), np.full(count, -1)
    if not count:
        return lead, behind
    order = np.lexsort((reach_m, braces.post_index))
    most = int(np.bincount(braces.post_index).max())
    for step in range(1, most):
        near, far = order[:-step], order[step:]
        alike = (braces.post_index[near] == braces.post_index[far]) & ~braces.is_horizontal[far]
        alike &= (unit[near] * unit[far]).sum(axis=1) > SAME_WAY
        lead[far[alike]] = lead[near[alike]]
    for step in range(most):
        # the brace that stands `step` places on at the second upright of each
        start = np.searchsorted(braces.post_index[order], braces.second_post)
        row = order[np.minimum(start + step, count - 1)]
        alike = (braces.second_post >= 0) & (braces.post_index[row] == braces.second_post)
        alike &= braces.is_horizontal[row] & ((unit * unit[row]).sum(axis=1) > SAME_WAY)
        behind = np.where(alike, row, behind)
    return lead, behind


def footing_top_m(task: StrengthTask, depth_m: Floats) -> Floats:
    """Depth at which the concrete of a brace footing of some depth ends. [m]"""
    holes = task.settings.holes
    height = np.minimum(np.maximum(depth_m - holes.brace_top_m, holes.brace_concrete_m), depth_m)
    return np.asarray(depth_m - height)


def thrusts_n(frame: BraceFrame, moment_n_m: Floats) -> Floats:
    """Level thrust of each brace that balances the moments of its post about grade.

    Parameters
    ----------
    frame : BraceFrame
        Braces at posts.
    moment_n_m : float array (..., posts, 2)
        Moment of the loads about grade, in the direction of the load; leading axes are cases. [N m]

    Returns
    -------
    float array (..., braces)
        0 or more: a brace can only push. [N]

    Notes
    -----
    The post turns about grade (pivot depth 0): thrusts t along u at the contact h with sum t u = M / h as nearly as
    pushing braces can; what is left is for the soil round the post. In a plane at most two of them act: every pair
    and every single one is tried, and the one that leaves least is taken, of several the one of least thrust.

    Two braces that nearly oppose each other could hold any small load across them, at thrusts without end: for
    half angles a < 5 degrees they hold the part sin2(a) / sin2(5 degrees) of it, the soil the rest. Every part is
    checked at what it then gets, so that this is safe as any equilibrium is (lower bound).
    """
    if not len(frame.braced):
        return np.zeros((*moment_n_m.shape[:-2], len(frame.reach_m)))
    taken, own = frame.slot >= 0, np.maximum(frame.slot, 0)
    axes = range(moment_n_m.ndim)
    wanted = moment_n_m.transpose(axes[-1], *axes[:-1])[..., frame.braced] / frame.contact_m[own[:, 0]]
    # by slot, east and north apart: (2, ..., braced)
    unit = np.where(taken, frame.unit[own].transpose(2, 0, 1), 0.0)
    units = [unit[..., slot].reshape(2, *(1,) * (wanted.ndim - 2), -1) for slot in range(taken.shape[1])]
    left = np.hypot(*wanted)
    best = np.zeros((len(units), *left.shape))
    for tried in _tries(units, wanted):
        held = [thrust * units[slot] for slot, thrust in tried.items()]
        over = np.hypot(*(wanted - (held[0] if len(held) == 1 else held[0] + held[1])))
        over += _THRUST_COUNTS * sum(tried.values())
        better = over < left * (1 - 1e-9) - 1e-9
        for slot in range(len(best)):
            best[slot] = np.where(better, tried.get(slot, 0.0), best[slot])
        left = np.where(better, over, left)
    thrust = np.zeros((*left.shape[:-1], len(frame.reach_m)))
    for slot, mine in enumerate(taken.T):
        thrust[..., frame.slot[mine, slot]] = best[slot][..., mine]
    return np.asarray(thrust[..., frame.lead] * frame.share)


def _tries(units: Sequence[Floats], wanted: Floats) -> Iterator[dict[int, Floats]]:
    """Thrusts by slot with each single brace and each pair acting, what would pull left out.

    Parameters
    ----------
    units : sequence of float array (2, ..., braced)
        Of each slot, 0 where a post has no brace there. [-]
    wanted : float array (2, ..., braced)
        Thrust that would balance the moment. [N]
    """
    east, north = wanted
    for slot, unit in enumerate(units):
        yield {slot: np.maximum(unit[0] * east + unit[1] * north, 0.0)}
    for (one, a), (two, b) in combinations(enumerate(units), 2):
        crossing = a[0] * b[1] - a[1] * b[0]
        can = np.abs(crossing) > _STRAIGHT
        safe = np.where(can, crossing, 1.0)
        first = (east * b[1] - north * b[0]) / safe
        second = (a[0] * north - a[1] * east) / safe
        # of the half angle between one and the other's straight continuation
        square = 0.5 * (1.0 + a[0] * b[0] + a[1] * b[1])
        lost = 0.5 * (first + second) * (1.0 - np.minimum(square / _SQUEEZED_FROM, 1.0))
        first, second = first - lost, second - lost
        good = can & (first >= 0) & (second >= 0)
        yield {one: np.where(good, first, 0.0), two: np.where(good, second, 0.0)}


def brace_capacities_n(
    task: StrengthTask, frame: BraceFrame, cases: Sequence[LoadCase]
) -> dict[tuple[float | None, float], Floats]:
    """Compression along each brace that it may carry, pinned at both ends, by duration and time effect. [N]"""
    found: dict[tuple[float | None, float], Floats] = {}
    for case in cases:
        key = (case.duration, case.time_effect)
        if key not in found:
            found[key] = _capacity_n(task, frame, case)
    return found


def _capacity_n(task: StrengthTask, frame: BraceFrame, case: LoadCase) -> Floats:
    """Compression along each brace that it may carry in a case. [N]"""
    strength, diameter = task.settings.strength, task.settings.brace.diameter_m
    timber = strength.timber
    wet = timber.wet_factor if strength.is_wet else 1.0
    if strength.method == "asd":
        duration = strength.cold_duration if case.duration is None else case.duration
        stiff = 1.0
    else:
        duration = timber_factor("compression", case.time_effect)
        stiff = timber_factor("least modulus", case.time_effect)
    allowed = round_column_pa(
        diameter, frame.length_m, timber.compression_pa * wet * duration, timber.least_modulus_pa * stiff
    )
    return np.asarray(allowed * round_area_m2(diameter))
