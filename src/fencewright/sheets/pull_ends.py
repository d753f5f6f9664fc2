"""Where each run's rails are drawn from and where they are held: tensioner and anchor ends on the plan."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from fencewright.pipeline.record import Design
from fencewright.sheets.frame import LegendEntry
from fencewright.sheets.labels import Board, Box
from fencewright.sheets.picture import XY, Symbol
from fencewright.sheets.plan_labels import outer_side
from fencewright.sheets.plan_view import View

_SIZE_M = 0.0030
_SHORTEST_M = 0.010  # a run shorter than this on paper has no marks
_ALONG_M, _ASIDE_M = (0.0028, 0.0055, 0.009, 0.013), 0.0038
_FIRST, _LAST = 0, 1  # ends from which a pull is drawn; 2 is both


@dataclass(frozen=True, slots=True)
class PullEnds:
    """Marks of tensioner and anchor ends as drawn, and how many ends of each have none."""

    marks: tuple[Symbol, ...]
    hidden: int


def _ends(design: Design, xy: np.ndarray) -> Iterator[tuple[str, XY, XY, int, float]]:
    """Give each end's mark, its post and the next on paper, the outer side (+1 left), the run's length on paper.

    The side is that seen from the end into its run. [m].
    """
    tension, runs = design.tension, design.layout.runs
    sides = [outer_side(design.layout, index) for index in range(len(design.layout.lines))]
    _, firsts = np.unique(design.pulls.run_index, return_index=True)
    for pull in firsts.tolist():
        posts = tension.post_index[tension.posts_of(pull)]
        side, way = sides[runs.line_index[design.pulls.run_index[pull]]], int(tension.drawn_from[pull])
        length = float(np.hypot(*np.diff(xy[posts], axis=0).T).sum())
        for at, near, draws in ((0, 1, way != _LAST), (-1, -2, way != _FIRST)):
            point, towards = xy[posts[at]], xy[posts[near]]
            name = "tensioner" if draws else "anchor"
            yield (
                name,
                (float(point[0]), float(point[1])),
                (float(towards[0]), float(towards[1])),
                side if at == 0 else -side,
                length,
            )


def place_pull_ends(design: Design, view: View, board: Board) -> PullEnds:
    """Place the marks beside the fence near their posts, on the inner side first, where nothing else stands.

    Parameters
    ----------
    design : Design
        Whose pulls are drawn.
    view : View
        Of the plan.
    board : Board
        What is taken; the marks are added.

    Returns
    -------
    PullEnds
        All strands of a run are drawn from the same end, so a run has one mark at each. O(posts).
    """
    posts = design.layout.posts
    xy = view.points(np.column_stack([posts.x_m, posts.y_m]))
    marks: list[Symbol] = []
    hidden = 0
    for name, point, towards, outer, length in _ends(design, xy):
        places = _places(point, towards, outer) if length >= _SHORTEST_M else iter(())
        for x, y in places:
            box = Box(x, y, 0.5 * _SIZE_M, 0.75 * _SIZE_M)
            if board.is_free(box):
                board.take([box])
                marks.append(Symbol(name, x, y, _SIZE_M))
                break
        else:
            hidden += 1
    return PullEnds(tuple(marks), hidden)


def _places(point: XY, towards: XY, outer: int) -> Iterator[XY]:
    turn = math.atan2(towards[1] - point[1], towards[0] - point[0])
    ahead = (math.cos(turn), math.sin(turn))
    for side in (-1, 1):
        for along in _ALONG_M:
            aside = side * outer * _ASIDE_M
            yield (
                point[0] + along * ahead[0] - aside * ahead[1],
                point[1] + along * ahead[1] + aside * ahead[0],
            )


def pull_end_legend(ends: PullEnds) -> list[LegendEntry]:
    """What the marks mean, and how many ends have none for want of room."""
    entries = []
    for name, said in (("tensioner", "tensioner end of a run"), ("anchor", "anchor end of a run")):
        count = sum(mark.name == name for mark in ends.marks)
        if count:
            entries.append(LegendEntry((Symbol(name, 0.0, 0.0, _SIZE_M),), f"{said}: {count}"))
    if ends.hidden:
        entries.append(LegendEntry((), f"ends of runs too small to mark: {ends.hidden} (tension.csv)"))
    return entries
