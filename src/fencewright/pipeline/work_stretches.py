"""A fence cut into stretches of work: what a crew finishes before it goes on."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.pipeline.record import Design, post_id

Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class WorkStretches:
    """Which stretch each run, post, brace and opening belongs to, numbers from 0; `places` in words."""

    of_run: Ints
    of_post: Ints
    of_brace: Ints
    of_opening: Ints
    places: tuple[str, ...]

    def __len__(self) -> int:
        """Number of stretches."""
        return len(self.places)


def work_stretches(design: Design, zone_m: float) -> WorkStretches:
    """Cut a fence into stretches of about a length, run after run.

    Parameters
    ----------
    design : Design
        The whole design.
    zone_m : float
        Fence in one stretch, on plan; a run is never divided. [m]

    Returns
    -------
    WorkStretches
        One at least. A post belongs to the first stretch that reaches it, a brace and an opening to that of its post.
    """
    layout = design.layout
    spans, runs = layout.spans, layout.runs
    length = np.array([spans.length_m[a:b].sum() for a, b in zip(runs.from_span, runs.to_span, strict=True)])
    of_run = np.zeros(len(runs), dtype=np.int64)
    stretch, so_far = 0, 0.0
    for run in range(len(runs)):
        if so_far and so_far + length[run] / 2 > zone_m:
            stretch, so_far = stretch + 1, 0.0
        of_run[run] = stretch
        so_far += length[run]
    count = stretch + 1
    of_span = np.where(spans.run_index >= 0, of_run[np.maximum(spans.run_index, 0)] if len(runs) else 0, -1)
    of_post = np.full(len(layout.posts), count, dtype=np.int64)
    with_rail = of_span >= 0
    for ends in (spans.from_post, spans.to_post):
        np.minimum.at(of_post, ends[with_rail], of_span[with_rail])
    _fill_gaps(of_post, layout.posts.line_index, count)
    of_brace = of_post[layout.braces.post_index]
    second = layout.braces.second_post
    of_post[second[second >= 0]] = of_brace[second >= 0]
    of_opening = of_post[layout.openings.from_post]
    return WorkStretches(of_run, of_post, of_brace, of_opening, _places(design, of_post, count))


def _fill_gaps(of_post: Ints, line: Ints, none: int) -> None:
    """Posts that no rail reaches go with a neighbour along their line, else with the first stretch."""
    for name in np.unique(line[of_post == none]).tolist():
        rows = np.flatnonzero(line == name)
        known = rows[of_post[rows] < none]
        lost = rows[of_post[rows] == none]
        if len(known):
            near = np.abs(lost[:, None] - known[None, :]).argmin(axis=1)
            of_post[lost] = of_post[known[near]]
        else:
            of_post[lost] = 0


def _places(design: Design, of_post: Ints, count: int) -> tuple[str, ...]:
    """Name each stretch by its lines and posts."""
    names = [line.name for line in design.layout.lines]
    line = design.layout.posts.line_index
    places = []
    for stretch in range(count):
        rows = np.flatnonzero(of_post == stretch)
        said = []
        for index in dict.fromkeys(line[rows].tolist()):
            own = rows[line[rows] == index].tolist()
            said.append(f"{names[index]} {_ranges(own)}")
        places.append("; ".join(said))
    return tuple(places)


def _ranges(rows: Sequence[int]) -> str:
    """Posts as `P1 to P8, P12`."""
    groups: list[list[int]] = []
    for row in rows:
        if groups and row == groups[-1][1] + 1:
            groups[-1][1] = row
        else:
            groups.append([row, row])
    return ", ".join(post_id(a) if a == b else f"{post_id(a)} to {post_id(b)}" for a, b in groups)
