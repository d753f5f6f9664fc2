"""The most even chain when the stretch of every post is settled: a string drawn taut."""

from __future__ import annotations

from collections.abc import Sequence


def taut_string(low_m: Sequence[float], high_m: Sequence[float]) -> list[float]:
    """Stations with the least sum of squared spans, each within its own bounds.

    Parameters
    ----------
    low_m, high_m : sequence of float (posts,)
        Bounds of each post, the first and the last fixed (both bounds equal); both rise. [m]

    Returns
    -------
    list of float (posts,)
        Rising. [m]

    Notes
    -----
    Drawn over the posts' numbers, the chain is the shortest path through a corridor: straight until
    it bends round an edge. The cone of slopes that still fit is narrowed post by post; where it
    closes, the string touches the edge that closed it. O(posts) where the string often touches,
    O(posts²) at worst.
    """
    stations_m = [low_m[0]]
    last = len(low_m) - 1
    while len(stations_m) <= last:
        start, from_m = len(stations_m) - 1, stations_m[-1]
        touch, slope = _next_touch(start, from_m, low_m, high_m)
        stations_m += [from_m + slope * (k - start) for k in range(start + 1, touch + 1)]
        if touch < last:
            stations_m[-1] = min(max(stations_m[-1], low_m[touch]), high_m[touch])
    stations_m[-1] = high_m[-1]
    return stations_m


def _next_touch(
    start: int, from_m: float, low_m: Sequence[float], high_m: Sequence[float]
) -> tuple[int, float]:
    """Find the number of the post where the string next touches an edge, and its slope until there."""
    least, most = float("-inf"), float("inf")
    at_low = at_high = start + 1
    for k in range(start + 1, len(low_m)):
        from_low, from_high = (low_m[k] - from_m) / (k - start), (high_m[k] - from_m) / (k - start)
        if from_low > most:
            return at_high, most
        if from_high < least:
            return at_low, least
        if from_low >= least:
            least, at_low = from_low, k
        if from_high <= most:
            most, at_high = from_high, k
    return len(low_m) - 1, from_low
