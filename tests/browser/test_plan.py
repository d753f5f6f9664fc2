"""Hands on the plan: what catches a dragged corner, presses that walk through what lies there, obstacles, dividers."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Route, expect
from tests.browser.conftest import Fingers

FOOT_M = 0.3048
# A paddock of 200 ft by 120 ft; a cross fence shares no corner with it; a stream crosses its south side.
JOB = """
[job]
name = "Paddock and stream"
sheets = "us"

[[line]]
name = "paddock"
points = [["0 ft", "0 ft"], ["200 ft", "0 ft"], ["200 ft", "120 ft"], ["0 ft", "120 ft"]]
closed = true

[[line]]
name = "lane"
points = [["200 ft", "120 ft"], ["300 ft", "120 ft"]]

[[obstacle]]
name = "stream"
kind = "stream"
points = [["101 ft", "-40 ft"], ["101 ft", "40 ft"]]
"""


def _ft(east: float, north: float) -> tuple[float, float]:
    return east * FOOT_M, north * FOOT_M


class Field:
    """The job above, open before a person, with a mouse or with fingers."""

    def __init__(self, person: Any) -> None:
        self.person = person
        self.page: Page = person.page
        self.fingers = Fingers(person.page)
        person.new_job("Paddock and stream")
        self.id = self.page.url.rsplit("/", 1)[-1]
        self.edit({"kind": "replace_text", "text": JOB})
        person.wait_whole(2)
        self.page.wait_for_timeout(300)

    def edit(self, edit: dict[str, Any]) -> None:
        """Edit the job beside the page, as another window would."""
        status = self.page.evaluate(
            """async ([id, edit]) => {
                const head = (await (await fetch(`/api/jobs/${id}`)).json()).head;
                const answer = await fetch(`/api/jobs/${id}/edits`, {method: "POST",
                    headers: {"content-type": "application/json"},
                    body: JSON.stringify({base: head, window: "beside", edit})});
                return answer.status;
            }""",
            [self.id, edit],
        )
        assert status == 200

    def asked(self) -> dict[str, Any]:
        """The job as the server has it."""
        return dict(
            self.page.evaluate("id => fetch(`/api/jobs/${id}`).then(r => r.json())", self.id)["asked"]
        )

    def corner(self, line: int, corner: int) -> list[float]:
        """A corner of the job, in feet."""
        return [_feet(text) for text in self.asked()["line"][line]["points"][corner]]

    def drag(self, start: tuple[float, float], end: tuple[float, float], *, fingers: bool = False) -> None:
        """Drag from one place of the plan to another. [ft]"""
        (x, y), (to_x, to_y) = (self.person.place_of(_ft(*place)) for place in (start, end))
        if not fingers:
            self.page.mouse.move(x, y)
            self.page.mouse.down()
            self.page.mouse.move(to_x, to_y, steps=10)
            self.page.mouse.up()
            return
        self.fingers.drag((x, y), (to_x, to_y), steps=10)

    def press(self, place: tuple[float, float]) -> None:
        """Press a place of the plan with the mouse. [ft]"""
        self.page.mouse.click(*self.person.place_of(_ft(*place)))
        self.page.wait_for_timeout(350)


def _feet(text: str) -> float:
    amount, unit = str(text).split()
    return float(amount) if unit == "ft" else float(amount) / FOOT_M


@pytest.fixture
def field(person: Any) -> Field:
    """The job before a person at a desk."""
    return Field(person)


@pytest.fixture
def phone(browser: Browser, served: Any, person: Any) -> Iterator[Field]:
    """The job before a person with a phone, who touches."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    seen = type(person)(context, served.home)
    yield Field(seen)
    context.close()
    assert seen.faults == []


def test_a_dragged_corner_is_caught_at_a_right_angle(field: Field) -> None:
    """Dropped about a foot from square it stands square, and the fence that shares the corner goes along."""
    field.drag((200, 120), (221, 121))
    field.person.wait_whole(3)
    assert field.corner(0, 2) == pytest.approx([221, 120], abs=0.6)
    assert field.corner(0, 2)[1] == pytest.approx(120, abs=2e-3)
    assert field.corner(1, 0) == field.corner(0, 2)


