"""Who works, when and how fast: what `[programme]` states, else the trade default."""

import datetime
from dataclasses import dataclass, replace

from fencewright.catalogue.work_rows import WorkRow, work_key
from fencewright.findings import CAUTION, NOTE, Finding, InputError
from fencewright.job.begun import say_begun
from fencewright.job.filling import Filling, pick
from fencewright.job.programme_schema import DAY_NAMES
from fencewright.quantity.show import UnitSystem

_HOUR_S, _DAY_S = 3600.0, 86400.0


@dataclass(frozen=True, slots=True)
class Crew:
    """People and plant: `people` names, one each; numbers of `augers`, `mixers`, `drivers`."""

    people: tuple[str, ...]
    augers: int
    mixers: int
    drivers: int


@dataclass(frozen=True, slots=True)
class CalendarRules:
    """Days and hours of work.

    `work_days` Monday 0; `hours` in a day, `begins_h` from midnight [h]; `weather` share of the time that is lost;
    `latitude_deg` None where daylight limits nothing [degree]; `daylight_spare_h` of it not worked [h]; `days_off`
    dates; `country`, `subdivision` whose holidays are kept, empty for none.
    """

    start: datetime.date | None
    work_days: tuple[int, ...]
    hours: float
    begins_h: float
    weather: float
    latitude_deg: float | None
    daylight_spare_h: float
    days_off: tuple[datetime.date, ...]
    country: str
    subdivision: str


@dataclass(frozen=True, slots=True)
class CureRules:
    """How concrete gains its strength.

    `share` of the 28-day strength asked [-]; `strength_pa` at 28 days [Pa]; `bearing_factor` of bearing strength over
    it [-]; `datum_c`, `reference_c` of its maturity, `cold_c` below which it must be kept warm [C];
    `month_c` (12,) or empty, `day_c` from day 0 [C].
    """

    share: float
    strength_pa: float
    bearing_factor: float
    datum_c: float
    reference_c: float
    cold_c: float
    month_c: tuple[float, ...]
    day_c: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class WorkShares:
    """How work is shared out.

    `people_most` on one activity; `hand_h_m` hours of one person for a metre of hole dug by hand [h/m]; `by_hand` part
    of the bags mixed without a mixer; `paint`, `anchor`, `corner` parts of their rows of work; `stand_h` that ends
    stand before they are strung from, `dry_h` of paint [h]; `zone_m` fence in one stretch of work [m],
    of which there are `zones_most`.
    """

    people_most: int
    hand_h_m: float
    by_hand: float
    paint: float
    anchor: float
    corner: float
    stand_h: float
    dry_h: float
    zone_m: float
    zones_most: int


@dataclass(frozen=True, slots=True)
class ProgrammeSettings:
    """All of `[programme]` with the production rates.

    `works` rows of work by name; `notice` and `lead` working days; `ticket_days`; `private_services` `none`, `marked`
    or empty; `is_painted` tops are painted;
    `sheets` units in which people are told.
    """

    crew: Crew
    calendar: CalendarRules
    cure: CureRules
    works: dict[str, WorkRow]
    shares: WorkShares
    notice: int
    ticket_days: int
    lead: int
    private_services: str
    is_painted: bool
    sheets: str


def fill_programme(
    filling: Filling, latitude_deg: float | None
) -> tuple[ProgrammeSettings, tuple[Finding, ...]]:
    """Resolve `[programme]` of a job.

    Parameters
    ----------
    filling : Filling
        The job and its catalogue.
    latitude_deg : float or None
        Of the site, where its plane has a place. [degree]

    Returns
    -------
    ProgrammeSettings, tuple of Finding
        `assumed-crew`, `assumed-notice` (cautions) and `no-start`, `no-holidays`, `no-daylight`, `cure-from-table`
        (notes or cautions) say what the job leaves open.

    Raises
    ------
    InputError
        A calendar without a working day, names that do not fit the crew, shares that cannot be.
    """
    asked, take = filling.asked.programme, filling.take
    calendar = _calendar(filling, latitude_deg)
    settings = ProgrammeSettings(
        _crew(filling),
        calendar,
        _cure(filling),
        _works(filling),
        _shares(filling),
        take(asked.notice, "programme.notice"),
        round(take(asked.ticket_life, "programme.ticket_life") / _DAY_S),
        take(asked.delivery_lead, "programme.delivery_lead"),
        asked.private_services or "",
        asked.paint,
        filling.asked.job.sheets,
    )
    _refuse(settings)
    say_begun(filling)
    _say(filling, settings)
    return settings, tuple(filling.findings)


def _crew(filling: Filling) -> Crew:
    asked, take = filling.asked.programme, filling.take
    names = tuple(asked.names)
    count = asked.crew if asked.crew is not None else len(names) or take(None, "programme.crew")
    if names and len(names) != count:
        raise InputError(
            f"{len(names)} names for a crew of {count}: name each one, or none", item="programme, names"
        )
    if len(set(names)) < len(names):
        raise InputError("two people have the same name: tell them apart", item="programme, names")
    people = names or tuple(f"crew {number + 1}" for number in range(count))
    return Crew(
        people,
        take(asked.augers, "programme.augers"),
        take(asked.mixers, "programme.mixers"),
        take(asked.drivers, "programme.drivers"),
    )


