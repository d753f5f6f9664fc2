"""Daylight: equator, equinox, poles, both hemispheres, and an almanac's solstices."""

import numpy as np
import pytest

from fencewright.mechanics.daylight import day_length_h


def test_twelve_hours_on_the_equator_all_year() -> None:
    assert day_length_h(0.0, np.arange(1.0, 366.0)) == pytest.approx(np.full(365, 12.0))


def test_twelve_hours_everywhere_at_the_equinox() -> None:
    assert day_length_h(60.0, 81.0) == pytest.approx(12.0, abs=0.02)


def test_poles() -> None:
    assert float(day_length_h(80.0, 172.0)) == 24.0
    assert float(day_length_h(80.0, 355.0)) == 0.0


@pytest.mark.parametrize("day", [1.0, 100.0, 200.0, 300.0])
def test_what_one_half_of_the_earth_gains_the_other_loses(day: float) -> None:
    assert float(day_length_h(50.0, day) + day_length_h(-50.0, day)) == pytest.approx(24.0)