def test_alt_and_the_button_leave_a_corner_where_it_is_dropped(field: Field) -> None:
    field.page.keyboard.down("Alt")
    field.drag((0, 120), (-22, 121))
    field.page.keyboard.up("Alt")
    field.person.wait_whole(3)
    assert abs(field.corner(0, 3)[1] - 120) > 0.4
    field.person.press("Undo")
    field.person.wait_whole(2)
    field.page.get_by_role("button", name=re.compile("^Catch points")).click()
    field.drag((0, 120), (-22, 121))
    field.person.wait_whole(4)
    assert abs(field.corner(0, 3)[1] - 120) > 0.4


def test_a_finger_is_caught_too_until_the_button_is_off(phone: Field) -> None:
    phone.drag((0, 120), (-40, 121.5), fingers=True)
    phone.person.wait_whole(3)
    assert phone.corner(0, 3)[1] == pytest.approx(120, abs=2e-3)
    phone.page.get_by_role("button", name=re.compile("^Catch points")).tap()
    phone.drag((0, 0), (-40, -3), fingers=True)
    phone.person.wait_whole(4)
    assert abs(phone.corner(0, 0)[1]) > 1


def test_escape_in_a_drag_leaves_the_corner(field: Field) -> None:
    (x, y), (to_x, to_y) = (field.person.place_of(_ft(*place)) for place in ((200, 0), (230, -20)))
    field.page.mouse.move(x, y)
    field.page.mouse.down()
    field.page.mouse.move(to_x, to_y, steps=6)
    field.page.keyboard.press("Escape")
    field.page.mouse.up()
    field.page.wait_for_timeout(600)
    assert field.person.revision() == 2
    assert field.corner(0, 1) == [200, 0]


def test_a_corner_may_leave_the_other_fence(field: Field) -> None:
    field.person.choose("Corner 3 of paddock")
    field.page.get_by_role("button", name="Leave lane where it is").click()
    field.drag((200, 120), (190, 110))
    field.person.wait_whole(3)
    assert field.corner(0, 2) == pytest.approx([190, 110], abs=3)
    assert field.corner(1, 0) == [200, 120]


def test_a_cross_fence_starts_square_to_a_line(field: Field) -> None:
    field.person.press("Draw a line")
    for place in ((60, 0.5), (61, 119.6)):
        field.page.mouse.move(*field.person.place_of(_ft(*place)))
        field.press(place)
    field.person.press("Keep it open")
    field.person.wait_whole(3)
    start, end = field.corner(2, 0), field.corner(2, 1)
    assert start[1] == pytest.approx(0, abs=2e-3)
    assert end[1] == pytest.approx(120, abs=2e-3)
    assert end[0] == pytest.approx(start[0], abs=2e-3)


def test_presses_at_one_place_walk_through_what_lies_there(field: Field) -> None:
    """At a stream the line is had first, the stream with the next press, or by its name in the panel."""
    heading = field.page.locator("chosen-thing h2").first
    field.press((101, 0))
    seen = [heading.inner_text()]
    for _ in range(2):
        field.press((101, 0))
        seen.append(heading.inner_text())
    assert "paddock" in seen
    assert "stream" in seen
    while heading.inner_text() != "stream":
        field.press((101, 0))
    field.page.get_by_role("button", name="paddock", exact=True).click()
    expect(heading).to_have_text("paddock")
    form = field.page.get_by_role("form", name="Add a crossing")
    assert _feet(form.get_by_label("Station").input_value()) == pytest.approx(101, abs=1)


