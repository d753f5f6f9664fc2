"""Price books in TOML, CSV and XLSX: what they hold, and one sentence for whatever is wrong."""

import datetime
import io
import re
import tempfile
import zipfile
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.exchange.price_book import read_price_book
from fencewright.findings import InputError
from fencewright.tables.price import PriceBook, PriceRow

D = Decimal
TOML = """
currency = "USD"
note = "invented"
date = 2026-09-01
[[item]]
item = "round post"
size = "6 in x 9 ft"
unit = "piece"
price = 36.50
supplier = "a yard"
[[labour]]
item = "fence builder"
unit = "h"
price = "38"
low = 36
high = 44
date = 2026-08-01
[[rate]]
work = "stake out"
per_hour = 30
"""
CSV = (
    "My prices\n\nItem,Size,Kind,Pack,Unit,Price,Date,Supplier,Currency\n"
    "round post,6 in x 9 ft,,,piece,36.50,2026-09-01,a yard,USD\n"
    "bracket screw,,material,100,piece,14.50,,,\n"
    "fence builder,,labour,,h,38,,,\n"
    "stake out,,rate,,per hour,30,,,\n"
)


def book(tmp_path: Path, content: str | bytes, name: str = "prices.toml") -> PriceBook:
    path = tmp_path / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return read_price_book(path)


def workbook(rows: list[list[object]]) -> bytes:
    made = openpyxl.Workbook()
    for row in rows:
        made.active.append(row)
    stream = io.BytesIO()
    made.save(stream)
    return stream.getvalue()


def refused(tmp_path: Path, content: str | bytes, name: str = "prices.toml") -> str:
    with pytest.raises(InputError) as said:
        book(tmp_path, content, name)
    text = str(said.value)
    assert text.startswith(name)
    assert "\n" not in text
    return text


def test_a_toml_book(tmp_path: Path) -> None:
    made = book(tmp_path, TOML)
    assert (made.name, made.currency, made.note) == ("prices.toml", "USD", "invented")
    assert made.rows[0] == PriceRow(
        "round post", "piece", D("36.50"), "material", "6 in x 9 ft", D(1), None, None, "2026-09-01", "a yard",
        "prices.toml, item 1",
    )  # fmt: skip
    wage = made.rows[1]
    assert (wage.kind, wage.price, wage.low, wage.high, wage.date) == (
        "labour",
        D(38),
        D(36),
        D(44),
        "2026-08-01",
    )
    assert made.rates == (("stake out", D(30), "prices.toml, rate 1"),)


def test_a_csv_book_below_a_title(tmp_path: Path) -> None:
    made = book(tmp_path, CSV, "prices.csv")
    assert [(row.item, row.kind, row.pack, row.price) for row in made.rows] == [
        ("round post", "material", D(1), D("36.50")),
        ("bracket screw", "material", D(100), D("14.50")),
        ("fence builder", "labour", D(1), D("38")),
    ]
    assert made.currency == "USD"
    assert made.rows[0].where == "prices.csv, row 4"
    assert made.rates[0][:2] == ("stake out", D(30))


def test_semicolons_and_decimal_commas(tmp_path: Path) -> None:
    made = book(tmp_path, "item;unit;price;currency\nPfosten;piece;12,50;EUR\n", "preise.csv")
    assert (made.rows[0].price, made.currency) == (D("12.50"), "EUR")


def test_a_workbook_with_dates_floats_and_saved_results(tmp_path: Path) -> None:
    rows: list[list[object]] = [
        ["Prices"],
        ["Item", "Pack", "Unit", "Price", "Date", "Currency"],
        ["line bracket", 25, "piece", 36.25, datetime.date(2026, 9, 1), "USD"],
        ["tensioner", None, "each", 0.1 + 0.2, datetime.datetime(2026, 9, 2), None],
    ]
    made = book(tmp_path, workbook(rows), "prices.xlsx")
    assert [(row.price, row.pack, row.date) for row in made.rows] == [
        (D("36.25"), D(25), "2026-09-01"),
        (D("0.3"), D(1), "2026-09-02"),
    ]


def test_the_first_sheet_with_headings_is_read_and_brackets_in_a_heading_are_left_out(tmp_path: Path) -> None:
    made = openpyxl.Workbook()
    made.active.append(["Our prices, spring"])
    sheet = made.create_sheet("list")
    for row in (["Item", "UOM", "Unit price (USD)", "Currency"], ["tensioner", "ea", 11.8, "USD"]):
        sheet.append(row)
    stream = io.BytesIO()
    made.save(stream)
    (only,) = book(tmp_path, stream.getvalue(), "prices.xlsx").rows
    assert (only.item, only.unit, only.price) == ("tensioner", "ea", D("11.8"))


def test_toml_csv_and_xlsx_give_the_same_rows(tmp_path: Path) -> None:
    rows = [line.split(",") for line in CSV.splitlines()[2:]]
    made = [
        book(tmp_path, CSV, "prices.csv"),
        book(tmp_path, workbook([list(row) for row in rows]), "prices.xlsx"),
    ]
    shown = [[(row.item, row.size, row.kind, row.pack, row.price) for row in one.rows] for one in made]
    assert shown[0] == shown[1]


