"""What a fence costs its owner in a year."""

from decimal import Decimal

from fencewright.job.price_settings import LifeTerms
from fencewright.price.money import cents
from fencewright.price.summing import per_length
from fencewright.tables.price import Ownership


def yearly_cost(initial: Decimal, life: LifeTerms, length_m: float, digits: int) -> Ownership:
    """Yearly cost of owning a fence over its life.

    Parameters
    ----------
    initial : Decimal
        What the fence costs at first.
    life : LifeTerms
        Life [yr], upkeep a year as a share of the first cost, interest a year.
    length_m : float
        Length of the fence. [m]
    digits : int
        Decimal places of the minor unit.

    Returns
    -------
    Ownership
        Depreciation, interest and upkeep each to whole minor units, and their sum.

    Notes
    -----
    Straight-line depreciation without a remaining value; interest on the mean value, half the first cost.

    References
    ----------
    .. [1] iowa-ownership, Table 6
    """
    depreciation = cents(initial / life.years, digits)
    interest = cents(initial / 2 * life.interest, digits)
    upkeep = cents(initial * life.maintenance, digits)
    total = depreciation + interest + upkeep
    per_foot, per_metre = per_length(total, length_m, digits)
    return Ownership(
        initial=initial,
        life_years=life.years,
        interest_rate=life.interest,
        maintenance_rate=life.maintenance,
        depreciation=depreciation,
        interest=interest,
        maintenance=upkeep,
        total=total,
        per_foot=per_foot,
        per_metre=per_metre,
    )
