"""Frost: freezing index of made-up winters, limits of Berggren's coefficient."""

from math import erf, erfc, exp, pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics import frost


def test_index_is_the_largest_fall_of_the_running_sum() -> None:
    assert frost.freezing_index_c_days([10.0] * 30 + [-5.0] * 40 + [8.0] * 30) == pytest.approx(200.0)


def test_a_thaw_inside_the_winter_counts_against_it_and_a_long_one_ends_it() -> None:
    short = [5.0] * 10 + [-4.0] * 20 + [2.0] * 5 + [-4.0] * 20 + [9.0] * 10
    assert frost.freezing_index_c_days(short) == pytest.approx(150.0)
    ended = [5.0] * 10 + [-4.0] * 20 + [9.0] * 50 + [-4.0] * 10
    assert frost.freezing_index_c_days(ended) == pytest.approx(80.0)


def test_no_frost_no_days_and_a_missing_day() -> None:
    assert frost.freezing_index_c_days([3.0, 2.0, 8.0]) == 0.0
    assert frost.freezing_index_c_days(np.empty(0)) == 0.0
    assert np.isnan(frost.freezing_index_c_days([1.0, np.nan, -3.0]))


def test_winters_by_the_row() -> None:
    winters = np.array([[1.0, -2.0, -2.0, 3.0], [1.0, -1.0, 5.0, -3.0]])
    np.testing.assert_allclose(frost.freezing_index_c_days(winters), [4.0, 3.0])


@given(st.floats(0.0, 10.0), st.floats(1e-4, 3.0))
def test_coefficients_lie_between_nothing_and_stefan(alpha: float, fusion: float) -> None:
    exact, simple = frost.berggren_exact(alpha, fusion), frost.berggren_simple(alpha, fusion)
    assert 0 < exact < 1
    assert 0 < simple < 1


@given(st.floats(0.0, 5.0), st.floats(0.01, 2.0))
def test_the_exact_coefficient_solves_neumanns_equation(alpha: float, fusion: float) -> None:
    g = float(frost.berggren_exact(alpha, fusion)) * sqrt(fusion / 2)
    left = exp(-g * g) / erf(g) - alpha * exp(-g * g) / erfc(g)
    assert left == pytest.approx(sqrt(pi) * g / fusion, rel=1e-8, abs=1e-8)


def test_without_sensible_heat_it_is_stefans_depth() -> None:
    assert frost.berggren_exact(0.3, 0.0) == 1.0
    assert frost.berggren_exact(0.0, 1e-8) == pytest.approx(1.0, abs=1e-7)


def test_warmer_ground_and_wetter_soil_freeze_less_deep() -> None:
    assert np.all(np.diff(frost.berggren_exact([0.0, 0.5, 1.0, 3.0], 0.3)) < 0)
    dry, wet = (frost.stefan_depth_m(500.0, 1.3, frost.latent_heat_j_m3(1600.0, w)) for w in (0.1, 0.2))
    assert dry / wet == pytest.approx(2**0.5)
