"""A rail in the sun: no sun gives air, wind cools, dark is hotter, and the losses balance the gain."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics.thermal import (
    Air,
    RailSkin,
    radiation_loss_w_m,
    rail_temperature_c,
    same_skin_diameter_m,
    wind_loss_w_m,
)

DIAMETER = float(same_skin_diameter_m(0.127, 0.006))


def skin(absorptivity: float, emissivity: float = 0.9) -> RailSkin:
    return RailSkin(DIAMETER, absorptivity, emissivity, 0.127)


def test_same_skin() -> None:
    assert np.pi * DIAMETER == pytest.approx(2 * (0.127 + 0.006))


@given(st.floats(-40, 45), st.floats(0, 20))
def test_without_sun_the_rail_is_as_warm_as_the_air(air_c: float, wind: float) -> None:
    assert float(rail_temperature_c(0.0, Air(air_c, wind), skin(0.9))) == pytest.approx(air_c, abs=1e-9)


@given(st.floats(50, 1200), st.floats(-30, 45), st.floats(0, 15), st.floats(0.05, 10))
def test_more_wind_is_never_warmer(sun: float, air_c: float, wind: float, more: float) -> None:
    calm, windy = rail_temperature_c(sun, Air(air_c, [wind, wind + more]), skin(0.9))
    assert air_c < windy <= calm + 1e-9


@given(st.floats(10, 1100), st.floats(0, 10), st.floats(0.1, 0.8))
def test_darker_and_sunnier_is_warmer(sun: float, wind: float, light: float) -> None:
    pale = float(rail_temperature_c(sun, Air(25.0, wind), skin(light)))
    dark = float(rail_temperature_c(sun, Air(25.0, wind), skin(light + 0.1)))
    sunny = float(rail_temperature_c(sun * 1.1, Air(25.0, wind), skin(light)))
    assert 25.0 < pale < dark
    assert pale < sunny


@given(st.floats(0, 1100), st.floats(0, 12), st.floats(0, 1.6))
def test_losses_balance_the_gain(sun: float, wind: float, angle: float) -> None:
    air = Air(30.0, wind, angle, 300.0)
    rail = rail_temperature_c(sun, air, skin(0.85))
    lost = wind_loss_w_m(rail, DIAMETER, air) + radiation_loss_w_m(rail, 30.0, DIAMETER, 0.9)
    assert float(lost) == pytest.approx(0.85 * sun * 0.127, abs=1e-9)


def test_a_gale_leaves_the_rail_near_the_air() -> None:
    assert 20.0 < float(rail_temperature_c(1000.0, Air(20.0, 60.0), skin(0.9))) < 25.0


def test_wind_along_the_rail_cools_less_than_across() -> None:
    along, across = rail_temperature_c(1000.0, Air(20.0, 4.0, np.array([0.0, np.pi / 2])), skin(0.9))
    assert along > across + 1


def test_thin_air_cools_less() -> None:
    low, high = rail_temperature_c(900.0, Air(20.0, 2.0, np.pi / 2, np.array([0.0, 3000.0])), skin(0.9))
    assert high > low


def test_radiation_alone_in_closed_form() -> None:
    """Difference of fourth powers; 273 as the standard writes it."""
    assert float(radiation_loss_w_m(27.0, -73.0, 1.0, 1.0)) == pytest.approx(17.8 * (3**4 - 2**4))


def test_an_absurd_sun_has_no_answer_and_shapes_broadcast() -> None:
    assert np.isnan(rail_temperature_c(1e6, Air(20.0, 0.0), skin(0.9)))
    assert rail_temperature_c(np.zeros((3, 1)), Air(np.zeros(4), 1.0), skin(0.5)).shape == (3, 4)
    assert rail_temperature_c(np.empty(0), Air(20.0, 1.0), skin(0.5)).shape == (0,)
