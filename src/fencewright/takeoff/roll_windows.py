"""Where along a pull a splice may fall: the complement of its forbidden intervals, in whole micrometres."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from fencewright.takeoff.roll_records import RollPieces

UM_PER_M = 1_000_000
Ints = NDArray[np.int64]


def whole_um(value_m: NDArray[np.float64]) -> Ints:
    """Lengths in whole micrometres, so that sums are exact and their order does not matter.

    Parameters
    ----------
    value_m : float array (any,)
        Lengths. [m]

    Returns
    -------
    value_um : int array (any,)
        The nearest whole micrometre. [um]
    """
    return np.rint(np.asarray(value_m, dtype=np.float64) * UM_PER_M).astype(np.int64)


def allowed_windows(pieces: RollPieces, least_um: int) -> tuple[Ints, Ints, Ints]:
    """Closed windows in which a splice may fall, in order along each pull.

    Parameters
    ----------
    pieces : RollPieces
        Pulls and forbidden intervals.
    least_um : int
        Shortest fragment; at least a micrometre is kept from each end all the same. [um]

    Returns
    -------
    start : int array (pulls + 1,)
        Rows of the two next columns for each pull.
    from_um, to_um : int array (windows,)
        Windows, each possibly a single point where two forbidden intervals meet. [um]

    Notes
    -----
    One sort of all intervals; the furthest end so far is kept per pull by ranks. O(n log n).
    """
    length = whole_um(pieces.length_m)
    pulls = length.size
    end = max(1, least_um)
    keep = length >= 2 * end
    counts = (
        np.diff(pieces.forbidden_start) if pieces.forbidden_start.size else np.zeros(pulls, dtype=np.int64)
    )
    row = np.repeat(np.arange(pulls), counts)
    inner_from, inner_to = whole_um(pieces.forbidden_from_m), whole_um(pieces.forbidden_to_m)
    solid = inner_to > inner_from
    row = np.concatenate([np.arange(pulls), row[solid], np.arange(pulls)])
    low = np.concatenate([np.full(pulls, -1), np.maximum(inner_from[solid], -1), length - end])
    high = np.concatenate([np.full(pulls, end), np.maximum(inner_to[solid], 0), length + 1])
    order = np.lexsort((high, low, row))
    row, low, high = row[order], low[order], high[order]
    furthest = _running_most(row, high)
    is_gap = (row[1:] == row[:-1]) & (low[1:] >= furthest[:-1]) & keep[row[:-1]]
    # No window reaches past the ends: an interval that starts beyond length - end sorts after the last one.
    is_gap &= low[1:] <= (length - end)[row[:-1]]
    start = np.concatenate([[0], np.cumsum(np.bincount(row[:-1][is_gap], minlength=pulls))])
    return start.astype(np.int64), furthest[:-1][is_gap], low[1:][is_gap]


def _running_most(row: Ints, value: Ints) -> Ints:
    """Greatest value so far within each row, exactly, for rows in ascending order."""
    distinct, rank = np.unique(value, return_inverse=True)
    most = np.maximum.accumulate(row * distinct.size + rank)
    picked: Ints = distinct[most - row * distinct.size]
    return picked
