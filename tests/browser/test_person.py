"""What a person does after the first drawing: many posts at once, a press on a line, a post moved, a remedy, history."""

import re
from typing import Any

import pytest
from playwright.sync_api import Browser, expect

FOOT_M = 0.3048


def _paddock(person: Any) -> None:
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)


def _asked(person: Any) -> Any:
    jobs = person.page.evaluate("fetch('/api/jobs').then(r => r.json())")
    return person.page.evaluate(f"fetch('/api/jobs/{jobs[0]['id']}').then(r => r.json())")["asked"]


def test_several_posts_chosen_in_the_table_and_by_a_box_are_changed_at_once(person: Any) -> None:
    _paddock(person)
    page = person.page
    person.show("Posts")
    person.press("Choose several")
    for post in ("P3", "P4", "P5"):
        page.locator("fence-table tbody tr").filter(
            has=page.get_by_role("cell", name=post, exact=True)
        ).click()
    expect(page.get_by_role("heading", name="3 posts chosen")).to_be_visible()
    form = page.get_by_role("form", name="Pin the tops of 3 posts")
    form.get_by_label("Above ground").fill("50 furlongs")
    person.expected = ["422"]
    person.press("Pin these tops")
    expect(page.locator("several-posts [role=alert]")).to_contain_text("50 furlongs")
    expect(form.get_by_label("Above ground")).to_have_value("50 furlongs")
    form.get_by_label("Above ground").fill("50 in")
    person.press("Pin these tops")
    person.wait_whole(3)
    assert [pin["height"] for pin in _asked(person)["pin"]] == ["50 in"] * 3
    person.press("Choose none")
    person.press("Choose by box")
    page.wait_for_timeout(300)  # its hint takes a row above the plan
    x, y = person.place_of((-2.0, 38.0))
    to_x, to_y = person.place_of((63.0, 35.0))  # the northern side, from corner to corner
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(to_x, to_y, steps=6)
    page.mouse.up()
    expect(page.get_by_role("heading", name=re.compile(r"^\d\d posts chosen"))).to_be_visible()
    person.press("They are already set")
    person.wait_whole(4)
    assert len(_asked(person)["built"]) >= 10
    person.press("Let these tops flow")
    expect(page.locator("several-posts [role=alert]")).to_contain_text("None of these posts")
    person.press("Undo")
    person.wait_whole(3)
    assert _asked(person).get("built", []) == []


def test_a_press_on_a_line_gives_its_station_to_gate_and_corner(person: Any) -> None:
    _paddock(person)
    page = person.page
    x, y = person.place_of((40.1 * FOOT_M, 0.0))
    page.mouse.click(x, y + 3)
    chosen = page.locator("chosen-thing")
    if chosen.locator("h2").inner_text() != "line 1":  # a post lay under the hand
        x, y = person.place_of((45.5 * FOOT_M, 0.0))
        page.mouse.click(x, y)
    expect(chosen.locator("h2")).to_have_text("line 1")
    station = page.get_by_role("form", name="Add a gate").get_by_label("Station").input_value()
    assert 38 < float(station.split()[0]) < 48
    person.press("Put a corner here")
    person.wait_whole(3)
    assert len(_asked(person)["line"][0]["points"]) == 5


def test_a_post_is_moved_along_its_line_on_the_long_section(person: Any) -> None:
    _paddock(person)
    page = person.page
    where = """() => {
        const view = document.querySelector("fence-page").shadowRoot.querySelector("job-view");
        const section = view.shadowRoot.querySelector("fence-section");
        const box = section.shadowRoot.querySelector("canvas").getBoundingClientRect();
        const post = section.line.posts[5];
        return {id: post.id, station: post.station_m, per_m: section.scale.across_per_m,
            x: box.left + section.scale.across(post.station_m),
            y: box.top + section.scale.up(post.ground_m) + 16};
    }"""
    before = page.evaluate(where)
    page.mouse.move(before["x"], before["y"])
    page.mouse.down()
    page.mouse.move(before["x"] + 2 * before["per_m"], before["y"], steps=6)
    page.mouse.up()
    person.wait_whole(3)
    pins = _asked(person)["pin"]
    assert pins[0]["post"] is True
    assert abs(float(pins[0]["at"].split()[0]) * FOOT_M - before["station"] - 2) < 0.3
    canvas = page.locator("fence-section canvas")
    canvas.focus()
    page.keyboard.press("Alt+ArrowRight")
    person.wait_whole(4)
    assert len(_asked(person)["pin"]) == 1


