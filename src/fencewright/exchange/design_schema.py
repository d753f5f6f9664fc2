"""JSON Schema of design.json, draft 2020-12."""

from collections.abc import Mapping
from typing import Any

from fencewright.exchange import check_columns as checks
from fencewright.exchange import design_columns as columns
from fencewright.exchange import stake_out_columns as staking
from fencewright.exchange import tension_columns as tension
from fencewright.exchange.design_columns import Column, row_schema

_LEVELS = ("stop", "caution", "note")
_PLACE = (
    Column(
        "kind", "text", "Kind of thing: job, line, post, span, gate, obstacle, ground, pull, roll, order, ..."
    ),
    Column("id", "text", "Its name; empty for the whole job."),
    Column("line", "text", "Name of the line; empty where none."),
    Column("station_m", "length", "Station along it; null where none. [m]"),
)
_FINDINGS = (
    Column("level", "text", "stop: cannot be built as asked; caution: look; note.", _LEVELS),
    Column("code", "text", "Stable short name."),
    Column("message", "text", "What is wrong and by how much."),
    Column("remedy", "text", "What would mend it; empty where nothing is to be done."),
)
_JOB = (
    Column("name", "text", "Name of the job."),
    Column("client", "text", "Who it is for."),
    Column("builder", "text", "Who builds it."),
    Column("place", "text", "Where it is."),
    Column("revision", "text", "Revision printed on every sheet."),
    Column("sheets", "text", "Units of the sheets.", ("us", "metric")),
    Column("text_sha256", "text", "SHA-256 of the job file's text."),
)
_PLANE = (
    Column("name", "text", "The plane as printed."),
    Column("unit_m", "length", "Metres in one unit of its system; x_m and y_m are metres all the same. [m]"),
)
_SUMMARY = (
    Column("fence_length_m", "length", "Plan length of all lines, gates included. [m]"),
    Column("rail_length_m", "length", "Rail along the slope, tails included. [m]"),
    Column("braces", "whole", "Braces."),
    Column("pulls", "whole", "Pulls."),
    Column("rolls", "whole", "Rolls used, new and from the yard."),
    Column("rolls_from_yard", "whole", "Of them from the yard."),
    Column("splices", "whole", "Splices."),
    Column("concrete_m3", "volume", "Concrete, net of the posts. [m3]"),
    Column("bags", "bags", "Bags of concrete, exact, waste left out. [bags]"),
    Column("checks_left_out", "whole", "Checks of a huge fence that are made and do not stand in `checks`."),
)
_TOP_LINE = (
    Column("gap", "ratio", "Objective less its lower bound, as a part of it. [-]"),
    Column("residual_m", "ratio", "Furthest that an unknown would still move. [m]"),
    Column("objective_m2", "ratio", "Of the convex program. [m2]"),
    Column("lower_bound_m2", "ratio", "No line costs less. [m2]"),
    Column("iterations", "whole", "Iterations used."),
    Column("converged", "flag", "Whether the gap asked for was reached."),
    Column("of", "text", "What is certified."),
)
_CUTTING = (
    Column("cost_m", "length", "Cost of the cut lists, a splice counting as rail. [m of rail]"),
    Column("bound_m", "length", "No cut list costs less. [m of rail]"),
    Column("gap", "ratio", "Their difference, as a part of the cost. [-]"),
    Column("proven", "flag", "Whether the least cost is proven."),
)
TABLES: Mapping[str, tuple[Column, ...]] = {
    "lines": columns.LINES,
    "gates": columns.GATES,
    "crossings": columns.CROSSINGS,
    "posts": (*columns.POSTS, *checks.POST_STRENGTH),
    "spans": columns.SPANS,
    "braces": (*columns.BRACES, *checks.BRACE_STRENGTH),
    "pulls": columns.PULLS,
    "rolls": columns.ROLLS,
    "order": columns.ORDER,
    "tension": tension.TENSION,
    "site_checks": tension.SITE_CHECKS,
    "checks": checks.CHECKS,
    "tolerances": staking.TOLERANCES,
    "measured": staking.MEASURED,
}


def design_schema() -> dict[str, Any]:
    """Give the JSON Schema of design.json.

    Returns
    -------
    dict
        Draft 2020-12; every key that a reader may rely on is required, and more may be added later.
    """
    properties = {
        **_heads(),
        **{name: {"type": "array", "items": row_schema(row)} for name, row in TABLES.items()},
        "stake_out": row_schema(staking.STAKE_OUT),
        "load": row_schema(staking.LOAD),
        "findings": {"type": "array", "items": _with(_FINDINGS, where=row_schema(_PLACE), edits=_edits())},
        "certificate": {
            "type": "object",
            "required": ["top_line", "rolls"],
            "properties": {"top_line": row_schema(_TOP_LINE), "rolls": row_schema(_CUTTING)},
        },
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "design.json of fencewright",
        "description": "Lengths in metres, forces in newtons, angles in radians; null: not known.",
        "type": "object",
        "required": list(properties),
        "properties": properties,
    }


def _heads() -> dict[str, Any]:
    counts = {role: {"type": "integer", "minimum": 0} for role in columns.ROLES}
    by_role = {
        "type": "object",
        "required": list(counts),
        "properties": counts,
        "description": "Posts by role.",
    }
    return {
        "format": {"const": "fencewright design 1"},
        "program": {"type": "string"},
        "version": {"type": "string"},
        "digest": {
            "type": "string",
            "pattern": "^[0-9a-f]{64}$",
            "description": "SHA-256 of the file without the line of `digest`.",
        },
        "job": row_schema(_JOB),
        "crs": {
            "type": "string",
            "description": "Coordinate system of the plane: an EPSG code, PROJ or WKT text, or `local`.",
        },
        "plane": row_schema(_PLANE),
        "may_be_built": {"type": "boolean", "description": "False: a stop finding forbids it."},
        "summary": _with(_SUMMARY, posts=by_role),
    }


def _with(row: tuple[Column, ...], **more: dict[str, Any]) -> dict[str, Any]:
    """Give the schema of a row with more keys."""
    schema = row_schema(row)
    return {
        **schema,
        "required": [*schema["required"], *more],
        "properties": {**schema["properties"], **more},
    }


def _edits() -> dict[str, Any]:
    return {"type": "array", "items": {"type": "object"}, "description": "Changes to the job that mend it."}
