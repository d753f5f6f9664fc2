"""Samples of the ground between knots: each found in its span."""

import numpy as np
import pytest

from fencewright.layout.bays import spans_of_samples


@pytest.mark.parametrize("seed", range(6))
def test_each_sample_lies_in_the_span_that_a_search_finds(seed: int) -> None:
    random = np.random.default_rng(seed)
    knots = np.unique(random.integers(5, 60, 20)).astype(np.float64)
    samples = np.sort(random.integers(0, 66, 90)).astype(np.float64)
    wanted = [int((knots <= sample).sum()) - 1 for sample in samples]
    assert spans_of_samples(knots, samples).tolist() == wanted
    assert min(wanted) == -1
    assert max(wanted) == len(knots) - 1


def test_no_sample_gives_none() -> None:
    assert spans_of_samples(np.array([0.0, 1.0]), np.zeros(0)).size == 0
