"""What each stage gives, as columns by the names of design.json: the page's answer while the rest is computed."""

from collections.abc import Mapping
from types import SimpleNamespace
from typing import Any

import numpy as np

from fencewright.exchange.compact import Cells, Named, is_same, rounded
from fencewright.exchange.design_json import design_record, finding_record, summary_record
from fencewright.exchange.design_rows import json_number, json_numbers
from fencewright.exchange.design_tables import (
    Rows,
    braces_rows,
    lines_rows,
    openings_rows,
    post_ids,
    posts_cells,
    pulls_rows,
    side_names,
    spans_cells,
)
from fencewright.job.record import Job
from fencewright.site.letters import obstacle_letter
from fencewright.tables.fence import Layout, Role, SpanKind
from fencewright.tables.top_line import TopLine

Columns = dict[str, Cells]
Tables = dict[str, Columns]
Values = dict[str, Any]
TOLD_AFTER = ("site", "layout", "top line", "pulls", "design")
"""Stages after which there is something new to show."""
_NEED_ROLLS = ("rolls", "rolls_from_yard", "splices")


def site_tables(job: Job) -> tuple[Tables, Values]:
    """Give what is drawn before anything is computed: lines as drawn, things in the way, the plane.

    Returns
    -------
    tables : dict
        `drawn` (`name`, `closed`, `points_m`) and `obstacles` (`name`, `kind`, `geometry`, `points_m`,
        `clearance_m`, `radius_m`, `colour`, `letter`, `is_service`, `is_overhead`, `is_water`).
    values : dict
        `plane`, `sheets`, `bands` (of the top's height above ground and of the lowest gap) and `findings`.
    """
    site, settings = job.site, job.settings
    obstacles = site.obstacles
    choice = settings.top_line
    tables: Tables = {
        "drawn": {
            "name": [line.name for line in site.lines],
            "closed": [line.is_closed for line in site.lines],
            "points_m": [json_numbers(line.xy_m, "length") for line in site.lines],
        },
        "obstacles": {
            **{
                name: [getattr(one, name) for one in obstacles]
                for name in ("name", "kind", "geometry", "colour", "is_service", "is_overhead", "is_water")
            },
            "points_m": [json_numbers(one.xy_m, "length") for one in obstacles],
            "clearance_m": json_numbers([one.clearance_m for one in obstacles], "length"),
            "radius_m": json_numbers([one.radius_m for one in obstacles], "length"),
            "letter": [obstacle_letter(one.kind) for one in obstacles],
        },
    }
    bands = {
        "top_height_m": settings.top_height_m,
        "lowest_top_m": settings.top_height_m - choice.low_m,
        "highest_top_m": settings.top_height_m + choice.high_m,
        "bottom_gap_m": settings.bottom_gap_m,
        "least_gap_m": settings.bottom_gap_m - choice.gap_low_m,
        "largest_gap_m": settings.bottom_gap_m + choice.gap_high_m,
    }
    return tables, {
        "plane": {"name": site.plane.name, "unit_m": site.plane.unit_m},
        "sheets": job.asked.job.sheets,
        "bands": {name: json_number(value, "length") for name, value in bands.items()},
        "findings": [finding_record(finding) for finding in job.findings],
    }


def stage_tables(name: str, gathered: Mapping[str, Any], job: Job) -> tuple[Tables, Values]:
    """Give what a stage adds, as columns and single values.

    Parameters
    ----------
    name : str
        One of `TOLD_AFTER`, `site` apart.
    gathered : mapping
        Every table that the stages have yielded so far, by name.
    job : Job
        What is asked.

    Returns
    -------
    tables : dict
        Columns by table and name, rounded as in design.json; after `design` all of them. `ground` is the
        profile under the lines as built, span after span (`spans.ground_samples` of each): `along_m` from the
        span's start, `ground_m`.
    values : dict
        `findings` as far as they are known; after `pulls` a `summary` without rolls; after `design` all that
        design.json has beside its tables.
    """
    seen: Any = SimpleNamespace(**{"cutting": (), **gathered, "job": job})
    told = {"findings": [finding_record(finding) for finding in gathered.get("findings", ())]}
    if name == "layout":
        return _layout_tables(seen), told
    if name == "top line":
        return _top_line_tables(seen), {}
    if name == "pulls":
        bag = job.settings.holes.bag.yield_m3
        seen.bags, seen.brace_bags = seen.holes.concrete_m3 / bag, seen.brace_holes.concrete_m3 / bag
        summary = {key: value for key, value in summary_record(seen).items() if key not in _NEED_ROLLS}
        rows = {"braces": braces_rows(seen), "pulls": pulls_rows(seen)}
        tables = {"posts": _filled(posts_cells(seen)), "spans": _filled(spans_cells(seen))}
        tables |= {table: columns_of(some) for table, some in rows.items()}
        return tables, {**told, "summary": summary}
    return _record_tables(design_record(gathered["design"]))


