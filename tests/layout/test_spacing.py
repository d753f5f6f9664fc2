"""Line posts of bay runs: counts known from practice, clearances, required posts, many at once."""

import time

import numpy as np
import pytest
from numpy.testing import assert_allclose

from fencewright.layout import spacing_obstructed
from fencewright.layout.spacing import Intervals, Points, Spacing, space_posts

FOOT_M = 0.3048


def stretches(*rows: tuple[int, float, float]) -> Intervals:
    table = np.array(rows, dtype=np.float64).reshape(-1, 3)
    return Intervals(table[:, 0].astype(np.int64), table[:, 1], table[:, 2])


def points(*rows: tuple[int, float]) -> Points:
    table = np.array(rows, dtype=np.float64).reshape(-1, 2)
    return Points(table[:, 0].astype(np.int64), table[:, 1])


def bay(spacing: Spacing, row: int = 0) -> list[float]:
    return list(spacing.station_m[spacing.bay_start[row] : spacing.bay_start[row + 1]])


@pytest.mark.parametrize("unit_m", [1.0, FOOT_M, 1200 / 3937])
def test_the_small_paddock_needs_49_line_posts(unit_m: float) -> None:
    """Legs of 187.5, 120, 200, 120 ft at 12 ft: 15 + 9 + 16 + 9. Common practice, no source."""
    spacing = space_posts(np.array([187.5, 120.0, 200.0, 120.0]) * unit_m, 12.0 * unit_m)
    assert np.diff(spacing.bay_start).tolist() == [15, 9, 16, 9]
    assert_allclose(bay(spacing, 1), np.arange(1, 10) * 12.0 * unit_m, rtol=1e-12)
    assert spacing.is_feasible.all()


def test_no_bay_runs_and_bay_runs_without_posts() -> None:
    assert space_posts(np.zeros(0), 3.0).bay_start.tolist() == [0]
    spacing = space_posts([0.0, 3.0, 3.1], 3.0)
    assert spacing.bay_start.tolist() == [0, 0, 0, 1]
    assert_allclose(spacing.station_m, [1.55])


def test_each_bay_run_may_have_its_own_limit() -> None:
    spacing = space_posts([12.0, 12.0], [4.0, 3.0])
    assert bay(spacing, 0) == pytest.approx([4.0, 8.0])
    assert bay(spacing, 1) == pytest.approx([3.0, 6.0, 9.0])


def test_even_posts_that_are_clear_stay_even() -> None:
    spacing = space_posts([12.0], 4.0, stretches((0, 4.0, 8.0), (0, 8.1, 99.0)))
    assert bay(spacing) == pytest.approx([4.0, 8.0])


def test_a_clearance_moves_the_post_to_its_nearer_edge() -> None:
    spacing = space_posts([10.0], 7.0, stretches((0, 4.0, 5.5)))
    assert bay(spacing) == pytest.approx([5.5])


def test_a_clearance_that_the_limit_leaves_no_room_for_costs_a_post() -> None:
    spacing = space_posts([12.0], 4.0, stretches((0, 3.5, 4.5)))
    assert bay(spacing) == pytest.approx([3.0, 6.0, 9.0])


def test_posts_between_two_contacts_are_even() -> None:
    """Ten spans need every one of them: the edge at 31 takes the rest of the slack."""
    spacing = space_posts([39.5], 4.0, stretches((0, 30.0, 32.0)))
    assert bay(spacing) == pytest.approx([*(np.arange(1, 9) * 4.0), 32.0 + 3.75])


def test_overlapping_and_reversed_order_stretches_act_as_one() -> None:
    one = space_posts([20.0], 4.0, stretches((0, 7.0, 9.5)))
    many = space_posts([20.0], 4.0, stretches((0, 8.5, 9.5), (0, 7.0, 8.0), (0, 7.5, 9.0), (0, 3.0, 3.0)))
    assert_allclose(many.station_m, one.station_m, rtol=1e-12)


def test_a_post_may_stand_where_two_stretches_touch() -> None:
    spacing = space_posts([8.0], 4.0, stretches((0, 2.0, 4.0), (0, 4.0, 6.0)))
    assert bay(spacing) == pytest.approx([4.0])


def test_a_required_post_stands_even_in_a_clearance_and_parts_the_bay() -> None:
    spacing = space_posts([20.0], 4.0, stretches((0, 6.0, 8.0)), points((0, 7.0)))
    assert bay(spacing) == pytest.approx([3.5, 7.0, 7.0 + 3.25, 13.5, 16.75])
    assert spacing.is_feasible.all()


def test_required_posts_on_fixed_posts_or_twice_count_once() -> None:
    spacing = space_posts([8.0], 4.0, None, points((0, 0.0), (0, 8.0), (0, 3.0), (0, 3.0), (0, -1.0)))
    assert bay(spacing) == pytest.approx([3.0, 5.5])


def test_a_stretch_wider_than_the_limit_is_reported_and_spanned() -> None:
    spacing = space_posts([20.0, 8.0], 4.0, stretches((0, 7.0, 12.0), (0, 15.0, 15.5)))
    assert spacing.is_feasible.tolist() == [False, True]
    assert (spacing.blocked_from_m[0], spacing.blocked_to_m[0]) == (7.0, 12.0)
    assert np.isnan([spacing.blocked_from_m[1], spacing.blocked_to_m[1]]).all()
    assert bay(spacing) == pytest.approx([3.5, 7.0, 12.0, 16.0])
    assert bay(spacing, 1) == pytest.approx([4.0])


