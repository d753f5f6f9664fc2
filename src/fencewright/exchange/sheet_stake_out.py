"""Tables for people: how each hole is found on the ground, and what goes on the truck."""

from functools import partial
from typing import Any

from fencewright.exchange.sheet_columns import Asked, Row, SheetTable, asked_key, built_column, sheet_table


def stake_out_table(record: Row) -> SheetTable:
    """One row a post, then one a brace's foot: chainage, place, offsets, ties and how well they place it."""
    asked = [
        asked_key("id"),
        asked_key("post"),
        asked_key("line", width=16),
        asked_key("station", "long", key="station_m"),
        asked_key("slope_station", "long", key="slope_station_m"),
        asked_key("from_previous", "long", key="from_previous_m"),
        asked_key("slope_from_previous", "long", key="slope_from_previous_m"),
        asked_key("x", "long", key="x_m"),
        asked_key("y", "long", key="y_m"),
        asked_key("left_of_line", "small", key="left_of_line_m"),
        asked_key("left_of_string", "small", key="left_of_string_m"),
        *(column for number in (0, 1) for column in _tie_columns(number)),
        asked_key("tie_side"),
        asked_key("tie_angle", "angle", key="tie_angle_rad"),
        asked_key("tie_state"),
        asked_key("position_sd", "small", key="position_sd_m"),
        asked_key("major_sd", "small", key="major_sd_m"),
        asked_key("minor_sd", "small", key="minor_sd_m"),
        asked_key("major_heading", "angle", key="major_heading_rad"),
        built_column(record),
    ]
    return sheet_table("Stake-out", record["job"]["sheets"], asked, record["stake_out"]["stakes"])


def _tie_columns(number: int) -> list[Asked]:
    head = f"tie_{number + 1}"
    return [
        Asked(f"{head}_from", "text", partial(_tie, number=number, key="reference"), 16),
        Asked(f"{head}_level", "long", partial(_tie, number=number, key="level_m")),
        Asked(f"{head}_slope", "long", partial(_tie, number=number, key="slope_m")),
    ]


def _tie(row: Row, number: int, key: str) -> Any:
    """One value of one tie; none where the job names no reference points."""
    return row["ties"][number][key] if row["ties"] else None


def load_table(record: Row) -> SheetTable:
    """One row a thing in a load, in the order of loading; what weighs an unknown amount has an empty cell."""
    rows = [
        {**item, "load": load["number"], "load_mass_kg": load["mass_kg"], "left_out": load["unknown_items"]}
        for load in record["load"]["loads"]
        for item in load["items"]
    ]
    asked = [
        asked_key("load", "whole"),
        asked_key("step", width=16),
        asked_key("item", width=28),
        asked_key("size", width=22),
        asked_key("count", "amount"),
        asked_key("unit"),
        asked_key("mass_each", "mass", key="mass_each_kg"),
        asked_key("mass", "mass", key="mass_kg"),
        asked_key("volume", "volume", key="volume_m3"),
        asked_key("load_mass", "mass", key="load_mass_kg"),
        asked_key("not_weighed_in_load", "whole", key="left_out"),
        asked_key("order", width=18),
        asked_key("weighed_by", width=40),
        built_column(record),
    ]
    return sheet_table("Load", record["job"]["sheets"], asked, rows)
