"""A price without writing a file: terms, prices typed in place, a price book filled in elsewhere, and what is refused."""

import io
import json
import tomllib
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from playwright.sync_api import Browser, FilePayload, Locator, expect
from tests.browser.conftest import Person, Served

from fencewright.desk.pricing import price_job

EXAMPLE = Path(__file__).parents[2] / "examples" / "small-paddock"
TEXT = (EXAMPLE / "job.toml").read_text("utf-8")
BARE = "\n".join(line for line in TEXT.splitlines() if not line.startswith("book = "))
BOOK_FILE = (EXAMPLE / "prices.toml").read_bytes()
BOOK = tomllib.loads(BOOK_FILE.decode())
PRICES = {
    (row["item"], row.get("size", ""), row["unit"]): row["price"] / row.get("pack", 1)
    for kind in ("material", "labour", "plant", "travel", "other")
    for row in BOOK[kind]
}
WAIT_MS = 60_000  # for a price, on a machine that does other things too


def _open(person: Person, text: str, book: bytes | None = None) -> None:
    files: list[FilePayload] = [{"name": "job.toml", "mimeType": "application/toml", "buffer": text.encode()}]
    if book is not None:
        files.append({"name": "prices.toml", "mimeType": "application/toml", "buffer": book})
    person.page.goto(person.home)
    person.page.get_by_label("Import a job or site files").set_input_files(files)
    person.wait_whole(1)
    person.show("Price")


def _price(person: Person) -> Any:
    return person.page.evaluate(
        "fetch('/api/jobs/' + location.hash.split('/').at(-1) + '/parts/price').then(r => r.json())"
    )


def _needed(person: Person) -> Any:
    return person.page.evaluate(
        "fetch('/api/jobs/' + location.hash.split('/').at(-1) + '/prices').then(r => r.json())"
    )["prices"]


def _field(person: Person, row: Any) -> Locator:
    name = ", ".join(part for part in (row["item"], row["size"]) if part)
    unit = "hour" if row["unit"] == "h" else row["unit"]
    listed = person.page.locator("price-fields li").filter(has_text=name).filter(has_text=f"per {unit}")
    return listed.get_by_label(name, exact=True)


def _total(person: Person) -> str:
    return person.page.locator("price-panel .total").inner_text()


def test_the_small_paddock_is_priced_by_typing_what_is_missing(person: Person, tmp_path: Path) -> None:
    person.expected = ["422"]
    page = person.page
    _open(person, BARE)
    panel = page.locator("price-panel")
    expect(panel).to_contain_text("There is no price yet: 20 prices are missing.", timeout=WAIT_MS)
    rows = _needed(person)

    labourer = next(row for row in rows if row["item"] == "labourer")
    _field(person, labourer).fill("27")
    person.press("Keep this price")
    currency = panel.locator("job-form").get_by_label("currency")
    said = 'neither the job nor prices.csv says in which currency it is: set [price] currency, as "USD"'
    expect(panel.locator("job-form").get_by_role("alert")).to_have_text(said)
    expect(currency).to_be_focused()
    currency.fill("US dollars")
    currency.press("Tab")
    expect(panel.locator("job-form").get_by_role("alert")).to_contain_text(
        "there is no currency 'US dollars'"
    )
    expect(currency).to_have_value("US dollars")
    currency.fill("USD")
    currency.press("Tab")
    expect(panel.locator("price-fields").first).to_contain_text("USD per hour", timeout=WAIT_MS)

    expect(_field(person, labourer)).to_have_value("27")  # what was typed is still there
    _field(person, labourer).fill("27,5")
    _field(person, labourer).press("Enter")
    row = page.locator("price-fields li").filter(has_text="labourer")
    expect(row.get_by_role("alert")).to_have_text("'27,5' is no price: write a plain number such as 12.50")
    expect(_field(person, labourer)).to_have_attribute("aria-invalid", "true")
    _field(person, labourer).fill("27")
    _field(person, labourer).press("Enter")
    expect(panel).to_contain_text("19 prices are missing: the total leaves out", timeout=WAIT_MS)
    expect(_field(person, next(row for row in rows if row["item"] == "fence builder"))).to_be_focused()

    for one in rows:
        if one["item"] != "labourer":
            _field(person, one).fill(f"{PRICES[one['item'], one['size'], one['unit']]:.6g}")
    person.press("Keep 19 prices")
    expect(panel.locator("h3").filter(has_text="Without a price")).to_have_count(0, timeout=WAIT_MS)
    total = _total(person)
    with page.expect_download() as taken:
        panel.get_by_role("link", name="Take prices.csv away").click()
    taken.value.save_as(tmp_path / "prices.csv")
    text = page.evaluate("fetch('/api/jobs/' + location.hash.split('/').at(-1)).then(r => r.json())")["text"]
    (tmp_path / "job.toml").write_text(text, "utf-8")
    _, priced = price_job(tmp_path / "job.toml")
    assert total == f"USD {priced.total:,.2f}"
    assert priced.missing == ()
    assert priced.risk is not None
    kept = round(100 * priced.risk.covered(float(priced.total or 0)))
    expect(panel.locator(".kept")).to_contain_text(f"This price is kept in {kept} of 100 cases")

    for _ in range(3):
        person.press("Undo")
    expect(panel).to_contain_text("There is no price yet", timeout=WAIT_MS)


