"""One strip of the long section, drawn on a sheet or on a narrow screen."""

from dataclasses import dataclass

import numpy as np

from fencewright.pipeline.record import Design
from fencewright.quantity.show import UnitSystem
from fencewright.sheets.letters import shorten
from fencewright.sheets.picture import Item
from fencewright.sheets.section_marks import axis_items, clash_items, mark_items, place_words
from fencewright.sheets.section_posts import brace_items, ground_items, opening_items, post_items, rail_items
from fencewright.sheets.section_rows import choose_columns, column_items, headings, rows_height_m
from fencewright.sheets.section_trace import Strip
from fencewright.sheets.section_view import StripView, strip_range_m

_ABOVE_M = 0.010  # over the highest top: heading, marks
_BETWEEN_M = 0.0035
_DRAWN_LEAST_M = 0.0014  # posts nearer than this on paper are not drawn one by one


@dataclass(frozen=True, slots=True)
class SectionSheet:
    """What all strips share.

    `width_m` of the paper, `margin_m` at each side, `gutter_m` for headings and elevations [m]; `scale`
    along, `times` as much upward; `number_rows` most rows of numbers under a strip, those named first.
    """

    design: Design
    units: UnitSystem
    width_m: float
    margin_m: float
    gutter_m: float
    scale: float
    times: float
    number_rows: int = 6

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the rows of numbers."""
        return headings(self.design, self.units)[: self.number_rows]

    @property
    def vertical_scale(self) -> float:
        """Metres of height for one on paper. [-]."""
        return self.scale / self.times

    @property
    def right_m(self) -> float:
        """Where the right margin begins. [m]."""
        return self.width_m - self.margin_m


def strip_height_m(sheet: SectionSheet, strip: Strip) -> float:
    """Height that a strip takes on paper, heading and numbers included. [m]."""
    low, high = strip_range_m(sheet.design, strip)
    return _ABOVE_M + (high - low) / sheet.vertical_scale + 0.002 + rows_height_m(sheet.names) + _BETWEEN_M


def _strip_name(sheet: SectionSheet, strip: Strip) -> str:
    line = sheet.design.layout.lines[strip.trace.line_index]
    ends = [at - line.length_m if at > line.length_m + 1e-6 else at for at in (strip.start_m, strip.end_m)]
    return f"{shorten(line.name, 40.0)}, station {sheet.units.long(ends[0])} to {sheet.units.long(ends[1])}"


def _view(sheet: SectionSheet, strip: Strip, top_m: float) -> StripView:
    low, high = strip_range_m(sheet.design, strip)
    tall = (high - low) / sheet.vertical_scale
    base = top_m - _ABOVE_M - tall - 0.002
    datum = low - 0.002 * sheet.vertical_scale
    return StripView(
        strip, sheet.margin_m + sheet.gutter_m, base, datum, top_m - 0.005, sheet.scale, sheet.vertical_scale
    )


def _drawn_rows(sheet: SectionSheet, strip: Strip) -> np.ndarray:
    """Rows of the trace whose posts are drawn: all, or the fixed ones where all would be a grey mass."""
    rows = np.arange(strip.first, strip.last + 1)
    if strip.length_m / max(len(rows) - 1, 1) / sheet.scale >= _DRAWN_LEAST_M:
        return rows
    return rows[sheet.design.layout.posts.is_fixed[strip.trace.post_index[rows]]]


def draw_strip(sheet: SectionSheet, strip: Strip, top_m: float) -> tuple[dict[str, list[Item]], int]:
    """Draw one strip below a height [m]; its items by layer, and how many labels it dropped."""
    design, units = sheet.design, sheet.units
    view = _view(sheet, strip, top_m)
    edges = (sheet.margin_m, sheet.right_m)
    columns = choose_columns(design, view, units, edges[1] - 0.003)
    rows = _drawn_rows(sheet, strip)
    marks = mark_items(design, view, rows)
    openings, names = opening_items(design, view)
    clashes, amounts = clash_items(design, view, units)
    words = place_words(view, [*marks, *clashes], [*names, *amounts])
    is_close = len(rows) < strip.last - strip.first + 1
    layers = {
        "ground": ground_items(view),
        "axes": axis_items(view, units, sheet.margin_m, _strip_name(sheet, strip)),
        "posts": [*post_items(design, view, rows), *([] if is_close else brace_items(design, view))],
        "rails": rail_items(design, view),
        "openings": openings,
        "marks": [*marks, *clashes, *words.items],
        "numbers": column_items(view, columns, sheet.names, edges, view.low_m),
    }
    return layers, len(words.dropped)
