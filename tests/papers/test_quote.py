"""The quote as a reader of PDF finds it: what is offered, for how much; nothing of what it costs the builder."""

import re
from collections.abc import Callable
from decimal import Decimal
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from fencewright.desk.paper_writing import paper_outputs
from fencewright.desk.pricing import price_read_job
from fencewright.desk.reading import job_from_text
from fencewright.desk.scheduling import programme
from fencewright.exchange.design_json import design_record
from fencewright.exchange.price_json import price_json
from fencewright.exchange.programme_json import programme_json
from fencewright.papers.blocks import Table
from fencewright.papers.frame import room_mm
from fencewright.papers.measures import Measures
from fencewright.papers.quote_price import money, price_blocks, terms_blocks
from fencewright.pipeline.record import Design
from fencewright.tables.price import Price

ROOT = Path(__file__).parents[2]
JOB = (Path(__file__).parent / "ring.toml").read_text("utf-8")
TERMS = """
[price]
book = "prices.toml"
day = "2026-03-02"
overhead = "13.7 %"
margin = "17.3 %"
tax = "6 %"
distance = "18 mi"
rock_share = "3 %"
[paper]
quote = "Q-2026-17"
builder_licence = "L 4711"
included = ["A warning sign at each gate"]
excluded = ["Electricity"]
[programme]
start = "2026-04-06"
private_services = "none"
[preparation]
old_fence = "111 ft"
[[payment]]
stage = "on acceptance"
share = "33.3 %"
[[payment]]
stage = "when the posts stand"
share = "33.3 %"
[[payment]]
stage = "at hand-over"
share = "33.4 %"
[[neighbour]]
name = "the neighbour to the east"
line = "ring"
from = "20 ft"
to = "80 ft"
share = "50 %"
[[extra]]
name = "building permit"
price = 85.00
[[alternative]]
name = "three rails"
[alternative.fence]
rails = 3
[[alternative]]
name = "dearer terms"
[alternative.price]
margin = "21.9 %"
[alternative.fence]
spacing_limit = "10 ft"
"""


def offered(
    tmp_path: Path, more: str = TERMS, *, book: str | None = None, name: str = "Ring"
) -> tuple[Design, Price]:
    prices = (ROOT / "examples/small-paddock/prices.toml").read_text() if book is None else book
    (tmp_path / "prices.toml").write_text(prices)
    job = job_from_text(JOB.format(name=name, sheets="us", side=120, more=more), tmp_path)
    return price_read_job(job, tmp_path)


def read_pdf(content: bytes) -> PdfReader:
    return PdfReader(BytesIO(content))


def text_of(content: bytes) -> str:
    return "\n".join(page.extract_text() for page in read_pdf(content).pages)


def flat(text: str) -> str:
    return " ".join(text.split())


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> tuple[Design, Price, str]:
    """Design, price and text of a quote with everything in it."""
    made, priced = offered(tmp_path_factory.mktemp("quote"))
    return made, priced, flat(text_of(paper_outputs(made, priced, programme(made))["quote.pdf"]))


def test_head_is_from_the_job_alone(small: tuple[Design, Price, str]) -> None:
    _, _, text = small
    for words in ("Q-2026-17", "2026-03-02", "2026-04-01, 30 days from its date", "L 4711", "Revision C"):
        assert words in text


def test_total_tax_and_every_part_stand_in_it(small: tuple[Design, Price, str]) -> None:
    _, priced, text = small
    assert priced.total is not None
    for step in ("total", "net", "tax"):
        found = priced.step(step)
        assert found is not None
        assert f"{found.amount:,.2f}" in text
    for one in (*priced.by_activity, *priced.by_paddock):
        assert f"{one.total:,.2f}" in text
    assert f"{priced.per_foot:,.2f} USD a foot" in text


def test_shown_parts_add_up_to_the_shown_total(small: tuple[Design, Price, str]) -> None:
    _, priced, text = small
    table = text.split("By activity")[1].split("By paddock")[0]
    *parts, total = [Decimal(one.replace(",", "")) for one in re.findall(r"[\d,]+\.\d\d", table)]
    assert len(parts) == len(priced.by_activity)
    assert sum(parts) == total == priced.total


def test_every_stage_of_payment_and_their_sum(small: tuple[Design, Price, str]) -> None:
    _, priced, text = small
    table = text.split("Payment When")[1].split("Together")[0]
    assert [stage.stage for stage in priced.payments] == [
        "on acceptance",
        "when the posts stand",
        "at hand-over",
    ]
    amounts = []
    for stage in priced.payments:
        row = re.search(rf"{stage.stage} 33\.[34] % ([\d,]+\.\d\d)", table)
        assert row is not None
        amounts.append(Decimal(row.group(1).replace(",", "")))
    assert sum(amounts) == priced.customer_total
    assert f"Together: {priced.customer_total:,.2f} USD" in text
    assert f"The neighbour to the east pays {priced.neighbours[0].amount:,.2f} USD" in text


