"""How long concrete must stand before a rail is drawn: by the days' temperatures, or by the curve alone."""

import datetime

import numpy as np
from numpy.typing import NDArray

from fencewright.job.programme_settings import CureRules
from fencewright.mechanics.concrete_strength import age_for_share

Floats = NDArray[np.float64]

_MID_MONTH_DAYS = 365.2425 / 12


def day_temperatures_c(rules: CureRules, start: datetime.date | None, days: int) -> Floats:
    """Mean air temperature of each day.

    Parameters
    ----------
    rules : CureRules
        `day_c` from day 0, then `month_c` between the middles of the months; with days alone, the last one stays.
    start : date or None
        Of day 0.
    days : int
        How many.

    Returns
    -------
    float array (days,)
        NaN where the job states no temperatures. [C]
    """
    stated = np.array(rules.day_c[:days])
    if rules.month_c and start is not None:
        year_day = start.timetuple().tm_yday - 1 + np.arange(days) + 0.5
        middles = (np.arange(12) + 0.5) * _MID_MONTH_DAYS
        made: Floats = np.interp(year_day, middles, np.array(rules.month_c), period=365.2425)
    else:
        made = np.full(days, stated[-1] if len(stated) else np.nan)
    made[: len(stated)] = stated
    return made


def cured_h(rules: CureRules, share: float, temperature_c: Floats, poured_h: Floats) -> Floats:
    """Hour at which concrete poured at given hours has a share of its 28-day strength.

    Parameters
    ----------
    rules : CureRules
        Datum and reference of the maturity.
    share : float
        Of the 28-day strength, above 0 and at most 1. [-]
    temperature_c : float array (days,)
        Mean air temperature; NaN: the reference temperature all along. [C]
    poured_h : float array (pours,)
        From midnight before day 0. [h]

    Returns
    -------
    float array (pours,)
        Never earlier for a later pour; infinite where the days end before it. [h]

    Notes
    -----
    The strength curve's age is gathered in proportion to T - T0: equivalent age = M / (Tr - T0), Nurse and Saul with the
    air's temperature, which fresh concrete seldom falls below. O(days + pours log days).

    References
    ----------
    .. [1] nurse-saul, maturity; aci-209, strength with time
    """
    wanted_h = 24.0 * float(age_for_share(share))
    rate = np.maximum(temperature_c - rules.datum_c, 0.0) / (rules.reference_c - rules.datum_c)
    rate = np.where(np.isnan(temperature_c), 1.0, rate)
    edges = 24.0 * np.arange(len(rate) + 1)
    gained = np.concatenate([[0.0], np.cumsum(24.0 * rate)])
    target = np.interp(poured_h, edges, gained) + wanted_h
    day = np.searchsorted(gained, target - 1e-9)
    inside = np.clip(day, 1, len(rate))
    step = np.maximum(gained[inside] - gained[inside - 1], 1e-12)
    ends = edges[inside - 1] + 24.0 * np.clip((target - gained[inside - 1]) / step, 0.0, 1.0)
    return np.where(day > len(rate), np.inf, np.maximum(ends, poured_h))
