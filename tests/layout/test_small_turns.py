"""Turns without a post: which they are, and where they count while a run is divided."""

import numpy as np
import pytest
from numpy.testing import assert_allclose

from fencewright.layout.small_turns import shifted_out_m, small_turns, turns_between
from fencewright.tables.fence import FenceLine


def line_of(points: list[tuple[float, float]], *, is_closed: bool) -> FenceLine:
    xy = np.array(points)
    ring = np.vstack([xy, xy[:1]]) if is_closed else xy
    station = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(ring, axis=0).T))])
    return FenceLine("a", xy, station, is_closed, 0, 0)


def test_only_turns_below_the_straight_angle_are_small() -> None:
    line = line_of([(0, 0), (10, 0), (20, 0.1), (30, 3), (40, 3)], is_closed=False)
    found = small_turns(line, np.deg2rad(2.0))
    assert_allclose(found, [[10.0, np.arctan2(0.1, 10.0)]])


def test_a_closed_line_gives_them_a_lap_further_on_too() -> None:
    line = line_of([(0, 0), (10, 0.1), (20, 0), (20, 20), (0, 20)], is_closed=True)
    found = small_turns(line, np.deg2rad(2.0))
    assert_allclose(found[1] - found[0], [line.station_m[-1], 0.0])


def test_a_run_holds_those_strictly_between_its_ends() -> None:
    turns = np.array([[1.0, 0.1], [5.0, 0.2], [9.0, 0.3]])
    assert turns_between(turns, 1.0, 9.0)[:, 1].tolist() == [0.2]
    assert turns_between(turns, 0.0, 10.0)[:, 1].sum() == pytest.approx(0.6)
    assert len(turns_between(np.zeros((0, 2)), 0.0, 10.0)) == 0


def test_a_turn_where_no_post_may_stand_counts_at_the_nearer_edge() -> None:
    barred = np.array([[8.0, 12.0], [2.0, 4.0], [11.0, 14.0]])
    at = np.array([1.0, 2.5, 3.5, 9.0, 13.0, 20.0])
    assert shifted_out_m(at, barred).tolist() == [1.0, 2.0, 4.0, 8.0, 14.0, 20.0]
    assert shifted_out_m(at, np.zeros((0, 2))).tolist() == at.tolist()
