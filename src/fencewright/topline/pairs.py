"""Pairs of the interior point: two positive numbers whose product goes to 0.

Of a pair one number drives (the linear solution moves it) and the other follows. Pairs come in twos, of one unknown
its two bounds, of one row its room and its excess: the driver of the first moves with the linear solution, that of
the second against it. All work goes through the arrays in parts that stay in the processor's cache, with as few
passes as can be: on long fences that is most of the speed.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fencewright.tables.top_line import FloatArray

#: Unknowns or rows in a part.
PART = 8_192

_SIGNS = np.array([[1.0], [-1.0]])


@dataclass(frozen=True, slots=True)
class Part:
    """Views of a part of the pairs.

    Attributes
    ----------
    of : slice
        Its unknowns or rows.
    driver, follower : float array (2, part)
        Above 0.
    inverse : float array (2, part)
        One over the driver, the second line negative; after `stiffness`.
    change : float array (2, part)
        Of the follower: second order and aim first, then the whole of it.
    work : float array (2, part)
        Room to reckon in, the same for all parts.
    """

    of: slice
    driver: FloatArray
    follower: FloatArray
    inverse: FloatArray
    change: FloatArray
    work: FloatArray


@dataclass(frozen=True)
class Pairs:
    """The two pairs of each unknown or of each row; the arrays change in place.

    Attributes
    ----------
    driver, follower : float array (2, n)
        Above 0.
    parts : tuple of Part
        Views of them, and what goes with them.
    """

    driver: FloatArray
    follower: FloatArray
    parts: tuple[Part, ...]


def paired(drivers: tuple[FloatArray, FloatArray], followers: tuple[FloatArray, FloatArray]) -> Pairs:
    """Put pairs together.

    Parameters
    ----------
    drivers, followers : two float array (n,) each
        Above 0.

    Returns
    -------
    Pairs
        With no change yet.
    """
    driver, follower = np.stack(drivers), np.stack(followers)
    inverse, change = np.empty_like(driver), np.empty_like(driver)
    size = driver.shape[1]
    work = np.empty((2, min(PART, size)))
    parts = [
        Part(of, driver[:, of], follower[:, of], inverse[:, of], change[:, of], work[:, : of.stop - of.start])
        for of in (slice(start, min(start + PART, size)) for start in range(0, size, PART))
    ]
    return Pairs(driver, follower, tuple(parts))


def stiffness(pairs: Pairs) -> FloatArray:
    """Sum follower over driver; sets `inverse`.

    Parameters
    ----------
    pairs : Pairs
        At the start of a step.

    Returns
    -------
    float array (n,)
        Above 0.
    """
    total = np.empty(pairs.driver.shape[1])
    for part in pairs.parts:
        np.divide(_SIGNS, part.driver, out=part.inverse)
        ratio = np.multiply(part.follower, part.inverse, out=part.work)
        np.subtract(ratio[0], ratio[1], out=total[part.of])
    return total


def predict(pairs: Pairs, moved: FloatArray) -> tuple[float, float]:
    """Look at the step that would bring the products to 0.

    Parameters
    ----------
    pairs : Pairs
        After `stiffness`; its `change` is set to the second order of the step, over the driver.
    moved : float array (n,)
        Linear solution.

    Returns
    -------
    reach : float
        One over the longest step that keeps both above 0.
    second : float
        Sum of change times driver.
    """
    reach = second = 0.0
    for part in pairs.parts:
        rate = np.multiply(moved[part.of], part.inverse, out=part.work)
        reach = max(reach, -float(rate.min()), 1.0 + float(rate.max()))
        change = np.add(rate, 1.0, out=part.change)
        change *= rate
        change *= part.follower
        second += _sum_of_products(change, part.driver)
    return reach, second


def aimed(pairs: Pairs, target: float) -> FloatArray:
    """Add the aim to each change.

    Parameters
    ----------
    pairs : Pairs
        After `predict`.
    target : float
        Product aimed at.

    Returns
    -------
    float array (n,)
        Change of the first less that of the second pair.
    """
    total = np.empty(pairs.driver.shape[1])
    for part in pairs.parts:
        change = part.change
        change += np.multiply(part.inverse, target * _SIGNS, out=part.work)
        np.subtract(change[0], change[1], out=total[part.of])
    return total


def follow(pairs: Pairs, moved: FloatArray) -> tuple[float, float]:
    """Complete the change of the followers.

    Parameters
    ----------
    pairs : Pairs
        After `aimed`.
    moved : float array (n,)
        Linear solution.

    Returns
    -------
    driver_fall, follower_fall : float
        Greatest part of itself that a number would lose in a whole step; 0 or more.
    """
    driver_fall = follower_fall = 0.0
    for part in pairs.parts:
        follower, change = part.follower, part.change
        rate = np.multiply(moved[part.of], part.inverse, out=part.work)
        driver_fall = max(driver_fall, -float(rate.min()))
        rate += 1.0
        rate *= follower
        change -= rate
        np.divide(change, follower, out=rate)
        follower_fall = max(follower_fall, -float(rate.min()))
    return driver_fall, follower_fall


def move(pairs: Pairs, moved: FloatArray, driver_step: float, follower_step: float) -> float:
    """Take the step, in place; `change` is used up.

    Parameters
    ----------
    pairs : Pairs
        After `follow`.
    moved : float array (n,)
        Linear solution.
    driver_step, follower_step : float
        Parts of the whole step, 0 to 1.

    Returns
    -------
    float
        Sum of the products after it.
    """
    products = 0.0
    for part in pairs.parts:
        driver, follower, change = part.driver, part.follower, part.change
        driver += np.multiply(moved[part.of], driver_step * _SIGNS, out=part.work)
        change *= follower_step
        follower += change
        products += _sum_of_products(driver, follower)
    return products


def products_of(pairs: Pairs) -> float:
    """Sum the products.

    Parameters
    ----------
    pairs : Pairs
        Any.

    Returns
    -------
    float
        0 for none.
    """
    return _sum_of_products(pairs.driver, pairs.follower)


def _sum_of_products(one: FloatArray, other: FloatArray) -> float:
    """Multiply and sum in one fixed order, as `certificate.ordered_dot`."""
    return float(np.einsum("ij,ij->", one, other))
