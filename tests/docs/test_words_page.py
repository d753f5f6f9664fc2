"""Every column of the tables stands in docs/words.md, and no row there names what is not."""

import dataclasses
import re
from pathlib import Path

import pytest

from fencewright.tables import (
    as_measured,
    fence,
    load,
    price,
    price_task,
    programme,
    risk,
    stake_out,
    strength,
    tension,
    top_line,
    upkeep,
)

PAGE = Path(__file__).parents[2] / "docs" / "words.md"


def columns() -> set[str]:
    """Names of all columns of the modules of tables."""
    records = [
        one
        for module in (
            as_measured,
            load,
            price,
            price_task,
            programme,
            risk,
            stake_out,
            fence,
            strength,
            tension,
            top_line,
            upkeep,
        )
        for one in vars(module).values()
        if dataclasses.is_dataclass(one) and one.__module__ == module.__name__
    ]
    return {field.name for record in records for field in dataclasses.fields(record)}


def listed() -> set[str]:
    """Names in the first cell of the page's tables, roles left out."""
    rows = re.findall(r"^\| (`[^|]*`) \|", PAGE.read_text("utf-8"), re.MULTILINE)
    return {name for row in rows for name in re.findall(r"`([^`]+)`", row)}


def test_every_column_is_in_the_words() -> None:
    assert not columns() - listed()


def test_every_word_in_the_tables_is_a_column_or_a_role() -> None:
    assert not listed() - columns() - {role.label for role in fence.Role}


@pytest.mark.parametrize("role", list(fence.Role))
def test_every_role_is_explained(role: fence.Role) -> None:
    assert f"| `{role.label}` |" in PAGE.read_text("utf-8")
