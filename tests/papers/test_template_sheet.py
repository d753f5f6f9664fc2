"""The rail-mark template: true size in the PDF's own points, marks where the design has them."""

from collections.abc import Callable
from typing import Any

import pytest
from defusedxml.ElementTree import fromstring
from pypdf import PdfReader

from fencewright.papers.blocks import Drawing
from fencewright.papers.template_sheet import post_drops, template_section

Boxes = list[tuple[float, float, float, float]]
Pages = Callable[[PdfReader, str], range]
POINTS_PER_INCH = 72.0
BAR_MM = 3.0  # how thick the bars are drawn


def bars_of(boxes: Boxes) -> list[float]:
    """Length of each bar: boxes of its thickness that stand side by side at one height. [pt]"""
    thick = BAR_MM / 25.4 * POINTS_PER_INCH
    parts = [box for box in boxes if abs(box[3] - box[1] - thick) < 0.1]
    rows = {round(box[1], 1) for box in parts}
    return [
        max(b[2] for b in parts if round(b[1], 1) == row) - min(b[0] for b in parts if round(b[1], 1) == row)
        for row in sorted(rows, reverse=True)
    ]


def test_bars_measure_four_inches_and_a_hundred_millimetres(
    small: tuple[Any, PdfReader], pages_of: Pages, filled_boxes: Callable[..., Boxes]
) -> None:
    _, pdf = small
    page = pages_of(pdf, "Rail-mark template")[0]
    assert bars_of(filled_boxes(pdf, page)) == pytest.approx(
        [4 * POINTS_PER_INCH, 100 / 25.4 * POINTS_PER_INCH], abs=0.05
    )


def test_metric_sheet_has_the_hundred_millimetres_first(
    metric: tuple[Any, PdfReader], pages_of: Pages, filled_boxes: Callable[..., Boxes]
) -> None:
    _, pdf = metric
    page = pages_of(pdf, "Rail-mark template")[0]
    assert bars_of(filled_boxes(pdf, page))[0] == pytest.approx(100 / 25.4 * POINTS_PER_INCH, abs=0.05)


def test_strips_are_two_hundred_millimetres_long(
    small: tuple[Any, PdfReader], pages_of: Pages, filled_boxes: Callable[..., Boxes]
) -> None:
    _, pdf = small
    boxes = filled_boxes(pdf, pages_of(pdf, "Rail-mark template")[0])
    longest = max(box[3] - box[1] for box in boxes)
    assert longest == pytest.approx(200 / 25.4 * POINTS_PER_INCH, abs=0.05)


def test_marks_stand_as_far_below_the_first_edge_as_the_design_says(
    small: tuple[Any, PdfReader], pages_of: Pages, filled_boxes: Callable[..., Boxes]
) -> None:
    record, pdf = small
    boxes = filled_boxes(pdf, pages_of(pdf, "Rail-mark template")[0])
    top = max(box[3] for box in boxes)
    arrow = 5.0 / 25.4 * POINTS_PER_INCH
    marks = [box for box in boxes if abs(box[2] - box[0] - arrow) < 0.2]
    strip_m = 0.2
    found = sorted(
        (top - (box[1] + box[3]) / 2) / POINTS_PER_INCH * 0.0254 for box in marks
    )  # the first strip's, and the rest modulo a strip
    wanted = sorted(drop % strip_m for drop in post_drops(record["posts"][0]))
    assert found == pytest.approx(wanted, abs=3e-4)


def test_drops_are_from_the_cut_top_highest_rail_first() -> None:
    post = {"above_ground_m": 1.4, "rail_marks_m": [0.4, 0.8, 1.3]}
    assert post_drops(post) == (0.1, 0.6, 1.0)


def test_marks_that_differ_by_less_than_a_saw_cut_share_a_template() -> None:
    posts = [{"above_ground_m": 1.4 + k * 0.0004, "rail_marks_m": [0.4, 1.3]} for k in range(4)] + [
        {"above_ground_m": 1.5, "rail_marks_m": [0.4, 1.3]}
    ]
    sections = template_section({"job": {"sheets": "metric"}, "posts": posts})
    assert [one.title for one in sections] == ["Rail-mark template", "Rail-mark template 2"]
    assert "for 4 posts" in sections[0].blocks[0].text  # type: ignore[union-attr]  # words stand first


def test_no_number_of_the_scale_lies_on_the_words_of_a_rail() -> None:
    """A rail 1.016 m below the top lies beside the scale's 1,020."""
    post = {"above_ground_m": 1.4, "rail_marks_m": [0.384, 0.84, 1.32]}
    drawing = template_section({"job": {"sheets": "metric"}, "posts": [post]})[0].blocks[1]
    assert isinstance(drawing, Drawing)
    texts = [
        (one.text or "", float(one.attrib["x"]), float(one.attrib["y"]), float(one.attrib["font-size"]))
        for one in fromstring(drawing.svg).iter("{http://www.w3.org/2000/svg}text")
    ]
    words = [
        one for one in texts if one[0].startswith("rail") or (one[0].endswith("mm") and "bar" not in one[0])
    ]
    numbers = [one for one in texts if one[0].isdigit()]
    assert len(words) == 6
    assert len(numbers) > 30
    for _, x, y, high in words:
        near = [
            said for said, left, at, size in numbers if 0 < x - left < 10 and abs(y - at) < (high + size) / 2
        ]
        assert not near


def test_a_fence_without_rail_marks_has_no_template() -> None:
    assert (
        template_section({"job": {"sheets": "us"}, "posts": [{"above_ground_m": 1.0, "rail_marks_m": []}]})
        == []
    )
