"""The most even chain within bounds: by hand, and against a general least-squares solver."""

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.optimize import lsq_linear

from fencewright.layout.taut_string import taut_string


def test_nothing_in_the_way_gives_equal_spans() -> None:
    assert_allclose(taut_string([0.0, 0.0, 0.0, 9.0], [0.0, 9.0, 9.0, 9.0]), [0.0, 3.0, 6.0, 9.0])


def test_the_string_bends_round_an_edge_on_either_side() -> None:
    assert_allclose(taut_string([0.0, 0.0, 7.0, 9.0], [0.0, 9.0, 9.0, 9.0]), [0.0, 3.5, 7.0, 9.0])
    assert_allclose(taut_string([0.0, 0.0, 0.0, 9.0], [0.0, 9.0, 5.0, 9.0]), [0.0, 2.5, 5.0, 9.0])


def test_a_single_span() -> None:
    assert taut_string([0.0, 4.0], [0.0, 4.0]) == [0.0, 4.0]


@pytest.mark.parametrize("seed", range(6))
def test_against_bounded_least_squares(seed: int) -> None:
    rng = np.random.default_rng(seed)
    n = 30
    centre = np.sort(rng.uniform(0.0, 100.0, n))
    low = np.maximum.accumulate(centre - rng.uniform(0.1, 3.0, n))
    high = np.minimum.accumulate((centre + rng.uniform(0.1, 3.0, n))[::-1])[::-1]
    low, high = np.minimum(low, centre), np.maximum(high, centre)
    steps = np.eye(n + 1, n) - np.eye(n + 1, n, k=-1)
    offset = np.zeros(n + 1)
    offset[-1] = -104.0
    offset[0] = -4.0
    solved = lsq_linear(steps, offset, (low, high), tol=1e-14, method="bvls")
    found = taut_string([-4.0, *low, 104.0], [-4.0, *high, 104.0])
    assert_allclose(found[1:-1], solved.x, atol=1e-7)
