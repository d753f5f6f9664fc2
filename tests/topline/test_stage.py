"""The stage as a whole, on fences small enough to judge by hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from fencewright.tables.top_line import TopLineSettings, TopLineTask
from fencewright.topline.stage import shape_top_line

SETTINGS = TopLineSettings(flow_length_m=3.0, uplift_price_m2_n=1e-4)
LineTask = Callable[..., TopLineTask]


def test_even_slope_is_followed_at_nominal_height(line_task: LineTask) -> None:
    line = shape_top_line(line_task([50.0, 50.5, 51.0, 51.5, 52.0]), SETTINGS)
    np.testing.assert_allclose(line.height_m, 1.4, atol=1e-9)
    assert line.certificate.objective_m2 < 1e-15
    assert line.certificate.is_converged
    assert not line.needs_concrete.any()


def test_bump_is_planed_down_to_the_band(line_task: LineTask) -> None:
    """One post 0.5 m up: its top goes to the low end, its neighbours to the high end."""
    line = shape_top_line(line_task([10.0, 10.0, 10.0, 10.5, 10.0, 10.0, 10.0]), SETTINGS)
    assert line.height_m[3] == pytest.approx(1.3, abs=1e-6)
    np.testing.assert_allclose(line.height_m[[2, 4]], 1.5, atol=1e-6)
    np.testing.assert_allclose(line.top_m, line.top_m[::-1], atol=1e-6)


def test_pin_is_kept_even_outside_the_band_and_named(line_task: LineTask) -> None:
    line = shape_top_line(line_task([0.0] * 5, pins={2: 1.8}), SETTINGS)
    assert line.top_m[2] == 1.8
    assert line.clashes.kind == ("post band",)
    assert line.clashes.index.tolist() == [2]
    np.testing.assert_allclose(line.clashes.by_m, [0.3])


def test_gate_tops_are_level(line_task: LineTask) -> None:
    line = shape_top_line(line_task([0.0, 0.05, 0.15, 0.3], gates=(1,)), SETTINGS)
    assert line.top_m[1] == line.top_m[2]
    assert line.clashes.kind == ()
    assert np.isnan(line.lowest_gap_m[1])


def test_gate_on_steep_ground_says_by_how_much(line_task: LineTask) -> None:
    """Bands 1.3 to 1.5 over grounds 0.5 apart miss each other by 0.3; any level between is nearest."""
    line = shape_top_line(line_task([0.0, 0.0, 0.5, 0.5], gates=(1,)), SETTINGS)
    assert line.top_m[1] == line.top_m[2]
    assert 1.5 - 1e-9 <= line.top_m[1] <= 1.8 + 1e-9
    named = dict(zip(line.clashes.kind, line.clashes.by_m.tolist(), strict=True))
    assert named["level"] == pytest.approx(0.3)
    assert "post band" in named


def test_pins_that_differ_across_a_gate_are_both_kept(line_task: LineTask) -> None:
    line = shape_top_line(line_task([0.0] * 4, gates=(1,), pins={1: 1.38, 2: 1.45}), SETTINGS)
    assert line.top_m[1:3].tolist() == [1.38, 1.45]
    assert line.clashes.kind == ("level",)
    assert line.clashes.by_m[0] == pytest.approx(0.07)


def test_hump_between_posts_lifts_the_line(line_task: LineTask) -> None:
    """Ground 0.2 m up at mid-span: both tops at least 1.45, so that 0.25 m of gap is left."""
    task = line_task([0.0] * 4, samples={1: [(0.25, 0.05), (0.5, 0.2), (0.75, 0.05)]})
    line = shape_top_line(task, SETTINGS)
    assert line.lowest_gap_m[1] == pytest.approx(0.25, abs=1e-6)
    assert line.clashes.kind == ()


def test_hump_too_high_is_a_clash_with_span_place_and_amount(line_task: LineTask) -> None:
    task = line_task([0.0] * 4, samples={1: [(0.25, 0.05), (0.5, 0.4), (0.75, 0.05)]})
    line = shape_top_line(task, SETTINGS)
    assert line.clashes.kind == ("gap low",)
    assert line.clashes.index.tolist() == [1]
    assert line.clashes.fraction.tolist() == [0.5]
    assert line.clashes.by_m[0] == pytest.approx(0.25 - 0.1, abs=1e-6)
    np.testing.assert_allclose(line.top_m[1:3], 1.5, atol=1e-6)


def test_hollow_between_posts_pulls_the_line_down(line_task: LineTask) -> None:
    line = shape_top_line(line_task([0.0] * 4, samples={1: [(0.5, -0.25)]}), SETTINGS)
    np.testing.assert_allclose(line.top_m[1:3].mean(), 1.35, atol=1e-6)


def test_line_trades_smoothness_against_concrete(line_task: LineTask) -> None:
    """A post in a dip, alone not concreted anyway: at a price the bend moves to its neighbours."""
    task = line_task([0.6, 0.3, 0.0, 0.3, 0.6])
    hold = np.array([np.inf, np.inf, 280.0, np.inf, np.inf])
    task = replace(task, posts=replace(task.posts, hold_down_n=hold))
    free = shape_top_line(task, replace(SETTINGS, uplift_price_m2_n=0.0))
    dear = shape_top_line(task, replace(SETTINGS, uplift_price_m2_n=1.0))
    assert free.certificate.objective_m2 < dear.certificate.objective_m2
    assert free.needs_concrete.tolist() == [False, False, True, False, False]
    assert dear.uplift_n[2] == pytest.approx(280.0, abs=SETTINGS.uplift_tolerance_n)
    assert not dear.needs_concrete.any()


def test_uplift_is_the_vertical_pull_and_names_concrete(line_task: LineTask) -> None:
    """Narrow bands, dip of 1 m in 3 m: each side lifts by 4000 N * 1 / sqrt(10)."""
    task = line_task([1.0, 0.0, 1.0], hold_n=500.0, pins={0: 2.4, 1: 1.4, 2: 2.4})
    line = shape_top_line(task, SETTINGS)
    assert line.uplift_n[1] == pytest.approx(2 * 4000.0 / np.sqrt(10.0))
    assert line.needs_concrete.tolist() == [False, True, False]
    assert line.uplift_n.sum() == pytest.approx(0.0, abs=1e-9)
    excess = 2 * 4000.0 / np.sqrt(10.0) - 500.0
    assert line.certificate.objective_m2 == pytest.approx(excess * SETTINGS.uplift_price_m2_n + 4.0 / 2)


def test_no_post_and_one_post(line_task: LineTask) -> None:
    one = line_task([7.0])
    line = shape_top_line(one, SETTINGS)
    assert line.top_m.tolist() == [8.4]
    posts = type(one.posts)(*(np.zeros(0) for _ in range(7)))
    none = shape_top_line(replace(one, posts=posts), SETTINGS)
    assert none.top_m.size == 0
    assert none.clashes.kind == ()


def test_same_task_gives_the_same_bytes(line_task: LineTask) -> None:
    ground = np.random.default_rng(3).standard_normal(200).cumsum() * 0.3
    task = line_task(ground.tolist(), hold_n=600.0, gates=(20, 120))
    first, second = (shape_top_line(task, SETTINGS) for _ in range(2))
    assert first.top_m.tobytes() == second.top_m.tobytes()


@pytest.mark.parametrize(
    ("table", "column", "value", "words"),
    [
        ("posts", "ground_m", np.nan, "not finite"),
        ("posts", "nominal_weight", 0.0, "above 0"),
        ("spans", "length_m", 0.0, "above 0"),
        ("spans", "to_post", 9, "posts that exist"),
        ("spans", "to_post", 0, "two different posts"),
    ],
)
def test_senseless_tables_are_refused(
    line_task: LineTask, table: str, column: str, value: float, words: str
) -> None:
    task = line_task([0.0, 0.0, 0.0])
    part = getattr(task, table)
    spoiled = getattr(part, column).copy()
    spoiled[0] = value
    with pytest.raises(ValueError, match=words):
        shape_top_line(replace(task, **{table: replace(part, **{column: spoiled})}), SETTINGS)


def test_flow_between_spans_that_do_not_meet_is_refused(line_task: LineTask) -> None:
    task = line_task([0.0] * 5)
    flows = replace(task.flows, after_span=np.array([3, 3, 3]), before_span=np.array([0, 0, 0]))
    with pytest.raises(ValueError, match="share no post"):
        shape_top_line(replace(task, flows=flows), SETTINGS)
