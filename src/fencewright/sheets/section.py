"""The long section: each line drawn straight, in strips, posts to their depth and tops to their cut."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from fencewright.pipeline.record import Design
from fencewright.quantity.show import UnitSystem
from fencewright.sheets.frame import (
    MARGIN_M,
    NOT_TO_BE_BUILT,
    common_facts,
    draw_scale_bar,
    facts,
    foot,
    legend,
    sheet_units,
    stop_box,
    stop_messages,
    title,
)
from fencewright.sheets.letters import shorten
from fencewright.sheets.picture import Item, Layer, Picture, Text, box_of, line_of
from fencewright.sheets.scales import Paper, paper_for, scale_bar, show_scale
from fencewright.sheets.section_legend import section_legend
from fencewright.sheets.section_marks import axis_items, clash_items, kept_clear, mark_items
from fencewright.sheets.section_posts import brace_items, ground_items, opening_items, post_items, rail_items
from fencewright.sheets.section_rows import choose_columns, column_items, rows_height_m
from fencewright.sheets.section_trace import Strip, choose_strips
from fencewright.sheets.section_view import StripView, exaggeration, strip_range_m

STRIP_LIMIT = 36
_GUTTER_M = 0.021  # headings of the columns and elevations, left of a strip
_RIGHT_M = 0.005
_ABOVE_M = 0.011  # over the highest top: heading, marks
_BETWEEN_M = 0.004
_STOPS_M = 0.016  # height for the messages of stops in the head
_HEAD_NEXT_M = 0.007
_DRAWN_LEAST_M = 0.0014  # posts nearer than this on paper are not drawn one by one


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What all strips share."""

    design: Design
    units: UnitSystem
    paper: Paper
    scale: float
    times: float
    low_m: float  # top of the foot, above a page's lower edge
    head_m: float = 0.0  # from the first page's upper margin to its strips
    pages: int = 1

    @property
    def vertical_scale(self) -> float:
        return self.scale / self.times


def _strip_height(sheet: _Sheet, strip: Strip) -> float:
    low, high = strip_range_m(sheet.design, strip)
    return _ABOVE_M + (high - low) / sheet.vertical_scale + 0.002 + rows_height_m(sheet.units) + _BETWEEN_M


def _pages(sheet: _Sheet, strips: Sequence[Strip]) -> list[list[Strip]]:
    """Share out the strips page by page, each page filled from the top."""
    pages: list[list[Strip]] = [[]]
    room = sheet.paper.height_m - MARGIN_M - sheet.head_m - sheet.low_m
    for strip in strips:
        height = _strip_height(sheet, strip)
        if height > room and (pages[-1] or len(pages) == 1):
            pages.append([])
            room = sheet.paper.height_m - MARGIN_M - _HEAD_NEXT_M - sheet.low_m
        pages[-1].append(strip)
        room -= height
    return pages


def _strip_name(sheet: _Sheet, strip: Strip) -> str:
    line = sheet.design.layout.lines[strip.trace.line_index]
    ends = [at - line.length_m if at > line.length_m + 1e-6 else at for at in (strip.start_m, strip.end_m)]
    return f"{shorten(line.name, 40.0)}, station {sheet.units.long(ends[0])} to {sheet.units.long(ends[1])}"


def _view(sheet: _Sheet, strip: Strip, top_m: float) -> StripView:
    low, high = strip_range_m(sheet.design, strip)
    tall = (high - low) / sheet.vertical_scale
    base = top_m - _ABOVE_M - tall - 0.002
    datum = low - 0.002 * sheet.vertical_scale
    return StripView(
        strip, MARGIN_M + _GUTTER_M, base, datum, top_m - 0.005, sheet.scale, sheet.vertical_scale
    )


