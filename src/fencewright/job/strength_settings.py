"""What posts, holes and braces must carry: what `[strength]` states, else the trade default."""

import math
from dataclasses import dataclass

from fencewright.catalogue.rows import LoadCase, Pipe, Timber
from fencewright.findings import CAUTION, InputError
from fencewright.job.filling import Filling, pick
from fencewright.quantity.parse import GRAVITY_M_S2
from fencewright.quantity.show import UnitSystem

_GUST = {"us": "105 mph", "metric": "47 m/s"}  # how one is written


@dataclass(frozen=True, slots=True)
class Loads:
    """Loads besides the rails' pull.

    `wind_m_s` gust at strength level, `ice_wind_m_s` that with ice [m/s]; `exposure` letter; `animal_n` at
    `animal_height_m` [N], [m]; `ice_m` thickness [m]; `leaf_n_m` weight of a gate leaf for its length [N/m];
    `flood_m_s`, `flood_depth_m` of the water, `flood_drag` and `flood_blocked` of the debris in it [-].
    """

    wind_m_s: float
    exposure: str
    animal_n: float
    animal_height_m: float
    ice_m: float
    ice_wind_m_s: float
    leaf_n_m: float
    flood_m_s: float
    flood_depth_m: float
    flood_drag: float
    flood_blocked: float


@dataclass(frozen=True, slots=True)
class Ground:
    """How the ground is judged.

    `uplift_model` `shaft`, `cylinder`, `cone` or `ledge`; `soil_n_m3` unit weight [N/m3]; `friction_angle_rad`
    and `clay_strength_pa` for the second opinion, with its factor `broms_factor`, and for a footing that would tip,
    with `tipping_factor`; `cone_spread_rad` [rad]; `rock_pa_m` lateral
    bearing of rock for its depth [Pa/m], `socket_room_m` by which a socket is wider than its post [m];
    `collar_most_m` widest collar that is cast [m].
    """

    is_half_inch: bool
    uplift_model: str
    soil_n_m3: float
    friction_angle_rad: float
    clay_strength_pa: float
    broms_factor: float
    tipping_factor: float
    cone_spread_rad: float
    rock_pa_m: float
    socket_room_m: float
    collar_most_m: float


@dataclass(frozen=True, slots=True)
class StrengthSettings:
    """All of `[strength]`.

    `timber` of posts and braces, `end_pipe` and `line_pipe` None where posts are of timber; `tie_n` what a brace tie
    may carry and `tie_stiffness_n` its E A [N]; `deepest_m`, `depth_step_m` of holes [m]; `diameters_m` stock of
    posts [m]; `is_wet` timber values are taken wet; `cold_duration` load duration factor of the cold pull [-];
    `cases` in order.
    """

    method: str
    loads: Loads
    ground: Ground
    timber: Timber
    end_pipe: Pipe | None
    line_pipe: Pipe | None
    is_wet: bool
    cold_duration: float
    tie_n: float
    tie_stiffness_n: float
    deepest_m: float
    depth_step_m: float
    diameters_m: tuple[float, ...]
    cases: tuple[LoadCase, ...]


def fill_strength(filling: Filling) -> StrengthSettings:
    """Resolve `[strength]` of a job.

    Parameters
    ----------
    filling : Filling
        The job and its catalogue; takes the findings `assumed-half-inch` and `assumed-wind` (cautions).

    Returns
    -------
    StrengthSettings

    Raises
    ------
    InputError
        An unknown timber or pipe, a duration factor or an ice thickness that cannot be.
    """
    asked, take, rows = filling.asked.strength, filling.take, filling.catalogue
    tie = take(None, "strength.tie_strength") * take(None, "strength.tie_strands")
    settings = StrengthSettings(
        take(asked.method, "strength.method"),
        _loads(filling),
        _ground(filling),
        pick(rows.timbers, take(asked.timber, "strength.timber"), "timber", "strength, timber"),
        pick(rows.pipes, asked.end_pipe, "pipe", "strength, end_pipe") if asked.end_pipe else None,
        pick(rows.pipes, asked.line_pipe, "pipe", "strength, line_pipe") if asked.line_pipe else None,
        take(asked.wet_service, "strength.wet_service"),
        take(asked.cold_duration, "strength.cold_duration"),
        float(tie * take(None, "strength.tie_share")),
        _tie_stiffness_n(filling),
        take(asked.deepest, "strength.deepest"),
        take(None, "strength.depth_step"),
        tuple(sorted(take(None, "strength.post_diameters"))),
        tuple(rows.load_cases.values()),
    )
    _refuse(settings)
    _say_assumed(filling)
    return settings


