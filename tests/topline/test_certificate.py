"""The certificate, checked by its own definition and without the solver."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from fencewright.tables.top_line import TopLineSettings, TopLineTask
from fencewright.topline.certificate import certify
from fencewright.topline.program import Program, build_program
from fencewright.topline.solve import solve_program

SETTINGS = TopLineSettings(flow_length_m=3.0, uplift_price_m2_n=1e-4)
LineTask = Callable[..., TopLineTask]


@pytest.fixture
def program(line_task: LineTask) -> Program:
    ground = np.random.default_rng(5).standard_normal(40).cumsum() * 0.15
    samples = {3: [(0.4, ground[3] + 0.15)], 9: [(0.5, ground[9] + 0.1)], 20: [(0.6, ground[20] - 0.3)]}
    return build_program(line_task(ground.tolist(), hold_n=400.0, samples=samples), SETTINGS)[0]


def _cost(program: Program, x: np.ndarray) -> float:
    bend = program.flow @ x + program.flow_offset_m
    broken = np.maximum(program.rows @ x - program.limit_m, 0.0)
    return float(0.5 * bend @ bend + 0.5 * program.weight @ x**2 + program.price_m @ broken)


def test_any_point_and_any_prices_give_a_bound_below_every_point(program: Program) -> None:
    random = np.random.default_rng(6)
    points = random.uniform(program.low_m, program.high_m, (200, program.low_m.size))
    least = min(_cost(program, point) for point in points)
    for point in points[:50]:
        price = random.uniform(-0.1, 1.1, program.price_m.size) * program.price_m
        proof = certify(program, point, price, 0, 1e-10)
        assert proof.objective_m2 == pytest.approx(_cost(program, point) + program.constant_m2)
        assert proof.lower_bound_m2 <= least + program.constant_m2


def test_bound_is_the_least_of_the_tangent_over_the_box(program: Program) -> None:
    """Written out: each entry of x goes to the end of its band that lowers the Lagrangian's tangent."""
    random = np.random.default_rng(8)
    for _ in range(20):
        x, z = random.uniform(program.low_m, program.high_m), random.uniform(0.0, program.price_m)
        over = program.rows @ x - program.limit_m
        bend = program.flow @ x + program.flow_offset_m
        slope = program.flow.T @ bend + program.weight * x + program.rows.T @ z
        smooth = 0.5 * bend @ bend + 0.5 * program.weight @ x**2 + program.constant_m2
        fall = np.minimum(slope * (program.low_m - x), slope * (program.high_m - x))
        least = float(smooth + z @ over + fall.sum())
        assert certify(program, x, z, 0, 1e-10).lower_bound_m2 == pytest.approx(least, rel=1e-9)


def test_solver_s_answer_is_proven(program: Program) -> None:
    x, proof = solve_program(program, SETTINGS)
    assert program.limit_m.size > 3
    assert proof.relative_gap <= 1e-10
    assert proof.max_residual_m <= 1e-5
    assert 2 <= proof.iterations < 40
    assert proof.objective_m2 == pytest.approx(_cost(program, x) + program.constant_m2, rel=1e-13)


def test_no_small_move_improves_the_answer(program: Program) -> None:
    x, _ = solve_program(program, SETTINGS)
    random, best = np.random.default_rng(7), _cost(program, x)
    for size in (1e-1, 1e-2, 1e-3):
        for _ in range(100):
            move = np.clip(x + size * random.standard_normal(x.size), program.low_m, program.high_m)
            assert _cost(program, move) >= best * (1 - 1e-10)


def test_too_few_iterations_are_admitted(program: Program) -> None:
    x, proof = solve_program(program, replace(SETTINGS, iteration_limit=3))
    assert not proof.is_converged
    assert proof.relative_gap > 1e-10
    assert proof.iterations == 3
    assert np.all((x >= program.low_m) & (x <= program.high_m))


def test_point_outside_its_bounds_is_clipped_first(program: Program) -> None:
    far = certify(program, np.full(program.low_m.size, 9.0), np.zeros(program.limit_m.size), 0, 1e-10)
    assert far.objective_m2 == pytest.approx(_cost(program, program.high_m) + program.constant_m2)
