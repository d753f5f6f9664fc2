"""Pulls that are alike on paper: one product, the same chart for the day in the units of the sheet."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fencewright.pipeline.record import Design, pull_id
from fencewright.sheets.frame import sheet_units

_STEPS = {"us": 5.0, "metric": 20.0}  # tensions nearer than this, in the unit of the sheet, are alike


@dataclass(frozen=True, slots=True)
class PullGroup:
    """Pulls that share a chart: `pulls` rows of `Pulls`; `shown` the one of them that loses most on its way."""

    pulls: tuple[int, ...]
    shown: int


def pull_groups(design: Design) -> list[PullGroup]:
    """Group the pulls by product and chart, in the order of their first pull.

    Returns
    -------
    list of PullGroup
        Every pull in just one; none for a design without pulls. O(pulls x days).
    """
    tension, units = design.tension, sheet_units(design)
    step = _STEPS[units.name] * units.force_factor
    numbers = np.column_stack(
        [
            tension.set_tension_n, tension.window_low_n, tension.window_high_n,
            tension.chart_n, tension.chart_low_n, tension.chart_high_n,
        ]
    )  # fmt: skip
    rounded = np.round(np.nan_to_num(numbers, posinf=1e12) / step).astype(np.int64)
    flags = np.column_stack([tension.product_index, tension.is_open, tension.chart_is_open])
    keys = np.column_stack([flags.astype(np.int64), rounded])
    _, first, own = np.unique(keys, axis=0, return_index=True, return_inverse=True)
    order = np.argsort(own.ravel(), kind="stable")
    parts = (
        np.split(order, np.cumsum(np.bincount(own.ravel(), minlength=len(first)))[:-1]) if len(first) else []
    )
    members = sorted(parts, key=lambda rows: int(rows[0]))
    return [
        PullGroup(tuple(rows.tolist()), int(rows[np.argmin(tension.far_share[rows])])) for rows in members
    ]


def pull_names(design: Design, rows: Sequence[int], most: int = 4) -> str:
    """Name pulls by run: `R1-1 to R1-4, R3-1 and 12 more`."""
    by_run: dict[int, list[int]] = {}
    for row in rows:
        by_run.setdefault(int(design.pulls.run_index[row]), []).append(int(design.pulls.strand[row]))
    said = []
    left = len(rows)
    for run, strands in list(by_run.items())[:most]:
        names = [pull_id(run, strand) for strand in strands]
        whole = len(names) > 2 and strands == list(range(strands[0], strands[-1] + 1))
        said.append(f"{names[0]} to {names[-1]}" if whole else ", ".join(names))
        left -= len(strands)
    return ", ".join(said) + (f" and {left} more" if left else "")
