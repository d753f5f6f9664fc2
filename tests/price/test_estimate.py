"""An estimate from quantities written by hand."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest

from fencewright.findings import InputError
from fencewright.job.price_settings import PriceSettings
from fencewright.price.estimate import estimate, own_rates
from fencewright.tables.price import Price, PriceBook, PriceRow
from fencewright.tables.price_task import ConcreteWay, PriceItem, PriceTask, Work

D = Decimal
Settings = Callable[..., PriceSettings]


def row(item: str, unit: str, price: str, **more: object) -> PriceRow:
    return PriceRow(item, unit, D(price), where=f"book.toml, {item} {unit}", **more)  # type: ignore[arg-type]  # by name


def work(**changed: object) -> Work:
    usual: dict[str, object] = {
        "id": "work-set", "item": "set posts", "activity": "posts", "quantity": 60.0, "unit": "post", "per_hour": 4.0,
        "slow_per_hour": 2.0, "quick_per_hour": 6.0, "trade": "fence builder", "source": "hand", "weights": (2.0, 1.0),
    }  # fmt: skip
    return Work(**(usual | changed))  # type: ignore[arg-type]  # by name


POSTS = PriceItem("post", "round post", "4 in x 8 ft", "piece", 60.0, 1.0, "posts", (40.0, 20.0))
SCREWS = PriceItem("screw", "bracket screw", "", "piece", 700.0, 100.0, "rails", (1.0, 1.0))
BOOK = PriceBook(
    "book.toml",
    (
        row("round post", "piece", "10.00"),
        row("bracket screw", "piece", "14.50", pack=D(250)),
        row("fence builder", "h", "40.00"),
        row("auger", "h", "50.00"),
        row("auger", "day", "280.00"),
        row("auger", "delivery", "90.00"),
    ),
    "USD",
)


def task(**changed: object) -> PriceTask:
    usual: dict[str, object] = {
        "items": (POSTS, SCREWS), "works": (work(),), "paddocks": ("west", "east"), "length_m": (60.0, 40.0),
    }  # fmt: skip
    return PriceTask(**(usual | changed))  # type: ignore[arg-type]  # by name


def amounts(priced: Price) -> dict[str, Decimal | None]:
    return {line.id: line.amount for line in priced.lines}


def codes(priced: Price) -> set[str]:
    return {finding.code for finding in priced.findings}


def test_materials_by_packs_and_labour_by_the_hour(settings: Settings) -> None:
    """60 posts of 10; 700 screws in 3 packs of 250; 60 posts at 4 an hour are 15 h of 40."""
    priced = estimate(task(), settings(), BOOK)
    assert amounts(priced) == {"post": D("600.00"), "screw": D("43.50"), "work-set": D("600.00")}
    assert priced.labour_hours == 15
    line = next(line for line in priced.lines if line.id == "work-set")
    assert (line.low_quantity, line.high_quantity) == (D("10.00"), D("30.00"))


def test_every_line_and_subtotal_adds_up_to_what_is_shown(settings: Settings) -> None:
    priced = estimate(task(), settings("tax = 0.07\nrounding = 5"), BOOK)
    direct = sum(line.amount or D(0) for line in priced.lines)
    assert priced.step("direct").amount == direct  # type: ignore[union-attr]  # it is priced
    assert all(sum(line.by_paddock) == line.amount for line in priced.lines)
    for rows in (priced.by_activity, priced.by_paddock):
        assert sum(one.total for one in rows) == priced.total
        assert sum(one.direct for one in rows) == direct


def test_a_missing_price_is_missing_and_never_nothing(settings: Settings) -> None:
    book = replace(BOOK, rows=BOOK.rows[1:])
    priced = estimate(task(), settings(), book)
    assert amounts(priced)["post"] is None
    assert [one.id for one in priced.missing] == ["post"]
    assert "price-missing" in codes(priced)
    assert priced.step("direct").amount == D("643.50")  # type: ignore[union-attr]  # it is priced


def test_without_a_price_book_there_are_quantities_and_no_total(settings: Settings) -> None:
    priced = estimate(task(), settings(), None)
    assert priced.total is None
    assert priced.steps == ()
    assert {line.id: line.quantity for line in priced.lines} == {"post": 60, "screw": 700, "work-set": 15}
    assert "price-book-missing" in codes(priced)


def test_a_price_of_nothing_is_a_price(settings: Settings) -> None:
    priced = estimate(
        task(), settings(), replace(BOOK, rows=(row("round post", "piece", "0"), *BOOK.rows[1:]))
    )
    assert amounts(priced)["post"] == 0
    assert not priced.missing


def test_a_unit_that_does_not_fit_is_a_finding_and_leaves_the_line_out(settings: Settings) -> None:
    priced = estimate(task(), settings(), replace(BOOK, rows=(row("round post", "kg", "2"), *BOOK.rows[1:])))
    assert {"price-unit", "price-missing"} <= codes(priced)


def test_a_price_by_the_foot_prices_metres(settings: Settings) -> None:
    hire = PriceItem("hire", "temporary fence", "", "m", 30.48, 1.0, "preparation", (), "other", None, False)
    priced = estimate(
        task(items=(hire,), works=()), settings(), replace(BOOK, rows=(row("temporary fence", "ft", "1.10"),))
    )
    assert amounts(priced) == {"hire": D("110.00")}


def test_a_price_that_the_job_states_needs_no_book(settings: Settings) -> None:
    permit = PriceItem(
        "extra-permit", "permit", "", "piece", 1.0, 1.0, "preparation", (1.0, 0.0), "other", D("85.00"), False
    )
    priced = estimate(task(items=(permit,), works=()), settings(), BOOK)
    assert amounts(priced) == {"extra-permit": D("85.00")}
    assert priced.by_paddock[1].direct == 0


@pytest.mark.parametrize(("holes", "way", "amount"), [(40, "h", "250.00"), (400, "day", "1960.00")])
def test_a_machine_is_hired_by_the_hour_or_the_day_whichever_is_cheaper(
    settings: Settings, holes: int, way: str, amount: str
) -> None:
    """40 holes at 8 an hour are 5 h of 50; 400 are 50 h, 7 days of 280 for 2,500 by the hour."""
    dig = work(
        id="work-dig",
        quantity=float(holes),
        per_hour=8.0,
        slow_per_hour=4.0,
        quick_per_hour=9.0,
        plant="auger",
        hands=2.0,
    )
    priced = estimate(task(items=(), works=(dig,)), settings(), BOOK)
    assert amounts(priced)[f"plant-auger-{way}"] == D(amount)
    assert amounts(priced)["plant-auger-delivery"] == D("90.00")
    assert priced.labour_hours == D(holes) / 8 * 2


def test_travel_is_days_and_the_re_pull_there_and_back(settings: Settings) -> None:
    """15 h of a crew of 2 are one day of 8 h; two journeys of 40 mi there and back at 40 mph are 4 h of the crew."""
    book = replace(BOOK, rows=(*BOOK.rows, row("vehicle", "mi", "0.50")))
    priced = estimate(task(), settings('distance = "20 mi"\nvehicles = 2'), book)
    assert priced.crew_days == 1
    assert amounts(priced)["travel-vehicle"] == D("80.00")
    assert amounts(priced)["travel-hours"] == D("160.00")


def test_no_distance_is_no_travel(settings: Settings) -> None:
    assert not [line for line in estimate(task(), settings(), BOOK).lines if line.kind == "travel"]


def test_wages_by_the_day_buy_a_working_day(settings: Settings) -> None:
    book = replace(
        BOOK, rows=(row("round post", "piece", "10"), row("fence builder", "day", "320.00"), BOOK.rows[1])
    )
    line = next(line for line in estimate(task(), settings(), book).lines if line.kind == "labour")
    assert line.amount == D("600.00")


def concrete(settings: Settings, wanted: str, yard: str = "200.00") -> Price:
    bags = ConcreteWay(
        (PriceItem("bags", "bagged concrete", "80 lb", "bag", 50.0, 1.0, "concrete", (1.0, 1.0)),), ()
    )
    mix = ConcreteWay(
        (PriceItem("mix", "ready-mix concrete", "", "yd3", 1.1, 1.0, "concrete", (1.0, 1.0)),), ()
    )
    rows = (*BOOK.rows, row("bagged concrete", "bag", "7.00"), row("ready-mix concrete", "yd3", yard))
    both = task(bags=bags, ready_mix=mix, concrete_m3=0.8)
    return estimate(both, settings(f'concrete = "{wanted}"'), replace(BOOK, rows=rows))


def test_bags_or_ready_mix_as_the_job_says_with_the_cheaper_one_named(settings: Settings) -> None:
    """50 bags of 7 are 350; 2 whole yards of 200 are 400, of 150 are 300."""
    dear = concrete(settings, "bags")
    assert (dear.concrete.bags, dear.concrete.ready_mix) == (350, 400)  # type: ignore[union-attr]  # it takes concrete
    assert "concrete-cheaper" not in codes(dear)
    cheap = concrete(settings, "bags", "150.00")
    assert "concrete-cheaper" in codes(cheap)
    assert amounts(cheap)["bags"] == 350
    taken = concrete(settings, "cheaper", "150.00")
    assert "mix" in amounts(taken)
    assert "ready-mix-taken" in codes(taken)
    assert "ready-mix-taken" not in codes(cheap) | codes(dear)
    assert "bags" in amounts(concrete(settings, "cheaper"))
    assert amounts(concrete(settings, "ready-mix"))["mix"] == 400


def test_old_undated_and_future_prices_are_named(settings: Settings) -> None:
    rows = (
        row("round post", "piece", "10", date="2025-01-01"),
        row("bracket screw", "piece", "1", date="2027-01-01"),
        row("fence builder", "h", "40"),
        row("never used", "piece", "1", date="1990-01-01"),
    )
    priced = estimate(task(), settings('day = "2026-10-01"\nage_limit = "1 year"'), replace(BOOK, rows=rows))
    assert {"price-old", "price-undated", "price-ahead"} <= codes(priced)
    old = next(one for one in priced.findings if one.code == "price-old")
    assert "1 price more than" in old.message
    assert "638" in old.message  # days from 2025-01-01
    assert "never used" not in old.message


def test_without_a_day_nothing_is_called_old(settings: Settings) -> None:
    rows = (row("round post", "piece", "10", date="1990-01-01"), *BOOK.rows[1:])
    said = codes(estimate(task(), settings(), replace(BOOK, rows=rows)))
    assert "price-day-missing" in said
    assert "price-old" not in said


def test_currencies_must_be_one_and_known(settings: Settings) -> None:
    with pytest.raises(InputError, match="USD"):
        estimate(task(), settings('currency = "EUR"'), BOOK)
    with pytest.raises(InputError, match="in which currency"):
        estimate(task(), settings(), replace(BOOK, currency=""))


def test_a_currency_without_cents_has_whole_amounts(settings: Settings) -> None:
    priced = estimate(task(), settings("overhead = 0.0333"), replace(BOOK, currency="JPY"))
    assert all(line.amount == line.amount.to_integral_value() for line in priced.lines if line.amount)
    assert priced.total == priced.total.to_integral_value()  # type: ignore[union-attr]  # it is priced


def test_the_book_states_rates_and_the_job_wins(settings: Settings) -> None:
    book = replace(BOOK, rates=(("Set and tamp posts", D(8), "book.toml, rate 1"),))
    assert own_rates(settings(), book).works["set and tamp posts"].per_hour == 8
    own = '[[rate]]\nwork = "set and tamp posts"\nper_hour = 6\n'
    assert own_rates(settings("", own), book).works["set and tamp posts"].per_hour == 6
    with pytest.raises(InputError, match="no work 'juggle'"):
        own_rates(settings(), replace(BOOK, rates=(("juggle", D(8), "book.toml, rate 1"),)))
