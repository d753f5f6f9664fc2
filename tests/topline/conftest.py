"""Hand-sized fences for the tests of the top line."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from fencewright.tables.top_line import (
    GroundProfile,
    TopLineFlows,
    TopLinePosts,
    TopLineSpans,
    TopLineTask,
)

LineTask = Callable[..., TopLineTask]


@pytest.fixture
def line_task() -> LineTask:
    """Build one open line on the ground given, 3 m spans, 1.4 m high within 0.1 m."""

    def build(
        ground: list[float],
        *,
        pins: dict[int, float] | None = None,
        gates: tuple[int, ...] = (),
        hold_n: float = np.inf,
        samples: dict[int, list[tuple[float, float]]] | None = None,
        half_m: float = 0.1,
    ) -> TopLineTask:
        count, spans = len(ground), len(ground) - 1
        one, per_span = np.ones(count), np.ones(spans)
        pinned = np.full(count, np.nan)
        for post, top in (pins or {}).items():
            pinned[post] = top
        level = np.isin(np.arange(spans), gates)
        at = np.arange(spans, dtype=np.int64)
        pair = ~(level[:-1] | level[1:])
        rows = [(samples or {}).get(span, []) for span in range(spans)]
        flat = [sample for row in rows for sample in row]
        return TopLineTask(
            TopLinePosts(
                np.array(ground),
                1.4 * one,
                (1.4 - half_m) * one,
                (1.4 + half_m) * one,
                pinned,
                hold_n * one,
                1e-3 * one,
            ),
            TopLineSpans(
                at,
                at + 1,
                3.0 * per_span,
                ~level,
                level,
                1.0 * per_span,
                0.25 * per_span,
                0.6 * per_span,
                4000.0 * per_span,
            ),
            TopLineFlows(at[:-1][pair], at[1:][pair]),
            GroundProfile(
                np.cumsum([0] + [len(row) for row in rows]),
                np.array([fraction for fraction, _ in flat]),
                np.array([elevation for _, elevation in flat]),
            ),
        )

    return build
