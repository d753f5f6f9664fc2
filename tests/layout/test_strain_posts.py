"""Strain posts: fewest pulls, then the most even, divided at corners where that takes their turning out."""

import math
import time

import numpy as np
import pytest
from numpy.testing import assert_allclose

from fencewright.layout import strain_posts
from fencewright.layout.strain_posts import divide_run

SQUARE = math.pi / 2.0
ROUND_THREE = 1.5 * math.pi


def test_one_pull_round_three_corners_is_usual() -> None:
    """One pull round three square corners of a paddock. Common practice, no source."""
    division = divide_run(190.0, [57.0, 94.0, 155.0], [SQUARE] * 3, 200.0, ROUND_THREE)
    assert division.station_m.size == 0
    assert division.is_feasible
    assert math.isnan(division.blocked_from_m)


def test_a_long_straight_run_is_divided_equally() -> None:
    assert_allclose(divide_run(1000.0, [], [], 300.0, 1.0).station_m, [250.0, 500.0, 750.0])


def test_a_run_of_a_whole_number_of_pulls_has_that_number() -> None:
    foot_m = 0.3048
    assert divide_run(6600 * foot_m, [], [], 660 * foot_m, 1.0).station_m.size == 9
    assert divide_run(0.0, [], [], 660 * foot_m, 1.0).station_m.size == 0


def test_no_limit_on_length_leaves_turning_alone_to_divide() -> None:
    division = divide_run(400.0, [100.0, 300.0], [1.0, -1.0], math.inf, 1.5)
    assert_allclose(division.station_m, [200.0])
    assert divide_run(400.0, [100.0, 300.0], [1.0, -1.0], math.inf, math.inf).station_m.size == 0


def test_a_corner_where_the_run_is_divided_turns_in_neither_pull() -> None:
    """Five corners, limit two: only the division at the third corner leaves two and two."""
    division = divide_run(100.0, [10.0, 20.0, 30.0, 40.0, 50.0], [1.0] * 5, 200.0, 2.0)
    assert_allclose(division.station_m, [30.0])


def test_no_single_corner_makes_a_run_infeasible() -> None:
    division = divide_run(100.0, [40.0], [3.0], 200.0, 2.0)
    assert division.is_feasible
    assert_allclose(division.station_m, [40.0])


def test_turning_over_the_ground_shortens_pulls() -> None:
    assert divide_run(1000.0, [], [], 1000.0, 1.0, (), 0.001).station_m.size == 0
    assert_allclose(divide_run(1000.0, [], [], 1000.0, 1.0, (), 0.002).station_m, [500.0])


def test_a_pull_round_a_corner_is_shorter_where_ground_turning_binds() -> None:
    """Limit 1.0 rad: 100 m without the corner, 50 m with its half radian; at the corner itself 100 m."""
    division = divide_run(140.0, [100.0], [0.5], 1000.0, 1.0, [(99.0, 101.0)], 0.01)
    assert_allclose(division.station_m, [90.0], atol=1e-5)
    pulls = np.diff([0.0, *division.station_m, 140.0])
    assert pulls[1] * 0.01 + 0.5 <= 1.0 + 1e-8


def test_an_equal_division_moves_to_the_edge_of_a_forbidden_stretch() -> None:
    assert_allclose(divide_run(500.0, [], [], 300.0, 1.0, [(240.0, 270.0)]).station_m, [240.0])


def test_a_corner_inside_a_forbidden_stretch_may_still_divide() -> None:
    assert_allclose(divide_run(500.0, [255.0], [0.1], 300.0, 1.0, [(200.0, 300.0)]).station_m, [255.0])


def test_a_stretch_too_wide_for_a_pull_is_reported_and_spanned() -> None:
    division = divide_run(1000.0, [], [], 300.0, 4.8, [(100.0, 500.0), (600.0, 610.0)])
    assert not division.is_feasible
    assert (division.blocked_from_m, division.blocked_to_m) == (100.0, 500.0)
    assert_allclose(division.station_m, [100.0, 500.0, 750.0])


