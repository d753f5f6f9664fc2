"""The prices that a job is paid by: one row a price, whatever number of lines it pays."""

from decimal import Decimal

from fencewright.price.needed import needed_prices, rows_to_fill_in
from fencewright.tables.price import MissingPrice, Price, PriceBook, PriceLine, PriceRow

ROW = PriceRow("fence builder", "h", Decimal(38), "labour", low=Decimal(36), where="p.csv, row 2")
SPARE = PriceRow("truck", "h", Decimal(45), "plant", where="p.csv, row 3")
BOOK = PriceBook("p.csv", (ROW, SPARE), "USD")


def line(ident: str, item: str, size: str, kind: str, hours: str, source: str = "") -> PriceLine:
    paid = Decimal(38) if source else None
    return PriceLine(
        ident, item, size, kind, "", Decimal(hours), "h" if kind == "labour" else "piece", Decimal(1),
        Decimal(hours), paid, paid, source=source,
    )  # fmt: skip


def price(lines: tuple[PriceLine, ...], missing: tuple[MissingPrice, ...]) -> Price:
    return Price(
        "USD", 2, "", "p.csv", lines, (), (), (), None, missing, 10.0, None, None, Decimal(0), 1
    )  # fmt: skip


LINES = (
    line("post-6", "round post", "6 in x 9 ft", "material", "5"),
    line("work-a", "stake out", "fence builder", "labour", "2", "p.csv, row 2"),
    line("work-b", "hang gates", "fence builder", "labour", "3.5", "p.csv, row 2"),
    line("work-c", "bell holes", "labourer", "labour", "4"),
    line("work-d", "clear up", "labourer", "labour", "1.25"),
    line("extra-hay", "hay", "", "other", "2", "the job"),
)
MISSING = (
    MissingPrice("post-6", "round post 6 in x 9 ft", Decimal(5), "piece", "other sizes"),
    MissingPrice("work-c", "labourer", Decimal(4), "h", "no such item"),
    MissingPrice("work-d", "labourer", Decimal("1.25"), "h", "no such item"),
)


def test_hours_of_a_trade_are_one_price_known_or_missing() -> None:
    post, builder, labourer, hay = needed_prices(price(LINES, MISSING), BOOK)
    assert (post.item, post.size, post.price, post.quantity, post.why) == (
        "round post", "6 in x 9 ft", None, Decimal(5), "other sizes",
    )  # fmt: skip
    assert (builder.price, builder.low, builder.where, builder.quantity) == (
        Decimal(38), Decimal(36), "p.csv, row 2", Decimal("5.5"),
    )  # fmt: skip
    assert builder.used_for == ("stake out", "hang gates")
    assert (labourer.item, labourer.size, labourer.price, labourer.unit) == ("labourer", "", None, "h")
    assert (labourer.quantity, labourer.used_for) == (Decimal("5.25"), ("bell holes", "clear up"))
    assert (hay.item, hay.where) == ("hay", "the job")


def test_a_book_to_fill_in_has_all_of_the_old_one_and_what_it_lacks() -> None:
    rows = rows_to_fill_in(needed_prices(price(LINES, MISSING), BOOK), BOOK)
    assert [(row.item, row.price) for row in rows] == [
        ("fence builder", Decimal(38)), ("truck", Decimal(45)), ("round post", None), ("labourer", None),
    ]  # fmt: skip


def test_nothing_priced_needs_nothing() -> None:
    assert needed_prices(price((), ()), None) == ()
    assert rows_to_fill_in((), None) == ()
