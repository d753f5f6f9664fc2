"""Wind: growth with height and speed, rows of the tables, what is refused."""

import numpy as np
import pytest

from fencewright.mechanics import wind


@pytest.mark.parametrize("exposure", list(wind.EXPOSURES.values()))
def test_pressure_is_level_up_to_fifteen_feet_and_grows_to_the_gradient(exposure: wind.Exposure) -> None:
    factor = wind.height_factor([0.0, 2.0, 4.572, 10.0, exposure.gradient_m], exposure)
    assert factor[0] == factor[1] == factor[2] < factor[3] < factor[4]
    assert factor[4] == pytest.approx(2.01)


def test_rougher_country_slows_the_wind() -> None:
    town, open_land, water = (float(wind.height_factor(2.0, wind.EXPOSURES[key])) for key in "BCD")
    assert town < open_land < water


def test_twice_the_speed_is_four_times_the_pressure() -> None:
    pressure = wind.velocity_pressure_pa([20.0, 40.0], 0.85, 1.2, 1.0)
    assert pressure[1] == pytest.approx(4 * pressure[0])
    assert pressure[0] == pytest.approx(0.613 * 0.85 * 1.2 * 400)


def test_round_members_are_small_by_their_diameter_and_the_pressure() -> None:
    found = wind.open_coefficient(0.05, [0.0025, 0.19, 0.21], 708.6, is_round=True)
    np.testing.assert_allclose(found, [1.2, 1.2, 0.8])


def test_solidity_outside_the_table_is_refused() -> None:
    with pytest.raises(ValueError, match="solid wall"):
        wind.open_coefficient([0.1, 0.75], 0.01, 500.0, is_round=False)
    with pytest.raises(ValueError, match="solid wall"):
        wind.open_coefficient(np.nan, 0.01, 500.0, is_round=False)


def test_a_wall_with_few_openings_carries_less_and_a_longer_one_a_smaller_coefficient() -> None:
    assert wind.wall_coefficient(2.0, 2.0, 0.75) == pytest.approx(1.45 * (1 - 0.25**1.5))
    along = wind.wall_coefficient([0.05, 1.0, 3.0, 50.0], 1.0)
    np.testing.assert_allclose(along, [1.80, 1.45, 1.375, 1.30])


def test_load_on_a_post_acts_at_half_its_height() -> None:
    force, moment = wind.post_load(wind.line_load_n_m(600.0, 1.2, 0.15, 1.0), [1.4, 0.0])
    np.testing.assert_allclose(force, [151.2, 0.0])
    np.testing.assert_allclose(moment, [151.2 * 0.7, 0.0])
