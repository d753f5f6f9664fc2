"""Chart for the day: colder, tighter; the reference day gives the set tension; edges are kept."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from fencewright.job.settings import Settings
from fencewright.tables.tension import TensionTask
from fencewright.tension.stage import pull_tensions

Build = Callable[..., TensionTask]
Change = Callable[..., Settings]


def test_colder_days_are_pulled_tighter(build: Build, settings: Settings) -> None:
    made, _, _ = pull_tensions(build([[3.6] * 30, [2.0] * 5], None, 4e5), settings)
    assert (np.diff(made.chart_n, axis=1) < 0).all()
    assert (np.diff(made.chart_low_n, axis=1) < 0).all()
    assert (np.diff(made.chart_high_n, axis=1) < 0).all()


def test_the_reference_day_gives_the_set_tension(build: Build, settings: Settings, change: Change) -> None:
    made, _, _ = pull_tensions(build([[3.6] * 30], None, 4e5), change(settings, chart_c=(10.0, 20.0, 30.0)))
    assert made.chart_n[0, 1] == pytest.approx(made.set_tension_n[0])
    assert made.chart_low_n[0, 1] == pytest.approx(made.window_low_n[0])
    assert made.chart_high_n[0, 1] == pytest.approx(made.window_high_n[0])


def test_a_straight_rigid_pull_loses_ea_alpha_a_degree(
    build: Build, settings: Settings, change: Change
) -> None:
    """Sources-structure 6: taut, ends fixed, no sag: EA alpha a degree."""
    light = change(settings, rail={"line_mass_kg_m": 1e-6}, chart_c=(10.0, 20.0))
    made, pulled, _ = pull_tensions(build([[3.6] * 30]), light)
    rails = pulled.rails
    assert made.chart_n[0, 0] - made.chart_n[0, 1] == pytest.approx(
        10 * rails.stiffness_n[0] * rails.expansion_per_c[0], rel=1e-6
    )


def test_days_beyond_the_weather_are_left_out(build: Build, settings: Settings, change: Change) -> None:
    made, pulled, _ = pull_tensions(build([[3.6]]), change(settings, chart_c=(-60.0, 0.0, 20.0, 95.0)))
    assert made.chart_c.tolist() == [0.0, 20.0]
    none, _, _ = pull_tensions(build([[3.6]]), change(settings, chart_c=(-60.0,)))
    assert none.chart_c == pytest.approx([(pulled.rails.coldest_c[0] + pulled.rails.hottest_c[0]) / 2])


def test_every_open_day_keeps_its_window(build: Build, settings: Settings) -> None:
    turns = [0.0] * 39
    turns[10] = turns[25] = np.pi / 2
    made, _, _ = pull_tensions(build([[3.6] * 40], [turns], 8e5, 12e3), settings)
    day = made.chart_is_open
    assert day.any()
    assert (made.chart_n >= made.chart_low_n * (1 - 1e-9))[day].all()
    assert (made.chart_n <= made.chart_high_n * (1 + 1e-9))[day].all()


def test_stronger_end_at_the_far_side_does_not_matter_to_the_tensioner(
    build: Build, settings: Settings
) -> None:
    """The end that carries less holds the rail's loose side where friction leaves a difference."""
    turns = [[0.0] * 4 + [np.pi] + [0.0] * 4]
    task = build([[3.6] * 10], turns, 2e5)
    weak_first = replace(task, end_capacity_n=np.array([[7.5e3, 30e3]]))
    weak_last = replace(task, end_capacity_n=np.array([[30e3, 7.5e3]]))
    assert pull_tensions(weak_first, settings)[0].drawn_from[0] == 1
    assert pull_tensions(weak_last, settings)[0].drawn_from[0] == 0
