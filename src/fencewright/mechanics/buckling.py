"""Buckling of straight columns: Euler's load for any material, and the code's curve for steel pipe."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

# 0.658^(Fy/Fe) Fy down to Fy/Fe = 2.25, then 0.877 Fe, from memory, source: aisc-360
STEEL_BASE = 0.658
STEEL_LIMIT = 2.25
STEEL_SLENDER = 0.877
# safety factor of columns and of bending at allowable strength, from memory, source: aisc-360
STEEL_SAFETY = 1.67


def slenderness(length_m: ArrayLike, gyration_m: ArrayLike, effective: ArrayLike = 1.0) -> Floats:
    """Slenderness of a column: K L / r, with K = `effective`. [-]"""
    reach = np.asarray(effective, np.float64) * np.asarray(length_m, np.float64)
    return np.asarray(reach / np.asarray(gyration_m, np.float64))


def euler_load_n(modulus_pa: ArrayLike, inertia_m4: ArrayLike, length_m: ArrayLike) -> Floats:
    """Load at which a perfect slender column bows out.

    Parameters
    ----------
    modulus_pa : array
        Young's modulus. [Pa]
    inertia_m4 : array
        Least second moment. [m4]
    length_m : array
        Effective length: between pins, or twice the length of a flagpole. 0 gives infinity. [m]

    Returns
    -------
    float array
        pi^2 E I / L^2, no safety in it. [N]

    References
    ----------
    euler.
    """
    stiff = np.asarray(modulus_pa, np.float64) * np.asarray(inertia_m4, np.float64)
    with np.errstate(divide="ignore"):
        return np.asarray(np.pi**2 * stiff / np.asarray(length_m, np.float64) ** 2)


def euler_stress_pa(modulus_pa: ArrayLike, slender: ArrayLike) -> Floats:
    """Euler's load over the area, from the slenderness: pi^2 E / (K L / r)^2. [Pa]"""
    with np.errstate(divide="ignore"):
        return np.asarray(
            np.pi**2 * np.asarray(modulus_pa, np.float64) / np.asarray(slender, np.float64) ** 2
        )


def steel_column_pa(modulus_pa: ArrayLike, yield_pa: ArrayLike, slender: ArrayLike) -> Floats:
    """Critical stress of a steel column, before its safety factor.

    Parameters
    ----------
    modulus_pa, yield_pa : array
        Young's modulus and yield stress. [Pa]
    slender : array
        K L / r, 0 or more. [-]

    Returns
    -------
    float array
        From the yield stress at 0 to 0.877 of Euler's. Divide by `STEEL_SAFETY` for allowable. [Pa]

    Notes
    -----
    For walls that do not buckle first, as those of every common pipe (D/t at most 0.11 E / Fy, from memory).

    References
    ----------
    aisc-360 (E3, from memory).
    """
    euler = euler_stress_pa(modulus_pa, slender)
    ratio = np.asarray(yield_pa, np.float64) / euler
    stocky = STEEL_BASE ** np.minimum(ratio, STEEL_LIMIT) * np.asarray(yield_pa, np.float64)
    return np.asarray(np.where(ratio <= STEEL_LIMIT, stocky, STEEL_SLENDER * euler))


def steel_pipe_bending_n_m(yield_pa: ArrayLike, plastic_modulus_m3: ArrayLike) -> Floats:
    """Bending moment that a compact steel pipe may take: Fy Z / 1.67. [N m]

    References
    ----------
    aisc-360 (F8, from memory): compact where D/t is at most 0.07 E / Fy.
    """
    strength = np.asarray(yield_pa, np.float64) * np.asarray(plastic_modulus_m3, np.float64)
    return np.asarray(strength / STEEL_SAFETY)
