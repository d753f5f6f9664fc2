"""What a second window changes, what a refusal says, and the words by which the forms are found."""

import re
from collections.abc import Callable
from typing import Any

import numpy as np
import rasterio
from affine import Affine
from playwright.sync_api import expect
from tests.browser.conftest import Person
from tests.browser.test_forms import SQUARE, _asked, _open, _table


def _asked_elsewhere(person: Person, edit: dict[str, Any]) -> None:
    """Have an edit accepted as another window asks for it."""
    status = person.page.evaluate(
        """async (edit) => {
            const job = location.hash.split("/").pop();
            const { head } = await (await fetch(`/api/jobs/${job}`)).json();
            const body = JSON.stringify({ base: head, window: "another", edit });
            const headers = { "content-type": "application/json" };
            return (await fetch(`/api/jobs/${job}/edits`, { method: "POST", headers, body })).status;
        }""",
        edit,
    )
    assert status == 200


def _elsewhere(person: Person, path: list[Any], value: str) -> None:
    """Set a key of the job as another window does."""
    _asked_elsewhere(person, {"kind": "set", "path": path, "value": value})


def _drop_on_page(person: Person, name: str, text: str) -> bool:
    """Drop a file on the page; tells whether the browser is kept from opening it."""
    kept = person.page.evaluate(
        """([name, text]) => {
            const held = new DataTransfer();
            held.items.add(new File([text], name));
            const about = { dataTransfer: held, bubbles: true, composed: true, cancelable: true };
            const over = document.body.dispatchEvent(new DragEvent("dragover", about));
            return !over && !document.body.dispatchEvent(new DragEvent("drop", about));
        }""",
        [name, text],
    )
    return bool(kept)


def test_what_is_typed_stays_while_another_window_sets_the_key(person: Person) -> None:
    _open(person, SQUARE)
    person.show("Job")
    client = person.page.locator("job-panel").get_by_label("client", exact=True)
    client.click()
    client.press_sequentially("Ada of the hi")
    _elsewhere(person, ["job", "client"], "Bo")
    note = person.page.locator("job-form .elsewhere")
    expect(note).to_contain_text("Changed elsewhere, to Bo")
    expect(client).to_have_value("Ada of the hi")
    client.press_sequentially("ll")
    client.press("Tab")
    person.wait_whole(3)
    expect(client).to_have_value("Ada of the hill")
    expect(note).to_have_count(0)
    client.click()  # a field that has the focus is not taken from under the hand, one that is left shows the job
    _elsewhere(person, ["job", "client"], "Cy")
    expect(note).to_contain_text("Changed elsewhere, to Cy")
    expect(client).to_have_value("Ada of the hill")
    client.press("Tab")
    expect(client).to_have_value("Cy")


GATES = "".join(f'[[gate]]\nline = "home"\nat = "{at} ft"\nopening = "12 ft"\n' for at in (20, 60, 100, 140))


def _come(person: Person, of: Callable[[dict[str, str]], object], wanted: list[object]) -> None:
    """Wait until the gates that the program keeps are as wanted: an edit that was just asked is still on its way."""
    for _ in range(100):
        found = [of(row) for row in _asked(person)["gate"]]
        if found == wanted:
            break
        person.page.wait_for_timeout(100)
    assert found == wanted


