"""Prices set in a price book as its owner keeps it: what is not set stays, and the reader takes what comes out."""

import csv
import io
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.exchange.price_book import parse_price_book
from fencewright.exchange.price_book_changes import change_price_book, new_price_book
from fencewright.findings import InputError
from fencewright.tables.price import PriceBook, PriceChange, PriceRow

D = Decimal
BOOK = Path(__file__).parents[2] / "examples" / "small-paddock" / "prices.toml"
SHEET = (
    "Spring list;;;;\nArticle;Size;UOM;Unit price (EUR);Shelf\nround post;6 in x 9 ft;each;36,50;A3\n"
    "tensioner;;each;;B1\n"
)


def priced(book: PriceBook) -> dict[tuple[str, str, str], D]:
    return {(row.item, row.size, row.unit): row.price for row in book.rows}


def workbook(*rows: list[object]) -> bytes:
    made = openpyxl.Workbook()
    assert made.active is not None
    for row in rows:
        made.active.append(row)
    stream = io.BytesIO()
    made.save(stream)
    return stream.getvalue()


def test_a_toml_book_keeps_its_comments_and_every_other_line() -> None:
    before = BOOK.read_bytes()
    change = PriceChange("brace", "piece", D("19.50"), size="4.5 in x 8 ft")
    after, name = change_price_book(before, "prices.toml", [change])
    assert name == "prices.toml"
    assert after.decode().splitlines() == [
        line.replace("17.40", "19.50") if '"brace"' in line else line for line in before.decode().splitlines()
    ]


def test_a_toml_book_is_added_to_dated_and_taken_from() -> None:
    changes = [
        PriceChange("hay", "piece", D("7"), "other", date="2026-11-01"),
        PriceChange("labourer", "h", None, "labour"),
        PriceChange("fence builder", "h", D("46"), "labour", low=D("45"), high=D("50"), supplier="us"),
    ]
    book = parse_price_book(change_price_book(BOOK.read_bytes(), "prices.toml", changes)[0], "prices.toml")
    rows = {row.item: row for row in book.rows}
    assert (rows["hay"].price, rows["hay"].kind, rows["hay"].date) == (D(7), "other", "2026-11-01")
    assert "labourer" not in rows
    wage = rows["fence builder"]
    assert (wage.low, wage.price, wage.high, wage.supplier) == (D(45), D(46), D(50), "us")
    assert len(book.rows) == len(parse_price_book(BOOK.read_bytes(), "prices.toml").rows)


def test_tables_written_one_by_one_are_added_to() -> None:
    text = b'currency = "USD"\n[[labour]]\nitem = "labourer" # by the hour\nunit = "h"\nprice = 27\n'
    after, _ = change_price_book(text, "p.toml", [PriceChange("auger", "day", D("290"), "plant")])
    assert b"# by the hour" in after
    assert priced(parse_price_book(after, "p.toml")) == {
        ("labourer", "", "h"): D(27), ("auger", "", "day"): D(290),
    }  # fmt: skip


def test_a_sheet_keeps_its_columns_its_title_and_its_decimal_commas() -> None:
    changes = [
        PriceChange("round post", "each", D("38.25"), size="6 in x 9 ft"),
        PriceChange("tensioner", "each", D("11.8")),
        PriceChange("labourer", "h", D(27), "labour"),
    ]
    after, name = change_price_book(SHEET.encode(), "list.csv", changes)
    assert name == "list.csv"
    assert after.decode().splitlines() == [
        "Spring list;;;;",
        "Article;Size;UOM;Unit price (EUR);Shelf;kind",
        "round post;6 in x 9 ft;each;38.25;A3;",
        "tensioner;;each;11.8;B1;",
        "labourer;;h;27;;labour",
    ]


