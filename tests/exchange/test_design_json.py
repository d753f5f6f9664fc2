"""design.json says the design, in SI, rounded, valid by its own schema."""

import hashlib
import json
import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import jsonschema
import numpy as np
import pytest

from fencewright.exchange.design_json import design_json, design_record, record_digest, write_design_json
from fencewright.exchange.design_schema import TABLES, design_schema
from fencewright.pipeline.record import Design
from fencewright.tables.fence import Pulls

Make = Callable[..., Design]

# Keys of issue 3, section "design.json": others build on these names.
ISSUE_KEYS = {
    "posts": "id line also role station_m x_m y_m offset_m ground_m top_m top_sd_m above_ground_m embedment_m"
    " hole_diameter_m hole_depth_m set concrete_m3 bags uplift_n stock_length_m rail_marks_m cut why",
    "braces": "id post kind x_m y_m length_m hole_depth_m concrete_m3 bags",
    "pulls": "id line rail length_m turning_rad turning_3d_rad from_post to_post",
    "rolls": "id length_m offcut_m pieces",
    "order": "id item size unit net waste order",
    "findings": "level code where message remedy edits",
}
ISSUE_SUMMARY = "fence_length_m rail_length_m posts braces pulls rolls splices concrete_m3 bags"


@pytest.fixture
def record(made_design: Make) -> dict[str, Any]:
    return design_record(made_design(stopped=True))


@pytest.mark.parametrize("table", ISSUE_KEYS)
def test_every_name_of_the_issue_is_there(record: dict[str, Any], table: str) -> None:
    assert record[table]
    for row in record[table]:
        assert set(ISSUE_KEYS[table].split()) <= set(row)


def test_every_head_of_the_issue_is_there(record: dict[str, Any]) -> None:
    assert {"format", "crs", "digest", "lines", "gates", "summary", "certificate"} <= set(record)
    assert set(ISSUE_SUMMARY.split()) <= set(record["summary"])
    assert set(record["findings"][0]["where"]) == {"kind", "id", "line", "station_m"}
    assert {"pull", "from_m", "to_m"} <= set(record["rolls"][0]["pieces"][0])


def test_the_record_is_valid_by_its_schema(record: dict[str, Any]) -> None:
    schema = design_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(record)


@pytest.mark.parametrize(
    ("table", "key", "bad"),
    [
        ("posts", "station_m", "12"),
        ("posts", "role", "middle"),
        ("posts", "set", "glued"),
        ("posts", "cut", 1),
        ("pulls", "rail", 1.5),
        ("rolls", "pieces", [{"pull": "R1-1"}]),
        ("findings", "level", "bad"),
        ("summary", "posts", {"end": -1}),
    ],
)
def test_the_schema_refuses_wrong_values(record: dict[str, Any], table: str, key: str, bad: Any) -> None:
    row = record[table] if isinstance(record[table], dict) else record[table][0]
    row[key] = bad
    assert not jsonschema.Draft202012Validator(design_schema()).is_valid(record)


@pytest.mark.parametrize("table", TABLES)
def test_the_schema_asks_for_every_column(record: dict[str, Any], table: str) -> None:
    row = record[table][0]
    assert list(row) == [column.name for column in TABLES[table]]
    del row[next(iter(row))]
    assert not jsonschema.Draft202012Validator(design_schema()).is_valid(record)


def test_posts_say_what_the_tables_say(record: dict[str, Any]) -> None:
    gate, _, upright, unknown, corner, line, _ = record["posts"]
    assert gate["role"] == "gate"
    assert gate["also"] == [{"line": "lane", "station_m": 0.0}]
    assert upright["rail_marks_m"] == []
    assert corner["rail_marks_m"] == [0.6, 1.3]
    assert corner["turning_rad"] == 1.570796
    assert (corner["set"], line["set"]) == ("concrete", "tamped")
    assert (corner["bags"], line["bags"]) == (4.268, 0.0)
    assert (unknown["ground_m"], unknown["stock_length_m"], unknown["cut_m"]) == (None, None, None)
    assert (unknown["cut"], unknown["control"]) == (False, True)


def test_numbers_are_rounded_to_what_a_tape_tells(record: dict[str, Any]) -> None:
    assert record["posts"][1]["station_m"] == 3.81  # 3.80995 to 0.1 mm
    assert record["posts"][0]["uplift_n"] == -12.3
    assert record["posts"][3]["uplift_n"] == 700.1


def test_no_minus_nought_is_written(record: dict[str, Any]) -> None:
    assert math.copysign(1, record["posts"][4]["offset_m"]) == 1
    assert math.copysign(1, record["posts"][5]["uplift_n"]) == 1
    assert b":-0.0," not in write_design_json(record)


