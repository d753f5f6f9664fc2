"""What a price is reckoned with: the job's terms where stated, else the trade default; what was assumed is said."""

import math
from dataclasses import dataclass, replace
from decimal import Decimal

from fencewright.catalogue.work_rows import WorkRow, work_key
from fencewright.findings import NOTE, InputError
from fencewright.job.begun import say_begun
from fencewright.job.filling import Filling, pick
from fencewright.job.price_schema import Extra, Neighbour, PaymentStage, Preparation
from fencewright.quantity.show import UnitSystem

_DAY_S, _HOUR_S, _YEAR_S = 86_400.0, 3_600.0, 31_557_600.0
_FAR_M = 40_000.0  # a way to a site, to show how one is written


@dataclass(frozen=True, slots=True)
class Terms:
    """Shares of the builder's terms; `markup` None where a margin is taken; `rounding` 0 for none."""

    overhead: Decimal
    contingency: Decimal
    margin: Decimal
    markup: Decimal | None
    tax: Decimal
    taxes_all: bool
    rounding: Decimal


@dataclass(frozen=True, slots=True)
class Travel:
    """Way to the site: `distance_m` one way [m], None where not stated; `speed_m_s` [m/s]; vehicles a day."""

    distance_m: float | None
    speed_m_s: float
    vehicles: int
    more_visits: int


@dataclass(frozen=True, slots=True)
class LifeTerms:
    """Life [yr], upkeep and interest a year as shares."""

    years: Decimal
    maintenance: Decimal
    interest: Decimal


@dataclass(frozen=True, slots=True)
class PriceSettings:
    """Everything that a price is reckoned with beside the design and the price book.

    `day` ISO or empty; `currency` empty where the price book is to say; `age_limit_d`, `valid_days` [d]; `crew`
    hands; `hours_a_day` [h]; `rock_share` of the holes; `truck_m3` one load of ready-mix [m3], for which its
    truck stands `truck_free_h` without charge [h]; `works` production
    rates by name, the job's own in place of the shipped ones.
    """

    book: str
    currency: str
    day: str
    age_limit_d: int
    valid_days: int
    terms: Terms
    travel: Travel
    life: LifeTerms
    crew: int
    hours_a_day: Decimal
    concrete: str
    ready_mix_m: float | None
    truck_m3: float
    truck_free_h: float
    rock_share: float
    spoil: str
    preparation: Preparation
    payments: tuple[PaymentStage, ...]
    neighbours: tuple[Neighbour, ...]
    extras: tuple[Extra, ...]
    works: dict[str, WorkRow]
    sheets: str = "us"


def fill_price(filling: Filling) -> PriceSettings:
    """Resolve `[price]` of a job and the tables beside it.

    Parameters
    ----------
    filling : Filling
        The job and its catalogue; findings are added to it.

    Returns
    -------
    PriceSettings

    Raises
    ------
    InputError
        Both a margin and a markup, payments that do not make up the whole, an unknown line or work.

    Notes
    -----
    Findings: `price-terms-assumed`, `tax-not-stated`, `travel-not-stated` (`note`).
    """
    asked, take, programme = filling.asked.price, filling.take, filling.asked.programme
    settings = PriceSettings(
        book=asked.book,
        currency=asked.currency or "",
        day=asked.day.isoformat() if asked.day else "",
        age_limit_d=round(take(asked.age_limit, "price.age_limit") / _DAY_S),
        valid_days=round(take(asked.validity, "price.validity") / _DAY_S),
        terms=_terms(filling),
        travel=Travel(
            asked.distance,
            take(asked.travel_speed, "price.travel_speed"),
            asked.vehicles or 1,
            int(take(None, "price.repull_visits")),
        ),
        life=LifeTerms(
            _ratio(take(asked.life, "price.life") / _YEAR_S),
            _ratio(take(asked.maintenance, "price.maintenance")),
            _ratio(take(asked.interest, "price.interest")),
        ),
        crew=int(take(programme.crew or len(programme.names) or None, "programme.crew")),
        hours_a_day=_ratio(take(programme.hours, "programme.hours") / _HOUR_S),
        concrete=asked.concrete,
        ready_mix_m=asked.ready_mix_distance,
        truck_m3=take(None, "price.truck_concrete"),
        truck_free_h=take(None, "price.truck_free") / _HOUR_S,
        rock_share=asked.rock_share or 0.0,
        spoil=asked.spoil,
        preparation=filling.asked.preparation,
        payments=_payments(filling),
        neighbours=tuple(filling.asked.neighbour),
        extras=tuple(filling.asked.extra),
        works=_works(filling),
        sheets=filling.asked.job.sheets,
    )
    _refuse(filling, settings)
    say_begun(filling)
    _say_assumed(filling)
    return settings


def _ratio(value: float) -> Decimal:
    """A share as the decimal that a person wrote."""
    return Decimal(repr(round(value, 9)))


