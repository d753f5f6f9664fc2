"""Which row of a price book prices a thing."""

from decimal import Decimal

import pytest

from fencewright.price.book_search import Found, PriceIndex, plain_unit, same_size, unit_factor
from fencewright.tables.price import PriceBook, PriceRow


def row(item: str, unit: str, price: str = "1.00", size: str = "") -> PriceRow:
    return PriceRow(item, unit, Decimal(price), size=size, where=f"{item} {size} {unit}")


def index(*rows: PriceRow) -> PriceIndex:
    return PriceIndex(PriceBook("book.toml", rows))


def price(found: Found | str) -> Decimal | str:
    return found.row.price if isinstance(found, Found) else found


def test_the_id_wins_over_the_size_and_the_size_over_the_name_alone() -> None:
    rows = [
        row("round post", "piece", "3"),
        row("round post", "piece", "2", "6 in x 9 ft"),
        row("post-6-in-x-9-ft", "piece", "1"),
    ]
    names = ("post-6-in-x-9-ft", "round post 6 in x 9 ft", "round post")
    assert price(index(*rows).find(names, "6 in x 9 ft", ("piece",))) == 1
    assert price(index(*rows[:2]).find(names, "6 in x 9 ft", ("piece",))) == 2
    assert price(index(*rows[:1]).find(names, "6 in x 9 ft", ("piece",))) == 3


def test_another_size_is_passed_over_and_named() -> None:
    book = index(row("round post", "piece", "2", "6 in x 8 ft"))
    assert book.find(("round post",), "6 in x 9 ft", ("piece",)) == ""
    assert "other sizes: 6 in x 8 ft" in book.near("round post 6 in x 9 ft", "round post")


@pytest.mark.parametrize("written", ["Line Bracket", "line-bracket", " line  bracket "])
def test_case_hyphens_and_spaces_make_no_difference(written: str) -> None:
    assert isinstance(index(row(written, "each")).find(("line bracket",), "", ("piece",)), Found)


def test_a_unit_that_does_not_fit_is_said_with_both_units() -> None:
    found = index(row("bagged concrete", "lb")).find(("bagged concrete",), "", ("bag",))
    assert isinstance(found, str)
    assert "by the lb" in found
    assert "by the bag" in found


@pytest.mark.parametrize(
    ("have", "want", "factor"),
    [
        ("ft", "m", 0.3048),
        ("yd3", "m3", 0.764554857984),
        ("gal", "L", 3.785411784),
        ("each", "piece", 1.0),
        ("hrs", "h", 1.0),
    ],
)
def test_measures_are_converted_and_synonyms_are_one(have: str, want: str, factor: float) -> None:
    assert unit_factor(have, want) == pytest.approx(factor, rel=1e-12)


@pytest.mark.parametrize(("have", "want"), [("day", "h"), ("roll", "m"), ("", "piece"), ("m", "m3")])
def test_days_are_no_hours_and_rolls_no_lengths(have: str, want: str) -> None:
    assert unit_factor(have, want) is None


def test_a_like_name_is_offered() -> None:
    assert "'tensioner'" in index(row("tensioner", "piece")).near("tensionner")
    assert index().near("tensioner") == "no such item in the price book"
    assert plain_unit("Bags") == "bag"


@pytest.mark.parametrize(
    ("written", "wanted"),
    [
        ("6\" x 9'", "6 in x 9 ft"),
        ("152 mm x 2.74 m", "6 in x 9 ft"),
        ("4 1/2 in x 8 ft", "4.5 in x 8 ft"),
        ("660 ft", "roll of 660 ft"),
        ("roll of 201.2 m", "roll of 660 ft"),
        ("1,320 ft", "roll of 1,320 ft"),
        ("36.3 kg", "80 lb"),
        ("Class 4", "class 4"),
    ],
)
def test_a_size_is_the_same_in_whatever_units(written: str, wanted: str) -> None:
    assert same_size(written, wanted)
    assert same_size(wanted, written)


@pytest.mark.parametrize(
    ("written", "wanted"),
    [
        ("6 in x 8 ft", "6 in x 9 ft"),
        ("6 in", "6 in x 9 ft"),
        ("6 ft", "6 lb"),
        ("class 4", "class 5"),
        ("", "6 in"),
    ],
)
def test_another_size_is_another(written: str, wanted: str) -> None:
    assert not same_size(written, wanted)
