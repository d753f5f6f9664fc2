"""design.json: the whole design as one record in SI, and its digest; `design_schema` says what it holds."""

import hashlib
import json
from typing import Any

import numpy as np

from fencewright import __version__
from fencewright.exchange import design_tables as tables
from fencewright.exchange.check_rows import checks_rows, kept_checks
from fencewright.exchange.design_rows import json_number, json_numbers, significant
from fencewright.exchange.stake_out_rows import load_record, measured_rows, stake_out_record, tolerance_rows
from fencewright.exchange.tension_rows import site_checks_rows, tension_rows
from fencewright.findings import Finding
from fencewright.pipeline.record import Design
from fencewright.tables.fence import Role

PROGRAM = "fencewright"
FORMAT = "fencewright design 1"


def design_json(design: Design) -> tuple[dict[str, Any], bytes]:
    """Give the record of design.json and the bytes of the file.

    Parameters
    ----------
    design : Design
        The whole design.

    Returns
    -------
    record : dict
        `format`, `program`, `version`, `digest`, `job`, `crs`, `plane`, `may_be_built`, `summary`, the tables
        `lines`, `gates`, `crossings`, `posts`, `spans`, `braces`, `pulls`, `rolls`, `order`, `tension`,
        `site_checks`, `checks`, `tolerances`, `measured`, the objects of tables `stake_out` and `load`, then `findings` and
        `certificate`. SI, rounded to 0.1 mm, 0.1 N, 1e-6 rad, 1e-3 bags; what is not known is None.
    content : bytes
        ASCII; a line for each key and for each row of a table. `digest` stands on a line of its own and is the
        SHA-256 of the file without that line.

    Notes
    -----
    Cost grows with the posts alone.
    """
    record = _undigested(design)
    parts = _text_parts(record)
    record["digest"] = _digest(parts)
    return record, _file_bytes({**parts, "digest": f'"{record["digest"]}"'})


def design_record(design: Design) -> dict[str, Any]:
    """Give the record of design.json alone, as of `design_json`."""
    record = _undigested(design)
    record["digest"] = record_digest(record)
    return record


def record_digest(record: dict[str, Any]) -> str:
    """SHA-256 of a record as its file has it, less the line of its `digest`; 64 hexadecimal digits."""
    return _digest(_text_parts(record))


def write_design_json(record: dict[str, Any]) -> bytes:
    """Give the bytes of design.json: a line for each key, and for each row of a table."""
    return _file_bytes(_text_parts(record))


def _digest(parts: dict[str, str]) -> str:
    return hashlib.sha256(_file_bytes({key: parts[key] for key in parts if key != "digest"})).hexdigest()


def _file_bytes(parts: dict[str, str]) -> bytes:
    lines = ",\n".join(f"{_encode(key)}:{text}" for key, text in parts.items())
    return f"{{\n{lines}\n}}\n".encode("ascii")


def _text_parts(record: dict[str, Any]) -> dict[str, str]:
    """Give the text of each key's value, one line a row."""
    return {key: _text(value, key in _WITH_TABLES) for key, value in record.items()}


_WITH_TABLES = ("stake_out", "load")


def _text(value: Any, with_tables: bool = False) -> str:
    if isinstance(value, list) and value:
        return "[\n" + ",\n".join(map(_encode, value)) + "\n]"
    if with_tables:
        return "{\n" + ",\n".join(f"{_encode(key)}:{_text(inner)}" for key, inner in value.items()) + "\n}"
    return _encode(value)


_encode = json.JSONEncoder(separators=(",", ":"), allow_nan=False).encode


def _undigested(design: Design) -> dict[str, Any]:
    """Give the record with an empty digest."""
    return {
        "format": FORMAT,
        "program": PROGRAM,
        "version": __version__,
        "digest": "",
        "job": _job(design),
        "crs": design.job.site.plane.crs or "local",
        "plane": {"name": design.job.site.plane.name, "unit_m": design.job.site.plane.unit_m},
        "may_be_built": design.may_be_built,
        "summary": summary_record(design),
        "lines": tables.lines_rows(design),
        "gates": tables.openings_rows(design, crossings=False),
        "crossings": tables.openings_rows(design, crossings=True),
        "posts": tables.posts_rows(design),
        "spans": tables.spans_rows(design),
        "braces": tables.braces_rows(design),
        "pulls": tables.pulls_rows(design),
        "rolls": tables.rolls_rows(design),
        "order": tables.order_rows(design),
        "tension": tension_rows(design),
        "site_checks": site_checks_rows(design),
        "checks": checks_rows(design),
        "stake_out": stake_out_record(design),
        "load": load_record(design),
        "tolerances": tolerance_rows(design),
        "measured": measured_rows(design),
        "findings": [finding_record(finding) for finding in design.findings],
        "certificate": _certificate(design),
    }


