"""Division of a run by search over stations: for long runs, and where turning over the ground binds."""

from __future__ import annotations

import itertools
from bisect import bisect_left, bisect_right
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from fencewright.layout.even_chain import Windows
from fencewright.layout.kept_out import Stretch, stands_inside
from fencewright.layout.pull_rules import PullRules
from fencewright.layout.taut_string import taut_string

Floats = NDArray[np.float64]

_GRID = 97
_MOVES = np.array([-6.0, -3.0, -2.0, -1.0, -0.5, 0.0, 0.5, 1.0, 2.0, 3.0, 6.0])
_FINEST = 1e-8
_MOST_ROUNDS = 150
_MOST_MOVES = 30_000


def most_even_by_search(
    windows: Windows, places_m: Sequence[float], rules: PullRules, stretches_m: Sequence[Stretch]
) -> list[float]:
    """Stations of the most even division found over a grid, then drawn taut.

    Parameters
    ----------
    windows : Windows
        Where each division can stand.
    places_m : sequence of float
        Vertices and edges of stretches, rising. [m]
    rules : PullRules
        What a pull may be.
    stretches_m : sequence of pairs
        Joined open stretches where no strain post may stand. [m]

    Returns
    -------
    list of float (pulls - 1,)
        Rising. [m]

    Notes
    -----
    A shortest path over 97 stations a window settles between which places each division stands; so
    much is exact to a hundredth of a window. There the sum of squares is convex: the string drawn
    taut is its optimum where every pull of it is permitted. Else (turning over the ground binds, so
    that pulls have unequal limits) ever finer moves of all divisions at once come near it: to 1e-8 of
    the widest window in runs of up to some hundred pulls, coarser in longer ones. O(pulls), about
    0.3 ms each; moves add a few seconds at most.
    """
    grid = [
        _tried(number, np.linspace(windows.nearest_m[number], windows.farthest_m[number], _GRID), windows)
        for number in range(1, windows.spans)
    ]
    grid = [_permitted_places(np.union1d(g, _within(g, places_m)), rules, stretches_m) for g in grid]
    ends_m = windows.farthest_m[0], windows.farthest_m[-1]
    best_m, squares = _shortest_path(ends_m, grid, rules)
    low_m, high_m = _settled_bounds([ends_m[0], *best_m, ends_m[1]], places_m, rules, stretches_m)
    taut_m = taut_string(low_m, high_m)
    if all(rules.permits(a, b) for a, b in itertools.pairwise(taut_m)):
        return taut_m[1:-1]
    return _moved(best_m, squares, windows, rules, stretches_m)


def _tried(number: int, stations_m: Floats, windows: Windows) -> Floats:
    """Stations brought into a division's window, both ends of it added."""
    low_m, high_m = windows.nearest_m[number], windows.farthest_m[number]
    return np.unique(np.concatenate([np.clip(stations_m, low_m, high_m), [low_m, high_m]]))


def _within(grid_m: Floats, places_m: Sequence[float]) -> list[float]:
    """Those of the places that lie within a grid."""
    return list(places_m[bisect_left(places_m, grid_m[0]) : bisect_right(places_m, grid_m[-1])])


def _permitted_places(grid_m: Floats, rules: PullRules, stretches_m: Sequence[Stretch]) -> Floats:
    """Stations of a grid where a strain post may stand."""
    if not stretches_m:
        return grid_m
    return np.array([s for s in grid_m.tolist() if not stands_inside(s, stretches_m, rules.tolerance_m)])


def _settled_bounds(
    chain_m: Sequence[float], places_m: Sequence[float], rules: PullRules, stretches_m: Sequence[Stretch]
) -> tuple[list[float], list[float]]:
    """Bounds in which each division may move with no pull turning too much at its vertices."""
    edges_m = [chain_m[0], *places_m, chain_m[-1]]
    low_m, high_m = list(chain_m), list(chain_m)
    on_place = []
    for k in range(1, len(chain_m) - 1):
        at = bisect_right(edges_m, chain_m[k] + rules.tolerance_m)
        if chain_m[k] - edges_m[at - 1] <= rules.tolerance_m:
            on_place.append((k, at - 1))
        else:
            low_m[k], high_m[k] = edges_m[at - 1], edges_m[at]
    for k, at in on_place:
        below_m, above_m = edges_m[at - 1], edges_m[min(at + 1, len(edges_m) - 1)]
        if _is_open(below_m, chain_m[k], stretches_m) and rules.vertices_permit(below_m, high_m[k + 1]):
            low_m[k] = below_m
        if _is_open(chain_m[k], above_m, stretches_m) and rules.vertices_permit(low_m[k - 1], above_m):
            high_m[k] = above_m
    return low_m, high_m


def _is_open(from_m: float, to_m: float, stretches_m: Sequence[Stretch]) -> bool:
    """Whether strain posts may stand between two neighbouring places."""
    return not stands_inside(0.5 * (from_m + to_m), stretches_m, 0.0)


def _moved(
    best_m: list[float],
    squares: float,
    windows: Windows,
    rules: PullRules,
    stretches_m: Sequence[Stretch],
) -> list[float]:
    """Division after ever finer moves: equal steps, so that a pull at its limit can shift as a whole."""
    ends_m = windows.farthest_m[0], windows.farthest_m[-1]
    widest_m = max(far - near for far, near in zip(windows.farthest_m, windows.nearest_m, strict=True))
    step_m = widest_m / (_GRID - 1)
    for _ in range(min(_MOST_ROUNDS, _MOST_MOVES // len(best_m) + 4)):
        if step_m <= _FINEST * widest_m:
            break
        near = [
            _permitted_places(_tried(n, station + step_m * _MOVES, windows), rules, stretches_m)
            for n, station in enumerate(best_m, start=1)
        ]
        moved_m, moved_squares = _shortest_path(ends_m, near, rules)
        if moved_squares >= squares * (1.0 - 1e-12):
            step_m /= 6.0
        else:
            best_m, squares = moved_m, moved_squares
    return best_m


def _shortest_path(
    ends_m: tuple[float, float], places: Sequence[Floats], rules: PullRules
) -> tuple[list[float], float]:
    """Least sum of squared pulls through one place of each list: its stations and the sum."""
    layers = [np.array([ends_m[0]]), *places, np.array([ends_m[1]])]
    cost = np.zeros(1)
    came_from = []
    for before, here in itertools.pairwise(layers):
        pull_m = here[None, :] - before[:, None]
        total = np.where(rules.permitted_pairs(before, here), cost[:, None] + pull_m * pull_m, np.inf)
        row = np.argmin(total, axis=0)
        came_from.append(row)
        cost = total[row, np.arange(here.size)]
    stations_m = []
    at = 0
    for layer, row in zip(layers[-2:0:-1], came_from[:0:-1], strict=True):
        at = int(row[at])
        stations_m.append(float(layer[at]))
    return stations_m[::-1], float(cost[0])