def test_utilisation_is_read_on_the_plan_and_why_from_a_number(person: Any) -> None:
    _paddock(person)
    page = person.page
    person.press("Utilisation")
    expect(page.locator("fence-plan .legend")).to_contain_text("50 % – 80 %")
    person.show("Posts")
    page.locator("fence-table tbody tr").filter(has=page.get_by_role("cell", name="P5", exact=True)).click()
    person.show("Posts")
    person.press("Why P5")
    expect(page.locator("why-panel h2.of")).to_contain_text("P5")
    person.show("Chosen")
    page.locator("chosen-thing dl button").nth(4).click()
    expect(page.locator("why-panel article.asked h3")).to_contain_text("hole depth")
    expect(page.locator("why-panel article.asked h3")).to_contain_text(" in")


def test_an_earlier_revision_comes_back_and_can_be_undone(person: Any) -> None:
    _paddock(person)
    person.choose("Corner 3 of line 1")
    form = person.page.get_by_role("form", name="Move", exact=True)
    form.get_by_label("East").fill("230 ft")
    form.get_by_role("button", name="Move", exact=True).click()
    person.wait_whole(3)
    person.show("History")
    person.press("Return to this: 2")
    person.wait_whole(4)
    assert person.sums()["Fence"] == "640.0 ft"
    person.press("Undo")
    person.wait_whole(3)
    assert person.sums()["Fence"] != "640.0 ft"


def test_a_second_paddock_shares_the_posts_that_it_is_drawn_onto(person: Any) -> None:
    _paddock(person)
    page = person.page
    person.press("Draw a line")
    person.press("Show all")  # the form has taken room from the plan: what it hid comes back into view
    person.press("Farther")
    page.wait_for_timeout(300)
    # from the south-east corner out to the west of the first paddock's own east side: caught by its two corners
    for at in (
        (200 * FOOT_M + 0.1, 0.1),
        (200 * FOOT_M + 9, 0.1),
        (200 * FOOT_M + 9, 120 * FOOT_M),
        (200 * FOOT_M + 0.1, 120 * FOOT_M - 0.1),
    ):
        x, y = person.place_of(at)
        page.mouse.move(x, y, steps=3)
        page.mouse.click(x, y)
        page.wait_for_timeout(350)
    person.press("Keep it open")
    person.wait_whole(3)
    points = _asked(person)["line"][1]["points"]
    assert [float(value.split()[0]) for value in points[0]] == pytest.approx([200.0, 0.0])
    assert [float(value.split()[0]) for value in points[-1]] == pytest.approx([200.0, 120.0])


def test_on_a_phone_a_touched_post_leads_to_rock_met_there(browser: Browser, served: Any) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    page = context.new_page()
    page.goto(served.home)
    made = page.evaluate(
        """async () => {
            const call = (path, body) => fetch(path, {method: "POST", body: JSON.stringify(body),
                headers: {"content-type": "application/json"}}).then(r => r.json());
            const job = await call("/api/jobs", {name: "Phone", sheets: "us", start: "empty", window: "w"});
            await call(`/api/jobs/${job.id}/edits`, {base: job.head, window: "w", edit: {kind: "add_line",
                points: [["0 ft", "0 ft"], ["60 ft", "0 ft"]], closed: false}});
            return job.id;
        }"""
    )
    page.goto(f"{served.home}#/jobs/{made}")
    state = page.locator("job-view .state")
    expect(state).to_have_text(re.compile("be built"), timeout=30_000)
    page.wait_for_timeout(500)
    x, y = page.evaluate(
        """() => {
            const plan = document.querySelector("fence-page").shadowRoot.querySelector("job-view")
                .shadowRoot.querySelector("fence-plan");
            const box = plan.getBoundingClientRect();
            const post = plan.model.posts.find(each => each.role === "line");
            const [x, y] = plan.pixelOf(post.at);
            return [box.left + x, box.top + y];
        }"""
    )
    page.touchscreen.tap(x, y)
    page.get_by_role("button", name="Its numbers").tap()
    expect(page.locator("chosen-thing h2")).to_contain_text("line post")
    page.get_by_text("The hole met rock").tap()
    form = page.get_by_role("form", name="The hole met rock")
    form.get_by_label("The auger stopped at").fill("20 in")
    form.get_by_role("button", name="Keep it").tap()
    expect(state).to_contain_text("revision 3 · ", timeout=30_000)
    expect(state).to_have_text(re.compile("be built"), timeout=30_000)
    expect(page.locator("job-side details.changes")).to_contain_text("Holes changed")
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    context.close()
