"""A value of the wrong kind at any key of the job file: the sentence says what it is and what to write."""

import json
import re
from pathlib import Path
from typing import Any

import pytest

from fencewright.findings import InputError
from fencewright.job.reading import check_job

SCHEMA = json.loads((Path(__file__).parents[2] / "docs" / "job.schema.json").read_text("utf-8"))
LINE = {"name": "a", "points": [["0 m", "0 m"], ["50 m", "0 m"]]}
WRONG: tuple[Any, ...] = (
    True, 3, -1, 1.5, "", "x", "x" * 400, [], [1], ["x"], ["x"] * 400, {"a": 1}, [[1]], float("nan"), 10**400, "\ud83d",
)  # fmt: skip
RAW = re.compile(
    r"should|valid (string|number|integer|list)|unable to|Value error|instance|datetime|True|False"
)


def _resolved(node: dict[str, Any]) -> dict[str, Any]:
    for one in (node, *node.get("anyOf", ())):
        if "$ref" in one:
            found: dict[str, Any] = SCHEMA["$defs"][one["$ref"].rsplit("/", 1)[-1]]
            return found
    return node


def _keys() -> list[tuple[str, str, bool]]:
    keys = []
    for table, node in SCHEMA["properties"].items():
        is_rows = node.get("type") == "array"
        row = _resolved(node["items"] if is_rows else node)
        keys += [(table, key, is_rows) for key in row.get("properties", {})]
    return keys


def _said(table: str, key: str, is_rows: bool, value: object) -> str:
    data: dict[str, Any] = {"job": {"name": "x"}, "line": [dict(LINE)]}
    row = data["line"][0] if table == "line" else dict(data.get(table, {})) if not is_rows else {}
    row[key] = value
    data[table] = [row] if is_rows else row
    try:
        check_job(data)
    except InputError as error:
        return str(error)
    return ""


@pytest.mark.parametrize("table", list(SCHEMA["properties"]))
def test_every_wrong_kind_of_value_is_refused_in_the_houses_words(table: str) -> None:
    said = {
        (key, repr(value)[:20]): _said(table, key, is_rows, value)
        for of, key, is_rows in _keys()
        if of == table
        for value in WRONG
    }
    assert any(said.values())
    assert {place: one for place, one in said.items() if RAW.search(one)} == {}
    # one sentence, with what to do after the colon
    assert [one for one in said.values() if one and ":" not in one.removeprefix("job.toml: ")] == []


@pytest.mark.parametrize(
    ("table", "key", "value", "sentence"),
    [
        ("site", "soil", True, "site, soil: true is no text: write it in quotes"),
        (
            "site",
            "unstable",
            3,
            "site, unstable: 3 is neither true nor false: write one of the two, without quotes",
        ),
        ("site", "origin", 3, "site, origin: 3 is no list: write one in square brackets"),
        ("programme", "crew", 1.5, "programme, crew: 1.5 is no whole number: write one, like 2"),
        ("programme", "crew", 0, "programme, crew: 0 is too small: write 1 or more"),
        ("risk", "runs", 3, "risk, runs: 3 is too small: write 1,000 or more"),
        ("risk", "runs", 10**7, "risk, runs: 10000000 is too large: write 1,000,000 or less"),
        ("price", "vehicles", float("inf"), "price, vehicles: inf is no number: write a number"),
        (
            "site",
            "frost_depth",
            True,
            "site, frost_depth: true has no unit: write it in quotes with its unit",
        ),
        ("job", "sheets", True, "job, sheets: true is not one of 'us' or 'metric'"),
        ("job", "name", "", "job, name: this is empty: write a text"),
        ("job", "name", "x" * 400, "job, name: 400 characters are too many: write at most"),
    ],
)
def test_what_is_said_of_a_wrong_value(table: str, key: str, value: object, sentence: str) -> None:
    assert sentence in _said(table, key, is_rows=False, value=value)
