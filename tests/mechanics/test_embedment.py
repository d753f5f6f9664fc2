"""Embedment by the building code: the exact root, its inverses, the limit of depth, odd loads."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics import embedment

pulls = st.floats(50.0, 2e4)
heights = st.floats(0.0, 12.0)
widths = st.floats(0.08, 1.0)
soils = st.floats(1e4, 2e5)
SAND_PA_M = 23563.0


@given(pulls, heights, widths, soils)
def test_depth_and_capacity_are_inverse(pull: float, height: float, width: float, soil: float) -> None:
    depth = embedment.free_depth_m(pull, pull * height, width, soil)
    assert embedment.free_capacity_n(depth, height, width, soil) == pytest.approx(pull, rel=1e-9)
    assert embedment.free_utilisation(pull, pull * height, depth, width, soil) == pytest.approx(1.0, rel=1e-9)


@given(pulls, heights, widths, soils)
def test_the_root_is_a_fixed_point_of_the_printed_formula(
    pull: float, height: float, width: float, soil: float
) -> None:
    depth = float(embedment.free_depth_m(pull, pull * height, width, soil))
    a = 2.34 * pull / (soil * min(depth, 3.6576) / 3.0 * width)
    assert 0.5 * a * (1.0 + (1.0 + 4.36 * height / a) ** 0.5) == pytest.approx(depth, rel=1e-9)


def test_stiffer_soil_wider_post_and_lower_pull_never_need_more_depth() -> None:
    base = embedment.free_depth_m(2000.0, 2000.0, 0.15, SAND_PA_M)
    assert embedment.free_depth_m(2000.0, 2000.0, 0.15, SAND_PA_M * 1.5) < base
    assert embedment.free_depth_m(2000.0, 2000.0, 0.3, SAND_PA_M) < base
    assert embedment.free_depth_m(2000.0, 1800.0, 0.15, SAND_PA_M) < base


def test_the_check_at_the_provided_depth_agrees_with_the_root_on_passing() -> None:
    for provided in np.linspace(0.5, 5.0, 46):
        pressure = embedment.free_pressure_pa(provided, SAND_PA_M)
        by_check = embedment.depth_at_pressure_m(3000.0, 3500.0, 0.2, pressure) <= provided
        assert by_check == (embedment.free_depth_m(3000.0, 3500.0, 0.2, SAND_PA_M) <= provided)


def test_past_the_limit_the_pressure_stays_and_the_depth_is_continuous() -> None:
    limit = embedment.PRESSURE_DEPTH_LIMIT_M
    at_limit = embedment.free_capacity_n(limit, 3.0, 0.3, SAND_PA_M)
    depths = embedment.free_depth_m(at_limit * [0.999999, 1.000001], at_limit * 3.0, 0.3, SAND_PA_M)
    np.testing.assert_allclose(depths, limit, rtol=1e-5)
    deep = embedment.free_depth_m(at_limit * 2.0, at_limit * 6.0, 0.3, SAND_PA_M)
    looser = embedment.free_depth_m(at_limit * 2.0, at_limit * 6.0, 0.3, SAND_PA_M, 3.0 * limit)
    assert deep > looser > limit


def test_a_pure_couple_and_no_load_and_no_soil() -> None:
    couple = embedment.free_depth_m(0.0, 1000.0, 0.15, SAND_PA_M)
    assert couple**3 == pytest.approx(3 * 2.34 * 1.09 * 1000.0 / (SAND_PA_M * 0.15))
    assert embedment.free_depth_m(0.0, 0.0, 0.15, SAND_PA_M) == 0.0
    assert embedment.free_depth_m(100.0, 100.0, 0.15, 0.0) == np.inf
    assert embedment.free_utilisation(100.0, 100.0, 1.0, 0.15, 0.0) == np.inf
    assert embedment.free_utilisation(0.0, 0.0, 0.0, 0.15, SAND_PA_M) == 0.0
    assert embedment.free_capacity_n(0.0, 0.0, 0.15, SAND_PA_M) == 0.0
    assert embedment.depth_at_pressure_m(100.0, 100.0, 0.15, 0.0) == np.inf


def test_a_moment_against_its_pull_is_counted_with_it() -> None:
    with_it = embedment.free_depth_m(1000.0, 800.0, 0.15, SAND_PA_M)
    assert embedment.free_depth_m(1000.0, -800.0, 0.15, SAND_PA_M) == with_it


def test_doubling_is_the_users_to_accept() -> None:
    assert embedment.lateral_value_pa_m(100.0, is_motion_accepted=False) == 100.0
    assert embedment.lateral_value_pa_m(100.0, is_motion_accepted=True) == 200.0


def test_a_square_counts_by_its_diagonal() -> None:
    assert embedment.square_width_m(1.0) == pytest.approx(2**0.5)


@given(st.floats(10.0, 1e6), widths, soils)
def test_constrained_depth_and_moment_are_inverse(moment: float, width: float, soil: float) -> None:
    depth = embedment.constrained_depth_m(moment, width, soil)
    assert embedment.constrained_moment_n_m(depth, width, soil) == pytest.approx(moment, rel=1e-9)


def test_constrained_without_soil_and_without_load() -> None:
    assert embedment.constrained_depth_m(10.0, 0.1, 0.0) == np.inf
    assert embedment.constrained_depth_m(0.0, 0.1, SAND_PA_M) == 0.0


def test_shapes_broadcast_and_empty_stays_empty() -> None:
    depth = embedment.free_depth_m(np.full((3, 1), 1e3), 1e3, np.array([0.1, 0.2]), SAND_PA_M)
    assert depth.shape == (3, 2)
    assert embedment.free_depth_m(np.empty(0), np.empty(0), 0.1, SAND_PA_M).shape == (0,)
