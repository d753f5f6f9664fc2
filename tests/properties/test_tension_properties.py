"""Properties of the tension stage: friction, cold, mirror images, length, and limits."""

from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.job.defaults import fill_defaults
from fencewright.job.reading import parse_job
from fencewright.job.settings import Settings
from fencewright.tables.tension import Tensions, TensionTask
from fencewright.tension.stage import pull_tensions

JOB = """
[job]
name = "one"
[site]
soil = "sand"
frost_depth = "36 in"
coldest = "-20 F"
hottest = "100 F"
"""
SETTINGS = fill_defaults(parse_job(JOB), shipped_catalogue())[0]
SPANS = st.lists(st.floats(1.0, 4.5), min_size=1, max_size=12)
TURN = st.floats(0.0, 1.6)
GIVE = st.sampled_from([5e4, 3e5, 2e6, np.inf])
CARRIED = st.sampled_from([4e3, 9e3, 2e4, np.inf])


@st.composite
def tasks(draw: st.DrawFn) -> TensionTask:
    spans = draw(SPANS)
    turns = draw(st.lists(TURN, min_size=len(spans) - 1, max_size=len(spans) - 1))
    stiffness, capacity = [draw(GIVE), draw(GIVE)], [draw(CARRIED), draw(CARRIED)]
    count = len(spans)
    return TensionTask(
        np.array([0, count]), np.array(spans), np.array(turns, float), np.arange(count + 1),
        np.array([stiffness]), np.array([capacity]), np.array([draw(CARRIED)]), np.array([1]),
    )  # fmt: skip


def pulled(task: TensionTask, settings: Settings = SETTINGS) -> Tensions:
    return pull_tensions(task, settings)[0]


def with_friction(factor: float) -> Settings:
    layout = replace(SETTINGS.layout, friction_worked=factor * SETTINGS.layout.friction_worked)
    return replace(
        SETTINGS,
        layout=layout,
        tension=replace(SETTINGS.tension, friction_pulling=factor * SETTINGS.tension.friction_pulling),
    )


@given(tasks())
def test_nothing_is_nan_and_tensions_are_pulls(task: TensionTask) -> None:
    made = pulled(task)
    for field in fields(made):
        assert np.isfinite(np.asarray(getattr(made, field.name), float)).all(), field.name
    assert (made.set_tension_n > 0).all()
    assert (made.hot_n > 0).all()


@given(tasks(), st.floats(1.05, 3.0))
def test_more_friction_is_never_more_tension_at_any_post(task: TensionTask, factor: float) -> None:
    """For one tensioner's end: shares, not the chosen tension, which may rise to keep the far end from sagging."""
    less, more = pulled(task), pulled(task, with_friction(factor))
    if less.drawn_from[0] != more.drawn_from[0]:
        return
    for name in ("worked_n", "pulling_n"):
        shares = [getattr(one, name) / one.set_tension_n[one.posts_of(0)][0] for one in (less, more)]
        assert (shares[1] <= shares[0] * (1 + 1e-12)).all()


@given(tasks())
def test_worked_is_never_less_than_pulling_nor_more_than_the_tensioner(task: TensionTask) -> None:
    made = pulled(task)
    rows = made.posts_of(0)
    assert (made.worked_n[rows] >= made.pulling_n[rows] * (1 - 1e-12)).all()
    assert (made.worked_n[rows] <= made.set_tension_n[0] * (1 + 1e-12)).all()


@given(tasks())
def test_colder_is_never_slacker(task: TensionTask) -> None:
    made = pulled(task)
    assert made.cold_n[0] >= made.set_tension_n[0] >= made.hot_n[0]
    for column in (made.chart_low_n, made.chart_high_n):
        assert (np.diff(column[0]) <= 1e-6).all()


@given(tasks())
def test_a_mirrored_pull_is_the_same(task: TensionTask) -> None:
    back = replace(
        task,
        span_m=task.span_m[::-1].copy(),
        turning_3d_rad=task.turning_3d_rad[::-1].copy(),
        end_stiffness_n_m=task.end_stiffness_n_m[:, ::-1].copy(),
        end_capacity_n=task.end_capacity_n[:, ::-1].copy(),
    )
    there, again = pulled(task), pulled(back)
    if {there.drawn_from[0], again.drawn_from[0]} <= {0, 1} and there.drawn_from[0] == again.drawn_from[0]:
        return  # a tie, decided by drawing order
    for name in ("set_tension_n", "window_low_n", "window_high_n", "cold_n", "hot_n", "take_up_m", "turns"):
        assert getattr(again, name) == pytest.approx(getattr(there, name), rel=1e-7), name
    assert again.worked_n[again.posts_of(0)][::-1] == pytest.approx(
        there.worked_n[there.posts_of(0)], rel=1e-7
    )


@given(SPANS, st.integers(2, 5))
def test_a_longer_pull_takes_up_more(spans: list[float], times: int) -> None:
    def straight(count: int) -> TensionTask:
        whole = np.array(spans * count)
        return TensionTask(
            np.array([0, len(whole)]), whole, np.zeros(len(whole) - 1), np.arange(len(whole) + 1),
            np.full((1, 2), np.inf), np.full((1, 2), np.inf), np.full(1, np.inf), np.full(1, -1),
        )  # fmt: skip

    short, long = pulled(straight(1)), pulled(straight(times))
    assert long.take_up_m[0] == pytest.approx(times * short.take_up_m[0], rel=1e-9)
    assert long.window_high_n == pytest.approx(short.window_high_n, rel=1e-9)


@given(tasks(), st.floats(1.1, 20.0))
def test_softer_ends_never_narrow_the_window_of_a_straight_pull(task: TensionTask, softer: float) -> None:
    straight = replace(task, turning_3d_rad=np.zeros_like(task.turning_3d_rad))
    soft = replace(straight, end_stiffness_n_m=straight.end_stiffness_n_m / softer)
    hard_made, soft_made = pulled(straight), pulled(soft)
    hard = hard_made.window_high_n - hard_made.window_low_n
    assert (soft_made.window_high_n - soft_made.window_low_n >= hard - 1e-6).all()


@given(tasks(), tasks())
def test_runs_do_not_see_each_other(one: TensionTask, other: TensionTask) -> None:
    both = TensionTask(
        np.concatenate([one.span_start, one.span_start[-1] + other.span_start[1:]]),
        np.concatenate([one.span_m, other.span_m]),
        np.concatenate([one.turning_3d_rad, other.turning_3d_rad]),
        np.concatenate([one.post_index, other.post_index]),
        np.concatenate([one.end_stiffness_n_m, other.end_stiffness_n_m]),
        np.concatenate([one.end_capacity_n, other.end_capacity_n]),
        np.concatenate([one.turn_capacity_n, other.turn_capacity_n]),
        np.concatenate([one.turn_post, other.turn_post]),
    )
    made, alone = pulled(both), [pulled(one), pulled(other)]
    for name in ("set_tension_n", "window_low_n", "window_high_n", "cold_n", "take_up_m", "chart_n"):
        expected = np.concatenate([getattr(each, name) for each in alone])
        assert getattr(made, name) == pytest.approx(expected, rel=1e-9), name
