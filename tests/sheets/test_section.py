"""The long section: every metre of every line drawn once, heights true, cuts and depths written."""

import itertools
import math
from collections.abc import Callable

import numpy as np
import pytest

from fencewright.findings.cautions import DESIGN_CAUTIONS
from fencewright.pipeline.record import Design
from fencewright.quantity.show import UnitSystem
from fencewright.sheets.frame import NOT_TO_BE_BUILT
from fencewright.sheets.labels import overlap, text_box
from fencewright.sheets.picture import Picture, Polygon, Polyline, Symbol, Text
from fencewright.sheets.section import STRIP_LIMIT, draw_section
from fencewright.sheets.section_marks import clash_words
from fencewright.sheets.section_trace import choose_strips, cut_strips, trace_line

Builder = Callable[..., Design]


def _layer(picture: Picture, name: str) -> list[object]:
    return list(next(layer.items for layer in picture.layers if layer.name == name))


def test_closed_line_comes_back_to_its_first_post(paddock: Builder) -> None:
    trace = trace_line(paddock().layout, 0)
    assert trace is not None
    assert trace.post_index[0] == trace.post_index[-1] == 0
    assert trace.length_m == pytest.approx(136.0)
    assert np.all(np.diff(trace.ground_at_m) > 0)
    assert len(trace.ground_at_m) == len(trace.at_m) + len(trace.span_index)


@pytest.mark.parametrize("most_m", [9.0, 50.0, 1e4])
def test_strips_cover_the_line_once(paddock: Builder, most_m: float) -> None:
    layout = paddock().layout
    trace = trace_line(layout, 0)
    assert trace is not None
    strips = list(cut_strips(trace, layout.posts.is_fixed, most_m))
    assert strips[0].first == 0
    assert strips[-1].last == len(trace.at_m) - 1
    assert all(a.last == b.first for a, b in itertools.pairwise(strips))
    assert all(strip.length_m <= most_m + 1e-6 for strip in strips)


def test_long_fence_keeps_to_the_strip_limit(long_fence: Builder) -> None:
    layout = long_fence(3000).layout
    scale, strips = choose_strips(layout, 0.23, UnitSystem("us"), STRIP_LIMIT)
    assert 1 <= len(strips) <= STRIP_LIMIT
    assert scale > 1000


def test_posts_stand_at_their_stations_and_reach_their_depths(paddock: Builder) -> None:
    design = paddock(rise_m=0.0)
    picture = draw_section(design)
    posts = [item for item in _layer(picture, "posts") if isinstance(item, Polygon) and item.style == "post"]
    first, second = posts[0].rings[0], posts[1].rings[0]
    middle = [(ring[0][0] + ring[1][0]) / 2 for ring in (first, second)]
    assert (middle[1] - middle[0]) * picture.scale == pytest.approx(4.0, abs=1e-4)
    tall = first[2][1] - first[1][1]
    times = float(picture.description.split("heights ")[1].split(" times")[0])
    assert tall * picture.scale / times == pytest.approx(1.2192 + 1.3716, abs=1e-4)


def test_top_line_is_drawn_at_its_height(paddock: Builder) -> None:
    picture = draw_section(paddock(rise_m=0.0))
    tops = [item for item in _layer(picture, "rails") if isinstance(item, Polyline) and item.style == "top"]
    ground = [item for item in _layer(picture, "ground") if isinstance(item, Polyline)]
    times = float(picture.description.split("heights ")[1].split(" times")[0])
    above = tops[0].points[0][1] - ground[0].points[0][1]
    assert above * picture.scale / times == pytest.approx(1.3716, abs=1e-3)


def test_cut_of_every_post_is_written(paddock: Builder) -> None:
    """0.15875 m is 6 1/4 in, 1.2192 m is 48 in."""
    texts = draw_section(paddock()).texts()
    for k in range(34):
        assert f"P{k + 1}" in texts
    assert texts.count("6 1/4") >= 34
    assert "48" in texts
    assert texts.count("159") == 0
    assert draw_section(paddock(sheets="metric")).texts().count("159") >= 34


