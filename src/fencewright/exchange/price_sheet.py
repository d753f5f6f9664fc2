"""Rows of a price book from a spreadsheet, CSV or XLSX: cells by the meaning of their heading."""

import csv
import io
import re
import zipfile
from collections.abc import Iterator, Sequence
from typing import Any

from fencewright.exchange.intake import shown
from fencewright.exchange.tables_csv import unguarded_text
from fencewright.findings import InputError
from fencewright.findings.csv_faults import csv_fault

Rows = Iterator[tuple[str, dict[str, Any]]]

_HEADINGS = {
    "item": ("item", "name", "description", "product", "article"),
    "size": ("size", "dimension", "dimensions"),
    "kind": ("kind", "type", "class"),
    "pack": ("pack", "per pack", "pack size", "quantity per pack"),
    "unit": ("unit", "units", "uom"),
    "price": ("price", "unit price", "pack price", "cost", "rate"),
    "low": ("low", "least", "low price"),
    "high": ("high", "most", "high price"),
    "date": ("date", "priced", "price date", "as of"),
    "supplier": ("supplier", "source", "from", "vendor"),
    "currency": ("currency",),
}
_MEANING = {word: key for key, words in _HEADINGS.items() for word in words}
_MOST_ROWS, _MOST_COLUMNS, _MOST_UNPACKED = 20_000, 100, 200_000_000
_MOST_SHEETS, _MOST_HEAD = 20, 50


def csv_rows(text: str, file: str) -> Rows:
    """Rows of a CSV file, parted by commas, semicolons (numbers may then have decimal commas) or tabs.

    Raises
    ------
    InputError
        No table, or none with the headings `item`, `unit` and `price`.
    """
    delimiter, table = csv_table(text, file)
    rows = _rows(table, file)
    return _decimal_points(rows) if delimiter == ";" else rows


def csv_table(text: str, file: str) -> tuple[str, list[tuple[int, list[str]]]]:
    """What parts the cells of a CSV file, and its records: the number of each one's last line, and its cells.

    Raises
    ------
    InputError
        It is no table, or has too many rows.
    """
    head = text.lstrip().partition("\n")[0]
    delimiter = max(",;\t", key=head.count)
    reader = csv.reader(
        io.StringIO(text, newline=""), delimiter=delimiter, skipinitialspace=True, strict=True
    )
    table: list[tuple[int, list[str]]] = []
    try:
        for row in reader:
            table.append((reader.line_num, [unguarded_text(cell) for cell in row]))
            if len(table) > _MOST_ROWS:
                raise InputError(f"it has more than {_MOST_ROWS:,} rows: keep what is priced", file=file)
    except csv.Error as error:
        raise InputError(csv_fault(error), file=file, item=f"row {reader.line_num}") from error
    return delimiter, table


def _decimal_points(rows: Rows) -> Rows:
    """Rows with decimal commas made points, where no point stands beside them."""
    for where, cells in rows:
        for key in ("price", "low", "high", "pack"):
            if isinstance(cells.get(key), str) and "." not in cells[key]:
                cells[key] = cells[key].replace(",", ".")
        yield where, cells


def xlsx_rows(content: bytes, file: str) -> Rows:
    """Rows of the first sheet of a workbook that has the headings, as it was saved: no formula is run.

    Raises
    ------
    InputError
        No workbook, one that unpacks to far more than it seems, or no table in it.
    """
    from openpyxl import load_workbook

    _refuse_swollen(content, file)
    try:
        book = load_workbook(io.BytesIO(content), read_only=True, data_only=True, keep_links=False)
        tables = [
            list(
                enumerate(
                    sheet.iter_rows(max_row=_MOST_ROWS, max_col=_MOST_COLUMNS, values_only=True), start=1
                )
            )
            for sheet in book.worksheets[:_MOST_SHEETS]
        ]
        book.close()
    except Exception as error:
        raise InputError(
            f"it is no workbook that can be read ({shown(type(error).__name__)}): save it anew as .xlsx or CSV",
            file=file,
        ) from error
    table = next((one for one in tables if head_place(one) is not None), [])
    return _rows(table, file)


def _refuse_swollen(content: bytes, file: str) -> None:
    """Refuse an archive whose parts are far larger than a price book's."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            size = sum(part.file_size for part in archive.infolist())
    except zipfile.BadZipFile as error:
        raise InputError("it is no .xlsx workbook: save it anew as .xlsx or CSV", file=file) from error
    if size > _MOST_UNPACKED:
        raise InputError(
            f"it unpacks to {size / 1e6:,.0f} MB, too much for a price book: keep what is priced", file=file
        )


def _rows(table: Sequence[tuple[int, Sequence[Any]]], file: str) -> Rows:
    """Rows below the heading that names item, unit and price; empty ones left out."""
    place = head_place(table)
    if place is None:
        raise InputError(
            "no row holds the headings `item`, `unit` and `price`: add them above the prices", file=file
        )
    return _below(table[place + 1 :], columns_of(table[place][1]))


def head_place(table: Sequence[tuple[int, Sequence[Any]]]) -> int | None:
    """Place of the first row that names item, unit and price."""
    wanted = {"item", "unit", "price"}
    return next(
        (place for place, (_, cells) in enumerate(table[:_MOST_HEAD]) if wanted <= set(columns_of(cells))),
        None,
    )


def _below(table: Sequence[tuple[int, Sequence[Any]]], columns: dict[str, int]) -> Rows:
    for number, cells in table:
        picked = {key: cells[column] for key, column in columns.items() if column < len(cells)}
        if any(value is not None and str(value).strip() for value in picked.values()):
            yield f"row {number}", picked


def columns_of(cells: Sequence[Any]) -> dict[str, int]:
    """Columns by what their heading means; the first of two alike."""
    columns: dict[str, int] = {}
    for column, cell in enumerate(cells):
        plain = re.sub(r"[(\[].*$", "", str(cell or "").replace("_", " "))
        word = " ".join(plain.split()).casefold()
        if word in _MEANING:
            columns.setdefault(_MEANING[word], column)
    return columns
