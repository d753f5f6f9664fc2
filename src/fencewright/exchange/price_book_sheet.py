"""A price book as a sheet to be filled in and read again: CSV or XLSX, a row a price, empty where it is missing."""

import csv
import datetime
import io
from collections.abc import Iterable, Sequence
from decimal import Decimal

from fencewright.exchange.tables_csv import guarded_text
from fencewright.tables.price import NeededPrice

HEADINGS = (
    "item", "size", "kind", "pack", "unit", "price", "low", "high", "date", "supplier", "currency",
)  # fmt: skip
_NUMBERS = ("pack", "price", "low", "high")
_WIDTHS = (30, 20, 11, 8, 10, 14, 12, 12, 12, 24, 10)
_SHEET = "Prices"
_SAID = (
    "Fill in the column price: of one pack, which holds so many of the unit. Then give the file to the job."
)
_CREATED = datetime.datetime(2000, 1, 1)  # fixed, for equal bytes; the format knows no zone
_OPTIONS = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
}

Rates = Sequence[tuple[str, Decimal, str]]


def decimal_text(value: Decimal | None) -> str:
    """A number as it is written in a price book, empty where there is none."""
    return "" if value is None else format(value, "f")


def price_book_csv(rows: Iterable[NeededPrice], currency: str, rates: Rates = ()) -> bytes:
    """Give a price book as CSV.

    Parameters
    ----------
    rows : iterable of NeededPrice
        One row each; the price is empty where it is None.
    currency : str
        Of every row, as its ISO 4217 code; empty: not stated.
    rates : sequence of (str, Decimal, str)
        Production rates, as of `PriceBook.rates`.

    Returns
    -------
    bytes
        UTF-8 with the headings that `read_price_book` knows. Text that a spreadsheet would take for a formula has
        a `'` before it, which the reader takes away.
    """
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    writer.writerow(HEADINGS)
    for row in rows:
        writer.writerow([guarded_text(cell) for cell in _cells(row, currency)])
    for work, per_hour, _ in rates:
        writer.writerow([work, "", "rate", "", "per hour", decimal_text(per_hour), *[""] * 5])
    return stream.getvalue().encode("utf-8", "replace")


def _cells(row: NeededPrice, currency: str) -> list[str]:
    return [
        row.item,
        row.size,
        row.kind,
        decimal_text(row.pack),
        row.unit,
        decimal_text(row.price),
        decimal_text(row.low),
        decimal_text(row.high),
        row.date,
        row.supplier,
        currency,
    ]


def price_book_xlsx(rows: Iterable[NeededPrice], currency: str, rates: Rates = ()) -> bytes:
    """Give the same as a workbook: numbers are numbers, the cells to be filled in are marked; same bytes always."""
    import xlsxwriter

    stream = io.BytesIO()
    workbook = xlsxwriter.Workbook(stream, _OPTIONS)
    workbook.set_properties({"title": _SHEET, "created": _CREATED})
    head = workbook.add_format({"bold": True, "bottom": 1})
    money = workbook.add_format({"num_format": "#,##0.00####"})
    empty = workbook.add_format(
        {"num_format": "#,##0.00####", "bg_color": "#FFF7D6", "border": 1, "border_color": "#B8A75A"}
    )
    sheet = workbook.add_worksheet(_SHEET)
    for column, width in enumerate(_WIDTHS):
        sheet.set_column(column, column, width)
    sheet.write_string(0, 0, _SAID)
    for column, name in enumerate(HEADINGS):
        sheet.write_string(2, column, name, head)
    sheet.freeze_panes(3, 1)
    sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    sheet.repeat_rows(2)
    number = 3
    for row in rows:
        for column, (name, cell) in enumerate(zip(HEADINGS, _cells(row, currency), strict=True)):
            if name == "price" and not cell:
                sheet.write_blank(number, column, None, empty)
            elif name in _NUMBERS and cell:
                sheet.write_number(number, column, float(cell), None if name == "pack" else money)
            elif cell:
                sheet.write_string(number, column, cell)
        number += 1
    for work, per_hour, _ in rates:
        sheet.write_string(number, 0, work)
        sheet.write_string(number, 2, "rate")
        sheet.write_string(number, 4, "per hour")
        sheet.write_number(number, 5, float(per_hour))
        number += 1
    workbook.close()
    return stream.getvalue()
