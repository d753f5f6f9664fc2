"""A price book: TOML, or the builder's own spreadsheet as CSV or XLSX, to rows of prices."""

import datetime
from collections.abc import Iterator, Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

from fencewright.catalogue.currencies import digits_of
from fencewright.exchange.intake import check_file, decode, printable, read_bytes, shown
from fencewright.exchange.price_sheet import csv_rows, xlsx_rows
from fencewright.findings import InputError
from fencewright.findings.toml_faults import read_toml
from fencewright.quantity.decimals import parse_decimal
from fencewright.quantity.parse import QuantityError
from fencewright.tables.price import KINDS, PriceBook, PriceRow

TEXT_SHEETS, WORKBOOKS = (".csv", ".tsv", ".txt"), (".xlsx", ".xlsm")
_MOST_BYTES = 20_000_000
_KEYS = ("item", "size", "kind", "pack", "unit", "price", "low", "high", "date", "supplier", "currency")
_TABLES = ("item", *KINDS)
_HEAD = ("currency", "note", "date", "supplier", "rate", *_TABLES)
_MOST_TEXT = 200


def read_price_book(path: Path) -> PriceBook:
    """Read a price book.

    Parameters
    ----------
    path : Path
        `.toml`; `.csv` or `.tsv` in UTF-8; `.xlsx`, of which the first sheet with headings is read. Columns and keys:
        `item`, `size`, `kind` (material where left out), `pack` (1), `unit`, `price` of one pack, `low`, `high`,
        `date`, `supplier`; `currency` in the head of a TOML book or as a column. A row of kind `rate` is a
        production rate: `item` the work, `price` how much of it a gang does in an hour. A row of a sheet whose price
        is still empty is passed over: nobody states that price.

    Returns
    -------
    PriceBook
        Every row, in its order.

    Raises
    ------
    InputError
        The first thing that is wrong: file, row, what, and what to do.

    Notes
    -----
    Of a workbook the results that it was saved with are read; no formula is run.
    """
    check_file(path, _MOST_BYTES)
    return parse_price_book(read_bytes(path), path.name)


def parse_price_book(content: bytes, name: str) -> PriceBook:
    """Read a price book that is held in memory; `name` says by its ending what it is, errors as of `read_price_book`."""
    ending = Path(name).suffix.lower()
    if ending == ".toml":
        return _from_toml(decode(content, name, "TOML"), name)
    if ending in TEXT_SHEETS:
        rows = csv_rows(decode(content, name, "CSV"), name)
    elif ending in WORKBOOKS:
        rows = xlsx_rows(content, name)
    else:
        raise InputError(
            f"a price book ends in .toml, .csv or .xlsx, not in {shown(ending) or 'nothing'}: save it as one of these",
            file=name,
        )
    return _book(name, rows, "", "")


Rows = Iterator[tuple[str, Mapping[str, Any]]]


def _from_toml(text: str, file: str) -> PriceBook:
    data = read_toml(text, file)
    unknown = next((key for key in data if key not in _HEAD), None)
    if unknown is not None:
        raise InputError(
            f"there is no key `{shown(unknown)}` in a price book; known: {', '.join(_HEAD)}", file=file
        )
    return _book(file, _toml_rows(data, file), str(data.get("currency", "")), str(data.get("note", "")))


def _toml_rows(data: Mapping[str, Any], file: str) -> Rows:
    for table in (*_TABLES, "rate"):
        rows = data.get(table, [])
        if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
            raise InputError(f"`{table}` must be written as [[{table}]] tables", file=file)
        for number, row in enumerate(rows, start=1):
            where = f"{table} {number}"
            if table == "rate":
                yield where, _rate_row(row, file, where)
                continue
            unknown = next((key for key in row if key not in _KEYS), None)
            if unknown is not None:
                raise InputError(
                    f"there is no key `{shown(unknown)}`; known: {', '.join(_KEYS)}", file=file, item=where
                )
            kind = "material" if table == "item" else table
            yield (
                where,
                {"kind": kind, **{key: data[key] for key in ("date", "supplier") if key in data}, **row},
            )


def _rate_row(row: Mapping[str, Any], file: str, where: str) -> Mapping[str, Any]:
    if set(row) != {"work", "per_hour"}:
        raise InputError("a rate has the keys `work` and `per_hour`", file=file, item=where)
    return {"kind": "rate", "item": row["work"], "price": row["per_hour"], "unit": "per hour"}


