"""Import of the demo's files, and what is taken away: every file, one archive, one page for the phone."""

import io
import re
import zipfile
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, expect

DEMO = Path(__file__).parents[2] / "examples/rolling-pasture"


def _import_demo(person: Any) -> None:
    person.page.goto(person.home)
    files = [str(path) for path in sorted(DEMO.iterdir()) if path.suffix in (".toml", ".tif", ".csv", ".svg")]
    person.page.get_by_label("Import a job or site files").set_input_files(files)
    expect(person.page.get_by_role("heading", level=1, name="Rolling pasture")).to_be_visible(timeout=30_000)
    person.wait_whole(1)


def test_the_demos_files_are_imported_and_all_of_it_is_taken_away(
    person: Any, browser: Browser, tmp_path: Path
) -> None:
    page = person.page
    _import_demo(person)
    assert person.sums()["Posts"] == "583"
    person.show("Take away")
    expect(page.get_by_role("link", name="design.json", exact=True)).to_be_visible(timeout=150_000)
    with page.expect_download(timeout=150_000) as download:
        page.get_by_role("link", name="One archive of all").click()
    archive = zipfile.ZipFile(io.BytesIO(Path(download.value.path()).read_bytes()))
    names = set(archive.namelist())
    assert {"job.toml", "terrain.tif", "corners.csv"} <= names
    assert {
        f"fence/{name}" for name in ("plan.svg", "order.xlsx", "posts.csv", "fence.html", "price.json")
    } <= names
    assert archive.read("job.toml").decode() == (DEMO / "job.toml").read_text("utf-8")
    pocket = tmp_path / "fence.html"
    pocket.write_bytes(archive.read("fence/fence.html"))
    phone = browser.new_page(viewport={"width": 390, "height": 844})
    phone.goto(pocket.as_uri())
    drawn = phone.locator("img").first.bounding_box()
    assert drawn is not None
    assert (
        drawn["width"] > 1500
    )  # words of 2 mm on letter paper are 11 pixels high; it scrolls in its own box
    assert phone.evaluate("document.documentElement.scrollWidth") == 390
    phone.get_by_text(re.compile(r"^Posts \(583\)")).click()
    expect(phone.get_by_role("cell", name="P583", exact=True)).to_be_visible()
    assert phone.evaluate("document.documentElement.scrollWidth") == 390
    phone.close()


def test_a_drawing_is_previewed_and_why_is_answered(person: Any) -> None:
    person.new_job()
    person.draw_paddock()
    person.wait_whole(2)
    person.show("Take away")
    row = person.page.get_by_role("listitem").filter(has_text="plan.svg")
    row.get_by_role("button", name="Look").click()
    expect(person.page.get_by_role("dialog", name="plan.svg").locator("img")).to_be_visible(timeout=30_000)
    person.page.keyboard.press("Escape")
    person.show("Why")
    person.page.get_by_label("Post, brace, pull, roll, gate, order line or sum").fill("P5")
    person.page.get_by_role("button", name="Why", exact=True).click()
    expect(person.page.locator("why-panel article").first).to_be_visible(timeout=30_000)
    expect(person.page.locator("why-panel h2.of")).to_contain_text("P5")


def test_the_fence_is_drawn_before_what_lies_under_it(person: Any) -> None:
    """Of 50 km the first posts stood there at 1.2 s, the ground's contours and the long section before them."""
    page = person.page
    _import_demo(person)
    page.reload()
    person.wait_whole(1)
    page.wait_for_function(
        "() => performance.getEntriesByType('resource').some(one => /terrain$/.test(one.name))"
    )
    drawn_ms, asked_ms = page.evaluate(
        """() => [performance.getEntriesByName("fence-answer")[0].startTime,
            performance.getEntriesByType("resource").find(one => /terrain$/.test(one.name)).startTime]"""
    )
    assert drawn_ms < asked_ms
    page.wait_for_function(
        """() => {
            const view = document.querySelector("fence-page").shadowRoot.querySelector("job-view").shadowRoot;
            const canvas = view.querySelector("fence-section").shadowRoot.querySelector("canvas");
            const inked = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height).data;
            const heights = view.querySelector("fence-plan").sources.heights;
            return inked.some(value => value > 0) && heights.getFeatures().length > 5;
        }"""
    )
