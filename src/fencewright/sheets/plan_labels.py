"""The plan's words: post ids, leg dimensions, gates and crossings, line names."""

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from itertools import product

import numpy as np

from fencewright.pipeline.record import Design, post_id
from fencewright.quantity.show import UnitSystem, show_feet_inches
from fencewright.sheets.labels import (
    Board,
    Box,
    Wanted,
    box_distance,
    line_boxes,
    place_labels,
    places_around,
    text_box,
)
from fencewright.sheets.letters import shorten, text_width_em
from fencewright.sheets.picture import XY, Item, Text, line_of, readable
from fencewright.sheets.plan_fence import span_spacing_m
from fencewright.sheets.plan_view import View
from fencewright.tables.fence import Layout, Role, SpanKind

ID_M = 0.0020
DIMENSION_M = 0.0022
_CONFUSED_M = 0.008  # fixed posts nearer to each other than this have their ids on their own sides
_ID_ROOM_M = 0.0062  # on paper along the fence, for one post id
_EVERY = (1, 2, 5, 10, 20, 50, 100)
_FAR_M = (0.0075, -0.0075, 0.011, -0.011)
_PASSED = [
    int(role) for role in (Role.STRAIN, Role.LINE, Role.BRACE, Role.TEE)
]  # a dimension runs on past these


@dataclass(frozen=True, slots=True)
class Words:
    """Dimensions and labels as drawn, boxes of all texts, what was dropped, and each how many line posts."""

    dimensions: tuple[Item, ...]
    labels: tuple[Item, ...]
    boxes: tuple[Box, ...]
    dropped: tuple[str, ...]
    every: int


@dataclass(frozen=True, slots=True)
class Leg:
    """A straight part between two posts that a dimension names: ends on paper [m], true length [m]."""

    start: XY
    end: XY
    length_m: float
    out: int  # +1: the outer side is on its left

    @property
    def readable_rad(self) -> float:
        """Direction in which text runs along it. [rad]."""
        return readable(math.atan2(self.end[1] - self.start[1], self.end[0] - self.start[0]))


def gate_words(opening_m: float, leaf_m: float, units: UnitSystem) -> str:
    """Say opening and leaf as a builder says them."""
    write = show_feet_inches if units.name == "us" else units.small
    leaf = f", leaf {write(leaf_m)}" if math.isfinite(leaf_m) else ""
    return f"{write(opening_m)} opening{leaf}"


def outer_side(layout: Layout, line_index: int) -> int:
    """Side of a line on which its dimensions stand: outside a closed one, else away from the stock."""
    line = layout.lines[line_index]
    if line.is_closed:
        x, y = line.xy_m.T
        area = float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))
        return -1 if area > 0 else 1
    return -line.stock_side or 1


def plan_legs(layout: Layout, xy: np.ndarray) -> Iterator[Leg]:
    """Parts between posts at which the fence turns, ends or opens, in drawing order."""
    spans, roles = layout.spans, layout.posts.role
    sides = [outer_side(layout, index) for index in range(len(layout.lines))]
    passes = np.isin(roles[spans.to_post], _PASSED)
    passes[:-1] &= spans.line_index[1:] == spans.line_index[:-1]
    passes[-1:] = False
    is_fence = spans.kind == SpanKind.FENCE
    columns = (spans.from_post, spans.to_post, spans.line_index, spans.length_m, passes, is_fence)
    start, line, length = -1, -1, 0.0
    for begin, to, index, span_m, runs_on, is_leg in zip(*(one.tolist() for one in columns), strict=True):
        if line != index:
            start, line, length = begin, index, 0.0
        length += span_m
        if runs_on:
            continue
        if is_leg:
            yield Leg(tuple(xy[start]), tuple(xy[to]), length, sides[line])
        start, length = to, 0.0


@dataclass(frozen=True, slots=True)
class _Dimension:
    """A dimension line in two parts, with its text between them."""

    parts: tuple[tuple[XY, XY], tuple[XY, XY]]
    text: Text

    def boxes(self, end_m: float) -> list[Box]:
        """List what it covers; `end_m` at each outer end is left out. [m]."""
        (p, q), (r, s) = self.parts
        return [
            *line_boxes((_between(p, q, end_m), q), 0.0002),
            *line_boxes((r, _between(s, r, end_m)), 0.0002),
        ]


def _between(start: XY, end: XY, way_m: float) -> XY:
    t = min(way_m / max(math.dist(start, end), 1e-9), 0.9)
    return start[0] + t * (end[0] - start[0]), start[1] + t * (end[1] - start[1])


