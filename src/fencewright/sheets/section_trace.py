"""A fence line drawn straight: posts at their stations, the ground between, cut into strips."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from fencewright.quantity.show import UnitSystem
from fencewright.sheets.scales import standard_scale, standard_scale_below
from fencewright.tables.fence import Floats, Ints, Layout

_POST_ROOM_M = 0.0088  # wanted on paper from post to post, for a column of numbers
_FIXED_WITHIN = 0.3  # a strip ends at a fixed post where one stands in this last part of it


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """One line in drawing order.

    Attributes
    ----------
    line_index : int
        Of the layout's lines.
    post_index, at_m : int, float array (posts,)
        Row of each post met, and its station, rising: past a closed line's end it runs on. [m]
    span_index : int array (posts - 1,)
        Row of each span.
    ground_at_m, ground_m : float array (samples,)
        Ground at posts and between. [m]
    """

    line_index: int
    post_index: Ints
    at_m: Floats
    span_index: Ints
    ground_at_m: Floats
    ground_m: Floats

    @property
    def length_m(self) -> float:
        """From the first post to the last. [m]."""
        return float(self.at_m[-1] - self.at_m[0])


@dataclass(frozen=True, slots=True)
class Strip:
    """A part of a trace that is drawn in one row: its first and last post, as rows of the trace."""

    trace: Trace
    first: int
    last: int

    @property
    def start_m(self) -> float:
        """Where it begins. [m]."""
        return float(self.trace.at_m[self.first])

    @property
    def end_m(self) -> float:
        """Where it ends. [m]."""
        return float(self.trace.at_m[self.last])

    @property
    def length_m(self) -> float:
        """Plan length. [m]."""
        return self.end_m - self.start_m


def _ground(layout: Layout, rows: Ints, posts: Ints, at_m: Floats) -> tuple[Floats, Floats]:
    start, profile = layout.profile.start, layout.profile
    counts = start[rows + 1] - start[rows]
    which = np.repeat(np.arange(len(rows)), counts)
    sample = (
        np.repeat(start[rows], counts)
        + np.arange(counts.sum())
        - np.repeat(np.cumsum(counts) - counts, counts)
    )
    between = at_m[which] + profile.fraction[sample] * np.diff(at_m)[which]
    at = np.concatenate([at_m, between])
    ground = np.concatenate([layout.posts.ground_m[posts], profile.ground_m[sample]])
    order = np.argsort(at, kind="stable")
    return at[order], ground[order]


def trace_line(layout: Layout, line_index: int) -> Trace | None:
    """One line drawn straight; None where it has no span."""
    rows = np.flatnonzero(layout.spans.line_index == line_index)
    if not len(rows):
        return None
    spans, length = layout.spans, layout.lines[line_index].length_m
    steps = spans.to_station_m[rows] - spans.from_station_m[rows]
    steps = np.where(steps < 0, steps + length, steps)
    at = float(spans.from_station_m[rows[0]]) + np.concatenate([[0.0], np.cumsum(steps)])
    posts = np.append(spans.from_post[rows], spans.to_post[rows[-1]])
    ground_at, ground = _ground(layout, rows, posts, at)
    return Trace(line_index, posts, at, rows, ground_at, ground)


def traces_of(layout: Layout) -> tuple[Trace, ...]:
    """Every line that has a span, in job order."""
    found = (trace_line(layout, index) for index in range(len(layout.lines)))
    return tuple(trace for trace in found if trace is not None)


def cut_strips(trace: Trace, is_fixed: np.ndarray, most_m: float) -> Iterator[Strip]:
    """Cut a trace into strips of at most `most_m` [m], each ending at a post, a fixed one if near."""
    first = 0
    last_row = len(trace.at_m) - 1
    while first < last_row:
        reach = trace.at_m[first] + most_m * (1 + 1e-9)
        last = max(int(np.searchsorted(trace.at_m, reach, side="right")) - 1, first + 1)
        if last < last_row:
            near = np.arange(first + 1, last + 1)
            late = trace.at_m[near] >= trace.at_m[first] + (1 - _FIXED_WITHIN) * most_m
            fixed = near[late & is_fixed[trace.post_index[near]]]
            last = int(fixed[-1]) if len(fixed) else last
        yield Strip(trace, first, last)
        first = last


def choose_strips(
    layout: Layout, width_m: float, units: UnitSystem, strip_limit: int
) -> tuple[float, list[Strip]]:
    """Scale along the line, and the strips that every line is cut into.

    Parameters
    ----------
    layout : Layout
        The fence.
    width_m : float
        Of a strip on paper. [m]
    units : UnitSystem
        Of the sheet.
    strip_limit : int
        Most strips of one drawing, unless there are more lines than that.

    Returns
    -------
    scale : float
        The largest standard scale that leaves room for a column of numbers at each post, or as coarse as
        the strip limit asks. [-]
    strips : list of Strip
        In job order.
    """
    traces = traces_of(layout)
    if not traces:
        return standard_scale(1.0, units), []
    median = float(np.median(layout.spans.length_m))
    scale = standard_scale_below(median / _POST_ROOM_M, units)
    longest = float(np.max(layout.spans.length_m)) / width_m
    scale = max(scale, standard_scale(longest, units))
    limit = max(strip_limit, len(traces))
    while True:
        strips = [
            strip for trace in traces for strip in cut_strips(trace, layout.posts.is_fixed, scale * width_m)
        ]
        if len(strips) <= limit:
            return scale, strips
        scale = standard_scale(scale * max(1.001, math.sqrt(len(strips) / limit)), units)