def _drawn_rows(sheet: _Sheet, strip: Strip) -> np.ndarray:
    """Rows of the trace whose posts are drawn: all, or the fixed ones where all would be a grey mass."""
    rows = np.arange(strip.first, strip.last + 1)
    if strip.length_m / max(len(rows) - 1, 1) / sheet.scale >= _DRAWN_LEAST_M:
        return rows
    return rows[sheet.design.layout.posts.is_fixed[strip.trace.post_index[rows]]]


def _draw_strip(sheet: _Sheet, strip: Strip, top_m: float) -> tuple[dict[str, list[Item]], int]:
    """Items of one strip by layer, and how many labels it dropped."""
    design, units = sheet.design, sheet.units
    view = _view(sheet, strip, top_m)
    edges = (MARGIN_M, sheet.paper.width_m - MARGIN_M)
    columns = choose_columns(design, view, units, edges[1] - 0.003)
    rows = _drawn_rows(sheet, strip)
    marks = mark_items(design, view, rows)
    openings = opening_items(design, view)
    clashes, words = clash_items(design, view, units, kept_clear(view, [*marks, *openings]))
    is_close = len(rows) < strip.last - strip.first + 1
    layers = {
        "ground": ground_items(view),
        "axes": axis_items(view, units, MARGIN_M, _strip_name(sheet, strip)),
        "posts": [*post_items(design, view, rows), *([] if is_close else brace_items(design, view))],
        "rails": rail_items(design, view),
        "openings": openings,
        "marks": [*marks, *clashes, *words.items],
        "numbers": column_items(view, columns, units, edges, view.low_m),
    }
    return layers, len(words.dropped)


def _head(sheet: _Sheet, top_m: float, dropped: int) -> tuple[list[Item], float]:
    """Set title, facts, scale bar and legend; the items, and where the strips of page 1 begin. [m]."""
    design, units, paper = sheet.design, sheet.units, sheet.paper
    left, wide, middle = MARGIN_M, 0.070, MARGIN_M + 0.076
    items, low = title(design, "Long section", left, top_m, wide)
    more, low = stop_box(design, left, low, wide)
    stops = stop_messages(design, left, low, wide, low - _STOPS_M)
    items += [*more, *stops]
    lows = [min([low, *(item.y_m - 0.002 for item in stops if isinstance(item, Text))])]
    note = (
        f"Heights are drawn {sheet.times:g} times as tall as lengths."
        if sheet.times != 1
        else "Heights as lengths."
    )
    rows = [
        ("Along", f"{show_scale(sheet.scale, units)} on {paper.name}"),
        ("Upright", f"1:{sheet.vertical_scale:,.4g}. {note} Posts and holes no narrower than can be seen."),
        *common_facts(design),
        ("Left out", f"{dropped} labels for want of room" if dropped else "no label"),
    ]
    more, low = facts(rows, middle, top_m, 0.078)
    items += more
    lows.append(low)
    entries = section_legend(design)
    half = (len(entries) + 1) // 2
    for column, part in enumerate((entries[:half], entries[half:])):
        more, low = legend(part, middle + 0.084 + column * 0.050, top_m, 0.049)
        items += more
        lows.append(low if column else low - 0.0075)
        if not column:
            items += draw_scale_bar(
                scale_bar(sheet.scale, units, 0.040), sheet.scale, middle + 0.084, low - 0.0065
            )
    rule = min(lows) - 0.0015
    return [*items, line_of(((MARGIN_M, rule), (paper.width_m - MARGIN_M, rule)), "rule")], rule - 0.001


def _head_next(sheet: _Sheet, top_m: float, page: int, pages: int) -> list[Item]:
    words = f"{shorten(sheet.design.job.asked.job.name, 60.0)}: long section, page {page + 1} of {pages}"
    items: list[Item] = [Text(MARGIN_M, top_m - 0.0015, words, "text-strong", 0.0024)]
    if not sheet.design.may_be_built:
        right = sheet.paper.width_m - MARGIN_M
        items.append(Text(right, top_m - 0.0015, NOT_TO_BE_BUILT, "text-accent", 0.003, "end"))
    return items


