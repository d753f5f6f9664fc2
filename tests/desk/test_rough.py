"""A price from a telephone call: quantities of a real design, and a range that holds what the call leaves open."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.desk.reading import job_from_text
from fencewright.desk.rough import RoughPrice, rough_price
from fencewright.desk.rough_asked import RoughAsked, left_open
from fencewright.desk.running import design
from fencewright.exchange.price_book import read_price_book
from fencewright.findings import InputError
from fencewright.job.rough_call import rough_job_text
from fencewright.pipeline.pricing import price_design
from fencewright.tables.price import PriceBook

ASKED = RoughAsked(("300 ft",), corners=4, gates=1, strands=3, soil="sand", frost="36 in", gate_width="12 ft",
                   ground="flat", terms=(("overhead", "10 %"), ("margin", "15 %")))  # fmt: skip


@pytest.fixture(scope="module")
def book(small_job_path: Path) -> PriceBook:
    return read_price_book(small_job_path.parent / "prices.toml")


@pytest.fixture(scope="module")
def rough(book: PriceBook) -> RoughPrice:
    return rough_price(ASKED, book)


def test_it_is_the_price_of_the_fence_that_was_told(rough: RoughPrice, book: PriceBook) -> None:
    made = design(job_from_text(rough_job_text(rough.call), Path()))
    assert sum(line.length_m for line in made.layout.lines) == pytest.approx(300 * 0.3048)
    assert rough.price.total == price_design(made, book).total
    assert rough.figures.posts == len(made.layout.posts)
    assert (made.layout.spans.kind == 1).sum() == 1  # the gate


def test_the_range_is_a_range_about_it(rough: RoughPrice) -> None:
    risk = rough.price.risk
    assert risk is not None
    assert risk.quantile(0.1) < risk.quantile(0.5) < risk.quantile(0.9)
    assert rough.least.posts <= rough.figures.posts <= rough.most.posts
    assert rough.least.rail_m < rough.figures.rail_m < rough.most.rail_m


def test_what_was_told_is_not_open(rough: RoughPrice) -> None:
    assert rough.price.risk is not None
    names = set(rough.price.risk.uncertainties.name)
    assert "length" in names
    assert not names & {"gates", "gate width", "strands", "soil", "frost", "ground"}


def test_what_was_not_told_is_open() -> None:
    catalogue = shipped_catalogue()
    bare = RoughAsked(("300 ft",))
    names = [one.name for one in left_open(bare, bare.call(catalogue), catalogue)]
    assert names == ["length", "corners", "gates", "gate width", "strands", "ground", "soil", "frost"]
    exact = replace(ASKED, within="0 %")
    assert [one.name for one in left_open(exact, exact.call(catalogue), catalogue)] == ["corners"]


def test_knowing_less_widens_the_range(book: PriceBook) -> None:
    sharp, vague = (rough_price(replace(ASKED, within=one), book).price.risk for one in ("0 %", "40 %"))
    assert sharp is not None
    assert vague is not None
    width = [one.quantile(0.9) - one.quantile(0.1) for one in (sharp, vague)]
    assert width[1] > 1.2 * width[0]


def test_the_length_of_a_vague_call_is_what_would_narrow_it_most(book: PriceBook) -> None:
    risk = rough_price(replace(ASKED, within="40 %"), book).price.risk
    assert risk is not None
    assert risk.uncertainties.name[int(risk.swings.row[0])] == "length"


def test_without_a_book_there_are_quantities_and_no_money() -> None:
    rough = rough_price(ASKED)
    assert rough.price.risk is None
    assert rough.price.total is None
    assert rough.figures.posts > 20


def test_what_the_book_lacks_for_another_fence_is_named_and_left_out(book: PriceBook) -> None:
    without = replace(book, rows=tuple(row for row in book.rows if row.size != "9.5 ft"))
    rough = rough_price(replace(ASKED, gate_width="", within="0 %"), without)
    assert ("Width of the gates", ("gate leaf 9.5 ft",)) in rough.unpriced
    assert rough.price.missing == ()


def test_what_the_book_lacks_for_this_fence_is_missing(book: PriceBook) -> None:
    without = replace(book, rows=tuple(row for row in book.rows if row.item != "bagged concrete"))
    rough = rough_price(replace(ASKED, within="0 %"), without)
    assert [one.item for one in rough.price.missing] == ["bagged concrete 80 lb"]
    assert rough.price.risk is not None


def test_ground_that_rolls_takes_more_rail_and_no_fewer_posts(book: PriceBook) -> None:
    flat = rough_price(replace(ASKED, within="0 %"), book)
    hilly = rough_price(replace(ASKED, within="0 %", ground="hilly"), book)
    assert hilly.figures.rail_m > flat.figures.rail_m
    assert hilly.figures.posts >= flat.figures.posts


def test_the_terms_of_the_call_are_the_terms_of_the_price(rough: RoughPrice) -> None:
    step = rough.price.step("overhead")
    assert step is not None
    assert step.rate == Decimal("0.1")


def test_several_lines_are_several_lines(book: PriceBook) -> None:
    rough = rough_price(RoughAsked(("200 ft", "100 ft"), corners=0, gates=0, is_closed=False, within="0 %", ground="flat",
                                   soil="sand", frost="36 in", strands=3), book)  # fmt: skip
    assert rough.figures.pulls == 6
    assert len(rough.call.length_m) == 2


@pytest.mark.parametrize(
    ("changes", "item"),
    [
        ({"length": ("300",)}, "--length"),
        ({"length": ("300 lb",)}, "--length"),
        ({"length": ("1e400 ft",)}, "--length"),
        ({"frost": "deep"}, "--frost"),
        ({"gate_width": "wide"}, "--gate-width"),
        ({"within": "200 %"}, "--within"),
        ({"ground": "swamp"}, "--ground"),
        ({"soil": "=1+1"}, "--soil"),
        ({"rail": "gold"}, "--rail"),
        ({"terms": (("margin", "-5 %"),)}, "price, margin"),
        ({"terms": (("overhead", '"\n[job]'),)}, "price, overhead"),
    ],
)
def test_what_cannot_be_is_one_sentence(changes: dict[str, object], item: str) -> None:
    with pytest.raises(InputError) as caught:
        rough_price(replace(ASKED, **changes))  # type: ignore[arg-type]  # by name
    assert caught.value.item == item
    assert "\n" not in str(caught.value)
