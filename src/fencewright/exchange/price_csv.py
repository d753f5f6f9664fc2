"""price.csv: the lines of the price, then the steps from them to the total."""

from typing import Any

from fencewright.exchange.sheet_columns import Cell, Heading, SheetTable
from fencewright.exchange.tables_csv import table_csv

_COLUMNS = (
    ("item", "text", 0),
    ("name", "text", 0),
    ("size", "text", 0),
    ("kind", "text", 0),
    ("activity", "text", 0),
    ("quantity", "amount", 2),
    ("unit", "text", 0),
    ("pack", "amount", 3),
    ("packs", "amount", 4),
    ("pack_price", "plain", 2),
    ("amount", "plain", 2),
    ("currency", "text", 0),
    ("source", "text", 0),
    ("basis", "text", 0),
)
STEP_WORDS = {
    "material": "materials",
    "direct": "direct costs",
    "net": "price before tax",
    "other": "other costs",
}


def price_csv(record: dict[str, Any]) -> bytes:
    """Give price.csv from the record of price.json; a missing price is an empty cell that says so in `source`."""
    return table_csv(price_table(record))


def price_table(record: dict[str, Any]) -> SheetTable:
    """Lines of the price, then its steps, each under its own kind."""
    digits, currency = record["minor_digits"], record["currency"] or ""
    headings = tuple(
        Heading(name, kind, digits if kind == "plain" else decimals) for name, kind, decimals in _COLUMNS
    )
    rows: list[list[Cell]] = []
    for line in record["lines"]:
        cells = {**line, "currency": currency}
        if line["amount"] is None:
            cells["source"] = "MISSING"
        rows.append([cells[name] for name, _, _ in _COLUMNS])
    for step in record["steps"]:
        rate = f"{step['rate'] * 100:g} % " if step["rule"] in ("rate", "margin") else ""
        cells = dict.fromkeys((name for name, _, _ in _COLUMNS), "") | {
            "item": step["name"],
            "name": f"{rate}{STEP_WORDS.get(step['name'], step['name'])}",
            "kind": "sum",
            "quantity": None,
            "pack": None,
            "packs": None,
            "pack_price": None,
            "amount": step["amount"],
            "currency": currency,
        }
        rows.append([cells[name] for name, _, _ in _COLUMNS])
    return SheetTable("Price", headings, rows)
