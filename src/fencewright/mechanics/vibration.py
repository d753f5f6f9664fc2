"""A plucked rail: how fast it beats, and what tension that betrays."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

SECONDS_A_MINUTE = 60.0


def frequency_hz(
    tension_n: ArrayLike, span_m: ArrayLike, line_mass_kg_m: ArrayLike, bending_nm2: ArrayLike = 0.0
) -> Floats:
    """Lowest frequency of a span held at both posts.

    Parameters
    ----------
    tension_n : array
        0 or more; shapes broadcast. [N]
    span_m : array
        Above 0. [m]
    line_mass_kg_m : array
        Above 0. [kg/m]
    bending_nm2 : array
        E I of the rail against this swing; 0 for a string. [N m2]

    Returns
    -------
    float array
        [Hz]

    Notes
    -----
    sqrt((T + pi^2 E I / L^2) / mu) / (2 L): exact for ends free to turn in their brackets. Holds for a small
    swing sideways; up and down, sag raises it.

    References
    ----------
    string-frequency.
    """
    span = np.asarray(span_m, np.float64)
    stiff = np.asarray(tension_n, np.float64) + np.pi**2 * np.asarray(bending_nm2, np.float64) / span**2
    return np.asarray(np.sqrt(stiff / np.asarray(line_mass_kg_m, np.float64)) / (2.0 * span))


def beats_per_minute(frequency_hz: ArrayLike) -> Floats:
    """Swings there and back in a minute. [1/min]"""
    return np.asarray(SECONDS_A_MINUTE * np.asarray(frequency_hz, np.float64))


def tension_from_frequency_n(
    frequency_hz: ArrayLike, span_m: ArrayLike, line_mass_kg_m: ArrayLike, bending_nm2: ArrayLike = 0.0
) -> Floats:
    """Tension from a frequency: the other direction of `frequency_hz`.

    Returns
    -------
    float array
        mu (2 L f)^2 - pi^2 E I / L^2; NaN where bending alone beats faster, so no tension explains it. [N]

    References
    ----------
    string-frequency.
    """
    span = np.asarray(span_m, np.float64)
    whole = np.asarray(line_mass_kg_m, np.float64) * (2.0 * span * np.asarray(frequency_hz, np.float64)) ** 2
    tension = whole - np.pi**2 * np.asarray(bending_nm2, np.float64) / span**2
    return np.asarray(np.where(tension >= 0, tension, np.nan))


def spread_from_frequency_n(
    frequency_hz: ArrayLike,
    span_m: ArrayLike,
    line_mass_kg_m: ArrayLike,
    frequency_spread_hz: ArrayLike,
    line_mass_spread_kg_m: ArrayLike = 0.0,
) -> Floats:
    """Standard deviation of the tension from a frequency, to first order. [N]

    Notes
    -----
    With U = mu (2 L f)^2: the root of (2 U df / f)^2 + (U dmu / mu)^2; bending does not enter.
    """
    frequency, mass = np.asarray(frequency_hz, np.float64), np.asarray(line_mass_kg_m, np.float64)
    whole = mass * (2.0 * np.asarray(span_m, np.float64) * frequency) ** 2
    by_frequency = 2.0 * np.asarray(frequency_spread_hz, np.float64) / frequency
    return whole * np.hypot(by_frequency, np.asarray(line_mass_spread_kg_m, np.float64) / mass)
