"""The plan: the fence seen from above, to a standard scale."""

import math

import numpy as np

from fencewright.pipeline.record import Design
from fencewright.sheets.frame import (
    MARGIN_M,
    NOT_TO_BE_BUILT,
    LegendEntry,
    common_facts,
    draw_scale_bar,
    facts,
    foot,
    legend,
    sheet_units,
    stop_box,
    stop_messages,
    text_lines,
    title,
)
from fencewright.sheets.labels import Board, Box
from fencewright.sheets.picture import Item, Layer, Picture, Symbol, Text, box_of, line_of
from fencewright.sheets.plan_fence import FenceMarks, draw_fence
from fencewright.sheets.plan_labels import Words, write_words
from fencewright.sheets.plan_site import SiteMarks, draw_obstacles, obstacle_legend
from fencewright.sheets.plan_view import View, fit_view
from fencewright.sheets.scales import paper_for, scale_bar, show_scale
from fencewright.sheets.symbols import LINE_POST_SIZE_M, POST_SIZE_M, post_symbol
from fencewright.tables.fence import Role

_COLUMN_M = 0.060
_GUTTER_M = 0.003


def _role_entries(design: Design, fence: FenceMarks) -> list[LegendEntry]:
    entries = []
    for role in Role:
        count = int(np.count_nonzero(design.layout.posts.role == role))
        if not count:
            continue
        is_small = role in (Role.LINE, Role.BRACE)
        size = LINE_POST_SIZE_M if is_small else POST_SIZE_M
        unseen = " (not drawn at this scale)" if is_small and not fence.has_line_posts else ""
        mark = Symbol(post_symbol(role), 0.0, 0.0, size)
        entries.append(LegendEntry((mark,), f"{role.label} post{'' if count == 1 else 's'}: {count}{unseen}"))
    return entries


def _fence_entries(design: Design, fence: FenceMarks) -> list[LegendEntry]:
    layout = design.layout
    tick = (line_of(((-0.004, 0.0), (0.004, 0.0)), "fence"), line_of(((0.0, 0.0), (0.0, 0.0015)), "tick"))
    entries = [LegendEntry(tick, "fence; tick: the side of the rail")]
    gates = int(np.count_nonzero(~layout.openings.is_crossing))
    if gates:
        leaf = (line_of(((-0.002, -0.0012), (-0.002, 0.0014)), "gate"),)
        arc = (line_of(((-0.002, 0.0014), (0.0, 0.0008), (0.0008, -0.0012)), "gate-arc"),)
        entries.append(LegendEntry((*leaf, *arc), f"gate, leaf open, and its swing: {gates}"))
    if len(layout.openings.name) > gates:
        dashed = line_of(((-0.004, 0.0), (0.004, 0.0)), "crossing")
        entries.append(LegendEntry((dashed,), f"water crossing: {len(layout.openings.name) - gates}"))
    if fence.braces:
        brace = (line_of(((-0.003, 0.0), (0.003, 0.0)), "brace"), Symbol("brace-foot", 0.003, 0.0, 0.0022))
        entries.append(LegendEntry(brace, f"brace and its footing: {len(layout.braces)}"))
    return entries


def _north(view: View, bearing_rad: float, x_m: float, y_m: float) -> list[Item]:
    """North arrow; `bearing_rad` of the plane's y axis, clockwise from north."""
    turn = view.turn_rad + bearing_rad
    reach = 0.0066
    label = Text(x_m - reach * math.sin(turn), y_m + reach * math.cos(turn), "N", "text-strong", 0.0028, "middle")
    return [Symbol("north", x_m, y_m, 0.009, turn), label]


