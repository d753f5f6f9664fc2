"""Belt friction (Euler and Eytelwein): tension left in a rail that has slid round bends.

Bends of all pulls stand in one column, pull after pull, each pull from its first end to its last; `bend_start`
(pulls + 1,) tells where a pull's bends begin. A pull with b bends has b + 1 pieces, which stand in a column
of their own: `piece_start`.
"""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Starts = NDArray[np.integer]

# from which end a pull is drawn
FIRST_END = 0
LAST_END = 1
BOTH_ENDS = 2
# means that differ by less than this share count as equal, and then the first end is taken
EQUAL = 1e-9


def tension_share(turning_rad: ArrayLike, friction: float) -> NDArray[np.float64]:
    """Share of the tension that passes a turning: exp(-friction * turning). [-]

    Parameters
    ----------
    turning_rad : array
        Turning summed without sign, 0 or more. [rad]
    friction : float
        Rail on bracket, 0 or more. [-]

    References
    ----------
    capstan.
    """
    return np.exp(-friction * np.asarray(turning_rad, np.float64))


def turning_for_share(share: float, friction: float) -> float:
    """Turning after which just that share of the tension is left; infinite without friction. [rad]"""
    return math.inf if friction <= 0 else -math.log(share) / friction


def piece_start(bend_start: Starts) -> Ints:
    """Where each pull's pieces begin, one more of them than bends; int array (pulls + 1,)."""
    start = np.asarray(bend_start, np.int64)
    return start + np.arange(len(start))


def share_in_pieces(
    turning_rad: ArrayLike, bend_start: Starts, friction: ArrayLike, drawn_from: ArrayLike
) -> Floats:
    """Share of the tensioner's tension that reaches each piece of each pull.

    Parameters
    ----------
    turning_rad : array (bends,)
        3-D turning at each bend, 0 to pi. [rad]
    bend_start : int array (pulls + 1,)
        Where each pull's bends begin; a pull may have none.
    friction : array (bends,) or float
        Rail on bracket, 0 or more: the sliding one while it is pulled, a lower one once it has been worked
        round its bends and drawn again to the same tension. [-]
    drawn_from : int array (pulls,) or (ways, pulls), or int
        `FIRST_END`, `LAST_END` or `BOTH_ENDS`.

    Returns
    -------
    float array (bends + pulls,) or (ways, bends + pulls)
        A piece per row, in the order of `piece_start`; 1 at the tensioner. [-]

    Notes
    -----
    exp(-sum of friction x turning) from the end that draws; drawn from both ends, one after the other to
    the same tension, each piece keeps the greater. Holds while the rail slides at every bend; leaves out
    its weight on a slope, its bending stiffness and a bracket's pinch. O(bends + pulls).

    References
    ----------
    capstan.
    """
    turning = np.asarray(turning_rad, np.float64)
    start = piece_start(bend_start)
    held = np.zeros(start[-1])
    held[_bend_rows(start)] = np.broadcast_to(np.asarray(friction, np.float64), turning.shape) * turning
    whole = np.cumsum(held)
    pieces = np.diff(start)
    from_first = whole - np.repeat(whole[start[:-1]], pieces)
    from_last = np.repeat(whole[start[1:] - 1], pieces) - whole
    end = np.asarray(drawn_from)
    if end.shape[-1:] == pieces.shape:
        end = np.repeat(end, pieces, axis=-1)
    least = np.where(end == FIRST_END, from_first, from_last)
    worn = np.where(end == BOTH_ENDS, np.minimum(from_first, from_last), least)
    return np.asarray(np.exp(-np.maximum(worn, 0.0)))


def tension_in_pieces_n(
    pull_n: ArrayLike,
    turning_rad: ArrayLike,
    bend_start: Starts,
    friction: ArrayLike,
    drawn_from: ArrayLike = FIRST_END,
) -> Floats:
    """Tension in each piece of each pull.

    Parameters
    ----------
    pull_n : array (pulls,) or float
        At the tensioner, 0 or more. [N]
    turning_rad, bend_start, friction, drawn_from
        As `share_in_pieces`.

    Returns
    -------
    float array (bends + pulls,)
        Never above `pull_n`; a post's tension is that of the piece on either side. [N]

    References
    ----------
    capstan.
    """
    pieces = np.diff(piece_start(bend_start))
    pull = np.broadcast_to(np.asarray(pull_n, np.float64), pieces.shape)
    return np.repeat(pull, pieces) * share_in_pieces(turning_rad, bend_start, friction, drawn_from)


