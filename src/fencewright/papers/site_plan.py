"""The whole fence on one sheet for the customer: drawing to a standard scale, its bar, north, legend below."""

import math
from dataclasses import replace

from fencewright.papers.blocks import Drawing
from fencewright.papers.frame import Size, room_mm
from fencewright.papers.windows import drawing_of
from fencewright.pipeline.record import Design
from fencewright.sheets.frame import draw_scale_bar, legend, sheet_units
from fencewright.sheets.picture import Item, Text, box_of
from fencewright.sheets.plan_column import (
    describe_plan,
    draw_in_view,
    north_arrow,
    plan_entries,
    plan_layers,
)
from fencewright.sheets.plan_view import fit_view
from fencewright.sheets.pull_ends import PullEnds
from fencewright.sheets.scales import scale_bar, show_scale

_BAR_M = 0.012
_COLUMNS = 3
_ENTRY_M = 0.0065  # of the legend, two lines of words
_LINE_POST_NAME = "label-quiet"


def site_plan(design: Design, size: Size, height_mm: float, *, has_names: bool) -> Drawing:
    """Draw the plan of a design as wide as a page.

    Parameters
    ----------
    design : Design
        What is drawn.
    size : str
        Of the paper.
    height_mm : float
        Of the drawing with its legend. [mm]
    has_names : bool
        Whether line posts have their names, and the ends of the pulls their marks.

    Returns
    -------
    Drawing
        The largest standard scale at which the fence fits. O(posts).
    """
    units = sheet_units(design)
    width, height = math.floor(room_mm(size)[0]) / 1000, height_mm / 1000
    edge = 0.0003
    entries_low = _BAR_M + _ENTRY_M * 4
    view = fit_view(design, (edge, entries_low, width - edge, height - edge), units)
    drawn = draw_in_view(design, view)
    if not has_names:
        drawn = replace(drawn, ends=PullEnds((), 0))
    entries = plan_entries(design, drawn)
    layers = [
        (layer.name, [item for item in layer.items if has_names or not _is_inside_matter(item)])
        for layer in plan_layers(drawn)
    ]
    each = -(-len(entries) // _COLUMNS)
    column = width / _COLUMNS
    foot: list[Item] = [box_of(*view.frame, "frame")]
    for k in range(_COLUMNS):
        foot += legend(entries[k * each : (k + 1) * each], k * column, entries_low - 0.002, column - 0.002)[0]
    said = show_scale(view.scale, units)
    foot += draw_scale_bar(scale_bar(view.scale, units, 0.07), view.scale, 0.002, 0.002)
    foot.append(Text(0.090, 0.003, f"Scale {said}, printed at 100 %", "text", 0.0025))
    foot += north_arrow(view, design.job.asked.site.north, width - 0.008, _BAR_M / 2)
    return drawing_of(
        "Plan", describe_plan(design, said), (width, height), [*layers, ("foot", foot)], view.scale
    )


def _is_inside_matter(item: Item) -> bool:
    """Whether it is the name of a line post, of which a customer has no use."""
    return isinstance(item, Text) and item.style == _LINE_POST_NAME
