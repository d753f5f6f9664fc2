"""What each tensioner takes up, and what the rail and its ends give back in the first season."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.job.tension_settings import TensionSettings
from fencewright.mechanics.spool import regrips_for, turns_with_regrips
from fencewright.tables.tension import RailModels, TensionTask
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
    task: TensionTask, drawn: Profile, rails: RailModels, tension_n: Floats, settings: TensionSettings
) -> TakeUp:
    """Slack, stretch and the ends' giving against what a spool holds.

    Parameters
    ----------
    task : TensionTask
        End stiffness of all rails together.
    drawn, rails
        Columns (runs,), (products,).
    tension_n : float array (runs, products)
        Set tension. [N]
    settings : TensionSettings
        Hand slack, spool, spring.

    Returns
    -------
    TakeUp
        Two tensioners of one pull share it evenly.

    Notes
    -----
    Slack is a part of the length; stretch is that of each span at its own tension, from none. Each end moves once,
    by the pull of all rails there over its stiffness, and every rail takes in that one movement; a spring gives for
    its own rail alone.

    References
    ----------
    spool-layers.
    """
    spool = settings.spool
    tensioners = (drawn.first_draws + drawn.last_draws)[:, None]
    slack = np.broadcast_to((settings.hand_slack * drawn.length_m)[:, None], tension_n.shape)
    stretch = tension_n * drawn.stretched_m[:, None] / rails.stiffness_n
    end_yield = _ends_give_m(task, drawn, rails, tension_n) + tension_n * _springs_m_n(drawn, settings)
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


def _ends_give_m(task: TensionTask, drawn: Profile, rails: RailModels, tension_n: Floats) -> Floats:
    """Movement of both ends under all rails: (runs, 1). [m]"""
    share = np.stack([drawn.first_share, drawn.last_share], axis=1)
    moved = (tension_n @ rails.strands)[:, None] * share / task.end_stiffness_n_m
    return np.asarray(moved.sum(axis=1, keepdims=True))


def _springs_m_n(drawn: Profile, settings: TensionSettings) -> Floats:
    """Give of one rail's springs for a newton at its tensioner: (runs, 1). [m/N]"""
    sprung = drawn.first_share * drawn.first_draws + drawn.last_share * drawn.last_draws
    return np.asarray(settings.spring_m_n * sprung)[:, None]


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
    drawn, rails, tension_n, settings
        As `take_up`.
    states : States
        Columns (runs, products).

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
