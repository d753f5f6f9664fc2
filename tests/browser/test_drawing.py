"""Drawing a fence on the page, as a person would, and reading the same counts as the command line's."""

import json
import re
from pathlib import Path
from typing import Any

from playwright.sync_api import expect

from fencewright.desk.reading import job_from_text
from fencewright.desk.running import design
from fencewright.exchange.design_json import design_json

# What of the fence stands on the plan, and the table of its gates.
DRAWN = """() => {
    const view = document.querySelector("fence-page").shadowRoot.querySelector("job-view");
    const { lines, posts } = view.shadowRoot.querySelector("fence-plan").model;
    return { lines: lines.length, posts: posts.length, gates: view.session.answer.tables.gates?.columns ?? {} };
}"""
# The same fence, written by hand: what was typed on the page must come to this.
SAME = """
[job]
name = "Small paddock"
sheets = "us"
[[line]]
name = "paddock"
points = [["0 ft", "0 ft"], ["200 ft", "0 ft"], ["200 ft", "120 ft"], ["0 ft", "120 ft"]]
closed = true
[[gate]]
name = "yard gate"
line = "paddock"
at = "0 ft"
opening = "12 ft"
"""


def _add_gate(person: Any, line: str) -> None:
    person.choose(line)
    form = person.page.get_by_role("form", name="Add a gate")
    form.get_by_label("Station").fill("0 ft")
    form.get_by_label("Opening").fill("12 ft")
    form.get_by_label("Name").fill("yard gate")
    form.get_by_role("button", name="Add a gate").click()


def test_the_small_paddock_typed_and_its_gate_placed_gives_the_counts_of_the_command_line(
    person: Any, tmp_path: Path
) -> None:
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)
    _add_gate(person, "line 1")
    person.wait_whole(3)
    shown = person.sums()
    asked = person.page.evaluate("fetch('/api/jobs').then(r => r.json())")[0]["id"]
    text = person.page.evaluate(f"fetch('/api/jobs/{asked}').then(r => r.json())")["text"]
    by_hand = design(job_from_text(SAME, tmp_path))
    of_page = design(job_from_text(text, tmp_path))
    posts = len(by_hand.layout.posts)
    assert len(of_page.layout.posts) == posts
    assert shown["Posts"] == str(posts)
    assert shown["Fence"] == "640.0 ft"
    assert shown["Rolls"] == str(design_json(by_hand)[0]["summary"]["rolls"])
    assert shown["Pulls"] == str(len(by_hand.pulls))


def test_the_page_shows_the_design_that_the_command_line_writes(person: Any, tmp_path: Path) -> None:
    """By digest: the whole of design.json, as the service gives it and as the command line's own stages do."""
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)
    asked = person.page.evaluate("fetch('/api/jobs').then(r => r.json())")[0]["id"]
    given = person.page.evaluate(f"fetch('/api/jobs/{asked}/design').then(r => r.text())")
    text = person.page.evaluate(f"fetch('/api/jobs/{asked}').then(r => r.json())")["text"]
    record, content = design_json(design(job_from_text(text, tmp_path)))
    assert json.loads(given)["digest"] == record["digest"]
    assert given.encode() == content
    shown = person.page.evaluate(
        "document.querySelector('fence-page').shadowRoot.querySelector('job-view').session.answer.digest"
    )
    assert shown == record["digest"]


def test_drawing_by_mouse_catches_right_angles_and_closes_on_the_first_point(person: Any) -> None:
    person.new_job()
    person.press("Draw a line")
    mouse = person.page.mouse
    corners = [(0.0, 0.0), (60.0, 0.0), (60.4, 30.0), (0.2, 30.3)]  # two are a little off the square
    for at in corners:
        x, y = person.place_of(at)
        mouse.move(x, y, steps=3)
        mouse.click(x, y)
        person.page.wait_for_timeout(350)  # slower than a double press
    x, y = person.place_of((0.0, 0.0))
    mouse.move(x, y, steps=3)
    mouse.click(x, y)
    person.wait_whole(2)
    asked = person.page.evaluate("fetch('/api/jobs').then(r => r.json())")[0]["id"]
    text = person.page.evaluate(f"fetch('/api/jobs/{asked}').then(r => r.json())")["text"]
    line = job_from_text(text, Path()).site.lines[0]
    assert line.is_closed
    assert len(line.xy_m) == 4
    first, second, third, fourth = line.xy_m
    assert abs((second - first) @ (third - second)) < 0.05 * 60 * 30 / 10
    assert abs(third[0] - second[0]) < 0.02
    assert abs(fourth[1] - third[1]) < 0.02


