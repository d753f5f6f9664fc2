"""Edits of every repeated table of the job file, of alternatives, and moves by an amount."""

import tomllib
from typing import Any, get_args

import pytest

from fencewright.edits.applying import apply_edit
from fencewright.edits.requests import Table
from fencewright.findings import InputError
from fencewright.job.schema import JobFile

JOB = """\
[job]
name = "Home"
sheets = "us"

[[line]]
name = "home"
points = [["0 ft", "0 ft"], ["200 ft", "0 ft"]]

[[gate]]
line = "home"
at = "20 ft"      # by the lane
opening = "12 ft"

[fence]
rails = 4
"""
ROWS: dict[str, dict[str, Any]] = {
    "soil_zone": {"line": "home", "from": "0 ft", "to": "50 ft", "soil": "clay"},
    "gate": {"line": "home", "at": "5' 6 1/2\"", "opening": "12 ft"},
    "crossing": {"line": "home", "at": "60 ft", "width": "10 ft"},
    "obstacle": {"kind": "tree", "points": [["10 ft", "3 ft"]]},
    "strand": {"rail": "polymer rail", "height": "50 in"},
    "strain": {"line": "home", "at": "100 ft"},
    "pin": {"line": "home", "at": "100 ft", "height": "54 in"},
    "built": {"line": "home", "at": "100 ft", "offset": "-2 in"},
    "rock": {"line": "home", "at": "100 ft", "depth": "20 in"},
    "size": {"line": "home", "at": "100 ft", "set": "concrete"},
    "reference": {"name": "barn", "at": ["40 ft", "-60 ft"]},
    "measured": {"line": "home", "at": "100 ft", "what": "top", "value": "54 in"},
    "payment": {"stage": "on acceptance", "share": "40 %"},
    "neighbour": {"name": "next door", "line": "home", "share": "50 %"},
    "extra": {"name": "permit", "price": "85"},
    "rate": {"work": "post", "per_hour": 6},
    "alternative": {"name": "three rails", "fence": {"rails": 3}},
}


def after(*edits: dict[str, Any]) -> dict[str, Any]:
    text = JOB
    for edit in edits:
        text = apply_edit(text, edit).text
    return tomllib.loads(text)


def test_every_repeated_table_of_the_job_file_but_lines_takes_rows() -> None:
    schema = JobFile.model_json_schema(by_alias=True)["properties"]
    repeated = {name for name, part in schema.items() if part.get("type") == "array"}
    assert repeated == {*get_args(Table), "line"}
    assert set(ROWS) == set(get_args(Table))


@pytest.mark.parametrize("table", sorted(ROWS))
def test_a_row_is_added_changed_and_removed(table: str) -> None:
    before = tomllib.loads(JOB)
    number = len(before.get(table, []))
    add = {"kind": "add", "table": table, "values": ROWS[table]}
    assert after(add)[table][number] == ROWS[table]
    assert after(add, {"kind": "remove", "table": table, "item": number}) == before


def test_an_alternative_differs_key_by_key_and_row_by_row() -> None:
    add = {"kind": "add", "table": "alternative", "values": {"name": "wires", "fence": {"rails": 3}}}
    taller = {"kind": "set", "path": ["alternative", 0, "fence", "top_height"], "value": "50 in"}
    strand = {"kind": "add", "table": "strand", "alternative": "wires", "values": {"rail": "coated wire"}}
    higher = {"kind": "set", "path": ["alternative", 0, "strand", 0, "height"], "value": "20 in"}
    own = {"kind": "set", "path": ["alternative", 0, "fence", "rails"], "value": None}
    data = after(add, taller, strand, higher, own)
    assert data["alternative"] == [
        {
            "name": "wires",
            "fence": {"top_height": "50 in"},
            "strand": [{"rail": "coated wire", "height": "20 in"}],
        }
    ]
    assert data["fence"] == {"rails": 4}
    away = {"kind": "remove", "table": "strand", "item": 0, "alternative": 0}
    assert after(add, strand, away)["alternative"] == [{"name": "wires", "fence": {"rails": 3}}]


def test_an_alternative_may_begin_with_rows() -> None:
    add = {
        "kind": "add",
        "table": "alternative",
        "values": {"name": "w", "strand": [{"rail": "coated wire"}]},
    }
    more = {"kind": "add", "table": "strand", "alternative": 0, "values": {"rail": "polymer rail"}}
    rows = after(add, more)["alternative"][0]["strand"]
    assert [row["rail"] for row in rows] == ["coated wire", "polymer rail"]


@pytest.mark.parametrize(
    ("path", "value", "says"),
    [
        (["alternative", 0, "fence", "rails"], "a lot", "'a lot' is no whole number"),
        (["alternative", 0, "fence", "raisl"], 3, "did you mean `rail"),
        (["alternative", 0, "holes", "auger"], "12", "no length with a unit"),
    ],
)
def test_what_an_alternative_cannot_hold_is_refused_at_its_field(
    path: list[Any], value: Any, says: str
) -> None:
    text = apply_edit(JOB, {"kind": "add", "table": "alternative", "values": ROWS["alternative"]}).text
    with pytest.raises(InputError, match=says) as caught:
        apply_edit(text, {"kind": "set", "path": path, "value": value})
    assert list(caught.value.field) == path


def test_a_corner_and_a_gate_are_moved_by_an_amount() -> None:
    corner = {"kind": "move_corner", "line": "home", "corner": 1, "by": ["-5 ft", "1' 6\""]}
    gate = {"kind": "slide", "table": "gate", "item": 0, "by": "-2' 6\""}
    data = after(corner, gate)
    assert data["line"][0]["points"] == [["0 ft", "0 ft"], ["195 ft", "1.5 ft"]]
    assert data["gate"][0]["at"] == "17.5 ft"


@pytest.mark.parametrize(
    "edit",
    [
        {"kind": "move_corner", "line": "home", "corner": 1},
        {"kind": "move_corner", "line": "home", "corner": 1, "to": [0, 0], "by": [0, 0]},
        {"kind": "slide", "table": "gate", "item": 0},
        {"kind": "slide", "table": "gate", "item": 0, "by": "3"},
    ],
)
def test_a_move_that_says_nothing_or_too_much_is_refused(edit: dict[str, Any]) -> None:
    with pytest.raises(InputError, match=r"where to|no length"):
        apply_edit(JOB, edit)
