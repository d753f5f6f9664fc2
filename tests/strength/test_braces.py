"""Thrusts of braces: one, a corner's pair, opposite ones, and none that would have to pull."""

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics.brace_statics import corner_thrusts_n, diagonal_brace
from fencewright.strength.braces import BraceFrame, thrusts_n


def frame_of(*angles_deg: float, contact_m: float = 1.0, reach_m: float = 2.0) -> BraceFrame:
    """All braces at post 0, their feet in these directions, ending at grade."""
    angle = np.deg2rad(np.array(angles_deg))
    count = len(angle)
    return BraceFrame(
        np.column_stack([np.cos(angle), np.sin(angle)]),
        np.full(count, contact_m),
        np.full(count, contact_m),
        np.full(count, reach_m),
        np.full(count, np.hypot(contact_m, reach_m)),
        np.arange(count)[None, :],
        np.zeros(1, np.int64),
        np.arange(count),
        np.ones(count),
        np.full(count, -1),
        np.ones(count),
    )


def test_one_brace_gives_the_derived_example() -> None:
    """sources-structure section 3: 4 x 1.5 kN at 0.35 to 1.40 m, contact 1.0 m, foot 2.0 m: T 5.25 kN, uplift 2.625."""
    frame = frame_of(0.0)
    moment = 1500 * (0.35 + 0.70 + 1.05 + 1.40)
    thrust = thrusts_n(frame, np.array([[moment, 0.0]]))
    assert thrust == pytest.approx([5250.0])
    assert thrust * frame.slope == pytest.approx([2625.0])
    assert diagonal_brace(6000.0, moment, 1.0, 2.0).thrust_n == pytest.approx(thrust[0])


@pytest.mark.parametrize("second", [25.0, 90.0, 135.0, 170.0])
def test_a_corner_shares_as_two_braces_in_closed_form(second: float) -> None:
    angle = np.deg2rad(second)
    moment = 4000.0 * np.array([[1 + np.cos(angle), np.sin(angle)]])
    thrust = thrusts_n(frame_of(0.0, second), moment)
    known = corner_thrusts_n(moment[0], 0.0, angle)
    assert thrust == pytest.approx([float(known[0]), float(known[1])])
    assert thrust == pytest.approx([4000.0, 4000.0])


def test_opposite_braces_of_a_strain_post_rest_while_both_sides_pull() -> None:
    assert not thrusts_n(frame_of(0.0, 180.0), np.zeros((1, 2))).any()
    one_sided = thrusts_n(frame_of(0.0, 180.0), np.array([[-3000.0, 0.0]]))
    assert one_sided == pytest.approx([0.0, 3000.0])


def test_a_brace_never_pulls() -> None:
    assert not thrusts_n(frame_of(0.0), np.array([[-1000.0, 0.0]])).any()
    away = thrusts_n(frame_of(0.0, 90.0), np.array([[1000.0, -400.0]]))
    assert away == pytest.approx([1000.0, 0.0])


def test_three_braces_leave_nothing_that_two_could_hold() -> None:
    moment = np.array([[1000.0, 700.0]])
    frame = frame_of(0.0, 90.0, 180.0)
    thrust = thrusts_n(frame, moment)
    assert (thrust[:, None] * frame.unit).sum(axis=0) == pytest.approx(moment[0])
    assert (thrust >= 0).all()


@pytest.mark.parametrize(("turn_deg", "part"), [(10.0, 1.0), (5.0, 0.2505), (1.0, 0.01003), (0.2, 0.000401)])
def test_braces_that_nearly_oppose_leave_what_pushes_across_to_the_soil(turn_deg: float, part: float) -> None:
    """By hand: the part sin2(turn/2) / sin2(5 deg) of it, each of the two then 1 / (2 sin(turn/2)) of that part."""
    turn = np.deg2rad(turn_deg)
    across = np.array([np.sin(turn / 2), np.cos(turn / 2)])
    frame = frame_of(0.0, 180.0 - turn_deg)
    thrust = thrusts_n(frame, 400.0 * across[None])
    assert thrust == pytest.approx(np.full(2, part * 400.0 / (2 * np.sin(turn / 2))), rel=1e-3)
    left = 400.0 * across - (thrust[:, None] * frame.unit).sum(axis=0)
    assert np.hypot(*left) == pytest.approx(400.0 * (1 - part), abs=0.05)


def test_what_pulls_along_is_held_however_straight_the_braces_stand() -> None:
    frame = frame_of(0.0, 179.0)
    along = np.array([[3000.0, 30.0]])
    thrust = thrusts_n(frame, along)
    assert thrust[0] == pytest.approx(3000.0, rel=0.01)
    assert thrust[1] < 100.0


def test_of_two_pairs_that_hold_it_the_one_of_less_thrust_does() -> None:
    """A third brace stands nearly against the first: the pair of the two would take 6 times the load."""
    angles = (0.0, 80.0, 165.0)
    for order in permutations(range(3)):
        thrust = thrusts_n(frame_of(*(angles[one] for one in order)), np.array([[300.0, 900.0]]))
        by_angle = thrust[np.argsort(order)]
        assert by_angle == pytest.approx(thrusts_n(frame_of(*angles), np.array([[300.0, 900.0]])))
        assert by_angle[2] == 0.0
    assert by_angle.sum() < 1.2 * np.hypot(300.0, 900.0)


@given(
    st.lists(st.floats(0.0, 360.0), min_size=1, max_size=4),
    st.floats(0.0, 2 * np.pi),
    st.booleans(),
)
def test_no_thrust_is_without_end_nor_hangs_on_the_order(
    angles_deg: list[float], way: float, is_mirrored: bool
) -> None:
    """Two that push against each other take at most 1 / sin(5 deg) of what pushes across them."""
    moment = 1000.0 * np.array([[np.cos(way), np.sin(way)]])
    frame = frame_of(*angles_deg)
    thrust = thrusts_n(frame, moment)
    assert thrust.sum() <= 1000.0 * (1.0 + 1.0 / np.sin(np.deg2rad(5.0)))
    left = np.hypot(*(moment[0] - (thrust[:, None] * frame.unit).sum(axis=0)))
    assert left <= 1000.0 + 1e-6
    turned = [-one for one in angles_deg[::-1]] if is_mirrored else angles_deg[::-1]
    other_frame = frame_of(*turned)
    other = thrusts_n(other_frame, moment * (1.0, -1.0 if is_mirrored else 1.0))
    other_left = np.hypot(
        *(moment[0] * (1.0, -1.0 if is_mirrored else 1.0) - (other[:, None] * other_frame.unit).sum(axis=0))
    )
    assert other_left == pytest.approx(left, abs=0.02)
    assert other.sum() == pytest.approx(thrust.sum(), rel=1e-3, abs=0.5)


def test_no_braces_at_all() -> None:
    none = np.zeros(0)
    rows = np.zeros(0, np.int64)
    empty = BraceFrame(
        np.zeros((0, 2)), none, none, none, none, np.full((0, 1), -1), rows, rows, none, rows, none
    )
    assert thrusts_n(empty, np.zeros((3, 2))).shape == (0,)
