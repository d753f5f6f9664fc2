"""Commas in the numbers of a sheet: decimal commas made points where they can be nothing else."""

import re
from collections.abc import Iterable

_WITH_COMMA = re.compile(r"\s*[+-]?\d+,\d+(?:[eE][+-]?\d+)?\s*[^\d,.]{0,8}")
_WITH_POINT = re.compile(
    r"\s*[+-]?(?:[\d,]*\.\d+|\d+\.\d*|\d{1,3}(?:\.\d{3})+,\d+)(?:[eE][+-]?\d+)?\s*[^\d,.]{0,8}"
)
_OF_THOUSANDS = re.compile(r"\s*[+-]?[1-9]\d{0,2},\d{3}\s*[^\d,.]{0,8}")
READ_AS_DECIMAL = "write decimal points, and no marks between thousands"


def has_decimal_commas(cells: Iterable[str], *, between_semicolons: bool) -> bool:
    """Whether the commas in a sheet's numbers stand before decimals, and can stand for nothing else.

    Parameters
    ----------
    cells : iterable of str
        The sheet's cells, those that are no numbers too.
    between_semicolons : bool
        Whether semicolons part them, as they do where the comma is the decimal mark.

    Returns
    -------
    bool
        False where any number has a decimal point, as a comma may then part thousands; false too where each comma
        has three digits behind it and at most three before (`1,234`), unless semicolons part the cells.
    """
    found, could_be_thousands = False, True
    for cell in cells:
        if _WITH_COMMA.fullmatch(cell):
            found = True
            could_be_thousands = could_be_thousands and _OF_THOUSANDS.fullmatch(cell) is not None
        elif _WITH_POINT.fullmatch(cell):
            return False
    return found and (between_semicolons or not could_be_thousands)


def with_point(cell: str) -> str:
    """Give a number's cell with a decimal point; any other cell as it is."""
    return cell.replace(",", ".") if _WITH_COMMA.fullmatch(cell) else cell


def has_comma(cell: str) -> bool:
    """Whether a comma stands between two digits of a cell."""
    return re.search(r"\d,\d", cell) is not None
