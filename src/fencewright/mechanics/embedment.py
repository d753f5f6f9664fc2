"""Depth of a post set in soil against a level pull: the building code's two formulas and their inverses.

Loads come as one pull and one moment at grade (`resultant.resultant_at_grade` puts several together), at
allowable-stress level. Signs do not matter: magnitudes are taken, so a moment that works against its pull
is counted with it, on the safe side.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.mechanics.cubic import positive_root

Floats = NDArray[np.float64]

# 12 ft: d is not taken larger when the pressure is computed, source: ibc-1807
PRESSURE_DEPTH_LIMIT_M = 3.6576
# A = 2.34 P / (S1 b), source: ibc-1807 eq. 18-1
FREE_FACTOR = 2.34
# 4.36 h / A under the root of eq. 18-1, a quarter of it once solved for A, source: ibc-1807 eq. 18-1
FREE_LEVER = 1.09
# S1 is the pressure at a third of the depth, source: ibc-1807
FREE_DEPTH_SHARE = 1.0 / 3.0
# d^2 = 4.25 M / (S3 b), source: ibc-1807 eq. 18-2 and 18-3
CONSTRAINED_FACTOR = 4.25
# doubling of the lateral value where 1/2 in of motion at grade does no harm, source: ibc-1806-3
MOTION_FACTOR = 2.0


def lateral_value_pa_m(tabular_pa_m: ArrayLike, *, is_motion_accepted: bool) -> Floats:
    """Lateral bearing per metre of depth, doubled where 1/2 in of motion at grade is accepted. [Pa/m]

    References
    ----------
    ibc-1806-3 (1806.3.4): isolated poles, or poles of what is not harmed by that motion.
    """
    factor = MOTION_FACTOR if is_motion_accepted else 1.0
    return np.asarray(np.asarray(tabular_pa_m, np.float64) * factor)


def square_width_m(side_m: ArrayLike) -> Floats:
    """Width b of a square post or footing in the code's formulas: its diagonal. [m]"""
    return np.asarray(np.asarray(side_m, np.float64) * np.sqrt(2.0))


def free_pressure_pa(
    depth_m: ArrayLike, lateral_pa_m: ArrayLike, depth_limit_m: float = PRESSURE_DEPTH_LIMIT_M
) -> Floats:
    """Allowable lateral pressure S1 at a third of the depth, the depth counted up to its limit. [Pa]"""
    counted = np.minimum(np.asarray(depth_m, np.float64), depth_limit_m)
    return np.asarray(np.asarray(lateral_pa_m, np.float64) * counted * FREE_DEPTH_SHARE)


def depth_at_pressure_m(
    pull_n: ArrayLike, moment_n_m: ArrayLike, width_m: ArrayLike, pressure_pa: ArrayLike
) -> Floats:
    """Depth of a post free at grade when S1 is given, as if it did not grow with that depth. [m]

    Parameters
    ----------
    pull_n : array
        Level force. [N]
    moment_n_m : array
        Its moment at grade. [N m]
    width_m : array
        Diameter of a round post or footing, diagonal of a square one. [m]
    pressure_pa : array
        S1, usually `free_pressure_pa` of the depth that is provided; 0 gives an infinite depth. [Pa]

    Notes
    -----
    d = A/2 (1 + sqrt(1 + 4.36 h / A)) with A = 2.34 P / (S1 b); written as the root of
    d^2 = A d + 1.09 A h, which also holds for a pure couple. With S1 at the depth provided this comes out
    below that depth just when `free_depth_m` does, though the two are equal only where they meet it.

    References
    ----------
    ibc-1807 (1807.3.2.1, eq. 18-1).
    """
    hold = np.asarray(pressure_pa, np.float64) * np.asarray(width_m, np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):
        a = FREE_FACTOR * np.abs(np.asarray(pull_n, np.float64)) / hold
        couple = FREE_FACTOR * FREE_LEVER * np.abs(np.asarray(moment_n_m, np.float64)) / hold
        return np.asarray(a / 2.0 + np.sqrt(a**2 / 4.0 + couple))


def free_depth_m(
    pull_n: ArrayLike,
    moment_n_m: ArrayLike,
    width_m: ArrayLike,
    lateral_pa_m: ArrayLike,
    depth_limit_m: float = PRESSURE_DEPTH_LIMIT_M,
) -> Floats:
    """Depth that a post needs which nothing holds at grade.

    Parameters
    ----------
    pull_n : array
        Level force. [N]
    moment_n_m : array
        Its moment at grade: pull times height. [N m]
    width_m : array
        Diameter of a round post or footing, diagonal of a square one, above 0. [m]
    lateral_pa_m : array
        Allowable lateral bearing per metre of depth, above 0. [Pa/m]
    depth_limit_m : float
        Depth up to which S1 is taken to grow; 36 ft for the reading that limits d/3. [m]

    Returns
    -------
    float array
        0 without load, infinite where the soil has no lateral value. Shapes broadcast. [m]

    Notes
    -----
    S1 = s d/3 put into eq. 18-1 gives d^3 = c (d + 1.09 h), c = 7.02 P / (s b): one positive root in closed
    form, where feeding d back into the formula would swing about it. Past the limit S1 stays.
    The value at 15 times the table's (1806.3.3) is never reached within 12 ft.

    References
    ----------
    ibc-1807 (1807.3.2.1, eq. 18-1).
    """
    lateral, width = np.asarray(lateral_pa_m, np.float64), np.asarray(width_m, np.float64)
    hold = np.where(lateral > 0, lateral * width * FREE_DEPTH_SHARE, 1.0)
    pull = FREE_FACTOR * np.abs(np.asarray(pull_n, np.float64))
    moment = FREE_FACTOR * FREE_LEVER * np.abs(np.asarray(moment_n_m, np.float64))
    depth = positive_root(pull / hold, moment / hold)
    is_past = depth > depth_limit_m
    if is_past.any():
        pressure = free_pressure_pa(depth_limit_m, lateral, depth_limit_m)
        depth = np.where(is_past, depth_at_pressure_m(pull_n, moment_n_m, width_m, pressure), depth)
    is_hopeless = (lateral <= 0) & (pull + moment > 0)
    return np.asarray(np.where(is_hopeless, np.inf, np.where(pull + moment > 0, depth, 0.0)))


