"""Line posts between two fixed posts where something is in the way: fewest, then most even."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterable, Sequence

from fencewright.layout.even_chain import agreed_windows, most_even_chain, numbered_contacts
from fencewright.layout.kept_out import (
    RELATIVE_TOLERANCE,
    Stretch,
    by_width,
    joined_stretches,
    stretch_edges,
    strikes,
)
from fencewright.layout.taut_string import taut_string

_MOST_CONTACTS = 250
"""Bay runs with more contacts are spaced with even rows of bounded reach, then drawn taut. [-]"""
_MOST_AHEAD = 60


def space_around(
    start_m: float,
    end_m: float,
    limit_m: float,
    stretches_m: Iterable[Stretch],
) -> tuple[list[float], list[Stretch]]:
    """Stations of the line posts between two fixed posts, clear of forbidden stretches.

    Parameters
    ----------
    start_m, end_m : float
        The fixed posts. [m]
    limit_m : float
        Longest span, above 0. [m]
    stretches_m : pairs of float
        Open stretches where no post may stand, in any order. [m]

    Returns
    -------
    station_m : list of float (posts,)
        Rising, fixed posts left out. [m]
    blocking_m : list of pairs
        Stretches too wide for one span. A post stands at each edge of them, and the rest is spaced
        within the limit. [m]

    Notes
    -----
    Exact up to 1e-8 of the limit; see `even_chain`. O(posts + contacts²) with up to 250 contacts
    (edges of stretches that a shortest chain can use). Beyond, O(posts + contacts): still the fewest
    posts, and the most even for the stretches they stand between, whose choice looks 60 contacts ahead.
    """
    tolerance_m = RELATIVE_TOLERANCE * limit_m
    joined = joined_stretches(stretches_m, start_m, end_m, tolerance_m)
    crossable, blocking = by_width(joined, limit_m)
    stations_m: list[float] = []
    from_m = start_m
    for low_m, high_m in [*blocking, (end_m, end_m)]:
        within = [stretch for stretch in crossable if from_m <= stretch[0] and stretch[1] <= low_m]
        stations_m += _fewest_most_even(from_m, low_m, limit_m, within)
        stations_m += _posts_at_edges((low_m, high_m), stations_m, (start_m, end_m), tolerance_m)
        from_m = high_m
    return stations_m, blocking


def _posts_at_edges(
    edges_m: Stretch, stations_m: list[float], ends_m: Stretch, tolerance_m: float
) -> list[float]:
    """Edges of a blocking stretch at which no post stands yet."""
    last_m = stations_m[-1] if stations_m else ends_m[0]
    return [e for e in edges_m if last_m + tolerance_m < e < ends_m[1] - tolerance_m]


def _fewest_most_even(
    start_m: float, end_m: float, limit_m: float, stretches_m: list[Stretch]
) -> list[float]:
    """Stations between two posts, every stretch narrower than the limit."""
    tolerance_m = RELATIVE_TOLERANCE * limit_m
    narrowed = [(from_m + tolerance_m, to_m - tolerance_m) for from_m, to_m in stretches_m]
    mirrored = [(-to_m, -from_m) for from_m, to_m in reversed(narrowed)]

    def chains(factor: float) -> tuple[list[float], list[float]]:
        forward_m = farthest_chain(start_m, end_m, limit_m * factor, narrowed)
        backward_m = farthest_chain(-end_m, -start_m, limit_m * factor, mirrored)
        return forward_m, [-station for station in backward_m]

    windows = agreed_windows(chains)
    if windows.spans == 1:
        return []
    edges_m = stretch_edges(stretches_m, start_m, end_m, tolerance_m)
    contacts = numbered_contacts(edges_m, windows, 2.0 * tolerance_m)
    first_edges_m = [stretch[0] for stretch in stretches_m]

    def row_is_clear(station_m: float, span_m: float, spans: int) -> bool:
        last_m = station_m + span_m * spans - tolerance_m
        for index in range(bisect_left(first_edges_m, station_m - tolerance_m), len(stretches_m)):
            if first_edges_m[index] >= last_m:
                break
            if strikes(station_m, span_m, stretches_m[index], tolerance_m):
                return False
        return True

    longest_m = limit_m * (1.0 + 8.0 * RELATIVE_TOLERANCE)
    most_ahead = None if len(contacts) <= _MOST_CONTACTS else _MOST_AHEAD
    stations_m = most_even_chain(contacts, windows, longest_m, row_is_clear, most_ahead)
    if stations_m is None or most_ahead is not None:
        chain_m = windows.farthest_m[1:-1] if stations_m is None else stations_m
        return _drawn_taut([start_m, *chain_m, end_m], stretches_m, tolerance_m)
    return stations_m


def _drawn_taut(chain_m: Sequence[float], stretches_m: Sequence[Stretch], tolerance_m: float) -> list[float]:
    """Most even chain with every post between the same two stretches as before."""
    edges_m = [-math.inf, *(edge for stretch in stretches_m for edge in stretch), math.inf]
    low_m, high_m = list(chain_m), list(chain_m)
    for k in range(1, len(chain_m) - 1):
        before = bisect_left(edges_m, chain_m[k] - tolerance_m) - 1
        before += before % 2
        if edges_m[before] > chain_m[k] + tolerance_m:
            before -= 2
        low_m[k] = max(edges_m[before], chain_m[0])
        high_m[k] = min(edges_m[before + 1], chain_m[-1])
    return taut_string(low_m, high_m)[1:-1]


def farthest_chain(
    start_m: float, end_m: float, limit_m: float, stretches_m: Sequence[Stretch]
) -> list[float]:
    """Chain of posts in which each stands as far on as it may: as few as there can be.

    Parameters
    ----------
    start_m, end_m : float
        The fixed posts. [m]
    limit_m : float
        Longest span. [m]
    stretches_m : sequence of pairs
        Joined open stretches in order, none wider than the limit. [m]

    Returns
    -------
    list of float (spans + 1,)
        Both fixed posts included; rising. [m]

    Notes
    -----
    Posts may be up to 1e-9 of the limit too far apart, so that a leg of exactly ten limits has ten
    spans. O(posts + stretches).
    """
    reach_m = limit_m * (1.0 + RELATIVE_TOLERANCE)
    chain_m = [start_m]
    ahead = 0
    station_m = start_m
    while station_m + reach_m < end_m:
        station_m += reach_m
        while ahead < len(stretches_m) and stretches_m[ahead][1] <= station_m:
            ahead += 1
        if ahead < len(stretches_m) and stretches_m[ahead][0] < station_m:
            station_m = stretches_m[ahead][0]
        chain_m.append(station_m)
    chain_m.append(end_m)
    return chain_m
