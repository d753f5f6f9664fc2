"""What is not there: jobs that were deleted and come back, and files that could not be made, with the reason."""

from typing import Any

from playwright.sync_api import expect


def test_a_deleted_job_is_listed_for_thirty_days_and_put_back(person: Any) -> None:
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)
    page = person.page
    page.goto(person.home)
    name = page.locator("li strong").first.inner_text()
    page.get_by_role("button", name=f"Delete: {name}").first.click()
    page.reload()
    page.get_by_text("Deleted jobs").click()
    expect(page.get_by_text("A deleted job can be put back for 30 days")).to_be_visible()
    page.get_by_role("button", name=f"Put it back: {name}").first.click()
    expect(page.get_by_role("button", name=f"Delete: {name}").first).to_be_visible()
    expect(page.get_by_role("button", name=f"Put it back: {name}")).to_have_count(0)


def test_what_could_not_be_made_is_said_with_its_reason(person: Any) -> None:
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)
    person.show("Take away")
    row = person.page.get_by_role("listitem").filter(has_text="the price and quote.pdf")
    expect(row).to_contain_text("the job names no price book", timeout=60_000)
    expect(person.page.get_by_role("link", name="field-pack.pdf", exact=True)).to_be_visible()
    expect(person.page.get_by_role("link", name="quote.pdf", exact=True)).to_have_count(0)
