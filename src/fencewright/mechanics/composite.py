"""A rail of wires in a polymer: parts side by side that stretch together.

Parts run along the last axis of every array, one column a part (wires, polymer). To leave the polymer's
stiffness out, give it a modulus of 0: its weight still counts.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


def wires_area_m2(diameter_m: ArrayLike, wires: ArrayLike = 1) -> Floats:
    """Area of round wires: n pi d^2 / 4. [m2]"""
    return np.asarray(np.asarray(wires) * np.pi / 4.0 * np.asarray(diameter_m, np.float64) ** 2)


def axial_stiffness_n(area_m2: ArrayLike, modulus_pa: ArrayLike) -> Floats:
    """Stiffness of the whole: the sum of E A over its parts; shape (..., parts) to (...). [N]"""
    return np.asarray(np.sum(_product(area_m2, modulus_pa), axis=-1))


def load_share(area_m2: ArrayLike, modulus_pa: ArrayLike) -> Floats:
    """Share of a tension that each part takes: its E A over that of all; sums to 1. [-]"""
    each = _product(area_m2, modulus_pa)
    return np.asarray(each / np.sum(each, axis=-1, keepdims=True))


def expansion_per_c(area_m2: ArrayLike, modulus_pa: ArrayLike, part_expansion_per_c: ArrayLike) -> Floats:
    """Expansion of the whole: that of its parts, weighted by E A. [1/C]

    Notes
    -----
    Parts bound to each other along the whole length: one strain. A soft polymer that expands ten times as
    much as steel adds little.

    References
    ----------
    composite-bar.
    """
    share = load_share(area_m2, modulus_pa)
    return np.asarray(np.sum(share * np.asarray(part_expansion_per_c, np.float64), axis=-1))


def part_tension_n(
    tension_n: ArrayLike,
    warmer_c: ArrayLike,
    area_m2: ArrayLike,
    modulus_pa: ArrayLike,
    part_expansion_per_c: ArrayLike,
) -> Floats:
    """Tension in each part, with what the parts do to each other when the rail warms.

    Parameters
    ----------
    tension_n : array (rails,)
        Of the whole rail. [N]
    warmer_c : array (rails,)
        Above the temperature at which the parts did not strain each other. [C]
    area_m2, modulus_pa, part_expansion_per_c : array (parts,) or (rails, parts)
        [m2], [Pa], [1/C]

    Returns
    -------
    float array (rails, parts)
        Sums to the tension of the rail; below 0 in compression. [N]

    References
    ----------
    composite-bar.
    """
    tension, warmer = np.asarray(tension_n, np.float64), np.asarray(warmer_c, np.float64)
    each = np.asarray(part_expansion_per_c, np.float64)
    together = expansion_per_c(area_m2, modulus_pa, each)
    held_back = np.asarray(together)[..., np.newaxis] - each
    return np.asarray(
        load_share(area_m2, modulus_pa) * tension[..., np.newaxis]
        + _product(area_m2, modulus_pa) * held_back * warmer[..., np.newaxis]
    )


def line_mass_kg_m(area_m2: ArrayLike, density_kg_m3: ArrayLike) -> Floats:
    """Mass of a metre of rail; shape (..., parts) to (...). [kg/m]"""
    return np.asarray(np.sum(_product(area_m2, density_kg_m3), axis=-1))


def breaking_load_n(area_m2: ArrayLike, strength_pa: ArrayLike) -> Floats:
    """Breaking load of wires of one strength: area x strength; the polymer adds nothing. [N]"""
    return _product(area_m2, strength_pa)


def stretch_m(tension_n: ArrayLike, length_m: ArrayLike, stiffness_n: ArrayLike) -> Floats:
    """Stretch of a straight rail from no tension: T L / (E A), also of a marked length. [m]"""
    return np.asarray(_product(tension_n, length_m) / np.asarray(stiffness_n, np.float64))


def _product(first: ArrayLike, second: ArrayLike) -> Floats:
    """Product of two arrays."""
    return np.asarray(np.asarray(first, np.float64) * np.asarray(second, np.float64))
