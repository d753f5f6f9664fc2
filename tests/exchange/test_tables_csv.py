"""CSV tables: units in the headings, numbers that add up, nothing that a spreadsheet would run."""

import csv
import io
from collections.abc import Callable
from typing import Any

import pytest

from fencewright.exchange.design_json import design_record
from fencewright.exchange.tables_csv import csv_files, guarded_text
from fencewright.findings.cautions import NOT_A_SEAL, TIGHT_RAIL
from fencewright.pipeline.record import Design

Make = Callable[..., Design]


def rows_of(content: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(content.decode("utf-8"), newline="")))


@pytest.fixture
def us(made_design: Make) -> dict[str, bytes]:
    return csv_files(design_record(made_design()))


@pytest.fixture
def metric(made_design: Make) -> dict[str, bytes]:
    return csv_files(design_record(made_design(sheets="metric")))


def test_every_table_is_there(us: dict[str, bytes]) -> None:
    names = ("checks", "load", "order", "posts", "pulls", "rolls", "stake-out", "tension")
    assert sorted(us) == [f"{name}.csv" for name in names]


@pytest.mark.parametrize(
    ("sheets", "headings"),
    [
        (
            "us",
            {
                "station_ft",
                "cut_in",
                "hole_depth_in",
                "concrete_ft3",
                "uplift_lbf",
                "rail_1_in",
                "stock_length_ft",
            },
        ),
        (
            "metric",
            {
                "station_m",
                "cut_mm",
                "hole_depth_mm",
                "concrete_m3",
                "uplift_N",
                "rail_1_mm",
                "stock_length_m",
            },
        ),
    ],
)
def test_every_quantity_has_its_unit_in_the_heading(
    made_design: Make, sheets: str, headings: set[str]
) -> None:
    posts = rows_of(csv_files(design_record(made_design(sheets=sheets)))["posts.csv"])
    assert headings <= set(posts[0])


def test_posts_in_feet_and_inches(us: dict[str, bytes]) -> None:
    first, _, upright, unknown, corner, *_ = rows_of(us["posts.csv"])
    assert first["also"] == "lane 0.00 ft"
    assert (first["cut_in"], first["stock_length_ft"], first["hole_depth_in"]) == ("6.00", "9.00", "48.00")
    assert (corner["station_ft"], corner["cut_in"], corner["above_ground_in"]) == ("39.37", "6.25", "54.00")
    assert (upright["rail_1_in"], corner["rail_1_in"]) == ("", "23.62")
    assert (unknown["ground_ft"], unknown["cut_in"], unknown["set_long"]) == ("", "", "yes")
    assert first["uplift_lbf"] == "-3"
    assert rows_of(us["posts.csv"])[5]["uplift_lbf"] == "0"  # -0.01 N is no "-0"


def test_posts_in_metres_and_millimetres(metric: dict[str, bytes]) -> None:
    corner = rows_of(metric["posts.csv"])[4]
    assert (corner["station_m"], corner["cut_mm"], corner["concrete_m3"]) == ("12.000", "159", "0.072")


def test_bags_are_exact_by_hole_and_whole_by_assembly(us: dict[str, bytes]) -> None:
    posts = {post["id"]: post for post in rows_of(us["posts.csv"])}
    assert posts["P1"]["bags"] == "4.268"
    assert posts["P1"]["assembly_bags"] == "5"
    assert posts["P2"]["assembly_bags"] == "9"  # with the upright of its horizontal brace: 8.536
    assert posts["P3"]["assembly_bags"] == ""
    assert posts["P7"]["assembly_bags"] == "8"  # with its brace's footing: 7.368
    assert posts["P4"]["assembly_bags"] == ""


def test_rolls_are_cut_in_order(us: dict[str, bytes]) -> None:
    pieces = rows_of(us["rolls.csv"])
    assert [(piece["roll"], piece["piece"], piece["pull"]) for piece in pieces] == [
        ("C1", "1", "R1-1"),
        ("C1", "2", "R1-2"),
        ("C2", "1", "R1-2"),
    ]
    assert [piece["spliced"] for piece in pieces] == ["no", "yes", "yes"]
    assert [piece["from_yard"] for piece in pieces] == ["no", "no", "yes"]
    assert pieces[2]["cut_off_ft"] == "26.25"


def test_order_keeps_waste_apart(us: dict[str, bytes]) -> None:
    bags = rows_of(us["order.csv"])[1]
    assert (bags["net"], bags["waste"], bags["order"]) == ("21.34", "1.067", "23")


@pytest.mark.parametrize("name", ["posts.csv", "tension.csv", "checks.csv"])
def test_numbers_of_strength_and_tension_come_with_their_caution(made_design: Make, name: str) -> None:
    first, *others = rows_of(csv_files(design_record(made_design()))[name])
    assert list(first)[-1] == "caution"
    assert first["caution"] == f"{NOT_A_SEAL} {TIGHT_RAIL}"
    assert {row["caution"] for row in others} == {""}


def test_tables_without_such_numbers_stay_as_they_are(us: dict[str, bytes]) -> None:
    for name in ("order.csv", "rolls.csv", "pulls.csv"):
        assert "caution" not in rows_of(us[name])[0]


@pytest.mark.parametrize("name", ["posts.csv", "order.csv", "rolls.csv", "pulls.csv"])
def test_each_row_says_whether_it_may_be_built(made_design: Make, name: str) -> None:
    good = rows_of(csv_files(design_record(made_design()))[name])
    bad = rows_of(csv_files(design_record(made_design(stopped=True)))[name])
    assert {row["may_be_built"] for row in good} == {"yes"}
    assert {row["may_be_built"] for row in bad} == {"no"}


def test_lines_end_as_the_format_asks(us: dict[str, bytes]) -> None:
    assert us["posts.csv"].count(b"\r\n") == us["posts.csv"].count(b"\n") == 8


def test_no_cell_from_input_is_a_formula(made_design: Make) -> None:
    made = made_design(line='=HYPERLINK("http://x")')
    files = csv_files(design_record(made))
    assert rows_of(files["posts.csv"])[0]["line"] == '\'=HYPERLINK("http://x")'
    assert rows_of(files["posts.csv"])[6]["why"] == "'=HYPERLINK(1)"
    assert rows_of(files["order.csv"])[1]["why"] == "'=1+1"
    assert rows_of(files["pulls.csv"])[0]["line"].startswith("'=")


@pytest.mark.parametrize(
    ("text", "guarded"),
    [
        ("=1+1", "'=1+1"),
        ("+1", "'+1"),
        ("-1", "'-1"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("\tx", "'\tx"),
        ("\rx", "'\rx"),
        ("  =1", "'  =1"),
        ("a;=1", "a;'=1"),
        ("a\n=1", "a\n'=1"),
        ("\uff1d1", "'\uff1d1"),
        ("plain", "plain"),
        ("3 = 3", "3 = 3"),
        ("upper-field", "upper-field"),
        ("", ""),
        ("nul\0", "nul"),
    ],
)
def test_guard(text: str, guarded: str) -> None:
    assert guarded_text(text) == guarded


def test_a_number_is_never_guarded(us: dict[str, bytes]) -> None:
    offsets = [row["offset_in"] for row in rows_of(us["posts.csv"])]
    assert offsets[3] == "-1.97"


def test_same_design_same_bytes(made_design: Make) -> None:
    def once() -> dict[str, Any]:
        return csv_files(design_record(made_design()))

    assert once() == once()
