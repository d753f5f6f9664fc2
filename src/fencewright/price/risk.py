"""The risk of a price: many runs of its uncertain parts, their quantiles, and what moves them most."""

import numpy as np
from numpy.typing import NDArray

from fencewright.price.draws import draw_uncertainties
from fencewright.tables.risk import CostTerms, Risk, Swings, Uncertainties

Floats = NDArray[np.float64]

_TENTH = 0.1
_SWUNG = 0.8  # the quantile whose swing is told
STEP = 1 / 200
"""From one quantile that is kept to the next: enough of them to draw the curve."""
_KEPT = np.arange(1, 200) / 200


def run_totals(terms: CostTerms, drawn: Floats) -> Floats:
    """Total of each run.

    Parameters
    ----------
    terms : CostTerms
        Amounts and what moves each.
    drawn : float array (uncertainties, runs)
        Value of each uncertainty in each run.

    Returns
    -------
    float array (runs,)
        Sum over the terms of amount x product of its uncertainties. [money]
    """
    total = np.zeros(drawn.shape[1])
    for factors, amount in _joined(terms).items():
        total += _product(drawn, factors, amount)
    return total


def _product(drawn: Floats, factors: tuple[int, ...], amount: float) -> Floats:
    part = np.full(drawn.shape[1], amount)
    for row in factors:
        part *= drawn[row]
    return part


def _joined(terms: CostTerms) -> dict[tuple[int, ...], float]:
    """Amounts by what moves them."""
    joined: dict[tuple[int, ...], float] = {}
    for factors, amount in zip(terms.factors, terms.amount.tolist(), strict=True):
        joined[factors] = joined.get(factors, 0.0) + amount
    return joined


def simulate(rows: Uncertainties, terms: CostTerms, base: float, runs: int, seed: int) -> Risk:
    """Run a cost many times.

    Parameters
    ----------
    rows : Uncertainties
        What is uncertain.
    terms : CostTerms
        What it costs.
    base : float
        The total of the estimate, for comparison. [money]
    runs : int
        100 or more, so that a 95 % quantile means something.
    seed : int
        The same seed gives the same bytes.

    Returns
    -------
    Risk
        Quantiles at each half percent. Without uncertainties all are the sum of the terms.

    Notes
    -----
    Quantiles are order statistics with straight lines between; their standard error is that of an order statistic,
    sqrt(p (1 - p) / runs) over the density, taken from the quantiles beside it. O(rows x runs).

    References
    ----------
    .. [1] order-statistics
    """
    drawn = draw_uncertainties(rows, runs, seed)
    totals = run_totals(terms, drawn)
    quantiles = np.interp(_KEPT * (runs - 1), np.arange(runs), np.sort(totals))
    error = np.sqrt(_KEPT * (1 - _KEPT) / runs) * np.gradient(quantiles, _KEPT)
    return Risk(
        runs=runs,
        seed=seed,
        base=base,
        mean=float(totals.mean()),
        sd=float(totals.std()),
        probability=_KEPT.copy(),
        total=quantiles,
        error=error,
        uncertainties=rows,
        swings=find_swings(terms, drawn, totals),
    )


def find_swings(terms: CostTerms, drawn: Floats, totals: Floats) -> Swings:
    """What each uncertainty does to P80, the most first; ties keep their order.

    Parameters
    ----------
    terms : CostTerms
        Amounts and what moves each; no term names an uncertainty twice.
    drawn : float array (uncertainties, runs)
        Value of each uncertainty in each run.
    totals : float array (runs,)
        Total of each run. [money]

    Returns
    -------
    Swings
        An uncertainty that never moves swings nothing.

    Notes
    -----
    P80 of the same runs with this one uncertainty held at its own 10 % quantile, and at its 90 % quantile, all others
    as they were drawn: how much there is to win by knowing it. A total is a straight line in each uncertainty, so each
    needs its slope alone. O(uncertainties x runs).

    References
    ----------
    .. [1] saltelli-2008 one factor fixed, the others left to vary
    """
    count, runs = drawn.shape
    rank = min(int(np.ceil(_SWUNG * runs)), runs) - 1
    columns = np.zeros((4, count))
    slopes = _slopes(terms, drawn)
    for k, value in enumerate(drawn):
        tenth = max(round(_TENTH * runs), 1)
        low, high = np.partition(value, (tenth - 1, runs - tenth))[[tenth - 1, runs - tenth]].tolist()
        still = totals - slopes[k] * value
        ends = [float(np.partition(still + slopes[k] * one, rank)[rank]) for one in (low, high)]
        columns[:, k] = *ends, low, high
    order = np.argsort(-np.abs(columns[1] - columns[0]), kind="stable")
    return Swings(order, *columns[:, order])


def _slopes(terms: CostTerms, drawn: Floats) -> Floats:
    """By how much the total of each run grows with each uncertainty. (uncertainties, runs)"""
    slopes = np.zeros_like(drawn)
    for factors, amount in _joined(terms).items():
        for row in factors:
            slopes[row] += _product(drawn, tuple(one for one in factors if one != row), amount)
    return slopes
