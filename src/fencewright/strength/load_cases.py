"""Load cases: which of them a fence has, their factors, and the wind that goes with them."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.catalogue.rows import LoadCase
from fencewright.job.settings import Settings
from fencewright.mechanics.resistance import STEEL_FACTOR, timber_factor
from fencewright.mechanics.wind import (
    EXPOSURES,
    height_factor,
    line_load_n_m,
    open_coefficient,
    velocity_pressure_pa,
    wall_coefficient,
)
from fencewright.tables.fence import Openings, Runs

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

# beyond this solidity an open fence is a wall, source: asce-7 table 29.4-2
MOST_OPEN = 0.7
# weight of ice, 917 kg/m3, source: asce-7 chapter 10 (from memory: 56 pcf)
ICE_N_M3 = 8796.0


@dataclass(frozen=True, slots=True)
class Factors:
    """Factors of pull, wind and extra in one case. [-]"""

    pull: float
    wind: float
    extra: float


def soil_factors(case: LoadCase) -> Factors:
    """Factors for soil, which is always checked at allowable-stress level: the code's values are allowable."""
    return Factors(*case.factors)


def member_factors(case: LoadCase, method: str) -> Factors:
    """Factors for timber and steel by the method that the job asks for."""
    return Factors(*(case.factors if method == "asd" else case.lrfd_factors))


def member_resistance(case: LoadCase, settings: Settings, kind: str, is_steel: Flags) -> Floats:
    """Factor from the value at ten years' load to what a member may take in this case.

    Parameters
    ----------
    case : LoadCase
        Duration and time effect.
    settings : Settings
        Method, duration of the cold pull.
    kind : str
        `bending`, `shear` or `compression`.
    is_steel : bool array (members,)
        Steel knows no duration.

    Returns
    -------
    float array (members,)
        [-]
    """
    if settings.strength.method == "asd":
        duration = settings.strength.cold_duration if case.duration is None else case.duration
        return np.where(is_steel, 1.0, duration)
    return np.where(is_steel, STEEL_FACTOR, timber_factor(kind, case.time_effect))


def is_local(case: LoadCase) -> bool:
    """Whether a case only reaches the posts of gates, of hung gaps, or those where two runs end."""
    return case.side != "all" or case.extra == "flood" or case.extra.startswith("gate")


def cases_of(settings: Settings, runs: Runs, openings: Openings) -> tuple[LoadCase, ...]:
    """Load cases that this fence has: no ice unless asked, no gate or flood without one, no single runs without two."""
    ends = np.concatenate([runs.from_post, runs.to_post])
    several = len(ends) > len(np.unique(ends))
    has_gate, has_water = bool((~openings.is_crossing).any()), bool(openings.is_crossing.any())
    kept = []
    for case in settings.strength.cases:
        is_idle = (
            (case.extra == "ice" and settings.strength.loads.ice_m <= 0)
            or (case.extra.startswith("gate") and not has_gate)
            or (case.extra == "flood" and not has_water)
            or (case.side != "all" and not several)
        )
        if not is_idle:
            kept.append(case)
    return tuple(kept)


@dataclass(frozen=True, slots=True, eq=False)
class WindLoads:
    """Wind square to the fence at strength level: on a metre of each strand, and on a metre of post.

    `strand_n_m` (strands,); `post_n_m` (posts,). [N/m]
    """

    strand_n_m: Floats
    post_n_m: Floats


def wind_loads(
    settings: Settings, face_m: Floats, post_m: Floats, speed_m_s: float, ice_m: float
) -> WindLoads:
    """Wind on the rails and the posts.

    Parameters
    ----------
    settings : Settings
        Exposure, height of the fence, kind of each strand.
    face_m : float array (strands,)
        Face height of each rail. [m]
    post_m : float array (posts,)
        Diameters. [m]
    speed_m_s : float
        Gust at strength level. [m/s]
    ice_m : float
        Ice round everything. [m]

    Returns
    -------
    WindLoads

    Notes
    -----
    Rails are flat, wires round. Solidity is that of the fence between grade and its top; above 70 % the fence is a
    wall of the height of its rails.

    References
    ----------
    asce-7 (table 29.4-2; figure 29.3-1 from memory).
    """
    top = settings.top_height_m
    factor = height_factor(top, EXPOSURES[settings.strength.loads.exposure])
    pressure = velocity_pressure_pa(speed_m_s, factor)
    face = face_m + 2 * ice_m
    solidity = min(float(face.sum()) / top, 1.0)
    if solidity > MOST_OPEN:
        flat = rounded = np.full(len(face), float(wall_coefficient(1e3, top, solidity)) / solidity)
    else:
        share = np.full(len(face), solidity)
        flat = open_coefficient(share, face, pressure, is_round=False)
        rounded = open_coefficient(share, face, pressure, is_round=True)
    is_wire = np.array([strand.rail.is_wire for strand in settings.strands])
    strand = line_load_n_m(pressure, np.where(is_wire, rounded, flat), face)
    alone = open_coefficient(0.05, post_m, pressure, is_round=True)
    return WindLoads(strand, line_load_n_m(pressure, alone, post_m + 2 * ice_m))


def ice_load_n_m(face_m: Floats, thickness_m: Floats, ice_m: float) -> Floats:
    """Weight of ice round each strand, taken as a box of its face and thickness: (strands,). [N/m]"""
    return np.asarray(ICE_N_M3 * ((face_m + 2 * ice_m) * (thickness_m + 2 * ice_m) - face_m * thickness_m))
