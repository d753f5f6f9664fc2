"""The server goes away while a job is open on a phone: everything stays readable, says what it needs, and comes back."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

VIEWS = (
    "Plan", "Long section", "Findings", "Chosen", "Job", "Posts", "Order", "Rolls", "Tension", "Strength", "Price",
    "Programme", "Why", "History", "Take away",
)  # fmt: skip
NEEDS = "This needs the program"
ONLY_READ = "Read only until the program is back"


class Phone:
    """A page at 390 pixels with a job before it; what it said and threw is gathered."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.faults: list[str] = []
        page.on("console", lambda said: self.faults.append(said.text) if said.type == "error" else None)
        page.on("pageerror", lambda error: self.faults.append(f"thrown: {error}"))
        self.state = page.locator("job-view .state")
        self.panel = page.locator("job-view .panel")

    def show(self, view: str) -> None:
        """Show a panel, the plan or the section."""
        self.page.get_by_role("tab", name=re.compile(f"^{view}")).tap()


@pytest.fixture
def phone(browser: Browser, person: Any) -> Iterator[Phone]:
    """A phone that has loaded the small paddock and looked at its price's absence and one reason."""
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    phone = Phone(context.new_page())
    phone.page.goto(person.page.url)
    expect(phone.state).to_have_text(re.compile("revision 2 · (may|not)"), timeout=30_000)
    person.page.goto("about:blank")
    yield phone
    context.close()
    # a browser itself says in its console that a line was cut; the page has nothing to add
    assert [fault for fault in phone.faults if not fault.startswith("Failed to load resource: net::")] == []


def test_every_view_is_read_or_says_that_it_needs_the_program(phone: Phone, served: Any) -> None:
    page = phone.page
    phone.show("History")
    expect(phone.panel).to_contain_text("2. ")
    served.stop()
    expect(phone.state).to_contain_text("read only", timeout=20_000)
    read = {
        "Posts": "P14", "Order": "round post", "Rolls": "R1", "Tension": "Tension to pull to", "Strength": "P14",
        "History": "2. ", "Job": ONLY_READ, "Chosen": ONLY_READ, "Price": NEEDS, "Programme": NEEDS,
        "Take away": NEEDS,
    }  # fmt: skip
    for view in VIEWS:
        phone.show(view)
        if words := read.get(view):
            expect(phone.panel).to_contain_text(words) if view != "Tension" else expect(
                page.locator("tension-chart svg")
            ).to_be_visible()
        enabled = phone.panel.get_by_role("button").filter(
            has_text=re.compile("Do it|Return|Pin|Move|Use this")
        )
        assert [button.inner_text() for button in enabled.all() if button.is_enabled()] == []
    phone.show("Why")
    page.get_by_label("Post, brace, pull, roll, gate, order line or sum").fill("P3")
    page.locator("why-panel").get_by_role("button", name="Why").tap()
    expect(page.locator("why-panel [role=alert]")).to_contain_text(NEEDS)


def test_nothing_is_lost_while_it_is_away_and_an_edit_is_made_when_it_is_back(
    phone: Phone, served: Any
) -> None:
    page = phone.page
    phone.show("Posts")
    page.get_by_label("Filter Posts").fill("corner")
    rows = page.locator("fence-table tbody tr[data-place]")
    expect(rows).to_have_count(4)
    served.stop()
    expect(phone.state).to_contain_text("read only", timeout=20_000)
    page.locator("#language").select_option("es")
    expect(page.get_by_role("tab", name="Postes")).to_be_visible()
    expect(rows).to_have_count(4)  # the view was not built anew: it could not be read again
    page.locator("#language").select_option("en")
    page.get_by_role("link", name="fencewright").tap()
    expect(page.locator("job-list [role=alert]")).to_contain_text("cannot be reached")
    page.go_back()
    expect(rows).to_have_count(4)
    phone.show("Plan")
    expect(page.get_by_role("button", name="Draw a line")).to_be_disabled()
    page.get_by_role("button", name="Measure").tap()
    expect(page.locator("draw-form")).to_be_visible()
    page.get_by_role("button", name="Choose", exact=True).tap()
    served.start()
    expect(phone.state).to_have_text(re.compile("^revision 2 · (may|not)[a-z: ]*$"), timeout=40_000)
    phone.show("Chosen")
    page.get_by_label("Choose by name").select_option(label="Corner 3 of line 1")
    form = page.get_by_role("form", name="Move", exact=True)
    form.get_by_label("East").fill("230 ft")
    form.get_by_role("button", name="Move", exact=True).tap()
    expect(phone.state).to_have_text(re.compile("revision 3 · (may|not)"), timeout=30_000)


def test_an_edit_of_another_window_is_told_when_the_program_is_back(
    phone: Phone, served: Any, person: Any
) -> None:
    page = phone.page
    url = page.url
    # the phone alone loses its line; another window goes on
    page.context.set_offline(True)
    expect(phone.state).to_contain_text("read only")
    phone.show("History")
    expect(phone.panel).to_contain_text(NEEDS)
    person.page.goto(url)
    person.wait_whole(2)
    person.choose("Corner 3 of line 1")
    form = person.page.get_by_role("form", name="Move", exact=True)
    form.get_by_label("East").fill("230 ft")
    form.get_by_role("button", name="Move", exact=True).click()
    person.wait_whole(3)
    page.context.set_offline(False)
    expect(phone.state).to_have_text(re.compile("revision 3 · (may|not)[a-z: ]*$"), timeout=40_000)
    expect(phone.panel).to_contain_text("3. ")  # what was waited for, though nobody left the panel
    expect(phone.panel).not_to_contain_text(NEEDS)


def test_a_request_that_nobody_answers_says_that_the_page_is_read_only(phone: Phone) -> None:
    """The browser itself does not notice that the network is gone."""
    page = phone.page
    page.route("**/history", lambda route: route.abort())
    phone.show("History")
    expect(phone.state).to_contain_text("read only")
    page.unroute("**/history")
    expect(phone.panel).to_contain_text("2. ", timeout=20_000)
    expect(phone.state).not_to_contain_text("read only")
