"""The strength sheet: the plan with each post marked by how much of its strength is used, and the worst in words."""

from dataclasses import dataclass

from fencewright.findings.cautions import STRENGTH_CAUTIONS
from fencewright.pipeline.record import Design
from fencewright.sheets.frame import (
    MARGIN_M,
    NOT_TO_BE_BUILT,
    SMALL_M,
    common_facts,
    draw_scale_bar,
    facts,
    foot,
    legend,
    moved,
    sheet_units,
    stop_box,
    stop_messages,
    text_lines,
    title,
)
from fencewright.sheets.labels import Board, Placed, line_boxes, place_labels
from fencewright.sheets.letters import wrap
from fencewright.sheets.picture import Item, Layer, Picture, Polyline, Text, box_of
from fencewright.sheets.plan_column import north_arrow
from fencewright.sheets.plan_fence import FenceMarks, draw_fence
from fencewright.sheets.plan_view import View, fit_view, fit_width
from fencewright.sheets.scales import PHONE_MARGIN_M, PHONE_WIDTH_M, paper_for, scale_bar, show_scale
from fencewright.sheets.strength_marks import (
    UseMarks,
    mark_boxes,
    named_words,
    use_labels,
    use_legend,
    use_marks,
)
from fencewright.sheets.strength_worst import draw_worst

_COLUMN_M, _GUTTER_M = 0.078, 0.003


@dataclass(frozen=True, slots=True)
class _Drawn:
    """The plan in its frame."""

    view: View
    fence: FenceMarks
    marks: UseMarks
    labels: Placed


def _draw_in_view(design: Design, view: View) -> _Drawn:
    fence, marks = draw_fence(design, view), use_marks(design, view)
    board = Board(view.frame)
    board.take(mark_boxes(marks))
    for item in (*fence.lines, *fence.gates, *fence.braces):
        if isinstance(item, Polyline):
            board.take(line_boxes(item.points, 0.0003))
    return _Drawn(view, fence, marks, place_labels(use_labels(design, view), board))


def _layers(drawn: _Drawn) -> tuple[Layer, ...]:
    fence = drawn.fence
    return (
        Layer("fence", "fence", fence.lines),
        Layer("gates", "gates and their swing", fence.gates),
        Layer("braces", "braces", fence.braces),
        Layer("use", "posts by how much of their strength is used", drawn.marks.marks),
        Layer("labels", "posts and their percentage", drawn.labels.items),
    )


def _said(design: Design, drawn: _Drawn) -> list[str]:
    said = [
        "Percent: largest demand over capacity of a post, its hole and its braces. Second opinions, frost and"
        " lean are in checks.csv."
    ]
    hidden = len(design.layout.posts) - len(drawn.marks.drawn)
    if hidden:
        said.append(f"Posts stand too close to draw: the worst of each place is shown, {hidden:,} are not.")
    if named := named_words(design):
        said.append(named)
    if drawn.labels.dropped:
        said.append(f"Left out for want of room: {len(drawn.labels.dropped)} labels.")
    return said


def _head(design: Design, left_m: float, top_m: float, width_m: float) -> tuple[list[Item], float]:
    items, top = title(design, "Strength", left_m, top_m, width_m)
    more, top = stop_box(design, left_m, top, width_m)
    return [*items, *more], top


def _column(
    design: Design, drawn: _Drawn, scale_words: str, place: tuple[float, float, float], low_m: float
) -> tuple[list[Item], float]:
    """Facts, scale bar, legend, the worst posts, stops at `place` (left, top, width), down to `low_m`. [m]."""
    left, top, width = place
    units, view = sheet_units(design), drawn.view
    items, top = facts([("Scale", scale_words), *common_facts(design)[2:]], left, top - 0.001, width)
    items += draw_scale_bar(scale_bar(view.scale, units, 0.040), view.scale, left, top - 0.008)
    items += north_arrow(view, design.job.asked.site.north, left + width - 0.006, top - 0.0075)
    more, top = legend(use_legend(drawn.marks), left, top - 0.017, width)
    items += more
    for said in _said(design, drawn):
        lines, top = text_lines(wrap(said, width / SMALL_M), left, top - 0.0005, style="text-quiet")
        items += lines
    worst, top = draw_worst(design, left, top - 0.002, width, low_m)
    stops = stop_messages(design, left, top - 0.001, width, low_m)
    lows = [item.y_m - 0.002 for item in stops if isinstance(item, Text)]
    return [*items, *worst, *stops], min([top, *lows])


