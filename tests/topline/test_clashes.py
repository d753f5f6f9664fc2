"""Independent judgement of given tops."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from fencewright.tables.top_line import TopLineTask
from fencewright.topline.clashes import find_clashes, lowest_gaps, post_uplift

LineTask = Callable[..., TopLineTask]


def test_each_kind_is_found_with_its_place_and_amount(line_task: LineTask) -> None:
    samples = {1: [(0.2, 0.1), (0.5, 0.3), (0.8, 0.2)], 3: [(0.5, -0.5)]}
    task = line_task([0.0] * 6, gates=(4,), samples=samples)
    top = np.array([1.55, 1.4, 1.4, 1.4, 1.28, 1.4])
    found = find_clashes(task, top, 1e-6)
    assert found.kind == ("post band", "post band", "level", "gap low", "gap high")
    assert found.index.tolist() == [0, 4, 4, 1, 3]
    np.testing.assert_allclose(found.by_m, [0.05, -0.02, 0.12, 0.15, 0.24])
    np.testing.assert_allclose(found.fraction[3:], [0.5, 0.5])
    assert np.isnan(found.fraction[:3]).all()


def test_less_than_the_tolerance_is_no_clash(line_task: LineTask) -> None:
    task = line_task([0.0, 0.0])
    assert find_clashes(task, np.array([1.5005, 1.4]), 1e-3).kind == ()
    assert find_clashes(task, np.array([1.5005, 1.4]), 1e-4).kind == ("post band",)


def test_lowest_gap_counts_posts_and_samples(line_task: LineTask) -> None:
    task = line_task([0.0, 0.1, 0.0], samples={1: [(0.5, 0.12)]})
    np.testing.assert_allclose(lowest_gaps(task, np.array([1.4, 1.4, 1.4])), [0.3, 0.28])


def test_uplift_of_a_straight_slope_is_held_by_its_ends(line_task: LineTask) -> None:
    """Rise of 4 in a run of 3: the vertical part is 0.8 of the pull."""
    task = line_task([0.0, 4.0, 8.0])
    uplift = post_uplift(task.spans, np.array([1.4, 5.4, 9.4]))
    np.testing.assert_allclose(uplift, [3200.0, 0.0, -3200.0], atol=1e-9)