def _dimension_places(leg: Leg, units: UnitSystem) -> Iterator[_Dimension]:
    """Where a leg's dimension may stand: outside, inside, further out; its text at or near the middle."""
    a, b = np.array(leg.start), np.array(leg.end)
    paper = math.dist(leg.start, leg.end)
    words = units.long(leg.length_m)
    half = text_width_em(words) * DIMENSION_M / 2 + 0.0008
    if paper < 2 * half + 0.004:
        return
    along = (b - a) / paper
    turn = leg.readable_rad
    for far in _FAR_M:
        shift = np.array([-along[1], along[0]]) * leg.out * far
        for t in (0.5, 0.4, 0.6, 0.3, 0.7):
            if min(t, 1 - t) * paper < half + 0.002:
                continue
            m = a + t * (b - a) + shift
            text = Text(float(m[0]), float(m[1]), words, "label", DIMENSION_M, "middle", turn)
            parts = ((_xy(a + shift), _xy(m - along * half)), (_xy(m + along * half), _xy(b + shift)))
            yield _Dimension(parts, text)


def _xy(point: np.ndarray) -> XY:
    return float(point[0]), float(point[1])


def _dimension(leg: Leg, board: Board, units: UnitSystem) -> tuple[list[Item], Box] | None:
    """Draw a dimension line beside a leg, where there is room; what is drawn, and the text's box."""
    for found in _dimension_places(leg, units):
        if not board.is_free(text_box(found.text)):
            continue
        if all(board.is_free(box, may_cross=True) for box in found.boxes(0.002)):
            break
    else:
        return None
    tips = (found.parts[0][0], found.parts[1][1])
    shift = np.array(tips[0]) - np.array(leg.start)
    along = (np.array(leg.end) - np.array(leg.start)) / math.dist(leg.start, leg.end)
    slash = (along + np.array([-along[1], along[0]])) * 0.0008
    ends = [line_of((tip - slash, tip + slash), "dimension") for tip in map(np.array, tips)]
    hints = [
        line_of((c + shift * 0.4, c + shift * 1.12), "dimension") for c in map(np.array, (leg.start, leg.end))
    ]
    box = text_box(found.text)
    board.take([*found.boxes(0.0), box])
    board.take(piece for hint in hints for piece in line_boxes(hint.points, 0.0002, is_soft=True))
    return [*(line_of(part, "dimension") for part in found.parts), *ends, *hints, found.text], box


def _beside(leg: Leg, units: UnitSystem) -> Wanted:
    """Write the length beside a leg too short or too crowded for a dimension line."""
    middle = ((leg.start[0] + leg.end[0]) / 2, (leg.start[1] + leg.end[1]) / 2)
    towards = math.atan2(leg.end[1] - leg.start[1], leg.end[0] - leg.start[0]) + leg.out * math.pi / 2
    text = Text(0.0, 0.0, units.long(leg.length_m), "label", DIMENSION_M)
    return Wanted(places_around(middle, text, 0.0025, towards_rad=towards, rings=2), middle)


def every_nth(spacing_m: float) -> int:
    """Which line posts get an id: every one, second, fifth, ... by the room between them on paper [m]."""
    return next((n for n in _EVERY if n * spacing_m >= _ID_ROOM_M), 0)


class _OtherSide:
    """Tells which places of a post's id lie nearer to another fixed post than to their own."""

    def __init__(self, points: np.ndarray) -> None:
        self._cells: defaultdict[tuple[int, int], list[XY]] = defaultdict(list)
        for x, y in points.tolist():
            self._cells[math.floor(x / _CONFUSED_M), math.floor(y / _CONFUSED_M)].append((x, y))

    def __call__(self, place: Text, point: XY) -> bool:
        """Tell whether a place of the id of a post at a point is confusing."""
        i, j = math.floor(point[0] / _CONFUSED_M), math.floor(point[1] / _CONFUSED_M)
        box = text_box(place, 0.0)
        own = box_distance(box, point)
        for cell in product(range(i - 1, i + 2), range(j - 1, j + 2)):
            for other in self._cells.get(cell, ()):
                away = math.dist(point, other)
                if 1e-6 < away < _CONFUSED_M and box_distance(box, other) < own + min(0.0005, away / 4):
                    return True
        return False


def _post_names(design: Design, xy: np.ndarray, every: int) -> Iterator[Wanted]:
    """List fixed posts first, then line posts by their place in the run of ids."""
    posts, layout = design.layout.posts, design.layout
    sides = [outer_side(layout, index) for index in range(len(layout.lines))]
    fixed = np.flatnonzero(posts.is_fixed)
    is_confusing = _OtherSide(xy[fixed])
    others = np.flatnonzero(~posts.is_fixed & (posts.role == Role.LINE)) if every else np.zeros(0, np.int64)
    for k in [*fixed, *(k for k in others if (k + 1) % every == 0)]:
        out = float(posts.heading_rad[k]) + sides[int(posts.line_index[k])] * math.pi / 2
        point = (float(xy[k, 0]), float(xy[k, 1]))
        if posts.is_fixed[k]:
            text = Text(0.0, 0.0, post_id(int(k)), "label-strong", 0.0023)
            places = places_around(point, text, 0.0021, towards_rad=out, rings=6)
            yield Wanted(places, point, 0.0035, partial(is_confusing, point=point))
        else:
            text = Text(0.0, 0.0, post_id(int(k)), "label-quiet", ID_M)
            yield Wanted(places_around(point, text, 0.0017, towards_rad=out, rings=1), point)


