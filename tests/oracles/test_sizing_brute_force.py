"""Sizing against brute force: every depth at the step is tried, every stock diameter too."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from fencewright.desk.reading import job_from_text
from fencewright.layout.stage import lay_out
from fencewright.mechanics.timber import bending_capacity_n_m
from fencewright.pipeline.bridges import rails_of, shape, soils_of, unstable_posts
from fencewright.quantity.parse import POUND_FORCE_N
from fencewright.strength.sizing import next_diameter_m
from fencewright.strength.stage import check_strength
from fencewright.strength.task import StrengthTask
from fencewright.tables.strength import Check, Strength
from fencewright.takeoff.holes import brace_footings, post_holes
from fencewright.takeoff.pieces import span_vectors

HOLE = (Check.EMBEDMENT, Check.UPLIFT)
FOOTING = (Check.FOOTING_PUSH, Check.FOOTING_TIPPING, Check.FOOTING_BEARING)
JOB = """[job]
name = "Brute"
[site]
crs = "local"
soil = "{soil}"
frost_depth = "30 in"
[[line]]
name = "a"
points = {points}
[fence]
rails = {rails}
[posts]
line_lengths = ["12 ft"]
[strength]
wind_speed = "{wind} mph"
deepest = "84 in"
"""
BENT = '[["0 ft", "0 ft"], ["90 ft", "0 ft"], ["180 ft", "25 ft"], ["200 ft", "140 ft"]]'


def task_of(soil: str, rails: int, wind: int) -> StrengthTask:
    job = job_from_text(JOB.format(soil=soil, points=BENT, rails=rails, wind=wind), Path())
    layout, _ = lay_out(job)
    strands = rails_of(job.settings)
    is_unstable = unstable_posts(job, layout)
    top = shape(job, layout, strands, is_unstable)
    every = np.full((len(layout.runs), len(strands)), 500 * POUND_FORCE_N)
    return StrengthTask(
        layout, strands, top.height_m, span_vectors(layout, top.top_m),
        post_holes(layout.posts, job.settings, is_unstable, top.needs_concrete),
        brace_footings(layout.braces, job.settings), job.settings, soils_of(job, layout),
        {"cold": every, "set": 0.5 * every, "hot": 0.2 * every},
    )  # fmt: skip


def checked_at(task: StrengthTask, depth_m: float) -> Strength:
    """Every hole as deep as this or as it was, and stated so that nothing is sized."""
    at = task.with_depths(
        np.maximum(task.holes.depth_m, depth_m), np.maximum(task.brace_holes.depth_m, depth_m)
    )
    fixed = replace(
        at,
        holes=replace(at.holes, governs=("stated",) * len(at.holes.depth_m)),
        brace_holes=replace(at.brace_holes, governs=("stated",) * len(at.brace_holes.depth_m)),
    )
    return check_strength(fixed)[0]


def worst(strength: Strength, kinds: tuple[Check, ...], count: int, *, of_brace: bool) -> np.ndarray:
    """Largest utilisation by these checks, one row a post or brace."""
    checks, used = strength.checks, np.zeros(count)
    mine = np.isin(checks.check, [int(kind) for kind in kinds]) & ((checks.brace_index >= 0) == of_brace)
    rows = checks.brace_index if of_brace else checks.post_index
    np.maximum.at(used, rows[mine], checks.utilisation[mine])
    return used


@pytest.mark.parametrize(
    ("soil", "rails", "wind"), [("sand", 4, 58), ("clay", 4, 90), ("clay", 3, 70), ("sandy gravel", 6, 120)]
)
def test_depths_are_the_least_steps_that_pass(soil: str, rails: int, wind: int) -> None:
    task = task_of(soil, rails, wind)
    posts, braces = len(task.layout.posts), len(task.layout.braces)
    step, deepest = task.settings.strength.depth_step_m, task.settings.strength.deepest_m
    least, brace_least = np.full(posts, np.nan), np.full(braces, np.nan)
    for number in range(int(deepest / step) + 1):
        strength = checked_at(task, number * step)
        for found, kinds, base, of_brace in (
            (least, HOLE, task.holes.depth_m, False),
            (brace_least, FOOTING, task.brace_holes.depth_m, True),
        ):
            passes = worst(strength, kinds, len(found), of_brace=of_brace) <= 1 + 1e-9
            new = np.isnan(found) & passes
            found[new] = np.maximum(base, number * step)[new]
    sized = check_strength(task)[0]
    assert sized.sizes.depth_m == pytest.approx(least, abs=1e-9)
    assert (sized.sizes.depth_m > task.holes.depth_m + 1e-9).any()
    # a footing's least depth is sought on whole steps from grade, so it may be one step deeper here
    assert (sized.brace_sizes.depth_m - brace_least > -1e-9).all()
    assert (sized.brace_sizes.depth_m - brace_least < step + 1e-9).all()


@pytest.mark.parametrize("used", [0.4, 1.0, 1.01, 1.7, 3.0, 9.0, 40.0])
def test_the_thinnest_stock_is_found(used: float) -> None:
    stock = tuple(inch * 0.0254 for inch in (3.5, 4, 4.5, 5, 5.5, 6, 7, 8, 10))
    now = stock[2]
    demand = used * bending_capacity_n_m(now, 10e6)
    tried = [one for one in stock if bending_capacity_n_m(one, 10e6) >= demand * (1 - 1e-9)]
    assert next_diameter_m(now, used, 3.0, stock) == (tried[0] if tried else None)
