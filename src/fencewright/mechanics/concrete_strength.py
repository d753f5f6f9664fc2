"""Strength of concrete with time and temperature."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

# aci-209: strength at t days of moist curing over that at 28 days is t / (a + b t); ordinary and high early cement
ORDINARY = (4.0, 0.85)
HIGH_EARLY = (2.3, 0.92)

# plowman: strength in percent of that at 28 days of 18 C is a + b log10(maturity / 1000), in degree hours from -11 C
PLOWMAN = (32.0, 54.0)


def strength_share(age_days: Floats | float, curve: tuple[float, float] = ORDINARY) -> Floats:
    """Strength of moist-cured concrete over its strength at 28 days.

    Parameters
    ----------
    age_days : float array or float
        Age at the curing temperature of the curve, 0 or more. [days]
    curve : (float, float)
        The curve's two constants: `ORDINARY` or `HIGH_EARLY`. [days], [-]

    Returns
    -------
    float array
        0 at age 0, rising to 1 / b; not exactly 1 at 28 days. [-]

    Notes
    -----
    f = t / (a + b t). Holds for moist curing near the laboratory's temperature.

    References
    ----------
    .. [1] aci-209, strength with time
    """
    age = np.asarray(age_days, dtype=np.float64)
    return age / (curve[0] + curve[1] * age)


def age_for_share(share: Floats | float, curve: tuple[float, float] = ORDINARY) -> Floats:
    """Age at which moist-cured concrete has a share of its 28-day strength.

    Parameters
    ----------
    share : float array or float
        Of the 28-day strength, 0 or more. [-]
    curve : (float, float)
        As of `strength_share`. [days], [-]

    Returns
    -------
    float array
        Infinite where the curve never comes so far (1 / b or more). [days]

    Notes
    -----
    t = a f / (1 - b f), the inverse of `strength_share`.

    References
    ----------
    .. [1] aci-209, strength with time
    """
    wanted = np.asarray(share, dtype=np.float64)
    left = 1.0 - curve[1] * wanted
    return np.divide(curve[0] * wanted, left, out=np.full_like(wanted, np.inf), where=left > 1e-12)


def maturity_c_h(temperature_c: Floats, hours: Floats | float, datum_c: float) -> Floats:
    """Maturity gathered over steps of time at given temperatures.

    Parameters
    ----------
    temperature_c : float array (steps,)
        Mean of the concrete, or of the air around it, in each step. [C]
    hours : float array (steps,) or float
        Length of each step. [h]
    datum_c : float
        Temperature at and below which nothing is gained. [C]

    Returns
    -------
    float array (steps,)
        Sum up to the end of each step; no steps give none. [C h]

    Notes
    -----
    M = sum (T - T0) dt, steps below T0 counting nothing.

    References
    ----------
    .. [1] nurse-saul, maturity
    """
    gained = np.maximum(np.asarray(temperature_c, dtype=np.float64) - datum_c, 0.0) * hours
    return np.cumsum(gained)


def plowman_share(maturity_c_h: Floats | float) -> Floats:
    """Strength over that at 28 days of 18 C, by maturity from -11 C.

    Parameters
    ----------
    maturity_c_h : float array or float
        Above 0. [C h]

    Returns
    -------
    float array
        [-]

    Notes
    -----
    f = (32 + 54 log10(M / 1000)) / 100, for concrete of middling strength; below about 500 C h it means nothing.

    References
    ----------
    .. [1] plowman-1956, constants of middling strength
    """
    return (PLOWMAN[0] + PLOWMAN[1] * np.log10(np.asarray(maturity_c_h, dtype=np.float64) / 1000.0)) / 100.0


def post_pressure_pa(shear_n: Floats, moment_n_m: Floats, depth_m: Floats, width_m: Floats) -> Floats:
    """Largest pressure of a post on the concrete around it.

    Parameters
    ----------
    shear_n, moment_n_m : float array (posts,)
        At the top of the concrete, without sign. [N], [N m]
    depth_m, width_m : float array (posts,)
        Of the post in its concrete, and its diameter; above 0. [m]

    Returns
    -------
    float array (posts,)
        [Pa]

    Notes
    -----
    A stiff post turns in stiff concrete: force per length falls from 4 V / d + 6 M / d^2 at the top, straight, so that
    its sum is V and its moment about the top M; over the post's width. O(posts).

    References
    ----------
    .. [1] common practice, no source: statics of a straight pressure
    """
    return (4.0 * shear_n / depth_m + 6.0 * moment_n_m / depth_m**2) / width_m
