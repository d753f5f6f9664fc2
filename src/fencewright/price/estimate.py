"""The estimate: quantities, a price book and the builder's terms to a price."""

from dataclasses import replace
from decimal import Decimal

from fencewright.catalogue.currencies import digits_of
from fencewright.findings import Finding, InputError, sorted_findings
from fencewright.job.price_settings import PriceSettings, with_rate
from fencewright.price.book_search import PriceIndex, same_text
from fencewright.price.concrete import choose_concrete, write_way
from fencewright.price.lines import Ledger, labour_hours
from fencewright.price.money import decimal_of
from fencewright.price.ownership import yearly_cost
from fencewright.price.sayings import age_findings, book_findings, concrete_findings, rate_findings
from fencewright.price.summing import (
    by_activity,
    by_paddock,
    neighbour_shares,
    payments,
    per_length,
    price_steps,
)
from fencewright.price.travel import crew_days, travel_items
from fencewright.tables.price import KINDS, ConcreteChoice, Price, PriceBook
from fencewright.tables.price_task import PriceTask, Work


def estimate(
    task: PriceTask,
    settings: PriceSettings,
    book: PriceBook | None = None,
    findings: tuple[Finding, ...] = (),
) -> Price:
    """Price a fence.

    Parameters
    ----------
    task : PriceTask
        What is bought and done.
    settings : PriceSettings
        The builder's terms, travel, life.
    book : PriceBook, optional
        Prices; without one the lines have quantities alone, and no total.
    findings : tuple of Finding
        What is known already; those of pricing are added.

    Returns
    -------
    Price
        With its lines, steps, subtotals and findings. A line whose price nobody states is listed as missing, and
        the total leaves it out.

    Raises
    ------
    InputError
        No currency, an unknown one, or another than the price book's.

    Notes
    -----
    An amount is packs times the price of a pack, rounded half up to whole minor units; everything else is sums
    and shares of amounts that are shown. Findings: `price-book-missing`, `price-missing`, `price-unit`, `price-old`
    (`caution`); `price-undated`, `price-day-missing`, `price-ahead`, `concrete-cheaper`, `ready-mix-taken`,
    `rates-are-practice` (`note`). O(lines).
    """
    currency, digits = currency_of(settings, book)
    index = PriceIndex(book)
    ledger = Ledger(index, digits, task.length_m)
    choice = _write(task, settings, ledger)
    lines = tuple(sorted(ledger.lines, key=lambda line: KINDS.index(line.kind)))
    said = [
        *findings,
        *book_findings(book, tuple(ledger.missing), ledger.misfits),
        *age_findings(index.used.values(), settings),
        *concrete_findings(choice, currency),
        *rate_findings(task),
    ]
    works = _all_works(task, choice)
    made = Price(
        currency=currency,
        digits=digits,
        day=settings.day,
        book=book.name if book else "",
        lines=lines,
        steps=(),
        by_activity=(),
        by_paddock=(),
        total=None,
        missing=tuple(ledger.missing),
        length_m=sum(task.length_m),
        per_foot=None,
        per_metre=None,
        labour_hours=sum((decimal_of(labour_hours(work)) for work in works), Decimal(0)),
        crew_days=crew_days(works, settings),
        concrete=choice,
        valid_days=settings.valid_days,
        findings=sorted_findings(said),
    )
    return made if all(line.amount is None for line in lines) else _with_total(made, task, settings)


def currency_of(settings: PriceSettings, book: PriceBook | None) -> tuple[str, int]:
    """Currency of a price, empty where nobody states one and there is no book, and its decimal places.

    Raises
    ------
    InputError
        The job's is not the price book's, or neither states one.
    """
    stated, own = settings.currency, book.currency if book else ""
    if stated and own and stated != own:
        raise InputError(
            f"the job is reckoned in {stated} and {book.name if book else ''} in {own}: make them one",
            item="price, currency",
        )
    code = stated or own
    if not code and book is not None:
        raise InputError(
            f'neither the job nor {book.name} says in which currency it is: set [price] currency, as "USD"',
            item="price, currency",
        )
    return code, digits_of(code, "price, currency") if code else 2


def _all_works(task: PriceTask, choice: ConcreteChoice | None) -> tuple[Work, ...]:
    way = task.ready_mix if choice and choice.taken == "ready-mix" else task.bags
    return (*task.works, *(way.works if way else ()))


def _write(task: PriceTask, settings: PriceSettings, ledger: Ledger) -> ConcreteChoice | None:
    """Write every line: things, concrete, work, machines, travel."""
    way, choice = choose_concrete(task, settings, ledger)
    for item in task.items:
        ledger.price_item(item)
    if way:
        write_way(way, settings, ledger)
    for work in task.works:
        ledger.price_work(work, settings.hours_a_day)
    for plant in dict.fromkeys(work.plant for work in task.works if work.plant):
        ledger.price_plant(plant, [work for work in task.works if work.plant == plant], settings.hours_a_day)
    works = _all_works(task, choice)
    if works:
        for item in travel_items(works, settings, crew_days(works, settings)):
            ledger.price_item(item)
    return choice


def _with_total(made: Price, task: PriceTask, settings: PriceSettings) -> Price:
    """Add steps, subtotals, shares, payments and the yearly cost."""
    lines, digits = made.lines, made.digits
    steps = price_steps(lines, settings.terms, digits)
    total = steps[-1].amount
    paddocks = by_paddock(lines, task.paddocks, total, digits)
    neighbours = neighbour_shares(task.common, paddocks, task.length_m, digits)
    customer = total - sum((one.amount for one in neighbours), Decimal(0))
    per_foot, per_metre = per_length(total, made.length_m, digits)
    return replace(
        made,
        steps=steps,
        by_activity=by_activity(lines, total, digits),
        by_paddock=paddocks,
        total=total,
        per_foot=per_foot,
        per_metre=per_metre,
        neighbours=neighbours,
        customer_total=customer,
        payments=payments([(one.stage, one.share) for one in settings.payments], customer, digits),
        ownership=yearly_cost(total, settings.life, made.length_m, digits),
    )


def own_rates(settings: PriceSettings, book: PriceBook | None) -> PriceSettings:
    """Settings with the production rates that the price book states; the job's own stay.

    Raises
    ------
    InputError
        The book states a rate for a work that there is none of.
    """
    works = dict(settings.works)
    known = {same_text(said): name for name, row in works.items() for said in (row.also or name, name)}
    for work, per_hour, where in book.rates if book else ():
        name = known.get(same_text(work))
        if name is None:
            raise InputError(
                f"there is no work {work[:60]!r}: docs/methods/price.md lists them",
                file=where.split(",")[0],
                item=where,
            )
        if works[name].source != "the job's own rate":
            works[name] = with_rate(works[name], float(per_hour), where)
    return replace(settings, works=works)
