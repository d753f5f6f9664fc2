"""The tables of `CSV_TABLES` as files: in the units of the sheets, safe to open in a spreadsheet."""

import csv
import io
import re
from collections.abc import Callable, Mapping
from typing import Any

from fencewright.exchange.sheet_columns import Cell, Heading, SheetTable
from fencewright.exchange.sheet_stake_out import load_table, stake_out_table
from fencewright.exchange.sheet_strength import checks_table, tension_table
from fencewright.exchange.sheet_tables import (
    order_table,
    posts_table,
    pulls_table,
    rolls_table,
)
from fencewright.findings.cautions import STRENGTH_CAUTIONS

_STARTERS = "=+\\-@＝＋－＠"  # what spreadsheets read as the start of a formula, full-width forms too
_FORMULA = re.compile(rf"(^|[;\t\r\n,])(?=[ \t\r\n]*[{_STARTERS}])")
_CELL_START = re.compile(r"^(?=[\t\r\n])")
_GUARD = re.compile(rf"(^|[;\t\r\n,])'(?=[ \t\r\n]*[{_STARTERS}])")


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


def unguarded_text(text: str) -> str:
    """Text without the `'` that `guarded_text` puts before what a spreadsheet would take for a formula."""
    return _GUARD.sub(r"\1", text)


def table_csv(table: SheetTable) -> bytes:
    """Give a table as CSV: UTF-8, lines end in CR LF, numbers with a point, unknown cells empty."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    writer.writerow([heading.name for heading in table.headings])
    columns = zip(*table.rows, strict=True)
    texts = [_cells(heading, cells) for heading, cells in zip(table.headings, columns, strict=False)]
    writer.writerows(zip(*texts, strict=True))
    return stream.getvalue().encode("utf-8", "replace")


def _cells(heading: Heading, cells: tuple[Cell, ...]) -> list[str]:
    """Give a column as text."""
    if heading.kind == "text":
        guarded = {text: guarded_text(str(text)) for text in set(cells)}
        return [guarded[cell] for cell in cells]
    if heading.kind == "amount":
        return [
            "" if cell is None else f"{cell:.{heading.decimals}f}".rstrip("0").rstrip(".") for cell in cells
        ]
    nought = f"{-0.0:.{heading.decimals}f}"
    texts = ["" if cell is None else f"{cell:.{heading.decimals}f}" for cell in cells]
    return [text[1:] if text == nought else text for text in texts]


CSV_TABLES: Mapping[str, Callable[[dict[str, Any]], SheetTable]] = {
    "posts.csv": posts_table,
    "order.csv": order_table,
    "rolls.csv": rolls_table,
    "pulls.csv": pulls_table,
    "tension.csv": tension_table,
    "checks.csv": checks_table,
    "stake-out.csv": stake_out_table,
    "load.csv": load_table,
}


_HOLDING = ("posts.csv", "tension.csv", "checks.csv")  # files with numbers of strength or tension


def csv_file(name: str, record: dict[str, Any]) -> bytes:
    """Give one of `CSV_TABLES` as bytes, from the record of design.json.

    Where it holds numbers of strength or tension its last column is `caution`, in words in the first row.
    """
    table = CSV_TABLES[name](record)
    return table_csv(_cautioned(table) if name in _HOLDING else table)


def _cautioned(table: SheetTable) -> SheetTable:
    """Add the column `caution`; its words stand in the first row alone, for a fence may have 1e5 posts."""
    words = [" ".join(STRENGTH_CAUTIONS), *[""] * (len(table.rows) - 1)]
    rows = [[*row, said] for row, said in zip(table.rows, words, strict=False)]
    return SheetTable(table.title, (*table.headings, Heading("caution", "text")), rows)


def csv_files(record: dict[str, Any]) -> dict[str, bytes]:
    """Give the CSV files of a design by name, from the record of design.json."""
    return {name: csv_file(name, record) for name in CSV_TABLES}