def test_what_is_typed_of_a_row_stays_with_it_when_another_window_takes_one_out(person: Person) -> None:
    _open(person, SQUARE, GATES)
    page = person.page
    person.choose("gate 4")
    thing = page.locator("chosen-thing")
    thing.get_by_label("opening", exact=True).fill("14 ft")
    by = thing.get_by_role("form", name="Move along the line").get_by_role("textbox")
    by.fill("2 ft")
    _asked_elsewhere(person, {"kind": "remove", "table": "gate", "item": 0})
    expect(thing.get_by_role("heading", name="gate 3")).to_be_visible()
    expect(by).to_have_value("2 ft")
    by.press("Enter")
    expect(by).to_have_value("")
    thing.get_by_label("opening", exact=True).press("Enter")
    _come(
        person,
        lambda row: (row["at"], row["opening"]),
        [("60 ft", "12 ft"), ("100 ft", "12 ft"), ("142 ft", "14 ft")],
    )
    person.show("Job")
    _table(person, "Gates")
    row = page.locator("row-forms details[data-row]").nth(2)
    row.locator("summary").click()
    opening = row.get_by_label("opening", exact=True)
    opening.fill("16 ft")
    _asked_elsewhere(person, {"kind": "remove", "table": "gate", "item": 0})
    page.locator("row-forms details[data-row]").nth(2).wait_for(state="detached")
    opening = page.locator("row-forms details[data-row]").nth(1).get_by_label("opening", exact=True)
    expect(opening).to_have_value("16 ft")
    opening.press("Enter")
    _come(person, lambda row: row["opening"], ["12 ft", "16 ft"])
    person.show("Chosen")
    _asked_elsewhere(person, {"kind": "remove", "table": "gate", "item": 1})
    expect(thing).to_contain_text("Nothing is chosen")


def test_short_forms_ask_for_nothing_without_a_number_and_keep_it_in_another_language(person: Person) -> None:
    _open(person, SQUARE)
    page = person.page
    person.choose("Corner 3 of home")
    form = page.get_by_role("form", name="Move by")
    form.get_by_role("button").click()
    expect(form.get_by_role("alert")).to_contain_text("'' is no length with a unit")
    form.get_by_role("textbox").first.fill("4 ft")
    page.get_by_label("Language").select_option("es")
    expect(page.locator("chosen-thing form").nth(1).get_by_role("textbox").first).to_have_value("4 ft")
    assert _asked(person)["line"][0]["points"][2] == ["200 ft", "120 ft"]


def test_refused_text_names_item_and_line_and_the_cursor_goes_there(person: Person) -> None:
    _open(person, SQUARE)
    person.expected = ["422"]
    person.show("Job")
    _table(person, "The job file")
    area = person.page.get_by_label("job.toml")
    text = area.input_value()
    area.fill(text.replace('frost_depth = "30 in"', 'frost_depth = "30"'))
    _elsewhere(person, ["job", "client"], "Bo")
    expect(person.page.locator("job-text [role=status]")).to_contain_text("changed elsewhere")
    person.press("Use this text")
    refused = person.page.locator("job-text [role=alert]")
    expect(refused).to_contain_text("site, frost_depth: '30' is no length with a unit")
    line = text.splitlines().index('frost_depth = "30 in"') + 1
    expect(person.page.locator("job-text")).to_contain_text(f"line {line} of the text")
    chosen = area.evaluate("area => area.value.slice(area.selectionStart, area.selectionEnd)")
    assert chosen == 'frost_depth = "30"'
    person.press("Take the text as it is now")
    expect(area).to_have_value(re.compile('client = "Bo"'))
    expect(refused).to_have_count(0)


def test_files_dropped_on_the_list_are_imported_or_refused_as_the_button_does(person: Person) -> None:
    person.page.goto(person.home)
    expect(person.page.get_by_role("heading", name="Jobs", level=1)).to_be_visible()
    person.expected = ["422"]
    head = '[job]\nname = "Dropped"\nsheets = "us"\n'
    assert _drop_on_page(person, "job.toml", f'{head}[site]\nground = "lidar.tif"\n{SQUARE}')
    alert = person.page.locator("job-list [role=alert]")
    expect(alert).to_contain_text("lidar.tif: site, ground: the job names this file")
    assert _drop_on_page(person, "job.toml", head + SQUARE)
    expect(person.page.get_by_role("heading", level=1, name="Dropped")).to_be_visible()


