"""Iowa State University Extension, 2012 (iowa-2012; sources-fence.md A1, READ as a press report): 1,320 ft of fence.

Posts 12 ft apart, each end two 8 in posts and one cross-brace. The bulletin carries 110 line posts and 4 end posts, about
three more than the 111 posts of one plain line (DERIVED): at least 111, equality is not asked.
"""

from collections.abc import Callable
from decimal import Decimal

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.job.filling import Filling
from fencewright.job.price_settings import fill_price
from fencewright.job.reading import parse_job
from fencewright.pipeline.record import Design
from fencewright.price.estimate import estimate
from fencewright.tables.price import Price, PriceBook, PriceRow
from fencewright.tables.price_task import PriceItem, PriceTask, Work

QUARTER_MILE_M = 1320 * 0.3048
MATERIALS = (  # item, quantity, unit, unit price, line (DERIVED from the printed quantity and price)
    ("8 in wood post", 4, "piece", "28.00", "112.00"),
    ("4 in wood post", 57, "piece", "9.00", "513.00"),
    ("6.5 ft steel post", 55, "piece", "5.00", "275.00"),
    ("staples and clips", 10, "lb", "1.80", "18.00"),
    ("12 ga barbed wire", 1320, "ft", "0.06", "79.20"),
    ("woven wire", 1320, "ft", "0.70", "924.00"),
)
LABOUR_HOURS, LABOUR_RATE, LABOUR = 42, "15.05", "632.10"
PRINTED_TOTAL = Decimal("2553.31")


def test_posts_of_a_quarter_mile(straight: Callable[[float, str], Design]) -> None:
    made = straight(1320, '[fence]\nspacing_limit = "12 ft"\n[brace]\nkind = "horizontal"\n')
    fixed = int(made.layout.posts.is_fixed.sum())
    assert fixed == 2
    assert len(made.layout.braces) == 2
    assert 111 <= len(made.layout.posts) <= 114


def test_without_braces_it_is_the_plain_line(straight: Callable[[float, str], Design]) -> None:
    """1,320 / 12 = 110 bays, 111 posts."""
    assert len(straight(1320, '[fence]\nspacing_limit = "12 ft"\n').layout.posts) == 111


def bill_of_materials() -> Price:
    """The bulletin's table priced: no overhead, margin or tax in it."""
    rows = [PriceRow(item, unit, Decimal(price)) for item, _, unit, price, _ in MATERIALS]
    rows.append(PriceRow("hand", "h", Decimal(LABOUR_RATE), kind="labour"))
    items = [
        PriceItem(item.replace(" ", "-"), item, "", unit, float(quantity), 1.0, "fence")
        for item, quantity, unit, _, _ in MATERIALS
    ]
    rate = 1320 / LABOUR_HOURS
    work = Work("labour", "labour", "fence", 1320.0, "ft", rate, rate, rate, "hand", source="iowa-2012")
    text = (
        '[job]\nname = "Quarter mile"\n[price]\ncurrency = "USD"\noverhead = 0\nmargin = 0\n'
        '[[line]]\nname = "line"\npoints = [["0 ft", "0 ft"], ["1320 ft", "0 ft"]]\n'
    )
    settings = fill_price(Filling(parse_job(text), shipped_catalogue()))
    task = PriceTask(tuple(items), (work,), ("line",), (QUARTER_MILE_M,))
    return estimate(task, settings, PriceBook("iowa-2012", tuple(rows)))


def test_each_line_of_the_bill_to_the_cent() -> None:
    amounts = {line.item: line.amount for line in bill_of_materials().lines}
    expected = {item: Decimal(line) for item, _, _, _, line in MATERIALS}
    assert amounts == {**expected, "labour": Decimal(LABOUR)}


def test_the_total_is_the_printed_one_within_its_rounding() -> None:
    """The lines add up to 2,553.30; the bulletin prints 2,553.31."""
    total = bill_of_materials().total
    assert total == Decimal("2553.30")
    assert abs(PRINTED_TOTAL - total) <= Decimal("0.02")


def test_just_under_two_dollars_a_foot_and_its_labour_a_thousand_feet() -> None:
    """1.934 a foot; 42 h for 1,320 ft are 31.8 h a thousand feet."""
    made = bill_of_materials()
    assert made.per_foot == Decimal("1.93")
    assert made.labour_hours == LABOUR_HOURS
    assert abs(float(made.labour_hours) / 1.32 - 31.8) < 0.05
