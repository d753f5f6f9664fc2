"""How tight a job wants its rails: what `[tension]` states, else the trade default."""

from dataclasses import dataclass

from fencewright.findings import InputError
from fencewright.job.filling import Filling
from fencewright.quantity.show import UnitSystem


@dataclass(frozen=True, slots=True)
class Spool:
    """A tensioner's spool: diameters and width in metres; `holds_m` None where it follows from them."""

    core_m: float
    full_m: float
    width_m: float
    holds_m: float | None


@dataclass(frozen=True, slots=True)
class SiteCheckSettings:
    """Push at mid-span, rail temperatures, most rows, and how well each thing is measured.

    `deflection_sd_m` [m], `temperature_sd_c` [C]; `push_sd` and `beats_sd` are parts of what was read.
    """

    push_n: float
    temperatures_c: tuple[float, ...]
    most: int
    deflection_sd_m: float
    push_sd: float
    beats_sd: float
    temperature_sd_c: float


@dataclass(frozen=True, slots=True)
class RailAssumptions:
    """What a rail is taken to be where its data sheet does not say."""

    steel_modulus_pa: float
    steel_expansion_per_c: float
    absorptivity: float
    emissivity: float
    allowed_share: float


@dataclass(frozen=True, slots=True)
class TensionSettings:
    """Temperatures in degrees Celsius, the rest in SI.

    `bracket_m` by which the rail stands off the face of a post that it turns round. `coldest_c` and `hottest_c` are of
    the air, `reference_c` and `chart_c` of the rail. `spring_m_n` is how far a spring-loaded keeper gives for one newton
    of its rail: `spring_offered_m_n`, or 0 where none is fitted.
    """

    coldest_c: float
    hottest_c: float
    reference_c: float
    sag_limit_m: float
    window_margin: float
    window_least: float
    low_share: float
    sun_w_m2: float
    wind_m_s: float
    friction_pulling: float
    hand_slack: float
    grip_rail_m: float
    marked_m: float
    settlement_m: float
    settling_s: float
    spring_m_n: float
    spring_offered_m_n: float
    chart_c: tuple[float, ...]
    bracket_m: float
    spool: Spool
    checks: SiteCheckSettings
    assumed: RailAssumptions


_MOST_CHART_ROWS = 200


def fill_tension(filling: Filling) -> TensionSettings:
    """Resolve `[tension]` of a job.

    Parameters
    ----------
    filling : Filling
        The job and its catalogue.

    Returns
    -------
    TensionSettings

    Raises
    ------
    InputError
        A temperature, friction, spool or chart that cannot be.
    """
    site, asked, take = filling.asked.site, filling.asked.tension, filling.take
    cold, hot = take(site.coldest, "site.coldest"), take(site.hottest, "site.hottest")
    reference = take(asked.reference_temperature, "tension.reference_temperature")
    if asked.reference_temperature is None:
        reference = min(max(reference, cold), hot)
    if not cold <= reference <= hot:
        show = UnitSystem(filling.asked.job.sheets)
        raise InputError(
            f"must lie between the coldest ({show.temperature(cold)}) and the hottest ({show.temperature(hot)}) of [site]",
            item="tension, reference_temperature",
        )
    settings = TensionSettings(
        coldest_c=cold,
        hottest_c=hot,
        reference_c=reference,
        sag_limit_m=take(asked.sag_limit, "tension.sag_limit"),
        window_margin=take(None, "tension.window_margin"),
        window_least=take(None, "tension.window_least"),
        low_share=take(None, "tension.low_share"),
        sun_w_m2=take(asked.sun, "tension.sun"),
        wind_m_s=take(asked.wind, "tension.wind"),
        friction_pulling=_friction_pulling(filling),
        hand_slack=take(asked.hand_slack, "tension.hand_slack"),
        grip_rail_m=take(asked.grip_rail, "tension.grip_rail"),
        marked_m=filling.take(asked.marked_length, "tension.marked_length"),
        settlement_m=take(asked.settlement, "tension.settlement"),
        settling_s=take(asked.settling_time, "tension.settling_time"),
        spring_m_n=_spring(filling) if take(asked.spring_keeper, "tension.spring_keeper") else 0.0,
        spring_offered_m_n=_spring(filling),
        chart_c=_chart(filling),
        bracket_m=take(asked.corner_bracket, "tension.corner_bracket"),
        spool=_spool(filling),
        checks=_checks(filling),
        assumed=RailAssumptions(
            take(None, "tension.steel_modulus"),
            take(None, "tension.steel_expansion"),
            take(None, "tension.absorptivity"),
            take(None, "tension.emissivity"),
            take(asked.allowed_share, "tension.allowed_share"),
        ),
    )
    _refuse(settings)
    return settings