def test_a_formula_without_a_saved_result_is_no_price(tmp_path: Path) -> None:
    said = refused(tmp_path, workbook([["item", "unit", "price"], ["post", "piece", "=1+1"]]), "prices.xlsx")
    assert "no price" in said


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (("36.50", '"about 36"'), "no price"),
        (("36.50", '"36 $"'), "no price"),
        (("36.50", "-3"), "less than nothing"),
        (("36.50", "nan"), "no price"),
        (("36.50", "1e300"), "too many digits"),
        (("36.50", "true"), "no price"),
        (('unit = "piece"\n', ""), "no unit"),
        (("price = 36.50\n", ""), "no price: write it"),
        (('size = "6', 'sizes = "6'), "no key `sizes`"),
        (("[[item]]", "[[goods]]"), "no key `goods`"),
        (('"USD"', '"USB"'), "no currency 'USB'"),
        (("low = 36", "low = 50"), "must rise"),
        (("per_hour = 30", "per_hour = 0"), "more than nothing"),
        (("2026-08-01", '"August"'), "no date"),
        (
            (
                '[[labour]]\nitem = "fence builder"\nunit = "h"',
                '[[item]]\nitem = "Round post"\nsize = "6 in x 9 ft"\nunit = "piece"',
            ),
            "two prices",
        ),
        (("currency", "currency ="), "not valid TOML"),
    ],
)
def test_what_is_wrong_in_a_toml_book_is_one_sentence(
    tmp_path: Path, change: tuple[str, str], words: str
) -> None:
    assert change[0] in TOML
    said = refused(tmp_path, TOML.replace(*change))
    assert words in said


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("item,price\npost,3\n", "headings"),
        ("item,unit,price\npost,piece,three\n", "row 2, price"),
        ("item,unit,price\npost,piece,3\npost,piece,4\n", "two prices, here and in row 2"),
        ("item,unit,price,kind\npost,piece,3,gift\n", "kind of price"),
        ("item,unit,price,currency\npost,piece,3,USD\nnail,piece,3,EUR\n", "EUR and USD"),
        ("item,unit,price\n,piece,3\n", "has no item"),
        ("item,unit,price,pack\npost,piece,3,0\n", "more than nothing"),
        ('item,unit,price\n"post,piece,3\n', "the file is cut short inside quotes"),
        ("item,unit,price\n", "no prices"),
        (b"item,unit,price\npost\xff,piece,3\n", "UTF"),
    ],
)
def test_what_is_wrong_in_a_csv_book_is_one_sentence(
    tmp_path: Path, content: str | bytes, words: str
) -> None:
    assert words in refused(tmp_path, content, "prices.csv")


def test_a_workbook_that_is_none_is_one_sentence(tmp_path: Path) -> None:
    good = workbook([["item", "unit", "price"], ["post", "piece", 3]])
    for content in (b"PK\x03\x04junk", b"text", good[: len(good) // 2]):
        assert "workbook" in refused(tmp_path, content, "prices.xlsx")
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        archive.writestr("hello.txt", "x")
    assert "workbook" in refused(tmp_path, stream.getvalue(), "prices.xlsx")


def test_a_workbook_that_swells_is_refused_unopened(tmp_path: Path) -> None:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet1.xml", b" " * 201_000_000)
    assert "unpacks to 201 MB" in refused(tmp_path, stream.getvalue(), "prices.xlsx")


def test_a_cell_in_the_farthest_corner_costs_nothing(tmp_path: Path) -> None:
    made = openpyxl.Workbook()
    for row in (["item", "unit", "price"], ["post", "piece", 3]):
        made.active.append(row)
    made.active["XFD1048576"] = "far"
    stream = io.BytesIO()
    made.save(stream)
    assert len(book(tmp_path, stream.getvalue(), "prices.xlsx").rows) == 1


def test_markup_entities_in_a_workbook_are_not_expanded(tmp_path: Path) -> None:
    good = workbook([["item", "unit", "price"], ["post", "piece", 3]])
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(good)) as source, zipfile.ZipFile(stream, "w") as target:
        for part in source.infolist():
            content = source.read(part)
            if part.filename.endswith("sheet1.xml"):
                content = b'<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]>' + re.sub(
                    rb"<\?xml.*?\?>", b"", content
                )
            target.writestr(part.filename, content)
    assert "workbook" in refused(tmp_path, stream.getvalue(), "prices.xlsx")


def test_another_ending_and_a_missing_file(tmp_path: Path) -> None:
    assert "save it as one of these" in refused(tmp_path, "x", "prices.ods")
    with pytest.raises(InputError, match="no such file"):
        read_price_book(tmp_path / "none.toml")


@given(st.binary(max_size=300))
def test_whatever_the_bytes_a_book_is_read_or_refused(content: bytes) -> None:
    with tempfile.TemporaryDirectory() as folder:
        for name in ("a.toml", "a.csv", "a.xlsx"):
            path = Path(folder) / name
            path.write_bytes(content)
            try:
                made = read_price_book(path)
            except InputError as error:
                said = str(error)
            else:
                said = "" if made.rows or made.rates else "a book of nothing\n"
            assert "\n" not in said
