"""What needs a look in the long section: uplift, posts set long, clashes; and the axes beside it."""

import math

import numpy as np

from fencewright.pipeline.record import Design
from fencewright.quantity.show import UnitSystem
from fencewright.sheets.labels import Board, Box, Placed, Wanted, place_labels, places_around
from fencewright.sheets.picture import Item, Symbol, Text, line_of
from fencewright.sheets.scales import nice_step
from fencewright.sheets.section_rows import is_lifted
from fencewright.sheets.section_view import StripView

_ARROW_M = 0.0034
_MARK_M = 0.0024
_AXIS_TEXT_M = 0.0019
_CLASH_WORDS = {
    "gap low": "gap {} too small",
    "gap high": "gap {} too large",
    "level": "tops {} apart",
}


def mark_items(design: Design, view: StripView, rows: np.ndarray) -> list[Item]:
    """Uplift arrows, control posts and posts set long, above the tops of these rows of the trace.

    Where most posts are set long only the control posts are marked: the columns say `long` all the same.
    """
    is_cut, items = design.cuts.is_cut, list[Item]()
    marks_long = np.count_nonzero(is_cut) >= len(is_cut) / 2
    for row in rows:
        k = int(view.strip.trace.post_index[row])
        x = view.x(view.strip.trace.at_m[row])
        top = view.y(design.layout.posts.ground_m[k] + design.top_line.height_m[k]) + 0.0006
        if not math.isfinite(top):
            continue
        if design.is_control[k]:
            items.append(Symbol("control", x, top + _MARK_M / 2, _MARK_M))
            top += _MARK_M
        elif not is_cut[k] and marks_long:
            items.append(Symbol("long", x, top + _MARK_M / 2, _MARK_M))
            top += _MARK_M
        if is_lifted(design, k):
            items.append(Symbol("uplift", x, top + _ARROW_M / 2, _ARROW_M))
    return items


def _clash_place(design: Design, view: StripView, clash: int) -> tuple[float, float] | None:
    """Station and elevation of a clash, None where it is not in the strip."""
    clashes, trace, strip = design.top_line.clashes, view.strip.trace, view.strip
    posts, heights = design.layout.posts, design.top_line.height_m
    index = int(clashes.index[clash])
    if clashes.kind[clash] == "post band":
        rows = np.flatnonzero(trace.post_index[strip.first : strip.last + 1] == index)
        if not len(rows):
            return None
        return float(trace.at_m[strip.first + rows[0]]), float(posts.ground_m[index] + heights[index])
    rows = np.flatnonzero(trace.span_index[strip.first : strip.last] == index)
    if not len(rows):
        return None
    row = strip.first + int(rows[0])
    fraction = float(clashes.fraction[clash])
    fraction = fraction if math.isfinite(fraction) else 0.5
    at = float(trace.at_m[row] + fraction * (trace.at_m[row + 1] - trace.at_m[row]))
    return at, float(np.interp(at, trace.ground_at_m, trace.ground_m))


def clash_words(kind: str, by_m: float, units: UnitSystem) -> str:
    """Say a clash in few words: `top 2 in too low`."""
    if kind == "post band":
        return f"top {units.small(abs(by_m))} too {'high' if by_m > 0 else 'low'}"
    return _CLASH_WORDS.get(kind, "off by {}").format(units.small(abs(by_m)))


def clash_items(design: Design, view: StripView, units: UnitSystem) -> tuple[list[Item], list[Wanted]]:
    """Mark a ringed cross at each clash; and its amount, to be placed near it."""
    marks: list[Item] = []
    wanted: list[Wanted] = []
    for clash, kind in enumerate(design.top_line.clashes.kind):
        place = _clash_place(design, view, clash)
        if place is None or not math.isfinite(place[1]):
            continue
        x, y = view.point(*place)
        marks.append(Symbol("clash", x, y, _MARK_M))
        words = clash_words(kind, float(design.top_line.clashes.by_m[clash]), units)
        text = Text(0.0, 0.0, words, "label-accent", 0.002)
        places = places_around((x, y), text, 0.0022, towards_rad=math.pi / 2, rings=6)
        wanted.append(Wanted(places, (x, y), 0.004))
    return marks, wanted


def place_words(view: StripView, marks: list[Item], wanted: list[Wanted]) -> Placed:
    """Place names and amounts of a strip clear of its marks."""
    board = Board((view.left_m - 0.004, view.low_m, view.right_m + 0.012, view.top_m + 0.0006))
    board.take(Box(m.x_m, m.y_m, m.size_m * 0.4, m.size_m * 0.4) for m in marks if isinstance(m, Symbol))
    return place_labels(wanted, board)


def axis_items(view: StripView, units: UnitSystem, heading_m: float, name: str) -> list[Item]:
    """Elevation grid at the left, the strip's base line, and its heading at `heading_m` [m]."""
    items: list[Item] = []
    step = nice_step(0.006 * view.vertical_scale, units)
    unit = units.long_factor
    digits = max(0, -math.floor(math.log10(step / unit) + 1e-9))
    first = math.ceil(view.datum_m / step - 1e-9)
    last = math.floor((view.datum_m + (view.top_m - view.low_m) * view.vertical_scale) / step + 1e-9)
    for k in range(first, last + 1):
        y = view.y(k * step)
        items.append(line_of(((view.left_m, y), (view.right_m, y)), "grid"))
        items.append(line_of(((view.left_m - 0.0015, y), (view.left_m, y)), "axis"))
        label = f"{k * step / unit:.{digits}f}"
        items.append(Text(view.left_m - 0.0022, y, label, "text-quiet", _AXIS_TEXT_M, "end"))
    items.append(
        line_of(((view.left_m, view.top_m), (view.left_m, view.low_m), (view.right_m, view.low_m)), "axis")
    )
    items.append(Text(heading_m, view.top_m + 0.0025, name, "text-strong", 0.0026))
    return items
