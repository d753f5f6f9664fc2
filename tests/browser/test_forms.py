"""The whole job by forms: rows of every table, what stands on the lines, remedies, and what is met on the ground."""

import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Request, Route, expect
from tests.browser.conftest import Person, Served

ROOT = Path(__file__).parents[2]
HEAD = """\
[job]
name = "By forms"
sheets = "{sheets}"
[site]
frost_depth = "30 in"
soil = "{soil}"
coldest = "0 F"
hottest = "90 F"
"""
SQUARE = """\
[[line]]
name = "home"
points = [["0 ft", "0 ft"], ["200 ft", "0 ft"], ["200 ft", "120 ft"], ["0 ft", "120 ft"]]
closed = true
"""
STANDING = """\
[[gate]]
name = "yard gate"
line = "home"
at = "20 ft"
opening = "12 ft"
[[crossing]]
line = "home"
at = "240 ft"
width = "10 ft"
[[strain]]
line = "home"
at = "100 ft"
"""


def _open(person: Person, *tables: str, sheets: str = "us", soil: str = "sand") -> None:
    text = HEAD.format(sheets=sheets, soil=soil) + "".join(tables)
    person.page.goto(person.home)
    person.page.get_by_label("Import a job or site files").set_input_files(
        {"name": "job.toml", "mimeType": "application/toml", "buffer": text.encode()}
    )
    person.wait_whole(1)


def _asked(person: Person) -> Any:
    job = person.page.url.rsplit("/", 1)[1]
    return person.page.evaluate(f"fetch('/api/jobs/{job}').then(r => r.json())")["asked"]


def _table(person: Person, title: str) -> None:
    person.page.locator("job-panel summary").filter(has_text=re.compile(rf"^\s*{title}")).first.click()


def test_payments_and_alternatives_are_added_changed_and_removed(person: Person) -> None:
    _open(person, SQUARE)
    page = person.page
    person.expected = ["422"]
    person.show("Job")
    _table(person, "Payments")
    form = page.get_by_role("form", name="Add: payment")
    form.get_by_label("stage").fill("on acceptance")
    form.get_by_label("share").fill("half")
    form.get_by_role("button", name="Add: payment").click()
    expect(form.get_by_role("alert")).to_contain_text("'half' is no share")
    expect(form.get_by_label("share")).to_have_attribute("aria-invalid", "true")
    expect(form.get_by_label("stage")).to_have_value("on acceptance")
    form.get_by_label("share").fill("40 %")
    form.get_by_role("button", name="Add: payment").click()
    row = page.locator("row-forms details").filter(has_text="on acceptance, 40 %")
    row.locator("summary").click()
    row.get_by_label("share").fill("45 %")
    row.get_by_label("share").press("Tab")
    person.wait_whole(3)
    assert _asked(person)["payment"] == [{"stage": "on acceptance", "share": "45 %"}]
    page.get_by_role("button", name=re.compile("^Delete: payment 1")).click()
    person.wait_whole(4)
    assert _asked(person).get("payment", []) == []

    _table(person, "Alternatives")
    page.get_by_label("Name", exact=True).fill("three rails")
    form = page.get_by_role("form", name="Add: alternative")
    form.get_by_label("rails", exact=True).fill("a lot")
    form.get_by_role("button").click()
    expect(form.get_by_role("alert")).to_contain_text("is no whole number")
    form.get_by_label("rails", exact=True).fill("3")
    form.get_by_role("button").click()
    expect(page.locator("alternative-forms summary").first).to_have_text("three rails")
    assert _asked(person)["alternative"] == [{"name": "three rails", "fence": {"rails": 3}}]
    person.show("Price")
    expect(page.locator("price-panel th").filter(has_text="three rails")).to_be_visible()
    person.press("Undo")
    person.wait_whole(4)


