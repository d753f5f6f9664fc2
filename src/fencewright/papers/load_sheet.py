"""The load list: what goes on the truck, load by load, in the order of the work."""

from typing import Any

from fencewright.papers.blocks import Band, Block, Column, Section, Table, Words
from fencewright.papers.measures import UNKNOWN, Measures, Record
from fencewright.quantity.show import counted


def _count(value: float | None, unit: str) -> str:
    return f"{UNKNOWN} {unit}" if value is None else counted(value, unit)


def _head(load: dict[str, Any], told: Measures) -> str:
    unknown = load["unknown_items"]
    more = f", and {unknown} of unknown weight" if unknown else ""
    over = "; HEAVIER THAN THE TRUCK MAY CARRY" if load["over_payload"] else ""
    return f"Load {load['number']}: {told.mass(load['mass_kg'])}{more}{over}"


def load_section(record: Record) -> Section | None:
    """Give the list; None where the design has none."""
    load = record.get("load")
    if not load or not load["loads"]:
        return None
    told = Measures(record)
    rows: list[list[str] | Band] = []
    for one in load["loads"]:
        rows.append(Band(_head(one, told)))
        for item in one["items"]:
            rows.append([
                "", item["step"], item["item"], item["size"], _count(item["count"], item["unit"]),
                told.mass(item["mass_kg"]), "",
            ])  # fmt: skip
    columns = [
        Column("On", 10, is_blank=True),
        Column("For", 30),
        Column("What", 46, is_strong=True),
        Column("Size", 42),
        Column("Count", 26, "right", is_strong=True),
        Column("Weight", 18, "right"),
        Column("By", 14, is_blank=True),
    ]
    said = f"Loads of at most {told.mass(load['payload_kg'])}, in the order of the work."
    blocks: list[Block] = [Words(said), Table(columns, rows, 8.5)]
    if load["left_out"]:
        blocks.append(Words(f"Weight not known, and not counted: {', '.join(load['left_out'])}.", "small"))
    return Section("Load list for the truck", blocks)
