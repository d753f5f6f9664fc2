"""The chart for the day: rail temperature while pulling, and the tension to pull to."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.tables.tension import RailModels
from fencewright.tension.state import States, slid_tension_n
from fencewright.tension.window import Limits, chosen_tension_n, window_at

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Chart:
    """Tension to pull to, and its window: (runs, products, days) [N]; `rail_c` (days,) [C]."""

    rail_c: Floats
    tension_n: Floats
    low_n: Floats
    high_n: Floats

    @property
    def is_open(self) -> NDArray[np.bool_]:
        """Days on which the pull may be made."""
        return np.asarray(self.low_n <= self.high_n)

    def of(self, days: slice | Ints) -> "Chart":
        """Give some of its days."""
        columns = (self.tension_n, self.low_n, self.high_n)
        return Chart(self.rail_c[days], *(column[..., days] for column in columns))


def days_of(chart_c: tuple[float, ...], rails: RailModels) -> Floats:
    """Rail temperatures of the chart between the coldest and the hottest that any rail sees: (days,). [C]"""
    days = np.array(chart_c)
    inside = days[(days >= rails.coldest_c.min()) & (days <= rails.hottest_c.max())]
    return inside if len(inside) else np.array([(rails.coldest_c.min() + rails.hottest_c.max()) / 2])


def chart(states: States, limits: Limits, set_tension_n: Floats, reference_c: float, rail_c: Floats) -> Chart:
    """Tension to pull to on each day.

    Parameters
    ----------
    states, limits
        Columns (runs, products).
    set_tension_n : float array (runs, products)
        At the reference temperature. [N]
    reference_c : float
        [C]
    rail_c : float array (days,)
        Rail temperatures. [C]

    Returns
    -------
    Chart

    Notes
    -----
    On every day the same rail comes to lie in the pull as at the set tension and reference temperature, worked round
    its bends: colder, tighter. Where that leaves the day's window (a rail pulled in the cold lies tighter at the
    tensioner than one that has cooled), the nearest edge is taken. O(runs x products x days).

    References
    ----------
    parabola-state.
    """
    window = window_at(states, limits, rail_c)
    held = states.with_days()
    grown = held.expansion_m_per_c * (rail_c - reference_c)[None, None, :]
    same_rail = slid_tension_n(held, set_tension_n[..., None], grown)
    return Chart(
        rail_c, chosen_tension_n(same_rail, window.low_n, window.high_n, 0.0), window.low_n, window.high_n
    )
