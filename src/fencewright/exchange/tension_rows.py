"""How tight each pull is drawn, as rows of design.json."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fencewright.exchange import tension_columns as columns
from fencewright.exchange.design_rows import json_numbers, names_at, table_rows
from fencewright.exchange.design_tables import Rows, post_ids, pull_ids
from fencewright.pipeline.record import Design
from fencewright.tables.tension import GOVERNS_HIGH, GOVERNS_LOW, PLACES

_DIRECT = (
    "set_tension_n", "far_share", "cold_n", "hot_n", "sag_hot_m", "stretch_m", "slack_m", "end_yield_m",
    "take_up_m", "turns", "regrips", "extra_rail_m", "marked_stretch_m", "repull_loss_n", "repull_m",
)  # fmt: skip


def tension_rows(design: Design) -> Rows:
    """One row a pull.

    Notes
    -----
    Strands of one product in one run share their lists in memory, not in the file. O(pulls x days + posts).
    """
    tension, names = design.tension, post_ids(design)
    count = len(tension)
    loosest = tension.post_start[tension.row_index] + tension.loosest_span
    return table_rows(
        columns.TENSION,
        {
            **{name: getattr(tension, name) for name in _DIRECT},
            **{name: np.full(count, getattr(tension, name)) for name in ("marked_m", "repull_days")},
            "pull": pull_ids(design),
            "window_n": _pairs(tension.window_low_n, tension.window_high_n),
            "window_open": tension.is_open,
            "governs_low": names_at(GOVERNS_LOW, tension.governs_low),
            "governs_high": names_at(GOVERNS_HIGH, tension.governs_high),
            "reference_temperature_c": np.full(count, tension.reference_c),
            "chart": _charts(design),
            "tension_at_posts_n": _at_posts(design),
            "tensioner_post": names_at(names, tension.tensioner_post),
            "anchor_post": names_at(names, tension.anchor_post),
            "drawn_from": names_at(columns.DRAWN_FROM, tension.drawn_from),
            "loosest_post": names_at(names, tension.post_index[loosest]),
        },
    )


def _pairs(low: NDArray[np.float64], high: NDArray[np.float64]) -> Sequence[Any]:
    return json_numbers(np.stack([low, high], axis=-1), "force")


def _charts(design: Design) -> list[Rows]:
    """Chart of each pull, one list for all strands that share a row."""
    tension = design.tension
    rows, first, own = np.unique(tension.row_index, return_index=True, return_inverse=True)
    days = json_numbers(tension.chart_c, "temperature")
    chosen = np.where(tension.chart_is_open, tension.chart_n, np.nan)[first]
    windows = _pairs(tension.chart_low_n[first], tension.chart_high_n[first])
    names = [column.name for column in columns.CHART]
    made = [
        [dict(zip(names, row, strict=True)) for row in zip(days, *of_row, strict=True)]
        for of_row in zip(json_numbers(chosen, "force"), windows, strict=True)
    ]
    return [made[row] for row in own.ravel().tolist()] if len(rows) else []


def _at_posts(design: Design) -> list[dict[str, Any]]:
    """Tension along each pull, one record for all strands that share a row."""
    tension = design.tension
    posts = names_at(post_ids(design), tension.post_index)
    pulling, worked = (json_numbers(one, "force") for one in (tension.pulling_n, tension.worked_n))
    start = tension.post_start.tolist()
    made = [
        {"post": posts[a:b], "while_pulling": pulling[a:b], "after_working": worked[a:b]}
        for a, b in pairwise(start)
    ]
    return [made[row] for row in tension.row_index.tolist()]


def site_checks_rows(design: Design) -> Rows:
    """One row a place and day."""
    checks = design.site_checks
    direct = (
        "rail_temperature_c", "span_m", "tension_n", "push_n", "deflection_sliding_m", "deflection_pinned_m",
        "frequency_hz",
    )  # fmt: skip
    return table_rows(
        columns.SITE_CHECKS,
        {
            **{name: getattr(checks, name) for name in direct},
            "pull": names_at(pull_ids(design), checks.pull_index),
            "post": names_at(post_ids(design), checks.post_index),
            "place": names_at(PLACES, checks.place),
        },
    )
