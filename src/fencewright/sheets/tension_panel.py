"""One group of alike pulls: its words, the chart for the day, the tension along the pull."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fencewright.pipeline.record import Design, post_id
from fencewright.quantity.show import counted, unit_of
from fencewright.sheets.frame import SMALL_M, sheet_units, text_lines
from fencewright.sheets.labels import Frame
from fencewright.sheets.letters import text_width_em, wrap
from fencewright.sheets.picture import Item, Text, line_of
from fencewright.sheets.plot import TICK_TEXT_M, Plot, draw_axes
from fencewright.sheets.tension_groups import PullGroup, pull_names
from fencewright.tables.fence import Role
from fencewright.tables.tension import GOVERNS_HIGH, GOVERNS_LOW

_ROW_M = 0.0030  # of the numbers under the chart
_CELL_GAP_M = 0.0010  # between two of its columns
GUTTER_M = 0.0135  # left of a graph, for the numbers of its axis
UNDER_CHART_M, UNDER_PULL_M = 0.0155, 0.0075  # below their graphs, for what stands there
OVER_M = 0.0045  # above a graph, for the title of its axis
_LOW_WORDS = {"sag": "sag in summer"}
_HIGH_WORDS = {
    "breaking share": "allowed share of breaking load in winter",
    "cold allowed": "data sheet's most in winter",
    "ends": "what the ends carry in winter",
    "corners": "what the weakest corner carries in winter",
}


@dataclass(frozen=True, slots=True)
class Panel:
    """A group of pulls on a sheet."""

    design: Design
    group: PullGroup

    @property
    def row(self) -> int:
        """Pull that is shown."""
        return self.group.shown


def panel_words(panel: Panel, width_m: float) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Lines of a panel's head: which pulls, and what to do with them."""
    design, row = panel.design, panel.row
    tension, units = design.tension, sheet_units(design)
    product = design.rail_models.rail[int(tension.product_index[row])]
    many = len(panel.group.pulls)
    names = pull_names(design, panel.group.pulls)
    head = f"{names}: {product}, {many} alike" if many > 1 else f"{names}: {product}"
    low, high = float(tension.window_low_n[row]), float(tension.window_high_n[row])
    window = f"window {units.force(low)} ({_LOW_WORDS[GOVERNS_LOW[int(tension.governs_low[row])]]})"
    window += f" to {units.force(high)} ({_HIGH_WORDS[GOVERNS_HIGH[int(tension.governs_high[row])]]})"
    if not tension.is_open[row]:
        window = f"NO TENSION WILL DO: {window}"
    regrips = int(tension.regrips[row])
    said = (
        f"Each rail {units.force(float(tension.set_tension_n[row]))} at"
        f" {units.temperature(tension.reference_c)} (rail); {window}."
        f" Spool: {tension.turns[row]:.1f} turns take up {units.small(float(tension.take_up_m[row]))},"
        f" {regrips or 'no'} re-{unit_of(regrips or 1, 'grip')}."
        f" Two marks {units.long(tension.marked_m)} apart move {tension.marked_stretch_m[row] * 1000:.1f} mm."
        f" Pull again after {counted(round(tension.repull_days), 'day')}:"
        f" take in {units.small(float(tension.repull_m[row]))}."
    )
    room = width_m / SMALL_M
    return wrap(head, room, 2), wrap(said, room, 5)


def draw_panel_head(panel: Panel, left_m: float, top_m: float, width_m: float) -> tuple[list[Item], float]:
    """Set a panel's words; the items, and where its graphs may begin. [m]."""
    head, said = panel_words(panel, width_m)
    items, low = text_lines(head, left_m, top_m, style="text-strong")
    more, low = text_lines(said, left_m, low)
    return [*items, *more], low - 0.001


def _top_of(values: Sequence[float]) -> float:
    return 1.08 * max((value for value in values if np.isfinite(value)), default=1.0)


def draw_chart(panel: Panel, frame: Frame) -> list[Item]:
    """Draw rail temperature against the tension to pull to, with its window, and the numbers below. [m].

    A day on which no tension will do has a dash and no point.
    """
    design, row, units = panel.design, panel.row, sheet_units(panel.design)
    tension, factor = design.tension, units.force_factor
    days = [units.degrees(float(one)) for one in tension.chart_c]
    pull, low, high = (
        [float(one) / factor for one in column[row]]
        for column in (tension.chart_n, tension.chart_low_n, tension.chart_high_n)
    )
    is_open = tension.chart_is_open[row]
    top = _top_of([*pull, *(one for one, yes in zip(high, is_open, strict=True) if yes)])
    half = max(0.5 * (days[-1] - days[0]) / max(len(days) - 1, 1), 0.5)
    plot = Plot(frame, (days[0] - half, days[-1] + half), (0.0, top))
    items: list[Item] = []
    for a, b in _stretches(is_open):
        part = slice(a, b)
        capped = [min(one, top) for one in high[part]]
        if b - a > 1:
            items.append(plot.band(days[part], low[part], capped, "window"))
        items += [
            plot.line(zip(days[part], edge, strict=True), "window-edge") for edge in (low[part], capped)
        ]
    items += draw_axes(plot, f"pull to, {units.force_unit} a rail", days)
    for a, b in _stretches(is_open):
        items.append(plot.line(zip(days[a:b], pull[a:b], strict=True), "pull-to"))
    items += _numbers(panel, plot, days, (pull, low, high))
    return items


