"""Prices of a job kept from the page: in its price book, row by row where two windows set them at once."""

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from fencewright.desk.price_books import BookKept, set_prices, use_price_book
from fencewright.edits.applying import apply_edit
from fencewright.edits.requests import OnePrice, SetPrices
from fencewright.exchange.price_book import parse_price_book
from fencewright.findings import InputError
from fencewright.findings.file_faults import NO_FILE
from fencewright.job.reading import parse_job
from fencewright.store.records import Made, State
from fencewright.tables.price import PriceRow

if TYPE_CHECKING:
    from fencewright.server.service import Service

Key = tuple[str, str, str, str]


def keep_prices(
    service: "Service",
    id: str,  # noqa: A002  # as the store names it
    base: int,
    window: str,
    edit: SetPrices,
) -> tuple[State, tuple[str, ...]]:
    """Set prices of a job as one revision.

    Raises
    ------
    InputError
        The reader of price books would refuse it; `field` says which of the prices.
    Clash
        Another window has set one of these prices since.

    Notes
    -----
    The file is one thing to the store: where another window has set other rows of it since, the prices are set in
    the book as it is now.
    """
    with service.locks[id]:
        asked_of, present = service.store.state(id, base), service.store.state(id)
        if present.job.head != base and _is_apart(service, asked_of, present, edit):
            asked_of = present
        made = _made(service, asked_of, edit)
        add = {made.name: made.content}
        name = made.applied.asked.job.name
        kept = Made(asked_of.revision.number, made.applied.text, made.applied.label, name, window, add)
        accepted = service.store.accept(id, kept)
        service.follow(accepted.state, window)
    return accepted.state, accepted.merged_with


def _made(service: "Service", state: State, edit: SetPrices) -> BookKept:
    def content_of(path: str) -> bytes:
        if path not in state.files:
            raise InputError(NO_FILE, file=path, item="price, book")
        return service.store.content(state.files[path])

    return set_prices(state.text, edit, content_of, state.files)


def _is_apart(service: "Service", before: State, now: State, edit: SetPrices) -> bool:
    """Whether nothing that is to be set was changed between two states."""
    was, has = _rows(service, before), _rows(service, now)
    return all(was.get(key) == has.get(key) for key in map(_key, edit.prices))


def _rows(service: "Service", state: State) -> Mapping[Key, PriceRow]:
    """Rows of a state's price book, wherever in it they stand."""
    name = parse_job(state.text).price.book
    if name not in state.files:
        return {}
    book = parse_price_book(service.store.content(state.files[name]), name)
    return {_key(row): replace(row, where="") for row in book.rows}


def _key(row: OnePrice | PriceRow) -> Key:
    return row.item.casefold(), row.size.casefold(), row.kind, row.unit.casefold()


def use_book(
    service: "Service",
    id: str,  # noqa: A002  # as the store names it
    base: int,
    window: str,
    given: tuple[str, bytes],
) -> tuple[State, tuple[str, ...]]:
    """Give a job its price book: the file and its name in the job, as one revision; errors as of `use_price_book`."""
    name, content = given
    state = service.store.state(id, base)
    use_price_book(service.read(state), name, content)
    made = apply_edit(state.text, {"kind": "set", "path": ["price", "book"], "value": name})
    kept = Made(base, made.text, f"take the prices from {name}", made.asked.job.name, window, {name: content})
    with service.locks[id]:
        accepted = service.store.accept(id, kept)
        service.follow(accepted.state, window)
    return accepted.state, accepted.merged_with