def _book(file: str, rows: Rows, currency: str, note: str) -> PriceBook:
    prices: dict[tuple[str, ...], PriceRow] = {}
    rates: list[tuple[str, Decimal, str]] = []
    codes = {currency} - {""}
    for where, cells in rows:
        kind = _text(cells, "kind", file, where).lower() or "material"
        if kind == "rate":
            rates.append(_rate(cells, file, where))
            continue
        if _is_to_fill_in(cells):
            codes |= {_text(cells, "currency", file, where)} - {""}
            continue
        row = _row(cells, kind, file, where)
        same = (row.item.casefold(), row.size.casefold(), row.kind, row.unit.casefold())
        if same in prices:
            raise InputError(
                f"{row.item!r} has two prices, here and in {prices[same].where.split(', ')[-1]}: keep one",
                file=file,
                item=where,
            )
        prices[same] = row
        codes |= {_text(cells, "currency", file, where)} - {""}
    for code in sorted(codes):
        try:
            digits_of(code, "currency")
        except InputError as error:
            raise error.within(file=file) from error
    if len(codes) > 1:
        raise InputError(f"holds prices in {' and '.join(sorted(codes))}: keep one currency", file=file)
    if not prices and not rates:
        raise InputError("holds no prices", file=file)
    return PriceBook(file, tuple(prices.values()), next(iter(codes), ""), tuple(rates), printable(note)[:500])


def _is_to_fill_in(cells: Mapping[str, Any]) -> bool:
    """Tell a row of a sheet that names its thing and its unit, and whose price nobody has written yet."""
    filled = {key for key, value in cells.items() if value is not None and str(value).strip()}
    return "price" in cells and {"item", "unit"} <= filled and not filled & {"price", "low", "high"}


def _rate(cells: Mapping[str, Any], file: str, where: str) -> tuple[str, Decimal, str]:
    per_hour = _number(cells, "price", file, where)
    if not per_hour:
        raise InputError("a rate must be more than nothing", file=file, item=where)
    return _text(cells, "item", file, where), per_hour, f"{file}, {where}"


def _row(cells: Mapping[str, Any], kind: str, file: str, where: str) -> PriceRow:
    item = _text(cells, "item", file, where)
    if not item:
        raise InputError("has no item: name what is priced", file=file, item=where)
    if kind not in KINDS:
        raise InputError(
            f"{shown(kind)!r} is no kind of price: write one of {', '.join(KINDS)} or rate",
            file=file,
            item=where,
        )
    price = _number(cells, "price", file, where)
    if price is None:
        raise InputError(
            f"{shown(item)!r} has no price: write it, or leave the row out", file=file, item=where
        )
    pack = _number(cells, "pack", file, where)
    if pack is not None and not pack:
        raise InputError("a pack must hold more than nothing", file=file, item=f"{where}, pack")
    low, high = (_number(cells, key, file, where) for key in ("low", "high"))
    if (low is not None and low > price) or (high is not None and high < price):
        raise InputError("low, price and high must rise", file=file, item=where)
    unit = _text(cells, "unit", file, where)
    if not unit:
        raise InputError(
            f'{shown(item)!r} has no unit: write "piece", "bag", "h", "ft"', file=file, item=where
        )
    return PriceRow(
        item=item,
        unit=unit,
        price=price,
        kind=kind,
        size=_text(cells, "size", file, where),
        pack=Decimal(1) if pack is None else pack,
        low=low,
        high=high,
        date=_date(cells, file, where),
        supplier=_text(cells, "supplier", file, where),
        where=f"{file}, {where}",
    )


def _text(cells: Mapping[str, Any], key: str, file: str, where: str) -> str:
    value = cells.get(key)
    if value is None:
        return ""
    if isinstance(value, float) and value.is_integer():
        value = int(value)
    if not isinstance(value, str | int | float):
        raise InputError("is no text", file=file, item=f"{where}, {key}")
    text = printable(str(value))
    if len(text) > _MOST_TEXT:
        raise InputError(f"has {len(text)} characters: shorten it", file=file, item=f"{where}, {key}")
    return text


def _number(cells: Mapping[str, Any], key: str, file: str, where: str) -> Any:
    """A number of a row, None where the cell is empty."""
    value = cells.get(key)
    if value is None or (isinstance(value, str) and not value.strip()):
        return None
    if isinstance(value, float):
        value = round(value, 6)  # what a spreadsheet keeps of a decimal
    try:
        return parse_decimal(value, "money" if key in ("price", "low", "high") else "count")
    except QuantityError as error:
        raise InputError(str(error), file=file, item=f"{where}, {key}") from error


def _date(cells: Mapping[str, Any], file: str, where: str) -> str:
    """Date of a row as ISO, empty where it has none."""
    value = cells.get("date")
    if value is None or (isinstance(value, str) and not value.strip()):
        return ""
    if isinstance(value, datetime.datetime):
        return value.date().isoformat()
    if isinstance(value, datetime.date):
        return value.isoformat()
    try:
        return datetime.date.fromisoformat(str(value).strip()).isoformat()
    except ValueError as error:
        raise InputError(
            f"{shown(str(value))!r} is no date: write it as 2026-05-01", file=file, item=f"{where}, date"
        ) from error
