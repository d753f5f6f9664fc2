"""Checklists in the order of the work, with the tolerances of the trade's own practice."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib import resources
from typing import Any

from fencewright.papers.blocks import Block, Heading, Section, Ticks, Words
from fencewright.papers.measures import Measures, Record


@cache
def _lists() -> list[dict[str, Any]]:
    """Lists as shipped, in the order of the work."""
    home = resources.files("fencewright").joinpath("data").joinpath("papers").joinpath("checklists.toml")
    lists: list[dict[str, Any]] = tomllib.loads(home.read_text("utf-8"))["list"]
    return lists


def check_section(record: Record) -> Section:
    """Give every checklist; what is measured has its tolerance, in the units of the sheets."""
    told = Measures(record)
    tolerances = {row["what"]: row["within_m"] for row in record["tolerances"]}
    blocks: list[Block] = [
        Words("Tick off in this order. Tolerances are common practice; local practice may ask for less.")
    ]
    for one in _lists():
        rows = [
            (row["what"], _within(row.get("within", ""), row.get("more", ""), tolerances, told))
            for row in one["row"]
        ]
        blocks += [Heading(one["title"]), Ticks(rows)]
    return Section("Checklists", blocks)


def _within(name: str, more: str, tolerances: Mapping[str, float], told: Measures) -> str:
    """Write a tolerance: that of the design by its name, then what else there is to say of it."""
    if not name:
        return more
    return f"{told.small(tolerances[name])} {more}".strip()
