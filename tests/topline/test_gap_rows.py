"""Pruning of the ground's samples: what is left decides, what is gone is implied."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from fencewright.tables.top_line import TopLineTask
from fencewright.topline import gap_rows
from fencewright.topline.bands import bound_unknowns
from fencewright.topline.gap_rows import deciding_rows

LineTask = Callable[..., TopLineTask]


def test_only_the_hull_is_kept(line_task: LineTask) -> None:
    samples = {0: [(0.2, 0.30), (0.4, 0.20), (0.5, 0.35), (0.7, 0.31), (0.9, 0.30)]}
    task = line_task([0.0, 0.0, 0.0], samples=samples)
    low, high = deciding_rows(bound_unknowns(task.posts, task.spans), task.spans, task.profile)
    assert low.fraction.tolist() == [0.2, 0.5, 0.9]
    assert low.span.tolist() == [0, 0, 0]
    assert high.fraction.size == 0
    np.testing.assert_allclose(low.slack_m, [0.4 - 0.30 - 0.25, 0.4 - 0.35 - 0.25, 0.4 - 0.30 - 0.25])


def test_samples_that_the_bands_cover_are_dropped(line_task: LineTask) -> None:
    """Tops of 1.3 at least leave 0.3 of gap over level ground: 0.25 cannot be broken."""
    task = line_task([0.0, 0.0], samples={0: [(0.5, 0.0499), (0.6, 0.0)]})
    low, _ = deciding_rows(bound_unknowns(task.posts, task.spans), task.spans, task.profile)
    assert low.fraction.size == 0


def test_gates_have_no_gap(line_task: LineTask) -> None:
    task = line_task([0.0] * 4, gates=(1,), samples={1: [(0.5, 1.0)]})
    low, high = deciding_rows(bound_unknowns(task.posts, task.spans), task.spans, task.profile)
    assert low.fraction.size == high.fraction.size == 0


@pytest.mark.parametrize("seed", range(6))
def test_pruned_rows_imply_all(line_task: LineTask, seed: int) -> None:
    """Any tops in their bands that keep the rows left keep every sample."""
    random = np.random.default_rng(seed)
    fraction = np.sort(random.uniform(0.0, 1.0, 25))
    ground = 0.15 + 0.1 * random.standard_normal(25).cumsum() / 3
    pairs = list(zip(fraction.tolist(), ground.tolist(), strict=True))
    task = line_task([0.0, 0.0], samples={0: pairs}, half_m=0.4)
    unknowns = bound_unknowns(task.posts, task.spans)
    for rows, band in zip(deciding_rows(unknowns, task.spans, task.profile), (0.25, 0.6), strict=True):
        for start, end in random.uniform(-0.4, 0.4, (300, 2)):
            every = rows.sign * (0.4 + start + fraction * (end - start) - ground - band)
            left = rows.slack_m + rows.sign * (start + rows.fraction * (end - start))
            assert left.min(initial=np.inf) == pytest.approx(every.min()) or every.min() > 0.0


def test_repeated_place_keeps_the_worse_sample(line_task: LineTask) -> None:
    samples = {0: [(0.2, 0.1), (0.5, 0.30), (0.5, 0.35), (0.8, 0.1)]}
    task = line_task([0.0, 0.0], samples=samples)
    low, _ = deciding_rows(bound_unknowns(task.posts, task.spans), task.spans, task.profile)
    assert low.slack_m.min() == pytest.approx(0.4 - 0.35 - 0.25)


@pytest.mark.parametrize("part", [1, 7, 1000])
def test_rows_of_many_spans_are_those_of_each_alone(
    line_task: LineTask, part: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Spans whose hulls settle at different passes, some without a sample, and a gate in between."""
    random = np.random.default_rng(part)
    samples = {
        span: sorted(
            zip(
                random.uniform(0.0, 1.0, count).tolist(),
                (0.1 + 0.1 * random.standard_normal(count).cumsum()).tolist(),
                strict=True,
            )
        )
        for span, count in enumerate(random.integers(0, 15, 20).tolist())
    }
    task = line_task([0.0] * 21, samples=samples, half_m=0.4, gates=(6,))
    unknowns = bound_unknowns(task.posts, task.spans)
    monkeypatch.setattr(gap_rows, "PART", part)
    for rows in deciding_rows(unknowns, task.spans, task.profile):
        alone = []
        for span, own in samples.items():
            if span == 6:
                continue
            one = line_task([0.0, 0.0], samples={0: own}, half_m=0.4)
            pair = deciding_rows(bound_unknowns(one.posts, one.spans), one.spans, one.profile)
            picked = pair[0] if rows.sign > 0 else pair[1]
            alone += [
                (span, *row) for row in zip(picked.fraction.tolist(), picked.slack_m.tolist(), strict=True)
            ]
        assert len(alone) > 10
        got = zip(rows.span.tolist(), rows.fraction.tolist(), rows.slack_m.tolist(), strict=True)
        assert list(got) == alone
