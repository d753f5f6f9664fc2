"""The convex program of the top line: flow, heights, gaps and uplift as sparse rows.

    minimise   1/2 |D x + d|^2 + 1/2 w'x^2 + c + p's
    subject to A x - s <= b,  s >= 0,  low <= x <= high

Every row may be broken at a price (`s`), so there is always an answer. Whether a post is concreted is
yes or no; the price of uplift beyond what the post holds is its convex relaxation.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import coo_array, csr_array

from fencewright.tables.top_line import (
    FloatArray,
    IntArray,
    TopLineFlows,
    TopLineSettings,
    TopLineSpans,
    TopLineTask,
)
from fencewright.topline.bands import Unknowns, bound_unknowns
from fencewright.topline.gap_rows import GapRows, deciding_rows


@dataclass(frozen=True)
class Program:
    """The program in numbers; every array in metres but the prices.

    Attributes
    ----------
    flow : sparse array (flows, unknowns)
        D. [-]
    flow_offset_m : float array (flows,)
        d: the change of slope at x = 0 times the flow length. [m]
    weight : float array (unknowns,)
        w. [-]
    constant_m2 : float
        c: what no unknown changes. [m2]
    rows : sparse array (rows, unknowns)
        A, largest coefficient of an uplift row 1. [-]
    limit_m : float array (rows,)
        b. [m]
    price_m : float array (rows,)
        p. [m2/m]
    low_m, high_m : float array (unknowns,)
        Bounds, low below high. [m]
    """

    flow: csr_array
    flow_offset_m: FloatArray
    weight: FloatArray
    constant_m2: float
    rows: csr_array
    limit_m: FloatArray
    price_m: FloatArray
    low_m: FloatArray
    high_m: FloatArray


def build_program(task: TopLineTask, settings: TopLineSettings) -> tuple[Program, Unknowns]:
    """Set up the program of a fence.

    Parameters
    ----------
    task : TopLineTask
        Posts, spans, flows and the ground between.
    settings : TopLineSettings
        Prices and the flow length.

    Returns
    -------
    program : Program
        Rows that the bounds imply are left out.
    unknowns : Unknowns
        What each x stands for.
    """
    unknowns = bound_unknowns(task.posts, task.spans)
    flow, offset = flow_rows(unknowns, task.spans, task.flows, settings.flow_length_m)
    low_rows, high_rows = deciding_rows(unknowns, task.spans, task.profile)
    uplift, spare, price = _uplift_rows(unknowns, task, settings)
    rows = stacked(_gap_matrix(unknowns, task.spans, (low_rows, high_rows)), uplift)
    limit = np.concatenate([low_rows.slack_m, high_rows.slack_m, spare])
    prices = np.concatenate([np.full(limit.size - price.size, settings.gap_price_m), price])
    moves = np.diff(rows.indptr) > 0
    sunk = float(np.sum(prices[~moves] * np.maximum(-limit[~moves], 0.0)))
    kept = np.flatnonzero(moves & (prices > 0.0) & (_highest(rows, unknowns) > limit))
    if kept.size < limit.size:
        rows, limit, prices = csr_array(rows[kept]), limit[kept], prices[kept]
    program = Program(
        flow,
        offset,
        unknowns.weight,
        unknowns.constant_m2 + sunk,
        rows,
        limit,
        prices,
        unknowns.low_m,
        unknowns.high_m,
    )
    return program, unknowns


def stacked(one: csr_array, other: csr_array) -> csr_array:
    """Put the rows of one matrix under those of another.

    Parameters
    ----------
    one, other : sparse array (rows, columns)
        With the same columns.

    Returns
    -------
    sparse array (rows of both, columns)
        With copies of the entries.
    """
    pointer = np.concatenate([one.indptr, one.indptr[-1] + other.indptr[1:]])
    columns = np.concatenate([one.indices, other.indices])
    shape = (one.shape[0] + other.shape[0], one.shape[1])
    return csr_array((np.concatenate([one.data, other.data]), columns, pointer), shape=shape)


def meeting_posts(spans: TopLineSpans, flows: TopLineFlows) -> tuple[IntArray, IntArray, IntArray]:
    """Find the posts before, at and after the meeting of each pair of spans.

    Parameters
    ----------
    spans : TopLineSpans
        Spans in any orientation.
    flows : TopLineFlows
        Pairs that share a post.

    Returns
    -------
    before, at, after : int array (flows,)
        Rows of the posts.

    Raises
    ------
    ValueError
        Where two paired spans share no post.
    """
    a_from, a_to = spans.from_post[flows.before_span], spans.to_post[flows.before_span]
    b_from, b_to = spans.from_post[flows.after_span], spans.to_post[flows.after_span]
    forward = (a_to == b_from) | (a_to == b_to)
    at = np.where(forward, a_to, a_from)
    before = np.where(forward, a_from, a_to)
    starts = at == b_from
    if not np.all(starts | (at == b_to)):
        raise ValueError("two spans of a flow pair share no post: pair only neighbouring spans")
    return before, at, np.where(starts, b_to, b_from)


def flow_rows(
    unknowns: Unknowns, spans: TopLineSpans, flows: TopLineFlows, flow_length_m: float
) -> tuple[csr_array, FloatArray]:
    """Change of slope at each flow, times the flow length, as a row of the unknowns.

    Parameters
    ----------
    unknowns : Unknowns
        References and numbers of the tops.
    spans : TopLineSpans
        Plan lengths.
    flows : TopLineFlows
        Pairs of spans.
    flow_length_m : float
        Length that turns a change of slope into metres. [m]

    Returns
    -------
    rows : sparse array (flows, unknowns)
        [-]
    offset_m : float array (flows,)
        Value at x = 0. [m]
    """
    posts = np.stack(meeting_posts(spans, flows), axis=1)
    first = flow_length_m / spans.length_m[flows.before_span]
    last = flow_length_m / spans.length_m[flows.after_span]
    tops = unknowns.reference_m[posts]
    offset = (tops[:, 0] - tops[:, 1]) * first + (tops[:, 2] - tops[:, 1]) * last
    coefficient = np.stack([first, -(first + last), last], axis=1)
    return _sparse_rows(unknowns, unknowns.unknown[posts], coefficient), offset


def _gap_matrix(unknowns: Unknowns, spans: TopLineSpans, gaps: tuple[GapRows, ...]) -> csr_array:
    """Minus the move of the gap at each row, times its sign."""
    span = np.concatenate([part.span for part in gaps])
    ends = np.stack([spans.from_post[span], spans.to_post[span]], axis=1)
    share = [-part.sign * np.stack([1.0 - part.fraction, part.fraction], axis=1) for part in gaps]
    return _sparse_rows(unknowns, unknowns.unknown[ends], np.concatenate(share))


def _uplift_rows(
    unknowns: Unknowns, task: TopLineTask, settings: TopLineSettings
) -> tuple[csr_array, FloatArray, FloatArray]:
    """Uplift of each post that is not concreted anyway: matrix, spare hold, price, all in metres.

    The vertical part of a pull on slope t is pull * t / sqrt(1 + t^2); it is taken along its tangent
    at the nominal line, so the error is of second order in the change of slope.
    """
    spans, count = task.spans, task.posts.ground_m.size
    fence = np.flatnonzero(spans.is_fence & (spans.pull_n > 0.0))
    start, end = spans.from_post[fence], spans.to_post[fence]
    nominal = task.posts.ground_m + task.posts.nominal_height_m
    nominal = np.where(np.isnan(task.posts.pinned_top_m), nominal, task.posts.pinned_top_m)
    slope = (nominal[end] - nominal[start]) / spans.length_m[fence]
    cosine = 1.0 / np.sqrt(1.0 + slope * slope)
    rate = spans.pull_n[fence] * cosine**3 / spans.length_m[fence]
    moved_m = unknowns.reference_m - nominal
    lift = spans.pull_n[fence] * slope * cosine + rate * (moved_m[end] - moved_m[start])
    at_rest = np.bincount(start, lift, count) - np.bincount(end, lift, count)
    stiffness = np.bincount(start, rate, count) + np.bincount(end, rate, count)
    held = np.isfinite(task.posts.hold_down_n) & (stiffness > 0.0)
    row = np.cumsum(held) - 1
    scale = np.where(held, 1.0 / np.where(held, stiffness, 1.0), 0.0)
    posts = np.arange(count)
    at = np.concatenate([start, end, posts[held]])
    moved = unknowns.unknown[np.concatenate([end, start, posts[held]])]
    value = np.concatenate([rate * scale[start], rate * scale[end], np.full(int(held.sum()), -1.0)])
    used = held[at] & (moved >= 0)
    shape = (int(held.sum()), unknowns.low_m.size)
    places = row[at[used]].astype(np.int32), moved[used].astype(np.int32)
    matrix = csr_array(coo_array((value[used], places), shape=shape))
    spare = (task.posts.hold_down_n[held] - at_rest[held]) * scale[held]
    return matrix, spare, np.asarray(settings.uplift_price_m2_n * stiffness[held], np.float64)


def _sparse_rows(unknowns: Unknowns, column: IntArray, value: FloatArray) -> csr_array:
    """Sparse rows from a rectangle of columns and values; fixed tops (-1) fall out."""
    free = column >= 0
    pointer = np.zeros(column.shape[0] + 1, np.int32)
    np.cumsum(np.count_nonzero(free, axis=1), out=pointer[1:])
    shape = (column.shape[0], unknowns.low_m.size)
    matrix = csr_array((value[free], column[free].astype(np.int32), pointer), shape=shape)
    if unknowns.has_shared:
        matrix.sum_duplicates()
    return matrix


def _highest(rows: csr_array, unknowns: Unknowns) -> FloatArray:
    """Highest value of each row within the bounds."""
    reach = np.where(rows.data > 0.0, unknowns.high_m[rows.indices], unknowns.low_m[rows.indices])
    reach *= rows.data
    row = np.repeat(np.arange(rows.shape[0]), np.diff(rows.indptr))
    return np.asarray(np.bincount(row, reach, rows.shape[0]), np.float64)