def test_the_widest_of_several_blocking_stretches_is_reported() -> None:
    spacing = space_posts([60.0], 4.0, stretches((0, 7.0, 12.0), (0, 20.0, 29.0), (0, 40.0, 46.0)))
    assert (spacing.blocked_from_m[0], spacing.blocked_to_m[0]) == (20.0, 29.0)
    assert {7.0, 12.0, 20.0, 29.0, 40.0, 46.0} <= set(bay(spacing))


def test_a_stretch_that_blocks_an_end_leaves_the_fixed_post_as_its_edge() -> None:
    spacing = space_posts([10.0], 4.0, stretches((0, -5.0, 5.0)))
    assert not spacing.is_feasible[0]
    assert (spacing.blocked_from_m[0], spacing.blocked_to_m[0]) == (0.0, 5.0)
    assert bay(spacing) == pytest.approx([5.0, 7.5])


def test_brace_feet_at_both_ends_keep_posts_away() -> None:
    spacing = space_posts([9.0], 4.0, stretches((0, 0.0, 3.2), (0, 5.8, 9.0)))
    assert bay(spacing) == pytest.approx([3.2, 5.8])


@pytest.mark.parametrize(
    ("length", "limit", "stretch", "point", "says"),
    [
        ([np.nan], 4.0, None, None, "finite length"),
        ([-1.0], 4.0, None, None, "finite length"),
        ([5.0], 0.0, None, None, "limit above 0"),
        ([5.0], np.inf, None, None, "limit above 0"),
        ([5.0], 4.0, (1, 0.0, 1.0), None, "outside 0 to 0"),
        ([5.0], 4.0, (0, np.nan, 1.0), None, "must be numbers"),
        ([5.0], 4.0, None, (-1, 1.0), "outside 0 to 0"),
        ([[5.0]], 4.0, None, None, "one list"),
    ],
)
def test_what_no_layout_can_have_is_refused(
    length: list[float],
    limit: float,
    stretch: tuple[int, float, float] | None,
    point: tuple[int, float] | None,
    says: str,
) -> None:
    forbidden = None if stretch is None else stretches(stretch)
    required = None if point is None else points(point)
    with pytest.raises(ValueError, match=says):
        space_posts(length, limit, forbidden, required)


def test_columns_of_unequal_length_are_refused() -> None:
    with pytest.raises(ValueError, match="one bay run each"):
        space_posts([5.0], 4.0, Intervals(np.array([0]), np.array([1.0, 2.0]), np.array([2.0])))


def test_bay_runs_together_are_spaced_as_each_alone() -> None:
    rng = np.random.default_rng(7)
    length = rng.uniform(0.0, 40.0, 60)
    low = rng.uniform(-2.0, 40.0, 90)
    forbidden = Intervals(rng.integers(0, 60, 90), low, low + rng.uniform(0.0, 5.0, 90))
    required = Points(rng.integers(0, 60, 40), rng.uniform(0.0, 40.0, 40))
    together = space_posts(length, 4.0, forbidden, required)
    assert 0 < np.count_nonzero(~together.is_feasible) < 30
    for row in range(60):
        mine, his = forbidden.bay_index == row, required.bay_index == row
        zeros = np.zeros(60, dtype=np.int64)
        alone = space_posts(
            length[row : row + 1],
            4.0,
            Intervals(zeros[: mine.sum()], low[mine], forbidden.to_m[mine]),
            Points(zeros[: his.sum()], required.station_m[his]),
        )
        assert_allclose(bay(together, row), alone.station_m, rtol=1e-12)
        assert together.is_feasible[row] == alone.is_feasible[0]


def test_rows_of_bounded_reach_drawn_taut_come_close(monkeypatch: pytest.MonkeyPatch) -> None:
    rng = np.random.default_rng(4)
    differing = 0
    for _ in range(40):
        low = rng.uniform(0.0, 200.0, 25)
        width = rng.uniform(0.2, 2.0, 25)
        forbidden = Intervals(np.zeros(25, dtype=np.int64), low, low + width)
        monkeypatch.setattr(spacing_obstructed, "_MOST_CONTACTS", 10_000)
        exact = space_posts([200.0], 4.0, forbidden)
        monkeypatch.setattr(spacing_obstructed, "_MOST_CONTACTS", 0)
        monkeypatch.setattr(spacing_obstructed, "_MOST_AHEAD", 12)
        near = space_posts([200.0], 4.0, forbidden)
        assert near.station_m.size == exact.station_m.size
        if not exact.is_feasible[0]:
            continue
        spans = [np.diff([0.0, *s.station_m, 200.0]) for s in (exact, near)]
        assert spans[1].max() <= 4.0 + 1e-7
        assert not any(
            ((near.station_m > a + 1e-7) & (near.station_m < b - 1e-7)).any()
            for a, b in zip(low, low + width, strict=True)
        )
        squares = [float(np.sum(s**2)) for s in spans]
        assert squares[0] - 1e-9 <= squares[1] <= squares[0] * 1.01
        differing += not np.allclose(near.station_m, exact.station_m)
    assert differing < 20


def test_a_long_fence_is_spaced_in_one_go() -> None:
    """Generous bounds, to find a lost vectorisation and no more."""
    rng = np.random.default_rng(3)
    started = time.perf_counter()
    spacing = space_posts(rng.uniform(1.0, 20.0, 100_000), 3.6)
    low = rng.uniform(0.0, 3600.0, 50)
    space_posts([3600.0], 3.61, Intervals(np.zeros(50, dtype=np.int64), low, low + 2.0))
    assert time.perf_counter() - started < 2.0
    assert spacing.bay_start[-1] == spacing.station_m.size > 100_000
