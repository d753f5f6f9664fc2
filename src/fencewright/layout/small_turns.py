"""Turns too small for a post of their own: the rail still rubs at the posts beside them, so they count in a pull."""

import numpy as np
from numpy.typing import NDArray

from fencewright.geometry.polyline import turnings
from fencewright.layout.kept_out import merged_where_touching
from fencewright.tables.fence import FenceLine

Floats = NDArray[np.float64]


def small_turns(line: FenceLine, straight_angle_rad: float) -> Floats:
    """Vertices of a line that turn less than what asks for a post.

    Parameters
    ----------
    line : FenceLine
        The reference line.
    straight_angle_rad : float
        Turning that asks for a post. [rad]

    Returns
    -------
    float array (turns, 2)
        Station [m] and turning without sign [rad], by station; on a closed line once more a lap further on,
        for runs that pass its first point.
    """
    turning = np.abs(turnings(line.xy_m, line.is_closed))
    rows = np.flatnonzero((turning > 0.0) & (turning < straight_angle_rad - 1e-12))
    found = np.column_stack([line.station_m[rows], turning[rows]])
    return np.vstack([found, found + [line.length_m, 0.0]]) if line.is_closed else found


def turns_between(turns: Floats, from_m: float, to_m: float) -> Floats:
    """Give those of the turns (turns, 2), by station, that lie strictly between two stations. [m]"""
    if not len(turns):
        return turns
    first, last = np.searchsorted(turns[:, 0], [from_m + 1e-9, to_m - 1e-9])
    return turns[first : max(first, last)]


def shifted_out_m(at_m: Floats, barred_m: Floats) -> Floats:
    """Move places that lie inside barred stretches to the nearer edge.

    Parameters
    ----------
    at_m : float array (places,)
        Rising. [m]
    barred_m : float array (stretches, 2)
        Where no post may stand. [m]

    Returns
    -------
    float array (places,)
        Rising: a run may be divided at each of them. [m]
    """
    if not len(barred_m) or not len(at_m):
        return at_m
    low, high = merged_where_touching(barred_m).T
    row = np.clip(np.searchsorted(low, at_m, side="right") - 1, 0, None)
    inside = (at_m > low[row]) & (at_m < high[row])
    nearer = np.where(at_m - low[row] < high[row] - at_m, low[row], high[row])
    return np.where(inside, nearer, at_m)
