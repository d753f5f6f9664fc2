"""Control posts: where posts are set long, a string from control to control shows the tops."""

from __future__ import annotations

import numpy as np

from fencewright.tables.top_line import BoolArray, FloatArray, IntArray

#: Posts ahead to which all strings are looked at together; those that go on are then followed one by one.
LOOK = 12


def control_posts(
    station_m: FloatArray, top_m: FloatArray, is_fixed: BoolArray, tolerance_m: float
) -> IntArray:
    """Choose the posts of one line between which a straight string meets the top line.

    Parameters
    ----------
    station_m : float array (posts,)
        Plan distance along the line, rising. [m]
    top_m : float array (posts,)
        Elevation of each top. [m]
    is_fixed : bool array (posts,)
        Posts that are controls anyway (ends, gates, corners, pins). The first and last are always.
    tolerance_m : float
        The string may pass a top by this, 0 or more. [m]

    Returns
    -------
    int array (controls,)
        Rows of the posts, rising. Empty for no post.

    Notes
    -----
    From each control the furthest post that a string still reaches: seldom more, never many more,
    than the fewest. Linear in the posts for natural ground.
    """
    if station_m.size == 0:
        return np.zeros(0, np.int64)
    last = station_m.size - 1
    is_stop = is_fixed.copy()
    is_stop[last] = True
    is_stop[0] = False
    stops = np.flatnonzero(is_stop)
    stop_of = stops[np.searchsorted(stops, np.arange(last), side="right")]
    near = _near_furthest(station_m, top_m, stop_of, tolerance_m).tolist()
    station, top = station_m.tolist(), top_m.tolist()
    controls = [0]
    while controls[-1] < last:
        start = controls[-1]
        furthest = near[start]
        if furthest < 0:
            furthest = _furthest(station, top, start, int(stop_of[start]), tolerance_m)
        controls.append(furthest)
    return np.array(controls, np.int64)


def _near_furthest(station: FloatArray, top: FloatArray, stop_of: IntArray, tolerance: float) -> IntArray:
    """Furthest post that a string from each post but the last reaches, up to its stop; -1 where it may pass `LOOK`.

    All posts look one post further at a time: most strings are short, and most posts never start one.
    """
    furthest = np.arange(1, stop_of.size + 1)
    start = np.arange(stop_of.size)
    least, most = np.full(start.size, -np.inf), np.full(start.size, np.inf)
    for ahead in range(1, LOOK + 1):
        post = start + ahead
        run, rise = station[post] - station[start], top[post] - top[start]
        slope = rise / run
        meets = (least <= slope) & (slope <= most)
        furthest[start[meets]] = post[meets]
        least, most = np.maximum(least, (rise - tolerance) / run), np.minimum(most, (rise + tolerance) / run)
        goes_on = (least <= most) & (post < stop_of[start])
        start, least, most = start[goes_on], least[goes_on], most[goes_on]
    furthest[start] = -1
    return furthest


def _furthest(station: list[float], top: list[float], start: int, stop: int, tolerance: float) -> int:
    """Furthest post up to `stop` such that the string from `start` meets all tops between."""
    least, most, furthest = -np.inf, np.inf, start + 1
    for post in range(start + 1, stop + 1):
        run, rise = station[post] - station[start], top[post] - top[start]
        slope = rise / run
        if least <= slope <= most:
            furthest = post
        least, most = max(least, (rise - tolerance) / run), min(most, (rise + tolerance) / run)
        if least > most:
            break
    return furthest
