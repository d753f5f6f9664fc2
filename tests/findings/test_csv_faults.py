"""Sheets that cannot be taken apart: told in our words, whichever reader meets them."""

import csv
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from fencewright.exchange.ground_files import check_ground
from fencewright.exchange.price_book import read_price_book
from fencewright.exchange.site_files import read_site_file
from fencewright.findings import InputError
from fencewright.findings.csv_faults import csv_fault

THEIRS = re.compile(r"field|delimiter|expected after|new-line|unexpected|NUL|\(\d")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('x_m,y_m,z_m\n0,0,"1', "the file is cut short inside quotes"),
        ('x_m,y_m,z_m\n0,0,"1"1\n', "a cell goes on after its closing quote"),
        ("x_m,y_m,z_m\n0,0," + "1" * 140_000, "a cell is far too long"),
    ],
)
def test_a_sheet_that_cannot_be_split_is_told_by_its_row(tmp_path: Path, text: str, said: str) -> None:
    path = tmp_path / "a.csv"
    path.write_text(text)
    with pytest.raises(InputError) as refused:
        read_site_file(path)
    assert refused.value.what.startswith(said)
    assert refused.value.item == "row 2"


@pytest.mark.parametrize("read", [read_site_file, check_ground, read_price_book])
def test_no_reader_quotes_the_library(tmp_path: Path, read: Callable[[Path], object]) -> None:
    path = tmp_path / "a.csv"
    path.write_text("item,unit,price,x_m,y_m,z_m\n" + "1" * 140_000 + ",2,3,4,5,6\n")
    with pytest.raises(InputError) as refused:
        read(path)
    assert not THEIRS.search(refused.value.what)


def test_what_is_not_known_is_told_too() -> None:
    assert csv_fault(csv.Error("something new")) == "it is no table of cells"
