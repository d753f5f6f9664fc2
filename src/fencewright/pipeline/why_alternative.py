"""Why an alternative of a job costs what it does, and what makes it dearer or cheaper than the job itself."""

from collections import defaultdict
from decimal import Decimal

from fencewright.findings import InputError
from fencewright.pipeline.why_origin import computed
from fencewright.pipeline.why_price import Priced
from fencewright.pipeline.why_price_steps import ADDED, explain_step, line_words
from fencewright.pipeline.why_record import Explanation, Input, Reason
from fencewright.tables.price import Price

_MOST_LINES = 40  # lines of the price that are named, those that differ most first


def explain_alternative(own: Priced, other: Priced, number: int, change: str) -> Explanation:
    """Say what an alternative comes to, and why that is not what the job itself comes to.

    Parameters
    ----------
    own, other : Priced
        The job, and the job with the alternative's tables: each of `price_design`, from one price book.
    number : int
        Of the alternative, from 1.
    change : str
        What it changes, in words.

    Returns
    -------
    Explanation
        Its total, the difference from the job's own, that difference by steps and by lines of the price.

    Raises
    ------
    InputError
        Nothing in one of the two is priced.
    """
    if own.price.total is None or other.price.total is None:
        raise InputError(
            f"there is no total to explain of alternative {number}: nothing in the price is priced; "
            "name a price book in [price] book"
        )
    name = own.design.job.asked.alternative[number - 1].name
    total = explain_step(other.price, other.design.job, "total").reasons[0]
    reasons = (
        Reason(
            "total",
            f"the job with {change}",
            tuple(computed(one.symbol, one.name, one.value, one.unit) for one in total.inputs),
            total.words,
            total.symbols,
            total.result,
            total.unit,
        ),
        _difference(own.price.total, other.price.total, own.price.currency),
        _by_steps(own.price, other.price),
        _by_lines(own.price, other.price),
    )
    return Explanation(f"price:alternative-{number}", "alternative", f"alternative: {name}", reasons)


def _difference(own: Decimal, other: Decimal, currency: str) -> Reason:
    return Reason(
        "difference",
        "above 0 it costs more than the job as it is",
        (
            computed("t_a", "total of the alternative", float(other), currency),
            computed("t", "total", float(own), currency, "price:total"),
        ),
        "its total less that of the job",
        "d = t_a - t",
        float(other - own),
        currency,
    )


def _by_steps(own: Price, other: Price) -> Reason:
    inputs: list[Input] = []
    for name in ADDED:
        before, after = _amount(own, name), _amount(other, name)
        if before != after:
            number = len(inputs) + 1
            inputs.append(computed(f"d_{number}", name, float(after - before), own.currency, f"price:{name}"))
    total = sum((_amount(other, name) - _amount(own, name) for name in ADDED), Decimal(0))
    return Reason(
        "difference by steps",
        "steps that come to the same in both are left out",
        tuple(inputs),
        "each step of the alternative less that of the job",
        f"d = {' + '.join(one.symbol for one in inputs) or '0'}",
        float(total),
        own.currency,
    )


def _amount(price: Price, name: str) -> Decimal:
    step = price.step(name)
    return Decimal(0) if step is None else step.amount


def _by_lines(own: Price, other: Price) -> Reason:
    """Lines of the price that differ, with what each comes to in the job and in the alternative."""
    sums: list[dict[tuple[str, str], Decimal]] = []
    words: dict[tuple[str, str], str] = {}
    for price in (own, other):
        found: dict[tuple[str, str], Decimal] = defaultdict(Decimal)
        for line in price.lines:
            place = line.id, line.kind
            found[place] += line.amount or Decimal(0)
            words[place] = line_words(line)
        sums.append(found)
    before, after = sums
    moved = {place: after.get(place, Decimal(0)) - before.get(place, Decimal(0)) for place in words}
    differing = sorted((place for place in words if moved[place]), key=lambda place: -abs(moved[place]))
    inputs = tuple(
        computed(
            f"l_{number}",
            words[place],
            (float(before.get(place, Decimal(0))), float(after.get(place, Decimal(0)))),
            own.currency,
            f"price:{place[0]}" if place in before else "of the alternative alone",
        )
        for number, place in enumerate(differing[:_MOST_LINES], 1)
    )
    left = len(differing) - len(inputs)
    says = "each with its amount in the job and in the alternative, those that differ most first"
    if left:
        says = (
            "each with its amount in the job and in the alternative, those that differ most first; "
            f"{left} more differ less"
        )
    return Reason(
        "lines that differ",
        says,
        inputs,
        "lines of the price whose amounts are not the same in both",
        "",
        float(len(differing)),
        "1",
    )
