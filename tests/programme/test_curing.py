"""When concrete is strong enough: by the table, by the days' temperatures, and never sooner for a later pour."""

import datetime
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.job.programme_settings import CureRules
from fencewright.mechanics.concrete_strength import age_for_share, strength_share
from fencewright.programme.curing import cured_h, day_temperatures_c

RULES = CureRules(0.7, 27.6e6, 0.55, -10.0, 23.0, 4.4, (), ())
MONTHS = (-2.0, 0.0, 4.0, 10.0, 16.0, 21.0, 23.0, 22.0, 18.0, 12.0, 6.0, 0.0)


def test_without_temperatures_it_is_the_curve() -> None:
    poured = np.array([0.0, 30.5])
    hours = cured_h(RULES, 0.7, np.full(60, np.nan), poured) - poured
    assert hours == pytest.approx([24 * 4 * 0.7 / (1 - 0.85 * 0.7)] * 2)
    assert float(strength_share(hours[0] / 24)) == pytest.approx(0.7)


def test_at_the_reference_temperature_it_is_the_same() -> None:
    assert cured_h(RULES, 0.7, np.full(60, 23.0), np.array([5.0]))[0] == pytest.approx(
        5.0 + 24 * float(age_for_share(0.7))
    )


def test_half_as_warm_above_the_datum_takes_twice_as_long() -> None:
    hours = cured_h(RULES, 0.5, np.full(60, 6.5), np.array([0.0]))[0]
    assert hours == pytest.approx(2 * 24 * float(age_for_share(0.5)))


def test_against_a_sum_hour_by_hour() -> None:
    days = day_temperatures_c(replace(RULES, month_c=MONTHS), datetime.date(2026, 3, 2), 90)
    poured = 4 * 24 + 15.0
    gained, hour = 0.0, poured
    while gained < float(age_for_share(0.7)) * 24:
        gained += max(days[int(hour // 24)] + 10.0, 0.0) / 33.0 * 0.01
        hour += 0.01
    assert cured_h(RULES, 0.7, days, np.array([poured]))[0] == pytest.approx(hour, abs=0.05)


def test_below_the_datum_it_waits_for_spring() -> None:
    days = np.concatenate([np.full(30, -15.0), np.full(60, 23.0)])
    assert cured_h(RULES, 0.7, days, np.array([24.0]))[0] == pytest.approx(
        24 * (30 + float(age_for_share(0.7)))
    )


def test_where_the_days_end_first_it_is_never() -> None:
    assert np.isinf(cured_h(RULES, 0.7, np.full(5, 23.0), np.array([0.0]))[0])


@given(st.lists(st.floats(-30, 40), min_size=3, max_size=40), st.floats(0.05, 1.0))
def test_a_later_pour_is_never_ready_sooner(temperatures: list[float], share: float) -> None:
    poured = np.linspace(0.0, 24.0 * len(temperatures), 60)
    ends = cured_h(RULES, share, np.array(temperatures), poured)
    assert (np.diff(ends[np.isfinite(ends)]) >= -1e-6).all()
    assert (ends >= poured).all()


def test_months_meet_at_their_middles() -> None:
    days = day_temperatures_c(replace(RULES, month_c=MONTHS), datetime.date(2026, 1, 1), 365)
    assert days[14] == pytest.approx(-2.0, abs=0.1)
    assert days[195] == pytest.approx(23.0, abs=0.2)
    assert -2.0 <= days[0] <= 0.0  # between December and January


def test_stated_days_come_first() -> None:
    rules = replace(RULES, day_c=(1.0, 2.0))
    assert day_temperatures_c(rules, None, 4).tolist() == [1.0, 2.0, 2.0, 2.0]
    both = day_temperatures_c(replace(rules, month_c=MONTHS), datetime.date(2026, 7, 10), 4)
    assert both[:2].tolist() == [1.0, 2.0]
    assert both[2] > 20.0
