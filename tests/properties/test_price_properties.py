"""What holds for every price: sums to the cent, more never cheaper, linear in quantity, packs enough and no more."""

from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.job.filling import Filling
from fencewright.job.price_settings import PriceSettings, Terms, fill_price
from fencewright.job.reading import parse_job
from fencewright.price.estimate import estimate
from fencewright.price.money import cents, split, to_multiple
from fencewright.price.summing import price_steps
from fencewright.tables.price import Price, PriceBook, PriceLine, PriceRow
from fencewright.tables.price_task import PriceItem, PriceTask, Work

JOB = (
    '[job]\nname = "x"\n[price]\ncurrency = "USD"\noverhead = 0\nmargin = 0\n'
    '[[line]]\nname = "a"\npoints = [["0 m", "0 m"], ["9 m", "0 m"]]\n'
)
MONEY = st.decimals(min_value=0, max_value=10**6, places=2)
SHARE = st.decimals(min_value=0, max_value=Decimal("0.9"), places=3)
WEIGHTS = st.lists(st.floats(min_value=0, max_value=1e6), min_size=1, max_size=8)


def settings() -> PriceSettings:
    return fill_price(Filling(parse_job(JOB), shipped_catalogue()))


def priced(count: float, hours: float, price: Decimal, pack: int = 1) -> Price:
    rows = (
        PriceRow("post", "piece", price, pack=Decimal(pack)),
        PriceRow("hand", "h", Decimal("31.00"), kind="labour"),
    )
    items = (PriceItem("post", "post", "", "piece", count, 1.0, "posts"),)
    works = (Work("work", "work", "posts", hours, "thing", 1.0, 0.5, 2.0, "hand", source="hand"),)
    return estimate(PriceTask(items, works, ("a",), (10.0,)), settings(), PriceBook("book", rows))


def lines(amounts: list[Decimal]) -> list[PriceLine]:
    kinds = ("material", "labour", "plant", "travel", "other")
    return [
        PriceLine("x", "x", "", kinds[k % 5], "a", Decimal(1), "h", Decimal(1), Decimal(1), amount, amount)
        for k, amount in enumerate(amounts)
    ]


@given(MONEY, WEIGHTS)
def test_a_split_loses_no_cent_and_none_is_off_by_more_than_one(
    amount: Decimal, weights: list[float]
) -> None:
    parts = split(amount, weights, 2)
    assert sum(parts) == amount
    whole = sum(map(Fraction, weights))
    shares = [Fraction(one) / whole if whole else Fraction(1, len(weights)) for one in weights]
    for part, share in zip(parts, shares, strict=True):
        assert abs(Fraction(part) - Fraction(amount) * share) <= Fraction(1, 100) + Fraction(1, 10**6)


@given(st.lists(MONEY, max_size=12), SHARE, SHARE, SHARE, SHARE, st.booleans())
def test_the_steps_agree_with_exact_fractions(
    amounts: list[Decimal], overhead: Decimal, margin: Decimal, tax: Decimal, more: Decimal, whole: bool
) -> None:
    """Reckoned in fractions without any rounding, the total is the same within half a cent a step."""
    terms = Terms(overhead, more, margin, None, tax, whole, Decimal(0))
    made = {step.name: step.amount for step in price_steps(lines(amounts), terms, 2)}
    direct = sum(map(Fraction, amounts), Fraction(0))
    materials = sum((Fraction(amount) for amount in amounts[::5]), Fraction(0))
    net = direct * (1 + Fraction(more)) * (1 + Fraction(overhead)) / (1 - Fraction(margin))
    total = net + Fraction(tax) * (net if whole else materials)
    slack = Fraction(1, 200) * (1 + 1 / (1 - Fraction(margin))) * 6
    assert abs(Fraction(made["total"]) - total) <= slack
    parts = ("direct", "contingency", "overhead", "margin", "rounding", "tax")
    assert sum(made[name] for name in parts) == made["total"]


@given(st.integers(1, 500), st.integers(1, 200), MONEY, st.integers(2, 9))
def test_twice_as_much_costs_twice_as_much(count: int, hours: int, price: Decimal, times: int) -> None:
    once, more = priced(count, hours, price), priced(count * times, hours * times, price)
    assert once.total is not None
    assert more.total == once.total * times


@given(st.integers(1, 5000), st.integers(1, 400), st.integers(1, 50))
def test_packs_are_enough_and_not_one_too_many(count: int, pack: int, more: int) -> None:
    line = next(line for line in priced(count, 1.0, Decimal("3.00"), pack).lines if line.id == "post")
    assert line.packs * pack >= count
    assert (line.packs - 1) * pack < count
    larger = next(
        line for line in priced(count + more, 1.0, Decimal("3.00"), pack).lines if line.id == "post"
    )
    assert larger.packs >= line.packs


@given(st.decimals(min_value=-(10**6), max_value=10**6, places=5), st.integers(0, 3))
def test_rounding_is_to_the_nearest(value: Decimal, digits: int) -> None:
    assert abs(cents(value, digits) - value) * 2 <= Decimal(1).scaleb(-digits)


@given(MONEY, st.sampled_from(["1", "5", "10", "0.25", "100"]))
def test_a_multiple_is_whole_and_near(value: Decimal, multiple: str) -> None:
    rounded = to_multiple(value, Decimal(multiple))
    assert rounded % Decimal(multiple) == 0
    assert abs(rounded - value) * 2 <= Decimal(multiple)
