"""Thrusts of braces: one, a corner's pair, opposite ones, and none that would have to pull."""

import numpy as np
import pytest

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


def test_no_braces_at_all() -> None:
    none = np.zeros(0)
    rows = np.zeros(0, np.int64)
    empty = BraceFrame(
        np.zeros((0, 2)), none, none, none, none, np.full((0, 1), -1), rows, rows, none, rows, none
    )
    assert thrusts_n(empty, np.zeros((3, 2))).shape == (0,)