def columns_of(rows: Rows) -> Columns:
    """Give rows as columns; no rows have no columns."""
    return {name: [row[name] for row in rows] for name in rows[0]} if rows else {}


def only_new(tables: Tables, told: Tables) -> dict[str, dict[str, Any]]:
    """Give what has not been told yet, and note it as told.

    Parameters
    ----------
    tables : dict
        What a stage adds.
    told : dict
        What the stages before it have told of the same answer; changed in place.

    Returns
    -------
    dict
        Each table's `rows` (how many it has) and those `columns` that were not told, or were told otherwise.
    """
    said = {}
    for name, columns in tables.items():
        before = told.setdefault(name, {})
        fresh = {
            key: cells
            for key, cells in columns.items()
            if key not in before or not is_same(before[key], cells)
        }
        before |= fresh
        rows = next((len(cells) for cells in columns.values()), 0)
        said[name] = {"rows": rows, "columns": fresh}
    return said


def _filled(table: Mapping[str, Cells]) -> Columns:
    """Give the columns of a table; no rows have no columns."""
    return {name: cells for name, cells in table.items() if len(cells)}


def _record_tables(record: Mapping[str, Any]) -> tuple[Tables, Values]:
    """Divide a record of design.json into its tables, also those inside an object, and the rest."""
    tables: Tables = {}
    values: Values = {}
    for key, value in record.items():
        if key != "findings" and _is_table(value):
            tables[key] = columns_of(value)
        elif isinstance(value, dict) and any(_is_table(inner) and inner for inner in value.values()):
            tables |= {
                f"{key}.{name}": columns_of(inner) for name, inner in value.items() if _is_table(inner)
            }
            rest = {name: inner for name, inner in value.items() if not _is_table(inner)}
            values |= {key: rest} if rest else {}
        else:
            values[key] = value
    return tables, values


def _is_table(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(row, dict) for row in value)


def _layout_tables(seen: Any) -> Tables:
    layout: Layout = seen.layout
    posts, spans, braces, ids = layout.posts, layout.spans, layout.braces, post_ids(seen)
    lines = [line.name for line in layout.lines]
    lengths = ("station_m", "x_m", "y_m", "offset_m", "ground_m", "diameter_m")
    return {
        "lines": columns_of(lines_rows(seen)),
        "gates": columns_of(openings_rows(seen, crossings=False)),
        "crossings": columns_of(openings_rows(seen, crossings=True)),
        "posts": {
            **{name: rounded(getattr(posts, name), "length") for name in lengths},
            "id": ids,
            "line": Named(lines, posts.line_index),
            "role": Named([role.label for role in Role], posts.role),
            "turning_rad": rounded(posts.turning_rad, "angle"),
            "rail_face": side_names(posts.rail_face, "both"),
            "why": list(posts.why),
            "is_built": posts.is_built,
            "is_pinned": np.isfinite(posts.pinned_height_m),
            "rock_depth_m": rounded(posts.rock_depth_m, "length"),
        },
        "spans": {
            "line": Named(lines, spans.line_index),
            "from_post": Named(ids, spans.from_post),
            "to_post": Named(ids, spans.to_post),
            "from_station_m": rounded(spans.from_station_m, "length"),
            "to_station_m": rounded(spans.to_station_m, "length"),
            "kind": Named([SpanKind(kind).name.lower() for kind in SpanKind], spans.kind),
            "length_m": rounded(spans.length_m, "length"),
            "ground_samples": np.diff(layout.profile.start),
        },
        "braces": {
            "post": Named(ids, braces.post_index),
            "kind": Named(("diagonal", "horizontal"), braces.is_horizontal.astype(np.int64)),
            **{
                name: rounded(getattr(braces, name), "length")
                for name in ("x_m", "y_m", "length_m", "reach_m", "contact_m")
            },
        },
        "ground": _ground_columns(layout),
    }


def _ground_columns(layout: Layout) -> Columns:
    """Give the ground between the posts, span after span, each from its own start: most edits change few of them."""
    profile, spans = layout.profile, layout.spans
    row = np.repeat(np.arange(len(spans)), np.diff(profile.start))
    length_m = spans.to_station_m - spans.from_station_m
    whole = np.array([line.length_m for line in layout.lines])
    length_m = np.where(length_m < 0, length_m + whole[spans.line_index], length_m)
    return {
        "along_m": rounded(profile.fraction * length_m[row], "length"),
        "ground_m": rounded(profile.ground_m, "length"),
    }


def _top_line_tables(seen: Any) -> Tables:
    top: TopLine = seen.top_line
    return {
        "posts": {
            "top_m": rounded(top.top_m, "length"),
            "above_ground_m": rounded(top.height_m, "length"),
            "uplift_n": rounded(top.uplift_n, "force"),
        },
        "spans": {"lowest_gap_m": rounded(top.lowest_gap_m, "length")},
    }
