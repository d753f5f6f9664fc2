"""Belt friction along whole pulls: pieces, both ends, the loosest, stretch, which end draws."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import ArrayLike, NDArray

from fencewright.mechanics.belt_friction import (
    BOTH_ENDS,
    FIRST_END,
    LAST_END,
    bend_force_n,
    better_end,
    far_end_share,
    loosest_piece,
    piece_start,
    share_in_pieces,
    stretch_with_friction_m,
    tension_in_pieces_n,
    tension_share,
)

START = np.array([0, 2, 2, 5])
TURNING = np.radians([90.0, 30.0, 10.0, 20.0, 90.0])
turnings = st.lists(st.floats(0.0, np.pi), max_size=12)
frictions = st.floats(0.0, 0.6)


def test_pieces_of_three_pulls_by_hand() -> None:
    np.testing.assert_array_equal(piece_start(START), [0, 3, 4, 8])
    first = np.exp(-0.3 * np.radians([0, 90, 120, 0, 0, 10, 30, 120]))
    last = np.exp(-0.3 * np.radians([120, 30, 0, 0, 120, 110, 90, 0]))
    np.testing.assert_allclose(share_in_pieces(TURNING, START, 0.3, FIRST_END), first, rtol=1e-12)
    np.testing.assert_allclose(share_in_pieces(TURNING, START, 0.3, LAST_END), last, rtol=1e-12)
    both = share_in_pieces(TURNING, START, 0.3, BOTH_ENDS)
    np.testing.assert_allclose(both, np.maximum(first, last), rtol=1e-12)
    mixed = share_in_pieces(TURNING, START, 0.3, np.array([FIRST_END, LAST_END, LAST_END]))
    np.testing.assert_allclose(mixed, np.concatenate([first[:3], [1.0], last[4:]]), rtol=1e-12)


def test_tension_starts_from_each_pull_and_friction_may_differ_by_bend() -> None:
    friction = np.array([0.0, 0.3, 0.0, 0.0, 0.0])
    tension = tension_in_pieces_n(np.array([1000.0, 500.0, 200.0]), TURNING, START, friction)
    np.testing.assert_allclose(tension[:3], [1000.0, 1000.0, 1000.0 * np.exp(-0.3 * np.radians(30))])
    np.testing.assert_array_equal(tension[3:], [500.0, 200.0, 200.0, 200.0, 200.0])


@given(turnings, frictions)
def test_the_far_end_is_the_same_from_either_side(turning: list[float], friction: float) -> None:
    start = np.array([0, len(turning)])
    share = far_end_share(turning, start, friction)
    assert share == pytest.approx(tension_share(sum(turning), friction), rel=1e-9)
    back = share_in_pieces(turning, start, friction, LAST_END)
    assert back[0] == pytest.approx(float(share[0]), rel=1e-9)


@given(turnings, frictions, st.floats(0.0, 0.4), st.sampled_from([FIRST_END, LAST_END, BOTH_ENDS]))
def test_more_friction_never_more_tension(
    turning: list[float], friction: float, more: float, end: int
) -> None:
    start = np.array([0, len(turning)])
    less = tension_in_pieces_n(1000.0, turning, start, friction + more, end)
    assert (less <= tension_in_pieces_n(1000.0, turning, start, friction, end) + 1e-9).all()
    assert (less >= 0).all()


@given(turnings, frictions)
def test_a_pull_reversed_is_the_same_pull(turning: list[float], friction: float) -> None:
    start = np.array([0, len(turning)])
    there = share_in_pieces(turning, start, friction, FIRST_END)
    back = share_in_pieces(turning[::-1], start, friction, LAST_END)
    np.testing.assert_allclose(there, back[::-1], rtol=1e-9)


def test_drawn_from_both_ends_the_middle_is_loosest() -> None:
    turning = np.radians([45.0] * 6)
    share = share_in_pieces(turning, np.array([0, 6]), 0.2, BOTH_ENDS)
    least, piece = loosest_piece(share, np.array([0, 6]))
    assert piece[0] == 3
    assert least[0] == pytest.approx(np.exp(-0.2 * np.radians(135)))


def test_loosest_of_each_pull() -> None:
    tension = tension_in_pieces_n(1000.0, TURNING, START, 0.3)
    least, piece = loosest_piece(tension, START)
    np.testing.assert_array_equal(piece, [2, 3, 7])
    np.testing.assert_allclose(least, tension[[2, 3, 7]])


def test_stretch_sums_each_piece_at_its_own_tension() -> None:
    tension = np.array([100.0, 80.0, 60.0, 100.0, 50.0, 40.0, 30.0, 20.0])
    length = np.array([10.0, 20.0, 30.0, 5.0, 1.0, 1.0, 1.0, 2.0])
    stretch = stretch_with_friction_m(tension, length, 1e5, START)
    np.testing.assert_allclose(stretch, np.array([4400.0, 500.0, 160.0]) / 1e5)
    straight = stretch_with_friction_m([700.0], [50.0], [1e6], np.array([0, 0]))
    assert straight[0] == pytest.approx(700 * 50 / 1e6)


def _better_end(
    turning: ArrayLike, start: NDArray[np.int64], friction: float, length: ArrayLike
) -> NDArray[np.int64]:
    """Better end of some pulls, from how much either end stretches them."""
    ends = np.repeat([[FIRST_END], [LAST_END]], len(start) - 1, axis=1)
    first, last = stretch_with_friction_m(share_in_pieces(turning, start, friction, ends), length, 1.0, start)
    return better_end(first, last)


def test_the_tensioner_stands_where_most_of_the_rail_lies_before_the_bends() -> None:
    start, turning = np.array([0, 1, 2, 3, 3]), np.radians([90.0, 90.0, 90.0])
    length = np.array([5.0, 40.0, 40.0, 5.0, 20.0, 20.0, 30.0])
    np.testing.assert_array_equal(
        _better_end(turning, start, 0.3, length), [LAST_END, FIRST_END, FIRST_END, FIRST_END]
    )


@given(turnings, st.floats(0.01, 0.6), st.integers(0, 1000))
def test_the_better_end_stretches_the_rail_no_less(turning: list[float], friction: float, seed: int) -> None:
    start = np.array([0, len(turning)])
    length = np.random.default_rng(seed).uniform(1, 50, len(turning) + 1)
    end = _better_end(turning, start, friction, length)
    stretch = [
        stretch_with_friction_m(share_in_pieces(turning, start, friction, which), length, 1.0, start)[0]
        for which in (end, 1 - end)
    ]
    assert stretch[0] >= stretch[1] * (1 - 1e-8)


def test_several_ways_of_drawing_at_once_are_each_alone() -> None:
    turning, ways = np.radians([90.0, 20.0, 45.0, 60.0, 10.0]), (FIRST_END, LAST_END, BOTH_ENDS)
    together = share_in_pieces(turning, START, 0.25, np.repeat([[way] for way in ways], 3, axis=1))
    least, piece = loosest_piece(together, START)
    for row, way in enumerate(ways):
        alone = share_in_pieces(turning, START, 0.25, way)
        np.testing.assert_array_equal(together[row], alone)
        np.testing.assert_array_equal(least[row], loosest_piece(alone, START)[0])
        np.testing.assert_array_equal(piece[row], loosest_piece(alone, START)[1])


def test_no_pulls() -> None:
    none = np.array([0])
    assert share_in_pieces([], none, 0.2, FIRST_END).shape == (0,)
    assert loosest_piece(np.empty(0), none)[0].shape == (0,)
    assert stretch_with_friction_m(np.empty(0), np.empty(0), 1.0, none).shape == (0,)
    assert _better_end([], none, 0.2, np.empty(0)).shape == (0,)


@given(st.floats(0, 3000), st.floats(0, 3000), st.floats(0, np.pi))
def test_the_force_on_a_post_is_the_vector_sum_of_both_sides(
    before: float, after: float, turn: float
) -> None:
    both = np.array([-before, 0.0]) + after * np.array([np.cos(turn), np.sin(turn)])
    assert float(bend_force_n(before, after, turn)) == pytest.approx(float(np.hypot(*both)), abs=1e-4)
