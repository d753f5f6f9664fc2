"""Commas in the numbers of a sheet."""

import pytest

from fencewright.quantity.written_commas import has_comma, has_decimal_commas, with_point


@pytest.mark.parametrize(
    ("cells", "between_semicolons", "is_decimal"),
    [
        (["12,5", "7", "-0,25"], True, True),
        (["12,5", "7", "-0,25"], False, True),
        (["1,234", "5,678"], False, False),  # metres with millimetres, or thousands
        (["1,234", "5,678"], True, True),
        (["512345,678"], False, True),
        (["0,250"], False, True),
        (["1,234.5", "12,5"], True, False),
        (["1,234", "999.5"], True, False),
        (["1.234,5", "12,5"], True, False),
        (["12,5 ft", "corner, north"], True, True),
        (["12", "7"], True, False),
        ([], True, False),
    ],
)
def test_a_comma_is_decimal_where_it_can_be_nothing_else(
    cells: list[str], between_semicolons: bool, is_decimal: bool
) -> None:
    assert has_decimal_commas(cells, between_semicolons=between_semicolons) is is_decimal


def test_only_a_number_is_given_a_point() -> None:
    assert [with_point(cell) for cell in ("12,5", "-3,25 m", "a,b", "1,2,3", "P1,5")] == [
        "12.5", "-3.25 m", "a,b", "1,2,3", "P1,5",
    ]  # fmt: skip
    assert has_comma("12,5 m")
    assert not has_comma("post, oak")
