"""From the lines to the total: every step by hand."""

from decimal import Decimal

import pytest

from fencewright.job.price_settings import Terms
from fencewright.price.summing import (
    by_activity,
    by_paddock,
    neighbour_shares,
    payments,
    per_length,
    price_steps,
)
from fencewright.tables.price import PriceLine, PriceStep, Subtotal

D = Decimal


def line(kind: str, amount: str | None, activity: str = "posts", parts: tuple[str, ...] = ()) -> PriceLine:
    money = None if amount is None else D(amount)
    return PriceLine(
        "x", "x", "", kind, activity, D(1), "piece", D(1), D(1), money, money, by_paddock=tuple(map(D, parts))
    )


def terms(**changed: object) -> Terms:
    usual: dict[str, object] = {
        "overhead": D("0.10"), "contingency": D(0), "margin": D("0.20"), "markup": None, "tax": D("0.07"),
        "taxes_all": True, "rounding": D(0),
    }  # fmt: skip
    return Terms(**(usual | changed))  # type: ignore[arg-type]  # by name


def steps(*lines: PriceLine, **changed: object) -> dict[str, PriceStep]:
    return {one.name: one for one in price_steps(lines, terms(**changed), 2)}


LINES = (line("material", "600.00"), line("labour", "300.00"), line("plant", "100.00"))


def test_overhead_margin_and_tax_by_hand() -> None:
    """1,000 direct; 10 % overhead 1,100; a margin of 20 % of the price 1,375; 7 % tax 96.25."""
    made = steps(*LINES)
    assert made["direct"].amount == D("1000.00")
    assert made["overhead"].amount == D("100.00")
    assert made["margin"].amount == D("275.00")
    assert made["net"].amount == D("1375.00")
    assert made["tax"].amount == D("96.25")
    assert made["total"].amount == D("1471.25")


def test_a_margin_is_that_share_of_the_price_and_a_markup_of_the_cost() -> None:
    made = steps(*LINES)
    assert made["margin"].amount / made["net"].amount == D("0.2")
    marked = steps(*LINES, markup=D("0.20"))
    assert marked["margin"].amount == D("220.00")


def test_tax_on_materials_alone() -> None:
    assert steps(*LINES, taxes_all=False)["tax"].amount == D("42.00")


def test_contingency_bears_overhead() -> None:
    made = steps(*LINES, contingency=D("0.05"), margin=D(0))
    assert (made["contingency"].amount, made["overhead"].amount) == (D("50.00"), D("105.00"))


def test_rounding_comes_before_tax_and_is_a_step_of_its_own() -> None:
    made = steps(*LINES, rounding=D(50))
    assert made["rounding"].amount == D("25.00")
    assert made["net"].amount == D("1400.00")
    assert made["tax"].amount == D("98.00")


def test_a_line_without_a_price_adds_nothing_and_no_line_is_nothing() -> None:
    assert steps(*LINES, line("material", None))["total"].amount == steps(*LINES)["total"].amount
    assert steps()["total"].amount == 0


def test_subtotals_add_up_to_the_total_to_the_cent() -> None:
    lines = [
        line("material", "10.01", "posts", ("3.34", "6.67")),
        line("labour", "5.00", "holes", ("5.00", "0.00")),
    ]
    for rows in (by_activity(lines, D("20.02"), 2), by_paddock(lines, ("a", "b"), D("20.02"), 2)):
        assert sum(one.total for one in rows) == D("20.02")
        assert sum(one.direct for one in rows) == D("15.01")


def test_activities_stand_in_the_order_of_the_work_and_the_jobs_own_after_them() -> None:
    named = ("tops", "hay for the stock", "rails", "posts", "travel", "preparation", "holes")
    rows = by_activity([line("material", "1.00", name) for name in named], D("7.00"), 2)
    assert [one.name for one in rows] == [
        "preparation", "holes", "posts", "tops", "rails", "travel", "hay for the stock",
    ]  # fmt: skip


def test_per_foot_and_per_metre() -> None:
    assert per_length(D("2553.30"), 1320 * 0.3048, 2) == (D("1.93"), D("6.35"))
    assert per_length(D("1"), 0.0, 2) == (D(0), D(0))


def test_a_neighbour_pays_his_share_of_the_common_part() -> None:
    rows = [Subtotal("a", D(0), D("1000.00")), Subtotal("b", D(0), D("500.00"))]
    shares = neighbour_shares([("Bo", "a", 25.0, 0.5), ("Cy", "b", 999.0, 1.0)], rows, [100.0, 50.0], 2)
    assert [one.amount for one in shares] == [D("125.00"), D("500.00")]


@pytest.mark.parametrize("total", ["0.01", "100.00", "33333.33"])
def test_payments_add_up(total: str) -> None:
    made = payments([("first", 1 / 3), ("second", 1 / 3), ("last", 1 / 3)], D(total), 2)
    assert sum(one.amount for one in made) == D(total)
