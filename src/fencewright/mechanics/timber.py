"""Round timber at allowable stress: adjusted values, bending, shear, column stability, both at once.

Reference values (bending, shear, compression, modulus) are rows of the catalogue and come as arguments.
Values at rupture are three to four times the allowable ones: never pass them here.
"""

from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.mechanics.sections import equal_square_m, round_area_m2, round_modulus_m3

Floats = NDArray[np.float64]

# load duration, from memory, source: nds-timber 2.3.2
DURATION = MappingProxyType(
    {"permanent": 0.9, "ten years": 1.0, "two months": 1.15, "seven days": 1.25, "wind": 1.6, "impact": 2.0}
)
# FcE = 0.822 Emin' / (le/d)^2, source: nds-timber 3.7.1
EULER_FACTOR = 0.822
# c of the stability factor: sawn and glued read, round poles and piles from memory, source: nds-timber 3.7.1
STABILITY_SAWN = 0.8
STABILITY_ROUND = 0.85
STABILITY_GLUED = 0.9
# le/d at most 50, source: nds-timber 3.7.1
MOST_SLENDERNESS = 50.0
# round bending members are reduced above 13.5 in, by (12 / side of the equal square)^(1/9), source: nds-timber
SIZE_FROM_M = 0.3429
SIZE_REFERENCE_M = 0.3048


def adjusted_pa(
    reference_pa: ArrayLike, duration: ArrayLike = 1.0, wet_service: ArrayLike = 1.0, size: ArrayLike = 1.0
) -> Floats:
    """Reference value times its factors: load duration, wet service, size. [Pa]

    Notes
    -----
    Duration does not apply to a modulus. Pole and pile values are published for wet use (from memory):
    wet service below 1 is for rows of dry values. A row's value already holds for a round section.
    """
    factors = np.asarray(duration, np.float64) * np.asarray(wet_service, np.float64)
    return np.asarray(np.asarray(reference_pa, np.float64) * factors * np.asarray(size, np.float64))


def size_factor(diameter_m: ArrayLike) -> Floats:
    """Size factor of round timber in bending: 1 up to 13.5 in, which takes in every fence post. [-]

    References
    ----------
    nds-timber (from memory).
    """
    side = equal_square_m(diameter_m)
    large = np.minimum((SIZE_REFERENCE_M / np.where(side > 0, side, SIZE_REFERENCE_M)) ** (1.0 / 9.0), 1.0)
    return np.asarray(np.where(np.asarray(diameter_m, np.float64) > SIZE_FROM_M, large, 1.0))


def bending_stress_pa(moment_n_m: ArrayLike, diameter_m: ArrayLike) -> Floats:
    """Bending stress at the skin of round timber: M / S. [Pa]"""
    return np.asarray(np.abs(np.asarray(moment_n_m, np.float64)) / round_modulus_m3(diameter_m))


def bending_capacity_n_m(diameter_m: ArrayLike, bending_pa: ArrayLike) -> Floats:
    """Bending moment that round timber may take at an adjusted bending value: F S. [N m]"""
    return np.asarray(round_modulus_m3(diameter_m) * np.asarray(bending_pa, np.float64))


def shear_stress_pa(shear_n: ArrayLike, diameter_m: ArrayLike) -> Floats:
    """Greatest shear stress along the grain of round timber: 4 V / (3 A). [Pa]"""
    return np.asarray(4.0 / 3.0 * np.abs(np.asarray(shear_n, np.float64)) / round_area_m2(diameter_m))


def shear_capacity_n(diameter_m: ArrayLike, shear_pa: ArrayLike) -> Floats:
    """Shear that round timber may take at an adjusted shear value: 3 A F / 4. [N]"""
    return np.asarray(0.75 * round_area_m2(diameter_m) * np.asarray(shear_pa, np.float64))