def test_on_a_phone_a_press_on_a_post_leads_to_its_line(phone: Field) -> None:
    x, y = phone.person.place_of(_ft(50, 0))
    phone.page.touchscreen.tap(x, y)
    picked = phone.page.locator(".plan .picked strong")
    expect(picked).to_have_text(re.compile(r"^(P\d+|paddock)$"))
    if picked.inner_text() != "paddock":
        phone.page.get_by_role("button", name="Also here: paddock").tap()
    expect(picked).to_have_text("paddock")
    phone.page.locator(".plan").get_by_role("button", name="Its numbers").tap()
    form = phone.page.get_by_role("form", name="Add a gate")
    assert _feet(form.get_by_label("Station").input_value()) == pytest.approx(50, abs=6)


def test_a_renamed_line_stays_chosen(field: Field) -> None:
    field.person.choose("lane")
    form = field.page.get_by_role("form", name="Rename")
    form.get_by_label("Name").fill("north lane")
    form.get_by_role("button", name="Rename").click()
    field.person.wait_whole(3)
    expect(field.page.locator("chosen-thing h2")).to_have_text("north lane")


def test_a_point_of_a_chosen_obstacle_is_dragged(field: Field) -> None:
    """One that is not chosen is not moved by a hand that passes over it."""
    end, stays = (101, 40), ["101 ft", "-40 ft"]
    field.drag(end, (115, 60))
    field.page.wait_for_timeout(300)
    assert field.asked()["obstacle"][0]["points"] == [stays, ["101 ft", "40 ft"]]
    field.person.press("Show all")
    field.page.wait_for_timeout(400)
    field.person.show("Chosen")
    field.page.get_by_label("Choose by name").select_option(label="1. stream")
    expect(field.page.locator("chosen-thing h2").first).to_have_text("stream")
    field.drag(end, (118, 66))
    field.person.wait_whole(3)
    points = field.asked()["obstacle"][0]["points"]
    assert [_feet(text) for text in points[1]] == pytest.approx([118, 66], abs=3)
    assert points[0] == stays


def test_a_point_of_a_chosen_obstacle_is_dragged_by_a_finger(phone: Field) -> None:
    _choose_by_touch(phone)
    phone.drag((101, 40), (130, 70), fingers=True)
    phone.person.wait_whole(3)
    moved = [_feet(text) for text in phone.asked()["obstacle"][0]["points"][1]]
    assert moved == pytest.approx([130, 70], abs=20)
    assert moved != [101, 40]


def test_what_a_hand_tried_and_arrives_late_does_not_hide_where_it_let_go(field: Field) -> None:
    """Requests overtake each other: the page had shown the trial, and waited for the rest of its edit for good."""
    field.person.show("Chosen")
    field.page.get_by_label("Choose by name").select_option(label="1. stream")
    held: list[Route] = []
    field.page.route("**/trial", lambda route: held.append(route))
    field.drag((101, 40), (118, 66))
    state = field.page.locator("job-view .state")
    expect(state).to_have_text(re.compile("revision 3"))
    for trial in held:
        trial.continue_()
    assert held
    field.page.unroute("**/trial")
    field.person.wait_whole(3)
    place = [_feet(text) for text in field.asked()["obstacle"][0]["points"][1]]
    assert place == pytest.approx([118, 66], abs=3)


def _choose_by_touch(phone: Field) -> None:
    phone.page.touchscreen.tap(*phone.person.place_of(_ft(101, 25)))
    expect(phone.page.locator(".plan .picked strong")).to_have_text("stream")


def test_the_panel_is_widened_by_hand_and_by_keys_and_stays_so(field: Field) -> None:
    page = field.page
    side = page.locator(".side")
    divider = page.get_by_role("separator", name="Width of the panel")
    before, box = side.bounding_box(), divider.bounding_box()
    assert before is not None
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + 200
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 200, y, steps=5)
    page.mouse.up()
    wide = side.bounding_box()
    assert wide is not None
    assert wide["width"] == pytest.approx(before["width"] + 200, abs=3)
    divider.focus()
    page.keyboard.press("ArrowLeft")
    assert divider.get_attribute("aria-valuenow") == str(round(wide["width"] + 24))
    page.reload()
    field.person.wait_whole()
    again = side.bounding_box()
    assert again is not None
    assert again["width"] == pytest.approx(wide["width"] + 24, abs=1)


