"""Columns kept small: numbers as arrays, names as rows of a list; plain values are made where they are written."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fencewright.exchange.design_columns import DECIMALS, Column

_BLOCK = 512  # values of a list that are compared at one go


@dataclass(frozen=True, slots=True, eq=False)
class Named:
    """A column of names: `names` picked by `index`, `missing` where it is negative."""

    names: Sequence[str]
    index: NDArray[np.int64]
    missing: str = ""

    def __reduce__(self) -> tuple[Any, ...]:
        """Pickle by its parts: many of them go with each answer."""
        return Named, (self.names, self.index, self.missing)

    def __len__(self) -> int:
        return len(self.index)


Cells = NDArray[Any] | Named | list[Any]
"""A column: an array (rows,) of numbers (NaN: not known), whole numbers or flags; names; or a list of JSON values."""


def rounded(values: ArrayLike, kind: str) -> NDArray[np.float64]:
    """Round numbers as their kind asks; what is not finite stays so, and there is no minus nought."""
    numbers: NDArray[np.float64] = np.asarray(values, dtype=np.float64)
    return numbers.round(DECIMALS[kind]) + 0.0  # adding nought turns -0.0 to 0.0


def cells_of(column: Column, values: Any) -> Cells:
    """Keep the values of a column of design.json as small as its kind allows."""
    if isinstance(values, Named):
        return values
    if column.kind in DECIMALS:
        return rounded(values, column.kind)
    if column.kind == "flag":
        return np.asarray(values, dtype=np.bool_)
    if column.kind == "whole":
        return np.asarray(values, dtype=np.int64)
    return list(values)


def plain(cells: Cells, start: int = 0, stop: int | None = None) -> list[Any]:
    """Give JSON values of a stretch of a column; null where a number is not finite."""
    if isinstance(cells, list):
        return cells if start == 0 and stop is None else cells[start:stop]
    if isinstance(cells, Named):
        names, missing = cells.names, cells.missing
        return [names[row] if row >= 0 else missing for row in cells.index[start:stop].tolist()]
    part = cells[start:stop]
    if part.dtype.kind != "f":
        return list(part.tolist())
    known = np.isfinite(part)
    if known.all():
        return list(part.tolist())
    values = part.astype(object)
    values[~known] = None
    return list(values.tolist())


def is_same(one: Cells, other: Cells) -> bool:
    """Tell whether two columns hold the same values, however they are kept."""
    return len(one) == len(other) and first_difference(*alike(one, other), len(one)) == len(one)


Comparable = NDArray[Any] | list[Any]
"""What two columns are compared as: their arrays, or plain values."""


def alike(one: Cells, other: Cells) -> tuple[Comparable, Comparable]:
    """Give two columns in a form in which their values can be compared."""
    if isinstance(one, Named) and isinstance(other, Named):
        if one.names is other.names or list(one.names) == list(other.names):
            return one.index, other.index
    elif isinstance(one, np.ndarray) and isinstance(other, np.ndarray) and one.ndim == other.ndim == 1:
        return one, other
    return plain(one), plain(other)


def first_difference(one: Comparable, other: Comparable, most: int) -> int:
    """Row of the first of `most` values that differ; `most` where none does."""
    if isinstance(one, np.ndarray) and isinstance(other, np.ndarray):
        return _first(differ(one[:most], other[:most]), most)
    start = 0
    while start < most and one[start : start + _BLOCK] == other[start : start + _BLOCK]:
        start += _BLOCK
    stop = min(start + _BLOCK, most)
    return next((row for row in range(min(start, most), stop) if one[row] != other[row]), most)


def last_difference(one: Comparable, other: Comparable, most: int) -> int:
    """Count the equal values at the end, at most `most`."""
    old, new = len(one), len(other)
    if isinstance(one, np.ndarray) and isinstance(other, np.ndarray):
        return _first(differ(one[old - most :][::-1], other[new - most :][::-1]), most)
    end = 0
    while (
        end + _BLOCK <= most and one[old - end - _BLOCK : old - end] == other[new - end - _BLOCK : new - end]
    ):
        end += _BLOCK
    return next(
        (row for row in range(end, min(end + _BLOCK, most)) if one[-1 - row] != other[-1 - row]), most
    )


def differ(one: NDArray[Any], other: NDArray[Any]) -> NDArray[np.bool_]:
    """Tell of each row of two arrays of one length whether it differs."""
    flags: NDArray[np.bool_] = one != other
    if one.dtype.kind == "f" and other.dtype.kind == "f" and flags.any():
        flags &= np.isfinite(one) | np.isfinite(other)  # what is not finite is null, and null is null
    return flags


def differing(one: Comparable, other: Comparable) -> NDArray[np.bool_]:
    """Tell of each row of two columns of one length whether it differs."""
    if isinstance(one, np.ndarray) and isinstance(other, np.ndarray):
        return differ(one, other)
    return np.fromiter((a != b for a, b in zip(one, other, strict=True)), np.bool_, len(one))


def _first(flags: NDArray[np.bool_], most: int) -> int:
    row = int(flags.argmax()) if len(flags) else 0
    return row if len(flags) and flags[row] else most
