"""Bearing and sliding of footings: the ends of the growth with depth, and what is not known."""

import numpy as np
import pytest

from fencewright.mechanics import bearing


def test_lateral_bearing_grows_to_fifteen_feet_and_no_further() -> None:
    assert bearing.lateral_bearing_pa([0.0, 1.0, 4.572, 9.0], 1000.0) == pytest.approx([0, 1000, 4572, 4572])


def test_a_face_holds_the_sum_of_its_strips() -> None:
    z = np.linspace(0.5, 6.0, 55001)
    strips = np.trapezoid(bearing.lateral_bearing_pa(z, 2e4), z) * 0.3
    assert bearing.face_capacity_n(0.5, 6.0, 0.3, 2e4) == pytest.approx(strips, rel=1e-8)
    halves = bearing.face_capacity_n([0.5, 1.0], [1.0, 6.0], 0.3, 2e4).sum()
    assert halves == pytest.approx(bearing.face_capacity_n(0.5, 6.0, 0.3, 2e4))


def test_unknown_soil_counts_for_nothing() -> None:
    assert bearing.bearing_capacity_n(0.1, np.nan) == 0.0
    assert bearing.face_capacity_n(0.0, 1.0, 0.3, np.nan) == 0.0
    assert bearing.sliding_capacity_n(1000.0, 0.1, np.nan, np.nan) == 0.0


def test_sliding_by_friction_and_by_cohesion_with_its_limit() -> None:
    assert bearing.sliding_capacity_n(1000.0, 0.1, 0.25, np.nan) == 250.0
    assert bearing.sliding_capacity_n(10_000.0, 0.1, np.nan, 6225.0) == pytest.approx(622.5)
    assert bearing.sliding_capacity_n(1000.0, 0.1, np.nan, 6225.0) == 500.0
    assert bearing.sliding_capacity_n(-50.0, 0.1, 0.25, 6225.0) == 0.0


def test_pressure_without_area_is_infinite_only_under_load() -> None:
    pressure = bearing.bearing_pressure_pa([100.0, 100.0, 0.0], [0.5, 0.0, 0.0])
    np.testing.assert_allclose(pressure, [200.0, np.inf, 0.0])
