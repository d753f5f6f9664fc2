"""Which end of each run holds the tensioners, or whether both do."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.job.settings import Settings
from fencewright.mechanics.belt_friction import BOTH_ENDS, FIRST_END, LAST_END, better_end
from fencewright.tables.tension import RailModels, TensionTask
from fencewright.tension.friction import WAYS, profile
from fencewright.tension.state import states_of
from fencewright.tension.window import limits_of, window_at

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

EQUAL = 1e-9  # rounding of a share
ALIKE = 0.01  # windows whose widths differ by less than this part of the set tension are alike to a person


@dataclass(frozen=True, slots=True, eq=False)
class _Way:
    """What one way of drawing gives; columns (runs,): narrowest window over set tension, least share."""

    width: Floats
    share: Floats


def ends_to_draw_from(task: TensionTask, rails: RailModels, settings: Settings) -> Ints:
    """Choose the end, or both, from which the rails of each run are drawn.

    Parameters
    ----------
    task, rails, settings
        As of the stage.

    Returns
    -------
    int array (runs,)
        `FIRST_END`, `LAST_END` or `BOTH_ENDS`. One end where its window is wide enough for a person and enough
        tension reaches the loosest span: the end with the wider window, of alike ones that which leaves more
        tension on the average metre. Both only where that mends what one cannot.

    Notes
    -----
    All strands of a run are drawn from the same end: a person stands at one post. O(spans).
    """
    first, last, both = (_tried(task, rails, settings, way) for way in WAYS)
    tighter = better_end(task.turning_3d_rad, task.bend_start, settings.layout.friction_worked, task.span_m)
    gain = last.width - first.width
    takes_last = np.where(np.abs(gain) > ALIKE, gain > 0, tighter == LAST_END)
    single = np.where(takes_last, LAST_END, FIRST_END)
    width, share = (
        np.where(takes_last, getattr(last, name), getattr(first, name)) for name in ("width", "share")
    )
    is_enough = share >= settings.layout.far_end_share * (1 - EQUAL)
    is_narrow = width < settings.tension.window_least
    mends = np.where(is_narrow, both.width > width + ALIKE, both.width >= 0)
    fails = is_narrow | ~is_enough
    return np.where(fails & mends, BOTH_ENDS, single).astype(np.int64)


def _tried(task: TensionTask, rails: RailModels, settings: Settings, way: int) -> _Way:
    tension = settings.tension
    drawn = profile(task, settings.layout.friction_worked, way)
    states = states_of(task, rails, drawn, tension.spring_m_n)
    window = window_at(
        states, limits_of(task, rails, drawn, tension.sag_limit_m), np.array([tension.reference_c])
    )
    width = (window.high_n - window.low_n)[..., 0] / rails.set_tension_n
    return _Way(width.min(axis=1), drawn.least_share)
