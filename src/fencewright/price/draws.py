"""Draws of uncertain things that move together: one normal score behind each group of them."""

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from fencewright.price.three_point import three_point_quantile
from fencewright.tables.risk import Kind, Uncertainties

Floats = NDArray[np.float64]

_FURTHEST = 6.0  # normal scores are kept within; one in a billion lies beyond
_STEPS = 1200  # of the table of values by normal score; its error is below the noise of a million runs
_DRIVER_STEPS, _NODES = 240, 48  # of the tables of a mean of many, by driver


def draw_uncertainties(rows: Uncertainties, runs: int, seed: int) -> Floats:
    """Draw every uncertainty in every run.

    Parameters
    ----------
    rows : Uncertainties
        What is uncertain, and what moves together.
    runs : int
        1 or more.
    seed : int
        The same seed gives the same draws.

    Returns
    -------
    float array (uncertainties, runs)
        Each within its low and high. [as the row]

    Notes
    -----
    One-factor normal copula: the score of a row is loading x driver + sqrt(1 - loading²) x its own, and its value
    is the row's quantile at that score's probability; two rows of one driver have scores that correlate by the
    product of their loadings. Rows without a driver are independent.

    A mean of many alike things, each with a score of its own beside the shared driver, is drawn from the normal
    distribution with the mean and variance that they have given the driver (the central limit given the driver; near
    enough from about ten things on). A part of many is binomial: the row's value is the chance of each. O(rows x runs).

    References
    ----------
    .. [1] li-2000 the normal copula; vasicek-1987 many alike things behind one driver
    """
    drivers = [
        _stream(seed, f"driver {k}").standard_normal(runs)
        for k in range(int(rows.driver.max(initial=-1)) + 1)
    ]
    drawn = np.empty((len(rows), runs))
    for k in range(len(rows)):
        random = _stream(seed, rows.name[k])
        own = random.standard_normal(runs)
        load = float(rows.loading[k]) if rows.driver[k] >= 0 else 0.0
        shared = drivers[rows.driver[k]] if load else np.zeros(runs)
        if rows.kind[k] == Kind.MEAN_OF_MANY and rows.count[k] > 1:
            drawn[k] = _mean_of_many(rows, k, shared, own, load)
            continue
        score = load * shared + np.sqrt(1 - load**2) * own
        drawn[k] = _at_even_steps(_value_table(rows, k), score)
        if rows.kind[k] == Kind.PART_OF_MANY:
            count = int(rows.count[k])
            drawn[k] = random.binomial(count, np.clip(drawn[k], 0.0, 1.0)) / max(count, 1)
    return drawn


def _stream(seed: int, name: str) -> np.random.Generator:
    """Numbers of its own for each name, so that one more uncertainty leaves the draws of the others alone."""
    return np.random.Generator(np.random.PCG64(np.random.SeedSequence([seed, *name.encode()])))


def _value_table(rows: Uncertainties, k: int) -> Floats:
    """Value of a row at even steps of its normal score."""
    score = np.linspace(-_FURTHEST, _FURTHEST, _STEPS + 1)
    points = float(rows.low[k]), float(rows.mode[k]), float(rows.high[k])
    return three_point_quantile(*points, int(rows.shape[k]), ndtr(score))


def _at_even_steps(table: Floats, score: Floats) -> Floats:
    """Read a table over even steps of the score, by straight lines."""
    place = (np.clip(score, -_FURTHEST, _FURTHEST) + _FURTHEST) * ((len(table) - 1) / (2 * _FURTHEST))
    step = np.minimum(place.astype(np.int64), len(table) - 2)
    low = table[step]
    return np.asarray(low + (place - step) * (table[step + 1] - low), np.float64)


def _mean_of_many(rows: Uncertainties, k: int, shared: Floats, own: Floats, load: float) -> Floats:
    """Mean of many alike things, each drawn beside the others behind one driver."""
    nodes, weights = np.polynomial.hermite_e.hermegauss(_NODES)
    weights = weights / weights.sum()
    driver = np.linspace(-_FURTHEST, _FURTHEST, _DRIVER_STEPS + 1)
    score = load * driver[:, None] + np.sqrt(1 - load**2) * nodes[None, :]
    value = _at_even_steps(_value_table(rows, k), score)
    mean = value @ weights
    spread = np.sqrt(np.maximum((value - mean[:, None]) ** 2 @ weights, 0.0) / float(rows.count[k]))
    drawn = _at_even_steps(mean, shared) + _at_even_steps(spread, shared) * own
    return np.clip(drawn, rows.low[k], rows.high[k])