def _column(design: Design, view: View, fence: FenceMarks, site: SiteMarks, words: Words, top_m: float) -> list[Item]:
    """The column at the right: title, facts, scale, legend, stops."""
    units = sheet_units(design)
    paper = paper_for(units)
    left = paper.width_m - MARGIN_M - _COLUMN_M
    items, top = title(design, "Plan", left, top_m, _COLUMN_M)
    more, top = stop_box(design, left, top, _COLUMN_M)
    items += more
    rows = [
        ("Scale", f"{show_scale(view.scale, units)} on {paper.name}"),
        ("Grid", design.job.asked.site.crs or "local plane"),
        *common_facts(design),
        ("Fence", f"{units.long(sum(line.length_m for line in design.layout.lines))} in plan, gates included"),
    ]
    more, top = facts(rows, left, top - 0.001, _COLUMN_M)
    items += more
    north_m = design.job.asked.site.north
    items += draw_scale_bar(scale_bar(view.scale, units, 0.040), view.scale, left, top - 0.008)
    items += _north(view, north_m, left + _COLUMN_M - 0.006, top - 0.0075)
    top -= 0.017
    entries = [*_role_entries(design, fence), *_fence_entries(design, fence), *obstacle_legend(site.shown)]
    more, top = legend(entries, left, top, _COLUMN_M)
    items += more
    said = []
    if words.every > 1:
        said.append(f"Ids: every fixed post, and each {words.every}th line post.")
    elif words.every == 0:
        said.append("Ids: fixed posts; line posts are in posts.csv.")
    if words.dropped:
        said.append(f"Left out for want of room: {len(words.dropped)} labels.")
    more, top = text_lines(said, left, top - 0.001, style="text-quiet")
    return [*items, *more, *stop_messages(design, left, top - 0.001, _COLUMN_M, view.frame[1])]


def _describe(design: Design, view: View) -> str:
    layout, units = design.layout, sheet_units(design)
    counts = [(role.label, int(np.count_nonzero(layout.posts.role == role))) for role in Role]
    said = ", ".join(f"{count} {name}" for name, count in counts if count)
    lead = "" if design.may_be_built else f"{NOT_TO_BE_BUILT}. "
    return (
        f"{lead}Plan at {show_scale(view.scale, units)} of {len(layout.lines)} fence lines: {said} posts,"
        f" {len(layout.braces)} braces, {len(layout.openings.name)} openings."
    )


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

    Notes
    -----
    A fence too long for its posts to be told apart is drawn as lines and fixed posts. O(posts).
    """
    units = sheet_units(design)
    paper = paper_for(units)
    view = plan_view(design)
    site = draw_obstacles(design.job.site.obstacles, view, units)
    fence = draw_fence(design, view)
    board = Board(view.frame)
    board.take((*fence.taken, *site.taken))
    board.take(_boxes_of_braces(fence))
    words = write_words(design, view, board, units, site.wanted)
    feet, _ = foot(design, MARGIN_M, paper.width_m - MARGIN_M, MARGIN_M)
    column = _column(design, view, fence, site, words, paper.height_m - MARGIN_M)
    layers = (
        Layer("sheet", "the sheet", (box_of(0, 0, paper.width_m, paper.height_m, "sheet"),)),
        Layer("clearances", "where no hole may be", site.bands),
        Layer("obstacles", "what lies in the way", site.things),
        Layer("dimensions", "lengths of legs", words.dimensions),
        Layer("fence", "fence and rail side", (*fence.lines, *fence.ticks)),
        Layer("gates", "gates and their swing", fence.gates),
        Layer("braces", "braces", fence.braces),
        Layer("posts", "posts by role", fence.posts),
        Layer("labels", "names", words.labels),
        Layer("frame", "title, legend, cautions", (box_of(*view.frame, "frame"), *column, *feet)),
    )
    name = design.job.asked.job.name
    return Picture(
        f"Plan of {name}",
        _describe(design, view),
        paper.width_m,
        paper.height_m,
        paper.height_m,
        f"{paper.name} landscape",
        view.scale,
        layers,
        len(words.dropped),
    )


def _boxes_of_braces(fence: FenceMarks) -> list[Box]:
    return [Box(m.x_m, m.y_m, m.size_m / 2, m.size_m / 2) for m in fence.braces if isinstance(m, Symbol)]