def test_an_alternative_that_cannot_be_leaves_the_price_as_it_is(person: Person) -> None:
    twice = """
    [[alternative]]
    name = "three rails"
    [alternative.fence]
    rails = 3
    """
    _open(person, SQUARE, twice + twice)
    person.expected = ["422"]
    person.show("Price")
    panel = person.page.locator("price-panel")
    expect(panel.get_by_role("alert")).to_contain_text('alternative 2 "three rails": another alternative has')
    expect(panel.get_by_role("heading", name="Line by line")).to_be_visible()
    assert person.faults == []


def test_what_stands_on_the_lines_is_chosen_from_a_list_and_changed(person: Person) -> None:
    _open(person, SQUARE, STANDING)
    page = person.page
    person.expected = ["422"]
    person.show("Chosen")
    listed = page.locator("standing-list li button")
    expect(listed).to_have_text(
        ["yard gate · home, 20 ft, 12 ft", "crossing 1 · home, 240 ft, 10 ft", "strain post 1 · home, 100 ft"]
    )
    listed.nth(1).click()
    chosen = page.locator("chosen-thing")
    expect(chosen.locator("h2")).to_contain_text("crossing 1")
    width = chosen.locator("job-form").get_by_label("width")
    width.fill("12")
    width.press("Tab")
    expect(chosen.get_by_role("alert")).to_contain_text("'12' is no length with a unit")
    expect(width).to_have_value("12")
    width.fill("11' 6 1/2\"")
    width.press("Tab")
    person.wait_whole(2)
    form = page.get_by_role("form", name="Move along the line")
    form.get_by_role("textbox").fill("-2' 6\"")
    form.get_by_role("button").click()
    person.wait_whole(3)
    row = _asked(person)["crossing"][0]
    assert (row["at"], row["width"]) == ("237.5 ft", "11' 6 1/2\"")
    person.press("Show the place")
    person.press("Delete")
    person.wait_whole(4)
    assert _asked(person).get("crossing", []) == []
    expect(listed).to_have_count(2)


def test_a_strain_post_pressed_on_the_plan_shows_what_the_job_says_of_it(person: Person) -> None:
    _open(person, SQUARE, STANDING)
    page = person.page
    page.wait_for_timeout(500)
    x, y = person.place_of((100 * 0.3048, 0.0))
    page.mouse.click(x, y)
    expect(page.locator("chosen-thing h2")).to_contain_text("strain post")
    page.locator("chosen-thing summary").filter(has_text="strain post 1").click()
    page.get_by_role("button", name=re.compile("^Delete: strain post 1")).click()
    person.wait_whole(2)
    assert _asked(person).get("strain", []) == []


PIPE = '[[obstacle]]\nkind = "buried water"\npoints = [["95 ft", "-20 ft"], ["95 ft", "150 ft"]]\nclearance = "2 ft"\n'
LANE = """\
[[line]]
name = "lane"
points = [["0 ft", "0 ft"], ["120 ft", "0 ft"], ["120 ft", "100 ft"], ["240 ft", "100 ft"]]
"""
REMEDIES = {
    "add the strain post": (
        "sand",
        LANE,
        "it would pull away from the post",
        "strain",
        {"line": "lane"},
    ),
    "move the gate": (
        "sand",
        SQUARE + '[[gate]]\nline = "home"\nat = "82 ft"\nopening = "12 ft"\n' + PIPE,
        "into the clearance of buried water 1",
        "gate",
        {"at": "79.5 ft"},
    ),
    "concrete the post": (
        "clay",
        SQUARE + '[[pin]]\nline = "home"\nat = "60 ft"\nheight = "72 in"\n[fence]\nrails = 4\n',
        "bearing of the hole",
        "size",
        {"at": "60.00 ft", "set": "concrete"},
    ),
}


