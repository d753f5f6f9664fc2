"""Stake-out, load list and what was measured, as design.json has them."""

from dataclasses import asdict
from typing import Any

import numpy as np

from fencewright.exchange import stake_out_columns as columns
from fencewright.exchange.design_rows import json_number, json_numbers, names_at, table_rows
from fencewright.exchange.design_tables import Rows, line_names, post_ids, pull_ids, side_name
from fencewright.pipeline.record import Design, brace_id
from fencewright.tables.load import STEPS
from fencewright.tables.stake_out import TIES


def stake_out_record(design: Design) -> dict[str, Any]:
    """Give the object `stake_out`: its tables by name."""
    return {
        "references": _references_rows(design),
        "stakes": _stakes_rows(design),
        "corner_checks": _corner_rows(design),
        "diagonals": _diagonal_rows(design),
        "pegs": _pegs_rows(design),
    }


def _references_rows(design: Design) -> Rows:
    table = design.stake_out.references
    return table_rows(
        columns.REFERENCES, {name: getattr(table, name) for name in ("name", "x_m", "y_m", "ground_m")}
    )


def _stakes_rows(design: Design) -> Rows:
    stakes, posts = design.stake_out.stakes, post_ids(design)
    direct = (
        "station_m", "slope_station_m", "x_m", "y_m", "left_of_line_m", "left_of_string_m", "from_previous_m",
        "slope_from_previous_m", "tie_angle_rad", "position_sd_m", "major_sd_m", "minor_sd_m", "major_heading_rad",
    )  # fmt: skip
    pairs = zip(posts_of(stakes.post_index, posts), stakes.brace_index.tolist(), strict=True)
    return table_rows(
        columns.STAKES,
        {
            **{name: getattr(stakes, name) for name in direct},
            "id": [brace_id(brace) if brace >= 0 else post for post, brace in pairs],
            "post": posts_of(stakes.post_index, posts),
            "line": names_at(line_names(design), stakes.line_index),
            "ties": _ties(design),
            "tie_side": [side_name(side, "none") for side in stakes.tie_side.tolist()],
            "tie_state": names_at(TIES, stakes.tie_state),
        },
    )


def posts_of(index: Any, posts: list[str]) -> list[str]:
    """Names of posts by row, empty where none."""
    return names_at(posts, index)


def _ties(design: Design) -> list[Rows]:
    """Two ties a stake, none where there are no two reference points."""
    stakes, names = design.stake_out.stakes, design.stake_out.references.name
    if len(names) < 2:
        return [[] for _ in range(len(stakes))]
    keys = [column.name for column in columns.TIE_ROWS]
    level, slope = json_numbers(stakes.tie_m, "length"), json_numbers(stakes.slope_tie_m, "length")
    return [
        [dict(zip(keys, (names[row], a, b), strict=True)) for row, a, b in zip(*both, strict=True)]
        for both in zip(stakes.tie_reference.tolist(), level, slope, strict=True)
    ]


def _corner_rows(design: Design) -> Rows:
    table = design.stake_out.corner_checks
    direct = (
        "station_m", "corner_rad", "back_m", "ahead_m", "closing_m", "corner_sd_rad", "leg_error_m",
    )  # fmt: skip
    return table_rows(
        columns.CORNER_CHECKS,
        {
            **{name: getattr(table, name) for name in direct},
            "post": posts_of(table.post_index, post_ids(design)),
            "line": names_at(line_names(design), table.line_index),
            "right_angle": table.is_right,
        },
    )


def _diagonal_rows(design: Design) -> Rows:
    table, posts = design.stake_out.diagonals, post_ids(design)
    direct = ("from_station_m", "to_station_m", "length_m", "slope_length_m")
    return table_rows(
        columns.DIAGONALS,
        {
            **{name: getattr(table, name) for name in direct},
            "line": names_at(line_names(design), table.line_index),
            "from_post": posts_of(table.from_post, posts),
            "to_post": posts_of(table.to_post, posts),
        },
    )


def _pegs_rows(design: Design) -> Rows:
    table = design.stake_out.pegs
    direct = ("station_m", "x_m", "y_m", "beyond_m", "string_left_m")
    return table_rows(
        columns.PEGS,
        {
            **{name: getattr(table, name) for name in direct},
            "post": posts_of(table.post_index, post_ids(design)),
            "line": names_at(line_names(design), table.line_index),
            "beyond": ["ahead" if ahead else "back" for ahead in table.is_ahead.tolist()],
            "moved": table.is_moved,
            "clear": table.is_clear,
        },
    )


def load_record(design: Design) -> dict[str, Any]:
    """Give the object `load`: payload, sums, and the loads with what goes on each."""
    load = design.load
    items = load.items
    rows = table_rows(
        columns.LOAD_ITEMS,
        {
            **{name: getattr(items, name) for name in ("item", "size", "unit", "count", "mass_each_kg", "mass_kg")},
            "step": names_at(STEPS, items.step),
            "order": items.order_id,
            "volume_m3": items.volume_m3,
            "weighed_by": items.weighed_by,
        },
    )  # fmt: skip
    own: list[Rows] = [[] for _ in range(len(load))]
    for at, row in zip(items.load_index.tolist(), rows, strict=True):
        own[at].append(row)
    loads = table_rows(
        columns.LOADS,
        {
            "number": np.arange(1, len(load) + 1),
            "mass_kg": load.load_mass_kg,
            "volume_m3": load.load_volume_m3,
            "unknown_items": load.unknown_items,
            "over_payload": load.load_mass_kg > load.payload_kg * (1 + 1e-9),
            "items": own,
        },
    )
    unknown = [items.item[row] for row in np.flatnonzero(np.isnan(items.mass_each_kg)).tolist()]
    return {
        "payload_kg": json_number(load.payload_kg, "mass"),
        "mass_kg": json_number(float(load.load_mass_kg.sum()), "mass"),
        "volume_m3": json_number(float(load.load_volume_m3.sum()), "volume"),
        "left_out": list(dict.fromkeys(unknown)),
        "loads": loads,
    }


def tolerance_rows(design: Design) -> Rows:
    """One row a thing that is measured on the finished fence, with how far it may be off."""
    own = asdict(design.job.settings.measured)
    values = {"what": [name.removesuffix("_m") for name in own], "within_m": np.array(list(own.values()))}
    return table_rows(columns.TOLERANCES, values)


def measured_rows(design: Design) -> Rows:
    """One row a `[[measured]]` of the job that finds its place."""
    table, posts = design.measured, design.layout.posts
    own = np.maximum(table.post_index, 0)
    is_post = table.post_index >= 0
    line = np.where(is_post, posts.line_index[own], -1)
    direct = ("designed", "measured", "difference", "least", "most", "what", "kind", "by", "when", "says")
    return table_rows(
        columns.MEASURED,
        {
            **{name: getattr(table, name) for name in direct},
            "post": posts_of(table.post_index, post_ids(design)),
            "pull": names_at(pull_ids(design), table.pull_index),
            "line": names_at(line_names(design), line),
            "station_m": np.where(is_post, posts.station_m[own], np.nan),
            "in_tolerance": table.is_in,
        },
    )