def test_undo_of_the_only_line_leaves_nothing_of_it_and_redo_gives_it_again(person: Any) -> None:
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)
    shown = person.sums()
    head = person.page.locator("job-view .state")
    person.press("Undo")
    expect(head).to_have_text("revision 1 · Draw the first line")
    assert person.sums() == {}
    assert person.page.evaluate(DRAWN) == {"lines": 0, "posts": 0, "gates": {}}
    person.press("Redo")
    person.wait_whole(2)
    assert person.sums() == shown


def test_a_gate_that_was_removed_is_drawn_again_after_undo(person: Any) -> None:
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)
    _add_gate(person, "line 1")
    person.wait_whole(3)
    shown, drawn = person.sums(), person.page.evaluate(DRAWN)
    assert drawn["gates"]["name"] == ["yard gate"]
    person.choose("yard gate")
    person.press("Delete the gate")
    person.wait_whole(4)
    assert person.page.evaluate(DRAWN)["gates"] == {}
    person.press("Undo")
    person.wait_whole(3)
    assert (person.sums(), person.page.evaluate(DRAWN)) == (shown, drawn)


# A second line that crosses itself, in metres: it cannot be kept until its last point is taken back.
CROSSING_ITSELF = [(10.0, 8.0), (40.0, 8.0), (40.0, 28.0), (20.0, 2.0)]


def test_a_drawn_line_that_is_refused_stays_in_the_hand_with_the_sentence(person: Any) -> None:
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)
    person.expected = ["422"]
    page = person.page
    page.get_by_role("button", name=re.compile("^Catch points")).click()
    person.press("Draw a line")
    person.press("Show all")
    for at in CROSSING_ITSELF:
        x, y = person.place_of(at)
        page.mouse.move(x, y, steps=3)
        page.mouse.click(x, y)
        page.wait_for_timeout(350)  # slower than a double press
    person.press("Keep it open")
    form = page.locator("draw-form")
    expect(form.get_by_role("alert")).to_contain_text("crosses or touches itself")
    expect(form.get_by_role("status")).to_contain_text("4 points")
    person.press("Take a point back")
    expect(form.get_by_role("alert")).to_have_count(0)
    expect(form.get_by_role("status")).to_contain_text("3 points")
    person.press("Keep it open")
    person.wait_whole(3)
    assert page.evaluate(DRAWN)["lines"] == 2


def test_a_pond_is_closed_as_a_rule_and_a_stream_is_not(person: Any) -> None:
    """A pond that is left open has a way through for the fence: the button that stands out closes it."""
    page = person.page
    person.new_job()
    person.press("Draw an obstacle")
    kind = page.get_by_label("What is in the way")
    standing_out = page.locator("draw-form button.main")
    for length, bearing in (("40 ft", "90"), ("30 ft", "L 90")):
        kind.select_option(label="pond")
        expect(standing_out).to_have_text("Keep it open")  # of fewer points no area can be made
        page.get_by_label("Length", exact=True).fill(length)
        page.get_by_label("Bearing or turn").fill(bearing)
        person.press("Add leg")
    expect(standing_out).to_have_text("Close and keep")
    kind.select_option(label="stream")
    expect(standing_out).to_have_text("Keep it open")
    kind.select_option(label="pond")
    standing_out.click()
    expect(page.locator("job-view .state")).to_contain_text("revision 2")
    jobs = page.evaluate("fetch('/api/jobs').then(r => r.json())")
    asked = page.evaluate(f"fetch('/api/jobs/{jobs[0]['id']}').then(r => r.json())")["asked"]
    assert asked["obstacle"][0]["closed"] is True
