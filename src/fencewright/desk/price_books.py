"""A job's price book as it is set price by price, given whole, or begun: the job's text and the file after it."""

from collections.abc import Callable, Container
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import PurePosixPath
from typing import Any

from fencewright.edits.applying import Applied, apply_edit
from fencewright.edits.requests import OnePrice, SetPrices
from fencewright.exchange.price_book import parse_price_book
from fencewright.exchange.price_book_changes import change_price_book, new_price_book
from fencewright.exchange.price_book_sheet import price_book_csv, price_book_xlsx
from fencewright.findings import InputError
from fencewright.job.reading import parse_job
from fencewright.job.record import Job
from fencewright.pipeline.pricing import price_settings
from fencewright.pipeline.why_price import Priced
from fencewright.price.estimate import currency_of, own_rates
from fencewright.price.needed import needed_prices, rows_to_fill_in
from fencewright.quantity.decimals import parse_decimal
from fencewright.quantity.parse import QuantityError
from fencewright.tables.price import NeededPrice, PriceBook, PriceChange

NEW_BOOK = "prices.csv"
_FIGURES = ("price", "pack", "low", "high")


@dataclass(frozen=True, slots=True)
class BookKept:
    """A job after its prices were set: what was applied to its text, and the price book's `name` and `content`."""

    applied: Applied
    name: str
    content: bytes


def price_changes(edit: SetPrices) -> tuple[PriceChange, ...]:
    """Read what is to be set.

    Raises
    ------
    InputError
        A figure that is no price; `field` says which: `("prices", 3, "price")`.
    """
    return tuple(_change(one, number) for number, one in enumerate(edit.prices))


def _change(one: OnePrice, number: int) -> PriceChange:
    read: dict[str, Any] = {}
    for key in _FIGURES:
        figure = getattr(one, key)
        if figure is None or not str(figure).strip():
            continue
        try:
            read[key] = parse_decimal(figure, "count" if key == "pack" else "money")
        except QuantityError as error:
            raise InputError(str(error), item=_name(one), field=("prices", number, key)) from error
    return PriceChange(
        one.item, one.unit, read.get("price"), one.kind, one.size, read.get("pack"), read.get("low"),
        read.get("high"), one.date, one.supplier,
    )  # fmt: skip


def _name(one: OnePrice | PriceChange) -> str:
    return f"{one.item} {one.size}".strip()


def set_prices(
    text: str, edit: SetPrices, content_of: Callable[[str], bytes], held: Container[str]
) -> BookKept:
    """Set prices in a job's price book; where the job names none, one is begun and named.

    Parameters
    ----------
    text : str
        The job file.
    edit : SetPrices
        The prices.
    content_of : callable
        Gives a file of the job.
    held : container of str
        Names of the job's files: none of them is written over by a new book.

    Returns
    -------
    BookKept

    Raises
    ------
    InputError
        A figure, a date or a unit that no price book can have, in the reader's own words; no currency.
    """
    asked = parse_job(text).price
    changes = price_changes(edit)
    try:
        if asked.book:
            content, name = change_price_book(content_of(asked.book), asked.book, changes)
            if name != asked.book:
                name = _free_name(name, held)
        else:
            name = _free_name(NEW_BOOK, held)
            content = new_price_book(changes, _currency(asked.currency, name))
            parse_price_book(content, name)
    except InputError as error:
        if error.field:
            raise
        place = ("prices", 0, "price") if len(changes) == 1 else ()
        raise InputError(error.what, file=error.file, item=error.item, field=place) from error
    applied = _naming(text, name) if name != asked.book else Applied(text, parse_job(text), "")
    return BookKept(replace(applied, label=_label(changes)), name, content)


def _naming(text: str, name: str) -> Applied:
    return apply_edit(text, {"kind": "set", "path": ["price", "book"], "value": name})


def _currency(stated: str | None, name: str) -> str:
    if stated:
        return stated
    raise InputError(
        f'neither the job nor {name} says in which currency it is: set [price] currency, as "USD"',
        item="price, currency",
        field=("price", "currency"),
    )


def _free_name(name: str, held: Container[str]) -> str:
    """A name that no file of the job has: `prices.csv`, else `prices-2.csv`, ..."""
    path, number = PurePosixPath(name), 1
    while name in held:
        number += 1
        name = str(path.with_stem(f"{path.stem}-{number}"))
    return name


def _label(changes: tuple[PriceChange, ...]) -> str:
    first = changes[0]
    if len(changes) > 1:
        return f"set {len(changes)} prices"
    return f"{'take out' if first.price is None else 'set'} the price of {_name(first)}"


def use_price_book(job: Job, name: str, content: bytes) -> PriceBook:
    """Read a price book that is given to a job, and see that the job can be priced with it.

    Raises
    ------
    InputError
        The book is wrong, is in another currency than the job, or neither says in which; a rate for no known work.
    """
    book = parse_price_book(content, name)
    settings, _ = price_settings(job)
    currency_of(settings, book)
    own_rates(settings, book)
    return book


def starter_book(priced: Priced, name: str) -> bytes:
    """Give a price book to be filled in: what the job's own has, and each thing without a price with an empty one.

    Parameters
    ----------
    priced : Priced
        The job's price, with the book that it was reckoned from.
    name : str
        Ends in `.csv` or `.xlsx`.
    """
    price, book = priced.price, priced.book
    rows = rows_to_fill_in(needed_prices(price, book), book)
    write = price_book_xlsx if name.endswith(".xlsx") else price_book_csv
    return write(rows, price.currency, book.rates if book else ())


def needed_record(one: NeededPrice, digits: int) -> dict[str, Any]:
    """A price that is needed, as the page is told of it; money with at least the `digits` of its minor unit."""
    return {
        "item": one.item,
        "size": one.size,
        "kind": one.kind,
        "unit": one.unit,
        "pack": _shown(one.pack),
        "price": _shown(one.price, digits),
        "low": _shown(one.low, digits),
        "high": _shown(one.high, digits),
        "date": one.date,
        "supplier": one.supplier,
        "where": one.where,
        "why": one.why,
        "quantity": float(one.quantity),
        "used_for": list(one.used_for),
    }


def _shown(value: Decimal | None, digits: int = 0) -> str | None:
    if value is None:
        return None
    places = max(digits, -int(value.normalize().as_tuple().exponent))
    return f"{value:.{places}f}"
