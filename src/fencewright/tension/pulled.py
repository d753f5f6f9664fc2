"""All that the stage computes, by run and rail product, before it is spread over the strands."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.job.settings import Settings
from fencewright.tables.tension import RailModels, TensionTask
from fencewright.tension.chart import Chart, chart, days_of
from fencewright.tension.friction import Profile
from fencewright.tension.state import States, held_change_n, slid_tension_n
from fencewright.tension.take_up import Repull, TakeUp, repull, take_up
from fencewright.tension.tensioner import best_drawing
from fencewright.tension.window import Limits, Window, chosen_tension_n

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class PulledRuns:
    """Every run and product: columns (runs,), (products,) or (runs, products), the charts' with days behind.

    `site_chart` is the chart on the days of the site checks.
    """

    rails: RailModels
    drawn_from: Ints
    drawn: Profile
    states: States
    limits: Limits
    window: Window
    set_tension_n: Floats
    chart: Chart
    site_chart: Chart
    take_up: TakeUp
    repull: Repull


def pulled_runs(task: TensionTask, rails: RailModels, settings: Settings) -> PulledRuns:
    """Compute every run and product; arguments as `pull_tensions`."""
    tension, made = settings.tension, best_drawing(task, rails, settings)
    drawn, states, window = made.drawn, made.states, made.window
    set_tension = chosen_tension_n(rails.set_tension_n, window.low_n, window.high_n, tension.window_margin)
    days, site_days = days_of(tension.chart_c, rails), np.array(tension.checks.temperatures_c)
    both = np.concatenate([days, site_days])
    drawn_to = chart(states, made.limits, set_tension, tension.reference_c, both)
    return PulledRuns(
        rails=rails,
        drawn_from=made.drawn_from,
        drawn=drawn,
        states=states,
        limits=made.limits,
        window=window,
        set_tension_n=set_tension,
        chart=drawn_to.of(slice(0, len(days))),
        site_chart=drawn_to.of(slice(len(days), len(both))),
        take_up=take_up(task, drawn, rails, set_tension, tension),
        repull=repull(drawn, states, rails, set_tension, tension),
    )


def cold_tension_n(pulled: PulledRuns, reference_c: float) -> Floats:
    """Tension at the tensioner on the coldest day: (runs, products). [N]"""
    grown = pulled.states.expansion_m_per_c * (pulled.rails.coldest_c - reference_c)
    return pulled.set_tension_n + held_change_n(pulled.states, pulled.set_tension_n, grown)


def hot_tension_n(pulled: PulledRuns, reference_c: float) -> Floats:
    """Tension at the tensioner on the hottest day: (runs, products). [N]"""
    grown = pulled.states.expansion_m_per_c * (pulled.rails.hottest_c - reference_c)
    return slid_tension_n(pulled.states, pulled.set_tension_n, grown)
