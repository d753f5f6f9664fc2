"""Checklists in the order of the work, with the tolerances of the trade's own practice."""

import tomllib
from functools import cache
from importlib import resources
from typing import Any

from fencewright.catalogue.rows import Catalogue
from fencewright.papers.blocks import Block, Heading, Section, Ticks, Words
from fencewright.papers.measures import Measures, Record


@cache
def _lists() -> list[dict[str, Any]]:
    """Lists as shipped, in the order of the work."""
    home = resources.files("fencewright").joinpath("data").joinpath("papers").joinpath("checklists.toml")
    lists: list[dict[str, Any]] = tomllib.loads(home.read_text("utf-8"))["list"]
    return lists


def check_section(record: Record, catalogue: Catalogue) -> Section:
    """Give every checklist; what is measured has its tolerance, in the units of the sheets."""
    told = Measures(record)
    blocks: list[Block] = [
        Words("Tick off in this order. Tolerances are common practice; local practice may ask for less.")
    ]
    for one in _lists():
        rows = [
            (row["what"], _within(row.get("within", ""), row.get("more", ""), catalogue, told))
            for row in one["row"]
        ]
        blocks += [Heading(one["title"]), Ticks(rows)]
    return Section("Checklists", blocks)


def _within(name: str, more: str, catalogue: Catalogue, told: Measures) -> str:
    """Write a tolerance: the trade default of that name, then what else there is to say of it."""
    if not name:
        return more
    value = catalogue.practice[f"measured.{name}"].value
    shown = told.small(value) if isinstance(value, float) else ""
    return f"{shown} {more}".strip()