def test_a_started_book_comes_back_from_a_spreadsheet(person: Person, tmp_path: Path) -> None:
    person.expected = ["422"]
    page = person.page
    _open(person, BARE.replace("[price]", '[price]\ncurrency = "USD"'))
    panel = page.locator("price-panel")
    with page.expect_download(timeout=WAIT_MS) as taken:
        panel.get_by_role("link", name="Start a price book (XLSX)").click()
    taken.value.save_as(tmp_path / "prices.xlsx")
    book = openpyxl.load_workbook(tmp_path / "prices.xlsx")
    sheet = book.active
    assert sheet is not None
    names = [cell.value for cell in sheet[3]]
    at = {name: names.index(name) + 1 for name in ("item", "size", "unit", "price")}
    unfilled = (tmp_path / "prices.xlsx").read_bytes()
    rows = range(4, sheet.max_row + 1)
    for row in rows:
        item, size, unit = (sheet.cell(row, at[key]).value or "" for key in ("item", "size", "unit"))
        sheet.cell(row, at["price"]).value = PRICES[str(item), str(size), str(unit)]
    stream = io.BytesIO()
    book.save(stream)
    given = panel.get_by_label("Give a price book")
    given.set_input_files({"name": "empty.xlsx", "mimeType": "x/y", "buffer": unfilled})
    expect(panel.locator("price-book").get_by_role("alert")).to_have_text("empty.xlsx: holds no prices")
    given.set_input_files({"name": "ours.xlsx", "mimeType": "x/y", "buffer": stream.getvalue()})
    expect(panel).to_contain_text("The prices stand in ours.xlsx.", timeout=WAIT_MS)
    expect(panel.locator(".total")).to_be_visible(timeout=WAIT_MS)
    assert _price(person)["missing"] == []
    assert len(rows) == 20


def test_a_price_in_use_shows_its_source_and_is_changed_in_place(person: Person) -> None:
    person.expected = ["422"]
    page = person.page
    _open(person, TEXT, BOOK_FILE)
    panel = page.locator("price-panel")
    expect(panel.locator(".total")).to_have_text("USD 12,440.54", timeout=WAIT_MS)
    row = panel.locator("price-fields li").filter(has_text="fence builder")
    expect(row).to_contain_text("prices.toml, labour 1, invented yard, 2026-02-01")
    wage = row.get_by_label("fence builder", exact=True)
    expect(wage).to_have_value("38.00")
    wage.fill("50")
    wage.press("Enter")
    expect(row.get_by_role("alert")).to_have_text("low, price and high must rise")
    expect(wage).to_have_value("50")
    row.get_by_label("fence builder, at most").fill("55")
    panel.get_by_label("From whom").fill("ourselves")
    person.press("Keep this price")
    expect(row).to_contain_text("prices.toml, labour 1, ourselves", timeout=WAIT_MS)
    book = page.evaluate(
        "fetch('/api/jobs/' + location.hash.split('/').at(-1) + '/files/prices.toml').then(r => r.text())"
    )
    assert book.startswith("# A price book. Every price in it is INVENTED")
    assert tomllib.loads(book)["labour"][0] | {"date": None} == {
        "item": "fence builder", "unit": "h", "price": 50, "low": 36, "high": 55, "supplier": "ourselves", "date": None,
    }  # fmt: skip
    assert _total(person) != "USD 12,440.54"