def _tie_stiffness_n(filling: Filling) -> float:
    """E A of all strands of a brace tie. [N]"""
    take = filling.take
    area = math.pi / 4 * take(None, "strength.tie_wire") ** 2 * take(None, "strength.tie_strands")
    return float(area * take(None, "tension.steel_modulus"))


def _loads(filling: Filling) -> Loads:
    asked, take = filling.asked.strength, filling.take
    return Loads(
        take(asked.wind_speed, "strength.wind_speed"),
        take(asked.exposure, "strength.exposure"),
        take(asked.animal_force, "strength.animal_force"),
        take(asked.animal_height, "strength.animal_height"),
        take(asked.ice_thickness, "strength.ice_thickness"),
        take(None, "strength.ice_wind"),
        take(None, "strength.leaf_weight"),
        take(None, "strength.flood_speed"),
        take(None, "strength.flood_depth"),
        take(None, "strength.flood_drag"),
        take(None, "strength.flood_blocked"),
    )


def _ground(filling: Filling) -> Ground:
    asked, take = filling.asked.strength, filling.take
    return Ground(
        take(asked.half_inch, "strength.half_inch"),
        take(asked.uplift_model, "strength.uplift_model"),
        take(None, "strength.soil_weight") * GRAVITY_M_S2,
        take(None, "strength.friction_angle"),
        take(None, "strength.clay_strength"),
        take(None, "strength.broms_factor"),
        take(None, "strength.tipping_factor"),
        take(None, "strength.cone_spread"),
        filling.catalogue.soils[take(None, "strength.rock")].lateral_pa_per_m,
        take(None, "strength.socket_room"),
        take(None, "strength.collar_most"),
    )


def _say_assumed(filling: Filling) -> None:
    asked, practice = filling.asked.strength, filling.catalogue.practice
    show = UnitSystem(filling.asked.job.sheets)
    if asked.half_inch is None:
        filling.say(
            CAUTION,
            "assumed-half-inch",
            "The job does not say whether half an inch of motion at grade is accepted: it is assumed "
            f"({practice['strength.half_inch'].why}), which doubles what the soil holds sideways.",
            "Set [strength] half_inch = true, or false where nothing may move.",
        )
    if asked.wind_speed is None:
        filling.say(
            CAUTION,
            "assumed-wind",
            f"The job states no wind: a gust of {show.speed(float(str(practice['strength.wind_speed'].value)))} is "
            "assumed, which is below what the building code maps.",
            f'Set [strength] wind_speed to the code\'s gust, as "{_GUST[show.name]}", where the fence must stand it.',
        )


def _refuse(settings: StrengthSettings) -> None:
    """Refuse what no code and no ground allows."""
    faults = [
        (
            not 0 < settings.cold_duration <= 2,
            "cold_duration",
            "a load duration factor lies between 0.9 and 2",
        ),
        (settings.loads.ice_m > 0.3, "ice_thickness", "nobody has seen so much ice: check its unit"),
        (settings.loads.animal_height_m > 5, "animal_height", "no animal is so tall: check its unit"),
        (settings.deepest_m <= 0, "deepest", "must be more than nothing"),
    ]
    for is_wrong, key, what in faults:
        if is_wrong:
            raise InputError(what, item=f"strength, {key}")
