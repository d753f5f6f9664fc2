"""Edits by hand: a dragged corner, a dragged top, undo over a reload, two windows, the keyboard, the lost server."""

import re
from typing import Any

from playwright.sync_api import Browser, Route, expect

FOOT_M = 0.3048
CORNER_M = (200 * FOOT_M, 120 * FOOT_M)


def _paddock(person: Any) -> None:
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)


def test_a_dragged_corner_changes_fence_and_order(person: Any) -> None:
    _paddock(person)
    before = person.sums()
    x, y = person.place_of(CORNER_M)
    to_x, to_y = person.place_of((CORNER_M[0] + 15, CORNER_M[1] + 9))
    mouse = person.page.mouse
    mouse.move(x, y)
    mouse.down()
    mouse.move(to_x, to_y, steps=12)
    mouse.up()
    person.wait_whole(3)
    after = person.sums()
    assert after["Fence"] != before["Fence"]
    assert int(after["Posts"]) > int(before["Posts"])
    person.press("Undo")
    person.wait_whole(2)
    assert person.sums() == before


def test_a_dragged_top_is_pinned_where_it_was_let_go(person: Any) -> None:
    _paddock(person)
    page = person.page
    tops = """() => {
        const view = document.querySelector("fence-page").shadowRoot.querySelector("job-view");
        const section = view.shadowRoot.querySelector("fence-section");
        const box = section.shadowRoot.querySelector("canvas").getBoundingClientRect();
        const place = 9;
        const post = section.line.posts[place];
        return {id: post.id, above: post.top_m - post.ground_m,
            x: box.left + section.scale.across(post.station_m), y: box.top + section.scale.up(post.top_m),
            low: box.top + section.scale.up(post.ground_m + 1.3)};
    }"""
    before = page.evaluate(tops)
    page.mouse.move(before["x"], before["y"])
    page.mouse.down()
    page.mouse.move(before["x"], before["low"], steps=8)
    page.mouse.up()
    person.wait_whole(3)
    after = page.evaluate(tops)
    assert after["id"] == before["id"]
    assert abs(after["above"] - 1.3) < 0.03
    person.show("Chosen")
    expect(page.get_by_role("button", name="Let it flow again")).to_be_visible()
    person.press("Let it flow again")
    person.wait_whole(4)
    assert abs(page.evaluate(tops)["above"] - before["above"]) < 1e-3


def test_ten_edits_are_undone_after_a_reload(person: Any) -> None:
    _paddock(person)
    person.choose("Corner 3 of line 1")
    for step in range(10):
        form = person.page.get_by_role("form", name="Move", exact=True)
        form.get_by_label("East").fill(f"{210 + step} ft")
        form.get_by_role("button", name="Move", exact=True).click()
        expect(person.page.locator("job-view .state")).to_contain_text(f"revision {step + 3} ")
    person.page.reload()
    person.wait_whole(12)
    for step in range(10):
        person.press("Undo")
        expect(person.page.locator("job-view .state")).to_contain_text(f"revision {11 - step} ")
    person.wait_whole(2)
    assert person.sums()["Fence"] == "640.0 ft"
    for _ in range(10):
        person.press("Redo")
        person.page.wait_for_timeout(50)
    expect(person.page.locator("job-view .state")).to_contain_text("revision 12 ")


def test_a_refused_number_stays_at_its_field_with_the_sentence(person: Any) -> None:
    _paddock(person)
    person.expected = ["422"]
    person.show("Job")
    person.page.get_by_text("Ground, soil and climate").click()
    field = person.page.get_by_label("frost depth")
    field.fill("47 furlongs")
    field.press("Tab")
    alert = person.page.locator("job-form .refused").first
    expect(alert).to_contain_text("47 furlongs")
    expect(field).to_have_value("47 furlongs")
    field.fill("47 in")
    field.press("Tab")
    expect(alert).to_have_count(0)
    person.wait_whole(3)


