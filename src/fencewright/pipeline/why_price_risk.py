"""Why P50, P80 and P95 of a price are what they are: the runs, the quantile among them, and what moved it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.findings import InputError
from fencewright.job.record import Job
from fencewright.job.risk_settings import RiskSettings
from fencewright.pipeline.record import Design
from fencewright.pipeline.risk_words import range_words
from fencewright.pipeline.risking import RiskModel, model_of, risk_settings
from fencewright.pipeline.why_origin import asked, computed
from fencewright.pipeline.why_record import Explanation, Input, Reason
from fencewright.price.draws import draw_uncertainties
from fencewright.price.risk import STEP, find_swings, run_totals
from fencewright.tables.price import Price, PriceBook

Floats = NDArray[np.float64]

QUANTILES = {"p50": 0.5, "p80": 0.8, "p95": 0.95}
"""Quantiles of the price that may be asked."""


def explain_quantile(design: Design, price: Price, book: PriceBook | None, name: str) -> Explanation:
    """Explain a quantile of a price.

    Parameters
    ----------
    design : Design
        Of the price.
    price : Price
        With its lines and steps; its risk is run again.
    book : PriceBook, optional
        The one that it was reckoned with.
    name : str
        A key of `QUANTILES`.

    Returns
    -------
    Explanation
        The quantile, its standard error, and what is uncertain, what moves P80 most first. [money]

    Raises
    ------
    InputError
        Nothing is priced.

    Notes
    -----
    O(uncertainties x runs), as the risk itself.
    """
    settings = risk_settings(design.job)
    model = model_of(design, price, book, settings)
    if model is None:
        raise InputError(f'there is no "{name}": nothing in the price is priced')
    drawn = draw_uncertainties(model.rows, settings.runs, settings.seed)
    totals = run_totals(model.terms, drawn)
    told = _Told(design.job, settings, np.sort(totals), price.currency, QUANTILES[name])
    reasons = (_quantile(told, name), _error(told), _uncertain(told, model, drawn, totals))
    return Explanation(f"price:{name}", "price step", "how likely the price is kept", reasons)


@dataclass(frozen=True, slots=True, eq=False)
class _Told:
    """The runs of a price, lowest first, and the quantile that is asked: `part` of the runs come to no more."""

    job: Job
    settings: RiskSettings
    totals: Floats
    currency: str
    part: float

    def at(self, part: float) -> float:
        """Total that a part of the runs stays below."""
        return float(np.interp(part * (len(self.totals) - 1), np.arange(len(self.totals)), self.totals))

    def runs(self) -> Input:
        return asked(self.job, "risk.runs", "risk.runs", ("n", "runs"), float(self.settings.runs), "1")

    def share(self) -> Input:
        return computed("p", "part of the runs that come to no more", self.part, "%", "by definition")


def _quantile(told: _Told, name: str) -> Reason:
    place = told.part * (len(told.totals) - 1)
    below = min(int(place), len(told.totals) - 2)
    first, second = (float(one) for one in told.totals[below : below + 2])
    job, settings = told.job, told.settings
    return Reason(
        name.upper(),
        f"{100 * told.part:.0f} of 100 runs come to no more, tax included; contingency and rounding play no part",
        (
            told.share(),
            told.runs(),
            asked(job, "risk.seed", "risk.seed", ("seed", "seed of the draws"), float(settings.seed), "1"),
            computed("j", "place of the run before it, the lowest total at 0", float(below), "1"),
            computed("x_1", "total of that run", first, told.currency, "the runs, sorted"),
            computed("x_2", "total of the next", second, told.currency, "the runs, sorted"),
        ),
        "the total at that place among the sorted runs, by a straight line between two of them",
        "x_1 + (p (n - 1) - j) (x_2 - x_1)",
        told.at(told.part),
        told.currency,
        "order-statistics",
        "narrow what moves it most, or a smaller price",
    )


def _error(told: _Told) -> Reason:
    low, high = told.at(told.part - STEP), told.at(told.part + STEP)
    slope = (high - low) / (2 * STEP)
    result = float(np.sqrt(told.part * (1 - told.part) / len(told.totals)) * slope)
    return Reason(
        "standard error",
        "how far another seed would move it",
        (
            told.share(),
            told.runs(),
            computed("d", "step to the quantiles beside it", STEP, "%", "half a percent"),
            computed("x_l", "quantile below", low, told.currency, "the runs, sorted"),
            computed("x_h", "quantile above", high, told.currency, "the runs, sorted"),
        ),
        "that of an order statistic over the density of the runs at it",
        "sqrt(p (1 - p) / n) (x_h - x_l) / (2 d)",
        result,
        told.currency,
        "order-statistics",
        "more runs, [risk] runs",
    )


def _uncertain(told: _Told, model: RiskModel, drawn: Floats, totals: Floats) -> Reason:
    rows, swings = model.rows, find_swings(model.terms, drawn, totals)
    shape = "triangular" if told.settings.is_triangular else "beta (PERT)"
    inputs = []
    for k, row in enumerate(swings.row.tolist()):
        name = f"{rows.words[row]}: {range_words(rows, row, float(rows.low[row]), float(rows.high[row]))}"
        ends = (float(swings.low_total[k]), float(swings.high_total[k]))
        inputs.append(computed(f"u_{k + 1}", name, ends, told.currency, rows.remedy[row]))
    return Reason(
        "what is uncertain",
        f"each drawn anew in every run from a {shape} distribution; beside it P80 with this one held at its 10 % and at "
        "its 90 % quantile, what moves it most first",
        tuple(inputs),
        "every run adds up the lines, each times what moves it; one score moves prices, one the ground, one the crew",
        "",
        float(len(rows)),
        "1",
        "li-2000",
        "each says what would narrow it",
    )
