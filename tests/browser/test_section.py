"""The long section in hand: two fingers, a finger on a top, the wheel, the keys; what is lit on plan and section."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, expect
from tests.browser.conftest import Fingers

SECTION = """document.querySelector("fence-page").shadowRoot.querySelector("job-view")
    .shadowRoot.querySelector("fence-section")"""
PLAN = SECTION.replace("fence-section", "fence-plan")
STATE = f"""() => {{
    const section = {SECTION};
    const box = section.shadowRoot.querySelector("canvas").getBoundingClientRect();
    const posts = section.line.posts.map((post) => ({{
        id: post.id, station_m: post.station_m, above_m: post.top_m - post.ground_m, isPinned: post.isPinned,
        x: box.left + section.scale.across(post.station_m), top: box.top + section.scale.up(post.top_m),
        low: box.top + section.scale.up(post.low_m), high: box.top + section.scale.up(post.high_m),
    }}));
    return {{ posts, low: section.shown.low, high: section.shown.high, left: box.left, box_top: box.top,
        frame: section.frame, hovered: section.hovered, selected: section.selected }};
}}"""


class OnSection(Fingers):
    """Fingers on the long section."""

    def state(self) -> dict[str, Any]:
        """What the section shows, once it is drawn."""
        self.page.wait_for_timeout(80)
        shown: dict[str, Any] = self.page.evaluate(STATE)
        return shown


def _paddock(person: Any) -> None:
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)


@pytest.fixture
def fingers(browser: Browser, person: Any) -> Iterator[OnSection]:
    """A phone with the small paddock's long section before it."""
    _paddock(person)
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    page = context.new_page()
    faults: list[str] = []
    page.on("console", lambda said: faults.append(said.text) if said.type == "error" else None)
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(person.page.url)
    expect(page.locator("job-view .state")).to_have_text(re.compile("revision 2 · (may|not)"), timeout=30_000)
    page.get_by_role("tab", name="Long section").tap()
    yield OnSection(page)
    assert faults == []
    context.close()


def test_two_fingers_zoom_about_the_place_between_them_and_one_pans(fingers: OnSection) -> None:
    before = fingers.state()
    whole_m = before["high"] - before["low"]
    y, middle = before["box_top"] + 60, before["left"] + 200
    fingers.touch("Start", (middle - 30, y), (middle + 30, y))
    for step in range(1, 7):
        fingers.touch("Move", (middle - 30 - 10 * step, y), (middle + 30 + 10 * step, y))
    fingers.touch("End")
    near = fingers.state()
    assert near["high"] - near["low"] == pytest.approx(whole_m / 3, rel=0.02)
    share = (200 - before["frame"]["left"]) / before["frame"]["width"]
    station_m = before["low"] + share * whole_m
    assert near["low"] + share * (near["high"] - near["low"]) == pytest.approx(station_m, abs=0.6)
    fingers.drag((middle + 60, y), (middle - 40, y))
    panned = fingers.state()
    by_m = 100 / near["frame"]["width"] * (near["high"] - near["low"])
    assert panned["low"] - near["low"] == pytest.approx(by_m, rel=0.05)
    assert panned["selected"] == ""
    assert fingers.page.evaluate("[visualViewport.scale, document.documentElement.scrollTop]") == [1, 0]


def test_a_finger_takes_a_top_in_its_band_and_its_numbers_follow(fingers: OnSection) -> None:
    post = fingers.state()["posts"][9]
    fingers.drag((post["x"], post["top"] + 6), (post["x"], post["low"] + 90))
    state = fingers.page.locator("job-view .state")
    expect(state).to_have_text(re.compile("revision 3 · (may|not)"), timeout=30_000)
    after = next(one for one in fingers.state()["posts"] if one["id"] == post["id"])
    assert after["isPinned"]
    assert after["above_m"] < post["above_m"] - 0.005
    assert after["top"] == pytest.approx(
        after["low"], abs=1.5
    )  # held to its band, however far the finger went
    picked = fingers.page.locator(".section .picked")
    expect(picked).to_contain_text(post["id"])
    picked.get_by_role("button", name="Its numbers").tap()
    expect(fingers.page.get_by_role("button", name="Let it flow again")).to_be_visible()


