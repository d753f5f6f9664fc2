"""What holds a footing down: its weight, and the soil along its shaft."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.mechanics.solids import cylinder_m3

Floats = NDArray[np.float64]

# 150 lb/ft3, source: ibc-1810 example sheets (sources-structure section 2)
CONCRETE_N_M3 = 23563.0
# at most 1/6 of the bearing value and 500 psf, source: ibc-1810
SHAFT_SHARE = 1.0 / 6.0
SHAFT_LIMIT_PA = 23940.0


def shaft_resistance_pa(bearing_pa: ArrayLike) -> Floats:
    """Presumptive resistance along a shaft from the bearing value; 0 where that is unknown. [Pa]"""
    bearing = np.nan_to_num(np.asarray(bearing_pa, np.float64), nan=0.0)
    return np.minimum(bearing * SHAFT_SHARE, SHAFT_LIMIT_PA)


def footing_hold_down_n(
    diameter_m: ArrayLike, height_m: ArrayLike, concrete_m3: ArrayLike, bearing_pa: ArrayLike, factor: float
) -> Floats:
    """Uplift that a concreted footing may take: weight, and shaft resistance over a factor.

    Parameters
    ----------
    diameter_m, height_m : array
        Shaft in contact with soil. [m]
    concrete_m3 : array
        Concrete in it. [m3]
    bearing_pa : array
        Presumptive bearing of the soil; NaN counts for nothing. [Pa]
    factor : float
        On the shaft resistance, 1 or more. [-]

    Returns
    -------
    float array
        [N]

    Notes
    -----
    The bell is left out; shaft resistance is written for deep foundations and is an analogue here.

    References
    ----------
    ibc-1810.
    """
    surface = 4 * cylinder_m3(diameter_m, height_m) / np.asarray(diameter_m, np.float64)
    weight = CONCRETE_N_M3 * np.asarray(concrete_m3, np.float64)
    return np.asarray(weight + surface * shaft_resistance_pa(bearing_pa) / factor)
