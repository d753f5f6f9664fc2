"""Depth of frost in homogeneous soil: Stefan's, and Berggren's as modified for the soil's own warmth."""

from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import erf, erfcx

Floats = NDArray[np.float64]

DAY_S = 86400.0
# 144 Btu a pound of water, source: ufc-3-130
LATENT_J_KG = 334_944.0
# C = dry density (0.17 + 0.75 w), Btu/(lb F), in J/(kg K), source: ufc-3-130
SOLIDS_J_KG_K = 0.17 * 4186.8
WATER_J_KG_K = 0.75 * 4186.8
# n factors of freezing by surface, source: ufc-3-130 (TM 5-852-4 table 4-1)
SURFACE_FACTORS = MappingProxyType(
    {
        "snow": 1.0,
        "concrete": 0.75,
        "asphalt": 0.7,
        "bare soil": 0.7,
        "shaded": 0.9,
        "turf": 0.5,
        "trees": 0.3,
    }
)
# halvings of the bracket of Neumann's root: below 1e-15 of it
HALVINGS = 52


def freezing_index_c_days(daily_mean_c: ArrayLike) -> Floats:
    """Freezing index of one winter from its daily mean air temperatures.

    Parameters
    ----------
    daily_mean_c : array (..., days)
        From summer to summer, so that the winter lies inside. [C]

    Returns
    -------
    float array (...)
        Largest fall of the running sum of degree-days, 0 or more; thaws inside the winter count against
        it. 0 with no days; NaN where a day is missing. [C days]

    References
    ----------
    ufc-3-130.
    """
    daily = np.asarray(daily_mean_c, np.float64)
    start = np.zeros((*daily.shape[:-1], 1))
    total = np.concatenate([start, np.cumsum(daily, axis=-1)], axis=-1)
    return np.asarray((np.maximum.accumulate(total, axis=-1) - total).max(axis=-1))


def latent_heat_j_m3(dry_density_kg_m3: ArrayLike, water_share: ArrayLike) -> Floats:
    """Latent heat of the water in soil; water as a share of the dry weight. [J/m3]"""
    water = np.asarray(dry_density_kg_m3, np.float64) * np.asarray(water_share, np.float64)
    return np.asarray(LATENT_J_KG * water)


def heat_capacity_j_m3_k(dry_density_kg_m3: ArrayLike, water_share: ArrayLike) -> Floats:
    """Volumetric heat capacity, the mean of frozen and thawed; water as a share of the dry weight. [J/(m3 K)]"""
    each = SOLIDS_J_KG_K + WATER_J_KG_K * np.asarray(water_share, np.float64)
    return np.asarray(np.asarray(dry_density_kg_m3, np.float64) * each)


def stefan_depth_m(
    surface_index_c_days: ArrayLike, conductivity_w_m_k: ArrayLike, latent_j_m3: ArrayLike
) -> Floats:
    """Frost depth where only latent heat counts: an upper bound in soil without frost of its own.

    Parameters
    ----------
    surface_index_c_days : array
        Freezing index of the air times the surface's n factor, 0 or more. [C days]
    conductivity_w_m_k : array
        Of frozen soil, or the mean of frozen and thawed. [W/(m K)]
    latent_j_m3 : array
        `latent_heat_j_m3`, above 0. [J/m3]

    Returns
    -------
    float array
        sqrt(2 k n F / L). [m]

    References
    ----------
    ufc-3-130.
    """
    heat = np.asarray(conductivity_w_m_k, np.float64) * np.asarray(surface_index_c_days, np.float64) * DAY_S
    return np.asarray(np.sqrt(2.0 * heat / np.asarray(latent_j_m3, np.float64)))


def thermal_ratio(
    mean_c: ArrayLike, surface_index_c_days: ArrayLike, season_days: ArrayLike
) -> tuple[Floats, Floats]:
    """Warmth of the ground over the cold of the surface, and that cold.

    Parameters
    ----------
    mean_c : array
        Mean annual temperature, above freezing. [C]
    surface_index_c_days : array
        n F. [C days]
    season_days : array
        Length of the freezing season. [days]

    Returns
    -------
    alpha, surface_c : float arrays
        v0 / vs [-], and vs = n F / t as degrees below freezing [C].

    References
    ----------
    ufc-3-130.
    """
    surface = np.asarray(surface_index_c_days, np.float64) / np.asarray(season_days, np.float64)
    return np.asarray(np.asarray(mean_c, np.float64) / surface), np.asarray(surface)


def fusion_number(surface_c: ArrayLike, capacity_j_m3_k: ArrayLike, latent_j_m3: ArrayLike) -> Floats:
    """Fusion number mu = vs C / L: sensible over latent heat. [-]"""
    sensible = np.asarray(surface_c, np.float64) * np.asarray(capacity_j_m3_k, np.float64)
    return np.asarray(sensible / np.asarray(latent_j_m3, np.float64))


def berggren_simple(alpha: ArrayLike, fusion: ArrayLike) -> Floats:
    """Berggren's coefficient by the short formula 1 / sqrt(1 + mu (alpha + 0.5)); too deep in mild climates. [-]

    References
    ----------
    aldrich-1953 (eq. 2-33).
    """
    return np.asarray(
        1.0 / np.sqrt(1.0 + np.asarray(fusion, np.float64) * (np.asarray(alpha, np.float64) + 0.5))
    )


def berggren_exact(alpha: ArrayLike, fusion: ArrayLike) -> Floats:
    """Berggren's coefficient from Neumann's solution with like properties frozen and thawed.

    Parameters
    ----------
    alpha : array
        `thermal_ratio`, 0 or more. [-]
    fusion : array
        mu, 0 or more. [-]

    Returns
    -------
    float array
        By which Stefan's depth is multiplied, 0 to 1; 1 where the fusion number goes to 0. [-]

    Notes
    -----
    Front x = 2 g sqrt(k t / C) with exp(-g^2)/erf(g) - alpha exp(-g^2)/erfc(g) = sqrt(pi) g / mu, and
    lambda = g sqrt(2 / mu). The left falls and the right rises, so one root; it is below sqrt(mu / 2) and
    found by halving, a set number of times.

    References
    ----------
    ufc-3-130; the root against an enthalpy run in tests/oracles/test_frost_enthalpy.py.
    """
    warm, given = np.broadcast_arrays(np.asarray(alpha, np.float64), np.asarray(fusion, np.float64))
    mu = np.where(given > 0, given, 1.0)
    low, high = np.zeros(mu.shape), np.sqrt(mu / 2.0)
    whole = high.copy()
    for _ in range(HALVINGS):
        g = (low + high) / 2.0
        left = np.exp(-(g**2)) / erf(g) - warm / erfcx(g)
        is_below = left > np.sqrt(np.pi) * g / mu
        low, high = np.where(is_below, g, low), np.where(is_below, high, g)
    return np.asarray(np.where(given > 0, (low + high) / 2.0 / whole, 1.0))