def _opening_names(design: Design, xy: np.ndarray, units: UnitSystem) -> Iterator[Wanted]:
    """Name each opening with its size, in fewer words where there is less room."""
    openings = design.layout.openings
    for k, name in enumerate(openings.name):
        ends = xy[[openings.from_post[k], openings.to_post[k]]]
        middle = (float(ends[:, 0].mean()), float(ends[:, 1].mean()))
        kind = "crossing" if openings.is_crossing[k] else "gate"
        said = shorten(name or kind, 24.0)
        choices: tuple[str, ...]
        if openings.is_crossing[k]:
            size = units.long(float(design.layout.spans.length_m[openings.span_index[k]]))
            choices = (f"{said}: {size}", f"{kind} {size}")
        else:
            size = gate_words(float(openings.opening_m[k]), math.nan, units).removesuffix(" opening")
            full = gate_words(float(openings.opening_m[k]), float(openings.leaf_m[k]), units)
            choices = (f"{said}: {full}", f"{said}: {size}", f"{size} gate")
        towards = math.atan2(ends[1, 1] - ends[0, 1], ends[1, 0] - ends[0, 0])
        towards += outer_side(design.layout, int(openings.line_index[k])) * math.pi / 2
        texts = [Text(0.0, 0.0, words, "label", DIMENSION_M) for words in choices]
        places = [
            place for text in texts for place in places_around(middle, text, 0.005, towards_rad=towards)
        ]
        yield Wanted(tuple(places), middle, 0.002)


def _line_names(design: Design, view: View) -> Iterator[Wanted]:
    """Each line's name beside its longest leg, on the inner side first."""
    for index, line in enumerate(design.layout.lines):
        xy = view.points(np.vstack([line.xy_m, line.xy_m[:1]]) if line.is_closed else line.xy_m)
        steps = np.diff(xy, axis=0)
        k = int(np.argmax(np.hypot(*steps.T)))
        inner = math.atan2(steps[k, 1], steps[k, 0]) - outer_side(design.layout, index) * math.pi / 2
        text = Text(0.0, 0.0, shorten(line.name, 30.0), "label-strong", 0.0026)
        spots = [xy[k] + t * steps[k] for t in (0.5, 0.3, 0.7, 0.15, 0.85)]
        places = [
            place
            for spot in spots
            for place in places_around(
                (float(spot[0]), float(spot[1])), text, 0.008, towards_rad=inner, rings=1
            )
        ]
        yield Wanted(tuple(places), (float(spots[0][0]), float(spots[0][1])))


def write_words(
    design: Design, view: View, board: Board, units: UnitSystem, site: tuple[Wanted, ...]
) -> Words:
    """Place every word of the plan, the most needed first.

    Parameters
    ----------
    design : Design
        What is named.
    view : View
        Of the plan.
    board : Board
        What is taken by marks and lines; the words are added.
    units : UnitSystem
        Of the sheet.
    site : tuple of Wanted
        Names of obstacles.

    Returns
    -------
    Words
        Fixed posts come first, then gates, dimensions, obstacles, lines, and line posts last.
    """
    layout = design.layout
    xy = view.points(np.column_stack([layout.posts.x_m, layout.posts.y_m]))
    every = every_nth(span_spacing_m(layout, view.scale))
    names = list(_post_names(design, xy, every))
    fixed = int(np.count_nonzero(layout.posts.is_fixed))
    dimensions: list[Item] = []
    boxes: list[Box] = []
    beside: list[Wanted] = []
    first = place_labels(names[:fixed], board)
    for leg in plan_legs(layout, xy):
        drawn = _dimension(leg, board, units)
        if drawn is None:
            beside.append(_beside(leg, units))
        else:
            dimensions += drawn[0]
            boxes.append(drawn[1])
    rest = [*_opening_names(design, xy, units), *beside, *site, *_line_names(design, view), *names[fixed:]]
    second = place_labels(rest, board)
    return Words(
        tuple(dimensions),
        (*first.items, *second.items),
        (*boxes, *first.boxes, *second.boxes),
        (*first.dropped, *second.dropped),
        every,
    )