def finding_record(finding: Finding) -> dict[str, Any]:
    """Give a finding as design.json has it."""
    where = finding.where
    station_m = None if where.station_m is None else json_number(where.station_m, "length")
    return {
        "level": finding.level,
        "code": finding.code,
        "where": {"kind": where.kind, "id": where.id, "line": where.line, "station_m": station_m},
        "message": finding.message,
        "remedy": finding.remedy,
        "edits": [dict(edit) for edit in finding.edits],
    }


def _job(design: Design) -> dict[str, Any]:
    head = design.job.asked.job
    return {
        **{key: getattr(head, key) for key in ("name", "client", "builder", "place", "revision", "sheets")},
        "text_sha256": hashlib.sha256(design.job.text.encode()).hexdigest(),
    }


def summary_record(design: Design) -> dict[str, Any]:
    """Totals, each the sum of the unrounded column that it names."""
    role = np.bincount(design.layout.posts.role, minlength=len(Role))
    cuts = [cutting.cut_list for cutting in design.cutting]
    lengths = [sum(line.length_m for line in design.layout.lines), design.pulls.rail_m.sum()]
    fence_m, rail_m = json_numbers(lengths, "length")
    concrete_m3 = design.holes.concrete_m3.sum() + design.brace_holes.concrete_m3.sum()
    return {
        "fence_length_m": fence_m,
        "rail_length_m": rail_m,
        "posts": {kind.label: int(role[kind]) for kind in Role},
        "braces": len(design.layout.braces),
        "pulls": len(design.pulls),
        "rolls": sum(len(cut.roll_length_m) for cut in cuts),
        "rolls_from_yard": sum(int(cut.is_remainder.sum()) for cut in cuts),
        "splices": sum(int(cut.splices) for cut in cuts),
        "concrete_m3": json_number(float(concrete_m3), "volume"),
        "bags": json_number(float(design.bags.sum() + design.brace_bags.sum()), "bags"),
        "checks_left_out": len(design.strength.checks) - len(kept_checks(design)),
    }


def _certificate(design: Design) -> dict[str, Any]:
    top = design.top_line.certificate
    cuts = [cutting.cut_list for cutting in design.cutting]
    return {
        "top_line": {
            "gap": significant(top.relative_gap),
            "residual_m": significant(top.max_residual_m),
            "objective_m2": significant(top.objective_m2, 9),
            "lower_bound_m2": significant(top.lower_bound_m2, 9),
            "iterations": int(top.iterations),
            "converged": bool(top.is_converged),
            "of": "the convex program, before concreting is rounded to yes or no",
        },
        "rolls": {
            "cost_m": json_number(sum(cut.cost_m for cut in cuts), "length"),
            "bound_m": json_number(sum(cut.bound_m for cut in cuts), "length"),
            "gap": json_number(_share(cuts), "ratio"),
            "proven": all(cut.is_proven for cut in cuts),
            "products": [
                {
                    "product": cutting.rail,
                    "cost_m": json_number(cutting.cut_list.cost_m, "length"),
                    "bound_m": json_number(cutting.cut_list.bound_m, "length"),
                    "gap": json_number(cutting.cut_list.gap, "ratio"),
                    "proven": bool(cutting.cut_list.is_proven),
                }
                for cutting in design.cutting
            ],
        },
    }


def _share(cuts: list[Any]) -> float:
    """Give what a better cutting could save at most, as a part of the cost."""
    cost_m = sum(cut.cost_m for cut in cuts)
    return max(0.0, cost_m - sum(cut.bound_m for cut in cuts)) / cost_m if cost_m > 0 else 0.0
