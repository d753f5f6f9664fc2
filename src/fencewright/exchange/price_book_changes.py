"""Prices set in a price book as its owner keeps it: TOML with its comments, a CSV sheet with its own columns."""

import csv
import datetime
import io
from collections.abc import Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from fencewright.edits.document import add_row, remove_row, set_key
from fencewright.exchange.intake import decode
from fencewright.exchange.price_book import TEXT_SHEETS, WORKBOOKS, parse_price_book
from fencewright.exchange.price_book_sheet import decimal_text, price_book_csv
from fencewright.exchange.price_sheet import columns_of, csv_table, head_place
from fencewright.exchange.tables_csv import guarded_text
from fencewright.findings.toml_faults import toml_refusal
from fencewright.price.needed import rows_of_book
from fencewright.tables.price import NeededPrice, PriceChange, PriceRow

Found = tuple[PriceChange, PriceRow | None]


def change_price_book(content: bytes, name: str, changes: Sequence[PriceChange]) -> tuple[bytes, str]:
    """Set prices in a price book.

    Parameters
    ----------
    content : bytes
        The book as it is.
    name : str
        Its file name, whose ending says what it is.
    changes : sequence of PriceChange
        What is to be set, added and taken out.

    Returns
    -------
    content : bytes
        The book after it, read once more: its own reader takes it.
    name : str
        The same name; that of a workbook ends in `.csv` instead, since its formulas cannot be kept by a change.

    Raises
    ------
    InputError
        The book cannot be read, or could not be read after the change.

    Notes
    -----
    Comments and columns that mean nothing to the program stay. Production rates stay.
    """
    book = parse_price_book(content, name)
    if Path(name).suffix.lower() in WORKBOOKS:
        name = str(Path(name).with_suffix(".csv"))
        content = price_book_csv(rows_of_book(book), book.currency, book.rates)
        book = parse_price_book(content, name)
    rows = {_key(row): row for row in book.rows}
    found = [(change, rows.get(_key(change))) for change in changes]
    is_sheet = Path(name).suffix.lower() in TEXT_SHEETS
    changed = _in_sheet(content, name, found, book.currency) if is_sheet else _in_toml(content, name, found)
    parse_price_book(changed, name)
    return changed, name


def _key(row: PriceChange | PriceRow) -> tuple[str, str, str, str]:
    return row.item.casefold(), row.size.casefold(), row.kind, row.unit.casefold()


def _cells(change: PriceChange) -> dict[str, str]:
    """What a change writes into the cells of a row beside those that name it; left out: stays."""
    if change.price is None:
        return {"price": "", "low": "", "high": ""}
    numbers = {"pack": change.pack, "price": change.price, "low": change.low, "high": change.high}
    texts = {"date": change.date, "supplier": change.supplier}
    written = {key: decimal_text(value) for key, value in numbers.items() if value is not None}
    return written | {key: text for key, text in texts.items() if text is not None}


def _in_toml(content: bytes, name: str, found: Sequence[Found]) -> bytes:
    text = decode(content, name, "TOML")
    try:
        document = tomlkit.parse(text)
    except (TOMLKitError, RecursionError) as error:
        raise toml_refusal(text, name) from error
    gone: list[tuple[str, int]] = []
    for change, row in found:
        if row is None:
            continue
        table, number = _place(row)
        if change.price is None:
            gone.append((table, number))
            continue
        for key, cell in _cells(change).items():
            set_key(document, (table, number, key), _toml_cell(key, cell))
    for table, number in sorted(gone, reverse=True):
        remove_row(document, table, number)
    for change, row in found:
        if row is None and change.price is not None:
            named = {"item": change.item, "size": change.size, "unit": change.unit, **_cells(change)}
            values = {key: _toml_cell(key, cell) for key, cell in named.items() if cell}
            add_row(document, change.kind, values)
    return tomlkit.dumps(document).encode()


def _place(row: PriceRow) -> tuple[str, int]:
    """Table and number from 0 of a row: its place is told as `prices.toml, material 3`."""
    table, _, number = row.where.rpartition(", ")[2].rpartition(" ")
    return table, int(number) - 1


def _toml_cell(key: str, cell: str) -> Any:
    """A cell as TOML has it; None takes its key out."""
    if not cell:
        return None
    if key in ("pack", "price", "low", "high"):
        return tomlkit.value(cell)  # as it was written: 12.50
    if key != "date":
        return cell
    try:
        return datetime.date.fromisoformat(cell)
    except ValueError:
        return cell  # the reader says what is wrong with it


def _in_sheet(content: bytes, name: str, found: Sequence[Found], currency: str) -> bytes:
    """A price that is taken out leaves its row, to be filled in again; every row is as wide as the headings."""
    delimiter, table = csv_table(decode(content, name, "CSV"), name)
    place = head_place(table) or 0
    head = table[place][1]
    columns = columns_of(head)
    by_line = {f"{name}, row {line}": cells for line, cells in table}
    for change, row in found:
        if row is None and change.price is None:
            continue
        cells = by_line[row.where] if row else _row_to_fill_in(table[place + 1 :], columns, change)
        if cells is None:
            usual = {"pack": "1", "currency": currency}  # a new row says what the sheet's others say
            cells = [""] * len(head)
            _fill(cells, head, columns, {key: cell for key, cell in usual.items() if key in columns})
            table.append((0, cells))
        _fill(cells, head, columns, _cells(change) if row else _full(change))
    for _, cells in table[place + 1 :]:
        if cells:  # an empty line stays one
            cells.extend([""] * (len(head) - len(cells)))
    stream = io.StringIO(newline="")
    rows = ([guarded_text(cell) for cell in cells] for _, cells in table)
    csv.writer(stream, delimiter=delimiter).writerows(rows)
    return stream.getvalue().encode()


def _row_to_fill_in(
    table: Sequence[tuple[int, list[str]]], columns: Mapping[str, int], change: PriceChange
) -> list[str] | None:
    """The row that names a thing and its unit and has no price yet."""
    wanted = tuple(getattr(change, key).casefold() for key in ("item", "size", "unit")) + ("",)
    places = [columns.get(key) for key in ("item", "size", "unit", "price")]
    for _, cells in table:
        texts = ["" if at is None or at >= len(cells) else cells[at].strip().casefold() for at in places]
        if tuple(texts) == wanted:
            return cells
    return None


def _full(change: PriceChange) -> dict[str, str]:
    """Every cell of a new row; a material is what a row without a kind is."""
    kind = "" if change.kind == "material" else change.kind
    named = {"item": change.item, "size": change.size, "kind": kind, "unit": change.unit}
    return named | _cells(change)


def _fill(cells: list[str], head: list[str], columns: dict[str, int], written: Mapping[str, str]) -> None:
    """Write cells of a row; a column that the sheet has not is added to its headings."""
    for key, cell in written.items():
        if key not in columns:
            if not cell:
                continue
            columns[key] = len(head)
            head.append(key)
        cells.extend([""] * (columns[key] + 1 - len(cells)))
        cells[columns[key]] = cell


def new_price_book(changes: Sequence[PriceChange], currency: str) -> bytes:
    """Give a price book of these prices alone, as CSV."""
    rows = [
        NeededPrice(
            one.item, one.size, one.kind, one.unit, Decimal(1) if one.pack is None else one.pack, one.price,
            Decimal(0), (), one.low, one.high, one.date or "", one.supplier or "",
        )
        for one in changes
        if one.price is not None
    ]  # fmt: skip
    return price_book_csv(rows, currency)
