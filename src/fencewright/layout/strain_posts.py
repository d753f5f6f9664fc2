"""Strain posts: a run too long for one pull, or with too much turning, divided into pulls."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.layout.even_chain import Windows, agreed_windows, most_even_chain, numbered_contacts
from fencewright.layout.kept_out import (
    RELATIVE_TOLERANCE,
    Stretch,
    by_width,
    joined_stretches,
    split_at,
    stands_inside,
    stretch_edges,
)
from fencewright.layout.pull_rules import PullRules
from fencewright.layout.strain_search import most_even_by_search

Floats = NDArray[np.float64]

_MOST_CONTACTS = 120
"""Runs with more contacts are divided by search, so that cost stays linear. [-]"""


@dataclass(frozen=True)
class Division:
    """Where a run is divided into pulls.

    Parameters
    ----------
    station_m : float array (strains,)
        Along the run, rising, ends of the run left out. [m]
    is_feasible : bool
        False where a forbidden stretch is too wide for any pull; the division given then has a strain
        post at each edge of it and keeps the limits everywhere else.
    blocked_from_m, blocked_to_m : float
        Widest such stretch, NaN where feasible. [m]
    """

    station_m: Floats
    is_feasible: bool
    blocked_from_m: float
    blocked_to_m: float


def divide_run(
    length_m: float,
    turning_station_m: ArrayLike,
    turning_rad: ArrayLike,
    length_limit_m: float,
    turning_limit_rad: float,
    forbidden_m: ArrayLike = (),
    ground_turning_rad_per_m: float = 0.0,
) -> Division:
    """Stations of the strain posts of a run: fewest pulls, then the most even.

    Parameters
    ----------
    length_m : float
        Length of the run, 0 or more. [m]
    turning_station_m : float array (vertices,)
        Corners and bends of the run, rising. [m]
    turning_rad : float array (vertices,)
        Turning at each; its sign does not matter. [rad]
    length_limit_m : float
        Longest pull, above 0; inf for no limit. [m]
    turning_limit_rad : float
        Most turning within a pull, above 0; inf for no limit. [rad]
    forbidden_m : float array (stretches, 2)
        Open stretches where no strain post may stand, from and to, in any order. At a vertex a post
        stands anyway, so a run may be divided there even inside a stretch. Default: none. [m]
    ground_turning_rad_per_m : float
        Allowance for the turning over uneven ground, 0 or more. Default 0. [rad/m]

    Returns
    -------
    Division
        No strain posts where one pull will do. A vertex at which the run is divided turns in neither
        pull, so no single vertex can make a run infeasible.

    Raises
    ------
    ValueError
        Where a number is out of its range.

    Notes
    -----
    Pulls nest (a part of a permitted pull is permitted), so reaching as far as possible each time
    gives the fewest. Equal division is taken where permitted. Else the shortest path over contacts
    of `even_chain`, exact while the ground's allowance does not bind. Where it binds, pulls at their
    turning limit have unequal limits, and a run with hundreds of contacts would take too long:
    both go to a search over stations (`strain_search`), exact in the number of pulls and within
    about 1e-4 of the sum of squares.

    References
    ----------
    common practice, no source: fewest pulls, then the most even.
    """
    vertices_m, turns_rad = _inner_vertices(length_m, turning_station_m, turning_rad)
    limits = (length_limit_m, turning_limit_rad, ground_turning_rad_per_m)
    _check_limits(length_m, *limits)
    tolerance_m = RELATIVE_TOLERANCE * min(length_limit_m, max(length_m, 1e-3))
    rules = PullRules(*limits, tolerance_m, vertices_m, _summed(turns_rad))
    pairs = [
        (low, high) for low, high in np.reshape(np.asarray(forbidden_m, dtype=np.float64), (-1, 2)).tolist()
    ]
    joined = joined_stretches(pairs, 0.0, length_m, tolerance_m)
    crossable, blocking = by_width(split_at(joined, vertices_m, tolerance_m), rules.straight_limit_m)
    stations_m: list[float] = []
    from_m = 0.0
    for low_m, high_m in [*blocking, (length_m, length_m)]:
        within = [stretch for stretch in crossable if from_m <= stretch[0] and stretch[1] <= low_m]
        stations_m += _divide_part(from_m, low_m, rules, within)
        last_m = stations_m[-1] if stations_m else 0.0
        stations_m += [e for e in (low_m, high_m) if last_m + tolerance_m < e < length_m - tolerance_m]
        from_m = high_m
    widest = max(blocking, key=lambda stretch: stretch[1] - stretch[0], default=(math.nan, math.nan))
    return Division(np.array(stations_m, dtype=np.float64), not blocking, *widest)


def _check_limits(length_m: float, length_limit_m: float, turning_limit_rad: float, ground: float) -> None:
    """Refuse limits that no run can keep."""
    if not 0.0 <= length_m < math.inf:
        raise ValueError("the run needs a finite length of 0 or more")
    if not (length_limit_m > 0.0 and turning_limit_rad > 0.0):
        raise ValueError("the limits on a pull's length and turning must be above 0")
    if not 0.0 <= ground < math.inf:
        raise ValueError("the ground's turning must be a finite number, 0 or more")


def _inner_vertices(
    length_m: float, station_m: ArrayLike, turning_rad: ArrayLike
) -> tuple[list[float], list[float]]:
    """Vertices within the run and their turning without sign."""
    stations: list[float] = np.atleast_1d(np.asarray(station_m, dtype=np.float64)).tolist()
    turns: list[float] = np.atleast_1d(np.asarray(turning_rad, dtype=np.float64)).tolist()
    if len(stations) != len(turns):
        raise ValueError("every vertex of a run needs one station and one turning")
    if not (all(map(math.isfinite, stations)) and all(map(math.isfinite, turns))):
        raise ValueError("stations and turning of a run's vertices must be finite numbers")
    if any(later < earlier for earlier, later in itertools.pairwise(stations)):
        raise ValueError("stations of a run's vertices must rise")
    inside = [k for k, station in enumerate(stations) if 0.0 < station < length_m]
    return [stations[k] for k in inside], [abs(turns[k]) for k in inside]


def _summed(turns_rad: Sequence[float]) -> list[float]:
    """Sum the turning before each vertex, and of all."""
    summed = [0.0]
    for turning in turns_rad:
        summed.append(summed[-1] + turning)
    return summed


def _divide_part(start_m: float, end_m: float, rules: PullRules, stretches_m: list[Stretch]) -> list[float]:
    """Strain posts between two posts, no stretch too wide for a pull."""
    if rules.permits(start_m, end_m):
        return []
    narrowed = [(from_m + rules.tolerance_m, to_m - rules.tolerance_m) for from_m, to_m in stretches_m]
    mirrored = [(-to_m, -from_m) for from_m, to_m in reversed(narrowed)]
    back = rules.mirrored()

    def chains(factor: float) -> tuple[list[float], list[float]]:
        backward_m = _farthest_chain(-end_m, -start_m, back.eased(factor), mirrored)
        return _farthest_chain(start_m, end_m, rules.eased(factor), narrowed), [-s for s in backward_m]

    windows = agreed_windows(chains)
    even_m = _even(start_m, end_m, windows.spans, rules, stretches_m)
    return _most_even(windows, rules, stretches_m) if even_m is None else even_m


def _farthest_chain(
    start_m: float, end_m: float, rules: PullRules, stretches_m: Sequence[Stretch]
) -> list[float]:
    """Divisions each as far on as may be, both ends included: as few as there can be."""
    chain_m = [start_m]
    ahead = 0
    while (station_m := rules.farthest_m(chain_m[-1])) < end_m:
        while ahead < len(stretches_m) and stretches_m[ahead][1] <= station_m:
            ahead += 1
        if ahead < len(stretches_m) and stretches_m[ahead][0] < station_m:
            station_m = stretches_m[ahead][0]
        chain_m.append(station_m)
    chain_m.append(end_m)
    return chain_m


def _even(
    start_m: float, end_m: float, pulls: int, rules: PullRules, stretches_m: Sequence[Stretch]
) -> list[float] | None:
    """Equal division, None where a pull or a strain post of it is not permitted."""
    pull_m = (end_m - start_m) / pulls
    if not _row_is_permitted(start_m, pull_m, pulls, rules):
        return None
    stations_m = [start_m + pull_m * k for k in range(1, pulls)]
    if any(stands_inside(station, stretches_m, rules.tolerance_m) for station in stations_m):
        return None
    return stations_m


def _row_is_permitted(start_m: float, pull_m: float, pulls: int, rules: PullRules) -> bool:
    """Whether every pull of an even row is permitted."""
    return all(rules.permits(start_m + pull_m * k, start_m + pull_m * (k + 1)) for k in range(pulls))


def _most_even(windows: Windows, rules: PullRules, stretches_m: Sequence[Stretch]) -> list[float]:
    """Most even division with the fewest pulls, where the equal one is not permitted."""
    start_m, end_m = windows.farthest_m[0], windows.farthest_m[-1]
    places_m = [v for v in rules.vertex_m if start_m < v < end_m]
    places_m += stretch_edges(stretches_m, start_m, end_m, rules.tolerance_m)
    places_m = sorted(set(places_m))
    contact_m = places_m
    if rules.ground_turning_rad_per_m > 0.0:
        contact_m = sorted({*places_m, *windows.nearest_m[1:-1], *windows.farthest_m[1:-1]})
    contacts = numbered_contacts(contact_m, windows, 2.0 * rules.tolerance_m)
    if len(contacts) <= _MOST_CONTACTS:
        stations_m = _most_even_by_contacts(contacts, windows, rules, stretches_m)
        if stations_m is not None:
            return stations_m
    return most_even_by_search(windows, places_m, rules, stretches_m)


def _most_even_by_contacts(
    contacts: Sequence[tuple[int, float]],
    windows: Windows,
    rules: PullRules,
    stretches_m: Sequence[Stretch],
) -> list[float] | None:
    """Optimum with no turning over the ground; None where that makes a pull turn too much."""
    start_m, end_m = windows.farthest_m[0], windows.farthest_m[-1]
    level = rules.without_ground()

    def row_is_clear(station_m: float, pull_m: float, pulls: int) -> bool:
        divisions = (station_m + pull_m * k for k in range(1, pulls))
        return not any(
            stands_inside(division, stretches_m, rules.tolerance_m) for division in divisions
        ) and _row_is_permitted(station_m, pull_m, pulls, level)

    longest_m = min(rules.straight_limit_m, end_m - start_m) * (1.0 + 8.0 * RELATIVE_TOLERANCE)
    stations_m = most_even_chain(contacts, windows, longest_m, row_is_clear)
    if stations_m is None:
        return None
    pulls = itertools.pairwise([start_m, *stations_m, end_m])
    return stations_m if all(rules.permits(a, b) for a, b in pulls) else None
