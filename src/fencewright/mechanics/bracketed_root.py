"""Roots of many functions of one unknown at once, each shut in by a lower and an upper bound."""

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

ROUNDS = 100
# width at which the search ends; the last quadratic step lands closer than that
RELATIVE = 1e-13


def bracketed_root(curve: Callable[[Floats], Floats], low: ArrayLike, high: ArrayLike) -> Floats:
    """Root of each function between its bounds.

    Parameters
    ----------
    curve : callable
        Values of all the functions at an array of places, in the shape of that array.
    low, high : array
        Bounds with a change of sign between them; shapes broadcast. A bound may itself be the root.

    Returns
    -------
    float array
        The root to one part in 1e13 or better; NaN where the sign does not change or a bound is NaN.

    Notes
    -----
    Inverse quadratic steps wherever three points lie so that such a step must land inside, halving
    otherwise: never slower than halving by more than a constant, about ten rounds for a smooth curve.
    Stops on a count of rounds. O(n) a round.

    References
    ----------
    chandrupatla-1997, from memory.
    """
    near, far = (np.array(bound, np.float64) for bound in np.broadcast_arrays(low, high))
    near_value, far_value = curve(near), curve(far)
    shut_in = np.sign(near_value) * np.sign(far_value) <= 0
    share = np.full(near.shape, 0.5)
    for _ in range(ROUNDS):
        place = near + share * (far - near)
        value = curve(place)
        same = np.sign(value) == np.sign(near_value)
        last, last_value = np.where(same, near, far), np.where(same, near_value, far_value)
        far, far_value = np.where(same, far, near), np.where(same, far_value, near_value)
        near, near_value = place, value
        width = np.abs(far - near)
        least = RELATIVE * np.maximum(np.abs(near), np.abs(far))
        if not ((width > 2.0 * least) & shut_in & (near_value != 0) & (far_value != 0)).any():
            break
        share = _share((near, far, last), (near_value, far_value, last_value))
        edge = np.minimum(np.divide(least, width, out=np.full_like(width, 0.5), where=width > 0), 0.5)
        share = np.clip(share, edge, 1.0 - edge)
    root = np.where(np.abs(near_value) <= np.abs(far_value), near, far)
    return np.asarray(np.where(shut_in, root, np.nan))


def _share(places: tuple[Floats, Floats, Floats], values: tuple[Floats, Floats, Floats]) -> Floats:
    """How far from the near to the far place the next look is taken, 0 to 1."""
    (near, far, last), (near_value, far_value, last_value) = places, values
    with np.errstate(divide="ignore", invalid="ignore", over="ignore", under="ignore"):
        place_share = (near - far) / (last - far)
        value_share = (near_value - far_value) / (last_value - far_value)
        is_smooth = (value_share**2 < place_share) & ((1.0 - value_share) ** 2 < 1.0 - place_share)
        inverse = near_value / (far_value - near_value) * last_value / (far_value - last_value) + (
            last - near
        ) / (far - near) * near_value / (last_value - near_value) * far_value / (last_value - far_value)
    return np.where(is_smooth & np.isfinite(inverse), inverse, 0.5)
