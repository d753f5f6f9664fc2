"""Tensioner and anchor ends on the plan: one mark an end, near its post, on nothing else."""

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from fencewright.pipeline.record import Design
from fencewright.sheets.picture import Picture, Symbol
from fencewright.sheets.plan import draw_plan, plan_view

Builder = Callable[..., Design]


def _marks(picture: Picture) -> dict[str, list[Symbol]]:
    items = [i for i in picture.items() if isinstance(i, Symbol) and i.size_m == 0.0030]
    return {name: [i for i in items if i.name == name] for name in ("tensioner", "anchor")}


def drawn(design: Design, way: int) -> Design:
    """Draw every pull from its first end (0), its last (1), or both (2)."""
    return replace(design, tension=replace(design.tension, drawn_from=np.full(len(design.tension), way)))


@pytest.mark.parametrize(("way", "tensioner"), [(0, 1), (1, 0)])
def test_each_end_has_its_mark_beside_its_post(paddock: Builder, way: int, tensioner: int) -> None:
    """The gate stands between posts 1 and 2: the run goes from post 2 round to post 1."""
    design = drawn(paddock(), way)
    marks = {name: mark for name, (mark, *_) in _marks(draw_plan(design)).items()}
    view, posts = plan_view(design), design.layout.posts
    ends = [view.point(float(posts.x_m[k]), float(posts.y_m[k])) for k in (0, 1)]
    for name, own in (("tensioner", tensioner), ("anchor", 1 - tensioner)):
        mark = marks[name]
        away = [math.dist((mark.x_m, mark.y_m), end) for end in ends]
        assert away[own] == min(away) < 0.015


def test_drawn_from_both_ends_has_two_tensioners_and_the_legend_counts_them(paddock: Builder) -> None:
    picture = draw_plan(drawn(paddock(), 2))
    assert "tensioner end of a run: 2" in picture.texts()
    assert not _marks(picture)["anchor"]


def test_a_run_too_short_on_paper_has_no_marks_and_is_counted(paddock: Builder) -> None:
    """The run's first two posts are made to stand 1 m apart: 4 mm on paper at 1 in = 20 ft."""
    design = paddock()
    tension, posts = design.tension, design.layout.posts
    first, second = tension.post_index[:2]
    x = posts.x_m.copy()
    x[second] = x[first] + 1.0
    short = replace(tension, post_start=np.array([0, 2]), post_index=tension.post_index[:2])
    layout = replace(design.layout, posts=replace(posts, x_m=x))
    picture = draw_plan(replace(design, tension=short, layout=layout))
    assert picture.scale == 240
    assert "ends of runs too small to mark: 2 (tension.csv)" in " ".join(picture.texts())
    assert not any("end of a run" in text for text in picture.texts())
