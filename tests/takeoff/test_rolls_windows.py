"""Where a splice may fall, and walks along a chain of rolls."""

from __future__ import annotations

import numpy as np
import pytest

from fencewright.takeoff.roll_chain import Rolls, walk_pull
from fencewright.takeoff.roll_instance import Instance, build_instance
from fencewright.takeoff.roll_records import RollPieces, RollStock, SpliceRule
from fencewright.takeoff.roll_windows import allowed_windows

UM = 1_000_000


def windows(length: float, intervals: list[tuple[float, float]], least: float) -> list[tuple[float, float]]:
    low, high = (np.array([pair[side] for pair in intervals], dtype=np.float64) for side in (0, 1))
    pieces = RollPieces(np.array([length]), np.array([0, len(intervals)]), low, high)
    _, first, last = allowed_windows(pieces, round(least * UM))
    return list(zip((first / UM).tolist(), (last / UM).tolist(), strict=True))


@pytest.mark.parametrize(
    ("intervals", "expected"),
    [
        ([], [(2.0, 18.0)]),
        ([(5.0, 8.0)], [(2.0, 5.0), (8.0, 18.0)]),
        ([(12.0, 13.0), (5.0, 8.0), (6.0, 7.0), (7.5, 9.0)], [(2.0, 5.0), (9.0, 12.0), (13.0, 18.0)]),
        ([(-3.0, 4.0), (16.0, 30.0)], [(4.0, 16.0)]),
        ([(-9.0, -4.0), (25.0, 30.0)], [(2.0, 18.0)]),
        ([(0.0, 10.0), (10.0, 20.0)], [(10.0, 10.0)]),
        ([(5.0, 5.0)], [(2.0, 18.0)]),
        ([(0.0, 20.0)], []),
        ([(18.0, 19.0)], [(2.0, 18.0)]),
    ],
)
def test_windows_are_what_the_intervals_leave(
    intervals: list[tuple[float, float]], expected: list[tuple[float, float]]
) -> None:
    assert windows(20.0, intervals, 2.0) == expected


def test_a_pull_shorter_than_two_fragments_has_no_window() -> None:
    assert windows(3.0, [], 2.0) == []
    assert windows(4.0, [], 2.0) == [(2.0, 2.0)]


def test_windows_of_many_pulls_agree_with_one_at_a_time() -> None:
    random = np.random.default_rng(3)
    length_m = random.uniform(5.0, 300.0, 50)
    counts = random.integers(0, 12, 50)
    low = random.uniform(-10.0, 300.0, counts.sum())
    high = low + random.uniform(0.0, 20.0, low.size)
    start = np.concatenate([[0], np.cumsum(counts)])
    rows, first, last = allowed_windows(RollPieces(length_m, start, low, high), 2 * UM)
    for pull in range(50):
        part = slice(start[pull], start[pull + 1])
        alone = windows(length_m[pull], list(zip(low[part].tolist(), high[part].tolist(), strict=True)), 2.0)
        some = slice(rows[pull], rows[pull + 1])
        assert alone == list(zip((first[some] / UM).tolist(), (last[some] / UM).tolist(), strict=True))


def one_pull(length: float, intervals: list[tuple[float, float]], least: float, roll: float) -> Instance:
    low, high = (np.array([pair[side] for pair in intervals], dtype=np.float64) for side in (0, 1))
    pieces = RollPieces(np.array([length]), np.array([0, len(intervals)]), low, high)
    return build_instance(pieces, RollStock(roll), SpliceRule(1.0, 5.0, least))


def test_walk_ahead_and_back() -> None:
    instance = one_pull(150.0, [(90.0, 120.0)], 2.0, 100.0)
    rolls = Rolls((), (), instance.roll)
    ahead = walk_pull(instance, rolls, 0, False, 100 * UM, 1)
    back = walk_pull(instance, rolls, 0, True, 100 * UM, 1)
    assert ahead is not None
    assert back is not None
    # Ahead the splice is at 90 and the second roll takes 60 and the loss; back it is at 51, 99 from the end.
    assert (ahead.splices, ahead.room) == ((90 * UM,), 39 * UM)
    assert (back.splices, back.room) == ((99 * UM,), 49 * UM)


def test_walk_tries_nearer_splices_where_the_furthest_leads_nowhere() -> None:
    # From 95 the next would lie between 115 and 194, where all is forbidden; from 80 the one at 112 is near.
    instance = one_pull(210.0, [(80.0, 95.0), (95.0, 112.0), (112.0, 210.0)], 20.0, 100.0)
    walk = walk_pull(instance, Rolls((), (), instance.roll), 0, False, 100 * UM, 1)
    assert walk is not None
    assert walk.splices == (80 * UM, 112 * UM)
    assert walk.room == UM


def test_walk_ends_where_rolls_do() -> None:
    instance = one_pull(250.0, [], 2.0, 100.0)
    assert walk_pull(instance, Rolls((100 * UM, 100 * UM), (-1, -1), 0), 0, False, 100 * UM, 1) is None