def _stretches(is_true: np.ndarray) -> list[tuple[int, int]]:
    """Begin and end of each stretch of days that are open."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], np.asarray(is_true, np.int64), [0]])))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))


def _numbers(
    panel: Panel, plot: Plot, days: list[float], columns: tuple[list[float], list[float], list[float]]
) -> list[Item]:
    """Write temperature, tension and window under the chart, as many days as there is room for."""
    units, tension = sheet_units(panel.design), panel.design.tension
    left, low_m, right, _ = plot.frame
    widest = max(
        text_width_em(f"{value:,.0f}") for column in columns for value in column if np.isfinite(value)
    )
    cell = widest * TICK_TEXT_M + _CELL_GAP_M
    every = max(1, int(np.ceil(len(days) * cell / (right - left))))
    heads = (f"rail {units.temperature_unit}", "pull to", "least", "most")
    items: list[Item] = []
    for line, head in enumerate(heads):
        y = low_m - 0.0025 - line * _ROW_M
        style = "text-strong" if line == 1 else "text" if line == 0 else "text-quiet"
        items.append(Text(left - GUTTER_M, y, head, style, TICK_TEXT_M))
        for day in range(0, len(days), every):
            if line == 0:
                said = f"{days[day]:.0f}"
            elif not tension.chart_is_open[panel.row][day]:
                said = "–"
            else:
                value = columns[line - 1][day]
                said = f"{value:,.0f}" if np.isfinite(value) else "any"
            items.append(Text(plot.x(days[day]), y, said, style, TICK_TEXT_M, "middle"))
    return items


@dataclass(frozen=True, slots=True, eq=False)
class _Along:
    """A pull along its way: `post` rows, `at_m` from the first post [m], tension beyond each post [N]."""

    post: np.ndarray
    at_m: np.ndarray
    pulling_n: np.ndarray
    worked_n: np.ndarray


def _along(design: Design, row: int) -> _Along:
    runs, spans, tension = design.layout.runs, design.layout.spans, design.tension
    run, rows = int(design.pulls.run_index[row]), tension.posts_of(row)
    length = spans.slope_length_m[int(runs.from_span[run]) : int(runs.to_span[run])]
    at = np.concatenate([[0.0], np.cumsum(length)])
    return _Along(tension.post_index[rows], at, tension.pulling_n[rows], tension.worked_n[rows])


def draw_along(panel: Panel, frame: Frame) -> list[Item]:
    """Draw the tension of each span of the pull, while it is drawn and once it is worked. [m]."""
    design, units = panel.design, sheet_units(panel.design)
    way, factor = _along(design, panel.row), units.force_factor
    at = way.at_m / units.long_factor
    top = _top_of((way.pulling_n / factor).tolist())
    plot = Plot(frame, (0.0, float(at[-1])), (0.0, top))
    name = pull_names(design, [panel.row])
    items = draw_axes(
        plot, f"{name}: tension along its {units.long(float(way.at_m[-1]))}, {units.force_unit}"
    )
    items += _post_names(panel, way, plot, at)
    for values, style in ((way.pulling_n, "pulling"), (way.worked_n, "worked")):
        span = np.maximum(values[:-1], values[1:]) / factor
        points = [p for k, y in enumerate(span.tolist()) for p in ((float(at[k]), y), (float(at[k + 1]), y))]
        items.append(plot.line(_turning_points(points), style))
    return [*items, _far(panel, way, plot, at)]


def _turning_points(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Give the same steps with no point where the tension stays."""
    return [p for k, p in enumerate(points) if k in (0, len(points) - 1)
            or p[1] != points[k - 1][1] or p[1] != points[k + 1][1]]  # fmt: skip


def _far(panel: Panel, way: _Along, plot: Plot, at: np.ndarray) -> Text:
    """Say how tight the loosest span is once worked, at the foot of the graph, where no line runs."""
    design, units, row = panel.design, sheet_units(panel.design), panel.row
    k = int(design.tension.loosest_span[row])
    least = float(np.maximum(way.worked_n[k], way.worked_n[k + 1]))
    words = f"loosest span {units.force(least)}, {float(design.tension.far_share[row]):.0%}"
    half = text_width_em(words) * TICK_TEXT_M / 2 + 0.001
    middle = plot.x(float(at[k] + at[k + 1]) / 2)
    x = min(max(middle, plot.frame[0] + half), plot.frame[2] - half)
    return Text(x, plot.frame[1] + 0.0025, words, "label-accent", TICK_TEXT_M, "middle")


def _post_names(panel: Panel, way: _Along, plot: Plot, at: np.ndarray) -> list[Item]:
    """Name the ends and, where there is room, the posts at which the rail turns or is fixed, below the graph."""
    design, row = panel.design, panel.row
    posts, tension = design.layout.posts, design.tension
    both = int(tension.drawn_from[row]) == 2
    last = len(way.post) - 1
    inner = [
        k for k in range(1, last)
        if posts.is_fixed[way.post[k]] and posts.role[way.post[k]] not in (Role.LINE, Role.BRACE)
    ]  # fmt: skip
    low = plot.frame[1]
    items: list[Item] = []
    taken: list[float] = []
    tensioner_first = int(tension.drawn_from[row]) != 1
    for k in (0, last, *inner):
        x = plot.x(float(at[k]))
        words = post_id(int(way.post[k]))
        if k in (0, last):
            words += " tensioner" if both or (k == 0) == tensioner_first else " anchor"
        wide = text_width_em(words) * TICK_TEXT_M + 0.0010
        is_end = k in (0, last)
        anchor = "start" if k == 0 else "end" if k == last else "middle"
        if not is_end and any(abs(x - other) < wide for other in taken):
            continue
        if not is_end:
            taken.append(x)
        items.append(line_of(((x, low), (x, plot.frame[3])), "guide"))
        items.append(Text(x, low - (0.0055 if is_end else 0.0025), words, "text", TICK_TEXT_M, anchor))
    return items
