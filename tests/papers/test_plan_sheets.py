"""Plan sheets: true to their scale, match lines that lead to the right neighbour, every post on a sheet."""

import math
import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from defusedxml.ElementTree import fromstring
from pypdf import PdfReader

from fencewright.papers.blocks import Drawing
from fencewright.papers.frame import Size
from fencewright.papers.plan_sheets import choose_tiles, plan_sections
from fencewright.papers.windows import Grid, extent_of, share_out
from fencewright.pipeline.record import Design
from fencewright.sheets.picture import Circle, Layer, Text

SVG = "{http://www.w3.org/2000/svg}"
Pages = Callable[[PdfReader, str], range]


def test_every_post_stands_on_a_sheet(designed: Callable[..., Design]) -> None:
    made = designed(1500)
    tiles = choose_tiles(made, "letter")
    at = tiles.view.points(np.column_stack([made.layout.posts.x_m, made.layout.posts.y_m]))
    for x, y in at:
        own = [cell for cell in tiles.used if _holds(tiles.grid, cell, x, y)]
        assert own


def _holds(grid: Grid, cell: tuple[int, int], x: float, y: float) -> bool:
    left, low = grid.left_m + cell[0] * grid.step_x_m, grid.low_m + cell[1] * grid.step_y_m
    return left - 1e-9 <= x <= left + grid.step_x_m + 1e-9 and low - 1e-9 <= y <= low + grid.step_y_m + 1e-9


def test_two_posts_are_as_far_apart_on_paper_as_the_scale_says(designed: Callable[..., Design]) -> None:
    made = designed(1500)
    tiles = choose_tiles(made, "letter")
    posts = made.layout.posts
    at = tiles.view.points(np.column_stack([posts.x_m, posts.y_m]))
    apart = np.hypot(*(at[5] - at[4]))
    assert apart * tiles.view.scale == pytest.approx(
        np.hypot(posts.x_m[5] - posts.x_m[4], posts.y_m[5] - posts.y_m[4])
    )


def test_scale_is_round_and_can_be_stated(designed: Callable[..., Design]) -> None:
    assert choose_tiles(designed(), "letter").view.scale % 120 == 0
    assert choose_tiles(designed(sheets="metric"), "a4").view.scale % 50 == 0
    assert choose_tiles(designed(more="[paper]\nplan_scale = 240"), "letter").view.scale == 240


def test_match_lines_name_sheets_that_are_there(large: tuple[Any, PdfReader], pages_of: Pages) -> None:
    _, pdf = large
    pages = pages_of(pdf, "Plan")
    sheets = len(pages) - 1
    assert sheets > 1
    led = [
        int(number)
        for page in pages
        for number in re.findall(r"match line: plan sheet (\d+)", pdf.pages[page].extract_text())
    ]
    assert len(led) >= 2 * (sheets - 1)
    assert set(led) <= set(range(1, sheets + 1))


def test_a_stated_scale_too_fine_for_paper_gives_way(designed: Callable[..., Design]) -> None:
    made = designed(1500, more="[paper]\nplan_scale = 10")
    tiles = choose_tiles(made, "letter")
    assert tiles.view.scale > 10
    assert max(tiles.paper_m) <= 2.3


def test_a_plan_of_one_sheet_has_no_match_line(designed: Callable[..., Design]) -> None:
    sections = plan_sections(designed(60), "letter")
    assert [one.title for one in sections] == ["Plan", "Plan sheet 1 of 1"]
    assert "match line" not in str(sections[1])


def test_a_mark_goes_to_every_window_that_it_touches() -> None:
    grid = Grid(0.0, 0.0, 1.0, 1.0, 2, 1, 0.1)
    layer = Layer(
        "a",
        "a",
        (Circle(0.5, 0.5, 0.1, "mark"), Circle(1.0, 0.5, 0.05, "mark"), Circle(9.0, 9.0, 0.1, "mark")),
    )
    shared = share_out([layer], grid)
    assert [len(shared[0, 0][0]), len(shared[1, 0][0])] == [2, 1]


def test_extent_of_a_turned_text_holds_its_whole_length() -> None:
    text = Text(0.0, 0.0, "words", "text", 0.003, "start", 1.0)
    left, low, right, high = extent_of(text)
    assert min(-left, -low, right, high) >= text.width_m


def _texts(svg: str, layer: str) -> list[tuple[str, float, float, float, bool]]:
    """Text, x, y from the top [mm], height [mm] and whether it stands upright, of one layer of a drawing."""
    group = next(one for one in fromstring(svg).iter(f"{SVG}g") if one.get("class") == f"layer-{layer}")
    return [
        (one.text or "", float(one.attrib["x"]), float(one.attrib["y"]), float(one.attrib["font-size"]),
         "transform" in one.attrib)
        for one in group.iter(f"{SVG}text")
    ]  # fmt: skip


def _drawings(made: Design, size: Size = "letter") -> list[Drawing]:
    return [block for one in plan_sections(made, size) for block in one.blocks if isinstance(block, Drawing)]


def test_words_along_a_match_line_keep_clear_of_the_fence(designed: Callable[..., Design]) -> None:
    made = designed(1500)
    tiles = choose_tiles(made, "letter")
    seen = 0
    for cell, drawing in zip(tiles.used, _drawings(made)[1:], strict=True):
        fence = 1000 * (tiles.fence - np.array(tiles.grid.corner(cell)))
        for said, x, y, high, is_upright in _texts(drawing.svg, "match-words"):
            half = np.array([0.2 * high * len(said), high / 2])  # letters are wider than this
            at = np.array([x, tiles.window_m[1] * 1000 - y])
            assert (np.abs(fence - at) > (half[::-1] if is_upright else half)).any(axis=1).all(), said
            seen += 1
    assert seen >= 2 * (len(tiles.used) - 1)


def test_numbers_of_the_key_map_keep_clear_of_the_fence(designed: Callable[..., Design]) -> None:
    made = designed(1500)
    svg = _drawings(made)[0].svg
    group = next(one for one in fromstring(svg).iter(f"{SVG}g") if one.get("class") == "layer-key")
    numbers = [(x, y) for said, x, y, *_ in _texts(svg, "key") if said.isdigit()]
    posts = [(float(one.attrib["cx"]), float(one.attrib["cy"])) for one in group.iter(f"{SVG}circle")]
    assert len(numbers) == len(choose_tiles(made, "letter").used)
    assert len(posts) > 400
    assert min(np.hypot(x - a, y - b) for x, y in numbers for a, b in posts) > 4.0


@pytest.mark.parametrize("north", ["0 deg", "37 deg", "90 deg", "180 deg"])
def test_the_foot_of_a_sheet_stands_whole_below_the_drawing(
    designed: Callable[..., Design], north: str
) -> None:
    made = designed(200, more="").job  # the square of 200 ft, with north turned
    text = made.asked.site.model_copy(update={"north": math.radians(float(north.split()[0]))})
    turned = replace(made, asked=made.asked.model_copy(update={"site": text}))
    drawing = _drawings(replace(designed(200, more=""), job=turned))[1]
    group = next(one for one in fromstring(drawing.svg).iter(f"{SVG}g") if one.get("class") == "layer-foot")
    shapes = [one.attrib["d"] for one in group.iter(f"{SVG}path")][1:]  # the first is the paper itself
    low = [float(y) for shape in shapes for y in re.findall(r"[ML]\S+ (-?[\d.]+)", shape)]
    assert max(low) <= drawing.height_mm
    assert any(said == "N" for said, *_ in _texts(drawing.svg, "foot"))
