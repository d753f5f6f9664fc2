"""Why a line of the price is what it is: quantity, packs, price, share, and what the terms add to it."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from fencewright.findings import InputError
from fencewright.pipeline.pricing import price_settings, price_task
from fencewright.pipeline.record import Design
from fencewright.pipeline.why_origin import asked, computed
from fencewright.pipeline.why_price_quantity import Asked, quantity_reason
from fencewright.pipeline.why_price_risk import QUANTILES, explain_quantile
from fencewright.pipeline.why_price_steps import STEPS, explain_step
from fencewright.pipeline.why_record import Explanation, Input, Reason
from fencewright.price.book_search import PriceIndex
from fencewright.price.estimate import own_rates
from fencewright.tables.price import Price, PriceBook, PriceLine


@dataclass(frozen=True, slots=True, eq=False)
class Priced:
    """A price with what it was reckoned from; `book` None where the job names none."""

    design: Design
    price: Price
    book: PriceBook | None


def explain_price(priced: Priced, name: str) -> Explanation:
    """Say how a line of the price, or a step to its total, came about.

    Parameters
    ----------
    priced : Priced
        Of `price_design`; alternatives play no part, and the risk is run again where a quantile is asked.
    name : str
        Id of a line (`work-auger-holes`, or that of a line of the order), or a step: `material`, ..., `total`,
        `per-foot`, `per-metre`; a quantile: `p50`, `p80`, `p95`; case does not matter.

    Returns
    -------
    Explanation
        Quantities in the units of price.json, money in the currency of the price.

    Raises
    ------
    InputError
        Nothing in the price has that name.
    """
    wanted = name.strip().casefold()
    price = priced.price
    rows = [row for row, line in enumerate(price.lines) if line.id.casefold() == wanted]
    if rows:
        return _line(priced, rows)
    if wanted in STEPS and price.total is not None:
        return explain_step(price, priced.design.job, wanted)
    if wanted in QUANTILES:
        return explain_quantile(priced.design, price, priced.book, wanted)
    steps = f"; steps {', '.join((*STEPS, *QUANTILES))}" if price.total is not None else ""
    lines = ", ".join(line.id for line in price.lines[:6])
    raise InputError(f'there is nothing called "{name}" in the price: there are lines {lines}, ...{steps}')


def _line(priced: Priced, rows: Sequence[int]) -> Explanation:
    """Explain the lines of one id: a machine may stand in the price twice, for concrete and for the rest."""
    design = priced.design
    settings = own_rates(price_settings(design.job)[0], priced.book)
    told = Asked(design, settings, price_task(design, settings), PriceIndex(priced.book), priced.price)
    reasons: list[Reason] = []
    for row in rows:
        line = priced.price.lines[row]
        reasons += [
            *quantity_reason(told, line),
            _amount(priced.price, line),
            *_shares(priced, line),
        ]
    first = priced.price.lines[rows[0]]
    where = f"line of the price: {first.item} ({first.kind})"
    if first.size:
        where = f"line of the price: {first.item}, {first.size} ({first.kind})"
    return Explanation(f"price:{first.id}", "price line", where, tuple(reasons))


def _amount(price: Price, line: PriceLine) -> Reason:
    missing = next((one.why for one in price.missing if one.id == line.id), "")
    pack = f"price of {float(line.pack):g} {line.unit}"
    inputs: list[Input] = [computed("k", "how often the price is paid", float(line.packs), "1")]
    if line.pack_price is None or line.amount is None:
        return Reason(
            "amount",
            f"no price: {missing}" if missing else "no price",
            tuple(inputs),
            "how often the price is paid, times the price",
            "a = k c",
            "missing",
            "",
            next_smaller="a row of the price book; the total leaves it out meanwhile",
        )
    inputs.append(computed("c", pack, float(line.pack_price), price.currency, line.source))
    for symbol, word, value in (("c_low", "least", line.low_price), ("c_high", "most", line.high_price)):
        if value is not None:
            inputs.append(
                computed(symbol, f"the {word} that it may become", float(value), price.currency, line.source)
            )
    return Reason(
        "amount",
        f"rounded half up to {'cents' if price.digits == 2 else 'whole minor units'}; every sum is of rounded amounts",
        tuple(inputs),
        "how often the price is paid, times the price",
        "a = k c",
        float(line.amount),
        price.currency,
        line.source,
        "another price in the price book, or less of it",
    )


def _shares(priced: Priced, line: PriceLine) -> list[Reason]:
    price, job = priced.price, priced.design.job
    direct = price.step("direct")
    if line.amount is None or direct is None or not direct.amount:
        return []
    amount = computed("a", "amount", float(line.amount), price.currency)
    reasons = [
        Reason(
            "share",
            "of everything that is bought and done, before the terms",
            (amount, computed("D", "direct costs", float(direct.amount), price.currency, "price:direct")),
            "the amount over the direct costs",
            "s = a / D",
            float(line.amount / direct.amount),
            "%",
        ),
        _with_terms(priced, line.amount, amount),
    ]
    if len(price.by_paddock) > 1:
        parts = tuple(float(one) for one in line.by_paddock)
        names = ", ".join(one.name for one in price.by_paddock)
        reasons.append(
            Reason(
                "by line of the fence",
                f"in this order: {names}",
                (
                    amount,
                    computed("n", "lines of the fence", float(len(parts)), "1", str(job.file or "the job")),
                ),
                "split by what of it falls on each line, so that the parts add up to the amount",
                "",
                parts,
                price.currency,
            )
        )
    return reasons


def _with_terms(priced: Priced, amount: Decimal, told: Input) -> Reason:
    """What the terms make of an amount, before rounding and tax."""
    price, job = priced.price, priced.design.job
    steps = {step.name: step for step in price.steps}
    more, over, profit = steps["contingency"], steps["overhead"], steps["margin"]
    is_margin = profit.rule == "margin"
    key = "margin" if is_margin else "markup"
    grown = amount * (1 + more.rate) * (1 + over.rate)
    result = grown / (1 - profit.rate) if is_margin else grown * (1 + profit.rate)
    return Reason(
        "in the price before tax",
        "this line with its part of the terms; not rounded, and not a line of the price",
        (
            told,
            asked(job, "price.contingency", "price.contingency", ("g", "contingency"), float(more.rate), "%"),
            asked(job, "price.overhead", "price.overhead", ("o", "overhead"), float(over.rate), "%"),
            asked(
                job,
                f"price.{key}",
                "price.margin",
                ("m", "margin, of the price" if is_margin else "markup, on the cost"),
                float(profit.rate),
                "%",
            ),
        ),
        "contingency on the direct costs, overhead on both, then the margin or markup",
        "t = a (1 + g) (1 + o) / (1 - m)" if is_margin else "t = a (1 + g) (1 + o) (1 + m)",
        float(result),
        price.currency,
        next_smaller="smaller terms in [price]",
    )
