"""Speed of the top line, and its ratio to piqp on the same program in the same run.

Ground: a path over the elevation model that matplotlib ships, with noise at three scales.
Run: `python bench/topline.py [posts ...]`.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from functools import partial
from typing import Any

import numpy as np
from matplotlib.cbook import get_sample_data
from scipy.ndimage import map_coordinates
from scipy.sparse import block_array, csc_array, diags_array, eye_array

from fencewright.tables.top_line import (
    GroundProfile,
    TopLineFlows,
    TopLinePosts,
    TopLineSettings,
    TopLineSpans,
    TopLineTask,
)
from fencewright.topline.program import Program, build_program
from fencewright.topline.solve import solve_program
from fencewright.topline.stage import shape_top_line

SAMPLES = 5
CELL_M = 80.0
#: Beyond this many posts piqp is not run. It would take minutes.
PIQP_POSTS = 200_000
SETTINGS = TopLineSettings(flow_length_m=3.6, uplift_price_m2_n=1e-4)


def ground_along(station_m: np.ndarray, seed: int) -> np.ndarray:
    """Elevation along a path that winds over the whole model."""
    model: Any = get_sample_data("jacksboro_fault_dem.npz")
    elevation = np.asarray(model["elevation"], float)
    turn = station_m / CELL_M
    row = 170 + 165 * np.sin(turn / 211.0 + 0.3)
    column = 200 + 195 * np.sin(turn / 197.0)
    rough = map_coordinates(elevation, [row, column], order=1)
    random = np.random.default_rng(seed)
    for length_m, height_m in ((60.0, 1.0), (20.0, 0.25), (6.0, 0.04)):
        knots = np.arange(0.0, station_m[-1] + 2 * length_m, length_m)
        rough += np.interp(station_m, knots, height_m * random.standard_normal(knots.size))
    return rough


def chain(posts: int, *, has_gaps: bool, half_m: float = 0.15, seed: int = 1) -> TopLineTask:
    """One open line; with gaps, every span has samples and every post a limited hold."""
    random = np.random.default_rng(seed)
    length = random.uniform(1.8, 5.4, posts - 1)
    station = np.concatenate([[0.0], np.cumsum(length)])
    fraction = np.tile((np.arange(SAMPLES) + 1.0) / (SAMPLES + 1.0), posts - 1 if has_gaps else 0)
    count = SAMPLES if has_gaps else 0
    between = np.repeat(station[:-1], count) + fraction * np.repeat(length, count)
    every = np.concatenate([station, between])
    order = np.argsort(every)
    ground = np.empty(every.size)
    ground[order] = ground_along(every[order], seed)
    full, per_span = np.full(posts, 1.0), np.full(posts - 1, 1.0)
    at = np.arange(posts - 1)
    return TopLineTask(
        TopLinePosts(
            ground[:posts],
            1.37 * full,
            (1.37 - half_m) * full,
            (1.37 + half_m) * full,
            np.full(posts, np.nan),
            (700.0 if has_gaps else np.inf) * full,
            1e-4 * full,
        ),
        TopLineSpans(
            at,
            at + 1,
            length,
            np.ones(posts - 1, bool),
            np.zeros(posts - 1, bool),
            0.95 * per_span,
            0.25 * per_span,
            0.60 * per_span,
            5000.0 * per_span,
        ),
        TopLineFlows(at[:-1], at[1:]),
        GroundProfile(np.arange(posts) * count, fraction, ground[posts:]),
    )


def as_piqp(program: Program) -> dict[str, Any]:
    """Put the program in the form that piqp takes; slacks are variables."""
    rows = program.limit_m.size
    hessian = csc_array(program.flow.T @ program.flow + diags_array(program.weight))
    linear = program.flow.T @ program.flow_offset_m
    low, high = program.low_m, program.high_m
    if rows == 0:
        return {"P": hessian, "c": linear, "x_l": low, "x_u": high}
    return {
        "P": csc_array(block_array([[hessian, None], [None, csc_array((rows, rows))]])),
        "c": np.concatenate([linear, program.price_m]),
        "G": csc_array(block_array([[program.rows, -eye_array(rows)]])),
        "h_u": program.limit_m,
        "x_l": np.concatenate([low, np.zeros(rows)]),
        "x_u": np.concatenate([high, np.full(rows, np.inf)]),
    }


def piqp_seconds(program: Program) -> tuple[float, float]:
    """Time of piqp's setup and solve, and its objective."""
    import piqp

    data = as_piqp(program)
    started = time.perf_counter()
    solver = piqp.SparseSolver()
    solver.settings.eps_abs = 1e-10
    solver.settings.eps_rel = 1e-10
    solver.setup(**data)
    solver.solve()
    seconds = time.perf_counter() - started
    x = np.clip(solver.result.x[: program.weight.size], program.low_m, program.high_m)
    bend = program.flow @ x + program.flow_offset_m
    over = np.maximum(program.rows @ x - program.limit_m, 0.0)
    value = 0.5 * (bend @ bend + program.weight @ (x * x)) + program.price_m @ over
    return seconds, float(value) + program.constant_m2


def best(run: Callable[[], Any], repeats: int) -> tuple[float, float, Any]:
    """Least wall time and least processor time of some runs, and the last answer."""
    wall, busy, answer = np.inf, np.inf, None
    for _ in range(repeats):
        started = time.perf_counter(), time.process_time()
        answer = run()
        wall = min(wall, time.perf_counter() - started[0])
        busy = min(busy, time.process_time() - started[1])
    return wall, busy, answer


def main(sizes: list[int]) -> None:
    print(
        "posts     kind     rows     build_s solve_s   cpu_s stage_s  piqp_s  ratio"
        "      iters      gap  objective/piqp - 1"
    )
    for posts in sizes:
        for has_gaps in (False, True):
            task = chain(posts, has_gaps=has_gaps)
            repeats = 3 if posts <= 100_000 else 1
            build, _, (program, _) = best(partial(build_program, task, SETTINGS), repeats)
            solve, busy, (_, proof) = best(partial(solve_program, program, SETTINGS), repeats)
            stage, _, _ = best(partial(shape_top_line, task, SETTINGS), repeats)
            other, value = piqp_seconds(program) if posts <= PIQP_POSTS else (np.nan, np.nan)
            print(
                f"{posts:<9} {'full' if has_gaps else 'bounds':<8} {program.limit_m.size:<8}"
                f" {build:7.3f} {solve:7.3f} {busy:7.3f} {stage:7.3f} {other:7.3f} {other / solve:6.2f}"
                f"  {proof.iterations:9d}  {proof.relative_gap:7.1e}  {proof.objective_m2 / value - 1:8.1e}"
            )


if __name__ == "__main__":
    main([int(size) for size in sys.argv[1:]] or [1_000, 10_000, 100_000])
