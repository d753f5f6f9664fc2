"""The ways through the solver: shortcut, order, band and sparse factor give one answer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from fencewright.tables.top_line import (
    GroundProfile,
    TopLineFlows,
    TopLineSettings,
    TopLineTask,
)
from fencewright.topline import newton
from fencewright.topline.program import build_program
from fencewright.topline.solve import solve_program
from fencewright.topline.stage import shape_top_line

SETTINGS = TopLineSettings(flow_length_m=3.0, uplift_price_m2_n=1e-4)
LineTask = Callable[..., TopLineTask]


@pytest.fixture
def rough(line_task: LineTask) -> TopLineTask:
    ground = np.random.default_rng(11).standard_normal(60).cumsum() * 0.2
    return line_task(ground.tolist(), hold_n=300.0, gates=(7, 30), pins={20: float(ground[20]) + 1.35})


def star(task: TopLineTask, lines: int) -> TopLineTask:
    """Copies of a line that all start at one post: no order of theirs has a narrow band."""
    count, spans = task.posts.ground_m.size, task.spans.length_m.size
    rows = np.concatenate([[0], *(np.arange(1, count) for _ in range(lines))])
    shift = np.repeat(np.arange(lines) * (count - 1), spans)
    ends = {
        name: np.where(column == 0, 0, column + shift)
        for name in ("from_post", "to_post")
        for column in [np.tile(getattr(task.spans, name), lines)]
    }
    others = {name: np.tile(getattr(task.spans, name), lines) for name in vars(task.spans)}
    flow = np.repeat(np.arange(lines) * spans, task.flows.before_span.size)
    return TopLineTask(
        replace(task.posts, **{name: getattr(task.posts, name)[rows] for name in vars(task.posts)}),
        replace(task.spans, **{**others, **ends}),
        TopLineFlows(
            np.tile(task.flows.before_span, lines) + flow, np.tile(task.flows.after_span, lines) + flow
        ),
        GroundProfile(np.zeros(spans * lines + 1, np.int64), np.zeros(0), np.zeros(0)),
    )


def test_free_optimum_within_all_bounds_is_the_answer(line_task: LineTask) -> None:
    program, _ = build_program(line_task([0.0, 0.01, -0.01, 0.01, 0.0]), SETTINGS)
    x, proof = solve_program(program, SETTINGS)
    assert proof.iterations == 1
    assert proof.relative_gap < 1e-10
    normal = program.flow.T @ (program.flow @ x + program.flow_offset_m) + program.weight * x
    np.testing.assert_allclose(normal, 0.0, atol=1e-15)


def test_sparse_factor_gives_the_band_s_answer(rough: TopLineTask, monkeypatch: pytest.MonkeyPatch) -> None:
    program, _ = build_program(rough, SETTINGS)
    by_band, _ = solve_program(program, SETTINGS)
    monkeypatch.setattr(newton, "CHAIN_BAND", 0)
    monkeypatch.setattr(newton, "WIDEST_BAND", 0)
    met = newton.row_products(program.flow), newton.row_products(program.rows)
    assert newton.order_unknowns(*met, program.weight.size)[:2] == (None, -1)
    by_list, proof = solve_program(program, SETTINGS)
    assert proof.is_converged
    np.testing.assert_allclose(by_list, by_band, atol=1e-7)


def test_lines_of_a_star_stand_alike(rough: TopLineTask) -> None:
    """Seventy like lines round one post, by the sparse factor: each is the others' copy."""
    lines = 70
    line = shape_top_line(star(rough, lines), SETTINGS)
    assert line.certificate.is_converged
    tops = line.top_m[1:].reshape(lines, -1)
    np.testing.assert_allclose(tops, np.broadcast_to(tops[0], tops.shape), atol=1e-5)
    assert line.clashes.kind.count("post band") % lines == 0


def test_tighter_gap_takes_more_iterations_and_costs_no_more(rough: TopLineTask) -> None:
    program, _ = build_program(rough, SETTINGS)
    _, coarse = solve_program(program, replace(SETTINGS, relative_gap=1e-3))
    _, fine = solve_program(program, SETTINGS)
    assert coarse.iterations < fine.iterations
    assert fine.objective_m2 <= coarse.objective_m2
    assert coarse.is_converged
    assert coarse.lower_bound_m2 <= fine.objective_m2
