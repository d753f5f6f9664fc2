"""Runs as the tension stage asks for them, and what it gives back as the strength stage asks for it."""

import numpy as np
from numpy.typing import NDArray

from fencewright.geometry.polyline import turning_in_space_rad
from fencewright.job.record import Job
from fencewright.tables.fence import Layout, Strands
from fencewright.tables.strength import EndAssemblies
from fencewright.tables.tension import Tensions, TensionTask

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def tension_task(layout: Layout, vector_m: Floats, ends: EndAssemblies) -> TensionTask:
    """Lay out the runs for the tension stage.

    Parameters
    ----------
    layout : Layout
        Posts, spans, runs.
    vector_m : float array (spans, 3)
        Rail from post to post in space. [m]
    ends : EndAssemblies
        What holds the two ends of each run, and the posts at which it turns.

    Returns
    -------
    TensionTask
        Spans of each run one after the other.
    """
    runs = layout.runs
    counts = runs.to_span - runs.from_span
    start = np.concatenate([[0], np.cumsum(counts)])
    row = _rows(runs.from_span, counts)
    vector = vector_m[row]
    length = np.linalg.norm(vector, axis=1)
    is_last = np.zeros(len(row), bool)
    is_last[start[1:] - 1] = True
    inner = np.flatnonzero(~is_last)
    before, after = vector[inner], vector[np.minimum(inner + 1, len(row) - 1)]
    turning = turning_in_space_rad(before, after)
    # ground without values: the strength stage forbids building; the tension is drawn as between unyielding ends
    stiffness = np.where(ends.stiffness_n_m > 0, ends.stiffness_n_m, np.inf)
    return TensionTask(
        start, length, turning, _posts_of_runs(layout, row, start), stiffness, ends.capacity_n,
        ends.turn_capacity_n, ends.turn_post,
    )  # fmt: skip


def _rows(first: Ints, counts: Ints) -> Ints:
    """Give rows `first` to `first + count` of each run, one run after the other."""
    total = int(counts.sum())
    offset = np.concatenate([[0], np.cumsum(counts)])[:-1]
    return np.asarray(np.arange(total) - np.repeat(offset, counts) + np.repeat(first, counts), np.int64)


def _posts_of_runs(layout: Layout, row: Ints, start: Ints) -> Ints:
    """Posts of each run, first to last, one run after the other."""
    spans, runs = layout.spans, layout.runs
    post = np.empty(len(row) + len(runs), np.int64)
    shift = np.repeat(np.arange(len(runs)), np.diff(start))
    post[np.arange(len(row)) + shift] = spans.from_post[row]
    post[start[1:] + np.arange(len(runs))] = spans.to_post[row[start[1:] - 1]]
    return post


def greatest_tensions(layout: Layout, strands: Strands, job: Job) -> dict[str, Floats]:
    """Tension of one rail on each day, (runs, strands), at the greatest that is allowed: what ends are sized for."""
    runs = len(layout.runs)
    cold = np.tile(strands.cold_pull_n, (runs, 1))
    usual = np.tile([row.rail.set_tension_n for row in job.settings.strands], (runs, 1))
    return {"cold": cold, "set": usual, "hot": np.minimum(usual, cold)}


def chosen_tensions(layout: Layout, strands: Strands, tensions: Tensions) -> dict[str, Floats]:
    """Tension of one rail on each day, (runs, strands), as the tension stage chose it."""
    shape = (len(layout.runs), len(strands))
    return {
        "cold": tensions.cold_n.reshape(shape),
        "set": tensions.set_tension_n.reshape(shape),
        "hot": tensions.hot_n.reshape(shape),
    }
