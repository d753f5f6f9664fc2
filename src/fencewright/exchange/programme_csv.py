"""The programme as tables that open in a spreadsheet: activities, days, deliveries."""

from typing import Any

from fencewright.exchange.sheet_columns import Asked, Row, SheetTable, asked_key, sheet_table
from fencewright.exchange.tables_csv import table_csv
from fencewright.quantity.parse import FOOT_M


def _joined(name: str, key: str, width: int = 20) -> Asked:
    return Asked(name, "text", lambda row: ", ".join(row[key]), width)


_ACTIVITIES = (
    asked_key("id", width=14),
    asked_key("activity", key="name", width=40),
    asked_key("place", width=30),
    asked_key("quantity", "amount"),
    asked_key("unit", width=8),
    asked_key("start", width=12),
    asked_key("start_time"),
    asked_key("finish", width=12),
    asked_key("finish_time"),
    asked_key("work_hours", "plain"),
    asked_key("float_days", "plain"),
    asked_key("free_float_days", "plain"),
    asked_key("critical"),
    _joined("after", "after"),
    _joined("after_crew", "after_crew"),
    asked_key("crew", "whole"),
    _joined("people", "people"),
    _joined("plant", "plant"),
)
_DAYS = (
    asked_key("day", width=12),
    asked_key("hours", "plain"),
    asked_key("not_worked", key="said", width=24),
    _joined("people", "people", 30),
    _joined("plant", "plant"),
    _joined("activities", "activities", 50),
)
_DELIVERIES = (
    asked_key("on_site_by", width=12),
    asked_key("id", key="item", width=24),
    asked_key("item", key="what", width=24),
    asked_key("size", width=18),
    asked_key("quantity", "amount"),
    asked_key("unit"),
    asked_key("for", width=16),
)


def programme_csv(record: dict[str, Any]) -> dict[str, bytes]:
    """Give programme.csv, programme-days.csv and deliveries.csv from the record of programme.json.

    Returns
    -------
    dict of str to bytes
        By file name, lengths in the units of the sheets. Every row says whether the works may start, since a
        table may be printed alone.
    """
    may = Asked("may_start", "text", lambda _: bool(record["may_start"]), 12)
    activities = [
        {**row, **dict(zip(("quantity", "unit"), sheet_quantity(row, record["job"]["sheets"]), strict=True))}
        for row in record["activities"]
    ]
    tables: dict[str, tuple[str, tuple[Asked, ...], list[Row]]] = {
        "programme.csv": ("Programme", _ACTIVITIES, activities),
        "programme-days.csv": ("Days", _DAYS, record["days"]),
        "deliveries.csv": ("Deliveries", _DELIVERIES, record["deliveries"]),
    }
    return {name: table_csv(_table(*table, may)) for name, table in tables.items()}


def sheet_quantity(row: Row, sheets: str) -> tuple[float, str]:
    """Give how much there is to do in an activity in the units of the sheets: lengths in feet or metres."""
    quantity, unit = float(row["quantity"]), str(row["unit"])
    return (quantity / FOOT_M, "ft") if unit == "m" and sheets == "us" else (quantity, unit)


def _table(title: str, asked: tuple[Asked, ...], rows: list[Row], may: Asked) -> SheetTable:
    return sheet_table(title, "metric", (*asked, may), rows)