def test_every_option_stands_beside_what_is_quoted(small: tuple[Design, Price, str]) -> None:
    _, priced, text = small
    table = text.split("Options")[1].split("Payment When")[0]
    assert len(priced.alternatives) == 2
    for one in priced.alternatives:
        assert one.name in table
        assert f"{one.total:,.2f}" in table
        assert f"{one.difference:+,.2f}" in table
    assert "three rails: rails 3." in table
    assert "dearer terms: spacing limit 10 ft." in table


def numbers(text: str) -> set[str]:
    return {one.rstrip(".").replace(",", "") for one in re.findall(r"\d[\d,]*(?:\.\d+)?", text)}


def test_neither_cost_nor_overhead_nor_margin_nor_risk_is_ever_in_it(
    small: tuple[Design, Price, str],
) -> None:
    _, priced, text = small
    shown = numbers(text)
    named = ("material", "labour", "plant", "travel", "other", "direct", "contingency", "overhead", "margin")
    secret = {f"{step.amount:.2f}" for step in priced.steps if step.name in named and step.amount}
    secret |= {f"{one.direct:.2f}" for one in (*priced.by_activity, *priced.by_paddock)}
    secret |= {
        f"{line.amount:.2f}"
        for line in priced.lines
        if line.amount is not None and line.id != "extra-building-permit"
    }
    secret |= {f"{priced.labour_hours:.2f}", f"{priced.labour_hours}", "13.7", "17.3", "21.9"}
    assert priced.risk is not None
    secret |= {f"{priced.risk.quantile(one):.2f}" for one in (0.1, 0.5, 0.8, 0.9, 0.95)}
    public = {f"{one.total:.2f}" for one in (*priced.by_activity, *priced.by_paddock)}
    assert len(secret) > 30
    assert shown & (secret - public) == set()
    for word in ("overhead", "margin", "markup", "contingency", "profit", "P50", "P80", "P95", "direct"):
        assert not re.search(rf"\b{word}\b", text, re.IGNORECASE), word


def test_every_amount_is_one_of_price_json(small: tuple[Design, Price, str]) -> None:
    made, priced, text = small
    record = design_record(made)
    about = {"job": record["job"], "design_digest": record["digest"], "may_be_built": True}

    def leaves(value: Any) -> list[float]:
        if isinstance(value, dict | list):
            return [
                one
                for inner in (value.values() if isinstance(value, dict) else value)
                for one in leaves(inner)
            ]
        return [float(value)] if isinstance(value, int | float) and not isinstance(value, bool) else []

    known = {f"{abs(one):.2f}" for one in leaves(price_json(priced, about)[0])}
    amounts = {one.replace(",", "") for one in re.findall(r"[\d,]+\.\d\d\b", text)}
    assert len(amounts) > 20
    assert amounts <= known


def test_scope_is_that_of_the_design(small: tuple[Design, Price, str]) -> None:
    made, _, text = small
    record = design_record(made)
    told, posts = Measures(record), record["summary"]["posts"]
    scope = text.split("What is built")[1].split("Plan")[0]
    assert f"{told.long(record['summary']['fence_length_m'])} on plan" in scope
    for role, count in posts.items():
        if count:
            assert f"{count} {role}" in scope
    assert "4 of polymer rail" in scope
    assert f"({told.long(record['gates'][0]['opening_m'])} clear)" in scope
    assert f"{sum(post['set'] == 'concrete' for post in record['posts'])} posts (" in scope
    assert f"{record['summary']['braces']} diagonal" in scope
    assert "111.0 ft of old fence is taken down" in scope


def test_what_is_in_it_follows_the_price(small: tuple[Design, Price, str]) -> None:
    _, _, text = small
    included = text.split("Included")[1].split("Not included")[0]
    left_out = text.split("Not included")[1].split("Acceptance")[0]
    for words in (
        "Taking down the old fence",
        "A warning sign at each gate",
        "Building permit",
        "Rock in about",
    ):
        assert words in included
    assert "Electricity" in left_out
    assert "Clearing brush or trees" in left_out
    assert "old fence" not in left_out


