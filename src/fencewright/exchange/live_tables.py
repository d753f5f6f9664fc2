"""What each stage gives, as columns by the names of design.json: the page's answer while the rest is computed."""

from collections.abc import Mapping, Sequence
from types import SimpleNamespace
from typing import Any

import numpy as np

from fencewright.exchange.design_json import design_record, finding_record, summary_record
from fencewright.exchange.design_rows import json_number, json_numbers, names_at
from fencewright.exchange.design_tables import (
    Rows,
    braces_rows,
    lines_rows,
    openings_rows,
    post_ids,
    posts_columns,
    pulls_rows,
    side_name,
    spans_columns,
)
from fencewright.exchange.tension_rows import site_checks_rows, tension_rows
from fencewright.job.record import Job
from fencewright.tables.fence import Layout, Role, SpanKind
from fencewright.tables.top_line import TopLine

Columns = dict[str, list[Any]]
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
        `clearance_m`, `radius_m`, `colour`, `is_service`, `is_overhead`, `is_water`).
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
        profile under the lines as built: `line`, `station_m`, `ground_m`.
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
        rows = {
            "braces": braces_rows(seen),
            "pulls": pulls_rows(seen),
            "tension": tension_rows(seen),
            "site_checks": site_checks_rows(seen),
        }
        tables = {"posts": _filled(posts_columns(seen)), "spans": _filled(spans_columns(seen))}
        tables |= {table: columns_of(some) for table, some in rows.items()}
        return tables, {**told, "summary": summary}
    return _record_tables(design_record(gathered["design"]))


def columns_of(rows: Rows) -> Columns:
    """Give rows as columns; no rows have no columns."""
    return {name: [row[name] for row in rows] for name in rows[0]} if rows else {}


def _filled(table: Mapping[str, Sequence[Any]]) -> Columns:
    """Give the columns of a table as lists; no rows have no columns."""
    return {name: list(cells) for name, cells in table.items() if len(cells)}


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
            **{name: json_numbers(getattr(posts, name), "length") for name in lengths},
            "id": ids,
            "line": names_at(lines, posts.line_index),
            "role": names_at([role.label for role in Role], posts.role),
            "turning_rad": json_numbers(posts.turning_rad, "angle"),
            "rail_face": [side_name(face, "both") for face in posts.rail_face.tolist()],
            "why": list(posts.why),
            "is_built": posts.is_built.tolist(),
            "is_pinned": np.isfinite(posts.pinned_height_m).tolist(),
            "rock_depth_m": json_numbers(posts.rock_depth_m, "length"),
        },
        "spans": {
            "line": names_at(lines, spans.line_index),
            "from_post": names_at(ids, spans.from_post),
            "to_post": names_at(ids, spans.to_post),
            "from_station_m": json_numbers(spans.from_station_m, "length"),
            "to_station_m": json_numbers(spans.to_station_m, "length"),
            "kind": names_at([SpanKind(kind).name.lower() for kind in SpanKind], spans.kind),
            "length_m": json_numbers(spans.length_m, "length"),
        },
        "braces": {
            "post": names_at(ids, braces.post_index),
            "kind": ["horizontal" if level else "diagonal" for level in braces.is_horizontal.tolist()],
            **{
                name: json_numbers(getattr(braces, name), "length")
                for name in ("x_m", "y_m", "length_m", "reach_m", "contact_m")
            },
        },
        "ground": _ground_columns(layout, lines),
    }


def _ground_columns(layout: Layout, lines: list[str]) -> Columns:
    """Give the ground between the posts, by span and share of its length."""
    profile, spans = layout.profile, layout.spans
    row = np.repeat(np.arange(len(spans)), np.diff(profile.start))
    start_m, end_m = spans.from_station_m[row], spans.to_station_m[row]
    wraps = end_m < start_m
    whole = np.array([line.length_m for line in layout.lines])
    length_m = np.where(wraps, end_m + whole[spans.line_index[row]] - start_m, end_m - start_m)
    station_m = start_m + profile.fraction * length_m
    return {
        "span": row.tolist(),
        "line": names_at(lines, spans.line_index[row]),
        "station_m": json_numbers(station_m, "length"),
        "ground_m": json_numbers(profile.ground_m, "length"),
    }


def _top_line_tables(seen: Any) -> Tables:
    top: TopLine = seen.top_line
    return {
        "posts": {
            "top_m": json_numbers(top.top_m, "length"),
            "above_ground_m": json_numbers(top.height_m, "length"),
            "uplift_n": json_numbers(top.uplift_n, "force"),
        },
        "spans": {"lowest_gap_m": json_numbers(top.lowest_gap_m, "length")},
    }
