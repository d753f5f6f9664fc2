"""The plan's fence: spans, rail side, posts by role, braces, gates, crossings."""

import math
from dataclasses import dataclass, replace

import numpy as np

from fencewright.pipeline.record import Design
from fencewright.sheets.labels import Box, line_boxes
from fencewright.sheets.leaves import open_leaves
from fencewright.sheets.picture import XY, Item, Polyline, Symbol, arc_points, line_of
from fencewright.sheets.plan_view import View
from fencewright.sheets.symbols import LINE_POST_SIZE_M, POST_SIZE_M, post_symbol
from fencewright.tables.fence import Layout, Role, SpanKind

_MARK_LEAST_M = 0.0016  # line posts nearer than this on paper are small dots
_DOT_LEAST_M = 0.0007  # and nearer than this they are not drawn one by one
_DOT_M = 0.0005
_TICK_EVERY_M = 0.012
_TICK_M = 0.0015


@dataclass(frozen=True, slots=True)
class FenceMarks:
    """The fence on paper, and what labels keep off. `spacing_m` of line posts on paper [m]."""

    lines: tuple[Item, ...]
    ticks: tuple[Item, ...]
    gates: tuple[Item, ...]
    braces: tuple[Item, ...]
    posts: tuple[Item, ...]
    taken: tuple[Box, ...]
    spacing_m: float


def span_spacing_m(layout: Layout, scale: float) -> float:
    """Median span on paper; infinite without spans. [m]."""
    return float(np.median(layout.spans.length_m)) / scale if len(layout.spans) else math.inf


def _span_lines(layout: Layout, xy: np.ndarray, style: str) -> list[Polyline]:
    """Fence between openings as few long lines from fixed post to fixed post; crossings dashed; gates open."""
    spans, fixed = layout.spans, layout.posts.is_fixed
    is_fence = (spans.kind == SpanKind.FENCE).tolist()
    lines: list[Polyline] = []
    points: list[XY] = []
    last = (-1, -1)
    rows = zip(spans.from_post.tolist(), spans.to_post.tolist(), spans.line_index.tolist(), strict=True)
    for k, (a, b, line) in enumerate(rows):
        if points and (not is_fence[k] or last != (a, line)):
            lines.append(line_of([*points, xy[last[0]]], style))
            points = []
        if is_fence[k]:
            points += [xy[a]] if not points or fixed[a] else []
        elif spans.kind[k] == SpanKind.CROSSING:
            lines.append(line_of((xy[a], xy[b]), "crossing"))
        last = (b, line)
    return [*lines, *([line_of([*points, xy[last[0]]], style)] if points else [])]


def _ticks(layout: Layout, xy: np.ndarray) -> list[Item]:
    """Draw a short tick at mid-span towards the rail, a centimetre or more apart."""
    spans, posts = layout.spans, layout.posts
    items: list[Item] = []
    since = math.inf
    for k in np.flatnonzero(spans.kind == SpanKind.FENCE):
        a, b = xy[spans.from_post[k]], xy[spans.to_post[k]]
        length = math.dist(a, b)
        since += length
        face = posts.rail_face[[spans.to_post[k], spans.from_post[k]]]
        side = int(face[0] or face[1] or layout.lines[spans.line_index[k]].rail_side)
        if since < _TICK_EVERY_M or not side or length == 0:
            continue
        since = 0.0
        middle, left = (a + b) / 2, np.array([a[1] - b[1], b[0] - a[0]]) / length
        items.append(line_of((middle, middle + side * _TICK_M * left), "tick"))
    return items


def _gate(layout: Layout, row: int, view: View) -> list[Item]:
    """Leaf as it stands open, and the arc over which it swings."""
    items: list[Item] = []
    for leaf in open_leaves(layout, row):
        pivot = (float(leaf.pivot_m[0]), float(leaf.pivot_m[1]))
        arc = arc_points(pivot, leaf.length_m, leaf.closed_rad, leaf.opened_rad)
        items.append(line_of(view.points(np.array([leaf.pivot_m, leaf.tip_m])), "gate"))
        items.append(line_of(view.points(np.array(arc)), "gate-arc"))
    return items


def _braces(design: Design, view: View, xy: np.ndarray) -> list[Item]:
    braces = design.layout.braces
    feet = view.points(np.column_stack([braces.x_m, braces.y_m]))
    items: list[Item] = []
    for foot, post, second in zip(feet, braces.post_index, braces.second_post, strict=True):
        items.append(line_of((xy[post], foot), "brace"))
        if second < 0:
            items.append(Symbol("brace-foot", float(foot[0]), float(foot[1]), 0.0022))
    return items


def post_mark(role: Role, spacing_m: float) -> Symbol | None:
    """Mark of a role at the sheet's origin; line posts as dots, then not at all, as they crowd [m]."""
    if role not in (Role.LINE, Role.BRACE):
        return Symbol(post_symbol(role), 0.0, 0.0, POST_SIZE_M)
    if spacing_m >= _MARK_LEAST_M:
        return Symbol(post_symbol(role), 0.0, 0.0, LINE_POST_SIZE_M)
    return Symbol("post-dot", 0.0, 0.0, _DOT_M) if spacing_m >= _DOT_LEAST_M else None


def _posts(layout: Layout, xy: np.ndarray, spacing_m: float) -> list[Symbol]:
    marks = {int(role): post_mark(role, spacing_m) for role in Role}
    order = np.argsort(layout.posts.is_fixed, kind="stable")  # fixed posts on top
    found = ((marks[int(layout.posts.role[k])], xy[k]) for k in order)
    return [replace(mark, x_m=float(x), y_m=float(y)) for mark, (x, y) in found if mark is not None]


def draw_fence(design: Design, view: View) -> FenceMarks:
    """Draw the fence in a view.

    Parameters
    ----------
    design : Design
        Whose layout is drawn.
    view : View
        Of the plan.

    Returns
    -------
    FenceMarks
        Post marks are of one size at any scale; their middles are true to scale.
    """
    layout = design.layout
    xy = view.points(np.column_stack([layout.posts.x_m, layout.posts.y_m]))
    spacing = span_spacing_m(layout, view.scale)
    is_open = spacing >= _MARK_LEAST_M
    lines = _span_lines(layout, xy, "fence" if is_open else "fence-fine")
    gates: list[Item] = []
    for row in range(len(layout.openings.name)):
        gates += _gate(layout, row, view)
    posts = _posts(layout, xy, spacing)
    taken = [Box(mark.x_m, mark.y_m, mark.size_m / 2, mark.size_m / 2) for mark in posts]
    for item in (*lines, *gates):
        if isinstance(item, Polyline):
            taken += line_boxes(item.points, 0.0003)
    braces = _braces(design, view, xy) if is_open else []
    return FenceMarks(
        tuple(lines),
        tuple(_ticks(layout, xy)),
        tuple(gates),
        tuple(braces),
        tuple(posts),
        tuple(taken),
        spacing,
    )
