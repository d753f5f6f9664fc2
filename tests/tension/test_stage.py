"""The stage whole: rows as pulls, nothing unknown, findings, and input that cannot be."""

import re
from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest

from fencewright.catalogue.rows import Rail
from fencewright.findings import CAUTION, NOTE, STOP, InputError
from fencewright.job.settings import Settings
from fencewright.quantity.show import UnitSystem
from fencewright.tables.tension import GOVERNS_HIGH, TensionTask
from fencewright.tension.remedies import mendings
from fencewright.tension.stage import pull_tensions
from fencewright.tension.words import _as_told_n

Change = Callable[..., Settings]
Build = Callable[..., TensionTask]
RIGHT = np.pi / 2


def test_rows_are_pulls_and_nothing_is_nan(build: Build, settings: Settings) -> None:
    task = build([[3.6] * 12, [2.0, 3.0]], [[0.01] * 5 + [RIGHT] + [0.0] * 5, [0.3]], 4e5, 2e4)
    made, _, _ = pull_tensions(task, settings)
    assert len(made) == 8
    for field in fields(made):
        column = getattr(made, field.name)
        assert np.isfinite(np.asarray(column, float)).all(), field.name
    assert made.chart_n.shape == (8, len(made.chart_c))
    assert made.post_index[made.posts_of(5)].tolist() == [13, 14, 15]
    assert np.array_equal(made.set_tension_n[:4], np.full(4, made.set_tension_n[0]))


def test_products_have_rows_of_their_own(build: Build, settings: Settings, rails: dict[str, Rail]) -> None:
    mixed = replace(
        settings, strands=(replace(settings.strands[0], rail=rails["coated wire"]), *settings.strands[1:])
    )
    made, pulled, _ = pull_tensions(build([[3.0] * 10]), mixed)
    assert made.product_index.tolist() == [0, 1, 1, 1]
    assert pulled.rails.rail == ("coated wire", "polymer rail")
    assert len(made.post_start) == 3


def test_tension_at_posts_by_belt_friction(build: Build, settings: Settings) -> None:
    """Sources-fence B: 90 degrees at mu 0.3 leave 0.624; here the job's own two frictions."""
    task = build([[3.0, 3.0, 3.0]], [[0.0, RIGHT]], 2e5)
    made, _, _ = pull_tensions(task, settings)
    assert made.drawn_from[0] == 0
    rows = made.posts_of(0)
    assert made.worked_n[rows] / made.set_tension_n[0] == pytest.approx(
        [1, 1, np.exp(-0.15 * RIGHT), np.exp(-0.15 * RIGHT)]
    )
    assert made.pulling_n[rows] / made.set_tension_n[0] == pytest.approx(
        [1, 1, np.exp(-0.25 * RIGHT), np.exp(-0.25 * RIGHT)]
    )
    assert (made.tensioner_post[0], made.anchor_post[0], made.loosest_span[0]) == (0, 3, 2)


def test_small_job_of_three_corners(build: Build, settings: Settings) -> None:
    """Four rails of 250 lbf, 270 degrees in one pull: common practice, no source."""
    sides = [0.0] * 50
    for corner in (10, 27, 37):
        sides[corner] = RIGHT
    made, _, findings = pull_tensions(build([[191.8 / 51] * 51], [sides], 4e5, 12e3), settings)
    assert made.is_open.all()
    assert made.set_tension_n[0] == pytest.approx(250 * 4.4482216, rel=0.1)
    assert 4 * made.cold_n[0] < 12e3
    assert not [one for one in findings if one.level == STOP]


def test_empty_window_says_which_side_and_what_mends_it(
    build: Build, settings: Settings, change: Change
) -> None:
    made, _, findings = pull_tensions(build([[3.6] * 30], None, np.inf, 7e3), settings)
    stop = next(one for one in findings if one.code == "tension-window-empty")
    assert (
        "a shorter [fence] spacing_limit, or a larger [tension] sag_limit" in stop.remedy
    )  # keys with their tables
    assert (stop.level, stop.where.id) == (STOP, "R1-1")
    assert "what its end posts carry" in stop.message
    told = re.search(r"needs (\d+) lbf .* may have (\d+) lbf .*; (\d+) lbf are missing", stop.message)
    assert told is not None
    needed, allowed, missing = map(int, told.groups())
    assert needed - allowed == missing
    assert "spring_keeper" in stop.remedy
    assert "ends that carry" in stop.remedy
    assert not made.is_open.any()
    mended = change(settings, spring_m_n=settings.tension.spring_offered_m_n)
    assert pull_tensions(build([[3.6] * 30], None, np.inf, 7e3), mended)[0].is_open.all()


def test_a_keeper_that_is_fitted_is_not_offered(build: Build, settings: Settings, change: Change) -> None:
    fitted = change(settings, spring_m_n=settings.tension.spring_offered_m_n)
    _, _, findings = pull_tensions(build([[3.6] * 30], None, np.inf, 2e3), fitted)
    stop = next(one for one in findings if one.code == "tension-window-empty")
    assert "spring_keeper" not in stop.remedy