def far_end_share(turning_rad: ArrayLike, bend_start: Starts, friction: ArrayLike) -> Floats:
    """Share of the tension that reaches the other end of each pull; array (pulls,), the same both ways. [-]"""
    share = share_in_pieces(turning_rad, bend_start, friction, FIRST_END)
    return np.asarray(share[piece_start(bend_start)[1:] - 1])


def loosest_piece(tension_n: ArrayLike, bend_start: Starts) -> tuple[Floats, Ints]:
    """Least tension of each pull and the row of its piece.

    Parameters
    ----------
    tension_n : array (bends + pulls,), or with axes before
        `tension_in_pieces_n` or `share_in_pieces`. [N] or [-]
    bend_start : int array (pulls + 1,)

    Returns
    -------
    least_n : float array (pulls,), the same axes before
        In the unit given.
    piece_index : int array (pulls,)
        Row among all pieces; the first of equals.
    """
    tension, start = np.asarray(tension_n, np.float64), piece_start(bend_start)
    if len(start) == 1:
        none = np.empty((*tension.shape[:-1], 0))
        return none, none.astype(np.int64)
    pieces = tension.shape[-1]
    least = np.minimum.reduceat(tension, start[:-1], axis=-1)
    is_least = tension == np.repeat(least, np.diff(start), axis=-1)
    rows = np.where(is_least, np.arange(pieces), pieces)
    return least, np.minimum.reduceat(rows, start[:-1], axis=-1)


def stretch_with_friction_m(
    tension_n: ArrayLike, piece_m: ArrayLike, stiffness_n: ArrayLike, bend_start: Starts
) -> Floats:
    """Stretch of each pull from no tension, each piece at its own.

    Parameters
    ----------
    tension_n, piece_m : array (bends + pulls,)
        Tension, with axes before or without, and length of each piece. [N], [m]
    stiffness_n : array (pulls,) or float
        E A. [N]
    bend_start : int array (pulls + 1,)

    Returns
    -------
    float array (pulls,)
        Sum of T L over E A. [m]
    """
    start = piece_start(bend_start)
    work = np.asarray(tension_n, np.float64) * np.asarray(piece_m, np.float64)
    if len(start) == 1:
        return np.empty((*work.shape[:-1], 0))
    return np.asarray(np.add.reduceat(work, start[:-1], axis=-1) / np.asarray(stiffness_n, np.float64))


def bend_force_n(before_n: ArrayLike, after_n: ArrayLike, turning_rad: ArrayLike) -> Floats:
    """Force of a rail on the post that it bends round, towards the inside of the bend.

    Parameters
    ----------
    before_n, after_n : array
        Tension on either side; shapes broadcast. [N]
    turning_rad : array
        3-D turning, 0 to pi. [rad]

    Returns
    -------
    float array
        2 T sin(turning / 2) where both are T. In a dip it lifts the post. [N]

    References
    ----------
    capstan.
    """
    before, after = np.asarray(before_n, np.float64), np.asarray(after_n, np.float64)
    half = np.sin(np.asarray(turning_rad, np.float64) / 2.0)
    return np.asarray(np.sqrt((before - after) ** 2 + 4.0 * before * after * half**2))


def better_end(first_m: ArrayLike, last_m: ArrayLike) -> Ints:
    """End at which to hold the tensioner; `FIRST_END` or `LAST_END`, int array (pulls,).

    Parameters
    ----------
    first_m, last_m : array (pulls,)
        `stretch_with_friction_m` of each pull drawn from its first, and from its last end, to the same tension. [m]

    Returns
    -------
    int array (pulls,)
        The end that leaves more tension on the average metre; the first where both leave the same.

    Notes
    -----
    The least tension is the same whichever end draws, exp(-friction x all turning), so the ends differ only
    in how much of the rail lies on the tight side of the bends.

    References
    ----------
    capstan.
    """
    first, last = np.asarray(first_m, np.float64), np.asarray(last_m, np.float64)
    return np.where(last > first * (1.0 + EQUAL), LAST_END, FIRST_END).astype(np.int64)


def _bend_rows(start: Ints) -> Ints:
    """Rows of the pieces that follow a bend: all but each pull's first."""
    follows = np.ones(start[-1], bool)
    follows[start[:-1]] = False
    return np.flatnonzero(follows)
