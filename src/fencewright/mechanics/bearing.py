"""Footings on and against soil: presumptive bearing down and sideways, and sliding."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

# the lateral value grows to 15 times the table's value per foot, that is to 15 ft, from memory, source: ibc-1806-3
LATERAL_DEPTH_LIMIT_M = 4.572
# sliding on clay: cohesion, at most half the dead load, source: ibc-1806
COHESION_DEAD_SHARE = 0.5


def lateral_bearing_pa(depth_m: ArrayLike, lateral_pa_m: ArrayLike) -> Floats:
    """Lateral bearing at a depth: the table's value times the depth, up to 15 ft. [Pa]

    Notes
    -----
    The vertical value of the table does not grow with depth.

    References
    ----------
    ibc-1806-3 (1806.3.3, from memory).
    """
    counted = np.clip(np.asarray(depth_m, np.float64), 0.0, LATERAL_DEPTH_LIMIT_M)
    return np.asarray(np.asarray(lateral_pa_m, np.float64) * counted)


def bearing_pressure_pa(load_n: ArrayLike, area_m2: ArrayLike) -> Floats:
    """Pressure under a footing loaded at its centre; infinite where there is load and no area. [Pa]"""
    load, area = np.broadcast_arrays(np.asarray(load_n, np.float64), np.asarray(area_m2, np.float64))
    none = np.where(load > 0, np.inf, 0.0)
    return np.asarray(np.divide(load, area, out=none, where=area > 0))


def bearing_capacity_n(area_m2: ArrayLike, bearing_pa: ArrayLike) -> Floats:
    """Load that a footing may put on soil at its presumptive value; 0 where that is unknown (NaN). [N]

    References
    ----------
    ibc-1806 (table 1806.2).
    """
    return np.asarray(np.asarray(area_m2, np.float64) * np.nan_to_num(np.asarray(bearing_pa, np.float64)))


def face_capacity_n(
    top_depth_m: ArrayLike, bottom_depth_m: ArrayLike, width_m: ArrayLike, lateral_pa_m: ArrayLike
) -> Floats:
    """Level push that the upright face of a footing may put on soil: the lateral value over its area.

    Parameters
    ----------
    top_depth_m, bottom_depth_m : array
        Of the face below grade, the bottom not above the top. [m]
    width_m : array
        Across the push. [m]
    lateral_pa_m : array
        Lateral bearing per metre of depth; NaN counts for nothing. [Pa/m]

    Returns
    -------
    float array
        s b (z2^2 - z1^2) / 2, its growth ended at 15 ft; holds where the footing moves without tipping. [N]

    References
    ----------
    ibc-1806.
    """
    lateral = np.nan_to_num(np.asarray(lateral_pa_m, np.float64))

    def grown(depth_m: ArrayLike) -> Floats:
        depth = np.asarray(depth_m, np.float64)
        counted = np.minimum(depth, LATERAL_DEPTH_LIMIT_M)
        return np.asarray(counted**2 / 2.0 + LATERAL_DEPTH_LIMIT_M * (depth - counted))

    push = lateral * (grown(bottom_depth_m) - grown(top_depth_m))
    return np.asarray(np.maximum(push, 0.0) * np.asarray(width_m, np.float64))


def sliding_capacity_n(
    dead_load_n: ArrayLike, area_m2: ArrayLike, friction: ArrayLike, cohesion_pa: ArrayLike
) -> Floats:
    """Level push that the base of a footing may pass to the soil below.

    Parameters
    ----------
    dead_load_n : array
        Weight on the base, less any uplift; none below 0 is counted. [N]
    area_m2 : array
        Of the base. [m2]
    friction : array
        Coefficient of classes 1 to 4; NaN where the soil has cohesion instead. [-]
    cohesion_pa : array
        Of class 5; NaN where the soil has friction instead. [Pa]

    Returns
    -------
    float array
        Friction times load, or cohesion times area but at most half the load; 0 where both are unknown. [N]

    References
    ----------
    ibc-1806 (table 1806.2 and 1806.3.2).
    """
    dead = np.maximum(np.asarray(dead_load_n, np.float64), 0.0)
    rub = np.nan_to_num(np.asarray(friction, np.float64)) * dead
    stick = np.nan_to_num(np.asarray(cohesion_pa, np.float64)) * np.asarray(area_m2, np.float64)
    return np.asarray(np.maximum(rub, np.minimum(stick, COHESION_DEAD_SHARE * dead)))
