"""posts.csv, order.csv, rolls.csv, pulls.csv: in the units of the sheets, safe to open in a spreadsheet."""

import csv
import io
import re
from typing import Any

from fencewright.exchange.sheet_tables import (
    Cell,
    Heading,
    SheetTable,
    order_table,
    posts_table,
    pulls_table,
    rolls_table,
)

_STARTERS = "=+\\-@＝＋－＠"  # what spreadsheets read as the start of a formula, full-width forms too
_FORMULA = re.compile(rf"(^|[;\t\r\n,])(?=[ \t\r\n]*[{_STARTERS}])")
_CELL_START = re.compile(r"^(?=[\t\r\n])")


def guarded_text(text: str) -> str:
    """Text that no spreadsheet takes for a formula.

    Parameters
    ----------
    text : str
        A cell that may have come from input.

    Returns
    -------
    str
        The same, with `'` before each `= + - @` that starts it or follows a separator in it, and before a
        leading tab or line end; NUL left out.
    """
    clean = text.replace("\0", "")
    return _CELL_START.sub("'", _FORMULA.sub(r"\1'", clean))


def table_csv(table: SheetTable) -> bytes:
    """Give a table as CSV: UTF-8, lines end in CR LF, numbers with a point, unknown cells empty."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    writer.writerow([heading.name for heading in table.headings])
    writer.writerows(
        [_cell(heading, cell) for heading, cell in zip(table.headings, row, strict=True)]
        for row in table.rows
    )
    return stream.getvalue().encode("utf-8", "replace")


def _cell(heading: Heading, cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return guarded_text(cell)
    text = f"{cell:.{heading.decimals}f}"
    return text[1:] if text.startswith("-") and not text.strip("-0.") else text


def csv_files(record: dict[str, Any]) -> dict[str, bytes]:
    """Give the CSV files of a design by name, from the record of design.json."""
    tables = {
        "posts.csv": posts_table,
        "order.csv": order_table,
        "rolls.csv": rolls_table,
        "pulls.csv": pulls_table,
    }
    return {name: table_csv(make(record)) for name, make in tables.items()}
