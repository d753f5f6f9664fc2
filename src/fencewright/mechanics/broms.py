"""Ultimate level load of a short stiff post free at its head, in clay and in sand (Broms 1964).

Ultimate values: the caller divides by a factor of safety (2 to 3 is usual, from memory). They serve as a
second opinion on the code's allowable-stress formulas in `embedment`.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.mechanics.cubic import positive_root

Floats = NDArray[np.float64]

# soil resistance 9 cu D, source: broms-1964a
CLAY_PRESSURE_FACTOR = 9.0
# no resistance down to 1.5 D, source: broms-1964a
CLAY_IDLE_DIAMETERS = 1.5


def passive_coefficient(friction_angle_rad: ArrayLike) -> Floats:
    """Rankine's passive coefficient Kp = tan^2(45 deg + angle / 2). [-]"""
    return np.asarray(np.tan(np.pi / 4 + np.asarray(friction_angle_rad, np.float64) / 2) ** 2)


def clay_capacity_n(
    depth_m: ArrayLike, height_m: ArrayLike, diameter_m: ArrayLike, cohesion_pa: ArrayLike
) -> Floats:
    """Ultimate pull at a height on a short post in clay.

    Parameters
    ----------
    depth_m : array
        Of the foot below grade. [m]
    height_m : array
        Of the pull above grade, 0 or more. [m]
    diameter_m : array
        Of the post, or of its concrete. [m]
    cohesion_pa : array
        Undrained shear strength. [Pa]

    Returns
    -------
    float array
        0 where the depth is at most 1.5 diameters. [N]

    Notes
    -----
    H = 9 cu D f; moments: H (e + 1.5 D + f/2) = 2.25 cu D g^2 with g = depth - 1.5 D - f. With
    a = depth - 1.5 D and E = e + 1.5 D that is f^2 + 2 (a + 2 E) f - a^2 = 0, one positive root.

    References
    ----------
    broms-1964a.
    """
    diameter = np.asarray(diameter_m, np.float64)
    idle = CLAY_IDLE_DIAMETERS * diameter
    a = np.maximum(np.asarray(depth_m, np.float64) - idle, 0.0)
    half = a + 2.0 * (np.asarray(height_m, np.float64) + idle)
    f = a**2 / (half + np.sqrt(half**2 + a**2))
    return np.asarray(CLAY_PRESSURE_FACTOR * np.asarray(cohesion_pa, np.float64) * diameter * f)


def clay_moment_n_m(
    pull_n: ArrayLike, height_m: ArrayLike, diameter_m: ArrayLike, cohesion_pa: ArrayLike
) -> Floats:
    """Greatest bending moment in a short post in clay under a pull: H (e + 1.5 D + f/2). [N m]

    Notes
    -----
    It lies 1.5 D + f below grade, where f = H / (9 cu D).
    """
    pull, diameter = np.asarray(pull_n, np.float64), np.asarray(diameter_m, np.float64)
    f = pull / (CLAY_PRESSURE_FACTOR * np.asarray(cohesion_pa, np.float64) * diameter)
    return np.asarray(pull * (np.asarray(height_m, np.float64) + CLAY_IDLE_DIAMETERS * diameter + f / 2.0))


def clay_depth_m(
    pull_n: ArrayLike, height_m: ArrayLike, diameter_m: ArrayLike, cohesion_pa: ArrayLike
) -> Floats:
    """Depth at which a pull, already times its factor of safety, is the ultimate one: 1.5 D + f + g. [m]

    Notes
    -----
    Inverse of `clay_capacity_n`; g = sqrt(Mmax / (2.25 cu D)).
    """
    diameter = np.asarray(diameter_m, np.float64)
    strength = np.asarray(cohesion_pa, np.float64) * diameter
    f = np.asarray(pull_n, np.float64) / (CLAY_PRESSURE_FACTOR * strength)
    moment = clay_moment_n_m(pull_n, height_m, diameter_m, cohesion_pa)
    g = np.sqrt(moment / (CLAY_PRESSURE_FACTOR / 4.0 * strength))
    return np.asarray(CLAY_IDLE_DIAMETERS * diameter + f + g)


def sand_capacity_n(
    depth_m: ArrayLike,
    height_m: ArrayLike,
    diameter_m: ArrayLike,
    soil_n_m3: ArrayLike,
    friction_angle_rad: ArrayLike,
) -> Floats:
    """Ultimate pull at a height on a short post in sand.

    Parameters
    ----------
    depth_m, height_m, diameter_m
        As for clay; height and depth not both 0. [m]
    soil_n_m3 : array
        Unit weight, the buoyant one below water. [N/m3]
    friction_angle_rad : array
        Of the sand. [rad]

    Returns
    -------
    float array
        [N]

    Notes
    -----
    H = gamma D L^3 Kp / (2 (e + L)).

    References
    ----------
    broms-1964b (from memory).
    """
    depth = np.asarray(depth_m, np.float64)
    hold = np.asarray(soil_n_m3, np.float64) * np.asarray(diameter_m, np.float64)
    hold = hold * passive_coefficient(friction_angle_rad)
    return np.asarray(hold * depth**3 / (2.0 * (np.asarray(height_m, np.float64) + depth)))


def sand_moment_n_m(
    pull_n: ArrayLike,
    height_m: ArrayLike,
    diameter_m: ArrayLike,
    soil_n_m3: ArrayLike,
    friction_angle_rad: ArrayLike,
) -> Floats:
    """Greatest bending moment in a short post in sand under a pull: H (e + 2 f / 3). [N m]

    Notes
    -----
    Where shear is zero, at f below grade: 1.5 gamma D Kp f^2 = H.
    """
    pull = np.asarray(pull_n, np.float64)
    hold = np.asarray(soil_n_m3, np.float64) * np.asarray(diameter_m, np.float64)
    f = np.sqrt(pull / (1.5 * hold * passive_coefficient(friction_angle_rad)))
    return np.asarray(pull * (np.asarray(height_m, np.float64) + 2.0 * f / 3.0))


def sand_depth_m(
    pull_n: ArrayLike,
    height_m: ArrayLike,
    diameter_m: ArrayLike,
    soil_n_m3: ArrayLike,
    friction_angle_rad: ArrayLike,
) -> Floats:
    """Depth at which a pull, already times its factor of safety, is the ultimate one in sand. [m]

    Notes
    -----
    L^3 = k (L + e) with k = 2 H / (gamma D Kp); inverse of `sand_capacity_n`.
    """
    hold = np.asarray(soil_n_m3, np.float64) * np.asarray(diameter_m, np.float64)
    k = 2.0 * np.asarray(pull_n, np.float64) / (hold * passive_coefficient(friction_angle_rad))
    return positive_root(k, k * np.asarray(height_m, np.float64))
