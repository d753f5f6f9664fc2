"""What must hold of every fence: pull, soil and position have their say in the right direction only."""

import math
from pathlib import Path

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from fencewright.desk.reading import job_from_text
from fencewright.layout.stage import lay_out
from fencewright.pipeline.bridges import rails_of, shape, soils_of, unstable_posts
from fencewright.strength.stage import check_strength
from fencewright.strength.task import StrengthTask
from fencewright.tables.strength import Check, Strength
from fencewright.takeoff.holes import brace_footings, post_holes
from fencewright.takeoff.pieces import span_vectors

JOB = """[job]
name = "Property"
[site]
crs = "local"
soil = "{soil}"
frost_depth = "20 in"
[[line]]
name = "a"
points = {points}
[brace]
kind = "{kind}"
{more}
"""
STATED = '[holes]\nend_depth = "1.2 m"\nbrace_depth = "1.2 m"\nline_depth = "0.8 m"\n'
LEGS = ((0.0, 0.0), (40.0, 0.0), (80.0, 8.0), (90.0, 60.0))

turns = st.floats(-math.pi, math.pi)
pulls = st.floats(200.0, 4000.0)
kinds = st.sampled_from(["diagonal", "horizontal", "none"])
few = settings(max_examples=12)


def task_of(
    pull_n: float,
    *,
    kind: str = "diagonal",
    soil: str = "sand",
    turn: float = 0.0,
    flip: float = 1.0,
    more: str = "",
) -> StrengthTask:
    turned = [
        (x * math.cos(turn) - flip * y * math.sin(turn), x * math.sin(turn) + flip * y * math.cos(turn))
        for x, y in LEGS
    ]
    points = str([[f"{x:.9f} m", f"{y:.9f} m"] for x, y in turned])
    job = job_from_text(JOB.format(soil=soil, points=points, kind=kind, more=more), Path())
    layout, _ = lay_out(job)
    strands = rails_of(job.settings)
    is_unstable = unstable_posts(job, layout)
    top = shape(job, layout, strands, is_unstable)
    every = np.full((len(layout.runs), len(strands)), pull_n)
    return StrengthTask(
        layout, strands, top.height_m, span_vectors(layout, top.top_m),
        post_holes(layout.posts, job.settings, is_unstable, top.needs_concrete),
        brace_footings(layout.braces, job.settings), job.settings, soils_of(job, layout),
        {"cold": every, "set": 0.5 * every, "hot": 0.2 * every},
    )  # fmt: skip


def counted(strength: Strength, *checks: Check) -> np.ndarray:
    """Largest utilisation of some checks by post."""
    table, used = strength.checks, np.zeros(len(strength.utilisation))
    mine = np.isin(table.check, [int(check) for check in checks])
    np.maximum.at(used, table.post_index[mine], table.utilisation[mine])
    return used


@few
@given(pulls, st.floats(1.0, 3.0), kinds)
def test_more_tension_never_uses_less_of_ends_and_turns(pull_n: float, more: float, kind: str) -> None:
    """Posts that only wind and animals load may gain a little: their pull works against neither."""
    weak = task_of(pull_n, kind=kind, more=STATED + '[strength]\nwind_speed = "0 mph"\n')
    strong = task_of(pull_n * more, kind=kind, more=STATED + '[strength]\nwind_speed = "0 mph"\n')
    before, after = (check_strength(task)[0].utilisation for task in (weak, strong))
    fixed = weak.layout.posts.is_fixed
    assert (after[fixed] >= before[fixed] * (1 - 1e-9)).all()


@few
@given(pulls, kinds)
def test_stiffer_soil_never_asks_for_a_deeper_hole(pull_n: float, kind: str) -> None:
    depths = [
        check_strength(task_of(pull_n, kind=kind, soil=soil))[0].sizes.least_depth_m
        for soil in ("clay", "sand", "sandy gravel")
    ]
    assert (depths[0] >= depths[1] - 1e-9).all()
    assert (depths[1] >= depths[2] - 1e-9).all()


@few
@given(pulls, turns, st.sampled_from([1.0, -1.0]), kinds)
def test_turned_or_mirrored_the_answer_is_the_same(
    pull_n: float, turn: float, flip: float, kind: str
) -> None:
    plain, moved = (
        check_strength(task)[0]
        for task in (task_of(pull_n, kind=kind), task_of(pull_n, kind=kind, turn=turn, flip=flip))
    )
    assert np.allclose(plain.utilisation, moved.utilisation, rtol=1e-5, atol=1e-6)
    assert np.allclose(plain.sizes.depth_m, moved.sizes.depth_m)
    assert np.allclose(plain.ends.capacity_n, moved.ends.capacity_n, rtol=1e-5)


@few
@given(pulls, st.floats(0.0, 0.6))
def test_deeper_holes_never_hold_less(pull_n: float, deeper_m: float) -> None:
    task = task_of(pull_n, more=STATED)
    deep = task.with_depths(task.holes.depth_m + deeper_m, task.brace_holes.depth_m + deeper_m)
    soil = (Check.EMBEDMENT, Check.UPLIFT, Check.FOOTING_PUSH, Check.EMBEDMENT_BROMS)
    before, after = (counted(check_strength(one)[0], *soil) for one in (task, deep))
    assert (after <= before * (1 + 1e-9) + 1e-12).all()


@few
@given(pulls)
def test_capacity_does_not_depend_on_the_pull(pull_n: float) -> None:
    """Where nothing is sized, an end carries what it carries."""
    one, other = (check_strength(task_of(pull, more=STATED))[0].ends for pull in (pull_n, 1000.0))
    assert np.allclose(one.capacity_n, other.capacity_n)
    assert np.allclose(one.stiffness_n_m, other.stiffness_n_m)
