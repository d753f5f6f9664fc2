"""Backgrounds on the page: files dropped on the plan, seen at the right place, kept over a reload, refused in words."""

import base64
import json
from pathlib import Path

import numpy as np
import pytest
import rasterio
from numpy.typing import NDArray
from playwright.sync_api import Browser, expect
from rasterio.transform import Affine
from tests.browser.conftest import Person, Served

pytestmark = pytest.mark.filterwarnings("ignore::rasterio.errors.NotGeoreferencedWarning")
RED, GREEN, BLUE, OCHRE = (220, 30, 30), (30, 180, 60), (40, 60, 200), (200, 160, 40)
EAST, NORTH, CELL = 469_000.0, 5_150_000.0, 0.5


def picture(driver: str = "GTiff", **how: object) -> bytes:
    """A picture of 80 by 60 cells: red above green on the left, blue above ochre on the right."""
    cells = np.empty((3, 60, 80), np.uint8)
    for rows, left, right in ((slice(0, 30), RED, BLUE), (slice(30, 60), GREEN, OCHRE)):
        cells[:, rows, :40] = np.array(left).reshape(3, 1, 1)
        cells[:, rows, 40:] = np.array(right).reshape(3, 1, 1)
    with rasterio.MemoryFile() as memory:
        with memory.open(driver=driver, count=3, height=60, width=80, dtype="uint8", **how) as made:
            made.write(cells)
        return bytes(memory.getbuffer())


def orthophoto() -> bytes:
    """The picture as a GeoTIFF in UTM."""
    return picture(crs="EPSG:26916", transform=Affine(CELL, 0.0, EAST, 0.0, -CELL, NORTH))


def drop(person: Person, files: dict[str, bytes]) -> None:
    """Drop files on the plan, as a hand from another window does."""
    person.page.evaluate(
        """files => {
            const held = new DataTransfer();
            for (const [name, content] of files) {
                const bytes = Uint8Array.from(atob(content), letter => letter.charCodeAt(0));
                held.items.add(new File([bytes], name));
            }
            const plan = document.querySelector("fence-page").shadowRoot.querySelector("job-view")
                .shadowRoot.querySelector("fence-plan");
            const about = {dataTransfer: held, bubbles: true, composed: true, cancelable: true};
            plan.dispatchEvent(new DragEvent("dragover", about));
            plan.dispatchEvent(new DragEvent("drop", about));
        }""",
        [[name, base64.b64encode(content).decode()] for name, content in files.items()],
    )


def seen(person: Person) -> NDArray[np.uint8]:
    """The page as it is seen, (rows, columns, colours)."""
    with rasterio.MemoryFile(person.page.screenshot()) as memory, memory.open() as picture:
        return np.asarray(picture.read()[:3].transpose(1, 2, 0))


def wait_colour(person: Person, at_m: tuple[float, float], colour: tuple[int, int, int]) -> None:
    """Wait until a place of the plan has a colour."""
    found = None
    for _ in range(60):
        x, y = person.place_of(at_m)
        cells = seen(person)
        if (
            0 <= y < cells.shape[0] - 1 and 0 <= x < cells.shape[1] - 1
        ):  # not while the view is still elsewhere
            found = cells[round(y), round(x)].astype(int)
            if np.abs(found - colour).max() <= 8:
                return
        person.page.wait_for_timeout(250)
    raise AssertionError(f"{found} at {at_m}, not {colour}")


def make_strong(person: Person, name: str) -> None:
    """Show a background at its full strength, with the keyboard."""
    strength = person.page.get_by_label(f"Strength of {name}")
    strength.focus()
    strength.press("End")
    expect(strength).to_have_value("100")


def test_a_dropped_geotiff_lies_at_its_place_and_is_kept(person: Person) -> None:
    person.new_job("Orthophoto")
    drop(person, {"photo.tif": orthophoto()})
    list_ = person.page.locator("background-list")
    expect(list_).to_contain_text("it is in EPSG:26916 NAD83 / UTM zone 16N, but the job's plane is local")
    person.press("Take EPSG:26916 as the job's plane")
    expect(person.page.get_by_role("button", name="Go there: photo.tif")).to_be_visible()
    make_strong(person, "photo.tif")
    places = (((5, -5), RED), ((35, -5), BLUE), ((5, -25), GREEN), ((35, -25), OCHRE))
    for (x, y), colour in places:
        wait_colour(person, (EAST + x, NORTH + y), colour)
    # a metre on either side of the border between red and blue
    wait_colour(person, (EAST + 19, NORTH - 5), RED)
    wait_colour(person, (EAST + 21, NORTH - 5), BLUE)

    person.page.reload()
    person.page.locator("fence-plan").wait_for()
    wait_colour(person, (EAST + 5, NORTH - 5), RED)
    person.show("Job")
    shown = person.page.get_by_role("button", name="Show photo.tif under the plan")
    expect(shown).to_have_attribute("aria-pressed", "true")
    expect(person.page.get_by_label("Strength of photo.tif")).to_have_value("100")
    shown.press("Enter")
    expect(shown).to_have_attribute("aria-pressed", "false")
    wait_colour(person, (EAST + 5, NORTH - 5), (255, 255, 255))
    person.show("History")
    expect(person.page.locator("job-history")).to_contain_text("photo.tif")


