"""The plan: the fence seen from above, to a standard scale; and again for a narrow screen."""

from fencewright.pipeline.record import Design
from fencewright.sheets.frame import MARGIN_M, foot, moved, sheet_units
from fencewright.sheets.picture import Item, Layer, Picture, box_of
from fencewright.sheets.plan_column import (
    describe_plan,
    draw_in_view,
    plan_column,
    plan_head,
    plan_layers,
)
from fencewright.sheets.plan_view import View, fit_view, fit_width
from fencewright.sheets.scales import PHONE_MARGIN_M, PHONE_WIDTH_M, paper_for, show_scale

_COLUMN_M = 0.060
_GUTTER_M = 0.003


def plan_view(design: Design) -> View:
    """View that the plan of a design has: scale, turn and frame."""
    units = sheet_units(design)
    paper = paper_for(units)
    _, low = foot(design, MARGIN_M, paper.width_m - MARGIN_M, MARGIN_M)
    right = paper.width_m - MARGIN_M - _COLUMN_M - _GUTTER_M
    return fit_view(design, (MARGIN_M, low + 0.001, right, paper.height_m - MARGIN_M), units)


def draw_plan(design: Design) -> Picture:
    """Draw the plan of a design on one sheet, Letter or A4 landscape by its units.

    Parameters
    ----------
    design : Design
        What is drawn, and nothing else.

    Returns
    -------
    Picture
        True to its stated scale: the distance of two post marks on paper times the scale is that of their
        holes. Labels never overlap; those without room are counted on the sheet and in `dropped_labels`.
        Its `phone` is the same drawn for a narrow screen.

    Notes
    -----
    A fence too long for its posts to be told apart is drawn as lines and fixed posts. O(posts).
    """
    units = sheet_units(design)
    paper = paper_for(units)
    view = plan_view(design)
    drawn = draw_in_view(design, view)
    said = f"{show_scale(view.scale, units)} on {paper.name}"
    left = paper.width_m - MARGIN_M - _COLUMN_M
    feet, _ = foot(design, MARGIN_M, paper.width_m - MARGIN_M, MARGIN_M)
    head, top = plan_head(design, left, paper.height_m - MARGIN_M, _COLUMN_M)
    column, _ = plan_column(design, drawn, said, (left, top, _COLUMN_M), view.frame[1])
    layers = (
        Layer("sheet", "the sheet", (box_of(0, 0, paper.width_m, paper.height_m, "sheet"),)),
        *plan_layers(drawn),
        Layer("frame", "title, legend, cautions", (box_of(*view.frame, "frame"), *head, *column, *feet)),
    )
    return Picture(
        f"Plan of {design.job.asked.job.name}",
        describe_plan(design, said),
        paper.width_m,
        paper.height_m,
        paper.height_m,
        f"{paper.name} landscape",
        view.scale,
        layers,
        len(drawn.words.dropped),
        _draw_for_phone(design),
    )


def _draw_for_phone(design: Design) -> Picture:
    """Draw the plan narrow and tall, set from the top down: title, drawing, column, cautions."""
    left, right = PHONE_MARGIN_M, PHONE_WIDTH_M - PHONE_MARGIN_M
    head, top = plan_head(design, left, -PHONE_MARGIN_M, right - left)
    view = fit_width(design, left, right, top - 0.001)
    drawn = draw_in_view(design, view)
    said = "by the bar"
    column, low = plan_column(design, drawn, said, (left, view.frame[1] - 0.002, right - left), -1.0)
    feet, high = foot(design, left, right, 0.0)
    height = PHONE_MARGIN_M + high - low
    frame: list[Item] = [box_of(*view.frame, "frame"), *head, *column]
    layers = [*plan_layers(drawn), Layer("frame", "title, legend, cautions", tuple(frame))]
    lifted = [Layer(a.name, a.title, tuple(moved(item, 0.0, height) for item in a.items)) for a in layers]
    sheet = Layer("sheet", "the sheet", (box_of(0, 0, PHONE_WIDTH_M, height, "sheet"),))
    cautions = Layer("foot", "cautions", tuple(moved(item, 0.0, PHONE_MARGIN_M) for item in feet))
    return Picture(
        f"Plan of {design.job.asked.job.name}",
        describe_plan(design, "a scale told by its bar"),
        PHONE_WIDTH_M,
        height,
        height,
        "narrow screen",
        view.scale,
        (sheet, *lifted, cautions),
        len(drawn.words.dropped),
    )
