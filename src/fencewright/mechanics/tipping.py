"""Footings that a push at their top would tip over their toe: what soil and weight hold against it.

Ultimate values: the caller divides by the factor of safety against overturning.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.mechanics.broms import CLAY_IDLE_DIAMETERS, CLAY_PRESSURE_FACTOR, passive_coefficient

Floats = NDArray[np.float64]

# soil resistance 3 Kp gamma z D, source: broms-1964b
SAND_PRESSURE_FACTOR = 3.0


def sand_holding_n_m(
    top_m: ArrayLike,
    bottom_m: ArrayLike,
    width_m: ArrayLike,
    soil_n_m3: ArrayLike,
    friction_angle_rad: ArrayLike,
) -> Floats:
    """Moment about its toe that sand holds against a footing pushed at its top.

    Parameters
    ----------
    top_m, bottom_m : array
        Of the concrete below grade, the bottom not above the top. [m]
    width_m : array
        Across the push. [m]
    soil_n_m3, friction_angle_rad : array
        Unit weight and angle of the sand. [N/m3], [rad]

    Returns
    -------
    float array
        Ultimate. [N m]

    Notes
    -----
    Pressure 3 Kp gamma z before the concrete, and, as Broms has it, the soil behind the toe taken as one force there:
    3 Kp gamma b (z2 (z2^2 - z1^2) / 2 - (z2^3 - z1^3) / 3).

    References
    ----------
    broms-1964b (from memory).
    """
    top, bottom = np.asarray(top_m, np.float64), np.asarray(bottom_m, np.float64)
    growth = (
        SAND_PRESSURE_FACTOR * passive_coefficient(friction_angle_rad) * np.asarray(soil_n_m3, np.float64)
    )
    lever = bottom * (bottom**2 - top**2) / 2.0 - (bottom**3 - top**3) / 3.0
    return np.asarray(growth * np.asarray(width_m, np.float64) * lever)


def clay_holding_n_m(
    top_m: ArrayLike, bottom_m: ArrayLike, width_m: ArrayLike, cohesion_pa: ArrayLike
) -> Floats:
    """Moment about its toe that clay holds against a footing pushed at its top; arguments as `sand_holding_n_m`.

    Returns
    -------
    float array
        Ultimate; 0 for a footing that ends within 1.5 widths of grade. [N m]

    Notes
    -----
    Pressure 9 cu from 1.5 widths down, before the footing above its pivot, behind it below. Moments about the top give
    the pivot r below it, 2 r^2 = (z2 - z1)^2 + (z0 - z1)^2 with z0 where the pressure begins; the push is
    9 cu b (2 r - (z0 - z1) - (z2 - z1)), its moment that times z2 - z1.

    References
    ----------
    broms-1964a.
    """
    top, bottom = np.asarray(top_m, np.float64), np.asarray(bottom_m, np.float64)
    width = np.asarray(width_m, np.float64)
    idle = np.clip(CLAY_IDLE_DIAMETERS * width - top, 0.0, bottom - top)
    height = bottom - top
    pivot = np.sqrt((height**2 + idle**2) / 2.0)
    push = CLAY_PRESSURE_FACTOR * np.asarray(cohesion_pa, np.float64) * width * (2 * pivot - idle - height)
    return np.asarray(push * height)