def test_a_window_empty_by_less_than_is_shown_does_not_lack_nothing(build: Build, settings: Settings) -> None:
    _, pulled, _ = pull_tensions(build([[3.6] * 30], None, np.inf, 7e3), settings)
    needed = mendings(build([[3.6] * 30], None, np.inf, 7e3), pulled, settings).cold_needed_n[0, 0]
    _, _, findings = pull_tensions(build([[3.6] * 30], None, np.inf, 4 * needed * 0.9999), settings)
    stop = next(one for one in findings if one.code == "tension-window-empty")
    assert stop.message.endswith("; a little is missing.")


def test_an_empty_window_names_the_corner_that_fails(build: Build, settings: Settings) -> None:
    task = build([[3.6] * 8], [[0.0] * 3 + [1.5] + [0.0] * 3], turn_capacity_n=1500.0)
    made, pulled, findings = pull_tensions(replace(task, turn_post=np.array([4])), settings)
    assert not made.is_open.any()
    assert GOVERNS_HIGH[int(pulled.window.governs_high[0, 0])] == "corners"
    stop = next(one for one in findings if one.code == "tension-window-empty")
    assert "what its corner P5 carries" in stop.message
    assert "make P5 carry" in stop.remedy
    assert "ends that carry" not in stop.remedy


def test_the_capacity_that_is_asked_for_opens_the_window(build: Build, settings: Settings) -> None:
    _, pulled, _ = pull_tensions(build([[3.6] * 30], None, np.inf, 7e3), settings)
    needed = mendings(build([[3.6] * 30], None, np.inf, 7e3), pulled, settings).cold_needed_n[0, 0]
    more, less = (
        pull_tensions(build([[3.6] * 30], None, np.inf, 4 * needed * f), settings)[0].is_open[0]
        for f in (1.001, 0.999)
    )
    assert (more, less) == (True, False)


def test_too_much_turning_is_a_caution(build: Build, settings: Settings) -> None:
    _, _, findings = pull_tensions(build([[3.6] * 9], [[RIGHT] * 8], 1e5), settings)
    said = next(one for one in findings if one.code == "pull-turns-too-much")
    assert said.level == CAUTION
    assert "305 deg" in said.message
    assert "drawn from both ends" in said.message


def test_turning_limit_is_the_layouts(build: Build, settings: Settings) -> None:
    """Layout divides a run at -ln(share) / friction: up to there one end is enough, beyond it both must draw."""
    limit = -np.log(settings.layout.far_end_share) / settings.layout.friction_worked
    for factor, ends in ((0.999, {0, 1}), (1.001, {2})):
        made, _, findings = pull_tensions(build([[3.0] * 4], [[0, limit * factor, 0]], 1e5), settings)
        assert set(made.drawn_from.tolist()) <= ends
        assert not [one for one in findings if one.code == "pull-turns-too-much"]


def test_a_moved_tension_is_noted(build: Build, settings: Settings, change: Change) -> None:
    made, _, findings = pull_tensions(build([[3.6] * 20]), change(settings, rail={"set_tension_n": 1300.0}))
    said = next(one for one in findings if one.code == "tension-moved")
    assert said.level == NOTE
    assert "too tight on the coldest day for the rail itself; its window is " in said.message
    assert made.set_tension_n[0] < made.window_high_n[0] < 1300.0


def test_many_alike_are_counted(build: Build, settings: Settings) -> None:
    _, _, findings = pull_tensions(build([[3.6] * 3] * 50, None, np.inf, 2e3), settings, UnitSystem("metric"))
    own = [one for one in findings if one.code == "tension-window-empty"]
    assert len(own) == 21
    assert own[-1].message.startswith("30 more findings")


@pytest.mark.parametrize(
    ("spoil", "says"),
    [
        ({"span_m": np.array([3.0, 0.0])}, "no length"),
        ({"span_start": np.array([0, 0, 2])}, "has no span"),
        ({"end_stiffness_n_m": np.zeros((1, 2))}, "stiffness of an end is missing"),
        ({"end_capacity_n": np.full((1, 2), np.nan)}, "capacity of an end is missing"),
    ],
)
def test_what_no_pull_can_be(build: Build, settings: Settings, spoil: dict[str, Any], says: str) -> None:
    with pytest.raises(InputError, match=says):
        pull_tensions(replace(build([[3.0, 3.0]]), **spoil), settings)


def test_no_runs_give_no_pulls(build: Build, settings: Settings) -> None:
    empty = replace(
        build([[3.0]]), span_start=np.zeros(1, np.int64), span_m=np.zeros(0), post_index=np.zeros(0, np.int64),
        end_stiffness_n_m=np.zeros((0, 2)), end_capacity_n=np.zeros((0, 2)),
        turn_capacity_n=np.zeros(0), turn_post=np.zeros(0, np.int64),
    )  # fmt: skip
    made, _, _ = pull_tensions(empty, settings)
    assert (len(made), made.chart_n.shape[0], len(made.post_index)) == (0, 0, 0)


@pytest.mark.parametrize(
    ("system", "low_n", "high_n"),
    [("metric", 126.4, 121.6), ("metric", 1254.9, 1120.2), ("us", 1000.0, 871.0)],
)
def test_what_is_missing_is_the_difference_of_what_is_told(system: str, low_n: float, high_n: float) -> None:
    show = UnitSystem(system)
    low, high = (float(show.force(one).split()[0].replace(",", "")) for one in (low_n, high_n))
    scale = 1000 if "kN" in show.force(low_n) else show.force_factor
    assert _as_told_n(low_n, show) - _as_told_n(high_n, show) == pytest.approx((low - high) * scale)