@pytest.mark.parametrize("kind", sorted(REMEDIES))
def test_a_remedy_is_done_by_its_button_and_undone(person: Person, kind: str) -> None:
    soil, tables, says, table, holds = REMEDIES[kind]
    _open(person, tables, soil=soil)
    before = _asked(person).get(table, [])
    person.show("Findings")
    finding = person.page.locator("finding-list li.stop").filter(has_text=says)
    expect(finding).to_have_count(1)
    finding.get_by_role("button", name=re.compile("^Do it")).click()
    person.wait_whole(2)
    expect(finding).to_have_count(0)
    row = _asked(person)[table][-1]
    assert {key: row[key] for key in holds} == holds
    person.press("Undo")
    person.wait_whole(1)
    expect(finding).to_have_count(1)
    assert _asked(person).get(table, []) == before


def _height(frame: Locator) -> float:
    return float(frame.evaluate("plan => plan.getBoundingClientRect().height"))


@pytest.mark.parametrize(("width", "height"), [(390, 844), (820, 1180), (1440, 900)])
def test_the_drawing_form_leaves_the_plan_where_it_is(
    browser: Browser, served: Served, width: int, height: int
) -> None:
    context = browser.new_context(viewport={"width": width, "height": height}, has_touch=width < 1000)
    person = Person(context, served.home)
    _open(person, SQUARE)
    person.page.wait_for_timeout(500)
    frame = person.page.locator("fence-plan")
    room = _height(frame)
    corners = [(0.0, 0.0), (200 * 0.3048, 120 * 0.3048)]
    before = [person.place_of(at) for at in corners]
    person.press("Draw a line")
    assert [person.place_of(at) for at in corners] == [pytest.approx(place, abs=0.6) for place in before]
    assert _height(frame) > room - 140
    bottom = frame.evaluate("plan => plan.getBoundingClientRect().bottom")
    assert all(y < bottom for _, y in before)
    assert person.faults == []
    context.close()


def test_a_metric_job_shows_and_takes_metric_lengths(person: Person) -> None:
    _open(person, SQUARE, sheets="metric")
    person.show("Job")
    _table(person, "Holes and concrete")
    auger = person.page.get_by_label("auger")
    assert auger.get_attribute("placeholder") == "for example 1.2 m"
    auger.fill("300 mm")
    auger.press("Tab")
    person.wait_whole(2)
    assert _asked(person)["holes"]["auger"] == "300 mm"


def test_a_top_is_pinned_at_the_height_that_stands_in_its_field(person: Person) -> None:
    """Metric: `1,494 mm` stood there, and the program takes no comma."""
    _open(person, SQUARE, sheets="metric")
    person.choose("P3")
    form = person.page.get_by_role("form", name="Pin the top")
    stands = form.get_by_label("Above ground").input_value()
    assert re.fullmatch(r"1\d{3} mm", stands)
    form.get_by_role("button").click()
    person.wait_whole(2)
    assert _asked(person)["pin"][0]["height"] == stands


# However busy this machine is, the fence counts as one that is designed quickly: a slow one is not designed ahead.
QUICK = """
() => Object.defineProperty(document.querySelector("fence-page").shadowRoot.querySelector("job-view").session, "checked_ms",
    { get: () => 1, set: () => {} })
"""


def test_what_is_typed_is_designed_before_it_is_entered(person: Person) -> None:
    """Whoever types a value, or comes over a button, finds its design made when the hand asks for it."""
    sent: list[dict[str, Any]] = []

    def note(request: Request) -> None:
        if request.url.endswith("/expected"):
            sent.append((request.post_data_json or {})["edit"])

    person.page.on("request", note)
    _open(person, SQUARE)
    person.page.evaluate(QUICK)
    person.show("Job")
    _table(person, "Holes and concrete")
    auger = person.page.get_by_label("auger")
    auger.click()
    person.page.keyboard.type("1x", delay=150)  # no length yet: nobody is told so while it is typed
    person.page.keyboard.press("Backspace", delay=150)
    person.page.keyboard.type("0 in", delay=30)
    person.page.wait_for_timeout(400)
    typed = {"kind": "set", "path": ["holes", "auger"], "value": "10 in"}
    assert sent[-1] == typed
    expect(person.page.get_by_role("alert")).to_have_count(0)
    _same_as_told(person, 1)
    person.page.keyboard.press("Enter")
    person.wait_whole(2)
    assert _asked(person)["holes"]["auger"] == "10 in"

    person.choose("P3")
    button = person.page.get_by_role("button", name="Make it a strain post")
    button.hover()
    person.page.wait_for_timeout(400)
    assert sent[-1]["kind"] == "strain_post"
    expect(person.page.locator("job-view .state")).to_contain_text("revision 2 ")
    button.click()
    person.wait_whole(3)

    person.page.locator("fence-section canvas").focus()
    person.page.keyboard.press("ArrowDown")
    person.wait_whole(4)
    person.page.wait_for_timeout(400)
    again = sent[-1]
    assert again["kind"] == "pin_top"  # an arrow is pressed again, as a rule
    with person.page.expect_request("**/edits") as request:
        person.page.keyboard.press("ArrowDown")
    assert (request.value.post_data_json or {})["edit"] == again
    person.wait_whole(5)
    assert person.faults == []