def test_a_finding_leads_to_the_field_that_it_names(person: Person) -> None:
    _open(person, SQUARE, soil="clay")
    finding = (
        person.page.locator("finding-list li")
        .filter(has=person.page.locator(".acts"))
        .filter(has_text=re.compile("“[^”]+: [^”]+”"))
    )
    expect(finding.first).to_be_visible()
    assert "[" not in person.page.locator("finding-list").inner_text()
    opens = finding.first.get_by_role("button", name=re.compile("^Open"))
    opens.first.click()
    expect(person.page.get_by_role("tab", name="Job")).to_have_attribute("aria-selected", "true")
    focused = person.page.evaluate(
        """() => {
            let at = document.activeElement;
            while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
            return at?.getAttribute("name") ?? at?.tagName;
        }"""
    )
    assert focused not in ("", None, "BODY")


def test_a_job_without_a_line_says_so_quietly(person: Person) -> None:
    person.new_job("Bare")
    state = person.page.locator("job-view .state")
    expect(state).to_contain_text("Draw the first line")
    expect(state.locator(".refused")).to_have_count(0)


def test_lengths_without_unit_and_with_a_comma_are_refused_as_the_program_says(person: Person) -> None:
    person.new_job("Refused")
    person.press("Draw a line")
    alert = person.page.locator("draw-form [role=alert]")
    for typed, said in (("200", "'200' is no length with a unit"), ("12,5 ft", "a decimal point is used")):
        person.page.get_by_label("Length", exact=True).fill(typed)
        person.page.get_by_label("Bearing or turn").fill("90")
        person.press("Add leg")
        expect(alert).to_contain_text(said)


def test_corners_of_a_metre_plane_are_typed_in_metres(person: Person) -> None:
    square = [[452000, 5150000], [452060, 5150000], [452060, 5150040], [452000, 5150040]]
    points = str([[f"{x} m", f"{y} m"] for x, y in square]).replace("'", '"')
    text = (
        '[job]\nname = "Zone"\nsheets = "us"\n[site]\ncrs = "EPSG:26916"\nfrost_depth = "30 in"\nsoil = "sand"\n'
        f'coldest = "0 F"\nhottest = "90 F"\n[[line]]\nname = "home"\nclosed = true\npoints = {points}\n'
    )
    person.page.goto(person.home)
    person.page.get_by_label("Import a job or site files").set_input_files(
        {"name": "job.toml", "mimeType": "application/toml", "buffer": text.encode()}
    )
    person.wait_whole(1)
    person.choose("Corner 1 of home")
    expect(person.page.locator("chosen-thing").get_by_label("North").first).to_have_value("5150000 m")


def test_heights_that_are_no_picture_can_be_made_the_ground_where_that_is_said(person: Person) -> None:
    _open(person, SQUARE)
    with rasterio.MemoryFile() as memory:
        about = {"driver": "GTiff", "count": 1, "dtype": "float32", "crs": "EPSG:26916"}
        placed = {"height": 20, "width": 20, "transform": Affine(5.0, 0.0, 0.0, 0.0, -5.0, 20.0)}
        with memory.open(**about, **placed) as raster:
            raster.write(np.full((1, 20, 20), 100.0, dtype=np.float32))
        content = memory.read()
    person.show("Job")
    person.page.locator("#site-file").set_input_files(
        {"name": "terrain.tif", "mimeType": "image/tiff", "buffer": content}
    )
    row = person.page.locator("background-list section").filter(has_text="terrain.tif")
    row.get_by_role("button", name=re.compile("terrain.tif")).first.click()
    expect(row).to_contain_text("use it as the ground")
    expect(row.get_by_role("button", name=re.compile("^Use .*ground"))).to_be_visible()


def test_refused_points_are_marked_at_their_field(person: Person) -> None:
    _open(person, SQUARE)
    person.expected = ["422"]
    person.show("Job")
    _table(person, "Lines")
    person.page.locator("row-forms details").first.locator("summary").click()
    points = person.page.locator("job-form").get_by_label("points")
    points.fill("0 ft, 0 ft\n200, 0 ft")
    points.press("Tab")
    expect(points).to_have_attribute("aria-invalid", "true")
    expect(person.page.locator("job-form [role=alert]")).to_contain_text("'200'")
