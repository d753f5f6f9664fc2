"""Whatever text comes in, no spreadsheet finds a formula in a cell, and the text can be had back."""

import csv
import io
import re

from hypothesis import given
from hypothesis import strategies as st

from fencewright.exchange.sheet_columns import Heading, SheetTable
from fencewright.exchange.tables_csv import guarded_text, table_csv

STARTERS = "=+-@\uff1d\uff0b\uff0d\uff20"
risky = st.text(st.sampled_from(f"{STARTERS}'\t\r\n ;,\"a1|"), max_size=12) | st.text(max_size=20)


@given(risky)
def test_no_part_of_a_cell_starts_a_formula(text: str) -> None:
    """Also where a reader splits at semicolons, tabs or line ends, or trims blanks."""
    guarded = guarded_text(text)
    for part in re.split(r"[;\t\r\n,]", guarded):
        assert not part.lstrip(" ").startswith(tuple(STARTERS))
    assert not guarded.startswith(("\t", "\r", "\n"))


@given(risky)
def test_only_quote_marks_are_added(text: str) -> None:
    guarded = guarded_text(text)
    kept, wanted = iter(guarded), text.replace("\0", "")
    assert all(any(mark == letter for mark in kept) for letter in wanted)
    assert set(guarded) <= set(wanted) | {"'"}
    assert guarded.replace("'", "") == wanted.replace("'", "")


@given(risky)
def test_guarding_twice_changes_nothing(text: str) -> None:
    assert guarded_text(guarded_text(text)) == guarded_text(text)


@given(st.lists(risky, min_size=1, max_size=4))
def test_csv_gives_back_each_guarded_cell(cells: list[str]) -> None:
    table = SheetTable("x", tuple(Heading(f"c{row}", "text") for row in range(len(cells))), [list(cells)])
    content = table_csv(table).decode("utf-8")
    _, row = csv.reader(io.StringIO(content, newline=""))
    assert row == [guarded_text(cell).encode("utf-8", "replace").decode() for cell in cells]
