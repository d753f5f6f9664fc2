"""Change of state of sliding pulls: limits to closed forms, the ends, unequal spans, creep and re-pulls."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics.change_of_state import (
    PullModel,
    pull_sums,
    sagging_tension_n,
    slack_for_tension_m,
    tension_after_n,
    tension_change_n_per_c,
)

EA_N, EXPANSION = 993_248.0, 11.7e-6  # 12.5 gauge wire (steel-wire)


def pulls(
    span_m: list[float], load_n_m: float, start: list[int] | None = None, end_yield_m_n: float = 0.0
) -> PullModel:
    length, sag, _ = pull_sums(span_m, load_n_m, np.array(start or [0, len(span_m)]))
    one = np.ones_like(length)
    return PullModel(length, sag, EA_N * one, EXPANSION * one, end_yield_m_n * one)


@given(st.floats(-1e5, 1e5), st.floats(0.0, 1e15))
def test_the_root_solves_its_equation(taut: float, sag: float) -> None:
    root = float(sagging_tension_n(taut, sag))
    assert root >= 0
    assert root**3 == pytest.approx(taut * root**2 + sag, rel=1e-11, abs=1e-9 * (abs(taut) * root**2 + sag))


def test_a_root_far_below_a_very_slack_start() -> None:
    assert float(sagging_tension_n(-1e9, 1e3)) == pytest.approx(1e-3, rel=1e-9)
    assert float(sagging_tension_n(-5.0, 0.0)) == 0.0
    assert float(sagging_tension_n(5.0, 0.0)) == 5.0


def test_sums_of_each_pull() -> None:
    length, sag, moment = pull_sums([2.0, 3.0, 4.0], [1.0, 2.0, 3.0], np.array([0, 2, 2, 3]))
    np.testing.assert_allclose(length, [5.0, 0.0, 4.0])
    np.testing.assert_allclose(sag, [(8 + 4 * 27) / 24, 0.0, 9 * 64 / 24])
    np.testing.assert_allclose(moment, [18 / 8, 0.0, 48 / 8])


def test_a_taut_wire_between_fixed_ends_gains_ea_alpha_a_degree() -> None:
    """Derived, sources-structure section 6: 11.62100 N per degree C for 12.5 gauge."""
    taut = pulls([60.0], 0.0)
    tension = tension_after_n(taut, 1000.0, [-10.0, 0.0, 10.0])
    np.testing.assert_allclose(tension, [[1116.2100, 1000.0, 883.7900]], atol=5e-4)
    np.testing.assert_allclose(tension_change_n_per_c(taut, 1000.0), 11.62100, atol=5e-6)


def test_equal_spans_slide_as_one_span() -> None:
    one = tension_after_n(pulls([3.0], 3.0), 1200.0, [-40.0, 40.0])
    many = tension_after_n(pulls([3.0] * 70, 3.0), 1200.0, [-40.0, 40.0])
    np.testing.assert_allclose(one, many, rtol=1e-12)


def test_unequal_spans_take_the_tension_of_the_ruling_span() -> None:
    """sqrt(sum L^3 / sum L): the equivalent span of every line book (from memory)."""
    spans = np.array([2.0, 5.0, 9.0, 3.0])
    ruling = np.sqrt((spans**3).sum() / spans.sum())
    chain = tension_after_n(pulls(list(spans), 6.0), 900.0, [-30.0, 60.0])
    single = tension_after_n(pulls([float(ruling)], 6.0), 900.0, [-30.0, 60.0])
    np.testing.assert_allclose(chain, single, rtol=1e-12)


def test_a_soft_end_evens_out_and_an_endless_spring_holds_the_tension() -> None:
    states = [-40.0, 40.0]
    stiff = tension_after_n(pulls([40.0], 1.0), 1000.0, states)[0]
    soft = tension_after_n(pulls([40.0], 1.0, end_yield_m_n=2e-5), 1000.0, states)[0]
    spring = tension_after_n(pulls([40.0], 1.0, end_yield_m_n=1e3), 1000.0, states)[0]
    assert stiff[1] < soft[1] < 1000.0 < soft[0] < stiff[0]
    np.testing.assert_allclose(spring, 1000.0, rtol=1e-6)


def test_end_yield_of_a_taut_wire_in_closed_form() -> None:
    given_way = 3e-5
    tension = tension_after_n(pulls([50.0], 0.0, end_yield_m_n=given_way), 1000.0, -20.0)
    expected = 1000.0 + EXPANSION * 50.0 * 20.0 / (50.0 / EA_N + given_way)
    assert tension[0, 0] == pytest.approx(expected, rel=1e-12)


@given(st.floats(100.0, 5000.0), st.floats(-60.0, 60.0), st.floats(0.1, 30.0), st.floats(0.0, 1e-4))
def test_colder_is_never_slacker(tension: float, warmer: float, colder: float, end_yield: float) -> None:
    two = tension_after_n(pulls([3.0, 4.0], 3.0, end_yield_m_n=end_yield), tension, [warmer, warmer - colder])
    assert two[0, 1] > two[0, 0] > 0


@given(st.floats(200.0, 5000.0), st.floats(-50.0, 50.0))
def test_there_and_back(tension: float, warmer: float) -> None:
    model = pulls([3.0, 6.0], 4.0, end_yield_m_n=1e-5)
    there = tension_after_n(model, tension, warmer)[:, 0]
    assert tension_after_n(model, there, -warmer)[0, 0] == pytest.approx(tension, rel=1e-7)


def test_the_slope_is_that_of_the_curve() -> None:
    model = pulls([10.0, 12.0], 5.0, end_yield_m_n=1e-5)
    near = tension_after_n(model, 700.0, [-1e-3, 1e-3])[0]
    np.testing.assert_allclose((near[0] - near[1]) / 2e-3, tension_change_n_per_c(model, 700.0), rtol=1e-6)


def test_creep_is_made_good_by_the_re_pull_it_asks_for() -> None:
    model = pulls([3.0] * 20, 3.0, end_yield_m_n=1e-5)
    crept_m = 2e-4 * model.length_m
    loose = tension_after_n(model, 1300.0, 0.0, crept_m)[:, 0]
    assert loose[0] < 1300.0
    np.testing.assert_allclose(slack_for_tension_m(model, loose, 1300.0), -crept_m, rtol=1e-9)
    np.testing.assert_allclose(slack_for_tension_m(model, 1300.0, loose), crept_m, rtol=1e-9)


def test_wind_or_ice_raises_the_tension() -> None:
    model = pulls([10.0] * 5, 3.0)
    iced = pull_sums([10.0] * 5, 12.0, np.array([0, 5]))[1]
    assert tension_after_n(model, 1000.0, 0.0, 0.0, iced)[0, 0] > 1000.0
    np.testing.assert_allclose(tension_after_n(model, 1000.0, 0.0, 0.0, model.sag_n2m), 1000.0, rtol=1e-12)


def test_shapes_pulls_by_states_and_an_empty_pull_is_unknown() -> None:
    model = pulls([3.0, 4.0, 5.0], 3.0, start=[0, 1, 1, 3])
    found = tension_after_n(model, np.array([900.0, 900.0, 1100.0]), np.linspace(-20, 20, 5))
    assert found.shape == (3, 5)
    assert np.isnan(found[1]).all()
    assert np.isfinite(found[[0, 2]]).all()
    own = tension_after_n(model, 900.0, np.array([[1.0], [2.0], [3.0]]))
    assert own.shape == (3, 1)
    empty = pulls([], 3.0, start=[0])
    assert tension_after_n(empty, np.empty(0), [1.0, 2.0]).shape == (0, 2)
