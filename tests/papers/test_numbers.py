"""No number stands in field pack or hand-over that is not one of design.json or programme.json, in the sheets' units."""

import math
import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from fencewright.desk.scheduling import programme
from fencewright.exchange.design_json import design_record
from fencewright.exchange.programme_json import programme_json
from fencewright.papers.blocks import Band, Drawing, Facts, Heading, Points, Table, Words
from fencewright.papers.field_pack import field_pack
from fencewright.papers.hand_over import hand_over
from fencewright.papers.measures import Measures
from fencewright.pipeline.record import Design

NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?(?: \d+/\d+)?(?!/)|\d+/\d+")

SCALE = re.compile(r"1:[\d,]+")  # beside the bar of each drawing


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
                told.small(leaf), told.long(leaf), told.post(leaf), told.mass(leaf), told.force(leaf),
                told.bare_force(leaf),
                told.degrees(leaf), told.temperature(leaf), f"{leaf / told.units.long_factor:,.2f}", f"{leaf:.1f}",
                f"{leaf:g}", str(math.ceil(leaf - 1e-6)), f"{leaf:,.2f}".rstrip("0").rstrip("."), f"{leaf:,.0f}",
            ]  # fmt: skip
            found.update(number for way in ways for number in NUMBER.findall(way))
    return found


def texts_of(block: Any) -> Iterator[str]:
    """Every text of a block, the head of a table's columns too."""
    match block:
        case Table():
            for row in block.rows:
                cells = [row.text] if isinstance(row, Band) else row
                heads = [""] if isinstance(row, Band) else [column.head for column in block.columns]
                # a label names a roll and the place of its piece: C1/2
                yield from (cell for cell, head in zip(cells, heads, strict=True) if head != "Label")
            yield from (column.head for column in block.columns)
        case Facts():  # ticks hold trade defaults, see test_tolerances_are_those_of_practice
            yield from (text for row in block.rows for text in row)
        case Points():
            yield from block.rows
        case Words() | Heading():
            yield block.text


@pytest.mark.parametrize("sheets", ["us", "metric"])
def test_every_number_of_a_paper_is_one_of_the_records(designed: Callable[..., Design], sheets: str) -> None:
    made = designed(180, sheets=sheets, more='[programme]\nstart = "2026-04-06"\nprivate_services = "none"\n')
    record = design_record(made)
    planned = programme_json(made, programme(made))[0]
    known = {one.rstrip(",") for one in told_ways({**record, "programme": planned})}
    sections = [
        (paper.kind, section)
        for paper in (field_pack(made, record, planned), hand_over(made, record, planned))
        for section in paper.sections
    ]
    assert len(sections) > 15
    drawings = [block.svg for _, one in sections for block in one.blocks if isinstance(block, Drawing)]
    known |= {scale.removeprefix("1:") for svg in drawings for scale in SCALE.findall(svg)}
    unknown = [
        (kind, section.title, text)
        for kind, section in sections
        for block in section.blocks
        for text in texts_of(block)
        for number in NUMBER.findall(text)
        if number.rstrip(",") not in known
    ]
    assert unknown == []
