"""What holds a footing down: its weight, the soil along its shaft, a cone of soil, a bell.

Each model is a function by its own name; which of them may be added is for the caller to say. Skin and
cone describe the same soil: never both.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.mechanics.solids import cylinder_m3, frustum_m3

Floats = NDArray[np.float64]

# 150 lb/ft3, source: ibc-1810 example sheets (sources-structure section 2)
CONCRETE_N_M3 = 23563.0
# at most 1/6 of the bearing value and 500 psf, source: ibc-1810
SHAFT_SHARE = 1.0 / 6.0
SHAFT_LIMIT_PA = 23940.0
# uplift by analysis: factor 3, under wind or earthquake 2, source: ibc-1810
UPLIFT_FACTOR = 3.0
UPLIFT_FACTOR_WIND = 2.0
# a bell of about 2 D in competent soil holds about twice the shaft's skin, source: bowles-bell
BELL_DIAMETERS = 2.0
BELL_SKIN_FACTOR = 2.0


def shaft_resistance_pa(bearing_pa: ArrayLike) -> Floats:
    """Presumptive resistance along a shaft from the bearing value; 0 where that is unknown. [Pa]"""
    bearing = np.nan_to_num(np.asarray(bearing_pa, np.float64), nan=0.0)
    return np.minimum(bearing * SHAFT_SHARE, SHAFT_LIMIT_PA)


def weight_n(volume_m3: ArrayLike, unit_weight_n_m3: ArrayLike = CONCRETE_N_M3) -> Floats:
    """Weight of a volume, of concrete unless another unit weight is given. [N]"""
    return np.asarray(np.asarray(volume_m3, np.float64) * np.asarray(unit_weight_n_m3, np.float64))


def shaft_skin_n(diameter_m: ArrayLike, length_m: ArrayLike, resistance_pa: ArrayLike) -> Floats:
    """Skin resistance of a round shaft: pi D L f, before any factor. [N]

    References
    ----------
    murthy-17-10.
    """
    surface = np.pi * np.asarray(diameter_m, np.float64) * np.asarray(length_m, np.float64)
    return np.asarray(surface * np.asarray(resistance_pa, np.float64))


def clay_adhesion_share(cohesion_pa: ArrayLike) -> Floats:
    """Share of the clay's strength that sticks to a shaft in uplift: 0.31 + 0.17 cu / 101 kPa. [-]

    Notes
    -----
    A straight line through tests; in the stiffest clays it is not taken above 1.

    References
    ----------
    murthy-17-10.
    """
    return np.minimum(0.31 + 0.17 * np.asarray(cohesion_pa, np.float64) / 101e3, 1.0)


def cone_soil_n(
    base_m: ArrayLike, shaft_m: ArrayLike, depth_m: ArrayLike, spread_rad: ArrayLike, soil_n_m3: ArrayLike
) -> Floats:
    """Weight of the soil in a cone that opens from the edge of the base up to grade.

    Parameters
    ----------
    base_m : array
        Diameter at the bottom: of the bell, or of the shaft where there is none. [m]
    shaft_m : array
        Diameter of the shaft, which is no soil. [m]
    depth_m : array
        Of the base below grade. [m]
    spread_rad : array
        Of the cone's side from the vertical. The full 30 degrees of the worked sheet is generous. [rad]
    soil_n_m3 : array
        Unit weight, the buoyant one below water. [N/m3]

    Returns
    -------
    float array
        Without the footing's own weight; a bell's excess over the shaft is counted as soil. [N]

    References
    ----------
    cone-sheet.
    """
    base, depth = np.asarray(base_m, np.float64), np.asarray(depth_m, np.float64)
    top = base + 2.0 * depth * np.tan(np.asarray(spread_rad, np.float64))
    soil = frustum_m3(base, top, depth) - cylinder_m3(shaft_m, depth)
    return np.asarray(soil * np.asarray(soil_n_m3, np.float64))


def bell_as_skin_n(skin_n: ArrayLike, shaft_m: ArrayLike, bell_m: ArrayLike) -> Floats:
    """Skin resistance with what a bell adds: about twice the skin for a bell of 2 D, nothing for a smaller one.

    Parameters
    ----------
    skin_n : array
        `shaft_skin_n`. [N]
    shaft_m, bell_m : array
        Diameters. [m]

    Returns
    -------
    float array
        Before any factor, without weight. [N]

    Notes
    -----
    For competent soil only. A step, not a slope: between no bell and 2 D nothing is published.

    References
    ----------
    bowles-bell (at second hand).
    """
    is_wide = np.asarray(bell_m, np.float64) >= BELL_DIAMETERS * np.asarray(shaft_m, np.float64) * (1 - 1e-9)
    return np.asarray(np.asarray(skin_n, np.float64) * np.where(is_wide, BELL_SKIN_FACTOR, 1.0))


def bell_ledge_soil_n(
    shaft_m: ArrayLike, bell_m: ArrayLike, cover_m: ArrayLike, soil_n_m3: ArrayLike
) -> Floats:
    """Weight of the ring of soil that stands on a bell's ledge: the cautious reading of a bell.

    Parameters
    ----------
    shaft_m, bell_m : array
        Diameters; no ledge where the bell is no wider. [m]
    cover_m : array
        From the top of the bell up to grade. [m]
    soil_n_m3 : array
        Unit weight. [N/m3]

    Returns
    -------
    float array
        [N]

    References
    ----------
    bowles-bell (another engineer in the same thread).
    """
    ring = cylinder_m3(bell_m, cover_m) - cylinder_m3(shaft_m, cover_m)
    return np.asarray(np.maximum(ring, 0.0) * np.asarray(soil_n_m3, np.float64))
