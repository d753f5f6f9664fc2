"""The one positive root of x^3 = a x + b, which several formulas of embedment come down to."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


def positive_root(linear: ArrayLike, constant: ArrayLike) -> Floats:
    """Positive root of x^3 = linear * x + constant.

    Parameters
    ----------
    linear : array
        0 or more; shapes broadcast. [any unit, squared]
    constant : array
        0 or more. [the same unit, cubed]

    Returns
    -------
    float array
        The only positive root; 0 where both are 0; NaN where either is NaN.

    Notes
    -----
    Closed form: with c = linear / 3 and x = constant / (2 c^1.5) the root is 2 sqrt(c) cosh(arcosh(x) / 3),
    with cosines in place of the hyperbolic ones below x = 1; one Newton step then takes the rounding off.
    By Descartes' rule of signs there is just one positive root. O(n), no iteration to converge.
    """
    slope, rest = np.broadcast_arrays(np.asarray(linear, np.float64), np.asarray(constant, np.float64))
    third = slope / 3.0
    scale = third**1.5
    curved = scale > 1e-12 * rest
    if curved.all():
        root = 2.0 * np.sqrt(third) * _third_of_angle(rest / (2.0 * scale))
    else:
        ratio = np.divide(rest, 2.0 * scale, out=np.ones_like(rest), where=curved)
        root = np.where(curved, 2.0 * np.sqrt(third) * _third_of_angle(ratio), np.cbrt(rest))
    steep = 3.0 * root**2 - slope
    step = np.divide(root**3 - slope * root - rest, steep, out=np.zeros_like(rest), where=steep > 0)
    return np.asarray(np.where(np.isnan(slope + rest), np.nan, root - step))


def _third_of_angle(ratio: Floats) -> Floats:
    """cosh(arcosh(ratio) / 3), and cos(arccos(ratio) / 3) below 1."""
    is_wide = ratio >= 1.0
    if is_wide.all():
        return np.asarray(np.cosh(np.arccosh(ratio) / 3.0))
    low = np.cos(np.arccos(np.minimum(ratio, 1.0)) / 3.0)
    return np.where(is_wide, np.cosh(np.arccosh(np.maximum(ratio, 1.0)) / 3.0), low)