def test_a_second_finger_lets_the_held_top_go(fingers: OnSection) -> None:
    post = fingers.state()["posts"][9]
    held, moved = (post["x"], post["top"]), (post["x"], post["top"] + 30)
    fingers.touch("Start", held)
    for step in range(1, 5):
        fingers.touch("Move", (post["x"], post["top"] + 30 * step / 4))
    fingers.touch("Start", moved, (post["x"] + 80, post["top"]))
    fingers.touch("End")
    fingers.page.wait_for_timeout(700)
    after = fingers.state()["posts"][9]
    expect(fingers.page.locator("job-view .state")).to_contain_text("revision 2 ")
    assert after["above_m"] == pytest.approx(post["above_m"], abs=1e-4)
    assert not after["isPinned"]


def test_what_is_under_the_hand_is_lit_on_plan_and_section(person: Any) -> None:
    _paddock(person)
    page = person.page
    post = page.evaluate(STATE)["posts"][4]
    page.mouse.move(post["x"], post["top"] + 8)
    page.wait_for_function(f"id => {PLAN}.hovered === id", arg=post["id"])
    at = page.evaluate(f"id => {PLAN}.model.posts.find((post) => post.id === id).at", post["id"])
    page.mouse.move(5, 5)
    page.wait_for_function(f"() => {SECTION}.hovered === '' && {PLAN}.hovered === ''")
    page.mouse.move(*person.place_of(at))
    page.wait_for_function(f"id => {SECTION}.hovered === id", arg=post["id"])
    page.mouse.click(*person.place_of(at))
    page.wait_for_function(f"id => {SECTION}.selected === id", arg=post["id"])
    page.mouse.move(5, 5)
    page.wait_for_function(f"() => {SECTION}.hovered === ''")


def test_the_wheel_zooms_about_the_hand_and_never_the_page(person: Any) -> None:
    _paddock(person)
    page = person.page
    before = page.evaluate(STATE)
    post = before["posts"][6]
    page.mouse.move(post["x"], post["top"] - 20)
    for key in ("", "Control"):
        if key:
            page.keyboard.down(key)
        page.mouse.wheel(0, -100)
        page.wait_for_timeout(120)
        if key:
            page.keyboard.up(key)
        after = page.evaluate(STATE)
        assert after["high"] - after["low"] < 0.8 * (before["high"] - before["low"])
        assert after["posts"][6]["x"] == pytest.approx(post["x"], abs=1)
        before = after
    assert page.evaluate("[devicePixelRatio, visualViewport.scale]") == [1, 1]
    page.mouse.wheel(60, 0)
    page.wait_for_timeout(120)
    assert page.evaluate(STATE)["low"] > before["low"]


def test_the_keys_choose_pin_free_and_keep_the_chosen_post_in_sight(person: Any) -> None:
    _paddock(person)
    page = person.page
    canvas = page.locator("fence-section canvas")
    canvas.focus()
    page.keyboard.press("Home")
    for _ in range(3):
        page.keyboard.press("+")
    page.keyboard.press("End")
    page.wait_for_timeout(120)
    state = page.evaluate(STATE)
    last = state["posts"][-2]  # the last post of a closed line is its first again
    assert state["selected"] == last["id"]
    assert state["low"] <= last["station_m"] <= state["high"]
    page.keyboard.press("ArrowLeft")
    expect(canvas).to_have_attribute("aria-label", re.compile(state["posts"][-3]["id"]))
    page.keyboard.press("p")
    person.wait_whole(3)
    assert page.evaluate(STATE)["posts"][-3]["isPinned"]
    expect(canvas).to_have_attribute("aria-label", re.compile("pinned"))
    page.keyboard.press("p")
    person.wait_whole(4)
    assert not page.evaluate(STATE)["posts"][-3]["isPinned"]


def test_escape_lets_go_of_a_top_under_the_hand(person: Any) -> None:
    _paddock(person)
    page = person.page
    post = page.evaluate(STATE)["posts"][9]
    page.mouse.move(post["x"], post["top"])
    page.mouse.down()
    page.mouse.move(post["x"], post["top"] + 14, steps=4)
    page.keyboard.press("Escape")
    page.mouse.up()
    page.wait_for_timeout(600)
    assert page.evaluate(STATE)["posts"][9]["above_m"] == pytest.approx(post["above_m"], abs=1e-4)
    assert person.revision() == 2