def _draw_page(
    sheet: _Sheet, strips: Sequence[Strip], page: int, low_m: float
) -> tuple[dict[str, list[Item]], int]:
    """Draw strips and foot of one page, its lower edge at `low_m`; the head of the first comes later."""
    paper = sheet.paper
    top = low_m + paper.height_m - MARGIN_M
    layers: dict[str, list[Item]] = {
        "sheet": [box_of(0.0, low_m, paper.width_m, low_m + paper.height_m, "sheet")]
    }
    note = f"Page {page + 1} of {sheet.pages}." if sheet.pages > 1 else ""
    feet, _ = foot(sheet.design, MARGIN_M, paper.width_m - MARGIN_M, low_m + MARGIN_M, note)
    layers["frame"] = [*feet, *(_head_next(sheet, top, page, sheet.pages) if page else [])]
    top -= _HEAD_NEXT_M if page else sheet.head_m
    dropped = 0
    for strip in strips:
        drawn, missing = _draw_strip(sheet, strip, top)
        for name, items in drawn.items():
            layers.setdefault(name, []).extend(items)
        dropped += missing
        top -= _strip_height(sheet, strip)
    return layers, dropped


_TITLES = {
    "sheet": "the sheet",
    "ground": "ground along the line",
    "axes": "elevations",
    "posts": "posts, holes and braces",
    "rails": "top line, its band, and rails",
    "openings": "gates and crossings",
    "marks": "uplift, posts set long, clashes",
    "numbers": "numbers of each post",
    "frame": "title, legend, cautions",
}


def _sheet(design: Design) -> tuple[_Sheet, list[list[Strip]]]:
    units = sheet_units(design)
    paper = paper_for(units)
    width = paper.width_m - 2 * MARGIN_M - _GUTTER_M - _RIGHT_M
    scale, strips = choose_strips(design.layout, width, units, STRIP_LIMIT)
    _, low = foot(design, MARGIN_M, paper.width_m - MARGIN_M, MARGIN_M, "Page")
    bare = _Sheet(design, units, paper, scale, exaggeration(design, strips, scale), low)
    sheet = replace(bare, head_m=-_head(bare, 0.0, 0)[1])
    pages = _pages(sheet, strips)
    return replace(sheet, pages=len(pages)), pages


def draw_section(design: Design) -> Picture:
    """Draw the long section of every line, Letter or A4 landscape, on as many pages as it takes.

    Parameters
    ----------
    design : Design
        What is drawn, and nothing else.

    Returns
    -------
    Picture
        Pages stacked downward; one scale along and one upward for all strips, both stated with the
        exaggeration. A long fence is drawn to a coarser scale, so that it never has more than
        `STRIP_LIMIT` strips (or one a line): then fewer posts have their numbers.

    Notes
    -----
    O(posts + profile samples).
    """
    sheet, pages = _sheet(design)
    height = sheet.pages * sheet.paper.height_m
    layers: dict[str, list[Item]] = {name: [] for name in _TITLES}
    dropped = 0
    for page, strips in enumerate(pages):
        drawn, missing = _draw_page(sheet, strips, page, height - (page + 1) * sheet.paper.height_m)
        for name, items in drawn.items():
            layers[name] += items
        dropped += missing
    layers["frame"] += _head(sheet, height - MARGIN_M, dropped)[0]
    lead = "" if design.may_be_built else f"{NOT_TO_BE_BUILT}. "
    count = sum(len(strips) for strips in pages)
    return Picture(
        f"Long section of {design.job.asked.job.name}",
        f"{lead}Long section in {count} strips on {sheet.pages} pages,"
        f" {show_scale(sheet.scale, sheet.units)} along, heights {sheet.times:g} times as tall.",
        sheet.paper.width_m,
        height,
        sheet.paper.height_m,
        f"{sheet.paper.name} landscape",
        sheet.scale,
        tuple(Layer(name, said, tuple(layers[name])) for name, said in _TITLES.items()),
        dropped,
    )
