"""Columns of a table for people: what is asked of a row in SI becomes a head with its unit and cells in it."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from fencewright.quantity.parse import FOOT_M, INCH_M, POUND_FORCE_N, POUND_KG

Row = dict[str, Any]
Cell = str | float | int | None

UNITS: dict[str, dict[str, tuple[str, float, int]]] = {
    "us": {
        "small": ("in", INCH_M, 2),
        "long": ("ft", FOOT_M, 2),
        "volume": ("ft3", FOOT_M**3, 2),
        "force": ("lbf", POUND_FORCE_N, 0),
        "mass": ("lb", POUND_KG, 1),
    },
    "metric": {
        "small": ("mm", 0.001, 0),
        "long": ("m", 1.0, 3),
        "volume": ("m3", 1.0, 3),
        "force": ("N", 1.0, 0),
        "mass": ("kg", 1.0, 1),
    },
}
_PLAIN = {
    "bags": ("", 1.0, 3),
    "amount": ("", 1.0, 3),
    "angle": ("deg", math.pi / 180, 1),
    "whole": ("", 1.0, 0),
    "percent": ("percent", 0.01, 0),
    "frequency": ("Hz", 1.0, 2),
    "plain": ("", 1.0, 2),
    "mm": ("mm", 0.001, 1),
}


@dataclass(frozen=True, slots=True)
class Heading:
    """Head of a column: `name` with the unit last, `kind`, `decimals` shown, `width` in characters."""

    name: str
    kind: str
    decimals: int = 0
    width: int = 10


@dataclass(frozen=True, slots=True)
class SheetTable:
    """A table as printed: its title, the heads of its columns, and its rows of cells."""

    title: str
    headings: tuple[Heading, ...]
    rows: list[list[Cell]]


@dataclass(frozen=True, slots=True)
class Asked:
    """A column before it has a unit: name, kind (`text`, `small`, `long`, ...), and a row's cell in SI."""

    name: str
    kind: str
    value: Callable[[Row], Any]
    width: int = 10


def asked_key(name: str, kind: str = "text", *, key: str = "", width: int = 10) -> Asked:
    """Give a column that holds one key of each row, by default that of its own name."""
    return Asked(name, kind, lambda row, key=key or name: row[key], width)  # type: ignore[misc]


def sheet_table(title: str, system: str, asked: Sequence[Asked], rows: Sequence[Row]) -> SheetTable:
    """Give a table in the units of the sheets, `us` or `metric`; cells of no known value are None."""
    units = {**UNITS[system], **_PLAIN}
    headings: list[Heading] = []
    columns: list[list[Cell]] = []
    for column in asked:
        unit, factor, decimals = units.get(column.kind, ("", 1.0, 0))
        name = f"{column.name}_{unit}" if unit else column.name
        headings.append(Heading(name, column.kind, decimals, max(column.width, len(name) + 1)))
        cells = [column.value(row) for row in rows]
        if column.kind == "text":
            columns.append([_text(cell) for cell in cells])
        else:
            columns.append(
                [None if cell is None else round(cell / factor, decimals + 3) + 0.0 for cell in cells]
            )
    return SheetTable(title, tuple(headings), [list(row) for row in zip(*columns, strict=True)])


def sheet_temperature(temperature_c: float, system: str) -> tuple[int, str]:
    """Temperature as the sheets have it, in whole degrees, and its unit: `F` or `C`."""
    return (round(temperature_c * 1.8 + 32), "F") if system == "us" else (round(temperature_c), "C")


def _text(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else str(value)


def built_column(record: Row) -> Asked:
    """Whether the design may be built, on every row: a table may be printed alone."""
    may = bool(record["may_be_built"])
    return Asked("may_be_built", "text", lambda _: may, 14)
