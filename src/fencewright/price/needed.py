"""The prices that a job is paid by: one row a price, known or still missing, whatever number of lines it pays."""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from fencewright.price.lines import source_words
from fencewright.tables.price import NeededPrice, Price, PriceBook, PriceLine, PriceRow

_OWN = "the job"  # source of a price that the job states itself
Key = tuple[str, str, str]


def needed_prices(price: Price, book: PriceBook | None) -> tuple[NeededPrice, ...]:
    """List the prices that a job is paid by.

    Parameters
    ----------
    price : Price
        The job's price.
    book : PriceBook, optional
        The one that it was reckoned with.

    Returns
    -------
    tuple of NeededPrice
        In the order of the price's lines. Lines that are paid by one row of the book, or that lack the same price
        (all hours of a trade), are one.
    """
    rows = {source_words(row): row for row in book.rows} if book else {}
    missing = {one.id: one for one in price.missing}
    found: dict[Key, NeededPrice] = {}
    for line in price.lines:
        lacking = missing.get(line.id)
        if lacking is not None:
            is_its_own = lacking.item == f"{line.item} {line.size}".strip()
            item, size = (line.item, line.size) if is_its_own else (lacking.item, "")
            one = _of_line(line, PriceRow(item, lacking.unit, Decimal(0), line.kind, size))
            one = replace(one, price=None, quantity=lacking.quantity, why=lacking.why)
        elif line.source in rows:
            one = _of_line(line, rows[line.source])
        else:
            own = PriceRow(
                line.item, line.unit, line.pack_price or Decimal(0), line.kind, line.size, line.pack
            )
            one = replace(_of_line(line, own), where=_OWN)
        key = (
            one.where or f"{one.item} {one.size}".casefold(),
            one.unit,
            line.id if one.where == _OWN else "",
        )
        found[key] = _joined(found[key], one) if key in found else one
    return tuple(found.values())


def _of_row(row: PriceRow, quantity: Decimal, used_for: tuple[str, ...]) -> NeededPrice:
    return NeededPrice(
        item=row.item,
        size=row.size,
        kind=row.kind,
        unit=row.unit,
        pack=row.pack,
        price=row.price,
        quantity=quantity,
        used_for=used_for,
        low=row.low,
        high=row.high,
        date=row.date,
        supplier=row.supplier,
        where=row.where,
    )


def _of_line(line: PriceLine, row: PriceRow) -> NeededPrice:
    return _of_row(row, line.quantity, (line.item,))


def _joined(first: NeededPrice, more: NeededPrice) -> NeededPrice:
    uses = tuple(dict.fromkeys((*first.used_for, *more.used_for)))
    return replace(first, quantity=first.quantity + more.quantity, used_for=uses)


def rows_of_book(book: PriceBook) -> tuple[NeededPrice, ...]:
    """Rows of a price book, to be written; no quantity goes with them."""
    return tuple(_of_row(row, Decimal(0), ()) for row in book.rows)


def rows_to_fill_in(needed: Iterable[NeededPrice], book: PriceBook | None) -> tuple[NeededPrice, ...]:
    """Rows of a price book to be filled in: all that the book has, then what it lacks, without a price."""
    return (*(rows_of_book(book) if book else ()), *(one for one in needed if one.price is None))