def _calendar(filling: Filling, latitude_deg: float | None) -> CalendarRules:
    asked, take = filling.asked.programme, filling.take
    return CalendarRules(
        asked.start,
        tuple(sorted({DAY_NAMES.index(day) for day in take(asked.work_days, "programme.work_days")})),
        take(asked.hours, "programme.hours") / _HOUR_S,
        take(asked.begins, "programme.begins") / _HOUR_S,
        take(asked.weather, "programme.weather"),
        asked.latitude if asked.latitude is not None else latitude_deg,
        take(None, "programme.daylight_spare") / _HOUR_S,
        tuple(sorted(set(asked.days_off))),
        asked.country or "",
        asked.subdivision or "",
    )


def _cure(filling: Filling) -> CureRules:
    asked, take = filling.asked.programme, filling.take
    return CureRules(
        take(asked.concrete_share, "programme.concrete_share"),
        take(None, "programme.concrete_strength"),
        take(None, "programme.concrete_factor"),
        take(None, "programme.maturity_datum"),
        take(None, "programme.maturity_reference"),
        take(None, "programme.cold_concrete"),
        tuple(asked.month_temperatures),
        tuple(asked.day_temperatures),
    )


def _shares(filling: Filling) -> WorkShares:
    take = filling.take
    return WorkShares(
        take(None, "programme.people_most"),
        take(None, "programme.dig_hand_m") / _HOUR_S,
        take(None, "programme.mix_by_hand"),
        take(None, "programme.paint_share"),
        take(None, "programme.anchor_share"),
        take(None, "programme.corner_share"),
        take(None, "programme.stand") / _HOUR_S,
        take(None, "programme.paint_dry") / _HOUR_S,
        take(None, "programme.zone_length"),
        take(None, "programme.zones_most"),
    )


def _works(filling: Filling) -> dict[str, WorkRow]:
    """Production rates, the job's own in place of those of the catalogue."""
    works = dict(filling.catalogue.works)
    for rate in filling.asked.rate:
        name = work_key(works, rate.work)
        row = pick(works, name, "work", "rate, work")
        if not rate.per_hour > 0 or (rate.hands is not None and not rate.hands > 0):
            raise InputError("a gang does more than nothing in an hour", item=f"rate, {rate.work}")
        works[name] = replace(row, per_hour=float(rate.per_hour), hands=float(rate.hands or row.hands))
    return works


def _refuse(settings: ProgrammeSettings) -> None:
    """Refuse what no crew and no calendar allows."""
    calendar, cure = settings.calendar, settings.cure
    begins, hours = calendar.begins_h, calendar.hours
    faults = [
        (not calendar.work_days, "work_days", "no day of the week is a working day: name at least one"),
        (begins + hours > 24, "begins", "work would go on past midnight: begin earlier, or work fewer hours"),
        (not 0 <= calendar.weather < 0.9, "weather", "a share of the time, less than 90 %"),
        (cure.share <= 0, "concrete_share", "a share of the 28-day strength: write more than nothing"),
        (
            bool(cure.month_c) and calendar.start is None,
            "month_temperatures",
            "the months are of no use without a date: state start",
        ),
        (settings.ticket_days < 1, "ticket_life", "a ticket lives for at least one day"),
        (
            calendar.start is not None and not 1970 <= calendar.start.year <= 2200,
            "start",
            "write a year between 1970 and 2200",
        ),
    ]
    for is_wrong, key, what in faults:
        if is_wrong:
            raise InputError(what, item=f"programme, {key}")


def _say(filling: Filling, settings: ProgrammeSettings) -> None:
    asked, practice = filling.asked.programme, filling.catalogue.practice
    people = len(settings.crew.people)
    if asked.crew is None and not asked.names:
        filling.say(
            CAUTION, "assumed-crew", f"The job does not say who works on it: {people} people are assumed.",
            "Set [programme] crew, or names.",
        )  # fmt: skip
    if asked.notice is None:
        filling.say(
            CAUTION,
            "assumed-notice",
            f"The job does not say how long the locating service takes: {settings.notice} working days are assumed "
            f"({practice['programme.notice'].why}), and {settings.ticket_days} days until its ticket expires.",
            "Ask the service of the place, and set [programme] notice and ticket_life.",
        )
    if asked.start is None:
        filling.say(
            CAUTION,
            "no-start",
            "The job states no first day: days are numbered as from a Monday, holidays and daylight are left out, "
            "and no calendar file is written.",
            'Set [programme] start = "2026-04-06", or whichever day it is.',
        )
    elif not asked.country:
        filling.say(
            CAUTION,
            "no-holidays",
            "The job names no country: public holidays are not kept.",
            'Set [programme] country = "US" and subdivision = "OH", or yours; days_off for others.',
        )
    if asked.start is not None and settings.calendar.latitude_deg is None:
        filling.say(
            NOTE,
            "no-daylight",
            "The job's plane has no place on the Earth: daylight does not shorten any day.",
            "Set [programme] latitude.",
        )
    if not asked.month_temperatures and not asked.day_temperatures:
        warm = UnitSystem(settings.sheets).temperature(settings.cure.reference_c)
        filling.say(
            CAUTION,
            "cure-from-table",
            f"The job states no temperatures: concrete is taken to cure at {warm}; in "
            "colder weather it takes longer, and no rail may be pulled so early.",
            "Set [programme] month_temperatures from the nearest weather station.",
        )
