"""ISO 4217 codes and their minor units."""

import pytest

from fencewright.catalogue.currencies import currency_digits, digits_of
from fencewright.findings import InputError


@pytest.mark.parametrize(
    ("code", "digits"), [("USD", 2), ("EUR", 2), ("JPY", 0), ("KWD", 3), ("CAD", 2), ("ISK", 0)]
)
def test_minor_units(code: str, digits: int) -> None:
    assert digits_of(code, "currency") == digits


def test_the_list_is_whole_and_holds_no_code_twice() -> None:
    """About 155 currencies of circulation; every code is three capital letters."""
    assert 150 <= len(currency_digits()) <= 165
    assert all(len(code) == 3 and code.isalpha() and code.isupper() for code in currency_digits())


@pytest.mark.parametrize(
    ("wrong", "hint"),
    [("usd", "USD"), ("$", "ISO 4217"), ("EURO", "EUR"), ("", "ISO 4217"), ("dollars", "ISO 4217")],
)
def test_an_unknown_one_is_refused_with_a_hint(wrong: str, hint: str) -> None:
    with pytest.raises(InputError, match=hint):
        digits_of(wrong, "price, currency")
