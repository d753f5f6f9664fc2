"""Posts by how much of their strength is used: four classes, each with its own shape, size and colour."""

import math
from dataclasses import dataclass

import numpy as np

from fencewright.pipeline.record import Design, post_id
from fencewright.quantity.show import counted
from fencewright.sheets.frame import LegendEntry
from fencewright.sheets.labels import Box, Wanted, places_around
from fencewright.sheets.picture import Symbol, Text
from fencewright.sheets.plan_fence import span_spacing_m
from fencewright.sheets.plan_labels import ID_M, every_nth, outer_side
from fencewright.sheets.plan_view import View

LIMITS = (0.5, 0.9, 1.0)  # a class ends at each of these; the last holds what is above
_NAMES = ("use-low", "use-mid", "use-high", "use-over")
_SIZES_M = (0.0022, 0.0026, 0.0030, 0.0032)
_WORDS = ("up to 50 %", "over 50 to 90 %", "over 90 to 100 %", "over 100 %, see the findings")
_CROWDED_M = 0.0033  # line posts nearer than this on paper have smaller marks,
_THINNED_M = 0.0016  # and nearer than this only the worst of a neighbourhood is drawn
_CELL_M, _LEAST_SIZE = 0.0018, 0.5  # size of a neighbourhood; least part of a mark's size
_MOST_OVER, _MOST_NAMED = 40, 400  # line posts over their capacity, and fixed posts, that are named


@dataclass(frozen=True, slots=True, eq=False)
class UseMarks:
    """Marks on the plan: `marks`, lowest use first; `drawn` rows of posts; `use` class of each post (posts,)."""

    marks: tuple[Symbol, ...]
    drawn: np.ndarray
    use: np.ndarray


def use_classes(utilisation: np.ndarray) -> np.ndarray:
    """Class of each utilisation: 0 up to 50 %, 1 up to 90 %, 2 up to 100 %, 3 above or without any capacity."""
    rounded = np.round(np.nan_to_num(utilisation, nan=np.inf, posinf=np.inf), 6)
    return np.asarray(np.searchsorted(LIMITS, rounded, side="left"))


def show_use(utilisation: float) -> str:
    """Write a utilisation: `85 %`; `100.3 %` just above 100; `>999 %` where there is next to no capacity."""
    if 1.0 < utilisation < 1.005:
        return f"{utilisation * 100:.1f} %"
    return f"{utilisation * 100:.0f} %" if utilisation < 9.995 else ">999 %"


def use_marks(design: Design, view: View) -> UseMarks:
    """Mark every post, or where they crowd the worst of each neighbourhood, and the fixed ones unless they crowd too.

    Notes
    -----
    O(posts log posts).
    """
    posts, use = design.layout.posts, use_classes(design.strength.utilisation)
    xy = view.points(np.column_stack([posts.x_m, posts.y_m]))
    order = np.lexsort((posts.is_fixed, np.nan_to_num(design.strength.utilisation, posinf=1e9)))
    spacing = span_spacing_m(design.layout, view.scale)
    if spacing < _THINNED_M:
        cell = np.floor(xy / _CELL_M).astype(np.int64)
        backward = order[::-1]
        _, first = np.unique(cell[backward], axis=0, return_index=True)
        kept = np.zeros(len(posts), np.bool_)
        kept[backward[first]] = True
        if np.count_nonzero(posts.is_fixed) <= _MOST_NAMED:
            kept |= posts.is_fixed
        order = order[kept[order]]
    part = min(1.0, max(spacing / _CROWDED_M, _LEAST_SIZE))
    whole = posts.is_fixed | (use == len(LIMITS))
    marks = tuple(
        _mark(int(use[k]), float(xy[k, 0]), float(xy[k, 1]), 1.0 if whole[k] else part)
        for k in order.tolist()
    )
    return UseMarks(marks, order, use)


def _mark(use: int, x_m: float, y_m: float, part: float = 1.0) -> Symbol:
    return Symbol(_NAMES[use], x_m, y_m, _SIZES_M[use] * part)


def mark_boxes(marks: UseMarks) -> list[Box]:
    """Boxes that labels keep off."""
    return [Box(mark.x_m, mark.y_m, mark.size_m / 2, mark.size_m / 2) for mark in marks.marks]


def use_labels(design: Design, view: View) -> list[Wanted]:
    """Labels of posts with their percentage: those over it, then fixed posts, the worst first, then line posts.

    Of a huge fence the fixed posts with least in hand are named: `named_words` says so.
    """
    layout, used = design.layout, design.strength.utilisation
    posts = layout.posts
    xy = view.points(np.column_stack([posts.x_m, posts.y_m]))
    sides = [outer_side(layout, index) for index in range(len(layout.lines))]
    every = every_nth(span_spacing_m(layout, view.scale) / 2)  # a label is twice as long as an id
    worst = np.argsort(-used, kind="stable")
    first = worst[posts.is_fixed[worst]][:_MOST_NAMED]
    over = worst[~posts.is_fixed[worst] & (use_classes(used[worst]) == len(LIMITS))][:_MOST_OVER]
    named = [*over.tolist(), *first.tolist()]
    others = (
        np.flatnonzero(~posts.is_fixed & ((np.arange(len(posts)) + 1) % every == 0)) if every else over[:0]
    )
    wanted = []
    for k in [*named, *sorted(set(others.tolist()) - set(named))]:
        point = (float(xy[k, 0]), float(xy[k, 1]))
        out = float(posts.heading_rad[k]) + sides[int(posts.line_index[k])] * math.pi / 2
        words = f"{post_id(k)} {show_use(float(used[k]))}"
        is_over = use_classes(used[[k]])[0] == len(LIMITS)
        if posts.is_fixed[k] or is_over:
            style = "label-accent" if is_over else "label-strong"
            places = places_around(point, Text(0, 0, words, style, 0.0023), 0.0024, towards_rad=out, rings=6)
            wanted.append(Wanted(places, point, 0.0038))
        else:
            text = Text(0, 0, words, "label-quiet", ID_M)
            wanted.append(Wanted(places_around(point, text, 0.0020, towards_rad=out, rings=1), point))
    return wanted


def named_words(design: Design) -> str:
    """Say which fixed posts have a label, where not all; else nothing."""
    fixed = int(np.count_nonzero(design.layout.posts.is_fixed))
    return (
        f"Named: the {_MOST_NAMED} of {fixed:,} fixed posts with least in hand."
        if fixed > _MOST_NAMED
        else ""
    )


def use_legend(marks: UseMarks) -> list[LegendEntry]:
    """Every class with its count of posts."""
    counts = np.bincount(marks.use, minlength=len(_NAMES)).tolist()
    return [
        LegendEntry((_mark(use, 0.0, 0.0),), f"{_WORDS[use]}: {counted(count, 'post')}")
        for use, count in enumerate(counts)
    ]