def test_the_summary_adds_up(record: dict[str, Any]) -> None:
    summary = record["summary"]
    assert summary["posts"] == {
        "end": 1, "gate": 2, "corner": 1, "bend": 0, "strain": 0, "tee": 0, "crossing": 0, "line": 2, "brace": 1,
    }  # fmt: skip
    assert summary["fence_length_m"] == 21.81
    assert summary["rail_length_m"] == pytest.approx(2 * (12.19 + 2 * 0.605))
    assert (summary["braces"], summary["pulls"], summary["rolls"], summary["splices"]) == (2, 2, 2, 1)
    assert summary["bags"] == pytest.approx(5 * 4.2679999 + 3.1, abs=5e-4)
    assert summary["concrete_m3"] == pytest.approx(6 * 0.0725)


def test_pulls_rolls_and_gates_refer_to_each_other(record: dict[str, Any]) -> None:
    posts = {post["id"] for post in record["posts"]}
    pulls = {pull["id"]: pull for pull in record["pulls"]}
    assert list(pulls) == ["R1-1", "R1-2"]
    assert [pull["rail"] for pull in pulls.values()] == [1, 2]
    assert {pull["from_post"] for pull in pulls.values()} <= posts
    for name, pull in pulls.items():
        pieces = [piece for roll in record["rolls"] for piece in roll["pieces"] if piece["pull"] == name]
        assert sum(piece["to_m"] - piece["from_m"] for piece in pieces) == pytest.approx(pull["rail_m"])
    assert [roll["from_yard"] for roll in record["rolls"]] == [False, True]
    (gate,) = record["gates"]
    (ford,) = record["crossings"]
    assert (gate["from_post"], gate["hinge_post"], gate["swing"]) == ("P1", "P2", "left")
    assert (ford["name"], "leaf_m" in ford) == ("ford", False)


def test_a_horizontal_brace_has_no_hole_of_its_own(record: dict[str, Any]) -> None:
    level, diagonal = record["braces"]
    assert (level["kind"], level["hole_diameter_m"], level["second_post"]) == ("horizontal", None, "P3")
    assert (diagonal["kind"], diagonal["hole_diameter_m"], diagonal["second_post"]) == (
        "diagonal",
        0.3048,
        "",
    )


def test_a_stop_says_that_it_may_not_be_built(made_design: Make) -> None:
    assert design_record(made_design(stopped=True))["may_be_built"] is False
    assert design_record(made_design())["may_be_built"] is True


def test_the_file_reads_back_as_the_record(record: dict[str, Any]) -> None:
    content = write_design_json(record)
    assert json.loads(content) == record
    lines = content.decode("ascii").splitlines()
    assert sum(line.startswith('{"id":"P') and '"role":' in line for line in lines) == len(record["posts"])


def test_the_digest_is_that_of_the_file_without_its_line(record: dict[str, Any]) -> None:
    lines = write_design_json(record).splitlines(keepends=True)
    (place,) = [row for row, line in enumerate(lines) if line.startswith(b'"digest":')]
    rest = b"".join(lines[:place] + lines[place + 1 :])
    assert json.loads(lines[place].decode().rstrip(",\n").split(":")[1]) == record["digest"]
    assert record["digest"] == hashlib.sha256(rest).hexdigest() == record_digest(record)


def test_the_digest_can_be_had_back_from_the_file(record: dict[str, Any]) -> None:
    assert record_digest(json.loads(write_design_json(record))) == record["digest"]


def test_record_and_file_come_together_as_apart(made_design: Make) -> None:
    record, content = design_json(made_design())
    assert record == design_record(made_design())
    assert content == write_design_json(record)


def test_the_digest_tells_designs_apart(made_design: Make) -> None:
    one, moved = made_design(), made_design()
    posts = replace(moved.layout.posts, x_m=moved.layout.posts.x_m + 0.0002)
    other = replace(moved, layout=replace(moved.layout, posts=posts))
    assert design_record(one) == design_record(made_design())
    assert design_record(one)["digest"] != design_record(other)["digest"]
    finer = replace(moved.layout.posts, x_m=moved.layout.posts.x_m + 0.00001)
    same = replace(moved, layout=replace(moved.layout, posts=finer))
    assert design_record(one)["digest"] == design_record(same)["digest"]


def test_text_of_any_script_survives(made_design: Make) -> None:
    name = 'Weide "Süd" \u2028 \U0001f40e </script>'
    content = write_design_json(design_record(made_design(name=name)))
    assert json.loads(content)["job"]["name"] == name
    assert content.isascii()


def test_a_design_without_pulls_or_order_is_written(made_design: Make, holding: Any) -> None:
    made = made_design()
    made = replace(made, **holding(made.layout, np.arange(1, 6), runs=0))
    none, nothing = np.zeros(0, np.int64), np.zeros(0)
    pulls = Pulls(none, none, nothing, nothing, nothing, nothing, none, none)
    record = design_record(replace(made, pulls=pulls, length_sd_m=nothing, cutting=(), order=()))
    assert (record["pulls"], record["rolls"], record["order"]) == ([], [], [])
    assert (record["tension"], record["site_checks"]) == ([], [])
    jsonschema.Draft202012Validator(design_schema()).validate(record)
    assert json.loads(write_design_json(record)) == record
