"""How the tension lies along each run, drawn from its first end, its last, or both."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.mechanics.belt_friction import (
    BOTH_ENDS,
    FIRST_END,
    LAST_END,
    loosest_piece,
    share_in_pieces,
    stretch_with_friction_m,
)
from fencewright.tables.tension import TensionTask

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

WAYS = (FIRST_END, LAST_END, BOTH_ENDS)


@dataclass(frozen=True, slots=True, eq=False)
class Profile:
    """Sums over the spans of each run, its tension lying as `share` of the tensioner's; columns (runs,) or (ways, runs).

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

    def of_way(self, way: Ints, run_of_span: Ints) -> "Profile":
        """Give that of one way of each run (runs,), from columns (ways, runs); `run_of_span` (spans,)."""
        run = np.arange(len(way))
        columns = {name: getattr(self, name)[way, run] for name in self.__slots__ if name != "share"}
        return Profile(share=self.share[way[run_of_span], np.arange(len(run_of_span))], **columns)


def profile(task: TensionTask, friction: float, drawn_from: Ints | int) -> Profile:
    """Lay the tension of each run by belt friction over its turning in space.

    Parameters
    ----------
    task : TensionTask
        Spans and turning.
    friction : float
        Rail on bracket, 0 or more. [-]
    drawn_from : int array (runs,) or (ways, runs), or int
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
    first, span, runs = task.span_start[:-1], task.span_m, len(task)
    cube = span * span * span
    least, loosest = loosest_piece(share, task.bend_start)
    shape = least.shape
    from_end = np.broadcast_to(np.asarray(drawn_from), shape)

    def folded(fold: np.ufunc, column: Floats) -> Floats:
        """Fold a column over the spans of each run."""
        of_runs = fold.reduceat(column, first, axis=-1) if runs else np.zeros((*column.shape[:-1], 0))
        return np.broadcast_to(of_runs, shape)

    return Profile(
        share=share,
        length_m=folded(np.add, span),
        stretched_m=stretch_with_friction_m(share, span, 1.0, task.bend_start),
        cubes_m3=folded(np.add, cube),
        loose_cubes_m3=folded(np.add, cube / (share * share)),
        deepest_m2=folded(np.maximum, span**2 / share),
        least_share=least,
        loosest_span=loosest - first,
        first_share=share[..., first],
        last_share=share[..., task.span_start[1:] - 1],
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
