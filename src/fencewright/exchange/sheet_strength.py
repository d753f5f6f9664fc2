"""Tables for people: how tight each pull is drawn, how that is proven on site, and whether all holds."""

from functools import partial
from typing import Any

from fencewright.exchange.sheet_columns import (
    UNITS,
    Asked,
    Row,
    SheetTable,
    asked_key,
    built_column,
    sheet_table,
    sheet_temperature,
)


def tension_table(record: Row) -> SheetTable:
    """One row a pull: what to pull to at each rail temperature, from which post, and how to prove it."""
    system = record["job"]["sheets"]
    pulls = {pull["id"]: pull for pull in record["pulls"]}
    proofs = _proofs(record)
    rows = [
        {
            **{key: pulls[row["pull"]][key] for key in ("line", "run", "rail", "product", "length_m")},
            **row,
            "proof": proofs.get((pulls[row["pull"]]["run"], pulls[row["pull"]]["product"]), ""),
        }
        for row in record["tension"]
    ]
    asked = [
        asked_key("pull"),
        asked_key("line", width=16),
        asked_key("rail", "whole"),
        asked_key("product", width=18),
        asked_key("length", "long", key="length_m"),
        asked_key("tensioner_post"),
        asked_key("anchor_post"),
        asked_key("drawn_from"),
        _reference(system),
        asked_key("set_tension", "force", key="set_tension_n"),
        Asked("window_low", "force", partial(_of_list, key="window_n", at=0)),
        Asked("window_high", "force", partial(_of_list, key="window_n", at=1)),
        asked_key("window_open"),
        *_days(record, system),
        asked_key("far_share", "percent"),
        asked_key("stretch", "small", key="stretch_m"),
        asked_key("take_up", "small", key="take_up_m"),
        asked_key("turns", "plain"),
        asked_key("regrips", "whole"),
        asked_key("extra_rail", "long", key="extra_rail_m"),
        asked_key("marks_apart", "long", key="marked_m"),
        asked_key("marks_move", "mm", key="marked_stretch_m"),
        asked_key("repull_after_days", "whole", key="repull_days"),
        asked_key("repull_take_in", "small", key="repull_m"),
        asked_key("site_checks", key="proof", width=80),
        built_column(record),
    ]
    return sheet_table("Tension", system, asked, rows)


def _reference(system: str) -> Asked:
    unit = sheet_temperature(0.0, system)[1]
    return Asked(
        f"reference_{unit}", "whole", lambda row: sheet_temperature(row["reference_temperature_c"], system)[0]
    )


def _of_list(row: Row, key: str, at: int) -> Any:
    return row[key][at]


def _days(record: Row, system: str) -> list[Asked]:
    """Columns of the chart: a rail temperature each."""
    chart = record["tension"][0]["chart"] if record["tension"] else []
    shown = [sheet_temperature(day["rail_temperature_c"], system) for day in chart]
    return [
        Asked(f"pull_to_at_{degrees}_{unit}", "force", partial(_on_day, day=day))
        for day, (degrees, unit) in enumerate(shown)
    ]


def _on_day(row: Row, day: int) -> Any:
    return row["chart"][day]["tension_n"]


def _proofs(record: Row) -> dict[tuple[str, str], str]:
    """Site checks of each run and product in words, on the day nearest the reference temperature."""
    if not record["tension"] or not record["site_checks"]:
        return {}
    reference = record["tension"][0]["reference_temperature_c"]
    day = min(
        (row["rail_temperature_c"] for row in record["site_checks"]),
        key=lambda one: (abs(one - reference), one),
    )
    pulls = {pull["id"]: (pull["run"], pull["product"]) for pull in record["pulls"]}
    said: dict[tuple[str, str], list[str]] = {}
    for row in record["site_checks"]:
        if row["rail_temperature_c"] == day:
            said.setdefault(pulls[row["pull"]], []).append(_proof(row, record["job"]["sheets"]))
    degrees, unit = sheet_temperature(day, record["job"]["sheets"])
    return {key: f"at {degrees} {unit}: {'; '.join(words)}" for key, words in said.items()}


def _proof(row: Row, system: str) -> str:
    units = UNITS[system]

    def shown(value: float | None, kind: str, decimals: int) -> str:
        return "?" if value is None else f"{value / units[kind][1]:.{decimals}f}"

    small = 2 if system == "us" else 0
    moves = [shown(row[key], "small", small) for key in ("deflection_pinned_m", "deflection_sliding_m")]
    gives = moves[0] if moves[0] == moves[1] else f"{moves[0]} to {moves[1]}"
    beats = "?" if row["frequency_hz"] is None else f"{row['frequency_hz']:.1f}"
    return (
        f"beyond {row['post']} ({row['place']}) {shown(row['span_m'], 'long', 1)} {units['long'][0]} span,"
        f" {shown(row['push_n'], 'force', 0)} {units['force'][0]} push gives {gives} {units['small'][0]},"
        f" plucked {beats} beats a second"
    )


def site_checks_table(record: Row) -> SheetTable:
    """One row a place and rail temperature."""
    system = record["job"]["sheets"]
    unit = sheet_temperature(0.0, system)[1]
    asked = [
        asked_key("pull"),
        asked_key("beyond_post", key="post"),
        asked_key("place", width=14),
        Asked(f"rail_{unit}", "whole", lambda row: sheet_temperature(row["rail_temperature_c"], system)[0]),
        asked_key("span", "long", key="span_m"),
        asked_key("tension", "force", key="tension_n"),
        asked_key("push", "force", key="push_n"),
        asked_key("deflection_pinned", "small", key="deflection_pinned_m"),
        asked_key("deflection_sliding", "small", key="deflection_sliding_m"),
        asked_key("plucked", "frequency", key="frequency_hz"),
        built_column(record),
    ]
    return sheet_table("Site checks", system, asked, record["site_checks"])


def checks_table(record: Row) -> SheetTable:
    """One row a check of a post, hole or brace; demand and capacity in the unit that stands beside them."""
    system = record["job"]["sheets"]
    asked = [
        asked_key("post"),
        asked_key("brace"),
        asked_key("part", width=14),
        asked_key("check", width=18),
        asked_key("utilisation", "percent"),
        Asked("demand", "plain", partial(_in_unit, key="demand", system=system)),
        Asked("capacity", "plain", partial(_in_unit, key="capacity", system=system)),
        Asked("unit", "text", lambda row: _unit(row["unit"], system)[0]),
        asked_key("case", width=30),
        asked_key("counted"),
        asked_key("source", width=14),
        asked_key("clause", width=34),
        built_column(record),
    ]
    return sheet_table("Checks", system, asked, record["checks"])


def _unit(unit: str, system: str) -> tuple[str, float]:
    """Give the sheets' unit for one of design.json, and how much it is in SI."""
    units = UNITS[system]
    if unit == "N":
        return units["force"][0], units["force"][1]
    if unit == "N m":
        known = {"us": ("ft lbf", units["force"][1] * units["long"][1]), "metric": ("N m", 1.0)}
        return known[system]
    return units["small"][0], units["small"][1]


def _in_unit(row: Row, key: str, system: str) -> float | None:
    return None if row[key] is None else float(row[key] / _unit(row["unit"], system)[1])
