"""Load cases a few at a time: what acts and what holds, with the cases along the first axis of every column."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.strength.fence import Fence
from fencewright.strength.load_cases import Factors, is_local
from fencewright.strength.post_loads import PostForces, forces_together
from fencewright.strength.posts import Reactions
from fencewright.strength.reach import Reach, everywhere, near
from fencewright.strength.reactions import reactions_in_place

Ints = NDArray[np.int64]

_AT_ONCE = 131_072  # posts times cases held at once: more would be slower for their memory
_SHORT = 1000  # posts of a fence whose cases of a few posts cost less with the others than by themselves


@dataclass(frozen=True, slots=True, eq=False)
class Acting:
    """Some cases: their `row` among all, the posts that they `reach`, and columns (cases, ...).

    `reactions` are those of the posts reached, `braced_loads` the loads of the braced ones among them.
    """

    row: Ints
    cases: tuple[LoadCase, ...]
    reach: Reach
    braced_loads: PostForces
    reactions: Reactions


def acting(
    fence: Fence, cases: Sequence[LoadCase], factors: Callable[[LoadCase], Factors]
) -> Iterator[Acting]:
    """Work out every case, as many at a time as fit.

    Parameters
    ----------
    fence : Fence
        The fence and its columns.
    cases : sequence of LoadCase
        In the order of their rows.
    factors : callable
        Factors of a case: for the soil, or for timber and steel.

    Yields
    ------
    Acting
        Linear in posts times cases. On a long fence those that only reach gates or ends come last, at those posts
        alone: nothing acts elsewhere.
    """
    posts, braces = len(fence.task.layout.posts), fence.task.layout.braces
    rows, whole = np.arange(len(cases)), everywhere(braces, fence.frame, posts)
    if posts <= _SHORT:
        batches = [(rows, whole)]
    else:
        local = np.array([is_local(case) for case in cases])
        batches = [(rows[~local], whole)]
        if local.any():
            applies = [fence.around.applies[case.side, case.extra] for case in cases if is_local(case)]
            batches.append((rows[local], near(braces, fence.frame, np.logical_or.reduce(applies))))
    for own, reach in batches:
        size = max(1, _AT_ONCE // max(reach.count, 1))
        # wind and animals, which stand last, ask line posts for most: after them little is left to deepen
        for start in reversed(range(0, len(own), size)):
            row = own[start : start + size]
            some = tuple(cases[one] for one in row.tolist())
            yield acted(fence, some, [factors(case) for case in some], reach, row)


def acted(
    fence: Fence, cases: tuple[LoadCase, ...], factors: Sequence[Factors], reach: Reach, row: Ints
) -> Acting:
    """Work out some cases at the posts that they reach."""
    loads = forces_together(fence.around, cases, factors, reach)
    braced = loads.of(reach.frame.braced)
    return Acting(row, cases, reach, braced, reactions_in_place(fence.task, fence.members, reach, loads))
