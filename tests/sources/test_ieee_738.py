"""IEEE 738-2012, the worked conductor of 28.14 mm at 100 C in air of 40 C, wind 0.61 m/s (all from memory).

Remembered: forced convection 81.93 W/m (equation 3a), 77.06 W/m (3b), natural 42.4 W/m, radiation 39.1 W/m at
an emissivity of 0.8. The standard rounds the properties of air to three digits: hence 0.3 %.

Register key: ieee-738.
"""

import pytest

from fencewright.mechanics.thermal import Air, RailSkin, radiation_loss_w_m, rail_temperature_c, wind_loss_w_m

DIAMETER_M = 0.02814


def test_wind_takes_the_greater_of_its_two_equations() -> None:
    assert float(wind_loss_w_m(100.0, DIAMETER_M, Air(40.0, 0.61))) == pytest.approx(81.93, rel=0.003)


def test_still_air() -> None:
    assert float(wind_loss_w_m(100.0, DIAMETER_M, Air(40.0, 0.0))) == pytest.approx(42.4, abs=0.05)


def test_radiation() -> None:
    assert float(radiation_loss_w_m(100.0, 40.0, DIAMETER_M, 0.8)) == pytest.approx(39.1, abs=0.05)


def test_the_heat_that_holds_it_at_100_c() -> None:
    """A sun that brings just what is lost, over the conductor's own breadth, gives 100 C back."""
    sun = (81.93 + 39.1) / (0.8 * DIAMETER_M)
    skin = RailSkin(DIAMETER_M, 0.8, 0.8, DIAMETER_M)
    assert float(rail_temperature_c(sun, Air(40.0, 0.61), skin)) == pytest.approx(100.0, abs=0.15)
