"""A stiff post in soil that stiffens with depth, against integration of the soil's reaction."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics import rigid_post

loads = st.tuples(st.floats(10.0, 1e4), st.floats(0.0, 2e4), st.floats(0.3, 3.0), st.floats(1e6, 2e7))


@given(loads)
def test_soil_reaction_balances_pull_and_moment(load: tuple[float, float, float, float]) -> None:
    pull, moment, depth, subgrade = load
    start = rigid_post.grade_movement_m(pull, moment, depth, subgrade)
    turn = rigid_post.rotation_rad(pull, moment, depth, subgrade)
    nodes, weights = np.polynomial.legendre.leggauss(6)
    z = depth / 2 * (nodes + 1)
    reaction = subgrade * z * (start - turn * z) * weights * depth / 2
    assert reaction.sum() == pytest.approx(pull, rel=1e-9)
    assert (reaction * z).sum() == pytest.approx(-moment, rel=1e-9, abs=1e-9 * pull * depth)


@given(loads)
def test_it_turns_about_a_point_two_thirds_to_three_quarters_down(
    load: tuple[float, float, float, float],
) -> None:
    pull, moment, depth, subgrade = load
    pivot = float(rigid_post.pivot_depth_m(pull, moment, depth))
    assert 2 / 3 * depth * (1 - 1e-12) <= pivot <= 0.75 * depth * (1 + 1e-12)
    assert rigid_post.movement_at_height_m(pull, moment, depth, subgrade, -pivot) == pytest.approx(
        0, abs=1e-9
    )


@given(loads)
def test_greatest_moment_is_the_peak_along_the_buried_part(load: tuple[float, float, float, float]) -> None:
    pull, moment, depth, subgrade = load
    start = rigid_post.grade_movement_m(pull, moment, depth, subgrade)
    turn = rigid_post.rotation_rad(pull, moment, depth, subgrade)
    z = np.linspace(0.0, depth, 4001)
    along = moment + pull * z - subgrade * (start * z**3 / 6 - turn * z**4 / 12)
    assert along[-1] == pytest.approx(0.0, abs=1e-6 * (moment + pull * depth))
    greatest = rigid_post.greatest_moment_n_m(pull, moment, depth)
    assert greatest == pytest.approx(along.max(), rel=1e-6)


def test_a_couple_is_greatest_at_grade_and_nothing_gives_nothing() -> None:
    assert rigid_post.greatest_moment_n_m(0.0, 500.0, 1.0) == pytest.approx(500.0)
    assert rigid_post.greatest_moment_n_m(0.0, 0.0, 1.0) == 0.0
    assert rigid_post.pivot_depth_m(0.0, 0.0, 1.0) == 0.75


def test_stiffness_is_soil_and_bending_in_series() -> None:
    soil = rigid_post.stiffness_n_m(1.0, 1.2, 6.6e6)
    whole = rigid_post.stiffness_n_m(1.0, 1.2, 6.6e6, 2e5)
    assert 1 / whole - 1 / soil == pytest.approx(1 / (3 * 2e5))
    moved = rigid_post.movement_at_height_m(500.0, 500.0, 1.2, 6.6e6, 1.0)
    assert 500.0 / moved == pytest.approx(soil)


def test_ordinary_posts_are_stiff_and_long_poles_are_not() -> None:
    stiffness = 10e9 * np.pi * 0.15**4 / 64
    assert rigid_post.relative_depth(0.9, 6.6e6, stiffness) < rigid_post.RIGID_LIMIT
    assert rigid_post.relative_depth(4.0, 6.6e6, stiffness) > rigid_post.RIGID_LIMIT
