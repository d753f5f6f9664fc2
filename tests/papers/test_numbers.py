"""No number stands in a table of the pack that is not one of design.json, in the units of the sheets."""

import math
import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from fencewright.exchange.design_json import design_record
from fencewright.papers.blocks import Table
from fencewright.papers.field_pack import field_pack
from fencewright.papers.measures import Measures
from fencewright.pipeline.record import Design

NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?(?: \d+/\d+)?(?!/)|\d+/\d+")


def leaves(value: Any) -> Iterator[Any]:
    """Every number and text of a record."""
    if isinstance(value, dict):
        for one in value.values():
            yield from leaves(one)
    elif isinstance(value, list):
        for one in value:
            yield from leaves(one)
    else:
        yield value


def told_ways(record: dict[str, Any]) -> set[str]:
    """Every number of a record in every way in which a sheet may tell it, and the numbers in its texts."""
    told = Measures(record)
    found: set[str] = set()
    for leaf in set(leaves(record)):
        if isinstance(leaf, str):
            found.update(NUMBER.findall(leaf))
        elif isinstance(leaf, int | float) and not isinstance(leaf, bool):
            ways = [
                told.small(leaf), told.long(leaf), told.post(leaf), told.mass(leaf), told.bare_force(leaf),
                told.degrees(leaf), told.temperature(leaf), f"{leaf / told.units.long_factor:,.2f}", f"{leaf:.1f}",
                f"{leaf:g}", str(math.ceil(leaf - 1e-6)), f"{leaf:,.2f}".rstrip("0").rstrip("."),
            ]  # fmt: skip
            found.update(number for way in ways for number in NUMBER.findall(way))
    return found


@pytest.mark.parametrize("sheets", ["us", "metric"])
def test_every_number_of_a_table_is_one_of_the_record(designed: Callable[..., Design], sheets: str) -> None:
    made = designed(180, sheets=sheets)
    record = design_record(made)
    known = told_ways(record)
    tables = [
        (section.title, block)
        for section in field_pack(made, record).sections
        for block in section.blocks
        if isinstance(block, Table)
    ]
    assert len(tables) > 8
    unknown = [
        (title, cell)
        for title, table in tables
        for row in table.rows
        if isinstance(row, list)
        for column, cell in zip(table.columns, row, strict=True)
        if column.head != "Label"  # a roll and the place of its piece: C1/2
        for number in NUMBER.findall(cell)
        if number not in known
    ]
    assert unknown == []
