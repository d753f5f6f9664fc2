"""Control posts: where posts are set long, a string from control to control shows the tops."""

from __future__ import annotations

import numpy as np

from fencewright.tables.top_line import BoolArray, FloatArray, IntArray


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
    station, top, last = station_m.tolist(), top_m.tolist(), station_m.size - 1
    stops = [int(post) for post in np.flatnonzero(is_fixed) if 0 < post < last]
    controls = [0]
    for stop in [*stops, last]:
        while controls[-1] < stop:
            controls.append(_furthest(station, top, controls[-1], stop, tolerance_m))
    return np.array(controls, np.int64)


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