def _same_as_told(person: Person, revision: int) -> None:
    """The page still shows this revision, and nothing tried."""
    told = person.page.evaluate(
        """() => {
            const { answer } = document.querySelector("fence-page").shadowRoot.querySelector("job-view").session;
            return [answer.revision, answer.tables.posts.columns.hole_diameter_m[0]];
        }"""
    )
    assert told[0] == revision
    assert abs(told[1] - 0.254) > 1e-6


def test_a_post_already_set_is_entered_by_touch_and_what_changed_is_listed(
    browser: Browser, served: Served
) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    person = Person(context, served.home)
    person.expected = ["422"]
    page = person.page
    page.goto(person.home)
    example = ROOT / "examples/small-paddock"
    page.get_by_label("Import a job or site files").set_input_files(
        [example / "job.toml", example / "prices.toml"]
    )
    person.wait_whole(1)
    page.wait_for_timeout(500)
    at = page.evaluate(
        """() => document.querySelector("fence-page").shadowRoot.querySelector("job-view").shadowRoot
            .querySelector("fence-plan").model.posts.find(post => post.id === "P8").at"""
    )
    page.touchscreen.tap(*person.place_of(tuple(at)))
    page.get_by_role("button", name="Its numbers").tap()
    page.get_by_text("It is already set").tap()
    form = page.get_by_role("form", name="It is already set")
    form.get_by_label("Really at station").fill("83 furlongs")
    form.get_by_role("button").tap()
    expect(form.get_by_role("alert")).to_contain_text("'83 furlongs' is no length with a unit")
    expect(form.get_by_label("Really at station")).to_have_value("83 furlongs")
    form.get_by_label("Really at station").fill("83' 3 1/2\"")
    form.get_by_label("Left of the line").fill("-2 in")
    form.get_by_label("Depth").fill("2' 8\"")
    form.get_by_role("button").tap()
    person.wait_whole(2)
    assert _asked(person)["built"][0] == {
        "line": "paddock", "at": "83' 3 1/2\"", "offset": "-2 in", "depth": "2' 8\"",
    }  # fmt: skip
    listed = page.locator("changed-list details.changes")
    expect(listed).to_contain_text("USD", timeout=30_000)
    for words in (
        "Price",
        "Posts moved",
        "Spacing changed",
        "Cuts changed",
        "Holes changed",
        "Rolls cut otherwise",
    ):
        expect(listed).to_contain_text(words)
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    assert person.faults == []
    context.close()


def test_what_is_typed_stays_for_its_post_while_the_plan_is_looked_at(person: Any) -> None:
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)
    page = person.page
    person.choose("P3")
    page.get_by_text("The hole met rock").click()
    rock = page.get_by_role("form", name="The hole met rock")
    rock.get_by_label("Stopped at").fill("1' 4\"")
    person.show("Findings")
    person.choose("P4")  # another post's form is empty, and closed
    expect(rock).to_be_hidden()
    person.choose("P3")
    expect(rock.get_by_label("Stopped at")).to_have_value("1' 4\"")
    rock.get_by_role("button").click()
    person.wait_whole(3)
    assert _asked(person)["rock"][0]["depth"] == "1' 4\""
    person.show("Findings")
    person.show("Chosen")
    expect(rock).to_be_hidden()
    page.get_by_text("The hole met rock").click()
    expect(rock.get_by_label("Stopped at")).to_have_value("")


