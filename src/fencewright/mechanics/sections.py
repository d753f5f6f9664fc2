"""Cross-sections of posts and braces: round timber, its square of equal area, a taper, steel pipe."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

# a tapered column is as thick as its tip plus a third of the taper, from memory, source: nds-timber
TAPER_SHARE = 1.0 / 3.0


def round_area_m2(diameter_m: ArrayLike) -> Floats:
    """Area of a round section: pi D^2 / 4. [m2]"""
    return np.asarray(np.pi / 4 * np.asarray(diameter_m, np.float64) ** 2)


def round_inertia_m4(diameter_m: ArrayLike) -> Floats:
    """Second moment of a round section: pi D^4 / 64. [m4]"""
    return np.asarray(np.pi / 64 * np.asarray(diameter_m, np.float64) ** 4)


def round_modulus_m3(diameter_m: ArrayLike) -> Floats:
    """Section modulus of a round section: pi D^3 / 32. [m3]"""
    return np.asarray(np.pi / 32 * np.asarray(diameter_m, np.float64) ** 3)


def round_gyration_m(diameter_m: ArrayLike) -> Floats:
    """Radius of gyration of a round section: D / 4. [m]"""
    return np.asarray(diameter_m, np.float64) / 4.0


def round_for_modulus_m(modulus_m3: ArrayLike) -> Floats:
    """Diameter of the round section that has a section modulus; inverse of `round_modulus_m3`. [m]"""
    return np.cbrt(32.0 / np.pi * np.asarray(modulus_m3, np.float64))


def equal_square_m(diameter_m: ArrayLike) -> Floats:
    """Side of the square that has the area of a round section: 0.886 D. [m]"""
    return np.asarray(np.sqrt(np.pi) / 2 * np.asarray(diameter_m, np.float64))


def tapered_diameter_m(tip_m: ArrayLike, butt_m: ArrayLike) -> Floats:
    """Diameter by which a tapered round column is checked: the tip and a third of the taper. [m]

    References
    ----------
    nds-timber (from memory): for columns held at both ends, K = 1.
    """
    tip = np.asarray(tip_m, np.float64)
    return np.asarray(tip + (np.asarray(butt_m, np.float64) - tip) * TAPER_SHARE)


def _bore_m(outer_m: ArrayLike, wall_m: ArrayLike) -> Floats:
    """Inner diameter of a pipe, 0 where the walls meet."""
    return np.maximum(np.asarray(outer_m, np.float64) - 2.0 * np.asarray(wall_m, np.float64), 0.0)


def pipe_area_m2(outer_m: ArrayLike, wall_m: ArrayLike) -> Floats:
    """Area of a pipe's wall from its outer diameter and wall. [m2]"""
    return np.asarray(round_area_m2(outer_m) - round_area_m2(_bore_m(outer_m, wall_m)))


def pipe_inertia_m4(outer_m: ArrayLike, wall_m: ArrayLike) -> Floats:
    """Second moment of a pipe. [m4]"""
    return np.asarray(round_inertia_m4(outer_m) - round_inertia_m4(_bore_m(outer_m, wall_m)))


def pipe_modulus_m3(outer_m: ArrayLike, wall_m: ArrayLike) -> Floats:
    """Elastic section modulus of a pipe: 2 I / D. [m3]"""
    return np.asarray(2.0 * pipe_inertia_m4(outer_m, wall_m) / np.asarray(outer_m, np.float64))


def pipe_plastic_modulus_m3(outer_m: ArrayLike, wall_m: ArrayLike) -> Floats:
    """Plastic section modulus of a pipe: (D^3 - d^3) / 6. [m3]"""
    outer, bore = np.asarray(outer_m, np.float64), _bore_m(outer_m, wall_m)
    return np.asarray((outer**3 - bore**3) / 6.0)


def pipe_gyration_m(outer_m: ArrayLike, wall_m: ArrayLike) -> Floats:
    """Radius of gyration of a pipe: sqrt(D^2 + d^2) / 4. [m]"""
    return np.asarray(np.hypot(np.asarray(outer_m, np.float64), _bore_m(outer_m, wall_m)) / 4.0)
