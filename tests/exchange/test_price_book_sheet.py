"""A price book to fill in: the program's own reader and other libraries read what was written."""

import csv
import io
from decimal import Decimal
from pathlib import Path

import openpyxl
import pyogrio.raw
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.exchange.price_book import parse_price_book
from fencewright.exchange.price_book_sheet import HEADINGS, price_book_csv, price_book_xlsx
from fencewright.findings import InputError
from fencewright.tables.price import NeededPrice, PriceRow

D = Decimal


def row(item: str, price: Decimal | None, **more: object) -> NeededPrice:
    given: dict[str, object] = {"size": "", "kind": "material", "unit": "piece", "pack": D(1)}
    return NeededPrice(item, price=price, quantity=D(1), used_for=(), **{**given, **more})  # type: ignore[arg-type]


ROWS = (
    row("round post", D("36.50"), size="6 in x 9 ft", date="2026-09-01", supplier="a yard, north"),
    row("line bracket", D("36.25"), pack=D(25)),
    row("fence builder", D(38), kind="labour", unit="h", low=D(36), high=D("44.5")),
    row("gate leaf", None, size="11.5 ft"),
)
RATES = (("stake out", D(30), ""),)
READ = [
    PriceRow("round post", "piece", D("36.5"), "material", "6 in x 9 ft", D(1), None, None, "2026-09-01", "a yard, north"),
    PriceRow("line bracket", "piece", D("36.25"), "material", "", D(25)),
    PriceRow("fence builder", "h", D(38), "labour", "", D(1), D(36), D("44.5")),
]  # fmt: skip


@pytest.mark.parametrize("name", ["prices.csv", "prices.xlsx"])
def test_its_own_reader_reads_what_has_a_price(name: str) -> None:
    write = price_book_csv if name.endswith("csv") else price_book_xlsx
    book = parse_price_book(write(ROWS, "USD", RATES), name)
    assert [(*_cells(one),) for one in book.rows] == [(*_cells(one),) for one in READ]
    assert book.currency == "USD"
    assert [(work, per_hour) for work, per_hour, _ in book.rates] == [("stake out", D(30))]


def _cells(one: PriceRow) -> tuple[object, ...]:
    return (
        one.item,
        one.size,
        one.kind,
        one.pack,
        one.unit,
        one.price,
        one.low,
        one.high,
        one.date,
        one.supplier,
    )


@pytest.mark.parametrize("name", ["prices.csv", "prices.xlsx"])
def test_another_library_finds_every_cell_and_the_empty_price(name: str, tmp_path: Path) -> None:
    write = price_book_csv if name.endswith("csv") else price_book_xlsx
    (tmp_path / name).write_bytes(write(ROWS, "USD"))
    meta, _, _, columns = pyogrio.raw.read(tmp_path / name)
    table = [[text or "" for text in cells] for cells in zip(*columns, strict=True)]
    if name.endswith("csv"):
        assert tuple(meta["fields"]) == HEADINGS
    else:
        assert tuple(table[2]) == HEADINGS
        table = table[3:]
    numbers = [[float(text) if text else None for text in cells[5:8]] for cells in table]
    assert numbers == [[36.5, None, None], [36.25, None, None], [38, 36, 44.5], [None, None, None]]
    assert [[*cells[:5], *cells[8:]] for cells in table] == [
        ["round post", "6 in x 9 ft", "material", "1", "piece", "2026-09-01", "a yard, north", "USD"],
        ["line bracket", "", "material", "25", "piece", "", "", "USD"],
        ["fence builder", "", "labour", "1", "h", "", "", "USD"],
        ["gate leaf", "11.5 ft", "material", "1", "piece", "", "", "USD"],
    ]


def test_a_workbook_filled_in_elsewhere_is_read() -> None:
    book = openpyxl.load_workbook(io.BytesIO(price_book_xlsx(ROWS, "EUR")))
    assert book.active is not None
    book.active.cell(7, 6).value = 289.9
    stream = io.BytesIO()
    book.save(stream)
    read = parse_price_book(stream.getvalue(), "back.xlsx")
    assert [(one.item, one.price) for one in read.rows][-1] == ("gate leaf", D("289.9"))
    assert read.currency == "EUR"


@pytest.mark.parametrize("name", ["prices.csv", "prices.xlsx"])
def test_a_book_given_back_empty_holds_no_prices(name: str) -> None:
    write = price_book_csv if name.endswith("csv") else price_book_xlsx
    with pytest.raises(InputError, match="holds no prices"):
        parse_price_book(write(ROWS[3:], "USD"), name)


@pytest.mark.parametrize("write", [price_book_csv, price_book_xlsx])
def test_the_same_rows_give_the_same_bytes(write: object) -> None:
    assert callable(write)
    assert write(ROWS, "USD", RATES) == write(ROWS, "USD", RATES)


STARTS = st.sampled_from(["=1+1", "-2", "@x", "+3", "a,=b", "\uff1dx", "plain", "a; -1", "it's", '"q"'])


@given(st.lists(STARTS, min_size=1, unique=True))
def test_names_that_look_like_formulas_come_back_and_stand_guarded(names: list[str]) -> None:
    rows = [row(name, D(1)) for name in names]
    text = price_book_csv(rows, "USD").decode()
    read = parse_price_book(text.encode(), "prices.csv")
    assert [one.item for one in read.rows] == names
    assert not any(
        cells[0].startswith(("=", "-", "+", "@", "\uff1d")) for cells in csv.reader(io.StringIO(text))
    )
