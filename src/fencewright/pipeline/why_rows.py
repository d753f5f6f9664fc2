"""A few rows of a design as tables of their own, so that a stage's own functions run on them alone."""

from dataclasses import dataclass, fields, replace
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from fencewright.layout.gates import Opening, find_openings
from fencewright.layout.junctions import join_lines
from fencewright.layout.line_plan import LinePlan, kept_out_shapes, plan_line
from fencewright.layout.reference_lines import reference_lines
from fencewright.pipeline.record import Design
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import Holes, Layout, Visits
from fencewright.tables.top_line import TopLine

Ints = NDArray[np.int64]
Table = TypeVar("Table")


def take_rows(table: Table, rows: Ints) -> Table:
    """Give a column table with only some of its rows."""
    picked: dict[str, Any] = {}
    for field in fields(table):  # type: ignore[arg-type]  # every table is a dataclass
        column = getattr(table, field.name)
        picked[field.name] = (
            tuple(column[row] for row in rows.tolist()) if isinstance(column, tuple) else column[rows]
        )
    return type(table)(**picked)


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """Some spans of a design and their posts, renumbered: `post_rows`, `span_rows` are the design's rows."""

    layout: Layout
    top_line: TopLine
    holes: Holes
    post_rows: Ints
    span_rows: Ints


def part_of(design: Design, span_rows: Ints, first_post: int = -1) -> Part:
    """Cut some spans and their posts out of a design.

    Parameters
    ----------
    design : Design
        The whole design.
    span_rows : int array (spans,)
        Rows of `Spans`, rising.
    first_post : int
        A post that becomes row 0; -1: posts stay in the design's order.
    """
    spans = take_rows(design.layout.spans, span_rows)
    posts = np.unique(np.concatenate([spans.from_post, spans.to_post]))
    if first_post >= 0:
        posts = np.concatenate([[first_post], posts[posts != first_post]])
    order = np.argsort(posts)
    ends = [order[np.searchsorted(posts[order], column)] for column in (spans.from_post, spans.to_post)]
    top = design.top_line
    layout = replace(
        design.layout,
        posts=take_rows(design.layout.posts, posts),
        visits=visits_at(design.layout, posts),
        spans=replace(spans, from_post=ends[0], to_post=ends[1]),
    )
    line = replace(
        top,
        top_m=top.top_m[posts],
        height_m=top.height_m[posts],
        uplift_n=top.uplift_n[posts],
        needs_concrete=top.needs_concrete[posts],
        lowest_gap_m=top.lowest_gap_m[span_rows],
    )
    return Part(layout, line, take_rows(design.holes, posts), posts, span_rows)


def visits_at(layout: Layout, posts: Ints) -> Visits:
    """Give what other lines share of some posts, in whatever order these stand, their rows renumbered."""
    order = np.argsort(posts)
    visits = take_rows(layout.visits, np.flatnonzero(np.isin(layout.visits.post_index, posts)))
    return replace(visits, post_index=order[np.searchsorted(posts[order], visits.post_index)])


def part_of_post(design: Design, row: int) -> Part:
    """Cut a post with the spans that meet it out of a design; it is row 0."""
    spans = design.layout.spans
    return part_of(design, np.flatnonzero((spans.from_post == row) | (spans.to_post == row)), row)


def part_of_run(design: Design, run: int) -> Part:
    """Cut one run out of a design: it is run 0 of the part."""
    runs = design.layout.runs
    span_rows = np.arange(int(runs.from_span[run]), int(runs.to_span[run]))
    part = part_of(design, span_rows)
    own = take_rows(runs, np.array([run]))
    own = replace(own, from_span=np.array([0]), to_span=np.array([len(span_rows)]))
    return replace(part, layout=replace(part.layout, runs=own))


def openings_again(design: Design) -> list[Opening]:
    """Place the gates and crossings as the layout stage does, in the rows of `Openings`."""
    show = UnitSystem(design.job.asked.job.sheets)
    lines, _ = reference_lines(design.job)
    lines, _, _ = join_lines(lines, design.job.settings.layout.join_distance_m, show)
    return find_openings(design.job, lines)[0]


def plan_again(design: Design, line_index: int) -> LinePlan:
    """Plan one line again as the layout stage does."""
    job, show = design.job, UnitSystem(design.job.asked.job.sheets)
    lines, _ = reference_lines(job)
    lines, meetings, _ = join_lines(lines, job.settings.layout.join_distance_m, show)
    openings, _ = find_openings(job, lines)
    names = [line.name for line in lines]
    line = lines[line_index]
    return plan_line(job, line_index, line, names, meetings, openings, kept_out_shapes(job))