def test_uplift_is_marked_where_it_counts(paddock: Builder) -> None:
    """600 N is 134.9 lbf; the other posts have 20 N."""
    picture = draw_section(paddock())
    arrows = [item for item in picture.items() if isinstance(item, Symbol) and item.name == "uplift"]
    assert len(arrows) >= 5 + 1
    assert picture.texts().count("135") >= 5
    assert "4" not in picture.texts()[picture.texts().index("Uplift, lbf") :][:1]


def test_posts_set_long_say_so_and_control_posts_are_marked(paddock: Builder) -> None:
    picture = draw_section(paddock(is_cut=False))
    assert picture.texts().count("long") >= 34
    marks = [item.name for item in picture.items() if isinstance(item, Symbol)]
    assert "control" in marks
    assert "long" not in draw_section(paddock()).texts()


def test_clash_has_its_mark_and_amount(paddock: Builder) -> None:
    picture = draw_section(paddock())
    assert any("gap 1 in too small" in text for text in picture.texts())
    assert clash_words("post band", -0.0254, UnitSystem("us")) == "top 1 in too low"
    assert clash_words("level", 0.01, UnitSystem("metric")) == "tops 10 mm apart"


def test_pages_and_exaggeration_are_stated(long_fence: Builder) -> None:
    picture = draw_section(long_fence(400))
    assert picture.pages > 1
    assert picture.height_m == pytest.approx(picture.pages * picture.page_height_m)
    said = " ".join(picture.texts())
    assert f"Page 1 of {picture.pages}." in said
    assert "times as tall as lengths" in said
    assert [said.count(words) for words in DESIGN_CAUTIONS] == [picture.pages] * 3


def test_stop_is_on_every_page(paddock: Builder) -> None:
    picture = draw_section(paddock(is_stopped=True, rise_m=3.0))
    assert picture.pages > 1
    assert picture.texts().count(NOT_TO_BE_BUILT) == picture.pages


@pytest.mark.parametrize("sheets", ["us", "metric"])
def test_numbers_do_not_overlap_and_stay_on_the_paper(
    paddock: Builder, long_fence: Builder, sheets: str
) -> None:
    for design in (paddock(sheets=sheets), long_fence(200, sheets)):
        sheet = draw_section(design)
        for picture in (sheet, sheet.phone):
            assert picture is not None
            boxes = [text_box(i, 0.0) for i in _layer(picture, "numbers") if isinstance(i, Text)]
            boxes.sort(key=lambda box: (round(box.y_m, 6), box.x_m))
            for a, b in itertools.pairwise(boxes):
                assert not overlap(a, b)
            assert all(
                b.x_m - b.half_width_m >= 0 and b.x_m + b.half_width_m <= picture.width_m for b in boxes
            )


def test_everything_drawn_is_finite(paddock: Builder) -> None:
    for item in draw_section(paddock(is_cut=False)).items():
        if isinstance(item, Polyline):
            assert all(math.isfinite(x) and math.isfinite(y) for x, y in item.points)


def test_posts_on_unknown_ground_are_left_out_and_the_rest_is_drawn(paddock: Builder) -> None:
    design = paddock()
    posts, top = design.layout.posts, design.top_line
    for column in (posts.ground_m, top.top_m, top.height_m):
        column[5:8] = np.nan
    picture = draw_section(design)
    for item in picture.items():
        if isinstance(item, Polyline):
            assert np.all(np.isfinite(item.points))
        elif isinstance(item, Polygon):
            assert all(np.all(np.isfinite(ring)) for ring in item.rings)
    drawn = [item for item in picture.items() if isinstance(item, Polygon) and item.style == "post"]
    whole = [i for i in draw_section(paddock()).items() if isinstance(i, Polygon) and i.style == "post"]
    assert len(drawn) == len(whole) - 3


def test_a_thousand_posts_stay_small(long_fence: Builder) -> None:
    picture = draw_section(long_fence(1000))
    assert sum(1 for _ in picture.items()) < 12_000