def test_a_turned_picture_lies_where_its_world_file_says(person: Person) -> None:
    way = Affine.translation(-10, 20) @ Affine.rotation(30) @ Affine.scale(CELL, -CELL)
    numbers = (way.a, way.d, way.b, way.e, *(way @ (0.5, 0.5)))
    person.new_job("Plan")
    drop(person, {"plan.png": picture("PNG"), "plan.pgw": "\n".join(map(repr, numbers)).encode()})
    expect(person.page.get_by_role("button", name="Go there: plan.png")).to_be_visible()
    make_strong(person, "plan.png")
    for (column, row), colour in (((10, 10), RED), ((70, 10), BLUE), ((10, 50), GREEN), ((70, 50), OCHRE)):
        wait_colour(person, way @ (column, row), colour)
    x, y = way @ (-6, 30)
    wait_colour(person, (x, y), (255, 255, 255))


def test_features_are_a_quiet_backdrop_and_no_part_of_the_job(person: Person) -> None:
    person.new_job("Backdrop")
    drop(person, {"creek.csv": b"line,x,y\ncreek,-40,5\ncreek,40,5\n"})
    expect(person.page.get_by_role("button", name="Use creek as a line")).to_be_visible()
    person.press("Its numbers are metres")
    person.page.get_by_role("button", name="Show creek.csv under the plan").click()
    expect(person.page.get_by_role("button", name="Go there: creek.csv")).to_be_visible()
    make_strong(person, "creek.csv")
    person.page.wait_for_timeout(600)
    x, y = person.place_of((10, 5))
    column = seen(person)[round(y) - 3 : round(y) + 4, round(x)].astype(int)
    darkest = column[column.sum(axis=1).argmin()]
    assert 60 < darkest.mean() < 190, "thin and grey"  # thinner than a pixel where it falls between two
    assert np.ptp(darkest) < 30
    state = json.loads(person.page.request.get(f"{person.home}api/jobs").text())
    text = person.page.request.get(f"{person.home}api/jobs/{state[0]['id']}").json()["text"]
    assert "creek" not in text


def test_what_cannot_be_shown_says_why_at_the_file(person: Person) -> None:
    person.new_job("Bad files")
    person.expected.append("422")
    list_ = person.page.locator("background-list")
    drop(person, {"bare.png": picture("PNG")})
    expect(list_).to_contain_text("nothing says where the picture lies: give its world file with it")
    drop(person, {"bare.pgw": b"0.5\n0\n0\n-0.5\n0\n0\n"})
    expect(person.page.get_by_role("button", name="Go there: bare.png")).to_be_visible()
    drop(person, {"cloud.las": b"LASF" + bytes(50)})
    alert = person.page.locator("site-files [role=alert]")
    expect(alert).to_have_text("cloud.las: cannot be read as a point cloud: it is cut short or damaged")
    drop(person, {"alone.dbf": b"x"})
    expect(person.page.locator("site-files")).to_contain_text(
        "it is a part of a Shapefile: give its .shp too"
    )
    expect(alert).to_have_count(0)


def test_backgrounds_on_a_phone_by_touch(browser: Browser, served: Served, tmp_path: Path) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    person = Person(context, served.home)
    person.new_job("Phone")
    person.show("Job")
    (tmp_path / "plan.png").write_bytes(picture("PNG"))
    (tmp_path / "plan.wld").write_bytes(b"0.5\n0\n0\n-0.5\n100.25\n199.75\n")
    given = person.page.locator("#site-file")
    given.set_input_files([tmp_path / "plan.png", tmp_path / "plan.wld"])
    going = person.page.get_by_role("button", name="Go there: plan.png")
    expect(going).to_be_visible()
    make_strong(person, "plan.png")
    for control in person.page.locator("background-list").locator("button, input").all():
        box = control.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 44, control
        assert box["x"] + box["width"] <= 390
    going.tap()
    wait_colour(person, (105, 195), RED)
    wait_colour(person, (135, 175), OCHRE)
    context.close()
    assert person.faults == []
