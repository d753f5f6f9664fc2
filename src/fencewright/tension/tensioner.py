"""Which end of each run holds the tensioners, or whether both do."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.job.settings import Settings
from fencewright.mechanics.belt_friction import BOTH_ENDS, FIRST_END, LAST_END, better_end
from fencewright.tables.tension import RailModels, TensionTask
from fencewright.tension.friction import WAYS, Profile, profile
from fencewright.tension.state import States, states_of
from fencewright.tension.window import Limits, Window, limits_of, window_at

Ints = NDArray[np.int64]

EQUAL = 1e-9  # rounding of a share
ALIKE = 0.01  # windows whose widths differ by less than this part of the set tension are alike to a person


@dataclass(frozen=True, slots=True, eq=False)
class Drawing:
    """Every run as it is drawn: from which end (runs,), and what follows at the reference temperature."""

    drawn_from: Ints
    drawn: Profile
    states: States
    limits: Limits
    window: Window


def best_drawing(task: TensionTask, rails: RailModels, settings: Settings) -> Drawing:
    """Choose the end, or both, from which the rails of each run are drawn.

    Parameters
    ----------
    task, rails, settings
        As of the stage.

    Returns
    -------
    Drawing
        From `FIRST_END`, `LAST_END` or `BOTH_ENDS`. One end where its window is wide enough for a person and enough
        tension reaches the loosest span: the end with the wider window, of alike ones that which leaves more
        tension on the average metre. Both only where that mends what one cannot.

    Notes
    -----
    All strands of a run are drawn from the same end: a person stands at one post. The three ways are worked out at
    once. O(spans).
    """
    tension = settings.tension
    ways = np.repeat(np.array(WAYS)[:, None], len(task), axis=1)
    drawn = profile(task, settings.layout.friction_worked, ways)
    states = states_of(task, rails, drawn, tension.spring_m_n)
    limits = limits_of(task, rails, drawn, tension.sag_limit_m)
    days = window_at(states, limits, np.array([tension.reference_c]))
    window = Window(days.low_n[..., 0], days.high_n[..., 0], days.governs_high[..., 0])
    way = _chosen(drawn, window, rails, settings)
    run = np.arange(len(task))
    return Drawing(
        way,
        drawn.of_way(way, np.repeat(run, np.diff(task.span_start))),
        states.of_way(way),
        limits.of_way(way),
        Window(window.low_n[way, run], window.high_n[way, run], window.governs_high[way, run]),
    )


def _chosen(drawn: Profile, window: Window, rails: RailModels, settings: Settings) -> Ints:
    """Way of each run, from columns (ways, runs, ...) of all: (runs,)."""
    width = ((window.high_n - window.low_n) / rails.set_tension_n).min(axis=-1)
    gain = width[LAST_END] - width[FIRST_END]
    wider = np.where(gain > 0, LAST_END, FIRST_END)
    tighter = better_end(drawn.stretched_m[FIRST_END], drawn.stretched_m[LAST_END])
    single = np.where(np.abs(gain) > ALIKE, wider, tighter)
    run = np.arange(len(single))
    best, share = width[single, run], drawn.least_share[single, run]
    is_enough = share >= settings.layout.far_end_share * (1 - EQUAL)
    is_narrow = best < settings.tension.window_least
    mends = np.where(is_narrow, width[BOTH_ENDS] > best + ALIKE, width[BOTH_ENDS] >= 0)
    return np.where((is_narrow | ~is_enough) & mends, BOTH_ENDS, single).astype(np.int64)
