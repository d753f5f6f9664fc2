"""The tension sheet: the chart in the units of the sheet, alike pulls together, what is left out said, cautions."""

import itertools
import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from defusedxml.ElementTree import fromstring

from fencewright.findings.cautions import DESIGN_CAUTIONS
from fencewright.pipeline.record import Design
from fencewright.sheets.frame import NOT_TO_BE_BUILT
from fencewright.sheets.labels import overlap, text_box
from fencewright.sheets.picture import Picture, Polyline, Text
from fencewright.sheets.svg import write_svg
from fencewright.sheets.tension_groups import pull_groups, pull_names
from fencewright.sheets.tension_sheet import MOST_GROUPS, PER_PAGE, draw_tension

Builder = Callable[..., Design]
Holding = Callable[..., dict[str, Any]]


def _texts(picture: Picture) -> str:
    return " ".join(picture.texts())


def many_runs(design: Design, holding: Holding, runs: int) -> Design:
    """Repeat the run so many times, each pulled 5 % tighter than the one before."""
    posts = design.tension.post_index
    tables = holding(design.layout, posts, runs=runs, strands=2)
    tension = tables["tension"]
    factor = 1.05 ** np.repeat(np.arange(runs), 2)
    tension = replace(tension, set_tension_n=tension.set_tension_n * factor)
    pulls, row = design.pulls, np.repeat(np.arange(runs), 2)
    table = {
        name: np.tile(getattr(pulls, name), runs)
        for name in ("strand", "length_m", "tail_m", "turning_rad", "turning_3d_rad", "from_post", "to_post")
    }
    one = design.layout.runs
    every = {name: np.repeat(getattr(one, name), runs) for name in one.__slots__}
    layout = replace(design.layout, runs=replace(one, **every))
    return replace(
        design, layout=layout, pulls=replace(pulls, run_index=row, **table), **{**tables, "tension": tension}
    )


@pytest.mark.parametrize(("sheets", "pull", "rail"), [("us", "247", "rail F"), ("metric", "1,100", "rail C")])
def test_the_chart_is_in_the_units_of_the_sheet(paddock: Builder, sheets: str, pull: str, rail: str) -> None:
    sheet = draw_tension(paddock(sheets=sheets))
    for picture in (sheet, sheet.phone):
        assert picture is not None
        assert {pull, rail, "68" if sheets == "us" else "20"} <= set(picture.texts())


def test_a_day_without_a_tension_has_a_dash_and_no_point(paddock: Builder) -> None:
    """The coldest of the three days is closed: a line of two days is drawn, and three dashes below it."""
    sheet = draw_tension(paddock())
    graphs = next(layer.items for layer in sheet.layers if layer.name == "graphs")
    (line,) = [item for item in graphs if isinstance(item, Polyline) and item.style == "pull-to"]
    assert len(line.points) == 2
    assert sheet.texts().count("–") == 3


def test_the_words_say_what_to_do(paddock: Builder) -> None:
    said = _texts(draw_tension(paddock()))
    assert "R1-1, R1-2: polymer rail, 2 alike" in said
    assert "Each rail 250 lbf at 68 F (rail); window 70 lbf (sag in summer)" in said
    assert "2.9 turns" in said
    assert "Two marks 30.0 ft apart move 3.4 mm" in said


def test_an_empty_window_is_said(paddock: Builder) -> None:
    design = paddock()
    shut = replace(design, tension=replace(design.tension, is_open=np.zeros(len(design.tension), np.bool_)))
    assert "NO TENSION WILL DO" in _texts(draw_tension(shut))
    assert "NO TENSION WILL DO" not in _texts(draw_tension(design))


def test_the_pull_falls_from_its_tensioner_in_steps_and_worked_lies_above(paddock: Builder) -> None:
    sheet = draw_tension(paddock())
    graphs = next(layer.items for layer in sheet.layers if layer.name == "graphs")
    lines = {item.style: item.points for item in graphs if isinstance(item, Polyline)}
    pulling, worked = lines["pulling"], lines["worked"]
    for way in (pulling, worked):
        assert [y for _, y in way] == sorted((y for _, y in way), reverse=True)
    assert worked[-1][1] > pulling[-1][1]
    assert any(text.endswith("tensioner") for text in sheet.texts())
    assert any(text.endswith("anchor") for text in sheet.texts())


def test_every_pull_is_in_just_one_group(paddock: Builder, holding: Holding) -> None:
    design = many_runs(paddock(), holding, 5)
    groups = pull_groups(design)
    assert sorted(row for group in groups for row in group.pulls) == list(range(10))
    assert [group.pulls[0] for group in groups] == sorted(group.pulls[0] for group in groups)
    assert len(groups) == 5


def test_names_of_many_pulls_are_counted(paddock: Builder, holding: Holding) -> None:
    design = many_runs(paddock(), holding, 6)
    assert pull_names(design, range(12), 2) == "R1-1, R1-2, R2-1, R2-2 and 8 more"


def test_what_is_left_out_is_said(paddock: Builder, holding: Holding) -> None:
    runs = MOST_GROUPS + 3
    sheet = draw_tension(many_runs(paddock(), holding, runs))
    assert sheet.pages == MOST_GROUPS // PER_PAGE
    assert "Left out: 6 pulls of 3 more kinds" in _texts(sheet).replace("  ", " ")
    assert "Left out" not in _texts(draw_tension(paddock()))


def test_words_do_not_overlap_and_are_on_the_paper(paddock: Builder, long_fence: Builder) -> None:
    for design in (paddock(), paddock(sheets="metric"), long_fence(300)):
        sheet = draw_tension(design)
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


def test_cautions_stand_on_every_page(paddock: Builder, holding: Holding) -> None:
    sheet = draw_tension(many_runs(paddock(), holding, 4))
    said = _texts(sheet)
    assert sheet.pages == 2
    assert [said.count(words) for words in DESIGN_CAUTIONS] == [2, 2, 2]
    assert sheet.phone is not None
    assert all(words in _texts(sheet.phone) for words in DESIGN_CAUTIONS)
    assert said.count("Assumed: No soil is stated") == 2


def test_a_stop_forbids_building(paddock: Builder) -> None:
    assert NOT_TO_BE_BUILT in draw_tension(paddock(is_stopped=True)).texts()


def test_no_number_runs_on_and_none_is_missing(paddock: Builder) -> None:
    sheet = draw_tension(paddock())
    text = write_svg(sheet)
    fromstring(text.encode())
    assert ">nan" not in text.lower()
    assert not re.search(r"[0-9][.][0-9]{3}", _texts(sheet))


def test_a_fence_without_pulls_has_a_sheet(paddock: Builder, holding: Holding) -> None:
    design = paddock()
    pulls = replace(
        design.pulls, **{name: getattr(design.pulls, name)[:0] for name in design.pulls.__slots__}
    )
    tables = holding(design.layout, design.tension.post_index, runs=0)
    assert "0, of 0 kinds" in draw_tension(replace(design, pulls=pulls, **tables)).texts()


def test_same_design_same_picture(paddock: Builder) -> None:
    assert draw_tension(paddock()) == draw_tension(paddock())
