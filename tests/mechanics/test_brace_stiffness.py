"""Movement of end assemblies: limits to statics, chains of flexibilities, corners on their bisector."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics import brace_statics as statics
from fencewright.mechanics import brace_stiffness as stiffness
from fencewright.mechanics import rigid_post

PULLS, HEIGHTS = np.full(4, 1500.0), np.array([0.35, 0.70, 1.05, 1.40])


def test_a_cantilever_moves_as_the_book_says() -> None:
    assert stiffness.cantilever_movement_m([100.0], [2.0], 2.0, 1e4) == pytest.approx(100 * 8 / 3e4)
    above = stiffness.cantilever_movement_m([100.0], [2.0], 1.0, 1e4)
    assert above == pytest.approx(stiffness.cantilever_movement_m([100.0], [1.0], 2.0, 1e4))
    assert above == pytest.approx(100 * 1 * (6 - 1) / 6e4)


def test_movement_of_many_posts_at_once() -> None:
    moved = stiffness.cantilever_movement_m(PULLS * [[1.0], [2.0]], HEIGHTS, [1.0, 1.0], 2e5)
    assert moved.shape == (2,)
    assert moved[1] == pytest.approx(2 * moved[0])


def test_a_rigid_brace_on_a_limp_post_takes_what_a_prop_takes() -> None:
    """Propped cantilever, load at the prop: the prop takes it all."""
    forces = stiffness.clamped_brace([1000.0], [1.0], 1.0, 2.0, 1e4, 0.0)
    assert forces.brace.thrust_n == pytest.approx(1000.0)
    assert forces.foot_moment_n_m == pytest.approx(0.0, abs=1e-9)


def test_a_brace_that_yields_leaves_everything_to_the_clamp() -> None:
    forces = stiffness.clamped_brace(PULLS, HEIGHTS, 1.0, 2.0, 2e5, 1e9)
    assert forces.brace.axial_n == pytest.approx(0.0, abs=1e-6)
    assert forces.foot_moment_n_m == pytest.approx(5250.0)
    assert forces.brace.pivot_n == pytest.approx(6000.0)


@given(st.floats(0.5, 1.5), st.floats(0.8, 3.0), st.floats(1e5, 1e8), st.floats(1e5, 1e8))
def test_a_braces_flexibility_is_its_parts_by_virtual_work(
    contact: float, reach: float, level: float, down: float
) -> None:
    """Sum over the parts of (force in it for one newton)^2 times its own flexibility."""
    forces = statics.diagonal_from_thrust(1.0, 1.0, contact, reach)
    length = np.hypot(contact, reach)
    work = forces.axial_n**2 * length / 8e7 + forces.uplift_n**2 * contact / 2e8
    work += forces.footing_push_n**2 / level + forces.footing_down_n**2 / down
    found = stiffness.diagonal_flexibility_m_n(contact, reach, 2e8, 8e7, level, down)
    assert found == pytest.approx(work, rel=1e-9)


def test_a_ties_flexibility_is_its_stretch_and_the_posts_shortening() -> None:
    forces = statics.tied_brace(1.0, 1.2, 1.2, 2.4)
    work = forces.tie_n**2 * np.hypot(1.2, 2.4) / 1e6 + forces.uplift_n**2 * 1.2 / 2e8
    assert stiffness.tie_flexibility_m_n(1.2, 2.4, 1e6, 2e8) == pytest.approx(work)
    assert stiffness.rail_flexibility_m_n(2.4, 8e7) == pytest.approx(3e-8)


@given(st.floats(1e-9, 1e-4), st.floats(0.0, 1e-4))
def test_the_first_bay_takes_half_or_more(tie: float, rail: float) -> None:
    share = stiffness.first_bay_share(tie, rail)
    assert 0.5 <= share <= 1.0
    assert share * tie == pytest.approx((1 - share) * (tie + rail))


def test_lean_takes_a_post_to_its_movement() -> None:
    assert stiffness.lean_rad(0.02, 1.0, 0.6) * 1.6 == pytest.approx(0.02)


@given(st.floats(0.2, 1.4))
def test_a_corner_under_a_force_on_its_bisector(half: float) -> None:
    moved = stiffness.corner_movement_m([1000.0, 0.0], -half, half, 1e-6, 1e-6)
    assert moved[0] == pytest.approx(1e-6 * 1000.0 / (2 * np.cos(half) ** 2))
    assert moved[1] == pytest.approx(0.0, abs=1e-12)


@given(st.floats(-3.0, 3.0), st.floats(0.3, 2.8), st.floats(1e-7, 1e-5), st.floats(1e-7, 1e-5))
def test_corner_movement_shortens_each_brace_by_its_own_thrust(
    first: float, between: float, soft: float, other: float
) -> None:
    force = np.array([700.0, -400.0])
    moved = stiffness.corner_movement_m(force, first, first + between, soft, other)
    thrusts = statics.corner_thrusts_n(force, first, first + between)
    for angle, flexibility, thrust in zip((first, first + between), (soft, other), thrusts, strict=True):
        along = moved @ [np.cos(angle), np.sin(angle)]
        assert along == pytest.approx(float(thrust) * flexibility, rel=1e-8, abs=1e-12)


def test_a_foot_in_very_stiff_soil_is_clamped() -> None:
    soil = stiffness.SoilFoot(1.2, 1e16)
    yielding = stiffness.soil_braced(PULLS, HEIGHTS, 1.0, 2.0, 2e5, 4e-8, soil)
    clamped = stiffness.clamped_brace(PULLS, HEIGHTS, 1.0, 2.0, 2e5, 4e-8)
    assert yielding.brace.thrust_n == pytest.approx(float(clamped.brace.thrust_n), rel=1e-6)
    assert yielding.foot_moment_n_m == pytest.approx(float(clamped.foot_moment_n_m), rel=1e-5)


def test_a_stiff_post_in_very_soft_soil_turns_about_its_pivot() -> None:
    """Unyielding brace, no bending: the soil only fixes where the foot turns, and balances what is left."""
    soil = stiffness.SoilFoot(1.2, 1.0)
    forces = stiffness.soil_braced(PULLS, HEIGHTS, 1.0, 2.0, 1e15, 0.0, soil)
    pull, moment = forces.brace.pivot_n, forces.foot_moment_n_m
    at_contact = rigid_post.movement_at_height_m(pull, moment, 1.2, 1.0, 1.0)
    assert at_contact == pytest.approx(0.0, abs=1e-6 * 6000)


@given(st.floats(1e6, 2e7), st.floats(0.6, 1.5), st.floats(1e-8, 1e-5))
def test_brace_and_upright_meet_where_both_have_moved(subgrade: float, depth: float, flexible: float) -> None:
    soil = stiffness.SoilFoot(depth, subgrade)
    forces = stiffness.soil_braced(PULLS, HEIGHTS, 1.0, 2.0, 2e5, flexible, soil)
    thrust, left = forces.brace.thrust_n, forces.brace.pivot_n
    loads, places = np.append(PULLS, -thrust), np.append(HEIGHTS, 1.0)
    bent = stiffness.cantilever_movement_m(loads, places, 1.0, 2e5)
    carried = rigid_post.movement_at_height_m(left, forces.foot_moment_n_m, depth, subgrade, 1.0)
    assert float(bent + carried) == pytest.approx(float(thrust * flexible), rel=1e-6, abs=1e-9)
