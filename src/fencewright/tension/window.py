"""The set-tension window: not slack on the hottest day, not too tight on the coldest."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.mechanics.cable import tension_for_sag_n
from fencewright.tables.tension import RailModels, TensionTask
from fencewright.tension.friction import Profile
from fencewright.tension.state import States, slid_tension_n, tension_before_n

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

# rows of GOVERNS_HIGH of each limit of the coldest day: the ends twice, first and last
LIMITS = (0, 1, 2, 2, 3)
LEAST_CAPACITY_N = 1.0  # an end that carries less carries nothing, and its window is empty all the same


@dataclass(frozen=True, slots=True, eq=False)
class Limits:
    """What the hottest and the coldest day allow; columns (runs, products), ways of drawing before them or not.

    `least_hot_n` at the tensioner, so that no span sags more than allowed; `most_cold_n` (runs, products, limits)
    of one rail on the coldest day, in the order of `LIMITS`;
    `share` (runs, 1, limits) of the tensioner's tension that the place of each limit has; `hottest_c`, `coldest_c`
    (products,).
    """

    least_hot_n: Floats
    most_cold_n: Floats
    share: Floats
    hottest_c: Floats
    coldest_c: Floats

    def of_way(self, way: Ints) -> "Limits":
        """Give those of one way of each run (runs,), from columns (ways, runs, ...)."""
        run = np.arange(len(way))
        return replace(self, least_hot_n=self.least_hot_n[way, run], share=self.share[way, run])


@dataclass(frozen=True, slots=True, eq=False)
class Window:
    """Least and greatest tension to pull to; columns (runs, products) or with days behind.

    `low_n`, `high_n` [N]; `governs_high` row of `GOVERNS_HIGH`.
    """

    low_n: Floats
    high_n: Floats
    governs_high: Ints

    @property
    def is_open(self) -> NDArray[np.bool_]:
        """Where there is a tension that both days allow."""
        return np.asarray(self.low_n <= self.high_n)


def limits_of(task: TensionTask, rails: RailModels, drawn: Profile, sag_limit_m: float) -> Limits:
    """What each run and product must keep.

    Parameters
    ----------
    task : TensionTask
        Capacities of ends and turning posts, of all rails together.
    rails : RailModels
        Breaking load, cold tension allowed.
    drawn : Profile
        How the tension lies.
    sag_limit_m : float
        Most sag of any span on the hottest day. [m]

    Returns
    -------
    Limits

    Notes
    -----
    The capacity of ends and turning posts is shared among the rails as their allowed cold tensions are. A turning
    post is taken to get the tensioner's whole tension, wherever it stands: so do the checks of strength, and the two
    never disagree.
    """
    part = rails.cold_allowed_n / (rails.strands * rails.cold_allowed_n).sum()
    shape = (len(task), len(rails))
    most = [np.broadcast_to(rails.share_allowed_n, shape), np.broadcast_to(rails.cold_allowed_n, shape)]
    held = (*task.end_capacity_n.T, task.turn_capacity_n)
    most += [np.maximum(capacity, LEAST_CAPACITY_N)[:, None] * part for capacity in held]
    ones = np.ones(drawn.least_share.shape)
    share = [ones, ones, drawn.first_share, drawn.last_share, ones]
    deepest_span = np.sqrt(drawn.deepest_m2)[..., None]
    return Limits(
        least_hot_n=tension_for_sag_n(sag_limit_m, deepest_span, rails.weight_n_m),
        most_cold_n=np.stack(most, axis=-1),
        share=np.stack(share, axis=-1)[..., None, :],
        hottest_c=rails.hottest_c,
        coldest_c=rails.coldest_c,
    )


def window_at(states: States, limits: Limits, rail_c: ArrayLike) -> Window:
    """Window of the tension to pull to at a rail temperature.

    Parameters
    ----------
    states, limits
        Columns (runs, products).
    rail_c : array (days,)
        Rail temperature while pulling. [C]

    Returns
    -------
    Window
        Columns (runs, products, days), ways before them where the states have ways.

    Notes
    -----
    From below: the tension that just leaves `least_hot_n` once the rail has warmed to its hottest. From above: the
    tension from which no limit is passed once it has cooled to its coldest, each solved with its sag.
    O(runs x products x days x limits).

    References
    ----------
    parabola-state.
    """
    day = np.asarray(rail_c, np.float64)[None, None, :]
    states = states.with_days()
    warmer = day - limits.hottest_c[None, :, None]
    low = slid_tension_n(states, limits.least_hot_n[..., None], states.expansion_m_per_c * warmer)
    colder = limits.coldest_c[None, :, None] - day
    grown = states.expansion_m_per_c * colder
    most = limits.most_cold_n[..., None, :]
    known = np.isfinite(most)
    share = limits.share[..., None, :]
    now = tension_before_n(states.with_days(), np.where(known, most, 1.0), share, grown[..., None])
    now = np.where(known, now, np.inf)
    first = now.argmin(axis=-1)
    return Window(low, now.min(axis=-1), np.array(LIMITS)[first])


def chosen_tension_n(wanted_n: ArrayLike, low_n: Floats, high_n: Floats, margin: float) -> Floats:
    """Tension inside a window: the wanted one where it is inside, else the nearest with a margin.

    Parameters
    ----------
    wanted_n : array
        [N]
    low_n, high_n : float array
        The window; where it is empty its upper edge is taken, so that nothing breaks. [N]
    margin : float
        Part of the window's width kept from an edge that the wanted tension is beyond, 0 to 0.5. [-]

    Returns
    -------
    float array
        [N]
    """
    wanted = np.asarray(wanted_n, np.float64)
    aside = margin * np.maximum(high_n - low_n, 0.0)
    moved = np.clip(wanted, low_n + aside, high_n - aside)
    inside = (wanted >= low_n) & (wanted <= high_n)
    return np.where(low_n > high_n, np.minimum(wanted, high_n), np.where(inside, wanted, moved))