def test_the_section_gives_its_room_to_the_plan(field: Field) -> None:
    page = field.page
    plan = page.locator("fence-plan")
    before = plan.bounding_box()
    page.get_by_role("button", name="Fold the long section").click()
    folded = plan.bounding_box()
    assert before is not None
    assert folded is not None
    assert folded["height"] > before["height"] + 100
    divider = page.get_by_role("separator", name="Height of the long section")
    divider.focus()
    page.keyboard.press("ArrowUp")
    expect(page.get_by_role("button", name="Fold the long section")).to_be_visible()


def test_a_table_says_that_it_goes_on(field: Field) -> None:
    """Posts has more columns than fit: a shade stands where it goes on, and goes when its end is in view."""
    field.person.show("Posts")
    sheet = field.page.locator("fence-table .sheet")
    expect(sheet).to_have_attribute("data-goes-on", "")
    sheet.locator(".frame").evaluate("frame => { frame.scrollLeft = frame.scrollWidth; }")
    expect(sheet).not_to_have_attribute("data-goes-on", "")


def test_a_tablet_held_upright_has_plan_section_and_panel_at_once(field: Field) -> None:
    field.page.set_viewport_size({"width": 820, "height": 1180})
    field.person.show("Order")
    for part in (".plan fence-plan", ".section canvas", ".side fence-table"):
        box = field.page.locator(part).bounding_box()
        assert box is not None
        assert box["height"] > 80
        assert box["y"] + 60 < 1180


def test_the_tabs_keep_their_rows_when_a_stop_is_told(field: Field) -> None:
    tabs = field.page.get_by_role("tablist")
    before = tabs.bounding_box()
    field.edit(
        {
            "kind": "add",
            "table": "obstacle",
            "values": {"kind": "buried gas", "points": [["200 ft", "-20 ft"], ["200 ft", "20 ft"]]},
        }
    )
    expect(tabs.locator("b")).to_have_text(re.compile(r"\d"), timeout=20_000)
    assert tabs.bounding_box() == before


def test_what_is_told_goes_with_the_next_edit_that_is_accepted(field: Field) -> None:
    """A refusal that stands at its form is not told over the page as well."""
    page = field.page
    told = page.locator("job-view .told")
    page.keyboard.press("Escape")  # of what another window did
    field.person.choose("paddock")
    field.person.expected = ["422"]
    form = page.get_by_role("form", name="Add a strain post")
    form.get_by_label("Station").fill("12 paces")
    form.get_by_role("button", name="Add a strain post").click()
    expect(form.get_by_role("alert")).to_be_visible()
    expect(told).to_be_hidden()
    canvas = page.locator("fence-section canvas")
    canvas.focus()
    page.keyboard.press("Home")
    page.keyboard.press("Alt+ArrowRight")
    expect(told).to_be_visible()
    page.keyboard.press("ArrowDown")
    field.person.wait_whole(3)
    expect(told).to_be_hidden()


@pytest.mark.parametrize("tool", ["Choose", "Measure", "Choose by box"])
def test_show_all_keeps_the_fence_clear_of_the_legend(phone: Field, tool: str) -> None:
    page = phone.page
    page.get_by_role("button", name="Utilisation", exact=True).tap()
    page.get_by_role("button", name=tool, exact=True).tap()
    page.wait_for_timeout(500)
    page.get_by_role("button", name="Show all", exact=True).tap()
    legend = page.locator("fence-plan .legend").bounding_box()
    plan = page.locator("fence-plan").bounding_box()
    assert legend is not None
    assert plan is not None
    for at in ((0, 0), (200 * 0.3048, 0), (200 * 0.3048, 120 * 0.3048), (0, 120 * 0.3048)):
        x, y = phone.person.place_of(at)
        assert plan["x"] < x < plan["x"] + plan["width"]
        assert plan["y"] < y < plan["y"] + plan["height"]
        assert x > legend["x"] + legend["width"] or y > legend["y"] + legend["height"]
