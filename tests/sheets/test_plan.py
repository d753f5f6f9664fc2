"""The plan: true to scale, every fixed post named, nothing overlapping, cautions on it."""

import itertools
import math
from collections.abc import Callable

import numpy as np
import pytest

from fencewright.findings.cautions import DESIGN_CAUTIONS
from fencewright.pipeline.record import Design, post_id
from fencewright.quantity.show import UnitSystem
from fencewright.sheets.frame import NOT_TO_BE_BUILT
from fencewright.sheets.labels import box_distance, overlap, text_box
from fencewright.sheets.picture import Picture, Symbol, Text
from fencewright.sheets.plan import draw_plan
from fencewright.sheets.plan_labels import every_nth, gate_words

Builder = Callable[..., Design]


def _layer(picture: Picture, name: str) -> list[object]:
    return list(next(layer.items for layer in picture.layers if layer.name == name))


def _post_marks(picture: Picture) -> np.ndarray:
    return np.array([(mark.x_m, mark.y_m) for mark in _layer(picture, "posts") if isinstance(mark, Symbol)])


@pytest.mark.parametrize("sheets", ["us", "metric"])
def test_distances_on_paper_times_scale_are_true(paddock: Builder, sheets: str) -> None:
    design = paddock(sheets=sheets)
    picture = draw_plan(design)
    posts = design.layout.posts
    order = np.argsort(posts.is_fixed, kind="stable")
    true = np.column_stack([posts.x_m, posts.y_m])[order]
    paper = _post_marks(picture)
    assert len(paper) == len(posts)
    for a, b in itertools.combinations(range(0, len(posts), 5), 2):
        assert math.dist(paper[a], paper[b]) * picture.scale == pytest.approx(
            math.dist(true[a], true[b]), abs=1e-4
        )


def test_north_is_up(paddock: Builder) -> None:
    design = paddock()
    picture = draw_plan(design)
    marks = _post_marks(picture)
    posts = design.layout.posts
    order = np.argsort(posts.is_fixed, kind="stable")
    north, south = np.argmax(posts.y_m[order]), np.argmin(posts.y_m[order])
    assert marks[north, 1] > marks[south, 1]
    (arrow,) = [i for i in picture.items() if isinstance(i, Symbol) and i.name == "north"]
    assert arrow.rotation_rad == 0.0


def test_every_fixed_post_is_named(paddock: Builder) -> None:
    design = paddock()
    texts = draw_plan(design).texts()
    for k in np.flatnonzero(design.layout.posts.is_fixed):
        assert post_id(int(k)) in texts


@pytest.mark.parametrize("sheets", ["us", "metric"])
def test_labels_do_not_overlap(paddock: Builder, long_fence: Builder, sheets: str) -> None:
    for design in (paddock(sheets=sheets), long_fence(300, sheets)):
        sheet = draw_plan(design)
        for picture in (sheet, sheet.phone):
            assert picture is not None
            items = [*_layer(picture, "labels"), *_layer(picture, "dimensions")]
            boxes = [text_box(item, 0.0) for item in items if isinstance(item, Text)]
            assert len(boxes) > 10
            assert not any(overlap(a, b) for a, b in itertools.combinations(boxes, 2))


def test_all_is_on_the_paper(paddock: Builder) -> None:
    sheet = draw_plan(paddock("A job with a name that is much longer than any title block can hold " * 3))
    for picture in (sheet, sheet.phone):
        assert picture is not None
        for text in picture.items():
            if isinstance(text, Text):
                box = text_box(text, 0.0)
                assert box.x_m - box.reach_m[0] >= 0
                assert box.x_m + box.reach_m[0] <= picture.width_m
                assert box.y_m - box.reach_m[1] >= 0
                assert box.y_m + box.reach_m[1] <= picture.height_m


def test_cautions_and_assumptions_stand_on_the_sheet(paddock: Builder) -> None:
    sheet = draw_plan(paddock())
    for picture in (sheet, sheet.phone):
        assert picture is not None
        said = " ".join(picture.texts())
        assert all(words in said for words in DESIGN_CAUTIONS)
        assert "Assumed: No soil is stated: clay is assumed." in said


def test_a_stop_forbids_building_in_words(paddock: Builder) -> None:
    assert NOT_TO_BE_BUILT not in draw_plan(paddock()).texts()
    stopped = draw_plan(paddock(is_stopped=True))
    assert NOT_TO_BE_BUILT in stopped.texts()
    assert "1 stop, 1 caution" in stopped.texts()
    assert any("3 in too short" in text for text in stopped.texts())


def test_legs_and_gate_are_dimensioned(paddock: Builder) -> None:
    """The paddock is 40 m x 28 m; its gate side starts a post after the corner."""
    texts = draw_plan(paddock(sheets="metric")).texts()
    assert texts.count("28.00 m") == 2
    assert "40.00 m" in texts
    assert "36.00 m" in texts
    assert any("3,658 mm opening, leaf 3,505 mm" in text for text in texts)


def test_gate_words_in_feet() -> None:
    assert gate_words(3.6576, 3.5052, UnitSystem("us")) == "12' 0\" opening, leaf 11' 6\""


def test_obstacles_and_their_clearances_are_drawn(paddock: Builder) -> None:
    picture = draw_plan(paddock())
    assert len(_layer(picture, "clearances")) == 2
    texts = picture.texts()
    assert "W" in texts
    assert any("buried water, keep 24 in clear" in text for text in texts)


def test_a_long_fence_has_few_labels_and_counts_what_it_dropped(long_fence: Builder) -> None:
    design = long_fence(1000)
    picture = draw_plan(design)
    assert len(picture.texts()) < 150
    assert any("not drawn at this scale" in text for text in picture.texts())
    if picture.dropped_labels:
        assert any(f"{picture.dropped_labels} labels" in text for text in picture.texts())
    for k in np.flatnonzero(design.layout.posts.is_fixed):
        assert post_id(int(k)) in picture.texts()


def test_ids_of_neighbours_stand_on_their_own_sides(paddock: Builder) -> None:
    """Each fixed post's id lies nearer to it than to any other fixed post."""
    design = paddock()
    picture = draw_plan(design)
    fixed = np.flatnonzero(design.layout.posts.is_fixed)
    marks = _post_marks(picture)[-len(fixed) :]
    texts = {item.text: item for item in _layer(picture, "labels") if isinstance(item, Text)}
    for k, own in zip(fixed, marks, strict=True):
        box = text_box(texts[post_id(int(k))], 0.0)
        away = [box_distance(box, (float(x), float(y))) for x, y in marks]
        assert min(away) == pytest.approx(box_distance(box, (float(own[0]), float(own[1]))))


def test_a_wide_fence_is_turned_on_a_narrow_screen_with_its_arrow(long_fence: Builder) -> None:
    sheet = draw_plan(long_fence(300))
    turns = []
    for picture in (sheet, sheet.phone):
        assert picture is not None
        turns += [i.rotation_rad for i in picture.items() if isinstance(i, Symbol) and i.name == "north"]
    assert turns == [0.0, pytest.approx(math.pi / 2)]


def test_ids_thin_out_as_posts_crowd() -> None:
    assert [every_nth(spacing) for spacing in (0.0075, 0.004, 0.002, 1e-6)] == [1, 2, 5, 0]


def test_same_design_same_picture(paddock: Builder) -> None:
    assert draw_plan(paddock()) == draw_plan(paddock())
