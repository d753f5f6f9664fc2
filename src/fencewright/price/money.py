"""Exact money: rounding half up to whole minor units, and splitting without losing one."""

import math
from collections.abc import Sequence
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal


def cents(value: Decimal, digits: int) -> Decimal:
    """Round half up to whole minor units of a currency with so many decimal places."""
    return value.quantize(Decimal(1).scaleb(-digits), rounding=ROUND_HALF_UP)


def to_multiple(value: Decimal, multiple: Decimal) -> Decimal:
    """Round half up to a whole multiple; a multiple of 0 leaves the value as it is."""
    if not multiple:
        return value
    return (value / multiple).quantize(Decimal(1), rounding=ROUND_HALF_UP) * multiple


def decimal_of(value: float, places: int = 2) -> Decimal:
    """Round a measured number half up to so many places."""
    return Decimal(repr(float(value))).quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)


def whole_packs(quantity: float, pack: float) -> Decimal:
    """Packs that hold a quantity; a hair over a whole one, from rounding, is that one."""
    return Decimal(math.ceil(quantity / pack - 1e-9))


def split(amount: Decimal, weights: Sequence[float], digits: int) -> tuple[Decimal, ...]:
    """Split money by weights so that the parts add up to it exactly.

    Parameters
    ----------
    amount : Decimal
        Whole minor units.
    weights : sequence of float (parts,)
        0 or more; all 0 splits evenly.
    digits : int
        Decimal places of the minor unit.

    Returns
    -------
    tuple of Decimal (parts,)
        Each within one minor unit of its even share; what rounding leaves goes to the largest remainders, the
        earlier part first. No parts gives none.
    """
    if not weights:
        return ()
    whole = sum(weights)
    shares = [weight / whole if whole > 0 else 1.0 / len(weights) for weight in weights]
    unit = Decimal(1).scaleb(-digits)
    exact = [amount * Decimal(repr(share)) / unit for share in shares]
    floors = [one.to_integral_value(rounding=ROUND_FLOOR) for one in exact]
    left = int((amount / unit) - sum(floors))
    order = sorted(range(len(exact)), key=lambda k: (floors[k] - exact[k], k))
    for k in range(abs(left)):
        floors[order[k % len(order)]] += 1 if left > 0 else -1
    return tuple(one * unit for one in floors)
