"""Pairs of the interior point: two positive numbers whose product goes to 0.

Of a pair one number drives (the linear solution moves it) and the other follows. All work goes through
the arrays in parts that stay in the processor's cache: on long fences that is most of the speed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from fencewright.tables.top_line import FloatArray
from fencewright.topline.certificate import ordered_dot

#: Numbers in a part.
PART = 16_384


@dataclass(frozen=True)
class Pair:
    """Pairs of one kind; the arrays change in place.

    Attributes
    ----------
    driver, follower : float array (n,)
        Above 0.
    sign : float
        The driver moves by `sign` times the linear solution.
    change : float array (n,)
        Of the follower: second order and aim first, then the whole of it.
    """

    driver: FloatArray
    follower: FloatArray
    sign: float
    change: FloatArray


def paired(driver: FloatArray, follower: FloatArray, sign: float) -> Pair:
    """Pair two arrays.

    Parameters
    ----------
    driver, follower : float array (n,)
        Above 0; they will change in place.
    sign : float
        +1 or -1.

    Returns
    -------
    Pair
        With no change yet.
    """
    return Pair(driver, follower, sign, np.empty_like(driver))


def stiffness(pairs: tuple[Pair, Pair]) -> FloatArray:
    """Sum of follower over driver.

    Parameters
    ----------
    pairs : two Pair
        Of one length.

    Returns
    -------
    float array (n,)
        Above 0.
    """
    one, other = pairs
    total = np.empty_like(one.driver)
    for part in _parts(total.size):
        np.divide(one.follower[part], one.driver[part], out=total[part])
        total[part] += other.follower[part] / other.driver[part]
    return total


def predict(pair: Pair, moved: FloatArray) -> tuple[float, float]:
    """Look at the step that would bring the products to 0.

    Parameters
    ----------
    pair : Pair
        Its `change` is set to the second order of the step, over the driver.
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
    for part in _parts(moved.size):
        driver, change = pair.driver[part], pair.change[part]
        rate = moved[part] / driver
        rate *= pair.sign
        reach = max(reach, -float(rate.min()), 1.0 + float(rate.max()))
        np.add(rate, 1.0, out=change)
        change *= rate
        change *= pair.follower[part]
        second += ordered_dot(change, driver)
    return reach, second


def aimed(pairs: tuple[Pair, Pair], target: float) -> FloatArray:
    """Add the aim to each change.

    Parameters
    ----------
    pairs : two Pair
        Of one length, after `predict`.
    target : float
        Product aimed at.

    Returns
    -------
    float array (n,)
        Sum of the signed changes.
    """
    total = np.empty_like(pairs[0].driver)
    for part in _parts(total.size):
        for pair in pairs:
            pair.change[part] += target / pair.driver[part]
        np.multiply(pairs[0].change[part], pairs[0].sign, out=total[part])
        total[part] += pairs[1].sign * pairs[1].change[part]
    return total


def follow(pair: Pair, moved: FloatArray) -> tuple[float, float]:
    """Complete the change of the follower.

    Parameters
    ----------
    pair : Pair
        After `aimed`.
    moved : float array (n,)
        Linear solution.

    Returns
    -------
    driver_fall, follower_fall : float
        Greatest part of itself that a number would lose in a whole step; 0 or more.
    """
    driver_fall = follower_fall = 0.0
    for part in _parts(moved.size):
        follower, change = pair.follower[part], pair.change[part]
        rate = moved[part] / pair.driver[part]
        rate *= pair.sign
        driver_fall = max(driver_fall, -float(rate.min()))
        rate += 1.0
        rate *= follower
        change -= rate
        np.divide(change, follower, out=rate)
        follower_fall = max(follower_fall, -float(rate.min()))
    return driver_fall, follower_fall


def move(pair: Pair, moved: FloatArray, driver_step: float, follower_step: float) -> None:
    """Take the step, in place.

    Parameters
    ----------
    pair : Pair
        After `follow`.
    moved : float array (n,)
        Linear solution.
    driver_step, follower_step : float
        Parts of the whole step, 0 to 1.
    """
    for part in _parts(moved.size):
        pair.driver[part] += (pair.sign * driver_step) * moved[part]
        pair.follower[part] += follower_step * pair.change[part]


def _parts(size: int) -> Iterator[slice]:
    return (slice(start, start + PART) for start in range(0, size, PART))
