"""Iowa State University Extension, "Estimated costs for livestock fencing", Table 6 (iowa-ownership; A2, READ).

Yearly cost of owning 1,320 ft of fence. The first cost is depreciation x life (DERIVED); the interest of 8 % on
half of it is inferred from the printed figures. The table rounds its parts to whole dollars: totals agree within 2.
"""

from decimal import Decimal

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.job.price_settings import LifeTerms
from fencewright.price.ownership import yearly_cost

QUARTER_MILE_M = 1320 * 0.3048
# kind: first cost, life, maintenance; printed depreciation, interest, maintenance, total, dollars a foot and year
TABLE_6 = {
    "woven": ("1980", 20, "0.08", 99, 79, 159, 338, "0.26"),
    "barbed": ("1620", 20, "0.08", 81, 65, 129, 274, "0.21"),
    "high-tensile, not electric": ("1475", 25, "0.05", 59, 59, 74, 193, "0.15"),
    "high-tensile, electric": ("925", 25, "0.05", 37, 37, 46, 121, "0.09"),
}


@pytest.mark.parametrize("kind", list(TABLE_6))
def test_yearly_cost_of_a_quarter_mile(kind: str) -> None:
    cost, life, upkeep, depreciation, interest, maintenance, total, per_foot = TABLE_6[kind]
    terms = LifeTerms(Decimal(life), Decimal(upkeep), Decimal("0.08"))
    made = yearly_cost(Decimal(cost), terms, QUARTER_MILE_M, 2)
    assert made.depreciation == depreciation
    assert abs(made.interest - interest) <= 1
    assert abs(made.maintenance - maintenance) <= 1
    assert abs(made.total - total) <= 2
    assert abs(made.per_foot - Decimal(per_foot)) <= Decimal("0.01")


def test_the_shipped_terms_are_those_of_its_high_tensile_fence() -> None:

    practice = shipped_catalogue().practice
    assert [practice[f"price.{name}"].written for name in ("life", "maintenance", "interest")] == [
        "25 years",
        "5 %",
        "8 %",
    ]
