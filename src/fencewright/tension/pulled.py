"""All that the stage computes, by run and rail product, before it is spread over the strands."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.job.settings import Settings
from fencewright.tables.tension import RailModels, TensionTask
from fencewright.tension.chart import Chart, chart, days_of
from fencewright.tension.friction import Profile, profile
from fencewright.tension.state import States, held_change_n, slid_tension_n, states_of
from fencewright.tension.take_up import Repull, TakeUp, repull, take_up
from fencewright.tension.tensioner import ends_to_draw_from
from fencewright.tension.window import Limits, Window, chosen_tension_n, limits_of, window_at

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class PulledRuns:
    """Every run and product: columns (runs,), (products,) or (runs, products), the chart's with days behind."""

    rails: RailModels
    drawn_from: Ints
    drawn: Profile
    states: States
    limits: Limits
    window: Window
    set_tension_n: Floats
    chart: Chart
    take_up: TakeUp
    repull: Repull


def pulled_runs(task: TensionTask, rails: RailModels, settings: Settings) -> PulledRuns:
    """Compute every run and product; arguments as `pull_tensions`."""
    tension = settings.tension
    drawn_from = ends_to_draw_from(task, rails, settings)
    drawn = profile(task, settings.layout.friction_worked, drawn_from)
    states = states_of(task, rails, drawn, tension.spring_m_n)
    limits = limits_of(task, rails, drawn, tension.sag_limit_m)
    days = window_at(states, limits, np.array([tension.reference_c]))
    window = Window(days.low_n[..., 0], days.high_n[..., 0], days.governs_high[..., 0])
    set_tension = chosen_tension_n(rails.set_tension_n, window.low_n, window.high_n, tension.window_margin)
    return PulledRuns(
        rails=rails,
        drawn_from=drawn_from,
        drawn=drawn,
        states=states,
        limits=limits,
        window=window,
        set_tension_n=set_tension,
        chart=chart(states, limits, set_tension, tension.reference_c, days_of(tension.chart_c, rails)),
        take_up=take_up(drawn, states, rails, set_tension, tension),
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
