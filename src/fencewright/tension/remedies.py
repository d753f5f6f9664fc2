"""What would open an empty window: a spring-loaded keeper, a shorter pull, a stronger end, another rail."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from fencewright.job.settings import Settings
from fencewright.tables.tension import GOVERNS_HIGH, TensionTask
from fencewright.tension.pulled import PulledRuns
from fencewright.tension.state import States, held_change_n, states_of
from fencewright.tension.window import LIMITS, Limits, window_at

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

PARTS = (2, 3, 4)  # into how many straight pulls a run is divided in trying


@dataclass(frozen=True, slots=True, eq=False)
class Mending:
    """What would open each window; columns (runs, products).

    `cold_needed_n` tension of one rail at the tensioner on the coldest day that ends and rail would have to carry,
    the rail drawn just so tight that it keeps its sag on the hottest; `spring_opens` a keeper of the offered spring,
    where none is fitted, does it; `parts` into how many straight pulls the run must be divided, 0 where four are still
    too few.
    """

    cold_needed_n: Floats
    spring_opens: Flags
    parts: NDArray[np.int64]


def mendings(task: TensionTask, pulled: PulledRuns, settings: Settings) -> Mending:
    """Try each remedy on every run and product.

    Parameters
    ----------
    task, pulled, settings
        The stage's own.

    Returns
    -------
    Mending

    Notes
    -----
    A divided run is taken as that many equal straight pulls, each between ends like its own: no post turns it.
    """
    tension, states = settings.tension, pulled.states
    day = np.array([tension.reference_c])
    low = pulled.window.low_n
    grown = states.expansion_m_per_c * (pulled.rails.coldest_c - tension.reference_c)
    sprung = states_of(task, pulled.rails, pulled.drawn, tension.spring_offered_m_n)
    parts = np.zeros(low.shape, np.int64)
    for count in reversed(PARTS):
        limits = _straight_limits(pulled, settings)
        is_open = window_at(_divided(pulled, states, count), limits, day).is_open[..., 0]
        parts = np.where(is_open, count, parts)
    return Mending(
        low + held_change_n(states, low, grown),
        window_at(sprung, pulled.limits, day).is_open[..., 0] & (tension.spring_m_n == 0.0),
        parts,
    )


def _divided(pulled: PulledRuns, states: States, count: int) -> States:
    """One of `count` equal straight parts of each run, its ends giving as the run's."""
    length = pulled.drawn.length_m[:, None] / count
    ends = states.held_m_n - pulled.drawn.length_m[:, None] / pulled.rails.stiffness_n
    flexible = length / pulled.rails.stiffness_n + ends
    sag = states.held_n2m / count
    even = np.ones_like(states.even_share)
    return States(states.expansion_m_per_c / count, flexible, sag, flexible, sag, even)


def _straight_limits(pulled: PulledRuns, settings: Settings) -> Limits:
    """Limits of a run of the same spans that turns nowhere."""
    deepest = pulled.drawn.deepest_m2[:, None] * pulled.drawn.least_share[:, None]
    least = pulled.rails.weight_n_m * deepest / (8.0 * settings.tension.sag_limit_m)
    most = pulled.limits.most_cold_n.copy()
    most[..., np.asarray(LIMITS) == GOVERNS_HIGH.index("corners")] = np.inf
    return replace(
        pulled.limits, least_hot_n=least, most_cold_n=most, share=np.ones_like(pulled.limits.share)
    )
