"""How the tension lies along each run, drawn from its first end, its last, or both."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.mechanics.belt_friction import BOTH_ENDS, FIRST_END, LAST_END, loosest_piece, share_in_pieces
from fencewright.tables.tension import TensionTask

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

WAYS = (FIRST_END, LAST_END, BOTH_ENDS)


@dataclass(frozen=True, slots=True, eq=False)
class Profile:
    """Sums over the spans of each run, its tension lying as `share` of the tensioner's; columns (runs,).

    `share` (spans,) [-]; `length_m` sum of L; `stretched_m` sum of L s; `cubes_m3` sum of L^3; `loose_cubes_m3` sum
    of L^3 / s^2; `deepest_m2` greatest L^2 / s; `least_share`, and `loosest_span` counted within the run;
    `first_share`, `last_share` at the two ends; `first_draws`, `last_draws` 1 where that end has a tensioner.
    """

    share: Floats
    length_m: Floats
    stretched_m: Floats
    cubes_m3: Floats
    loose_cubes_m3: Floats
    deepest_m2: Floats
    least_share: Floats
    loosest_span: Ints
    first_share: Floats
    last_share: Floats
    first_draws: Floats
    last_draws: Floats

    @property
    def even_share(self) -> Floats:
        """Share at which an even tension would let the run sag as much: (runs,). [-]"""
        return np.sqrt(self.cubes_m3 / self.loose_cubes_m3)


def profile(task: TensionTask, friction: float, drawn_from: Ints | int) -> Profile:
    """Lay the tension of each run by belt friction over its turning in space.

    Parameters
    ----------
    task : TensionTask
        Spans and turning.
    friction : float
        Rail on bracket, 0 or more. [-]
    drawn_from : int array (runs,) or int
        `FIRST_END`, `LAST_END`, `BOTH_ENDS` of `mechanics.belt_friction`.

    Returns
    -------
    Profile
        O(spans).

    References
    ----------
    capstan.
    """
    share = share_in_pieces(task.turning_3d_rad, task.bend_start, friction, drawn_from)
    first, span = task.span_start[:-1], task.span_m
    cube = span * span * span
    least, loosest = loosest_piece(share, task.bend_start)
    from_end = np.broadcast_to(np.asarray(drawn_from), (len(task),))

    def added(column: Floats) -> Floats:
        return np.asarray(np.add.reduceat(column, first)) if len(task) else np.zeros(0)

    return Profile(
        share=share,
        length_m=added(span),
        stretched_m=added(span * share),
        cubes_m3=added(cube),
        loose_cubes_m3=added(cube / (share * share)),
        deepest_m2=np.maximum.reduceat(span**2 / share, first) if len(task) else np.zeros(0),
        least_share=least,
        loosest_span=loosest - first,
        first_share=share[first],
        last_share=share[task.span_start[1:] - 1],
        first_draws=(from_end != LAST_END).astype(np.float64),
        last_draws=(from_end != FIRST_END).astype(np.float64),
    )


def share_at_posts(share: Floats, task: TensionTask) -> Floats:
    """Share of the tension beyond each post of each run, seen from the tensioner: (spans + runs,). [-]

    Notes
    -----
    The smaller of the two spans that meet there; at an end, its only span.
    """
    start = task.post_start
    before, after = np.full(start[-1], np.inf), np.full(start[-1], np.inf)
    is_last = np.zeros(start[-1], bool)
    is_last[start[1:] - 1] = True
    is_first = np.zeros(start[-1], bool)
    is_first[start[:-1]] = True
    after[~is_last] = share
    before[~is_first] = share
    return np.minimum(before, after)
