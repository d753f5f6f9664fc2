"""Tension and strength as written: the names of issue 4, every utilisation with its case, no NaN, a bound on size."""

import csv
import json
from collections.abc import Callable
from dataclasses import replace
from io import StringIO
from typing import Any

import numpy as np
import pytest

from fencewright.exchange import check_rows
from fencewright.exchange.design_json import design_record, write_design_json
from fencewright.exchange.tables_csv import csv_file
from fencewright.pipeline.record import Design
from fencewright.tables.strength import KINDS, Check

Make = Callable[..., Design]

# Keys of issue 4, section "Outputs".
ISSUE_KEYS = {
    "posts": "utilisation governs",
    "checks": "post part case check demand capacity unit utilisation source",
    "tension": "pull set_tension_n window_n reference_temperature_c chart tension_at_posts_n tensioner_post stretch_m"
    " turns regrips",
    "site_checks": "pull post rail_temperature_c span_m tension_n push_n deflection_sliding_m deflection_pinned_m"
    " frequency_hz",
}


@pytest.fixture
def record(made_design: Make) -> dict[str, Any]:
    return design_record(made_design())


def rows_of(name: str, record: dict[str, Any]) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(csv_file(name, record).decode(), newline="")))


@pytest.mark.parametrize("table", ISSUE_KEYS)
def test_every_name_of_the_issue_is_there(record: dict[str, Any], table: str) -> None:
    assert record[table]
    for row in record[table]:
        assert set(ISSUE_KEYS[table].split()) <= set(row)


def test_a_pull_has_its_chart_and_its_window(record: dict[str, Any]) -> None:
    pull = record["tension"][0]
    assert (pull["pull"], pull["set_tension_n"], pull["window_n"]) == ("R1-1", 1112.1, [311.4, None])
    assert (pull["tensioner_post"], pull["anchor_post"], pull["drawn_from"]) == ("P2", "P6", "first post")
    assert pull["loosest_post"] == "P5"
    cold, mild, _ = pull["chart"]
    assert cold == {"rail_temperature_c": -12.22, "tension_n": None, "window_n": [2100.0, 2050.0]}
    assert (mild["rail_temperature_c"], mild["tension_n"]) == (20.0, 1100.0)


def test_the_tension_along_a_pull_falls_from_its_tensioner(record: dict[str, Any]) -> None:
    along = record["tension"][0]["tension_at_posts_n"]
    assert along["post"] == ["P2", "P3", "P4", "P5", "P6"]
    assert along["while_pulling"][0] == along["after_working"][0] == 1112.1
    assert along["while_pulling"] == sorted(along["while_pulling"], reverse=True)
    assert all(a <= b for a, b in zip(along["while_pulling"], along["after_working"], strict=True))


def test_strands_of_one_product_share_their_lists(record: dict[str, Any]) -> None:
    lower, upper = record["tension"]
    assert lower["chart"] is upper["chart"]
    assert lower["tension_at_posts_n"] is upper["tension_at_posts_n"]


def test_every_utilisation_has_its_case_and_its_clause(record: dict[str, Any]) -> None:
    """Of each post the largest counted row is the post's own utilisation, under the check that governs it."""
    for post in record["posts"]:
        mine = [row for row in record["checks"] if row["post"] == post["id"] and row["counted"]]
        if not post["governs"]:
            assert (post["utilisation"], mine) == (0.0, [])
            continue
        worst = max(mine, key=lambda row: row["utilisation"])
        assert (worst["check"], worst["utilisation"]) == (post["governs"], post["utilisation"])
        assert all(worst[key] for key in ("case", "source", "clause", "part", "unit"))


def test_a_brace_names_itself_and_what_has_no_limit_is_null(record: dict[str, Any]) -> None:
    (row, *_) = [row for row in record["checks"] if row["brace"] == "B2"]
    assert (row["post"], row["check"], row["capacity"], row["utilisation"]) == ("P7", "tie", None, 0.0)
    assert [brace["fastener_n"] for brace in record["braces"]] == [10654.0, 10654.0]
    assert [brace["least_hole_depth_m"] for brace in record["braces"]] == [None, 0.9]  # level, diagonal