def free_capacity_n(
    depth_m: ArrayLike,
    height_m: ArrayLike,
    width_m: ArrayLike,
    lateral_pa_m: ArrayLike,
    depth_limit_m: float = PRESSURE_DEPTH_LIMIT_M,
) -> Floats:
    """Pull at a height that a post free at grade may take at a given depth; inverse of `free_depth_m`. [N]

    Notes
    -----
    A = d^2 / (d + 1.09 h), P = A S1 b / 2.34; 0 at no depth.
    """
    depth = np.asarray(depth_m, np.float64)
    lever = depth + FREE_LEVER * np.asarray(height_m, np.float64)
    a = np.divide(depth**2, lever, out=np.zeros(np.broadcast(depth, lever).shape), where=lever > 0)
    pressure = free_pressure_pa(depth, lateral_pa_m, depth_limit_m)
    return np.asarray(a * pressure * np.asarray(width_m, np.float64) / FREE_FACTOR)


def free_utilisation(
    pull_n: ArrayLike,
    moment_n_m: ArrayLike,
    depth_m: ArrayLike,
    width_m: ArrayLike,
    lateral_pa_m: ArrayLike,
    depth_limit_m: float = PRESSURE_DEPTH_LIMIT_M,
) -> Floats:
    """Demand over capacity of a post free at grade, linear in its loads; infinite without depth or soil. [-]

    Notes
    -----
    2.34 (P d + 1.09 M) / (S1 b d^2): the pull over `free_capacity_n` at its own height, and sound for a couple.
    """
    depth = np.asarray(depth_m, np.float64)
    demand = np.abs(np.asarray(pull_n, np.float64)) * depth
    demand = FREE_FACTOR * (demand + FREE_LEVER * np.abs(np.asarray(moment_n_m, np.float64)))
    hold = free_pressure_pa(depth, lateral_pa_m, depth_limit_m) * np.asarray(width_m, np.float64) * depth**2
    if (hold > 0).all():
        return np.asarray(demand / hold)
    none = np.where(np.broadcast_arrays(demand, hold)[0] > 0, np.inf, 0.0)
    return np.divide(demand, hold, out=none, where=hold > 0)


def constrained_depth_m(
    moment_n_m: ArrayLike,
    width_m: ArrayLike,
    lateral_pa_m: ArrayLike,
    depth_limit_m: float = PRESSURE_DEPTH_LIMIT_M,
) -> Floats:
    """Depth of a post held at grade by something rigid, such as a slab.

    Parameters
    ----------
    moment_n_m : array
        At grade: Mg of eq. 18-3, or P h of eq. 18-2. [N m]
    width_m, lateral_pa_m, depth_limit_m
        As for `free_depth_m`; S3 is taken at the full depth up to the limit.

    Returns
    -------
    float array
        [m]

    Notes
    -----
    d^2 = 4.25 M / (S3 b) with S3 = s d, so d^3 = 4.25 M / (s b); past the limit S3 stays.

    References
    ----------
    ibc-1807 (1807.3.2.2, eq. 18-2 and 18-3).
    """
    hold = np.asarray(lateral_pa_m, np.float64) * np.asarray(width_m, np.float64)
    demand = CONSTRAINED_FACTOR * np.abs(np.asarray(moment_n_m, np.float64))
    none = np.where(np.broadcast_arrays(demand, hold)[0] > 0, np.inf, 0.0)
    cubed = np.divide(demand, hold, out=none, where=hold > 0)
    growing = np.cbrt(cubed)
    return np.asarray(np.where(growing > depth_limit_m, np.sqrt(cubed / depth_limit_m), growing))


def constrained_moment_n_m(
    depth_m: ArrayLike,
    width_m: ArrayLike,
    lateral_pa_m: ArrayLike,
    depth_limit_m: float = PRESSURE_DEPTH_LIMIT_M,
) -> Floats:
    """Moment at grade that a post held there may take at a given depth; inverse of `constrained_depth_m`. [N m]"""
    depth = np.asarray(depth_m, np.float64)
    pressure = np.asarray(lateral_pa_m, np.float64) * np.minimum(depth, depth_limit_m)
    return np.asarray(pressure * np.asarray(width_m, np.float64) * depth**2 / CONSTRAINED_FACTOR)