def test_what_no_line_asks_for_is_priced_too_and_what_the_price_lacks_is_said(person: Person) -> None:
    person.expected = ["422"]
    lines = BOOK_FILE.splitlines(keepends=True)
    _open(person, TEXT, b"".join(line for line in lines if b"rock hole" not in line))
    panel = person.page.locator("price-panel")
    panel.get_by_text("What to look at in this price").click(timeout=WAIT_MS)
    said = panel.locator("finding-list li").filter(has_text="The price book has no price of a rock hole")
    expect(said).to_have_count(1)
    panel.get_by_text("Another price", exact=True).click()
    form = panel.get_by_role("form", name="Another price")
    form.get_by_label("What").fill("rock hole")
    form.get_by_label("Price").fill("95.")
    form.get_by_role("button", name="Keep this price").click()
    expect(form.get_by_role("alert")).to_have_text("By which unit: this must be stated.")
    form.get_by_label("By which unit").fill("hole")
    form.get_by_label("By which unit").press("Enter")
    expect(form.get_by_role("alert")).to_have_text("'95.' is no price: write a plain number such as 12.50")
    expect(form.get_by_label("Price")).to_be_focused()
    form.get_by_label("Price").fill("95")
    form.get_by_label("Price").press("Enter")
    expect(said).to_have_count(0, timeout=WAIT_MS)
    expect(form.get_by_label("What")).to_have_value("")
    panel.locator("finding-list li").filter(has_text="may not cover").get_by_role(
        "button", name="Do it"
    ).click()
    contingency = panel.locator("job-form").get_by_label("contingency")
    expect(contingency).not_to_have_value("", timeout=WAIT_MS)
    assert contingency.input_value().endswith("%")


@pytest.mark.parametrize("width", [390, 820, 1440])
def test_prices_are_read_and_typed_at_every_width(browser: Browser, served: Served, width: int) -> None:
    context = browser.new_context(viewport={"width": width, "height": 900}, has_touch=width < 1000)
    person = Person(context, served.home)
    _open(person, BARE)
    fields = person.page.locator("price-fields input")
    expect(fields.first).to_be_visible(timeout=WAIT_MS)
    sizes = fields.evaluate_all(
        "all => all.map(one => one.getBoundingClientRect()).map(r => [r.height, r.right])"
    )
    assert min(height for height, _ in sizes) >= 44
    assert max(right for _, right in sizes) <= width
    fields.nth(5).fill("12.50")
    covered = person.page.evaluate(
        """() => {
            const at = (root) => root.activeElement?.shadowRoot ? at(root.activeElement.shadowRoot) : root.activeElement;
            const box = at(document).getBoundingClientRect();
            const keep = at(document).getRootNode().querySelector(".keep").getBoundingClientRect();
            return box.bottom > keep.top && box.top < keep.bottom;
        }"""
    )
    assert not covered
    assert person.page.evaluate("document.documentElement.scrollWidth") == width
    person.show("Findings")
    person.show("Price")  # what was typed and not kept is still there
    expect(person.page.locator("price-fields input").nth(5)).to_have_value("12.50", timeout=WAIT_MS)
    assert person.faults == [], json.dumps(person.faults)
    context.close()


def test_a_quantile_of_the_price_has_its_why(person: Person) -> None:
    _open(person, TEXT, BOOK_FILE)
    kept = person.page.locator("price-panel .kept")
    expect(kept).to_be_visible(timeout=WAIT_MS)
    wanted = f"{_price(person)['p80']:,.2f}"
    kept.get_by_role("button", name=wanted).click()
    panel = person.page.locator("why-panel")
    expect(panel.locator("h2.of")).to_contain_text("price:p80", timeout=WAIT_MS)
    expect(panel.locator('article[data-name="P80"] h3')).to_contain_text(wanted)
    expect(panel.locator('article[data-name="P80"]')).to_contain_text("seed of the draws")
    expect(panel.locator('article[data-name="what is uncertain"] tr').nth(9)).to_be_visible()
