"""Plain numbers exactly as written."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.quantity.decimals import parse_decimal
from fencewright.quantity.parse import QuantityError


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("12.50", "12.50"),
        (12.5, "12.5"),
        (0.1, "0.1"),
        (7, "7"),
        ("1,250.00", "1250.00"),
        (".5", "0.5"),
        (1e-5, "0.00001"),
    ],
)
def test_numbers_as_a_person_writes_them(written: object, value: str) -> None:
    assert parse_decimal(written) == Decimal(value)


@pytest.mark.parametrize(
    "written",
    ["", "abc", "$5", "5 USD", "1,25", "1.2.3", "-1", -1, -0.5, True, None, [], float("nan"), float("inf"), 1e300, "1e5",
     "0x10", "٣", 1e-9, 10**15],
)  # fmt: skip
def test_anything_else_is_refused_in_words(written: object) -> None:
    with pytest.raises(QuantityError, match="price"):
        parse_decimal(written)


@given(st.decimals(min_value=0, max_value=10**9, places=4))
def test_what_is_written_is_what_is_read(value: Decimal) -> None:
    assert parse_decimal(str(value)) == value
