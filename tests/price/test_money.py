"""Exact money: rounding half up, multiples, and splits that lose nothing."""

from decimal import Decimal

import pytest

from fencewright.price.money import cents, decimal_of, split, to_multiple, whole_packs


@pytest.mark.parametrize(
    ("value", "digits", "shown"),
    [
        ("2.345", 2, "2.35"),
        ("2.344999", 2, "2.34"),
        ("-2.345", 2, "-2.35"),
        ("1234.5", 0, "1235"),
        ("1", 3, "1.000"),
    ],
)
def test_half_goes_up_to_whole_minor_units(value: str, digits: int, shown: str) -> None:
    assert str(cents(Decimal(value), digits)) == shown


def test_a_price_is_rounded_to_a_whole_multiple() -> None:
    assert to_multiple(Decimal("1234.99"), Decimal(10)) == 1230
    assert to_multiple(Decimal("1235.00"), Decimal(10)) == 1240
    assert to_multiple(Decimal("1234.56"), Decimal("0.25")) == Decimal("1234.50")
    assert to_multiple(Decimal("1234.56"), Decimal(0)) == Decimal("1234.56")


def test_a_measure_keeps_the_decimals_that_a_person_wrote() -> None:
    assert decimal_of(2.675) == Decimal("2.68")  # in binary it lies below, and would go down


def test_packs_are_whole_and_a_hair_over_one_is_that_one() -> None:
    assert whole_packs(101, 25) == 5
    assert whole_packs(100.00000000001, 25) == 4
    assert whole_packs(0, 25) == 0


def test_a_split_adds_up_and_its_odd_cents_go_to_the_largest_remainders() -> None:
    assert split(Decimal("100.00"), [1, 1, 1], 2) == (Decimal("33.34"), Decimal("33.33"), Decimal("33.33"))
    assert split(Decimal("0.05"), [0.5, 0.3, 0.2], 2) == (Decimal("0.03"), Decimal("0.01"), Decimal("0.01"))
    assert split(Decimal("-1.00"), [1, 2], 2) == (Decimal("-0.33"), Decimal("-0.67"))


def test_a_split_by_nothing_is_even_and_one_among_nobody_is_none() -> None:
    assert split(Decimal("1.00"), [0, 0], 2) == (Decimal("0.50"), Decimal("0.50"))
    assert split(Decimal("1.00"), [], 2) == ()
