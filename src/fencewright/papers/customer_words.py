"""Words of the papers for the customer, as shipped, and which of them hold for a design and its price."""

import tomllib
from collections.abc import Iterable, Sequence
from fnmatch import fnmatchcase
from functools import cache
from importlib import resources
from typing import Any

from fencewright.papers.measures import Record


@cache
def _words() -> dict[str, Any]:
    home = resources.files("fencewright").joinpath("data").joinpath("papers").joinpath("customer.toml")
    return tomllib.loads(home.read_text("utf-8"))


def _has_any(items: Iterable[str], patterns: Sequence[str]) -> bool:
    return any(fnmatchcase(item, pattern) for item in items for pattern in patterns)


def _priced_items(priced: Record) -> list[str]:
    """Lines that are in the total: those that have a price."""
    return [line["item"] for line in priced["lines"] if line["amount"] is not None]


def included_words(priced: Record) -> list[str]:
    """Say what a price includes, from its lines."""
    items = _priced_items(priced)
    return [row["what"] for row in _words()["included"] if _has_any(items, row["lines"])]


def excluded_words(priced: Record) -> list[str]:
    """Say what a price leaves out, from its lines."""
    items = _priced_items(priced)
    return [row["what"] for row in _words()["excluded"] if not _has_any(items, row["lines"])]


def upkeep_words(record: Record) -> list[dict[str, str]]:
    """Rows of the upkeep calendar that a design needs: `id`, `when`, `title`, `what`."""
    return [row for row in _words()["upkeep"] if record.get(row.get("needs", "posts"))]


def check_words() -> list[str]:
    """Say how the owner checks the tension of a rail."""
    rows: list[str] = _words()["check"]["rows"]
    return rows


def call_words() -> list[str]:
    """Say when the owner calls the builder."""
    rows: list[str] = _words()["call"]["rows"]
    return rows
