"""The tension sheet: for each kind of pull the chart for the day, and the tension along the pull."""

from fencewright.findings.cautions import STRENGTH_CAUTIONS
from fencewright.pipeline.record import Design
from fencewright.quantity.show import counted, unit_of
from fencewright.sheets.frame import (
    MARGIN_M,
    NOT_TO_BE_BUILT,
    SMALL_M,
    LegendEntry,
    common_facts,
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
from fencewright.sheets.letters import wrap
from fencewright.sheets.picture import Item, Layer, Picture, Text, box_of, line_of
from fencewright.sheets.scales import PHONE_MARGIN_M, PHONE_WIDTH_M, Paper, paper_for
from fencewright.sheets.tension_groups import PullGroup, pull_groups
from fencewright.sheets.tension_panel import (
    GUTTER_M,
    OVER_M,
    UNDER_CHART_M,
    UNDER_PULL_M,
    Panel,
    draw_along,
    draw_chart,
    draw_panel_head,
)
from fencewright.sheets.tension_proofs import draw_proofs, proofs_height_m

MOST_GROUPS, PER_PAGE = 12, 2
_COLUMN_M, _GAP_M = 0.058, 0.004
_TALLEST_M, _LEAST_M, _PHONE_GRAPH_M = 0.078, 0.030, 0.042
_CHART_SHARE = 0.52  # of the width, for the chart; the rest for the tension along the pull


def _legend_entries() -> list[LegendEntry]:
    flat = ((-0.004, 0.0), (0.004, 0.0))
    return [
        LegendEntry((line_of(flat, "pull-to"),), "chart: tension to pull to, by the rail's temperature"),
        LegendEntry(
            (box_of(-0.004, -0.001, 0.004, 0.001, "window"),), "its window: neither slack nor too tight"
        ),
        LegendEntry((line_of(flat, "pulling"),), "along the rail, while it is drawn"),
        LegendEntry((line_of(flat, "worked"),), "along the rail, once it is worked round its corners"),
        LegendEntry(
            (line_of(((0.0, -0.0015), (0.0, 0.0015)), "guide"),), "post at which it turns or is held"
        ),
    ]


def _said(groups: list[PullGroup], shown: list[PullGroup]) -> list[str]:
    said = [
        "Feel or measure the rail, not the air: in the sun it is warmer.",
        "Of alike pulls the tension is drawn along the one that loses most on its way.",
    ]
    left = sum(len(group.pulls) for group in groups) - sum(len(group.pulls) for group in shown)
    kinds = len(groups) - len(shown)
    if left:
        said.append(
            f"Left out: {counted(left, 'pull')} of {kinds} more {unit_of(kinds, 'kind')}; "
            "tension.csv has them all."
        )
    return said


def _column(
    design: Design,
    groups: list[PullGroup],
    shown: list[PullGroup],
    place: tuple[float, float, float],
    low_m: float,
) -> tuple[list[Item], float]:
    """Title, facts, legend and stops at `place` (left, top, width). [m]."""
    left, top, width = place
    items, top = title(design, "Tension of the rails", left, top, width)
    box, top = stop_box(design, left, top, width)
    tension, units = design.tension, sheet_units(design)
    rows = [
        ("Pulls", f"{len(tension)}, of {counted(len(groups), 'kind')}"),
        ("Tension", f"of one rail, at the tensioner, {units.force_unit}"),
        ("Set at", f"{units.temperature(tension.reference_c)}, the rail's temperature"),
        *common_facts(design)[2:],
    ]
    more, top = facts(rows, left, top - 0.001, width)
    entries, top = legend(_legend_entries(), left, top - 0.002, width)
    items += [*box, *more, *entries]
    for said in _said(groups, shown):
        lines, top = text_lines(wrap(said, width / SMALL_M), left, top - 0.001, style="text-quiet")
        items += lines
    stops = stop_messages(design, left, top - 0.001, width, low_m)
    lows = [item.y_m - 0.002 for item in stops if isinstance(item, Text)]
    return [*items, *stops], min([top, *lows])


def _wide_panel(panel: Panel, left_m: float, top_m: float, width_m: float, low_m: float) -> list[Item]:
    """Draw a panel, chart and pull side by side, its site checks below as room allows, down to `low_m`. [m]."""
    items, top = draw_panel_head(panel, left_m, top_m, width_m)
    high = top - OVER_M
    proofs = min(proofs_height_m(panel.design, panel.row, width_m), high - low_m - UNDER_CHART_M - _LEAST_M)
    tall = min(_TALLEST_M, high - low_m - UNDER_CHART_M - max(proofs, 0.0))
    low, split = high - tall, left_m + _CHART_SHARE * width_m
    items += draw_chart(panel, (left_m + GUTTER_M, low, split - _GAP_M, high))
    items += draw_along(panel, (split + GUTTER_M, low, left_m + width_m - 0.001, high))
    below = low - UNDER_CHART_M
    return [*items, *draw_proofs(panel.design, panel.row, left_m, below, width_m, low_m)]


def _page(
    design: Design, paper: Paper, groups: list[PullGroup], base_m: float, note: str
) -> tuple[list[Item], list[Item], float]:
    """Draw one page's panels and foot; its lowest usable height. [m]."""
    feet, low = foot(design, MARGIN_M, paper.width_m - MARGIN_M, base_m + MARGIN_M, note)
    top = base_m + paper.height_m - MARGIN_M
    width = paper.width_m - 2 * MARGIN_M - _COLUMN_M - _GAP_M
    room = (top - low - 0.001) / min(max(len(groups), 1), PER_PAGE)
    items: list[Item] = []
    for k, group in enumerate(groups):
        panel = Panel(design, group)
        items += _wide_panel(panel, MARGIN_M, top - k * room, width, top - (k + 1) * room + _GAP_M)
        if k:
            y = top - k * room + 0.0015
            items.append(line_of(((MARGIN_M, y), (MARGIN_M + width, y)), "rule"))
    return items, feet, low


def draw_tension(design: Design) -> Picture:
    """Draw the tension sheet, Letter or A4 landscape, on as many pages as it takes.

    Parameters
    ----------
    design : Design
        What is drawn, and nothing else.

    Returns
    -------
    Picture
        Pages stacked downward, two kinds of pull on each; at most `MOST_GROUPS` kinds, and how many pulls are left
        out is said. `scale` is 1: graphs have none. Its `phone` is the same for a narrow screen.

    Notes
    -----
    O(pulls x days + posts of the pulls shown).
    """
    paper = paper_for(sheet_units(design))
    groups = pull_groups(design)
    shown = groups[:MOST_GROUPS]
    pages = [shown[k : k + PER_PAGE] for k in range(0, len(shown), PER_PAGE)] or [[]]
    sheets: list[Item] = []
    graphs: list[Item] = []
    frame: list[Item] = []
    for page, some in enumerate(pages):
        base = (len(pages) - page - 1) * paper.height_m
        sheets.append(box_of(0.0, base, paper.width_m, base + paper.height_m, "sheet"))
        note = f"Page {page + 1} of {len(pages)}. " if len(pages) > 1 else ""
        items, feet, low = _page(design, paper, some, base, note)
        place = (paper.width_m - MARGIN_M - _COLUMN_M, base + paper.height_m - MARGIN_M, _COLUMN_M)
        column, _ = _column(design, groups, shown, place, low)
        graphs += items
        frame += [*feet, *column]
    layers = (
        Layer("sheet", "the sheet", tuple(sheets)),
        Layer("graphs", "charts, and tension along the pulls", tuple(graphs)),
        Layer("frame", "title, legend, cautions", tuple(frame)),
    )
    return _picture(
        design, layers, (paper.width_m, len(pages) * paper.height_m, paper.height_m), paper, groups
    )


def _picture(
    design: Design,
    layers: tuple[Layer, ...],
    size: tuple[float, float, float],
    paper: Paper | None,
    groups: list[PullGroup],
) -> Picture:
    lead = "" if design.may_be_built else f"{NOT_TO_BE_BUILT}. "
    return Picture(
        f"Tension of the rails of {design.job.asked.job.name}",
        f"{lead}Tension to pull to by the rail's temperature, and along the rail, of {counted(len(design.tension), 'pull')}"
        f" of {len(groups)} kinds. {' '.join(STRENGTH_CAUTIONS)}",
        *size,
        f"{paper.name} landscape" if paper else "narrow screen",
        1.0,
        layers,
        0,
        _draw_for_phone(design, groups) if paper else None,
    )


def _draw_for_phone(design: Design, groups: list[PullGroup]) -> Picture:
    """Draw the sheet narrow and tall: title, then each chart above its pull, then the cautions."""
    left, right = PHONE_MARGIN_M, PHONE_WIDTH_M - PHONE_MARGIN_M
    shown = groups[:MOST_GROUPS]
    frame, low = _column(design, groups, shown, (left, -PHONE_MARGIN_M, right - left), -1.0)
    graphs: list[Item] = []
    for group in shown:
        panel = Panel(design, group)
        graphs.append(line_of(((left, low - 0.002), (right, low - 0.002)), "rule"))
        items, top = draw_panel_head(panel, left, low - 0.0035, right - left)
        top -= OVER_M
        items += draw_chart(panel, (left + GUTTER_M, top - _PHONE_GRAPH_M, right, top))
        top -= _PHONE_GRAPH_M + UNDER_CHART_M + OVER_M
        items += draw_along(panel, (left + GUTTER_M, top - _PHONE_GRAPH_M, right, top))
        low = top - _PHONE_GRAPH_M - UNDER_PULL_M
        below = low - proofs_height_m(design, panel.row, right - left)
        graphs += [*items, *draw_proofs(design, panel.row, left, low, right - left, below)]
        low = below
    feet, high = foot(design, left, right, 0.0)
    height = PHONE_MARGIN_M + high - low
    layers = (
        Layer("sheet", "the sheet", (box_of(0, 0, PHONE_WIDTH_M, height, "sheet"),)),
        Layer(
            "graphs", "charts, and tension along the pulls", tuple(moved(one, 0.0, height) for one in graphs)
        ),
        Layer("frame", "title, legend", tuple(moved(one, 0.0, height) for one in frame)),
        Layer("foot", "cautions", tuple(moved(one, 0.0, PHONE_MARGIN_M) for one in feet)),
    )
    return _picture(design, layers, (PHONE_WIDTH_M, height, height), None, groups)
