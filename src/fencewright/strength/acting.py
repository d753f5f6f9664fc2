"""Load cases a few at a time: what acts and what holds, with the cases along the first axis of every column."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.strength.braces import BraceFrame
from fencewright.strength.load_cases import Factors
from fencewright.strength.post_loads import PostForces, Surroundings, forces_of
from fencewright.strength.posts import Reactions
from fencewright.strength.reactions import reactions_of
from fencewright.strength.task import Members, StrengthTask

Ints = NDArray[np.int64]

# posts times cases held at once: a short fence pays for each array once, a long one keeps within the cache
_AT_ONCE = 16_384


@dataclass(frozen=True, slots=True, eq=False)
class Acting:
    """Some cases: their `row` among all, and `loads` and `reactions` whose columns are (cases, ...)."""

    row: Ints
    cases: tuple[LoadCase, ...]
    loads: PostForces
    reactions: Reactions


def acting(
    task: StrengthTask,
    around: Surroundings,
    members: Members,
    frame: BraceFrame,
    cases: Sequence[LoadCase],
    factors: Callable[[LoadCase], Factors],
) -> Iterator[Acting]:
    """Work out every case, as many at a time as fit.

    Parameters
    ----------
    task, around, members, frame
        The fence and its columns.
    cases : sequence of LoadCase
        In the order of their rows.
    factors : callable
        Factors of a case: for the soil, or for timber and steel.

    Yields
    ------
    Acting
        Linear in posts times cases.
    """
    size = max(1, _AT_ONCE // max(len(task.layout.posts), 1))
    for start in range(0, len(cases), size):
        some = tuple(cases[start : start + size])
        each = [forces_of(task, around, case, factors(case)) for case in some]
        loads = PostForces(
            np.stack([one.force_n for one in each]),
            np.stack([one.moment_n_m for one in each]),
            np.stack([one.up_n for one in each]),
            np.stack([one.applies for one in each]),
        )
        row = np.arange(start, start + len(some))
        yield Acting(row, some, loads, reactions_of(task, members, frame, loads))
