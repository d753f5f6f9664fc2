"""Stretches of a line where no post may stand: cut to size, joined, and asked about."""

from __future__ import annotations

import itertools
import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

Stretch = tuple[float, float]
_TOUCH_M = 1e-6  # pieces of one clearance, one a leg, meet at the line's points but for rounding

RELATIVE_TOLERANCE = 1e-9
"""What counts as equal, as a part of the spacing (or pull length) limit. [-]"""


def merged_where_touching(stretches_m: NDArray[np.float64]) -> NDArray[np.float64]:
    """Stretches joined where they overlap or touch, so that no post stands where two pieces of a clearance meet.

    Parameters
    ----------
    stretches_m : float array (stretches, 2)
        From and to of each, in any order. [m]

    Returns
    -------
    float array (merged, 2)
        Rising, apart from each other. [m]
    """
    if not len(stretches_m):
        return stretches_m
    ordered = stretches_m[np.argsort(stretches_m[:, 0], kind="stable")]
    reach = np.maximum.accumulate(ordered[:, 1])
    first = np.concatenate([[True], ordered[1:, 0] > reach[:-1] + _TOUCH_M])
    last = np.append(first[1:], True)
    return np.column_stack([ordered[first, 0], reach[last]])


def joined_stretches(
    stretches_m: Iterable[Stretch], start_m: float, end_m: float, tolerance_m: float
) -> list[Stretch]:
    """Stretches cut to a part of the line and joined where they overlap.

    Parameters
    ----------
    stretches_m : pairs of float
        From and to of each open stretch, in any order, overlapping or not. [m]
    start_m, end_m : float
        The part of the line; what lies outside is cut off. [m]
    tolerance_m : float
        Stretches no wider than this are dropped, overlaps no wider count as touching. [m]

    Returns
    -------
    list of pairs
        In order along the line. Two that only touch stay two: a post may stand where they touch. [m]
    """
    joined: list[Stretch] = []
    for from_m, to_m in sorted(stretches_m):
        low_m, high_m = max(from_m, start_m), min(to_m, end_m)
        if high_m - low_m <= tolerance_m:
            continue
        if not joined or low_m > joined[-1][1]:
            joined.append((low_m, high_m))
        elif low_m < joined[-1][1] - tolerance_m:
            joined[-1] = (joined[-1][0], max(joined[-1][1], high_m))
        elif high_m - joined[-1][1] > tolerance_m:
            joined.append((joined[-1][1], high_m))
    return joined


def split_at(stretches_m: Iterable[Stretch], station_m: Sequence[float], tolerance_m: float) -> list[Stretch]:
    """Pieces of joined stretches, split wherever a post stands already, so that it may stand there.

    Parameters
    ----------
    stretches_m : pairs of float
        Joined stretches in order. [m]
    station_m : sequence of float
        Stations of posts that stand in any case, rising. [m]
    tolerance_m : float
        Pieces no wider than this are dropped. [m]

    Returns
    -------
    list of pairs
        In order along the line. [m]
    """
    pieces: list[Stretch] = []
    for from_m, to_m in stretches_m:
        inside = station_m[bisect_right(station_m, from_m) : bisect_left(station_m, to_m)]
        edges = [from_m, *inside, to_m]
        pieces += [(a, b) for a, b in itertools.pairwise(edges) if b - a > tolerance_m]
    return pieces


def stretch_edges(
    stretches_m: Iterable[Stretch], start_m: float, end_m: float, tolerance_m: float
) -> list[float]:
    """Edges of joined stretches, without repeats and without the two ends of the line's part.

    Parameters
    ----------
    stretches_m : pairs of float
        Joined stretches in order. [m]
    start_m, end_m : float
        The part of the line. [m]
    tolerance_m : float
        Edges no further apart than this are one. [m]

    Returns
    -------
    list of float
        Rising. [m]
    """
    edges: list[float] = []
    for stretch in stretches_m:
        for edge_m in stretch:
            if start_m + tolerance_m < edge_m < end_m - tolerance_m and (
                not edges or edge_m > edges[-1] + tolerance_m
            ):
                edges.append(edge_m)
    return edges


def strikes(station_m: float, span_m: float, stretch_m: Stretch, tolerance_m: float) -> bool:
    """Whether an endless even row of posts from a station on has one inside a stretch ahead.

    Parameters
    ----------
    station_m : float
        First post of the row, not beyond the stretch's `from`. [m]
    span_m : float
        From post to post, above 0. [m]
    stretch_m : pair of float
        The open stretch; its edges may be stood on. [m]
    tolerance_m : float
        How far inside an edge still counts as on it. [m]

    Returns
    -------
    bool
        True where a post would stand inside.
    """
    from_m, to_m = stretch_m
    nearest = math.floor((from_m + tolerance_m - station_m) / span_m) + 1
    return station_m + nearest * span_m < to_m - tolerance_m


def stands_inside(station_m: float, stretches_m: Sequence[Stretch], tolerance_m: float) -> bool:
    """Whether a station lies inside one of the joined stretches.

    Parameters
    ----------
    station_m : float
        Where a post would stand. [m]
    stretches_m : sequence of pairs
        Joined stretches in order. [m]
    tolerance_m : float
        How far inside an edge still counts as on it. [m]

    Returns
    -------
    bool
        False on an edge.
    """
    before = bisect_left(stretches_m, (station_m - tolerance_m, -math.inf)) - 1
    return before >= 0 and station_m < stretches_m[before][1] - tolerance_m


def by_width(stretches_m: Iterable[Stretch], limit_m: float) -> tuple[list[Stretch], list[Stretch]]:
    """Stretches sorted into those a span may cross and those too wide for any span.

    Parameters
    ----------
    stretches_m : pairs of float
        Joined stretches in order. [m]
    limit_m : float
        Longest span. [m]

    Returns
    -------
    crossable, blocking : lists of pairs
        Both in order along the line. [m]
    """
    crossable: list[Stretch] = []
    blocking: list[Stretch] = []
    for stretch in stretches_m:
        wide = stretch[1] - stretch[0] > limit_m * (1.0 + RELATIVE_TOLERANCE)
        (blocking if wide else crossable).append(stretch)
    return crossable, blocking