def _friction_pulling(filling: Filling) -> float:
    """Rail on bracket while it is drawn: as stated, else the default, but no less than once it is worked. [-]"""
    asked, take = filling.asked, filling.take
    worked = take(asked.fence.friction, "layout.friction_worked")
    stated = asked.tension.friction_pulling
    if stated is not None and stated < worked:
        raise InputError(
            f"a rail does not slide more easily before it is worked than after: give {worked:g} or more",
            item="tension, friction_pulling",
        )
    return float(max(take(stated, "tension.friction_pulling"), worked))


def _spring(filling: Filling) -> float:
    """How far the keeper's spring gives for a newton. [m/N]"""
    asked, take = filling.asked.tension, filling.take
    force = take(asked.spring_force, "tension.spring_force")
    if force <= 0:
        raise InputError("must be more than nothing", item="tension, spring_force")
    return float(take(asked.spring_travel, "tension.spring_travel") / force)


def _chart(filling: Filling) -> tuple[float, ...]:
    """Rail temperatures of the chart, rising. [C]"""
    asked = filling.asked.tension
    first = filling.take(asked.chart_from, "tension.chart_from")
    last = filling.take(asked.chart_to, "tension.chart_to")
    step = filling.take(asked.chart_step, "tension.chart_step")
    if first > last:
        raise InputError("is below chart_from: check both", item="tension, chart_to")
    count = int((last - first) / step + 1e-9) + 1
    if count > _MOST_CHART_ROWS:
        raise InputError(f"gives {count} rows: use a wider step", item="tension, chart_step")
    return tuple(first + step * row for row in range(count))


def _spool(filling: Filling) -> Spool:
    asked, take = filling.asked.tension, filling.take
    return Spool(
        take(asked.spool_core, "tension.spool_core"),
        take(asked.spool_full, "tension.spool_full"),
        take(asked.spool_width, "tension.spool_width"),
        asked.spool_holds,
    )


def _checks(filling: Filling) -> SiteCheckSettings:
    asked, take = filling.asked.tension, filling.take
    return SiteCheckSettings(
        filling.take(asked.push, "tension.push"),
        tuple(sorted(set(filling.take(asked.check_temperatures, "tension.check_temperatures")))),
        int(take(None, "tension.site_checks_most")),
        take(None, "tension.deflection_sd"),
        take(None, "tension.push_sd"),
        take(None, "tension.beats_sd"),
        take(None, "tension.temperature_sd"),
    )


def _refuse(settings: TensionSettings) -> None:
    """Refuse what no fence can be."""
    spool = settings.spool
    faults = [
        (
            settings.sag_limit_m <= 0,
            "sag_limit",
            "a rail without sag is not to be had: allow at least 1/4 in or 5 mm",
        ),
        (settings.assumed.allowed_share <= 0, "allowed_share", "must be more than nothing"),
        (spool.core_m <= 0, "spool_core", "must be more than nothing"),
        (spool.width_m <= 0, "spool_width", "must be more than nothing"),
        (spool.full_m <= spool.core_m, "spool_full", "must be wider than the bare spool"),
        (spool.holds_m is not None and spool.holds_m <= 0, "spool_holds", "must be more than nothing"),
        (not 0 <= settings.hand_slack < 0.2, "hand_slack", "is a part of the rail's length: below 20 %"),
        (settings.marked_m <= 0, "marked_length", "must be more than nothing"),
        (settings.settling_s <= 0, "settling_time", "must be more than nothing"),
        (settings.checks.push_n <= 0, "push", "must be more than nothing"),
        (not settings.checks.temperatures_c, "check_temperatures", "name at least one temperature"),
    ]
    for is_wrong, key, what in faults:
        if is_wrong:
            raise InputError(what, item=f"tension, {key}")
