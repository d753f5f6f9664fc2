"""Division of a run against a fine grid that holds the optimum, and against every choice of places.

The grid: whole-number data and no turning over the ground, so the optimum's stations are multiples
of 1/12 as long as there are at most four pulls between contacts. The choices: with turning over the
ground each pull's limit depends on which vertices it rounds; every choice goes to a general solver.
"""

import itertools

import numpy as np
import piqp
import pytest
from numpy.typing import NDArray

from fencewright.layout.strain_posts import divide_run

PARTS = 12
Vertices = list[tuple[int, float]]


def grid_optimum(
    length: int, vertices: Vertices, limit: int, turning_limit: float, stretches: list[tuple[int, int]]
) -> tuple[int, int]:
    """Count strain posts, and sum squared pulls in 1/12², over every pair of grid stations."""
    end = length * PARTS
    corners = {v * PARTS for v, _ in vertices}
    place = np.array(
        [
            s
            for s in range(end + 1)
            if s in (0, end) or s in corners or not any(a * PARTS < s < b * PARTS for a, b in stretches)
        ]
    )
    heavy = (end + 1) ** 2
    best = np.full(place.size, np.iinfo(np.int64).max // 4)
    best[0] = 0
    for j in range(1, place.size):
        pull = place[j] - place[:j]
        turning = np.zeros(j)
        for v, turn in vertices:
            turning += turn * ((place[:j] < v * PARTS) & (v * PARTS < place[j]))
        fits = (pull <= limit * PARTS) & (turning <= turning_limit + 1e-9)
        if fits.any():
            best[j] = np.min((best[:j] + heavy + pull * pull)[fits])
    pulls, squares = divmod(int(best[-1]), heavy)
    return pulls - 1, squares


@pytest.mark.parametrize("seed", range(10))
def test_fewest_and_most_even_on_whole_numbers(seed: int) -> None:
    rng = np.random.default_rng(seed)
    compared = 0
    for _ in range(10):
        limit = int(rng.integers(8, 15))
        length = int(rng.integers(limit // 2, 4 * limit - 8))
        places = sorted(rng.choice(range(1, length), size=min(3, length - 1), replace=False).tolist())
        vertices = [(v, float(rng.choice([0.5, 1.0, 1.5]))) for v in places]
        stretches = [(int(a), int(a) + int(rng.integers(1, 6))) for a in rng.integers(0, length, 2)]
        turning_limit = float(rng.choice([1.0, 1.5, 2.0, 9.0]))
        division = divide_run(
            length, places, [t for _, t in vertices], limit, turning_limit, np.array(stretches, dtype=float)
        )
        posts, squares = grid_optimum(length, vertices, limit, turning_limit, stretches)
        assert division.is_feasible == (posts < length * PARTS)
        if not division.is_feasible or posts > 3:
            continue
        assert division.station_m.size == posts, (length, vertices, limit, turning_limit, stretches)
        found = np.sum(np.diff([0.0, *division.station_m, length]) ** 2)
        assert found == pytest.approx(squares / PARTS**2, rel=1e-8)
        compared += posts > 0
    assert compared >= 3


def least_squares(boxes: NDArray[np.float64], length: float, limits: NDArray[np.float64]) -> float:
    """Least sum of squared pulls with each division in its box and each pull within its own limit."""
    n = len(boxes)
    steps = np.eye(n + 1, n) - np.eye(n + 1, n, k=-1)
    offset = np.zeros(n + 1)
    offset[-1] = length
    solver = piqp.DenseSolver()
    solver.settings.eps_abs = solver.settings.eps_rel = 1e-10
    low, high = boxes[:, 0] - 1e-12, boxes[:, 1] + 1e-12
    solver.setup(
        2 * steps.T @ steps, 2 * steps.T @ offset, None, None, steps, -offset, limits - offset, low, high
    )
    if solver.solve() != piqp.PIQP_SOLVED:
        return np.inf
    return float(np.sum((steps @ solver.result.x + offset) ** 2))


@pytest.mark.parametrize("seed", range(10))
def test_turning_over_the_ground_against_every_choice_of_places(seed: int) -> None:
    rng = np.random.default_rng(seed)
    length, ground, turning_limit, limit = float(rng.uniform(20, 30)), 0.1, 1.6, 11.0
    vertex = np.sort(rng.uniform(1.0, length - 1.0, 3))
    turn = rng.uniform(0.2, 1.0, 3)
    division = divide_run(length, vertex, turn, limit, turning_limit, (), ground)
    edges = [0.0, *vertex, length]
    boxes = [*itertools.pairwise(edges), *[(v, v) for v in vertex]]
    best = {}
    for count in (division.station_m.size - 1, division.station_m.size):
        best[count] = np.inf
        for choice in itertools.combinations(sorted(boxes * 2), count):
            ends = np.array([(0.0, 0.0), *choice, (length, length)])
            between = [turn[(vertex > a[0]) & (vertex < b[1])].sum() for a, b in itertools.pairwise(ends)]
            limits = np.minimum(limit, (turning_limit - np.array(between)) / ground)
            if count and (limits > 0).all():
                best[count] = min(best[count], least_squares(ends[1:-1], length, limits))
    found = np.sum(np.diff([0.0, *division.station_m, length]) ** 2)
    assert division.station_m.size >= 2
    assert best[division.station_m.size - 1] == np.inf
    assert found == pytest.approx(best[division.station_m.size], rel=1e-5)