def test_a_book_that_was_begun_goes_on_with_rows_as_wide_as_its_headings() -> None:
    begun = new_price_book([PriceChange("round post", "piece", D("12.50"))], "USD")
    after, _ = change_price_book(
        begun,
        "prices.csv",
        [PriceChange("tensioner", "piece", D("11.8")), PriceChange("labourer", "h", D(27), "labour")],
    )
    head, *rows = list(csv.reader(io.StringIO(after.decode())))
    assert [len(row) for row in rows] == [len(head)] * 3
    assert [dict(zip(head, row, strict=True))["currency"] for row in rows] == ["USD"] * 3
    assert [dict(zip(head, row, strict=True))["pack"] for row in rows] == ["1"] * 3


def test_a_price_taken_out_of_a_sheet_leaves_its_row_to_be_filled_in() -> None:
    text = b"item,unit,price,low\npost,piece,12,11\nwire,m,3,\n"
    after, _ = change_price_book(text, "p.csv", [PriceChange("post", "piece", None)])
    assert after.decode().splitlines() == ["item,unit,price,low", "post,piece,,", "wire,m,3,"]
    again, _ = change_price_book(after, "p.csv", [PriceChange("post", "piece", D("13"))])
    assert again.decode().splitlines()[1] == "post,piece,13,"


def test_a_workbook_goes_on_as_a_sheet_of_its_name() -> None:
    given = workbook(
        ["item", "unit", "price", "pack", "currency"],
        ["line bracket", "piece", 36.25, 25, "USD"],
        ["x", "m", 2],
    )
    after, name = change_price_book(given, "prices.xlsx", [PriceChange("x", "m", D("2.5"))])
    assert name == "prices.csv"
    book = parse_price_book(after, name)
    assert book.currency == "USD"
    assert [(row.item, row.pack, row.price) for row in book.rows] == [
        ("line bracket", D(25), D("36.25")), ("x", D(1), D("2.5")),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (PriceChange("fence builder", "h", D("90"), "labour"), "low, price and high must rise"),
        (PriceChange("hay", "piece", D("7"), "other", date="soon"), "no date"),
        (PriceChange("hay", "piece", D("7"), "other", pack=D(0)), "more than nothing"),
    ],
)
def test_what_the_reader_refuses_is_refused(change: PriceChange, words: str) -> None:
    for content, name in ((BOOK.read_bytes(), "prices.toml"), (as_csv(), "prices.csv")):
        with pytest.raises(InputError, match=words):
            change_price_book(content, name, [change])


def as_csv() -> bytes:
    rows = "".join(f"{row.item},{row.size},{row.kind},{row.unit},{row.price},{row.low or ''},{row.high or ''}\n"
                   for row in parse_price_book(BOOK.read_bytes(), "p.toml").rows)  # fmt: skip
    return f"item,size,kind,unit,price,low,high\n{rows}".encode()


def test_the_last_price_cannot_be_taken_out() -> None:
    with pytest.raises(InputError, match="holds no prices"):
        change_price_book(b"item,unit,price\npost,piece,12\n", "p.csv", [PriceChange("post", "piece", None)])


names = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1, max_size=12)
figures = st.decimals(0, 99_999, places=2)


@given(st.dictionaries(names, figures, min_size=1, max_size=8))
def test_a_book_that_is_begun_says_what_was_typed(typed: dict[str, D]) -> None:
    typed = {name: price for name, price in typed.items() if name.casefold() == name}
    changes = [PriceChange(name, "piece", price, date="2026-11-26") for name, price in typed.items()]
    if not changes:
        return
    book = parse_price_book(new_price_book(changes, "EUR"), "prices.csv")
    assert book.currency == "EUR"
    assert [(row.item, row.price, row.date) for row in book.rows] == [
        (name, price, "2026-11-26") for name, price in typed.items()
    ]


def test_rows_are_found_whatever_the_case_of_their_letters() -> None:
    after, _ = change_price_book(
        b"item,unit,price\nPost,Piece,12\n", "p.csv", [PriceChange("post", "piece", D(9))]
    )
    assert parse_price_book(after, "p.csv").rows == (
        PriceRow("Post", "Piece", D(9), where="p.csv, row 2"),
    )  # fmt: skip
