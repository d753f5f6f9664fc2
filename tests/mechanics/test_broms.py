"""Short stiff posts at their ultimate load: inverses, and equilibrium by adding up the soil's pressures."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics import broms

heights = st.floats(0.0, 5.0)
diameters = st.floats(0.08, 0.8)
depths = st.floats(0.4, 3.0)


@given(st.floats(100.0, 5e4), heights, diameters, st.floats(1e4, 2e5))
def test_clay_depth_and_capacity_are_inverse(
    pull: float, height: float, diameter: float, cohesion: float
) -> None:
    depth = broms.clay_depth_m(pull, height, diameter, cohesion)
    assert broms.clay_capacity_n(depth, height, diameter, cohesion) == pytest.approx(pull, rel=1e-8)


@given(depths, heights, diameters, st.floats(0.4, 0.75))
def test_sand_depth_and_capacity_are_inverse(
    depth: float, height: float, diameter: float, angle: float
) -> None:
    pull = broms.sand_capacity_n(depth, height, diameter, 18e3, angle)
    assert broms.sand_depth_m(pull, height, diameter, 18e3, angle) == pytest.approx(depth, rel=1e-9)


def test_clay_pressures_balance_force_and_moment() -> None:
    """9 cu D one way down to f below 1.5 D, then the two halves of g against each other."""
    diameter, cohesion, height, depth = 0.3, 40e3, 1.0, 1.5
    pull = float(broms.clay_capacity_n(depth, height, diameter, cohesion))
    line = 9 * cohesion * diameter
    f = pull / line
    g = depth - 1.5 * diameter - f
    top = 1.5 * diameter
    parts = [(line, top, top + f + g / 2), (-line, top + f + g / 2, depth)]
    assert sum(p * (b - a) for p, a, b in parts) == pytest.approx(pull)
    moment = sum(p * (b**2 - a**2) / 2 for p, a, b in parts)
    assert moment == pytest.approx(-pull * height)


def test_clay_gives_nothing_within_one_and_a_half_diameters() -> None:
    assert broms.clay_capacity_n(0.44, 1.0, 0.3, 40e3) == 0.0
    assert broms.clay_capacity_n(0.2, 1.0, 0.3, 40e3) == 0.0


def test_sand_capacity_is_the_moment_of_three_passive_pressures_about_the_toe() -> None:
    depth, height, diameter, soil, angle = 1.4, 0.9, 0.2, 17e3, np.radians(35)
    z = np.linspace(0.0, depth, 20001)
    pressure = 3 * soil * z * diameter * broms.passive_coefficient(angle)
    about_toe = np.trapezoid(pressure * (depth - z), z)
    pull = broms.sand_capacity_n(depth, height, diameter, soil, angle)
    assert pull * (height + depth) == pytest.approx(about_toe, rel=1e-6)


def test_greatest_moment_in_sand_is_where_shear_vanishes() -> None:
    pull, height, diameter, soil, angle = 3000.0, 1.0, 0.15, 18e3, np.radians(33)
    z = np.linspace(0.0, 1.5, 30001)
    taken = 1.5 * soil * diameter * broms.passive_coefficient(angle) * z**2
    moment = pull * (height + z) - taken * z / 3
    expected = broms.sand_moment_n_m(pull, height, diameter, soil, angle)
    assert moment.max() == pytest.approx(expected, rel=1e-7)


def test_greatest_moment_in_clay_is_at_the_zero_of_shear() -> None:
    pull, height, diameter, cohesion = 3000.0, 1.0, 0.15, 30e3
    z = np.linspace(0.0, 1.5, 30001)
    below = np.maximum(z - 1.5 * diameter, 0.0)
    moment = pull * (height + z) - 9 * cohesion * diameter * below**2 / 2
    expected = broms.clay_moment_n_m(pull, height, diameter, cohesion)
    assert moment.max() == pytest.approx(expected, rel=1e-7)