def test_where_no_design_is_possible_the_sentence_leads_to_its_field(person: Any) -> None:
    page = person.page
    beyond = """
    [job]
    name = "Gate beyond"
    sheets = "us"
    [[line]]
    name = "lane"
    points = [["0 ft", "0 ft"], ["200 ft", "0 ft"]]
    [[gate]]
    name = "far gate"
    line = "lane"
    at = "900 ft"
    opening = "12 ft"
    """
    page.goto(person.home)

    def late(route: Route) -> None:
        """The forms' fields come after the press."""
        page.wait_for_timeout(1500)
        route.continue_()

    page.route("**/api/job-schema", late)
    page.get_by_label("Import a job or site files").set_input_files(
        {"name": "job.toml", "mimeType": "application/toml", "buffer": beyond.encode()}
    )
    page.get_by_role("heading", level=1, name="Gate beyond").wait_for()
    person.show("Order")
    said = page.locator("job-side .stale")
    expect(said).to_contain_text('No design is possible: gate 1 "far gate": station 900.00 ft lies beyond')
    person.press("Open its field")
    expect(page.locator("row-forms summary").filter(has_text="far gate")).to_be_focused()
    at = page.locator("row-forms").get_by_label("at", exact=True).first
    at.fill("90 ft")
    at.press("Enter")
    person.wait_whole(2)
    person.show("Order")
    expect(said).to_have_count(0)
    assert person.sums()["Fence"] == "200.0 ft"


def test_the_programme_says_what_forbids_a_start_and_what_else_there_is_to_look_at(person: Person) -> None:
    _open(person, SQUARE)
    page = person.page
    person.show("Programme")
    panel = page.locator("programme-panel")
    expect(panel.locator("p.refused")).to_have_text("Not to start: mend what stops it first")
    stop = panel.locator("finding-list li.stop")
    expect(stop).to_have_count(1)
    expect(stop).to_contain_text("nobody may dig")
    others = panel.locator("summary").filter(has_text="What to look at in this programme")
    others.click()
    expect(panel.locator("finding-list li.note, finding-list li.caution").first).to_be_visible()
    stop.get_by_role("button", name=re.compile("^Do it")).click()
    expect(panel.locator("finding-list li.stop")).to_have_count(0)
    expect(panel.locator("p.refused")).to_have_count(0)
    assert _asked(person)["programme"]["private_services"] == "marked"


def test_a_sheet_of_heights_that_refuses_the_job_is_named_and_nothing_else_is_said(person: Any) -> None:
    page = person.page
    person.expected.append("422")  # such ground cannot be drawn under the plan either
    line = '[[line]]\nname = "a"\npoints = [["0 m", "0 m"], ["9 m", "0 m"]]\n'
    job = '[job]\nname = "By spots"\n[site]\nground = "spots.csv"\n' + line
    sheet = "point,x,y,z\n1,0,0,20\n2,9,0,20.5\n3,0,9,20.1\n"
    page.goto(person.home)
    page.get_by_label("Import a job or site files").set_input_files(
        [
            {"name": "job.toml", "mimeType": "application/toml", "buffer": job.encode()},
            {"name": "spots.csv", "mimeType": "text/csv", "buffer": sheet.encode()},
        ]
    )
    page.get_by_role("heading", level=1, name="By spots").wait_for()
    expect(page.locator("job-view .state")).to_contain_text("spots.csv: line 2")
    person.show("Findings")
    expect(page.locator("job-side")).to_contain_text("No design is possible: spots.csv: line 2")
    expect(page.locator("job-side")).not_to_contain_text("Nothing to say")
