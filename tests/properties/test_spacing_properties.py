"""What holds for every bay run: mirrored alike, never more posts for a longer limit, nothing forbidden."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from fencewright.layout.spacing import Intervals, Points, Spacing, space_posts

LENGTHS = st.floats(0.0, 60.0)
LIMITS = st.floats(1.0, 9.0)
STRETCHES = st.lists(st.tuples(st.floats(-2.0, 60.0), st.floats(0.0, 6.0)), max_size=6)
REQUIRED = st.lists(st.floats(-1.0, 61.0), max_size=3)


def spaced(
    length: float,
    limit: float,
    stretches: list[tuple[float, float]],
    required: list[float],
) -> Spacing:
    low = np.array([a for a, _ in stretches], dtype=np.float64)
    width = np.array([w for _, w in stretches], dtype=np.float64)
    forbidden = Intervals(np.zeros(low.size, dtype=np.int64), low, low + width)
    points = Points(np.zeros(len(required), dtype=np.int64), np.array(required, dtype=np.float64))
    return space_posts([length], limit, forbidden, points)


def spans_of(spacing: Spacing, length: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return np.diff(np.concatenate([[0.0], spacing.station_m, [length]]))


@given(LENGTHS, LIMITS, STRETCHES, REQUIRED)
def test_no_post_is_forbidden_and_no_span_too_long(
    length: float, limit: float, stretches: list[tuple[float, float]], required: list[float]
) -> None:
    spacing = spaced(length, limit, stretches, required)
    spans = spans_of(spacing, length)
    slack = 1e-8 * limit
    assert (spans >= 0.0).all()
    if spacing.is_feasible[0]:
        assert spans.max() <= limit + slack
    free = [s for s in spacing.station_m if not any(abs(s - r) <= slack for r in required)]
    for low, width in stretches:
        assert not any(low + slack < s < low + width - slack for s in free)
    for station in required:
        if slack < station < length - slack:
            assert np.abs(spacing.station_m - station).min() <= slack


@given(LENGTHS, LIMITS, STRETCHES, REQUIRED)
def test_a_blocking_stretch_is_the_one_span_over_the_limit(
    length: float, limit: float, stretches: list[tuple[float, float]], required: list[float]
) -> None:
    spacing = spaced(length, limit, stretches, required)
    spans = spans_of(spacing, length)
    slack = 1e-8 * limit
    widest = spacing.blocked_to_m[0] - spacing.blocked_from_m[0]
    assert spacing.is_feasible[0] == np.isnan(widest)
    if not spacing.is_feasible[0]:
        assert widest > limit
        assert abs(spans.max() - widest) <= slack


@given(LENGTHS, LIMITS, STRETCHES, REQUIRED)
def test_a_reversed_bay_has_the_same_count_and_evenness(
    length: float, limit: float, stretches: list[tuple[float, float]], required: list[float]
) -> None:
    there = spaced(length, limit, stretches, required)
    mirrored = [(length - low - width, width) for low, width in stretches]
    back = spaced(length, limit, mirrored, [length - station for station in required])
    # a stretch within rounding of the limit or of another may tip either way
    assert there.station_m.size == back.station_m.size or near_a_tie(length, limit, stretches, required)
    if there.station_m.size == back.station_m.size:
        a, b = (np.sum(spans_of(s, length) ** 2) for s in (there, back))
        assert abs(a - b) <= 1e-7 * (1.0 + a)


def near_a_tie(
    length: float, limit: float, stretches: list[tuple[float, float]], required: list[float]
) -> bool:
    """Whether a limit longer or shorter by a hair gives another count, so that rounding may too."""
    counts = {
        spaced(length, limit * f, stretches, required).station_m.size for f in (1 - 1e-8, 1.0, 1 + 1e-8)
    }
    return len(counts) > 1


@given(LENGTHS, LIMITS, st.floats(1.0, 3.0), STRETCHES, REQUIRED)
def test_a_longer_limit_never_costs_posts(
    length: float,
    limit: float,
    factor: float,
    stretches: list[tuple[float, float]],
    required: list[float],
) -> None:
    short = spaced(length, limit, stretches, required)
    long = spaced(length, limit * factor, stretches, required)
    if short.is_feasible[0]:
        assert long.is_feasible[0]
        assert long.station_m.size <= short.station_m.size


@given(LENGTHS, LIMITS, STRETCHES)
def test_a_clearance_never_saves_posts(
    length: float, limit: float, stretches: list[tuple[float, float]]
) -> None:
    free = spaced(length, limit, [], [])
    kept = spaced(length, limit, stretches, [])
    if not kept.is_feasible[0]:
        return
    assert kept.station_m.size >= free.station_m.size
    assert np.sum(spans_of(free, length) ** 2) <= np.sum(spans_of(kept, length) ** 2) * (1 + 1e-12) or (
        kept.station_m.size > free.station_m.size
    )
