"""What stands beside the plan: facts, scale, north, legend, stops; and the plan's words for the blind."""

import math
from dataclasses import dataclass

import numpy as np

from fencewright.pipeline.record import Design
from fencewright.quantity.show import counted, unit_of
from fencewright.sheets.frame import (
    NOT_TO_BE_BUILT,
    LegendEntry,
    common_facts,
    draw_scale_bar,
    facts,
    legend,
    sheet_units,
    stop_box,
    stop_messages,
    text_lines,
    title,
)
from fencewright.sheets.labels import Board, Box
from fencewright.sheets.picture import Item, Layer, Symbol, Text, line_of
from fencewright.sheets.plan_fence import FenceMarks, draw_fence, post_mark
from fencewright.sheets.plan_labels import Words, write_words
from fencewright.sheets.plan_site import SiteMarks, draw_obstacles, obstacle_legend
from fencewright.sheets.plan_view import View
from fencewright.sheets.pull_ends import PullEnds, place_pull_ends, pull_end_legend
from fencewright.sheets.scales import scale_bar
from fencewright.tables.fence import Role


@dataclass(frozen=True, slots=True)
class Drawn:
    """The plan in its frame."""

    view: View
    site: SiteMarks
    fence: FenceMarks
    ends: PullEnds
    words: Words


def draw_in_view(design: Design, view: View) -> Drawn:
    """Draw fence and obstacles in a view, and place their labels."""
    units = sheet_units(design)
    site = draw_obstacles(design.job.site.obstacles, view, units)
    fence = draw_fence(design, view)
    board = Board(view.frame)
    board.take((*fence.taken, *site.taken))
    feet = (mark for mark in fence.braces if isinstance(mark, Symbol))
    board.take(Box(mark.x_m, mark.y_m, mark.size_m / 2, mark.size_m / 2) for mark in feet)
    ends = place_pull_ends(design, view, board)
    return Drawn(view, site, fence, ends, write_words(design, view, board, units, site.wanted))


def plan_layers(drawn: Drawn) -> tuple[Layer, ...]:
    """Layers of the drawing, lowest first, without sheet and frame."""
    site, fence, words = drawn.site, drawn.fence, drawn.words
    return (
        Layer("clearances", "where no hole may be", site.bands),
        Layer("obstacles", "what lies in the way", site.things),
        Layer("dimensions", "lengths of legs", words.dimensions),
        Layer("fence", "fence and rail side", (*fence.lines, *fence.ticks)),
        Layer("gates", "gates and their swing", fence.gates),
        Layer("braces", "braces", fence.braces),
        Layer("posts", "posts by role", fence.posts),
        Layer("pulls", "tensioner and anchor ends", drawn.ends.marks),
        Layer("labels", "names", words.labels),
    )


def _role_entries(design: Design, fence: FenceMarks) -> list[LegendEntry]:
    entries = []
    for role in Role:
        count = int(np.count_nonzero(design.layout.posts.role == role))
        if not count:
            continue
        mark = post_mark(role, fence.spacing_m)
        unseen = "" if mark else " (not drawn at this scale)"
        entries.append(
            LegendEntry((mark,) if mark else (), f"{role.label} {unit_of(count, 'post')}: {count}{unseen}")
        )
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


def plan_entries(design: Design, drawn: Drawn) -> list[LegendEntry]:
    """Give the legend of what is drawn: posts, fence, gates, braces, pulls, what lies in the way."""
    return [
        *_role_entries(design, drawn.fence),
        *_fence_entries(design, drawn.fence),
        *pull_end_legend(drawn.ends),
        *obstacle_legend(drawn.site.shown),
    ]


def north_arrow(view: View, bearing_rad: float, x_m: float, y_m: float) -> list[Item]:
    """North arrow; `bearing_rad` of the plane's y axis, clockwise from north."""
    turn = view.turn_rad + bearing_rad
    reach = 0.0066
    label = Text(
        x_m - reach * math.sin(turn), y_m + reach * math.cos(turn), "N", "text-strong", 0.0028, "middle"
    )
    return [Symbol("north", x_m, y_m, 0.009, turn), label]


def plan_head(design: Design, left_m: float, top_m: float, width_m: float) -> tuple[list[Item], float]:
    """Set title and, where it must not be built, the box that says so. [m]."""
    items, top = title(design, "Plan", left_m, top_m, width_m)
    more, top = stop_box(design, left_m, top, width_m)
    return [*items, *more], top


def _said(words: Words) -> list[str]:
    said = []
    if words.every > 1:
        said.append(f"Ids: every fixed post, and one line post in {words.every}.")
    elif words.every == 0:
        said.append("Ids: fixed posts; line posts are in posts.csv.")
    if words.dropped:
        said.append(f"Left out for want of room: {len(words.dropped)} labels.")
    return said


def plan_column(
    design: Design, drawn: Drawn, scale_words: str, place: tuple[float, float, float], low_m: float
) -> tuple[list[Item], float]:
    """Set facts, scale bar, north arrow, legend and stops at `place` (left, top, width), to `low_m` [m]."""
    left, top, width = place
    units, view = sheet_units(design), drawn.view
    length = sum(line.length_m for line in design.layout.lines)
    rows = [
        ("Scale", scale_words),
        ("Grid", design.job.site.plane.name),
        *common_facts(design),
        ("Fence", f"{units.long(length)} in plan, gates included"),
    ]
    items, top = facts(rows, left, top - 0.001, width)
    items += draw_scale_bar(scale_bar(view.scale, units, 0.040), view.scale, left, top - 0.008)
    items += north_arrow(view, design.job.asked.site.north, left + width - 0.006, top - 0.0075)
    more, top = legend(plan_entries(design, drawn), left, top - 0.017, width)
    items += more
    more, top = text_lines(_said(drawn.words), left, top - 0.001, style="text-quiet")
    items += more
    stops = stop_messages(design, left, top - 0.001, width, low_m)
    lows = [item.y_m - 0.002 for item in stops if isinstance(item, Text)]
    return [*items, *stops], min([top, *lows])


def describe_plan(design: Design, scale_words: str) -> str:
    """Say in words what the plan shows, for those who cannot see it."""
    layout = design.layout
    counts = [(role.label, int(np.count_nonzero(layout.posts.role == role))) for role in Role]
    said = ", ".join(f"{count} {name}" for name, count in counts if count)
    lead = "" if design.may_be_built else f"{NOT_TO_BE_BUILT}. "
    return (
        f"{lead}Plan at {scale_words} of {len(layout.lines)} fence {unit_of(len(layout.lines), 'line')}: {said} posts,"
        f" {counted(len(layout.braces), 'brace')}, {counted(len(layout.openings.name), 'opening')}."
    )