def test_no_depth_that_passes_is_null(record: dict[str, Any]) -> None:
    assert [post["least_hole_depth_m"] for post in record["posts"]] == [0.9] * 6 + [None]


def test_a_governing_check_without_any_capacity_is_null(made_design: Make) -> None:
    made = made_design()
    used = made.strength.utilisation.copy()
    used[3] = np.inf
    post = design_record(replace(made, strength=replace(made.strength, utilisation=used)))["posts"][3]
    assert (post["utilisation"], post["governs"]) == (None, "embedment")


def test_no_file_holds_a_nan(record: dict[str, Any]) -> None:
    content = write_design_json(record)
    assert json.loads(content, parse_constant=lambda word: pytest.fail(word)) == record
    for name in ("tension.csv", "checks.csv", "posts.csv"):
        text = csv_file(name, record).decode().lower()
        assert not {"nan", "inf", "-inf"} & {cell for row in csv.reader(StringIO(text)) for cell in row}


def test_a_huge_fence_keeps_what_governs(made_design: Make, monkeypatch: pytest.MonkeyPatch) -> None:
    """Twelve rows at most: each post's and brace's worst counted one (six and two), then those nearest capacity."""
    monkeypatch.setattr(check_rows, "MOST_CHECKS", 12)
    made = made_design()
    kept = check_rows.kept_checks(made)
    checks = made.strength.checks
    assert all(KINDS[Check(kind)].is_counted for kind in checks.check[kept].tolist())
    assert set(checks.post_index[kept].tolist()) == set(range(1, 7))
    assert set(checks.brace_index[kept].tolist()) == {-1, 0, 1}
    record = design_record(made)
    assert len(record["checks"]) == len(kept) <= 12
    assert record["summary"]["checks_left_out"] == len(checks) - len(kept)


def test_nothing_is_left_out_of_an_ordinary_fence(record: dict[str, Any]) -> None:
    assert record["summary"]["checks_left_out"] == 0


@pytest.mark.parametrize(
    ("sheets", "key", "tension", "rail"),
    [
        ("us", "pull_to_at_68_F_lbf", "247", "set_tension_lbf"),
        ("metric", "pull_to_at_20_C_N", "1100", "set_tension_N"),
    ],
)
def test_the_chart_is_in_the_units_of_the_sheets(
    made_design: Make, sheets: str, key: str, tension: str, rail: str
) -> None:
    row = rows_of("tension.csv", design_record(made_design(sheets=sheets)))[0]
    assert row[key] == tension
    assert float(row[rail]) == pytest.approx(250 if sheets == "us" else 1112)
    closed = key.replace("68_F", "10_F").replace("20_C", "-12_C")
    assert (row[closed], row["window_high_lbf" if sheets == "us" else "window_high_N"]) == ("", "")


def test_site_checks_are_told_on_the_day_nearest_the_reference(record: dict[str, Any]) -> None:
    """1.1 in pinned, 1.5 in sliding."""
    for row in rows_of("tension.csv", record):
        assert row["site_checks"] == (
            "at 70 F: beyond P2 (far end) 9.8 ft span, 10 lbf push gives 1.10 to 1.50 in, plucked 7.9 beats a second"
        )


def test_checks_stand_in_the_unit_beside_them(made_design: Make) -> None:
    """1,200 N are 269.77 lbf."""
    us, metric = (
        rows_of("checks.csv", design_record(made_design(sheets=sheets)))[0] for sheets in ("us", "metric")
    )
    assert (us["demand"], us["unit"], us["utilisation_percent"]) == ("269.77", "lbf", "40")
    assert (metric["demand"], metric["unit"]) == ("1200.00", "N")