def test_a_run_reversed_is_divided_alike() -> None:
    rng = np.random.default_rng(11)
    for _ in range(60):
        length = rng.uniform(100.0, 1500.0)
        vertices = np.sort(rng.uniform(0.0, length, 5))
        turns = rng.uniform(0.0, 1.7, 5)
        low = rng.uniform(0.0, length, 2)
        ground = float(rng.choice([0.0, 0.001]))
        there = divide_run(length, vertices, turns, 300.0, 2.5, np.c_[low, low + 30.0], ground).station_m
        back = divide_run(
            length,
            length - vertices[::-1],
            turns[::-1],
            300.0,
            2.5,
            np.c_[length - low - 30.0, length - low],
            ground,
        ).station_m
        assert there.size == back.size
        squares = [np.sum(np.diff([0.0, *s, length]) ** 2) for s in (there, back)]
        assert squares[0] == pytest.approx(squares[1], rel=1e-4)


@pytest.mark.parametrize("ground", [0.0, 2e-4])
def test_search_and_contacts_agree(monkeypatch: pytest.MonkeyPatch, ground: float) -> None:
    rng = np.random.default_rng(5)
    compared = 0
    for _ in range(12):
        vertices = np.sort(rng.uniform(0.0, 5000.0, 50))
        turns = np.where(rng.random(50) < 0.25, 1.6, 0.3)
        args = (5000.0, vertices, turns, 400.0, 3.5, (), ground)
        monkeypatch.setattr(strain_posts, "_MOST_CONTACTS", 10_000)
        exact = divide_run(*args).station_m
        monkeypatch.setattr(strain_posts, "_MOST_CONTACTS", 0)
        searched = divide_run(*args).station_m
        assert exact.size == searched.size
        squares = [np.sum(np.diff([0.0, *s, 5000.0]) ** 2) for s in (exact, searched)]
        assert squares[1] == pytest.approx(squares[0], rel=1e-4)
        compared += np.ptp(np.diff([0.0, *exact, 5000.0])) > 1.0
    assert compared >= 3


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"length_m": math.nan}, "finite length"),
        ({"length_m": -1.0}, "finite length"),
        ({"length_limit_m": 0.0}, "must be above 0"),
        ({"turning_limit_rad": math.nan}, "must be above 0"),
        ({"ground_turning_rad_per_m": -1.0}, "ground's turning"),
        ({"turning_rad": [1.0, 2.0]}, "one station and one turning"),
        ({"turning_rad": [math.nan]}, "finite numbers"),
        ({"turning_station_m": [3.0, 2.0], "turning_rad": [0.1, 0.1]}, "must rise"),
    ],
)
def test_what_no_run_can_keep_is_refused(changes: dict[str, float], says: str) -> None:
    good: dict[str, object] = {
        "length_m": 10.0,
        "turning_station_m": [5.0],
        "turning_rad": [1.0],
        "length_limit_m": 5.0,
        "turning_limit_rad": 2.0,
    }
    with pytest.raises(ValueError, match=says):
        divide_run(**{**good, **changes})  # type: ignore[arg-type]  # one wrong argument at a time


def test_many_runs_and_one_very_long_run_stay_quick() -> None:
    """Generous bounds, to find a lost closed form or a square cost and no more."""
    rng = np.random.default_rng(2)
    started = time.perf_counter()
    for _ in range(1000):
        divide_run(rng.uniform(50.0, 900.0), [20.0, 40.0], [1.6, 0.3], 300.0, ROUND_THREE)
    vertices = np.sort(rng.uniform(0.0, 2e5, 2000))
    turns = rng.uniform(0.0, 0.6, 2000)
    turns[::10] = 1.6
    division = divide_run(2e5, vertices, turns, 250.0, 4.0)
    assert time.perf_counter() - started < 6.0
    assert division.station_m.size >= 800
