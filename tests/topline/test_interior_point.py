"""The interior point from the inside: where it starts, and how near it comes on many lines."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from fencewright.tables.top_line import TopLineSettings, TopLineTask
from fencewright.topline.interior_point import _central_prices
from fencewright.topline.program import build_program
from fencewright.topline.solve import AIM, solve_program

SETTINGS = TopLineSettings(flow_length_m=3.0, uplift_price_m2_n=1e-4)
LineTask = Callable[..., TopLineTask]


@pytest.mark.parametrize("over", [-3.0, -1e-9, 0.0, 1e-9, 0.2, 50.0])
def test_first_prices_make_room_and_excess_of_one_product(over: float) -> None:
    price, product = np.array([100.0]), 1e-3
    low, high = _central_prices(np.array([over]), price, product)
    assert low[0] > 0.0
    assert high[0] > 0.0
    assert low[0] + high[0] == pytest.approx(100.0, rel=1e-12)
    assert product / low[0] - product / high[0] == pytest.approx(-over, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("seed", range(12))
def test_rough_lines_come_within_the_solver_s_own_aim(line_task: LineTask, seed: int) -> None:
    """A tenth of the gap asked for, with rows broken at price among them: rounding does not stop it earlier."""
    random = np.random.default_rng(seed)
    ground = (random.standard_normal(80).cumsum() * 0.25).tolist()
    samples = {
        span: [(0.4, 0.6 * ground[span] + 0.4 * ground[span + 1] + 0.3 * float(random.standard_normal()))]
        for span in range(0, 79, 2)
    }
    task = line_task(ground, hold_n=300.0, gates=(11, 40), samples=samples)
    program, _ = build_program(task, SETTINGS)
    x, proof = solve_program(program, SETTINGS)
    assert proof.relative_gap <= AIM * SETTINGS.relative_gap
    assert np.max(program.rows @ x - program.limit_m) > 1e-3
    loose, _ = solve_program(program, replace(SETTINGS, relative_gap=1e-6))
    assert np.max(np.abs(x - loose)) < 1e-2
