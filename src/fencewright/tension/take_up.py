"""What each tensioner takes up, and what the rail and its ends give back in the first season."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.job.tension_settings import TensionSettings
from fencewright.mechanics.spool import regrips_for, turns_with_regrips
from fencewright.tables.tension import RailModels
from fencewright.tension.friction import Profile
from fencewright.tension.state import States, slid_tension_n

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

DAY_S = 86400.0
DONE = 0.9  # part of the settlement that has happened when the rail is drawn again


@dataclass(frozen=True, slots=True, eq=False)
class TakeUp:
    """Rail that the tensioners of a pull take in; columns (runs, products).

    `slack_m`, `stretch_m`, `end_yield_m` and their sum `whole_m` [m]; `turns` and `regrips` of one tensioner;
    `extra_rail_m` used up by gripping [m].
    """

    slack_m: Floats
    stretch_m: Floats
    end_yield_m: Floats
    whole_m: Floats
    turns: Floats
    regrips: Ints
    extra_rail_m: Floats


def take_up(
    drawn: Profile, states: States, rails: RailModels, tension_n: Floats, settings: TensionSettings
) -> TakeUp:
    """Slack, stretch and the ends' giving against what a spool holds.

    Parameters
    ----------
    drawn, states, rails
        Columns (runs, ...), (runs, products), (products,).
    tension_n : float array (runs, products)
        Set tension. [N]
    settings : TensionSettings
        Hand slack, spool.

    Returns
    -------
    TakeUp
        Two tensioners of one pull share it evenly.

    Notes
    -----
    Slack is a part of the length; stretch is that of each span at its own tension, from none.

    References
    ----------
    spool-layers.
    """
    spool = settings.spool
    tensioners = (drawn.first_draws + drawn.last_draws)[:, None]
    slack = np.broadcast_to((settings.hand_slack * drawn.length_m)[:, None], tension_n.shape)
    stretch = tension_n * drawn.stretched_m[:, None] / rails.stiffness_n
    end_yield = tension_n * states.yield_m_n
    whole = slack + stretch + end_yield
    wraps = np.maximum(np.floor(spool.width_m / rails.wire_m), 1.0)
    each = whole / tensioners
    regrips = regrips_for(each, rails.spool_holds_m)
    return TakeUp(
        slack,
        stretch,
        end_yield,
        whole,
        turns_with_regrips(each, rails.spool_holds_m, spool.core_m, rails.wire_m, wraps),
        regrips,
        settings.grip_rail_m * tensioners * (1.0 + regrips),
    )


@dataclass(frozen=True, slots=True, eq=False)
class Repull:
    """When to draw again, and by how much; `loss_n` [N] and `take_in_m` [m] are (runs, products)."""

    days: float
    loss_n: Floats
    take_in_m: Floats


def repull(
    drawn: Profile, states: States, rails: RailModels, tension_n: Floats, settings: TensionSettings
) -> Repull:
    """Tension lost by creep and by posts that settle, when most of the settling is over.

    Parameters
    ----------
    drawn, states, rails, tension_n, settings
        As `take_up`.

    Returns
    -------
    Repull
        The day counts from the first pull.

    Notes
    -----
    Each end gives settlement x (1 - exp(-t / settling time)), so nine tenths are over at 2.3 settling times; creep
    strain grows by the same amount in each tenfold of time, counted from the first day. At the reference
    temperature.

    References
    ----------
    common practice, no source.
    """
    days = -math.log(1.0 - DONE) * settings.settling_s / DAY_S
    crept = rails.creep_per_decade * math.log10(1.0 + days)
    gone = 2.0 * DONE * settings.settlement_m + crept * drawn.length_m[:, None]
    after = slid_tension_n(states, tension_n, gone)
    return Repull(days, tension_n - after, np.broadcast_to(gone, tension_n.shape))