def test_two_windows_merge_what_touches_different_things(person: Any, browser: Browser) -> None:
    _paddock(person)
    other = browser.new_page(viewport={"width": 1200, "height": 800})
    other.goto(person.page.url)
    state = other.locator("job-view .state")
    expect(state).to_contain_text(re.compile("revision 2 · (may|not)"), timeout=30_000)
    other.get_by_role("tab", name="Job").click()
    other.get_by_text("Ground, soil and climate").click()
    other.get_by_label("frost depth").fill("30 in")
    other.get_by_label("frost depth").press("Tab")
    expect(state).to_contain_text("revision 3 ")
    expect(person.page.locator("job-view .state")).to_contain_text("revision 3 ")
    expect(person.page.locator(".told")).to_contain_text("Another window changed this job")
    other.close()


ADD_GATES = """
async (gates) => {
    const view = document.querySelector("fence-page").shadowRoot.querySelector("job-view");
    const add = ([at, opening]) => ({ kind: "add", table: "gate", values: { line: "line 1", at, opening } });
    await view.session.edit({ kind: "many", label: "add gates", edits: gates.map(add) });
}
"""


def test_what_is_pressed_while_rows_get_other_numbers_means_what_was_seen(person: Any) -> None:
    """The third gate was pressed while the second went: the fourth went, which had its number by then."""
    _paddock(person)
    page = person.page
    page.evaluate(
        ADD_GATES, [["20 ft", "12 ft"], ["60 ft", "10 ft"], ["100 ft", "11 ft"], ["140 ft", "13 ft"]]
    )
    person.wait_whole(3)
    held: list[Route] = []
    page.route("**/edits", lambda route: route.continue_() if held else held.append(route))
    for name in ("gate 2", "gate 3"):
        person.choose(name)
        page.get_by_role("button", name="Delete the gate").click()
    page.wait_for_timeout(200)
    held[0].continue_()
    person.wait_whole(5)
    job = page.url.split("/")[-1]
    asked = page.request.get(f"{person.home}api/jobs/{job}").json()["asked"]
    assert [gate["opening"] for gate in asked["gate"]] == ["12 ft", "13 ft"]


def test_a_new_job_need_not_wait_for_the_list_of_jobs(person: Any) -> None:
    """Enter came while the list was still read: its button was off, and nothing came of it."""
    page = person.page
    held: list[Route] = []
    page.route(
        "**/api/jobs",
        lambda route: held.append(route) if route.request.method == "GET" else route.continue_(),
    )
    page.goto(person.home)
    page.get_by_label("Name").focus()
    page.keyboard.type("At once")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1, name="At once")).to_be_visible()
    assert len(held) == 1
    held[0].continue_()
    assert person.faults == []


def test_the_keyboard_alone_draws_chooses_and_undoes(person: Any) -> None:
    page = person.page
    page.goto(person.home)
    page.get_by_label("Name").focus()
    page.keyboard.type("By keys")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1, name="By keys")).to_be_visible()
    expect(page.get_by_role("button", name="Draw a line")).to_be_enabled()
    page.get_by_role("button", name="Draw a line").focus()
    page.keyboard.press("Enter")
    for length, bearing in (("100 ft", "0"), ("100 ft", "R 90")):
        page.get_by_label("Length", exact=True).focus()
        page.keyboard.type(length)
        page.keyboard.press("Tab")
        page.keyboard.press("Control+A")
        page.keyboard.type(bearing)
        page.keyboard.press("Enter")
    page.get_by_role("button", name="Keep it open").focus()
    page.keyboard.press("Enter")
    person.wait_whole(2)
    canvas = page.locator("fence-section canvas")
    canvas.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    expect(canvas).to_have_attribute("aria-label", re.compile(r"P\d+ at "))
    page.keyboard.press("ArrowUp")
    expect(page.locator("job-view .state")).to_contain_text("revision 3 ")
    page.keyboard.press("Control+z")
    expect(page.locator("job-view .state")).to_contain_text("revision 2 ")


def test_once_loaded_the_page_stays_readable_without_its_server(person: Any, served: Any) -> None:
    _paddock(person)
    served.stop()
    person.expected = ["Failed to load", "ERR_"]
    expect(person.page.locator("job-view .state")).to_contain_text("read only", timeout=20_000)
    expect(person.page.get_by_role("button", name="Draw a line")).to_be_disabled()
    person.show("Posts")
    expect(person.page.locator("fence-table tbody tr").first).to_contain_text("P1")
    person.show("Tension")
    expect(person.page.locator("tension-chart svg")).to_be_visible()
