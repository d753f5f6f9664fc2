"""Change of state of whole pulls: growing warmer, colder, or giving way.

Rows are runs, columns rail products, further axes days. Warming, the loose side falls behind and every bend slips the
way it was pulled, so the tension keeps its profile; where sag catches the loose side first it stays a little tighter
than that, which is on the safe side. Cooling, the tight and the loose side gain alike and come nearer to each other:
no bend slips, and the whole pull gains one tension.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.mechanics.change_of_state import sagging_tension_n
from fencewright.tables.tension import RailModels, TensionTask
from fencewright.tension.friction import Profile

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

ROUNDS = 3  # of the small sag of the coldest day, which is a thousandth of the answer


@dataclass(frozen=True, slots=True, eq=False)
class States:
    """What a change of state needs; columns (runs, products), with days behind or ways of drawing before.

    `expansion_m_per_c` of the whole pull [m/C]; `sliding_m_n` movement for one newton at the tensioner, the profile
    kept [m/N]; `sliding_n2m` sag sum of the profile; `held_m_n` movement for one newton everywhere [m/N]; `held_n2m`
    sag sum of an even tension [N2 m]; `even_share` (runs, 1) [-].
    """

    expansion_m_per_c: Floats
    sliding_m_n: Floats
    sliding_n2m: Floats
    held_m_n: Floats
    held_n2m: Floats
    even_share: Floats

    def with_days(self) -> "States":
        """Give the same with an axis for days."""
        return States(*(getattr(self, name)[..., None] for name in self.__slots__))

    def of_way(self, way: Ints) -> "States":
        """Give those of one way of each run (runs,), from columns (ways, runs, products)."""
        return States(*(getattr(self, name)[way, np.arange(len(way))] for name in self.__slots__))


def states_of(task: TensionTask, rails: RailModels, drawn: Profile, spring_m_n: float = 0.0) -> States:
    """Sum up each run for each rail product.

    Parameters
    ----------
    task : TensionTask
        End stiffness of all rails together.
    rails : RailModels
        Products.
    drawn : Profile
        How the tension lies.
    spring_m_n : float
        Give of a spring-loaded keeper at each tensioner for one newton of its rail. [m/N]

    Returns
    -------
    States
        Columns (runs, products).

    Notes
    -----
    All rails of a run warm together and pull its ends together: a rail's part of an end's stiffness is its E A
    alpha over the sum of all rails', for so their tensions change, and each end moves once. What they are drawn to
    is not so shared: `take_up`.
    """
    gain = rails.stiffness_n * rails.expansion_per_c
    part = (gain / (rails.strands * gain).sum())[None, :]
    give = [1.0 / (stiffness[:, None] * part) for stiffness in task.end_stiffness_n_m.T]
    draws = (drawn.first_draws, drawn.last_draws)
    give = [one + spring_m_n * drawn_here[..., None] for one, drawn_here in zip(give, draws, strict=True)]
    yields = drawn.first_share[..., None] * give[0] + drawn.last_share[..., None] * give[1]
    load = rails.weight_n_m[None, :] ** 2 / 24.0
    return States(
        expansion_m_per_c=drawn.length_m[..., None] * rails.expansion_per_c,
        sliding_m_n=drawn.stretched_m[..., None] / rails.stiffness_n + yields,
        sliding_n2m=drawn.loose_cubes_m3[..., None] * load,
        held_m_n=drawn.length_m[..., None] / rails.stiffness_n + give[0] + give[1],
        held_n2m=drawn.cubes_m3[..., None] * load,
        even_share=drawn.even_share[..., None],
    )


def slid_tension_n(states: States, tension_n: ArrayLike, grown_m: ArrayLike) -> Floats:
    """Tension at the tensioner once the pull has grown, its profile kept.

    Parameters
    ----------
    states : States
        Shapes broadcast with the rest.
    tension_n : array
        Before, above 0. [N]
    grown_m : array
        Rail gained: by warming `expansion_m_per_c` x degrees, by creep, by ends that gave; below 0 lost. [m]

    Returns
    -------
    float array
        Above 0. [N]

    Notes
    -----
    f T2 - K / T2^2 = f T1 - K / T1^2 - grown, with f = sum of L s / EA + end yields and K = w^2 / 24 x sum of
    L^3 / s^2, s being each span's share of the tensioner's tension.

    References
    ----------
    parabola-state.
    """
    before = np.asarray(tension_n, np.float64)
    sag = states.sliding_n2m / states.sliding_m_n
    return sagging_tension_n(before - sag / before**2 - np.asarray(grown_m) / states.sliding_m_n, sag)


def held_change_n(states: States, tension_n: ArrayLike, grown_m: ArrayLike) -> Floats:
    """Tension that the whole pull gains when it shrinks, no bend slipping; arguments as `slid_tension_n`. [N]

    Notes
    -----
    f D - K (1 / (T e + D)^2 - 1 / (T e)^2) = -grown, with f = L / EA + end yields, K = w^2 / 24 x sum of L^3 and e
    the share at which an even tension sags as much.

    References
    ----------
    parabola-state.
    """
    even = np.asarray(tension_n, np.float64) * states.even_share
    sag = states.held_n2m / states.held_m_n
    after = sagging_tension_n(even - sag / even**2 - np.asarray(grown_m) / states.held_m_n, sag)
    return np.asarray(after - even)


def tension_before_n(states: States, limit_n: ArrayLike, share: ArrayLike, grown_m: ArrayLike) -> Floats:
    """Greatest tension at the tensioner now, so that a place keeps a limit once the pull has shrunk.

    Parameters
    ----------
    states : States
        Shapes broadcast with the rest.
    limit_n : array
        Tension allowed at the place then, above 0 and finite. [N]
    share : array
        Of the tensioner's tension that the place has now, 0 to 1. [-]
    grown_m : array
        Below 0: by how much the pull shrinks. [m]

    Returns
    -------
    float array
        Above 0; a rail that hangs slack now where the pull shrinks by more than it may. [N]

    Notes
    -----
    The same equation as `held_change_n` with D = limit - share T, read for T; the sag at the end is small and is put
    right in `ROUNDS` rounds.
    """
    limit, part = np.asarray(limit_n, np.float64), np.asarray(share, np.float64)
    flexible = states.held_m_n * part
    sag = states.held_n2m / (states.even_share**2 * flexible)
    shrunk = (states.held_m_n * limit + np.asarray(grown_m)) / flexible
    then = limit
    for _ in range(ROUNDS):
        tension = sagging_tension_n(shrunk - states.held_n2m / then**2 / flexible, sag)
        then = np.maximum(limit - tension * (part - states.even_share), 0.1 * limit)
    return tension
