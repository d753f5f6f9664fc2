"""A stiff post in soil whose stiffness grows with depth: how far it moves and turns, and its stiffness.

Soil reaction per length is nh z y (subgrade nh, depth z, movement y). Linear: for working loads only.
"""

from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

# nh of sand in N/m3, orders of magnitude from memory, source: terzaghi-1955
SUBGRADE_DRY_N_M3 = MappingProxyType({"loose": 2.2e6, "medium": 6.6e6, "dense": 17.6e6})
# the same below water, source: terzaghi-1955
SUBGRADE_WET_N_M3 = MappingProxyType({"loose": 1.3e6, "medium": 4.4e6, "dense": 10.7e6})
# a post is rigid where depth (nh / EI)^0.2 is below 2, from memory, source: broms-1964b
RIGID_LIMIT = 2.0
LEAST_LEAD_N_M = 1e-300  # a post without load has no place of no shear, and none is asked


def relative_depth(depth_m: ArrayLike, subgrade_n_m3: ArrayLike, bending_stiffness_n_m2: ArrayLike) -> Floats:
    """Depth over the elastic length: L (nh / EI)^0.2; below `RIGID_LIMIT` a post turns as a stiff body. [-]"""
    ratio = np.asarray(subgrade_n_m3, np.float64) / np.asarray(bending_stiffness_n_m2, np.float64)
    return np.asarray(np.asarray(depth_m, np.float64) * ratio**0.2)


def grade_movement_m(
    pull_n: ArrayLike, moment_n_m: ArrayLike, depth_m: ArrayLike, subgrade_n_m3: ArrayLike
) -> Floats:
    """Movement at grade, towards the pull.

    Parameters
    ----------
    pull_n : array
        Level force. [N]
    moment_n_m : array
        At grade, positive when it tips the post towards the pull. [N m]
    depth_m : array
        Of the foot, above 0. [m]
    subgrade_n_m3 : array
        nh, above 0. [N/m3]

    Returns
    -------
    float array
        [m]

    Notes
    -----
    y0 = (18 H + 24 M / L) / (nh L^2), from the two equilibria of y = y0 - turn z:
    nh (y0 L^2 / 2 - turn L^3 / 3) = H and nh (turn L^4 / 4 - y0 L^3 / 3) = M.
    """
    depth = np.asarray(depth_m, np.float64)
    load = 18.0 * np.asarray(pull_n, np.float64) + 24.0 * np.asarray(moment_n_m, np.float64) / depth
    return np.asarray(load / (np.asarray(subgrade_n_m3, np.float64) * depth**2))


def rotation_rad(
    pull_n: ArrayLike, moment_n_m: ArrayLike, depth_m: ArrayLike, subgrade_n_m3: ArrayLike
) -> Floats:
    """Lean of the post towards the pull: (24 H + 36 M / L) / (nh L^3). Arguments as `grade_movement_m`. [rad]"""
    depth = np.asarray(depth_m, np.float64)
    load = 24.0 * np.asarray(pull_n, np.float64) + 36.0 * np.asarray(moment_n_m, np.float64) / depth
    return np.asarray(load / (np.asarray(subgrade_n_m3, np.float64) * depth**3))


def pivot_depth_m(pull_n: ArrayLike, moment_n_m: ArrayLike, depth_m: ArrayLike) -> Floats:
    """Depth of the point about which the post turns, 2/3 to 3/4 of its depth, whatever the soil. [m]

    Notes
    -----
    Movement at grade over rotation; for no load at all the limit of a pull at grade, 3/4.
    """
    depth = np.asarray(depth_m, np.float64)
    pull, moment = np.asarray(pull_n, np.float64), np.asarray(moment_n_m, np.float64)
    over = 18.0 * pull * depth + 24.0 * moment
    under = 24.0 * pull * depth + 36.0 * moment
    share = np.divide(over, under, out=np.full(np.broadcast(over, under).shape, 0.75), where=under != 0)
    return np.asarray(depth * share)


def movement_at_height_m(
    pull_n: ArrayLike,
    moment_n_m: ArrayLike,
    depth_m: ArrayLike,
    subgrade_n_m3: ArrayLike,
    height_m: ArrayLike,
) -> Floats:
    """Movement of the stiff post at a height above grade, its own bending left out. [m]"""
    turn = rotation_rad(pull_n, moment_n_m, depth_m, subgrade_n_m3)
    base = grade_movement_m(pull_n, moment_n_m, depth_m, subgrade_n_m3)
    return np.asarray(base + turn * np.asarray(height_m, np.float64))


def stiffness_n_m(
    height_m: ArrayLike,
    depth_m: ArrayLike,
    subgrade_n_m3: ArrayLike,
    bending_stiffness_n_m2: ArrayLike = np.inf,
) -> Floats:
    """Force at a height that moves the post there by one metre: soil, and bending above grade.

    Parameters
    ----------
    height_m : array
        Of the force above grade. [m]
    depth_m, subgrade_n_m3 : array
        As for `grade_movement_m`.
    bending_stiffness_n_m2 : array
        E I of the post; infinite leaves its bending out. [N m2]

    Returns
    -------
    float array
        [N/m]

    Notes
    -----
    1 / (y0 + turn e + e^3 / (3 E I)) for a unit pull; bending below grade is left out.
    """
    height = np.asarray(height_m, np.float64)
    soil = movement_at_height_m(1.0, height, depth_m, subgrade_n_m3, height)
    return np.asarray(1.0 / (soil + height**3 / (3.0 * np.asarray(bending_stiffness_n_m2, np.float64))))


def greatest_moment_n_m(pull_n: ArrayLike, moment_n_m: ArrayLike, depth_m: ArrayLike) -> Floats:
    """Greatest bending moment in the buried part, at or below grade, whatever the soil's stiffness. [N m]

    Notes
    -----
    With x = z / L the shear vanishes where (8 H + 12 M / L) x^2 = H (1 + x); there the moment is
    M + H L x - (18 H L + 24 M) x^3 / 6 + (24 H L + 36 M) x^4 / 12. Pull and moment must not oppose.
    """
    depth = np.asarray(depth_m, np.float64)
    pull, moment = np.broadcast_arrays(
        np.abs(np.asarray(pull_n, np.float64)) * depth, np.abs(np.asarray(moment_n_m, np.float64))
    )
    base = 2.0 * pull + 3.0 * moment
    lead = 4.0 * base
    x = (pull + np.sqrt(pull**2 + 4.0 * lead * pull)) / np.maximum(2.0 * lead, LEAST_LEAD_N_M)
    grown = moment + pull * x - (3.0 * pull + 4.0 * moment) * x**3 + base * x**4
    return np.asarray(grown)
