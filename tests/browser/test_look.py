"""What is taken away is looked at first: a paper page by page, a drawing near and far, by mouse, keyboard and touch."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

ROOT = Path(__file__).parents[2]
AXE = ROOT / "web/node_modules/axe-core/axe.min.js"
LEVELS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
PADDOCK = ROOT / "examples/small-paddock"
DRAWN = "one => one.complete && one.naturalWidth > 0 && one.naturalHeight > 0"


def _faults(page: Page) -> list[str]:
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate(f"axe.run(document, {{runOnly: {json.dumps(LEVELS)}}})")
    return [f"{fault['id']}: {node['target']}" for fault in found["violations"] for node in fault["nodes"]]


def _open(page: Page, home: str) -> None:
    """Import the small paddock with its price book, and show what is taken away."""
    page.goto(home)
    files = [str(PADDOCK / name) for name in ("job.toml", "prices.toml")]
    page.get_by_label("Import a job or site files").set_input_files(files)
    expect(page.get_by_role("heading", level=1, name="Small paddock")).to_be_visible(timeout=30_000)
    page.get_by_role("tab", name="Take away").click()
    expect(page.get_by_role("link", name="quote.pdf", exact=True)).to_be_visible(timeout=60_000)


def _look(page: Page, name: str) -> Locator:
    """Press *Look* of an output, and wait until its picture is there."""
    page.get_by_role("listitem").filter(has_text=name).get_by_role("button", name="Look").click()
    dialog = page.get_by_role("dialog", name=name)
    expect(dialog).to_be_visible()
    _drawn(dialog)
    return dialog


def _drawn(dialog: Locator) -> Locator:
    image = dialog.locator("img")
    expect(image).to_be_visible(timeout=30_000)
    expect(dialog.get_by_role("region")).to_have_attribute("aria-busy", "false", timeout=30_000)
    assert image.evaluate(DRAWN)
    return image


def _shown_wide(dialog: Locator) -> float:
    return float(dialog.locator("img").evaluate("one => one.getBoundingClientRect().width"))


def test_a_paper_is_looked_at_page_by_page(person: Any) -> None:
    page = person.page
    _open(page, person.home)
    page.evaluate("window.heard = 0; window.addEventListener('keydown', () => { window.heard += 1; })")
    dialog = _look(page, "quote.pdf")
    whole = dialog.evaluate(
        "one => { const box = one.getBoundingClientRect(); return [box.width, box.height]; }"
    )
    assert whole == [1440, 900]
    said, image = dialog.get_by_role("status"), dialog.get_by_role("img")
    expect(said).to_have_text(re.compile(r"^page 1 of 4, \d+ %$"))
    expect(image).to_have_accessible_name(re.compile(r"^quote\.pdf, page 1 of 4"))
    assert _faults(page) == []
    dialog.get_by_role("button", name="Next page").click()
    expect(said).to_have_text(re.compile("^page 2 of 4"))
    _drawn(dialog)
    expect(image).to_have_attribute("src", re.compile(r"/pages/2\.png\?"))
    page.keyboard.press("ArrowRight")
    expect(said).to_have_text(re.compile("^page 3 of 4"))
    page.keyboard.press("ArrowLeft")
    expect(said).to_have_text(re.compile("^page 2 of 4"))
    dialog.get_by_label("Page", exact=True).select_option(label="page 4 of 4")
    expect(said).to_have_text(re.compile("^page 4 of 4"))
    last = dialog.get_by_role("button", name="Next page")
    expect(last).to_have_attribute("aria-disabled", "true")
    last.click(force=True)
    expect(said).to_have_text(re.compile("^page 4 of 4"))
    itself = dialog.get_by_role("link", name="The file itself")
    expect(itself).to_have_attribute("href", re.compile(r"/outputs/quote\.pdf\?at=1$"))
    page.keyboard.press("Control+z")
    page.keyboard.press("Escape")
    expect(dialog).to_be_hidden()
    opener = page.get_by_role("listitem").filter(has_text="quote.pdf").get_by_role("button", name="Look")
    expect(opener).to_be_focused()
    assert page.evaluate("window.heard") == 0  # the job behind undoes nothing
    page.keyboard.press("Enter")
    expect(dialog).to_be_visible()
    dialog.get_by_role("button", name="Close").click()
    expect(dialog).to_be_hidden()
    expect(opener).to_be_focused()


def test_a_drawing_comes_nearer_and_what_is_in_the_middle_stays_there(person: Any) -> None:
    page = person.page
    _open(page, person.home)
    dialog = _look(page, "plan.svg")
    view = dialog.get_by_role("region")
    first = _shown_wide(dialog)
    expect(dialog.get_by_role("button", name="Whole page")).to_have_attribute("aria-pressed", "true")
    for _ in range(3):
        page.keyboard.press("+")
    expect(dialog.get_by_role("status")).to_have_text("150 %")
    assert _shown_wide(dialog) == pytest.approx(1.5 * 279.4 / 25.4 * 96, abs=1)
    middle = """one => {
        const box = one.getBoundingClientRect(), shown = one.querySelector("img").getBoundingClientRect();
        const [x, y] = [box.left + box.width / 2, box.top + box.height / 2];
        return [(x - shown.left) / shown.width, (y - shown.top) / shown.height];
    }"""
    assert view.evaluate(middle) == pytest.approx([0.5, 0.5], abs=0.02)
    before = view.evaluate("one => [one.scrollLeft, one.scrollTop]")
    page.mouse.move(700, 450)
    page.mouse.down()
    page.mouse.move(640, 410)
    page.mouse.up()
    assert view.evaluate("one => [one.scrollLeft, one.scrollTop]") == pytest.approx(
        [before[0] + 60, before[1] + 40], abs=1
    )
    dialog.get_by_role("button", name="Fit to width").click()
    assert view.evaluate("one => one.scrollWidth - one.clientWidth") == 0
    assert _shown_wide(dialog) > 1300
    dialog.get_by_role("button", name="Whole page").click()
    assert _shown_wide(dialog) == pytest.approx(first, abs=1)
    assert _faults(page) == []


def test_on_a_phone_papers_and_the_narrow_drawings_fill_the_width(browser: Browser, served: Any) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    page = context.new_page()
    faults: list[str] = []
    page.on("console", lambda message: faults.append(message.text) if message.type == "error" else None)
    _open(page, served.home)
    dialog = _look(page, "field-pack.pdf")
    assert 360 < _shown_wide(dialog) <= 390
    small = dialog.locator("button, select, a").evaluate_all(
        "all => all.map(one => one.getBoundingClientRect()).filter(box => box.width < 43.9 || box.height < 43.9).length"
    )
    assert small == 0
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    assert dialog.evaluate("one => one.scrollWidth") == 390
    dialog.get_by_role("button", name="Next page").tap()
    expect(dialog.get_by_role("status")).to_have_text(re.compile("^page 2 of"))
    assert _faults(page) == []
    dialog.get_by_role("button", name="Close").tap()
    drawing = _look(page, "section.svg")
    high = drawing.locator("img").evaluate("one => one.offsetHeight / one.offsetWidth")
    sheet = page.evaluate(
        """async () => {
            const id = location.hash.split("/").at(-1);
            const text = await (await fetch(`/api/jobs/${id}/outputs/section.svg`)).text();
            return text.match(/class="phone"[^>]*viewBox="0 0 ([\\d.]+) ([\\d.]+)"/).slice(1).map(Number);
        }"""
    )
    assert high == pytest.approx(sheet[1] / sheet[0], rel=0.01)  # all of its narrow form, none of it cut off
    context.close()
    assert faults == []


def test_what_cannot_be_drawn_says_so(person: Any) -> None:
    page = person.page
    person.expected = ["404", "Failed to load resource"]
    _open(page, person.home)
    page.route("**/pages/*.png*", lambda route: route.fulfill(status=404, body=""))
    page.get_by_role("listitem").filter(has_text="quote.pdf").get_by_role("button", name="Look").click()
    dialog = page.get_by_role("dialog", name="quote.pdf")
    expect(dialog.get_by_role("alert")).to_have_text(re.compile("^This cannot be shown now"))
    page.unroute("**/pages/*.png*")
    dialog.get_by_role("button", name="Next page").click()
    _drawn(dialog)
    expect(dialog.get_by_role("alert")).to_have_count(0)


def test_the_programmes_bars_are_shown_whole_and_looked_at(person: Any) -> None:
    page = person.page
    _open(page, person.home)
    page.get_by_role("tab", name="Programme").click()
    overview = page.locator("drawing-overview")
    look = overview.get_by_role("button", name="Look")
    expect(look).to_be_visible(timeout=30_000)
    laid, natural, high, shown = overview.get_by_role("img", name="Programme").evaluate(
        "one => [one.offsetWidth, one.naturalWidth, one.parentElement.offsetHeight, one.getBoundingClientRect().height]"
    )
    assert laid == natural  # so wide that it is the sheet, not the narrow form in a frame too low for it
    assert high == pytest.approx(shown, abs=1)
    look.click()
    dialog = page.get_by_role("dialog", name="programme.svg")
    _drawn(dialog)
    page.keyboard.press("Escape")
    expect(dialog).to_be_hidden()
    expect(look).to_be_focused()
