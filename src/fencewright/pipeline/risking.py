"""The uncertain parts of a price: which line moves with what, and the simulation of the whole."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from fencewright.findings import CAUTION, NOTE, Finding, Place, sorted_findings
from fencewright.job.filling import Filling
from fencewright.job.record import Job
from fencewright.job.risk_settings import RiskSettings, fill_risk
from fencewright.pipeline.price_counts import dug_holes
from fencewright.pipeline.record import Design
from fencewright.pipeline.risk_parts import (
    GROUND,
    NO_ROCK,
    Gathered,
    RockCost,
    Uncertain,
    add_rock,
    add_weather,
    is_concrete,
    moved_hours,
    price_factors,
    price_name,
    work_factors,
)
from fencewright.pipeline.risk_words import covered_words
from fencewright.price.book_search import Found, PriceIndex
from fencewright.price.risk import simulate
from fencewright.tables.price import Price, PriceBook, PriceRow
from fencewright.tables.risk import CostTerms, Kind, Risk, Shape, Uncertainties

_THIN = 0.5  # of the runs that a price should cover at least


@dataclass(frozen=True, slots=True, eq=False)
class RiskModel:
    """What is uncertain in a price, what it costs, and the estimate itself: nothing gone wrong or right. [money]"""

    rows: Uncertainties
    terms: CostTerms
    base: float


def risk_settings(job: Job) -> RiskSettings:
    """Ranges of a job's price. Raises `InputError` for ranges that are out of order."""
    return fill_risk(Filling(job.asked, job.catalogue))


def with_risk(design: Design, price: Price, book: PriceBook | None, more: Iterable[Uncertain] = ()) -> Price:
    """Give a price its risk, and say what the risk leaves out.

    Parameters
    ----------
    design : Design
        Its holes, and the job's `[risk]`.
    price : Price
        Of that design.
    book : PriceBook, optional
        Where the price of a hole in rock is looked for.
    more : iterable of Uncertain
        As of `price_risk`.

    Returns
    -------
    Price
        The same where nothing is priced.

    Raises
    ------
    InputError
        Ranges that are out of order.

    Notes
    -----
    Findings: `price-thin` (caution) where the price is kept in fewer than half of the runs, `rock-not-priced` (note)
    where the price book has no price of a rock hole.
    """
    settings = risk_settings(design.job)
    model = model_of(design, price, book, settings, more)
    if model is None:
        return price
    risk = simulate(model.rows, model.terms, model.base, settings.runs, settings.seed)
    said = _thin_price(replace(price, risk=risk), risk)
    loose = int((~dug_holes(design).is_rock).sum())
    if isinstance(_rock_row(book), str) and loose and settings.rock_most > 0:
        message = f"The price book has no price of a rock hole: up to {settings.rock_most:.0%} of the holes may meet rock."
        remedy = "Add the item `rock hole`, by the hole."
        said.append(Finding(NOTE, "rock-not-priced", Place("job"), message, remedy))
    return replace(price, risk=risk, findings=sorted_findings((*price.findings, *said)))


def model_of(
    design: Design,
    price: Price,
    book: PriceBook | None,
    settings: RiskSettings,
    more: Iterable[Uncertain] = (),
) -> RiskModel | None:
    """Model of a design's price; parameters as of `with_risk`, None where nothing is priced."""
    holes, found = dug_holes(design), _rock_row(book)
    rock = NO_ROCK if isinstance(found, str) else _rock_cost(found.row, int((~holes.is_rock).sum()))
    return risk_model(price, settings, len(holes), rock, more)


def _rock_row(book: PriceBook | None) -> Found | str:
    """Price of a hole in rock, or why the price book has none."""
    return PriceIndex(book).find(("rock hole",), "", ("hole",))


def _thin_price(price: Price, risk: Risk) -> list[Finding]:
    """Say where the work costs more than the price in most of the runs, and what would cover P80."""
    total = float(price.total or 0)
    covered = risk.covered(total)
    if covered >= _THIN:
        return []
    share = f"{math.ceil(1000 * contingency_to(price, 0.8)) / 10:.1f} %"
    message = (
        f"The price of {total:,.0f} {price.currency} is kept, overhead and margin whole, in {covered_words(covered)}: "
        f"P50 is {risk.quantile(0.5):,.0f}, P80 {risk.quantile(0.8):,.0f}."
    )
    remedy = f'Set [price] contingency = "{share}" to cover P80, or narrow what risk.svg names.'
    edit = ({"path": ["price", "contingency"], "value": share},)
    return [Finding(CAUTION, "price-thin", Place("job"), message, remedy, edit)]


