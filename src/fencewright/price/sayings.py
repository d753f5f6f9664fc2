"""What pricing has to say: what is missing, old, of another unit, or cheaper another way."""

from collections.abc import Iterable, Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from fencewright.findings import CAUTION, NOTE, Finding, Place
from fencewright.job.price_settings import PriceSettings
from fencewright.tables.price import ConcreteChoice, MissingPrice, PriceBook, PriceRow
from fencewright.tables.price_task import PriceTask

_NAMED = 6  # things that a finding names one by one; the rest are counted


def _said(
    level: str, code: str, message: str, remedy: str, edits: tuple[Mapping[str, Any], ...] = ()
) -> Finding:
    """A finding about the whole job."""
    return Finding(level, code, Place("job"), message, remedy, edits)


def book_findings(
    book: PriceBook | None, missing: tuple[MissingPrice, ...], misfits: list[str]
) -> list[Finding]:
    """Say what the price leaves out, and which prices do not fit their thing."""
    if book is None:
        message = "The job names no price book: quantities and hours are given, and no money."
        remedy = (
            "Write one (examples/small-paddock/prices.toml shows the shape) and set [price] book to its name."
        )
        return [_said(CAUTION, "price-book-missing", message, remedy)]
    findings = []
    if missing:
        names = first_few(f"{one.item} ({one.unit})" for one in missing)
        count = "1 line has" if len(missing) == 1 else f"{len(missing)} lines have"
        message = f"{count} no price, and the total leaves out what they cost: {names}."
        findings.append(_said(CAUTION, "price-missing", message, f"Add what is missing to {book.name}."))
    if misfits:
        message = f"The price book has prices by a unit that does not fit: {first_few(misfits)}."
        findings.append(_said(CAUTION, "price-unit", message, f"Correct the unit in {book.name}."))
    return findings


def age_findings(used: Iterable[PriceRow], settings: PriceSettings) -> list[Finding]:
    """Say which prices are old, undated, or cannot be judged because the job states no day."""
    rows = list(used)
    findings = []
    undated = [row.item for row in rows if not row.date]
    if undated:
        message = f"{_count(undated)} without a date: {first_few(undated)}."
        findings.append(_said(NOTE, "price-undated", message, "Date them, so that old ones can be told."))
    dated = [row for row in rows if row.date]
    if not settings.day:
        if dated:
            message = "The job states no day for its price: nothing says whether the prices are old."
            findings.append(_said(NOTE, "price-day-missing", message, 'Set [price] day, as "2026-05-01".'))
        return findings
    today, limit = date.fromisoformat(settings.day), settings.age_limit_d
    ages = {row: (today - date.fromisoformat(row.date)).days for row in dated}
    old = [row for row, age in ages.items() if age > limit]
    if old:
        first = max(old, key=lambda row: ages[row])
        message = (
            f"{_count(old)} more than {limit} days old on {settings.day}, the oldest {ages[first]} "
            f"({first.item}, {first.date}): {first_few(row.item for row in old)}."
        )
        findings.append(_said(CAUTION, "price-old", message, "Ask for them again."))
    ahead = [row.item for row, age in ages.items() if age < 0]
    if ahead:
        message = f"{_count(ahead)} dated after {settings.day}: {first_few(ahead)}."
        findings.append(
            _said(NOTE, "price-ahead", message, "Check [price] day and the dates of the price book.")
        )
    return findings


def concrete_findings(choice: ConcreteChoice | None, currency: str) -> list[Finding]:
    """Say that the order's bags are not to be bought where ready-mix is priced, and where the other way is cheaper."""
    if choice is None:
        return []
    return [*_not_bags(choice), *_cheaper(choice, currency)]


def _not_bags(choice: ConcreteChoice) -> list[Finding]:
    if choice.taken != "ready-mix":
        return []
    message = "The price takes ready-mix concrete; the order, the load list and the programme are for bags."
    remedy = "Do not buy the bags: book the truck for the day on which the programme sets the ends."
    return [_said(NOTE, "ready-mix-taken", message, remedy)]


def _cheaper(choice: ConcreteChoice, currency: str) -> list[Finding]:
    if choice.bags is None or choice.ready_mix is None:
        return []
    own, other, name = choice.bags, choice.ready_mix, "ready-mix"
    if choice.taken == "ready-mix":
        own, other, name = other, own, "bags"
    saved = own - other
    if saved <= Decimal(0):
        return []
    message = f"Concrete by {name} would save {saved:,} {currency}: {choice.why}."
    if name == "ready-mix":
        message = (
            f"Concrete by {name} would save {saved:,} {currency}: {choice.why}. Every hole must then stand open on the "
            "day of its load."
        )
    edit = {"path": ["price", "concrete"], "value": name}
    return [_said(NOTE, "concrete-cheaper", message, f'Set [price] concrete = "{name}".', (edit,))]


def rate_findings(task: PriceTask) -> list[Finding]:
    """Say that production rates are common practice, unless they are all the builder's own."""
    if task.rates_are_own or not task.works:
        return []
    message = "Hours come from production rates that are common practice and have no source."
    remedy = "State your own as [[rate]] in the job, or as rows of kind `rate` in the price book."
    return [_said(NOTE, "rates-are-practice", message, remedy)]


def _count(rows: list[PriceRow] | list[str]) -> str:
    return "1 price" if len(rows) == 1 else f"{len(rows)} prices"


def first_few(names: Iterable[str]) -> str:
    """The first of the names that differ, and how many more there are."""
    unlike = list(dict.fromkeys(names))
    shown = ", ".join(unlike[:_NAMED])
    return shown if len(unlike) <= _NAMED else f"{shown} and {len(unlike) - _NAMED} more"
