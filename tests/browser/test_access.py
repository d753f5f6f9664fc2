"""Everyone can use it: axe-core finds nothing, targets are large enough, a phone by touch, two languages, every shade."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

AXE = Path(__file__).parents[2] / "web/node_modules/axe-core/axe.min.js"
PANELS = (
    "Findings", "Chosen", "Job", "Posts", "Order", "Rolls", "Tension", "Strength", "Price", "Programme", "Why",
    "History", "Take away",
)  # fmt: skip
LEVELS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]

WALK = """() => {
    const found = [];
    const walk = (root) => root.querySelectorAll("*").forEach((part) => {
        if (part.shadowRoot) walk(part.shadowRoot);
        const box = part.getBoundingClientRect();
        if (box.width > 1 && %s) found.push(part.outerHTML.slice(0, 90));
    });
    walk(document);
    return found;
}"""
# what is too small to be pressed with a finger
SMALL = (
    WALK
    % 'part.matches("button, select, a, input:not(.only-heard), summary") && (box.height < 43.9 || box.width < 43.9)'
)
# what tells rows apart and is cut
CUT = WALK % 'part.matches(".whole td:first-child") && part.scrollWidth > part.clientWidth'


def _faults(page: Page, shade: str = "light") -> list[str]:
    """What axe-core says against WCAG 2.2 AA, one line a place; of the other shades, what their inks alone can change."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    asked = LEVELS if shade == "light" else ["color-contrast"]
    found = page.evaluate(f"axe.run(document, {{runOnly: {json.dumps(asked)}}})")
    return [
        f"{fault['id']}: {node['target']} {node.get('failureSummary', '')}"
        for fault in found["violations"]
        for node in fault["nodes"]
    ]


@pytest.mark.parametrize("shade", ["light", "dark", "sun"])
def test_axe_finds_nothing_on_any_panel(person: Any, shade: str) -> None:
    person.expected = ["422", "501", "404"]  # a job without a price book is told so
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)
    person.page.locator("#shade").select_option(shade)
    assert _faults(person.page, shade) == []
    for panel in PANELS:
        person.show(panel)
        person.page.wait_for_timeout(150)
        assert (panel, _faults(person.page, shade)) == (panel, [])
    person.press("Draw a line")
    assert _faults(person.page, shade) == []
    person.page.goto(person.home)
    expect(person.page.get_by_role("heading", name="Jobs")).to_be_visible()
    assert _faults(person.page, shade) == []


def test_a_phone_draws_by_touch_and_reads_every_panel(browser: Browser, served: Any) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    page = context.new_page()
    page.goto(served.home)
    page.get_by_label("Name").fill("By touch")
    page.get_by_role("button", name="New job").tap()
    draw = page.get_by_role("button", name="Draw a line")
    expect(draw).to_be_enabled()
    draw.tap()
    box = page.locator("fence-plan").bounding_box()
    assert box is not None
    for x, y in ((0.2, 0.3), (0.8, 0.3), (0.8, 0.7)):
        page.touchscreen.tap(box["x"] + x * box["width"], box["y"] + y * box["height"])
        page.wait_for_timeout(400)
        if (x, y) == (0.2, 0.3):
            expect(page.locator("draw-form").get_by_role("status")).to_have_text("1 point")
    page.get_by_role("button", name="Keep it open").tap()
    expect(page.locator("job-view .state")).to_have_text(re.compile("revision 2 · (may|not)"), timeout=30_000)
    for panel in ("Plan", "Long section", *PANELS):
        page.get_by_role("tab", name=re.compile(f"^{panel}")).tap()
        page.wait_for_timeout(100)
        wide = page.evaluate("document.documentElement.scrollWidth")
        assert (panel, wide) == (panel, 390)
        if panel == "Programme":
            expect(page.locator("programme-panel fence-table td").first).to_be_visible()
        assert (panel, page.evaluate(SMALL)) == (panel, [])
        assert (panel, page.evaluate(CUT)) == (panel, [])
    context.close()


def test_the_second_language_is_whole(person: Any) -> None:
    person.new_job()
    person.page.locator("#language").select_option("es")
    expect(person.page.get_by_role("button", name="Dibujar línea")).to_be_visible()
    texts = Path(__file__).parents[2] / "web/src/texts"
    english, spanish = (json.loads((texts / f"{code}.json").read_text("utf-8")) for code in ("en", "es"))
    assert set(english) == set(spanish)
    places = {key: set(re.findall(r"{\w+}", text)) for key, text in english.items()}
    assert {key: set(re.findall(r"{\w+}", text)) for key, text in spanish.items()} == places
    person.page.locator("#language").select_option("en")