def column_buckling_pa(
    least_modulus_pa: ArrayLike, slenderness: ArrayLike, euler_factor: float = EULER_FACTOR
) -> Floats:
    """Critical stress of a timber column.

    Parameters
    ----------
    least_modulus_pa : array
        Adjusted Emin. [Pa]
    slenderness : array
        Effective length over the side of a rectangle; infinite stress at 0. [-]
    euler_factor : float
        0.822 with Emin; 0.3 with E in editions before 2005. [-]

    Returns
    -------
    float array
        [Pa]

    References
    ----------
    nds-timber (3.7.1); gere-7e for the older factor.
    """
    with np.errstate(divide="ignore"):
        return np.asarray(
            euler_factor * np.asarray(least_modulus_pa, np.float64) / np.asarray(slenderness, np.float64) ** 2
        )


def column_stability(
    buckling_pa: ArrayLike, compression_pa: ArrayLike, stability: float = STABILITY_ROUND
) -> Floats:
    """Column stability factor Cp, 0 to 1.

    Parameters
    ----------
    buckling_pa : array
        `column_buckling_pa`. [Pa]
    compression_pa : array
        Fc*, the compression value with every factor but this one, above 0. [Pa]
    stability : float
        c: 0.8 sawn, 0.85 round, 0.9 glued. [-]

    Returns
    -------
    float array
        [-]

    Notes
    -----
    Cp = (1 + r)/2c - sqrt(((1 + r)/2c)^2 - r/c), r = FcE / Fc*; written as the quotient that loses no
    digits for stocky columns.

    References
    ----------
    nds-timber (3.7.1).
    """
    ratio = np.asarray(buckling_pa, np.float64) / np.asarray(compression_pa, np.float64)
    with np.errstate(divide="ignore"):
        flip = 1.0 / ratio
    half = (1.0 + flip) / (2.0 * stability)
    return np.asarray((1.0 / stability) / (half + np.sqrt(half**2 - flip / stability)))


def round_slenderness(diameter_m: ArrayLike, length_m: ArrayLike) -> Floats:
    """Slenderness le/d of a round column as the square of equal area; the length is the effective one. [-]"""
    return np.asarray(np.asarray(length_m, np.float64) / equal_square_m(diameter_m))


def round_column_pa(
    diameter_m: ArrayLike,
    length_m: ArrayLike,
    compression_pa: ArrayLike,
    least_modulus_pa: ArrayLike,
    stability: float = STABILITY_ROUND,
) -> Floats:
    """Compression that a round column may carry along its length.

    Parameters
    ----------
    diameter_m : array
        `sections.tapered_diameter_m` for a tapered one. [m]
    length_m : array
        Effective length, K times the length between supports. [m]
    compression_pa : array
        Fc*, adjusted but for stability. [Pa]
    least_modulus_pa : array
        Adjusted Emin. [Pa]
    stability : float
        c. [-]

    Returns
    -------
    float array
        0 where le/d is above 50: such a column is not allowed. [Pa]

    References
    ----------
    nds-timber (3.7.1; a round column as its equal square, from memory).
    """
    slenderness = round_slenderness(diameter_m, length_m)
    buckling = column_buckling_pa(least_modulus_pa, slenderness)
    factor = column_stability(buckling, compression_pa, stability)
    allowed = factor * np.asarray(compression_pa, np.float64)
    return np.asarray(np.where(slenderness > MOST_SLENDERNESS, 0.0, allowed))


def bending_with_compression(
    compression_share: ArrayLike, bending_share: ArrayLike, buckling_share: ArrayLike
) -> Floats:
    """Utilisation of a timber in bending and compression at once.

    Parameters
    ----------
    compression_share : array
        fc / Fc', 0 or more. [-]
    bending_share : array
        fb / Fb', 0 or more. [-]
    buckling_share : array
        fc / FcE in the plane of bending, 0 or more. [-]

    Returns
    -------
    float array
        (fc/Fc')^2 + (fb/Fb') / (1 - fc/FcE); infinite from the buckling load on. [-]

    References
    ----------
    nds-timber (3.9.2, from memory).
    """
    left = 1.0 - np.asarray(buckling_share, np.float64)
    bending = np.asarray(bending_share, np.float64)
    grown = np.divide(bending, left, out=np.full(np.broadcast(bending, left).shape, np.inf), where=left > 0)
    return np.asarray(np.asarray(compression_share, np.float64) ** 2 + grown)