def _rock_cost(row: PriceRow, holes: int) -> RockCost:
    """What rock costs, from the row of the price book for a hole of it."""
    if not row.price:
        return NO_ROCK
    low, high = (1.0 if one is None else float(one / row.price) for one in (row.low, row.high))
    return RockCost(holes, holes * float(row.price / row.pack), low, high)


def price_risk(
    price: Price,
    settings: RiskSettings,
    holes: int,
    rock: RockCost = NO_ROCK,
    more: Iterable[Uncertain] = (),
) -> Risk | None:
    """Simulate a price; parameters as of `risk_model`, None where nothing is priced."""
    model = risk_model(price, settings, holes, rock, more)
    if model is None:
        return None
    return simulate(model.rows, model.terms, model.base, settings.runs, settings.seed)


def risk_model(
    price: Price,
    settings: RiskSettings,
    holes: int,
    rock: RockCost = NO_ROCK,
    more: Iterable[Uncertain] = (),
) -> RiskModel | None:
    """Gather what is uncertain in a price, and what it costs.

    Parameters
    ----------
    price : Price
        The estimate, each line with what moves it.
    settings : RiskSettings
        How far things may move.
    holes : int
        Holes of the fence, each of which takes its own time.
    rock : RockCost
        What it would cost if every hole met rock that is not known already.
    more : iterable of Uncertain
        Further factors on every line, such as a length that is known from a telephone call alone.

    Returns
    -------
    RiskModel or None
        None where nothing is priced.

    Notes
    -----
    Direct costs are a sum of lines times factors: hours with what drives them, prices by thing, concrete with the
    holes' shape; weather adds paid hours of lost days, rock its rate in the holes that meet it. Overhead, margin and
    tax follow the direct costs in proportion; contingency and rounding are left out. O(lines + uncertainties x runs).
    """
    direct = price.step("direct")
    if price.total is None or direct is None or not direct.amount:
        return None
    gathered = Gathered()
    whole = tuple(row for one in more for row in gathered.add(one))
    lines = [line for line in price.lines if line.amount]
    works = work_factors(gathered, lines, settings, holes)
    prices = price_factors(gathered, lines, settings)
    concrete = gathered.add(
        Uncertain(
            "concrete in the holes", "Concrete that the holes take", "Dig one hole and measure it.",
            1 - settings.concrete_less, 1.0, 1 + settings.concrete_more, GROUND, settings.ground,
            kind=Kind.MEAN_OF_MANY, count=holes,
        )
    ) if any(is_concrete(line) for line in lines) else ()  # fmt: skip
    of_material, scale = whole_per_direct(price)
    for line in lines:
        per_direct = of_material if line.kind == "material" else scale
        for part, hours in moved_hours(line, lines, works):
            own = concrete if is_concrete(line) else ()
            gathered.cost(per_direct * part, hours, prices.get(price_name(line), ()), own, whole)
    add_weather(gathered, lines, settings, scale, whole)
    add_rock(gathered, settings, rock, scale, whole)
    terms = CostTerms(np.array(gathered.amounts), tuple(gathered.factors))
    shape = Shape.TRIANGULAR if settings.is_triangular else Shape.PERT
    base = sum(
        float(line.amount or 0) * (of_material if line.kind == "material" else scale) for line in lines
    )
    return RiskModel(gathered.uncertainties(shape), terms, base)


def whole_per_direct(price: Price) -> tuple[float, float]:
    """Price for each unit of direct cost, of materials and of all else: overhead, margin, tax; no contingency, no rounding.

    Where materials alone are taxed, the rest of the price carries none.
    """
    overhead, margin, net, tax = (price.step(name) for name in ("overhead", "margin", "net", "tax"))
    if overhead is None or margin is None or net is None or tax is None:
        return 1.0, 1.0
    rate = float(margin.rate)
    before_tax = (1 + float(overhead.rate)) * (1 / (1 - rate) if margin.rule == "margin" else 1 + rate)
    if tax.base == net.amount:
        return before_tax * (1 + float(tax.rate)), before_tax * (1 + float(tax.rate))
    return before_tax + float(tax.rate), before_tax


def contingency_to(price: Price, probability: float) -> float:
    """Share of the direct costs that lifts the estimate to a quantile; 0 where it is there already, or nothing is priced."""
    direct = price.step("direct")
    if price.risk is None or direct is None or not direct.amount:
        return 0.0
    short = price.risk.quantile(probability) - price.risk.base
    return max(short / (float(direct.amount) * whole_per_direct(price)[1]), 0.0)
