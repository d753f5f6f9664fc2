"""The keyboard alone: Tab comes to every part with its focus in sight and is nowhere caught; Escape leaves; arrows walk."""

import re
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Route, expect

FOCUS = """() => {
    let part = document.activeElement;
    while (part?.shadowRoot?.activeElement) part = part.shadowRoot.activeElement;
    if (!part || part === document.body) return null;
    const box = part.getBoundingClientRect();
    const style = getComputedStyle(part);
    const label = part.closest("label");
    const ring = style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
    return {
        name: part.getAttribute("aria-label") || part.innerText || part.id, host: part.getRootNode().host?.localName,
        ringed: ring || (label && getComputedStyle(label).outlineStyle !== "none"),
        inSight: box.bottom > 0 && box.right > 0 && box.top < innerHeight && box.left < innerWidth,
    };
}"""
PANELS = (
    "Findings", "Chosen", "Posts", "Order", "Rolls", "Tension", "Strength", "Price", "Programme", "Why", "History",
)  # fmt: skip


def _paddock(person: Any) -> None:
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)


def _walked(page: Page, most: int = 90) -> list[dict[str, Any]]:
    """Tab from where the focus is until it leaves the page."""
    seen: list[dict[str, Any]] = []
    for _ in range(most):
        page.keyboard.press("Tab")
        focus = page.evaluate(FOCUS)
        if focus is None:
            return seen
        seen.append(focus)
    raise AssertionError(f"Tab is caught: {[one['name'][:20] for one in seen[-8:]]}")


@pytest.mark.parametrize("width", [1440, 390])
def test_tab_comes_to_every_part_with_its_focus_in_sight(person: Any, width: int) -> None:
    _paddock(person)
    page = person.page
    page.set_viewport_size({"width": width, "height": 900})
    page.reload()
    person.wait_whole(2)
    seen = _walked(page)
    assert [one for one in seen if not (one["ringed"] and one["inSight"])] == []
    hosts = [one["host"] for one in seen]
    wanted = ["fence-page", "job-view", "fence-plan", "job-view"]
    if width > 960:
        wanted += ["fence-section", "job-view", "finding-list"]
    places = [hosts.index(wanted[0])]
    for host in wanted[1:]:
        places.append(hosts.index(host, places[-1] + 1))
    assert places == sorted(places)
    names = [one["name"] for one in seen]
    assert names.count("Plan" if width == 390 else "Findings") >= 1


def test_every_panel_is_walked_through_without_being_caught(person: Any) -> None:
    person.expected = ["422", "501", "404"]  # a job without a price book is told so
    _paddock(person)
    page = person.page
    page.get_by_role("tab", name="Findings").focus()
    for panel in PANELS:
        expect(page.get_by_role("tab", name=re.compile(f"^{panel}"), selected=True)).to_be_focused()
        page.wait_for_timeout(200)
        seen = _walked(page)
        assert [(panel, one["name"]) for one in seen if not (one["ringed"] and one["inSight"])] == []
        page.get_by_role("tab", name=re.compile(f"^{panel}")).focus()
        page.keyboard.press("ArrowRight")
        if panel == "Chosen":
            page.keyboard.press("ArrowRight")  # the forms of the job have a test of their own


def test_what_holds_the_focus_stays_in_sight_when_a_drawing_comes_above_it(person: Any) -> None:
    """A programme's drawing came late and pushed the button below it out of the panel."""
    _paddock(person)
    page = person.page
    page.set_viewport_size({"width": 1440, "height": 640})
    held: list[Route] = []
    page.route("**/programme.svg*", lambda route: held.append(route))
    person.show("Programme")
    button = page.locator("programme-panel fence-table").get_by_role("button", name="CSV")
    button.focus()
    low = page.locator(".panel").bounding_box()
    assert button.bounding_box()["y"] < low["y"] + low["height"]
    page.wait_for_timeout(100)
    assert len(held) == 1
    held[0].continue_()
    drawing = page.locator("programme-panel").get_by_role("button", name="Look")
    expect(drawing).to_have_count(1)
    expect(button).to_be_focused()
    expect(button).to_be_in_viewport()
    assert button.bounding_box()["y"] > low["y"]


def test_the_rows_of_a_table_are_one_stop_and_the_arrows_walk_them(person: Any) -> None:
    _paddock(person)
    page = person.page
    person.show("Posts")
    first = page.locator("fence-table tr[tabindex='0']")
    expect(first).to_have_count(1)
    first.focus()
    page.keyboard.press("End")
    last = page.locator("fence-table tr:focus")
    expect(last).to_contain_text("P54")
    page.keyboard.press("ArrowUp")
    expect(last).to_contain_text("P53")
    page.keyboard.press("PageUp")
    expect(last).to_contain_text("P43")
    page.keyboard.press("Enter")
    expect(page.locator("chosen-thing h2")).to_contain_text("P43")
    assert page.evaluate(FOCUS) is not None  # the table is gone: the focus came to the panel in its place


def test_escape_leaves_what_is_drawn_then_the_tool_and_the_focus_stays(person: Any) -> None:
    _paddock(person)
    page = person.page
    draw = page.get_by_role("button", name="Draw a line")
    draw.focus()
    page.keyboard.press("Enter")
    page.get_by_label("Length", exact=True).fill("50 ft")
    page.get_by_label("Bearing or turn").fill("90")
    page.keyboard.press("Enter")
    expect(page.locator("draw-form")).to_contain_text("2 points")
    page.keyboard.press("Escape")
    expect(page.locator("draw-form")).not_to_contain_text("2 points")
    expect(draw).to_have_attribute("aria-pressed", "true")
    page.keyboard.press("Escape")
    expect(page.locator("draw-form")).to_have_count(0)
    expect(page.get_by_role("button", name="Choose", exact=True)).to_be_focused()
    assert person.revision() == 2


def test_who_asks_for_less_motion_gets_none(browser: Browser, person: Any) -> None:
    _paddock(person)
    page = browser.new_page(reduced_motion="reduce")
    page.goto(person.page.url)
    expect(page.locator("job-view .state")).to_contain_text(
        re.compile("revision 2 · (may|not)"), timeout=30_000
    )
    steps = page.evaluate(
        """async () => {
            const view = document.querySelector("fence-page").shadowRoot.querySelector("job-view");
            const map = view.shadowRoot.querySelector("fence-plan").map;
            const box = map.getTargetElement().getBoundingClientRect();
            const seen = new Set([map.getView().getResolution()]);
            const turn = { deltaY: -240, clientX: box.left + 200, clientY: box.top + 150, bubbles: true };
            map.getViewport().dispatchEvent(new WheelEvent("wheel", turn));
            for (let frame = 0; frame < 40; frame++) {
                await new Promise((next) => requestAnimationFrame(next));
                seen.add(map.getView().getResolution());
            }
            return seen.size;
        }"""
    )
    assert steps == 2
    page.close()
