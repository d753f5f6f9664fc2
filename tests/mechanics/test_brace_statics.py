"""Statics of end assemblies: equilibrium of every part, limits, and what must not change the answer."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics import brace_statics as statics

sizes = st.floats(0.3, 3.0)
loads = st.floats(100.0, 2e4)


@given(loads, sizes, sizes, sizes, st.floats(0.0, 1.0))
def test_a_braced_upright_is_in_equilibrium(
    pull: float, height: float, contact: float, reach: float, below: float
) -> None:
    forces = statics.diagonal_brace(pull, pull * height, contact, reach, below)
    assert forces.thrust_n + forces.pivot_n == pytest.approx(pull)
    assert forces.thrust_n * contact - forces.pivot_n * below == pytest.approx(pull * height)
    assert np.hypot(forces.footing_push_n, forces.footing_down_n) == pytest.approx(forces.axial_n)


@given(loads, sizes, sizes, sizes)
def test_uplift_of_a_post_pinned_at_grade_does_not_depend_on_the_contact(
    pull: float, height: float, contact: float, reach: float
) -> None:
    forces = statics.diagonal_brace(pull, pull * height, contact, reach)
    assert forces.uplift_n == pytest.approx(pull * height / reach)


def test_a_pull_above_the_contact_kicks_the_foot_out() -> None:
    assert statics.diagonal_brace(1000.0, 1500.0, 1.0, 2.0).pivot_n == pytest.approx(-500.0)


@given(loads, sizes, sizes, sizes)
def test_a_tied_bay_is_in_equilibrium_at_both_posts(
    pull: float, height: float, rail: float, bay: float
) -> None:
    forces = statics.tied_brace(pull, pull * height, rail, bay)
    level = forces.tie_n * bay / np.hypot(bay, rail)
    assert level == pytest.approx(forces.rail_n)
    assert forces.foot_n == pytest.approx(pull)
    assert forces.uplift_n * bay == pytest.approx(pull * height)


def test_a_longer_bay_lowers_tie_and_uplift() -> None:
    forces = statics.tied_brace(6000.0, 5250.0, 1.2, np.array([1.2, 2.4, 3.0]))
    assert np.all(np.diff(forces.tie_n) < 0)
    assert np.all(np.diff(forces.uplift_n) < 0)
    np.testing.assert_allclose(forces.rail_n, 4375.0)


@given(st.floats(0.0, 1.0))
def test_two_bays_pass_the_whole_pull_to_their_two_feet(share: float) -> None:
    first, second = statics.tied_two_bays(6000.0, 5250.0, 1.2, 2.4, share)
    assert first.foot_n + second.foot_n == pytest.approx(6000.0)
    assert first.uplift_n + second.uplift_n == pytest.approx(2187.5)
    assert second.rail_n == pytest.approx((1 - share) * 4375.0)


def test_two_bays_with_all_in_the_first_tie_are_one_bay() -> None:
    first, second = statics.tied_two_bays(6000.0, 5250.0, 1.2, 2.4, 1.0)
    one = statics.tied_brace(6000.0, 5250.0, 1.2, 2.4)
    assert first == one
    assert second.rail_n == second.tie_n == second.foot_n == 0.0


@given(st.floats(-3.0, 3.0), st.floats(0.2, 2.9), st.floats(-5e3, 5e3), st.floats(-5e3, 5e3))
def test_corner_thrusts_add_up_to_the_force(first: float, between: float, east: float, north: float) -> None:
    second = first + between
    one, two = statics.corner_thrusts_n([east, north], first, second)
    assert one * np.cos(first) + two * np.cos(second) == pytest.approx(east, abs=1e-8)
    assert one * np.sin(first) + two * np.sin(second) == pytest.approx(north, abs=1e-8)


def test_each_brace_of_a_corner_holds_its_own_lines_pull_and_both_lift() -> None:
    """Square corner, both lines pull 6 kN at 0.875 m: uplift is twice that of an end."""
    one, two = statics.corner_thrusts_n([5250.0, 5250.0], 0.0, np.pi / 2)
    assert one == pytest.approx(5250.0)
    assert two == pytest.approx(5250.0)
    end = statics.diagonal_brace(6000.0, 5250.0, 1.0, 2.0)
    lifts = statics.diagonal_from_thrust(np.array([one, two]), 6000.0, 1.0, 2.0).uplift_n
    assert lifts.sum() == pytest.approx(2 * end.uplift_n)


def test_a_force_away_from_a_foot_leaves_that_brace_loose() -> None:
    one, two = statics.corner_thrusts_n([5000.0, -500.0], 0.0, np.pi / 2)
    assert one == pytest.approx(5000.0)
    assert two == pytest.approx(-500.0)


def test_braces_on_one_straight_line_are_refused() -> None:
    with pytest.raises(ValueError, match="one straight line"):
        statics.corner_thrusts_n([1.0, 0.0], 0.0, np.pi)
