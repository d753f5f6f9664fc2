"""Three-point distributions: least, most likely and most of a thing that nobody knows exactly."""

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import betaincinv

from fencewright.tables.risk import Shape, Uncertainties

Floats = NDArray[np.float64]

_PERT_WEIGHT = 4.0  # weight of the most likely value in the PERT mean; register key malcolm-1959


def three_point_quantile(low: float, mode: float, high: float, shape: int, probability: ArrayLike) -> Floats:
    """Value that a three-point thing stays below with each probability.

    Parameters
    ----------
    low, mode, high : float
        Least, most likely, most; rising. [any]
    shape : int
        `Shape.PERT` or `Shape.TRIANGULAR`.
    probability : float array (any shape)
        0 to 1. [-]

    Returns
    -------
    float array (same shape)
        `low` throughout where the three are one. [as low]

    Notes
    -----
    Triangular: with c = (mode - low) / (high - low) the quantile is low + sqrt(p c) (high - low) up to p = c, and
    high - sqrt((1 - p)(1 - c)) (high - low) above. PERT: a beta distribution on low to high with
    alpha = 1 + 4 c, beta = 1 + 4 (1 - c), so that its mean is (low + 4 mode + high) / 6.

    References
    ----------
    .. [1] malcolm-1959 the three estimates and the mean; johnson-1997 triangular beside beta
    """
    chance = np.asarray(probability, np.float64)
    width = high - low
    if width <= 0:
        return np.full(chance.shape, float(low))
    part = (mode - low) / width
    if shape == Shape.TRIANGULAR:
        rising = np.sqrt(chance * part)
        falling = 1 - np.sqrt((1 - chance) * (1 - part))
        return low + width * np.where(chance <= part, rising, falling)
    alpha, beta = 1 + _PERT_WEIGHT * part, 1 + _PERT_WEIGHT * (1 - part)
    return np.asarray(low + width * betaincinv(alpha, beta, chance), np.float64)


def three_point_mean(rows: Uncertainties) -> Floats:
    """Mean of each row: (low + 4 mode + high) / 6 for PERT, the mean of the three for a triangle.

    References
    ----------
    .. [1] malcolm-1959; johnson-1997
    """
    weight = np.where(rows.shape == Shape.PERT, _PERT_WEIGHT, 1.0)
    return np.asarray((rows.low + weight * rows.mode + rows.high) / (weight + 2), np.float64)


def three_point_sd(rows: Uncertainties) -> Floats:
    """Standard deviation of each row, exact for both shapes.

    Notes
    -----
    PERT: sqrt((mean - low)(high - mean) / 7), the beta's own with alpha + beta = 6; the older (high - low) / 6 is an
    approximation of it. Triangular: sqrt((l2 + m2 + h2 - lm - lh - mh) / 18).

    References
    ----------
    .. [1] malcolm-1959; johnson-1997
    """
    low, mode, high = rows.low, rows.mode, rows.high
    mean = three_point_mean(rows)
    pert = (mean - low) * (high - mean) / (_PERT_WEIGHT + 3)
    triangular = (low**2 + mode**2 + high**2 - low * mode - low * high - mode * high) / 18
    return np.sqrt(np.maximum(np.where(rows.shape == Shape.PERT, pert, triangular), 0.0))
