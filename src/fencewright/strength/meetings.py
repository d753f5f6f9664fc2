"""Where rails meet posts, and loads that are summed there."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from fencewright.strength.task import StrengthTask

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Rails:
    """Where rails meet posts: two rows a span that carries rail, (meetings,).

    `post`, `run`; `unit` (meetings, 3) from the post along the rail; `half_m` of the span; `normal` (meetings, 2)
    left of the line; `is_ending`, `is_starting`: the run ends or begins at this post.
    """

    post: Ints
    run: Ints
    unit: Floats
    half_m: Floats
    normal: Floats
    is_ending: Flags
    is_starting: Flags


@dataclass(frozen=True, slots=True, eq=False)
class Load:
    """One load of every post before factors.

    `force_n` (2, posts) east and north [N]; `moment_n_m` (2, posts) about grade [N m]; `up_n` (posts,) [N]; `sign` -1
    where force and moment act the other way.
    """

    force_n: Floats
    moment_n_m: Floats
    up_n: Floats
    sign: float = 1.0

    def turned(self) -> "Load":
        """Give the same load the other way."""
        return replace(self, sign=-self.sign)


def rails_at_posts(task: StrengthTask) -> Rails:
    """Rows of `Rails`: first every span at its `from_post`, then every span at its `to_post`."""
    spans, runs = task.layout.spans, task.layout.runs
    rows = np.flatnonzero(spans.run_index >= 0)
    vector = task.span_vector_m[rows]
    length = np.maximum(np.linalg.norm(vector, axis=1), 1e-9)
    unit = np.asfortranarray(vector / length[:, None])  # each axis one stretch of memory
    plan = np.maximum(np.hypot(vector[:, 0], vector[:, 1]), 1e-9)
    left = np.column_stack([-vector[:, 1] / plan, vector[:, 0] / plan])
    run = spans.run_index[rows]
    none = np.zeros(len(rows), bool)
    return Rails(
        np.concatenate([spans.from_post[rows], spans.to_post[rows]]),
        np.concatenate([run, run]),
        np.concatenate([unit, -unit]),
        np.concatenate([plan, plan]) / 2,
        np.concatenate([left, left]),
        np.concatenate([none, rows == runs.to_span[run] - 1]),
        np.concatenate([rows == runs.from_span[run], none]),
    )


def summed(rows: Ints, values: Floats, count: int) -> Floats:
    """Sum of the values of each row: (count,)."""
    return np.bincount(rows, values, count).astype(np.float64, copy=False)
