"""The long section's fence: ground, holes and posts, braces, rails, top line and its band."""

import math
from collections.abc import Iterator

import numpy as np
import shapely

from fencewright.pipeline.record import Design
from fencewright.sheets.labels import Wanted
from fencewright.sheets.letters import shorten
from fencewright.sheets.picture import XY, Item, Polygon, Polyline, Text, box_of, line_of
from fencewright.sheets.section_trace import Strip
from fencewright.sheets.section_view import StripView
from fencewright.tables.fence import Holes, Setting, SpanKind

_POST_LEAST_M = 0.0007  # narrowest that a post and a hole are drawn on paper
_HOLE_LEAST_M = 0.0015
_SIMPLE_M = 0.00004


def _simple(points: list[XY]) -> tuple[XY, ...]:
    """Give the same line on paper without points that nobody can see."""
    if len(points) < 3:
        return tuple(points)
    return tuple((x, y) for x, y in shapely.LineString(points).simplify(_SIMPLE_M).coords)


def ground_items(view: StripView) -> list[Item]:
    """Draw the ground surface of a strip, with the soil below it tinted."""
    trace, strip = view.strip.trace, view.strip
    inside = (trace.ground_at_m >= strip.start_m - 1e-9) & (trace.ground_at_m <= strip.end_m + 1e-9)
    inside &= np.isfinite(trace.ground_m)
    line = _simple(
        [view.point(a, z) for a, z in zip(trace.ground_at_m[inside], trace.ground_m[inside], strict=True)]
    )
    if len(line) < 2:
        return []
    soil = Polygon(((*line, (line[-1][0], view.low_m), (line[0][0], view.low_m)),), "ground-fill")
    return [soil, Polyline(line, "ground")]


def _fence_parts(design: Design, strip: Strip) -> Iterator[np.ndarray]:
    """Rows of the trace's posts, for each part of a strip that carries rails."""
    spans = strip.trace.span_index[strip.first : strip.last]
    is_fence = design.layout.spans.kind[spans] == SpanKind.FENCE
    edges = np.flatnonzero(np.diff(np.concatenate([[False], is_fence, [False]]).astype(int)))
    for start, end in zip(edges[::2], edges[1::2], strict=True):
        yield np.arange(strip.first + start, strip.first + end + 1)


def rail_items(design: Design, view: StripView) -> list[Item]:
    """Draw the band allowed to the top, each rail, and the top line."""
    choice, height = design.job.settings.top_line, design.job.settings.top_height_m
    bands: list[Item] = []
    rails: list[Item] = []
    tops: list[Item] = []
    for rows in _fence_parts(design, view.strip):
        rows = rows[np.isfinite(design.layout.posts.ground_m[view.strip.trace.post_index[rows]])]
        if len(rows) < 2:
            continue
        posts, at = view.strip.trace.post_index[rows], view.strip.trace.at_m[rows]
        ground = design.layout.posts.ground_m[posts]

        def line(above_m: np.ndarray, at: np.ndarray = at, ground: np.ndarray = ground) -> tuple[XY, ...]:
            return _simple([view.point(a, z) for a, z in zip(at, ground + above_m, strict=True)])

        nominal = np.full(len(rows), height)
        bands.append(
            Polygon(((*line(nominal + choice.high_m), *line(nominal - choice.low_m)[::-1]),), "band")
        )
        for drop_m in design.strands.drop_m.tolist():
            rails.append(Polyline(line(design.top_line.height_m[posts] - drop_m), "rail"))
        tops.append(Polyline(line(design.top_line.height_m[posts]), "top"))
    return [*bands, *rails, *tops]


def _hole_items(
    design: Design,
    view: StripView,
    holes: Holes,
    row: int,
    at_m: float,
    ground_m: float,
    concrete_top_m: float,
) -> list[Item]:
    """Draw a hole with its bell, and the concrete in it; widths are drawn no narrower than can be seen."""
    x, low = view.x(at_m), view.y(ground_m - holes.depth_m[row])
    if holes.set[row] == Setting.DRIVEN or not math.isfinite(low):
        return []
    half = max(float(holes.diameter_m[row]) / view.scale, _HOLE_LEAST_M) / 2
    wide = half * max(1.0, float(holes.bell_m[row]) / max(float(holes.diameter_m[row]), 1e-9))
    bell = min(low + design.job.settings.holes.bell_height_m / view.vertical_scale, view.y(ground_m))

    def outline(top: float) -> tuple[XY, ...]:
        top = max(top, bell)
        return (
            (x - wide, low),
            (x + wide, low),
            (x + half, bell),
            (x + half, top),
            (x - half, top),
            (x - half, bell),
        )

    items: list[Item] = [Polygon((outline(view.y(ground_m)),), "hole")]
    if holes.set[row] == Setting.CONCRETE:
        items.append(Polygon((outline(view.y(ground_m - concrete_top_m)),), "concrete"))
    return items


