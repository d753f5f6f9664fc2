"""Stake-out, load list and measurements as design.json and the CSV files have them."""

import csv
import io
import json
from collections.abc import Callable
from typing import Any

import pytest

from fencewright.exchange.design_json import design_record, write_design_json
from fencewright.exchange.tables_csv import csv_file
from fencewright.pipeline.record import Design

Make = Callable[..., Design]
Rows = list[dict[str, str]]


@pytest.fixture
def record(made_design: Make) -> dict[str, Any]:
    return design_record(made_design())


def rows_of(name: str, record: dict[str, Any]) -> Rows:
    return list(csv.DictReader(io.StringIO(csv_file(name, record).decode("utf-8"))))


def test_stakes_are_posts_and_then_feet_of_diagonal_braces(record: dict[str, Any]) -> None:
    stakes = record["stake_out"]["stakes"]
    feet = [brace["id"] for brace in record["braces"] if brace["kind"] == "diagonal"]
    assert feet
    assert [row["id"] for row in stakes] == [*(post["id"] for post in record["posts"]), *feet]
    assert stakes[0]["from_previous_m"] is None


def test_a_tie_has_its_two_lengths_and_no_end_is_null(record: dict[str, Any]) -> None:
    stakes = record["stake_out"]["stakes"]
    assert stakes[0]["ties"] == [
        {"reference": "=barn", "level_m": 21.9794, "slope_m": 22.0},
        {"reference": "well", "level_m": 54.01, "slope_m": None},
    ]
    assert stakes[-1]["position_sd_m"] is None
    assert (stakes[0]["tie_state"], stakes[-1]["tie_state"]) == ("good", "too sharp")
    assert stakes[0]["tie_side"] == "left"


def test_a_corner_without_a_post_has_no_name(record: dict[str, Any]) -> None:
    peg = record["stake_out"]["pegs"][0]
    assert (peg["post"], peg["clear"], peg["beyond"]) == ("", False, "ahead")
    assert record["stake_out"]["corner_checks"][0]["closing_m"] == 9.144


def test_each_row_has_a_line_of_the_file(record: dict[str, Any]) -> None:
    lines = write_design_json(record).decode("ascii").splitlines()
    for row in (record["stake_out"]["stakes"][0], record["load"]["loads"][1], record["measured"][0]):
        text = json.dumps(row, separators=(",", ":"))
        assert any(line.rstrip(",") == text for line in lines)


def test_the_sums_of_the_load_name_what_they_leave_out(record: dict[str, Any]) -> None:
    load = record["load"]
    assert (load["mass_kg"], load["left_out"]) == (225.0, ["=rail"])
    assert [one["unknown_items"] for one in load["loads"]] == [0, 1]
    assert load["loads"][1]["items"][0]["mass_kg"] is None
    assert not load["loads"][0]["over_payload"]


def test_what_was_measured_stands_beside_what_was_designed(record: dict[str, Any]) -> None:
    top, tension = record["measured"]
    assert (top["post"], top["pull"], top["difference"], top["in_tolerance"]) == ("P1", "", 0.01, False)
    assert (tension["post"], tension["pull"], tension["station_m"]) == ("", "R1-1", None)
    assert tension["most"] is None


@pytest.mark.parametrize(("sheets", "unit", "tie"), [("us", "ft", "72.11"), ("metric", "m", "21.979")])
def test_the_csv_is_in_the_units_of_the_sheets(made_design: Make, sheets: str, unit: str, tie: str) -> None:
    rows = rows_of("stake-out.csv", design_record(made_design(sheets=sheets)))
    assert rows[0][f"tie_1_level_{unit}"] == tie
    assert rows[0]["tie_1_from"] == "'=barn"  # no formula
    assert rows[0][f"tie_2_slope_{unit}"] == ""
    assert rows[0][f"from_previous_{unit}"] == ""


def test_the_load_in_pounds_leaves_the_unknown_empty(record: dict[str, Any]) -> None:
    posts, rail = rows_of("load.csv", record)
    assert (posts["mass_lb"], rail["mass_lb"]) == ("496.0", "")
    assert (rail["load"], rail["not_weighed_in_load"], rail["item"]) == ("2", "1", "'=rail")


def test_without_references_the_ties_are_empty(made_design: Make, record: dict[str, Any]) -> None:
    record["stake_out"]["stakes"][0]["ties"] = []
    assert rows_of("stake-out.csv", record)[0]["tie_1_from"] == ""