def draw_strength(design: Design) -> Picture:
    """Draw the strength sheet, Letter or A4 landscape by its units.

    Parameters
    ----------
    design : Design
        What is drawn, and nothing else.

    Returns
    -------
    Picture
        True to its stated scale. Each class of use has a shape and a size of its own, and fixed posts their
        percentage, so that nothing hangs on colour. Its `phone` is the same for a narrow screen.

    Notes
    -----
    Where posts crowd, only the worst of a neighbourhood is drawn, which the sheet says. O(posts log posts).
    """
    units = sheet_units(design)
    paper = paper_for(units)
    feet, low = foot(design, MARGIN_M, paper.width_m - MARGIN_M, MARGIN_M)
    left = paper.width_m - MARGIN_M - _COLUMN_M
    view = fit_view(design, (MARGIN_M, low + 0.001, left - _GUTTER_M, paper.height_m - MARGIN_M), units)
    drawn = _draw_in_view(design, view)
    said = f"{show_scale(view.scale, units)} on {paper.name}"
    head, top = _head(design, left, paper.height_m - MARGIN_M, _COLUMN_M)
    column, _ = _column(design, drawn, said, (left, top, _COLUMN_M), view.frame[1])
    layers = (
        Layer("sheet", "the sheet", (box_of(0, 0, paper.width_m, paper.height_m, "sheet"),)),
        *_layers(drawn),
        Layer("frame", "title, legend, cautions", (box_of(*view.frame, "frame"), *head, *column, *feet)),
    )
    size = (paper.width_m, paper.height_m, paper.height_m)
    return _picture(design, drawn, layers, size, f"{paper.name} landscape", _draw_for_phone(design))


def _picture(
    design: Design,
    drawn: _Drawn,
    layers: tuple[Layer, ...],
    size: tuple[float, float, float],
    paper: str,
    phone: Picture | None = None,
) -> Picture:
    lead = "" if design.may_be_built else f"{NOT_TO_BE_BUILT}. "
    counts = ", ".join(entry.text for entry in use_legend(drawn.marks))
    return Picture(
        f"Strength of {design.job.asked.job.name}",
        f"{lead}Plan with the share of each post's strength that is used. {counts}. {' '.join(STRENGTH_CAUTIONS)}",
        *size,
        paper,
        drawn.view.scale,
        layers,
        len(drawn.labels.dropped),
        phone,
    )


def _draw_for_phone(design: Design) -> Picture:
    """Draw the sheet narrow and tall, set from the top down: title, drawing, column, cautions."""
    left, right = PHONE_MARGIN_M, PHONE_WIDTH_M - PHONE_MARGIN_M
    head, top = _head(design, left, -PHONE_MARGIN_M, right - left)
    drawn = _draw_in_view(design, fit_width(design, left, right, top - 0.001))
    frame = drawn.view.frame
    column, low = _column(design, drawn, "by the bar", (left, frame[1] - 0.002, right - left), -9.0)
    feet, high = foot(design, left, right, 0.0)
    height = PHONE_MARGIN_M + high - low
    items = (box_of(*frame, "frame"), *head, *column)
    layers = [*_layers(drawn), Layer("frame", "title, legend", items)]
    lifted = [Layer(a.name, a.title, tuple(moved(item, 0.0, height) for item in a.items)) for a in layers]
    sheet = Layer("sheet", "the sheet", (box_of(0, 0, PHONE_WIDTH_M, height, "sheet"),))
    cautions = Layer("foot", "cautions", tuple(moved(item, 0.0, PHONE_MARGIN_M) for item in feet))
    size = (PHONE_WIDTH_M, height, height)
    return _picture(design, drawn, (sheet, *lifted, cautions), size, "narrow screen")