def post_items(design: Design, view: StripView, rows: np.ndarray) -> list[Item]:
    """Draw posts to their depth in their holes, at these rows of the trace."""
    recess = design.job.settings.holes.recess_m
    holes: list[Item] = []
    posts: list[Item] = []
    for row in rows:
        k, at = int(view.strip.trace.post_index[row]), float(view.strip.trace.at_m[row])
        ground = float(design.layout.posts.ground_m[k])
        if not math.isfinite(ground + design.top_line.height_m[k]):
            continue
        holes += _hole_items(design, view, design.holes, k, at, ground, recess)
        half = max(float(design.layout.posts.diameter_m[k]) / view.scale, _POST_LEAST_M) / 2
        low, top = view.y(ground - design.holes.depth_m[k]), view.y(ground + design.top_line.height_m[k])
        posts.append(box_of(view.x(at) - half, low, view.x(at) + half, top, "post"))
    return [*holes, *posts]


def brace_items(design: Design, view: StripView) -> list[Item]:
    """Draw braces of this line in the strip, each from the post to its footing, with its hole."""
    layout, strip = design.layout, view.strip
    braces, trace = layout.braces, strip.trace
    length = layout.lines[trace.line_index].length_m
    first, last = float(trace.at_m[0]), float(trace.at_m[-1])
    top = design.job.settings.holes.brace_top_m
    holes: list[Item] = []
    items: list[Item] = []
    for k in np.flatnonzero(braces.line_index == trace.line_index):
        at = float(braces.station_m[k])
        if layout.lines[trace.line_index].is_closed:
            at += length * math.ceil((first - at - 1e-6) / length)
        rows = np.flatnonzero(trace.post_index == braces.post_index[k])
        if not len(rows) or not math.isfinite(braces.ground_m[k]):
            continue
        if not max(strip.start_m, first) - 1e-6 <= at <= min(strip.end_m, last) + 1e-6:
            continue
        row = rows[np.argmin(np.abs(trace.at_m[rows] - at))]
        post_ground = float(layout.posts.ground_m[braces.post_index[k]])
        ground, foot_up = float(braces.ground_m[k]), 0.0
        if braces.is_horizontal[k]:
            foot_up = float(braces.contact_m[k])
        else:
            holes += _hole_items(design, view, design.brace_holes, int(k), at, ground, top)
        contact = view.point(trace.at_m[row], post_ground + braces.contact_m[k])
        items.append(line_of((contact, view.point(at, ground + foot_up)), "brace-side"))
    return [*holes, *items]


def opening_items(design: Design, view: StripView) -> tuple[list[Item], list[Wanted]]:
    """Draw gates as a framed leaf, crossings as dashes over water; and their names, to be placed above."""
    openings, strip = design.layout.openings, view.strip
    items: list[Item] = []
    names: list[Wanted] = []
    for row in range(strip.first, strip.last):
        found = np.flatnonzero(openings.span_index == strip.trace.span_index[row])
        if not len(found):
            continue
        k = int(found[0])
        a, b = strip.trace.post_index[[row, row + 1]]
        ground = design.layout.posts.ground_m[[a, b]]
        top = float(np.min(ground + design.top_line.height_m[[a, b]]))
        low = float(np.max(ground)) + 0.25 * (top - float(np.max(ground)))
        left, right = view.x(strip.trace.at_m[row]) + 0.0006, view.x(strip.trace.at_m[row + 1]) - 0.0006
        high = view.y(top)
        if not math.isfinite(high):
            continue
        corners = ((left, view.y(low)), (right, view.y(low)), (right, high), (left, high))
        if openings.is_crossing[k]:
            items += [
                line_of((corners[0], corners[1]), "crossing"),
                line_of((corners[3], corners[2]), "crossing"),
            ]
        else:
            items += [line_of(corners, "gate", is_closed=True), line_of((corners[0], corners[2]), "gate-arc")]
        words = shorten(openings.name[k] or ("crossing" if openings.is_crossing[k] else "gate"), 24.0)
        middle = (left + right) / 2
        places = (Text(middle, high + up, words, "label", 0.002, "middle") for up in (0.0022, 0.0048, 0.0078))
        names.append(Wanted(tuple(places), (middle, high)))
    return items, names
