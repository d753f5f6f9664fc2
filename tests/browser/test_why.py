"""Why from every table and sum of the page: a press leads to inputs, formula and source, in the job's units."""

import re
from typing import Any

from playwright.sync_api import expect


def _reasons(person: Any, heading: str, *names: str) -> None:
    """The panel answers for the thing, with reasons of these names."""
    panel = person.page.locator("why-panel")
    expect(panel.locator("h2.of")).to_contain_text(heading, timeout=30_000)
    for name in names:
        expect(panel.locator(f'article[data-name="{name}"]')).to_be_visible()
    assert not re.search(r"\d (m|rad|N)\b", panel.inner_text())  # a job on US sheets


def test_each_row_and_sum_has_its_why(person: Any) -> None:
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)
    page = person.page
    person.show("Findings")
    page.locator("dl.sums button").first.click()
    _reasons(person, "fence length", "fence length")
    person.show("Order")
    person.press("Why round post, 4.5 in x 8 ft")
    _reasons(person, "line of the order: round post, 4.5 in x 8 ft", "net quantity", "waste", "to order")
    person.show("Rolls")
    person.press("Why C1")
    _reasons(person, "C1", "length", "piece 1", "used", "off-cut", "cost of the cut list")
    page.get_by_role("button", name="Why R1-1").first.click()
    _reasons(person, "R1-1", "length", "rail to cut")
    person.show("Programme")
    page.get_by_role("button", name=re.compile("^Why Stake out")).click(timeout=60_000)
    _reasons(person, "Stake out", "labour hours", "crew", "work", "start", "finish", "float")
    person.show("Price")
    page.get_by_role("button", name=re.compile("^Why corner bracket")).click(timeout=60_000)
    _reasons(person, "line of the price: corner bracket", "quantity", "packs", "amount")


STRAIN = """\
[job]
name = "Lane"
sheets = "us"
[site]
crs = "local"
ground = "flat"
[[line]]
name = "lane"
points = [["0 ft", "0 ft"], ["400 ft", "0 ft"]]
[[strain]]
line = "lane"
at = "150 ft"
"""


def test_a_strain_post_is_asked_by_the_post_that_stands_there(person: Any) -> None:
    page = person.page
    page.goto(person.home)
    page.get_by_label("Import a job or site files").set_input_files(
        {"name": "job.toml", "mimeType": "application/toml", "buffer": STRAIN.encode()}
    )
    person.wait_whole(1)
    person.show("Chosen")
    page.locator("standing-list li button").first.click()
    expect(page.locator("chosen-thing h2")).to_contain_text("strain post 1")
    page.locator("chosen-thing").get_by_role("button", name="Why", exact=True).click()
    expect(page.locator("why-panel h2.of")).to_contain_text('strain post, line "lane", station 150.0 ft')
    expect(page.locator("why-panel .refused")).to_have_count(0)
    person.show("Tension")
    assert page.get_by_role("button", name=re.compile("^Why (?!R)")).count() == 0  # of pulls alone
