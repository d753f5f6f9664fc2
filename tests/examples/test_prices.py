"""The examples' price books: invented, said so, and nothing of the job missing from the price."""

from pathlib import Path

import pytest

from fencewright.desk.pricing import price_job
from fencewright.exchange.price_book import read_price_book
from fencewright.tables.price import Price

ROOT = Path(__file__).parents[2] / "examples"
ACTIVITIES = {
    "preparation", "staking", "holes", "posts", "concrete", "braces", "rails", "tops", "gates", "clean-up", "travel",
}  # fmt: skip


@pytest.fixture(scope="module", params=["small-paddock", "rolling-pasture"])
def priced(request: pytest.FixtureRequest) -> Price:
    return price_job(ROOT / request.param / "job.toml")[1]


@pytest.mark.parametrize("path", sorted(ROOT.glob("*/prices.*")), ids=lambda path: path.parent.name)
def test_a_book_says_that_it_is_invented(path: Path) -> None:
    assert "invented" in read_price_book(path).note
    assert "INVENTED" in path.read_text("utf-8").splitlines()[0]


def test_nothing_of_the_job_is_missing(priced: Price) -> None:
    assert priced.missing == ()
    assert {one.name for one in priced.by_activity} >= ACTIVITIES


def test_no_caution_is_about_the_price_book(priced: Price) -> None:
    said = {finding.code for finding in priced.findings if finding.level == "caution"}
    assert not said & {"price-missing", "price-unit", "price-old", "price-book-missing"}
