"""Hours of daylight (solar-day-length, worked example, READ; cooper-1969 as it quotes it).

Latitude 40 N, June 15, declination 23.35 degrees (the example's day number 167 is one too high; the number printed is that
of either day): 2/15 acos(-tan 40 tan 23.35) = 14.83 h; sunrise 4:36, sunset 7:24 solar time.
"""

import math

import pytest

from fencewright.mechanics.daylight import day_length_h, declination_rad


@pytest.mark.parametrize("day", [166, 167])
def test_june_15_at_40_north(day: int) -> None:
    assert math.degrees(float(declination_rad(day))) == pytest.approx(23.35, abs=0.05)
    assert float(day_length_h(40.0, day)) == pytest.approx(14.83, abs=0.005)
