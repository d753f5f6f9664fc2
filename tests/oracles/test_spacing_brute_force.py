"""Post spacing against a fine grid that holds the optimum, and against every choice of stretches.

Whole-number data: between two contacts the optimum is even, so its stations are whole multiples of
1/60 as long as no even row has more than six spans; the grid's optimum is then the optimum itself.
The second oracle knows nothing of even rows: it enumerates which open stretch each post stands in
and hands every choice to a general quadratic solver.
"""

import itertools

import numpy as np
import piqp
import pytest
from numpy.typing import NDArray

from fencewright.layout.spacing import Intervals, Points, space_posts

PARTS = 60


def grid_optimum(
    length: int, limit: int, stretches: list[tuple[int, int]], required: list[int]
) -> tuple[int, int]:
    """Count posts, and sum squared spans in 1/60², by trying every predecessor of every grid station."""
    end = length * PARTS
    places = [
        s
        for s in range(end + 1)
        if s in (0, end)
        or s in [r * PARTS for r in required]
        or not any(a * PARTS < s < b * PARTS for a, b in stretches)
    ]
    forced = np.array([r * PARTS for r in required], dtype=np.int64)
    place = np.array(places)
    # posts first, then squares, as one number: squares never reach `heavy`
    heavy = (end + 1) ** 2
    best = np.full(len(places), np.iinfo(np.int64).max // 4)
    best[0] = 0
    for j in range(1, len(places)):
        span = place[j] - place[:j]
        skips = ((forced[None, :] > place[:j, None]) & (forced[None, :] < place[j])).any(axis=1)
        fits = (span <= limit * PARTS) & (span > 0) & ~skips
        if fits.any():
            best[j] = np.min((best[:j] + heavy + span * span)[fits])
    spans, squares = divmod(int(best[-1]), heavy)
    return spans - 1, squares


def random_bay(rng: np.random.Generator) -> tuple[int, int, list[tuple[int, int]], list[int]]:
    limit = int(rng.integers(3, 7))
    length = int(rng.integers(2, 6 * limit - 3))
    stretches = []
    for _ in range(int(rng.integers(1, 5))):
        low = int(rng.integers(-1, length + 1))
        stretches.append((low, low + int(rng.integers(1, limit + 1))))
    inside = range(1, length)
    required = sorted(
        rng.choice(inside, size=min(len(inside), int(rng.integers(0, 3))), replace=False).tolist()
    )
    return length, limit, stretches, required


@pytest.mark.parametrize("seed", range(12))
def test_fewest_and_most_even_on_whole_numbers(seed: int) -> None:
    rng = np.random.default_rng(seed)
    compared = 0
    for _ in range(12):
        length, limit, stretches, required = random_bay(rng)
        forbidden = Intervals(
            np.zeros(len(stretches), dtype=np.int64),
            np.array([a for a, _ in stretches], dtype=np.float64),
            np.array([b for _, b in stretches], dtype=np.float64),
        )
        points = Points(np.zeros(len(required), dtype=np.int64), np.array(required, dtype=np.float64))
        spacing = space_posts([float(length)], float(limit), forbidden, points)
        if not spacing.is_feasible[0]:
            continue
        posts, squares = grid_optimum(length, limit, stretches, required)
        spans = np.diff([0.0, *spacing.station_m, length])
        assert spacing.station_m.size == posts, (length, limit, stretches, required)
        assert np.sum(spans**2) == pytest.approx(squares / PARTS**2, rel=1e-9)
        compared += 1
    assert compared >= 4


def test_infeasible_exactly_where_the_grid_finds_no_way() -> None:
    rng = np.random.default_rng(99)
    blocked = 0
    for _ in range(60):
        length, limit, stretches, _ = random_bay(rng)
        low = np.array([a for a, _ in stretches], dtype=np.float64)
        high = np.array([b for _, b in stretches], dtype=np.float64)
        spacing = space_posts(
            [float(length)], float(limit), Intervals(np.zeros(low.size, dtype=np.int64), low, high)
        )
        posts, _ = grid_optimum(length, limit, stretches, [])
        assert bool(spacing.is_feasible[0]) == (posts < length * PARTS)
        blocked += not spacing.is_feasible[0]
    assert blocked > 5


def least_squares_in_boxes(
    low: NDArray[np.float64], high: NDArray[np.float64], length: float, limit: float
) -> float:
    """Least sum of squared spans with each post in its box, by a general solver; inf if there is none."""
    n = low.size
    steps = np.eye(n + 1, n) - np.eye(n + 1, n, k=-1)
    offset = np.zeros(n + 1)
    offset[-1] = length
    solver = piqp.DenseSolver()
    solver.settings.eps_abs = solver.settings.eps_rel = 1e-10
    solver.setup(
        2.0 * steps.T @ steps,
        2.0 * steps.T @ offset,
        None,
        None,
        steps,
        -offset,
        limit - offset,
        low,
        high,
    )
    if solver.solve() != piqp.PIQP_SOLVED:
        return np.inf
    return float(np.sum((steps @ solver.result.x + offset) ** 2))


@pytest.mark.parametrize("seed", range(8))
def test_against_every_choice_of_stretches(seed: int) -> None:
    rng = np.random.default_rng(1000 + seed)
    length, limit = float(rng.uniform(11.0, 17.0)), 4.0
    spacing = None
    while spacing is None or not spacing.is_feasible[0]:
        low = np.sort(rng.uniform(0.3, length - 2.0, 3))
        high = low + rng.uniform(0.5, 3.5, 3)
        spacing = space_posts([length], limit, Intervals(np.zeros(3, dtype=np.int64), low, high))
    edges = [0.0]
    for a, b in zip(low, high, strict=True):
        if a < edges[-1]:
            edges[-1] = max(edges[-1], min(b, length))
        else:
            edges += [a, min(b, length)]
    open_stretches = list(zip(edges[::2], [*edges[1::2], length], strict=True))
    posts = spacing.station_m.size
    best = dict.fromkeys((posts - 1, posts), np.inf)
    for count in best:
        for choice in itertools.combinations_with_replacement(open_stretches, count):
            box = np.array(choice)
            best[count] = min(best[count], least_squares_in_boxes(box[:, 0], box[:, 1], length, limit))
    squares = np.sum(np.diff([0.0, *spacing.station_m, length]) ** 2)
    assert best[posts - 1] == np.inf
    assert squares == pytest.approx(best[posts], rel=1e-7)