def test_dates_are_those_of_the_programme(small: tuple[Design, Price, str]) -> None:
    made, _, text = small
    planned = programme(made)
    when = text.split("When What When")[1].split("Included")[0]
    assert planned.day_text(planned.finish_day) in when
    on_site = {"remove-old", "clear-line", "contain-stock", "make-access", "stake"}
    starts = [
        int(day)
        for day, kind in zip(planned.activities.start_day, planned.activities.kind, strict=True)
        if kind in on_site
    ]
    assert f"Work begins on the site {planned.day_text(min(starts))}" in when


def test_no_table_is_wider_than_a_page(small: tuple[Design, Price, str]) -> None:
    made, priced, _ = small
    record = design_record(made)
    about = {"job": record["job"], "design_digest": record["digest"], "may_be_built": True}
    offer = price_json(priced, about)[0]
    blocks = [*price_blocks(record, offer), *terms_blocks(offer, programme_json(made, programme(made))[0])]
    tables = [block for block in blocks if isinstance(block, Table)]
    assert len(tables) == 5
    for table in tables:
        assert sum(column.width_mm for column in table.columns) <= room_mm("a4")[0] + 1e-9


def test_what_is_too_long_for_its_cell_stands_below_in_full(tmp_path: Path) -> None:
    stage = "once the last post of the northern boundary stands in its hole and the string has been seen by us both"[
        :100
    ]
    made, priced = offered(tmp_path, TERMS.replace("when the posts stand", stage))
    assert stage in flat(text_of(paper_outputs(made, priced)["quote.pdf"]))


def test_cautions_stand_in_it(small: tuple[Design, Price, str]) -> None:
    assert "never cut a tight rail" in small[2]
    assert "not an engineer's seal" in small[2]


def test_missing_prices_are_named_and_the_quote_says_that_it_is_incomplete(tmp_path: Path) -> None:
    whole = (ROOT / "examples/small-paddock/prices.toml").read_text()
    book = "\n".join(
        line for line in whole.splitlines() if "hinge and latch" not in line and '"tensioner"' not in line
    )
    made, priced = offered(tmp_path, book=book)
    text = flat(text_of(paper_outputs(made, priced)["quote.pdf"]))
    assert text.count("THIS QUOTE IS INCOMPLETE: 2 things have no price yet") == 2
    assert "hinge and latch set (1 set)" in text
    assert "tensioner (4 pieces)" in text
    assert "Total of what is priced so far" in text


def test_a_book_without_any_price_gives_no_total(tmp_path: Path) -> None:
    made, priced = offered(
        tmp_path,
        '[price]\nbook = "prices.toml"\ncurrency = "USD"',
        book='material = [{ item = "tar", unit = "L", price = 1 }]',
    )
    text = flat(text_of(paper_outputs(made, priced)["quote.pdf"]))
    assert "THIS QUOTE IS INCOMPLETE" in text
    assert re.search(r"\d\.\d\d USD", text) is None


def test_without_a_price_there_is_no_quote(designed: Callable[..., Design]) -> None:
    assert "quote.pdf" not in paper_outputs(designed())


def test_a_design_not_to_be_built_is_no_offer(tmp_path: Path) -> None:
    made, priced = offered(tmp_path, '[price]\nbook = "prices.toml"\n[posts]\nline_lengths = ["6 ft"]')
    assert not made.may_be_built
    pdf = read_pdf(paper_outputs(made, priced)["quote.pdf"])
    assert "this is not an offer" in flat(pdf.pages[0].extract_text())
    assert all("NOT TO BE BUILT" in page.extract_text() for page in pdf.pages)


HOSTILE = r"#panic(\"x\") *b* $x$ \U0001F600 " + "z" * 200


def test_text_of_the_job_is_never_markup(tmp_path: Path) -> None:
    hostile = "'#eval(\"1\") *bold* [x](y) =cmd|calc'"
    more = TERMS.replace('"the neighbour to the east"', hostile).replace('"on acceptance"', hostile)
    more = more.replace('"three rails"', hostile).replace('"A warning sign at each gate"', hostile)
    made, priced = offered(tmp_path, more, name=HOSTILE)
    text = flat(text_of(paper_outputs(made, priced)["quote.pdf"]))
    assert text.count('#eval("1") *bold* [x](y) =cmd|calc') >= 3
    assert '#panic("x") *b* $x$' in text


def test_dates_before_the_quote_are_said(tmp_path: Path) -> None:
    made, priced = offered(tmp_path, TERMS.replace("2026-03-02", "2026-10-01"))
    text = flat(text_of(paper_outputs(made, priced, programme(made))["quote.pdf"]))
    assert "They begin before the date of this quote" in text


def test_money_keeps_the_decimals_of_its_currency() -> None:
    assert money(1234567.0, {"minor_digits": 0}) == "1,234,567"
    assert money(1234.5, {"minor_digits": 3}) == "1,234.500"