def _terms(filling: Filling) -> Terms:
    asked, take = filling.asked.price, filling.take
    if asked.margin is not None and asked.markup is not None:
        raise InputError(
            "states both a margin (of the price) and a markup (on the cost): keep one", item="price, markup"
        )
    return Terms(
        overhead=_ratio(take(asked.overhead, "price.overhead")),
        contingency=_ratio(take(asked.contingency, "price.contingency")),
        margin=_ratio(take(asked.margin, "price.margin")),
        markup=None if asked.markup is None else _ratio(asked.markup),
        tax=_ratio(asked.tax or 0.0),
        taxes_all=asked.tax_on == "all",
        rounding=asked.rounding or Decimal(0),
    )


def _payments(filling: Filling) -> tuple[PaymentStage, ...]:
    stages = filling.asked.payment
    if stages and not math.isclose(sum(one.share for one in stages), 1.0, abs_tol=1e-6):
        whole = sum(one.share for one in stages)
        raise InputError(f"the shares add up to {whole:.1%}: make them 100 %", item="payment")
    return tuple(stages)


def _works(filling: Filling) -> dict[str, WorkRow]:
    works = dict(filling.catalogue.works)
    for number, own in enumerate(filling.asked.rate, start=1):
        name = work_key(works, own.work)
        row = pick(works, name, "work", f"rate {number}, work")
        if own.per_hour <= 0 or (own.hands is not None and own.hands <= 0):
            raise InputError("must be more than nothing", item=f'rate {number} "{own.work}"')
        works[name] = with_rate(row, float(own.per_hour), "the job's own rate", own.hands, own.trade)
    return works


def with_rate(
    row: WorkRow, per_hour: float, source: str, hands: Decimal | None = None, trade: str = ""
) -> WorkRow:
    """A work with another rate; its least and most move in proportion."""
    factor = per_hour / row.per_hour
    return replace(
        row,
        per_hour=per_hour,
        slow=row.slow * factor,
        quick=row.quick * factor,
        hands=row.hands if hands is None else float(hands),
        trade=trade or row.trade,
        source=source,
    )


def _refuse(filling: Filling, settings: PriceSettings) -> None:
    """Refuse names of lines that the job has not, and numbers that cannot be."""
    if settings.life.years <= 0:
        raise InputError("must be more than nothing", item="price, life")
    if settings.travel.speed_m_s <= 0:
        raise InputError("must be more than nothing", item="price, travel_speed")
    lines = {line.name: line for line in filling.asked.line}
    for number, one in enumerate(filling.asked.neighbour, start=1):
        pick(lines, one.line, "line", f'neighbour {number} "{one.name}", line')
        if one.start is not None and one.end is not None and one.end <= one.start:
            raise InputError("`to` must lie beyond `from`", item=f'neighbour {number} "{one.name}"')
    _refuse_overpaid(filling)
    for number, extra in enumerate(filling.asked.extra, start=1):
        if extra.line:
            pick(lines, extra.line, "line", f'extra {number} "{extra.name}", line')


def _refuse_overpaid(filling: Filling) -> None:
    """Refuse neighbours who together pay more than the whole of a stretch."""
    rows = filling.asked.neighbour
    for number, one in enumerate(rows, start=1):
        start = one.start or 0.0
        whole = sum(
            other.share
            for other in rows
            if other.line == one.line
            and (other.start or 0.0) <= start
            and (other.end is None or other.end > start)
        )
        if whole > 1 + 1e-9:
            raise InputError(
                f"the neighbours pay {whole:.0%} of a stretch of {one.line}: at most 100 %",
                item=f'neighbour {number} "{one.name}"',
            )


def _say_assumed(filling: Filling) -> None:
    """Say which terms are not the builder's own."""
    asked, practice = filling.asked.price, filling.catalogue.practice
    overhead, margin = practice["price.overhead"].written, practice["price.margin"].written
    no_overhead, no_margin = asked.overhead is None, asked.margin is None and asked.markup is None
    if no_overhead or no_margin:
        message = (
            f"The job states neither overhead nor margin: {overhead} and {margin} are taken (common practice, "
            "no source)."
        )
        if not no_margin:
            message = f"The job states no overhead: {overhead} are taken (common practice, no source)."
        if not no_overhead:
            message = f"The job states no margin: {margin} are taken (common practice, no source)."
        filling.say(NOTE, "price-terms-assumed", message, "Set [price] overhead and margin to your own.")
    if asked.tax is None:
        filling.say(
            NOTE,
            "tax-not-stated",
            "The job states no tax: the price holds none.",
            'Set [price] tax, as "7 %", and tax_on where only materials are taxed; tax = "0 %" where there is none.',
        )
    if asked.distance is None:
        show = UnitSystem(filling.asked.job.sheets)
        far, none = show.far(_FAR_M), show.far(0.0)
        filling.say(
            NOTE,
            "travel-not-stated",
            "The job does not say how far the site is: travel is not in the price.",
            f'Set [price] distance, one way, as "{far}"; "{none}" where none is charged.',
        )
