"""Columns of numbers and text to rows of JSON values: rounded, no NaN, no minus nought."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.exchange.compact import Cells, cells_of, plain, rounded
from fencewright.exchange.design_columns import Column


def json_numbers(values: ArrayLike, kind: str) -> list[Any]:
    """Numbers rounded as their kind asks, null where not finite.

    Parameters
    ----------
    values : float array (rows,) or (rows, parts)
        Numbers. [SI]
    kind : str
        A key of `DECIMALS`.

    Returns
    -------
    list of float or None, or of lists of them
        One value a row.
    """
    return plain(rounded(values, kind))


def json_number(value: float, kind: str) -> float | None:
    """One number, as `json_numbers` gives it."""
    number: float | None = json_numbers([value], kind)[0]
    return number


def significant(value: float, digits: int = 6) -> float | None:
    """Round a number of any size to so many digits, for certificates; None where not finite."""
    return float(f"{value:.{digits - 1}e}") if np.isfinite(value) else None


def table_rows(columns: Sequence[Column], values: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Rows of a table of design.json.

    Parameters
    ----------
    columns : sequence of Column
        What each row holds, in order.
    values : mapping of str to array or sequence (rows,)
        One entry a column, by its name; numbers in SI.

    Returns
    -------
    list of dict
        One a row.

    Raises
    ------
    KeyError
        A column has no values.
    ValueError
        Columns are not equally long.
    """
    return rows_of(table_columns(columns, values))


def table_columns(columns: Sequence[Column], values: Mapping[str, Any]) -> dict[str, Sequence[Any]]:
    """Give the same table column by column; arguments and errors as `table_rows`."""
    return {name: plain(cells) for name, cells in table_cells(columns, values).items()}


def table_cells(columns: Sequence[Column], values: Mapping[str, Any]) -> dict[str, Cells]:
    """Give the same table column by column, each kept small; arguments and errors as `table_rows`."""
    return {column.name: cells_of(column, values[column.name]) for column in columns}


def rows_of(table: Mapping[str, Sequence[Any]]) -> list[dict[str, Any]]:
    """Give the rows of columns that are equally long."""
    names = list(table)
    return [dict(zip(names, row, strict=True)) for row in zip(*table.values(), strict=True)]


def names_at(names: Sequence[str], index: NDArray[np.int64], missing: str = "") -> list[str]:
    """Names picked by row, `missing` where the row is negative."""
    return [names[row] if row >= 0 else missing for row in index.tolist()]
