"""The strength sheet: a shape for each class of use, every fixed post with its percentage, the worst with its clause."""

import itertools
import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from fencewright.findings.cautions import DESIGN_CAUTIONS
from fencewright.pipeline.record import Design, post_id
from fencewright.sheets.frame import NOT_TO_BE_BUILT
from fencewright.sheets.labels import overlap, text_box
from fencewright.sheets.picture import Picture, Symbol, Text
from fencewright.sheets.strength_marks import show_use, use_classes
from fencewright.sheets.strength_sheet import draw_strength
from fencewright.sheets.strength_worst import MOST_WORST, worst_lines
from fencewright.sheets.symbols import SYMBOLS
from fencewright.tables.strength import KINDS

Builder = Callable[..., Design]


def _layer(picture: Picture, name: str) -> list[object]:
    return list(next(layer.items for layer in picture.layers if layer.name == name))


def test_classes_end_where_they_say() -> None:
    used = np.array([0.0, 0.5, 0.500002, 0.9, 1.0, 1.0000001, 1.00001, math.inf])
    assert use_classes(used).tolist() == [0, 0, 1, 1, 2, 2, 3, 3]


def test_classes_differ_in_shape_and_not_in_colour_alone() -> None:
    shapes = [SYMBOLS[name] for name in ("use-low", "use-mid", "use-high", "use-over")]
    kinds = [
        [(type(shape).__name__, len(getattr(shape, "rings", ((),))[0])) for shape in some] for some in shapes
    ]
    assert len({str(kind) for kind in kinds}) == 4


@pytest.mark.parametrize(
    ("used", "said"),
    [
        (0.849, "85 %"),
        (1.003, "100.3 %"),
        (1.0, "100 %"),
        (1.2, "120 %"),
        (50.0, ">999 %"),
        (math.inf, ">999 %"),
    ],
)
def test_percentages(used: float, said: str) -> None:
    assert show_use(used) == said


def test_every_post_has_the_mark_of_its_class(paddock: Builder) -> None:
    design = paddock()
    picture = draw_strength(design)
    marks = [item.name for item in _layer(picture, "use") if isinstance(item, Symbol)]
    names = np.array(["use-low", "use-mid", "use-high", "use-over"])
    assert sorted(marks) == sorted(names[use_classes(design.strength.utilisation)].tolist())
    assert {name: marks.count(name) > 0 for name in names} == dict.fromkeys(names.tolist(), True)


def test_marks_are_true_to_scale(paddock: Builder) -> None:
    design = paddock()
    picture = draw_strength(design)
    marks = [item for item in _layer(picture, "use") if isinstance(item, Symbol)]
    x, y = design.layout.posts.x_m, design.layout.posts.y_m
    wide = max(mark.x_m for mark in marks) - min(mark.x_m for mark in marks)
    tall = max(mark.y_m for mark in marks) - min(mark.y_m for mark in marks)
    assert (wide * picture.scale, tall * picture.scale) == pytest.approx((np.ptp(x), np.ptp(y)), abs=1e-4)


def test_fixed_posts_and_what_is_over_are_labelled(paddock: Builder) -> None:
    design = paddock()
    texts = draw_strength(design).texts()
    used = design.strength.utilisation
    for k in np.flatnonzero(design.layout.posts.is_fixed | (used > 1)).tolist():
        assert f"{post_id(k)} {show_use(float(used[k]))}" in texts


def test_the_worst_are_named_with_check_case_and_clause(paddock: Builder) -> None:
    """The last post is over by uplift; then come the posts before it, one by one, by embedment."""
    lines = worst_lines(paddock())
    assert len(lines) == MOST_WORST
    assert lines[0][0] == "120 %  P34: uplift"
    assert lines[0][1].startswith("cold pull")
    assert "ibc-1810, 1810.3.3.1.4" in lines[0][1]
    percent = [float(line[0].split(" ")[0]) for line in lines]
    assert percent == sorted(percent, reverse=True)


def test_alike_posts_share_a_line_and_second_opinions_have_none(paddock: Builder) -> None:
    design = paddock()
    checks = design.strength.checks
    used = np.where(checks.utilisation < 3, 0.9, 3.0)
    alike = replace(checks, utilisation=used, case_index=checks.case_index * 0)
    lines = worst_lines(replace(design, strength=replace(design.strength, checks=alike)))
    assert "90 %  P2 and 31 like it: embedment" in [line[0] for line in lines]
    second = {kind.label for kind in KINDS.values() if not kind.is_counted}
    assert not any(line[0].endswith(f": {label}") for line in lines for label in second)


def test_the_table_stands_on_sheet_and_phone(paddock: Builder) -> None:
    sheet = draw_strength(paddock())
    for picture in (sheet, sheet.phone):
        assert picture is not None
        said = " ".join(picture.texts())
        assert "Least in hand" in said
        assert "120 % P34: uplift" in said


def test_labels_do_not_overlap_and_all_is_on_the_paper(paddock: Builder, long_fence: Builder) -> None:
    for design in (paddock(), paddock(sheets="metric", is_stopped=True), long_fence(300)):
        sheet = draw_strength(design)
        for picture in (sheet, sheet.phone):
            assert picture is not None
            boxes = [text_box(item, -0.0001) for item in picture.items() if isinstance(item, Text)]
            assert len(boxes) > 30
            assert not any(overlap(a, b) for a, b in itertools.combinations(boxes, 2))
            for box in boxes:
                assert box.x_m - box.reach_m[0] >= 0
                assert box.x_m + box.reach_m[0] <= picture.width_m
                assert box.y_m - box.reach_m[1] >= 0
                assert box.y_m + box.reach_m[1] <= picture.height_m


def test_a_long_fence_shows_the_worst_and_counts_the_rest(long_fence: Builder) -> None:
    design = long_fence(3000)
    picture = draw_strength(design)
    marks = [item for item in _layer(picture, "use") if isinstance(item, Symbol)]
    hidden = len(design.layout.posts) - len(marks)
    assert hidden > 0
    assert f"{hidden:,} are not." in " ".join(picture.texts())
    worst = int(np.argmax(design.strength.utilisation))
    assert f"{post_id(worst)} 120 %" in picture.texts()


def test_cautions_and_stops_stand_on_the_sheet(paddock: Builder) -> None:
    sheet = draw_strength(paddock(is_stopped=True))
    for picture in (sheet, sheet.phone):
        assert picture is not None
        said = " ".join(picture.texts())
        assert all(words in said for words in (*DESIGN_CAUTIONS, NOT_TO_BE_BUILT, "3 in too short"))


def test_a_post_without_any_capacity_is_over(paddock: Builder) -> None:
    design = paddock()
    used = design.strength.utilisation.copy()
    used[0] = np.inf
    texts = draw_strength(replace(design, strength=replace(design.strength, utilisation=used))).texts()
    assert "P1 >999 %" in texts


def test_same_design_same_picture(paddock: Builder) -> None:
    assert draw_strength(paddock()) == draw_strength(paddock())
