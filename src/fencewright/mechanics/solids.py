"""Volumes of holes and of what fills them."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


def cylinder_m3(diameter_m: ArrayLike, height_m: ArrayLike) -> Floats:
    """Volume of a cylinder: pi D^2 h / 4. [m3]"""
    return np.asarray(np.pi / 4 * np.asarray(diameter_m, np.float64) ** 2 * np.asarray(height_m, np.float64))


def frustum_m3(lower_m: ArrayLike, upper_m: ArrayLike, height_m: ArrayLike) -> Floats:
    """Volume of a cone's frustum from its two diameters: pi h (D1^2 + D2^2 + D1 D2) / 12. [m3]"""
    low, high = np.asarray(lower_m, np.float64), np.asarray(upper_m, np.float64)
    return np.asarray(np.pi / 12 * np.asarray(height_m, np.float64) * (low**2 + high**2 + low * high))


def belled_hole_m3(
    diameter_m: ArrayLike, bell_m: ArrayLike, bell_height_m: ArrayLike, depth_m: ArrayLike, top_m: ArrayLike
) -> Floats:
    """Volume of a hole from its bottom up to a level below grade.

    Parameters
    ----------
    diameter_m : array
        Of the shaft. [m]
    bell_m : array
        Width at the bottom, not less than the shaft's. [m]
    bell_height_m : array
        Height over which it narrows to the shaft; not more than what is filled is counted. [m]
    depth_m : array
        Of the bottom below grade. [m]
    top_m : array
        Level of the fill below grade. [m]

    Returns
    -------
    float array
        0 where the fill would start below the bottom. Shapes broadcast. [m3]

    Notes
    -----
    A frustum and a cylinder; a bell higher than the fill is cut off at the fill.
    """
    shaft, bell, high, depth, top = (
        np.asarray(value, np.float64) for value in (diameter_m, bell_m, bell_height_m, depth_m, top_m)
    )
    fill = np.maximum(depth - top, 0.0)
    cone = np.minimum(high, fill)
    share = np.divide(cone, high, out=np.zeros(np.broadcast(cone, high).shape), where=high > 0)
    upper = bell + (shaft - bell) * share
    return frustum_m3(bell, upper, cone) + cylinder_m3(shaft, fill - cone)
