"""Edits of a job's text: what each changes, what it leaves, and what it refuses."""

import math
import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.edits.applying import KINDS, apply_edit, read_edit
from fencewright.edits.lines import DrawnPoints
from fencewright.findings import InputError

JOB = """\
# an invented paddock
[job]
name = "Home"      # printed on every sheet
sheets = "us"

[[line]]
name = "home"
points = [["0 ft", "0 ft"], ["200 ft", "0 ft"], ["200 ft", "100 ft"], ["0 ft", "100 ft"]]  # walked in May
closed = true

[[line]]
name = "lane"
points = [["200 ft", "0 ft"], ["300 ft", "0 ft"], ["300 ft", "90 ft"]]

[[gate]]
name = "main"
line = "home"
at = "20 ft"
opening = "12 ft"

[[gate]]
line = "lane"
at = "120 ft"      # past the corner
opening = "12 ft"

[fence]
rails = 4

[[obstacle]]       # dug in 1990
kind = "buried water"
points = [["95 ft", "-20 ft"], ["95 ft", "150 ft"]]
"""


def after(*edits: dict[str, Any], text: str = JOB) -> dict[str, Any]:
    for edit in edits:
        text = apply_edit(text, edit).text
    return tomllib.loads(text)


def test_a_moved_corner_keeps_every_comment_and_all_other_lines() -> None:
    edit = {"kind": "move_corner", "line": "home", "corner": 1, "to": ["210 ft", 3.048], "shared": False}
    made = apply_edit(JOB, edit)
    old, new = JOB.splitlines(), made.text.splitlines()
    assert [number for number, (a, b) in enumerate(zip(old, new, strict=True)) if a != b] == [7]
    assert new[7].endswith("# walked in May")
    assert tomllib.loads(made.text)["line"][0]["points"][1] == ["210 ft", "10 ft"]
    assert made.label == 'move corner 2 of line "home"'


def test_numbers_are_metres_and_are_written_in_the_unit_of_the_sheets() -> None:
    metric = JOB.replace('"us"', '"metric"')
    edit = {"kind": "pin_top", "line": "home", "at": 10.5, "height": 1.372}
    assert after(edit)["pin"] == [{"line": "home", "at": "34.449 ft", "height": "54.02 in"}]
    assert after(edit, text=metric)["pin"] == [{"line": "home", "at": "10.5 m", "height": "1372 mm"}]


def test_what_a_hand_sets_is_written_as_fine_as_it_can_be_set_out() -> None:
    metric = JOB.replace('"us"', '"metric"')
    pin = {"kind": "pin_top", "line": "home", "at": 54.88914, "height": 1.62163}
    rock = {"kind": "met_rock", "line": "home", "at": 132.94832, "depth": 0.5}
    made = apply_edit(metric, {"kind": "many", "edits": [pin, rock]})
    assert made.label == "pin the top at 54.889 m on home; rock met at 132.948 m on home"
    asked = tomllib.loads(made.text)
    assert asked["pin"] == [{"line": "home", "at": "54.889 m", "height": "1622 mm"}]
    assert asked["rock"] == [{"line": "home", "at": "132.948 m", "depth": "500 mm"}]
    slid = {"kind": "slide", "table": "gate", "item": "main", "at": 20.12345}
    assert (after(slid)["gate"][0]["at"], after(slid, text=metric)["gate"][0]["at"]) == (
        "66.022 ft",
        "20.123 m",
    )
    top = {"kind": "pin_top", "line": "home", "at": 0.0004, "top": 101.23456}
    assert after(top, text=metric)["pin"] == [{"line": "home", "at": "0 m", "top": "101.235 m"}]
    corner = {"kind": "move_corner", "line": "lane", "corner": 0, "to": [0.12345, 0.0]}
    assert after(corner, text=metric)["line"][1]["points"][0] == [
        "0.1235 m",
        "0 m",
    ]  # shared with other lines


def test_corners_are_put_in_and_taken_out() -> None:
    put = {"kind": "insert_corner", "line": 0, "after": 0, "at": ["100 ft", "-10 ft"]}
    points = after(put)["line"][0]["points"]
    assert points[:3] == [["0 ft", "0 ft"], ["100 ft", "-10 ft"], ["200 ft", "0 ft"]]
    assert after(put, {"kind": "remove_corner", "line": "home", "corner": 1}) == tomllib.loads(JOB)
    first = {"kind": "insert_corner", "line": "lane", "after": -1, "at": ["190 ft", "0 ft"]}
    assert after(first)["line"][1]["points"][0] == ["190 ft", "0 ft"]


def test_a_line_takes_along_what_stands_on_it() -> None:
    assert [gate["line"] for gate in after({"kind": "remove_line", "line": "home"})["gate"]] == ["lane"]
    renamed = after({"kind": "rename_line", "line": "lane", "name": "drive"})
    assert (renamed["line"][1]["name"], renamed["gate"][1]["line"]) == ("drive", "drive")


def test_a_divided_line_carries_its_gates_to_the_right_half() -> None:
    made = after({"kind": "split_line", "line": "lane", "corner": 1, "name": "lane north"})
    assert [line["name"] for line in made["line"]] == ["home", "lane", "lane north"]
    assert made["line"][2]["points"] == [["300 ft", "0 ft"], ["300 ft", "90 ft"]]
    assert (made["gate"][1]["line"], made["gate"][1]["at"]) == ("lane north", "20 ft")  # 120 ft less 100 ft


def test_a_closed_line_opens_at_a_corner_and_its_stations_turn_with_it() -> None:
    made = after({"kind": "split_line", "line": "home", "corner": 1})
    line, gate = made["line"][0], made["gate"][0]
    assert line["closed"] is False
    assert line["points"][0] == line["points"][-1] == ["200 ft", "0 ft"]
    assert gate["at"] == "420 ft"  # 20 ft past the old start, which lies 400 ft on: 100 + 200 + 100


def test_joined_lines_meet_at_their_nearest_ends() -> None:
    divided = apply_edit(JOB, {"kind": "split_line", "line": "lane", "corner": 1, "name": "n"}).text
    joined = after({"kind": "join_lines", "line": "lane", "other": "n"}, text=divided)
    assert joined["line"][1]["points"] == tomllib.loads(JOB)["line"][1]["points"]
    assert joined["gate"][1]["at"] == "120 ft"
    turned = after({"kind": "join_lines", "line": "n", "other": "lane"}, text=divided)
    assert turned["line"][1]["points"] == tomllib.loads(JOB)["line"][1]["points"]
    assert turned["gate"][1] == {"line": "n", "at": "120 ft", "opening": "12 ft"}


def test_a_joined_line_that_runs_the_other_way_is_turned() -> None:
    text = JOB.replace('[["200 ft", "0 ft"], ["300 ft", "0 ft"], ["300 ft", "90 ft"]]',
                       '[["0 ft", "0 ft"], ["50 ft", "0 ft"]]') + (
        '\n[[line]]\nname = "back"\npoints = [["90 ft", "0 ft"], ["50 ft", "0 ft"]]\n'
        '[[strain]]\nline = "back"\nat = "10 ft"\n'
    )  # fmt: skip
    made = after({"kind": "join_lines", "line": "lane", "other": "back"}, text=text)
    assert made["line"][1]["points"] == [["0 ft", "0 ft"], ["50 ft", "0 ft"], ["90 ft", "0 ft"]]
    assert made["strain"] == [{"line": "lane", "at": "80 ft"}]  # 10 ft from its far end, at 90 ft


def test_a_key_is_set_and_taken_out_again() -> None:
    assert (
        after({"kind": "set", "path": ["gate", "main", "leaf"], "value": "11 ft"})["gate"][0]["leaf"]
        == "11 ft"
    )
    bell = {"kind": "set", "path": ["holes", "bell"], "value": "6 in"}
    assert after(bell)["holes"] == {"bell": "6 in"}
    assert after(bell, {**bell, "value": None}) == tomllib.loads(JOB)
    assert after({"kind": "set", "path": ["gate", 0, "name"], "value": None})["gate"][0].get("name") is None


def test_rows_are_added_slid_and_removed() -> None:
    values = {"line": "home", "at": 30.48, "opening": "10 ft", "name": "side"}
    made = after({"kind": "add", "table": "gate", "values": values})
    assert made["gate"][2] == {"line": "home", "at": "100 ft", "opening": "10 ft", "name": "side"}
    slid = after({"kind": "slide", "table": "gate", "item": "main", "at": "33 ft", "line": "lane"})
    assert (slid["gate"][0]["at"], slid["gate"][0]["line"]) == ("33 ft", "lane")
    assert [one.get("name") for one in after({"kind": "remove", "table": "gate", "item": 1})["gate"]] == [
        "main"
    ]


def test_a_mark_is_changed_where_the_post_has_one() -> None:
    first = {"kind": "post_set", "line": "home", "at": "40 ft", "depth": "30 in"}
    again = {"kind": "post_set", "line": "home", "at": "40.5 ft", "offset": "-2 in"}
    assert after(first, again)["built"] == [
        {"line": "home", "at": "40.5 ft", "depth": "30 in", "offset": "-2 in"}
    ]
    far = {"kind": "post_set", "line": "home", "at": "48 ft"}
    assert len(after(first, far)["built"]) == 2
    pinned = {"kind": "pin_top", "line": "home", "at": "40 ft", "top": "12 ft"}
    assert "pin" not in after(pinned, {"kind": "unpin", "line": "home", "at": "40 ft"})


def test_obstacles_move_whole_or_by_a_point() -> None:
    whole = after({"kind": "move_obstacle", "item": 0, "by": ["5 ft", "0 ft"]})
    assert whole["obstacle"][0]["points"] == [["100 ft", "-20 ft"], ["100 ft", "150 ft"]]
    one = after({"kind": "move_obstacle", "item": 0, "point": 1, "to": ["95 ft", "160 ft"]})
    assert one["obstacle"][0]["points"][1] == ["95 ft", "160 ft"]


def test_files_are_taken_as_line_obstacle_or_ground() -> None:
    line = {"kind": "import_file", "use": "line", "file": "walk.gpx", "layer": "tracks", "name": "walk"}
    assert after(line)["line"][2] == {"name": "walk", "file": "walk.gpx", "layer": "tracks"}
    assert after({"kind": "import_file", "use": "ground", "file": "dem.tif"})["site"] == {"ground": "dem.tif"}
    trees = {"kind": "import_file", "use": "obstacle", "file": "trees.csv", "obstacle": "tree"}
    assert after(trees)["obstacle"][1] == {"kind": "tree", "file": "trees.csv"}


def test_a_line_from_a_file_gets_points_of_its_own_when_redrawn() -> None:
    text = '[job]\nname = "F"\nsheets = "metric"\n[[line]]\nname = "walk"\nfile = "walk.gpx"\nlayer = "t"\n'
    edit = {"kind": "move_corner", "line": "walk", "corner": 0, "to": ["1 m", "2 m"]}
    made = tomllib.loads(apply_edit(text, edit, {"walk": DrawnPoints([(0.0, 0.0), (30.0, 4.5)])}).text)
    assert made["line"] == [{"name": "walk", "points": [["1 m", "2 m"], ["30 m", "4.5 m"]]}]
    with pytest.raises(InputError, match="its points stand in a file"):
        apply_edit(text, edit)


FIELD = """\
[job]
name = "F"
sheets = "metric"

[[line]]
name = "field"
file = "field.geojson"
# surveyed in May

[[gate]]
line = "field"
at = "205 m"
opening = "3 m"
"""
RING = DrawnPoints([(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)], is_closed=True)


@pytest.mark.parametrize(
    "edit",
    [
        {"kind": "own_points", "line": "field"},
        {"kind": "move_line", "line": "field", "by": [1, 0]},
        {"kind": "move_corner", "line": "field", "corner": 0, "to": [0, -1]},
        {"kind": "insert_corner", "line": "field", "after": 3, "at": [0, 20]},
        {"kind": "remove_corner", "line": "field", "corner": 3},
    ],
)
def test_a_polygon_from_a_file_stays_closed_when_it_is_redrawn(edit: dict[str, Any]) -> None:
    text = apply_edit(FIELD, edit, {"field": RING}).text
    assert tomllib.loads(text)["line"][0]["closed"] is True
    assert "# surveyed in May\n" in text


def test_what_the_job_says_of_a_polygon_goes_before_what_its_file_says() -> None:
    text = FIELD.replace('"field.geojson"\n', '"field.geojson"\nclosed = false\n')
    made = apply_edit(text, {"kind": "own_points", "line": "field"}, {"field": RING}).text
    assert tomllib.loads(made)["line"][0]["closed"] is False


def test_many_edits_are_one_and_all_or_none() -> None:
    good = {"kind": "set", "path": ["fence", "rails"], "value": 3}
    made = apply_edit(
        JOB, {"kind": "many", "label": "three rails", "edits": [good, {"kind": "close_line", "line": 1}]}
    )
    assert (made.label, made.asked.fence.rails, made.asked.line[1].closed) == ("three rails", 3, True)
    with pytest.raises(InputError, match="there is no gate 8"):
        apply_edit(JOB, {"kind": "many", "edits": [good, {"kind": "remove", "table": "gate", "item": 7}]})


@pytest.mark.parametrize(
    ("edit", "sentence", "field"),
    [
        (
            {"kind": "set", "path": ["gate", 0, "opening"], "value": "12"},
            "'12' is no length with a unit",
            ("gate", 0, "opening"),
        ),
        (
            {"kind": "set", "path": ["fence", "rals"], "value": 4},
            "there is no key `rals`; did you mean `rails`?",
            ("fence", "rals"),
        ),
        ({"kind": "remove_line", "line": "hone"}, 'there is no line "hone"; did you mean "home"?', ("line",)),
        (
            {"kind": "remove", "table": "crossing", "item": "x" * 5000},
            f'"{"x" * 60}..."; there is none',
            ("crossing",),
        ),
        (
            {"kind": "remove", "table": "obstacle", "item": "?"},
            'there is no obstacle "?"; there is 1',
            ("obstacle",),
        ),
        ({"kind": "remove_line", "line": "?\n?"}, 'there is no line "? ?"; there are 2', ("line",)),
        ({"kind": "pin_top", "line": "x", "at": "1 ft", "height": "1 ft"}, 'there is no line "x"', ("pin",)),
        (
            {"kind": "remove_corner", "line": "lane", "corner": 9},
            "there is no corner 10: the line has 3",
            ("line", 1, "points"),
        ),
        ({"kind": "replace_text", "text": "[job"}, "not valid TOML", ()),
        ({"kind": "remove_line", "line": ""}, "say which line: give its name, or its number", ("line",)),
        ({"kind": "remove", "table": "gate", "item": " "}, "say which gate: give its name", ("gate",)),
        ({"kind": "set", "path": ["gate", "", "at"], "value": "9 ft"}, "say which gate", ("gate",)),
    ],
)
def test_what_cannot_be_is_refused_with_its_field(edit: Any, sentence: str, field: tuple[Any, ...]) -> None:
    with pytest.raises(InputError) as refused:
        apply_edit(JOB, edit)
    assert sentence in refused.value.what
    assert refused.value.field == field


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf, 2**63, 10**400])
@pytest.mark.parametrize("wrapped", [False, True])
def test_a_number_that_no_job_can_mean_is_refused_where_it_is_set(number: float, wrapped: bool) -> None:
    value = [number, "2 ft"] if wrapped else number
    path = ["site", "origin"] if wrapped else ["fence", "friction"]
    with pytest.raises(InputError) as refused:
        apply_edit(JOB, {"kind": "set", "path": path, "value": value})
    assert refused.value.field == tuple(path)
    assert len(refused.value.what) < 120
    with pytest.raises(InputError):
        apply_edit(JOB, {"kind": "add", "table": "payment", "values": {"name": "first", "share": value}})


def test_a_value_nested_without_end_is_refused() -> None:
    value: list[Any] = []
    for _ in range(600):
        value = [value]
    with pytest.raises(InputError, match="too deep within each other"):
        apply_edit(JOB, {"kind": "set", "path": ["fence", "rails"], "value": value})


def test_an_edit_that_is_no_edit_is_refused() -> None:
    for record in ({}, {"kind": "fly"}, {"kind": "close_line"}, {"kind": "close_line", "line": 0, "more": 1}):
        with pytest.raises(InputError, match="this edit cannot be read"):
            read_edit(record)


def test_markup_in_a_name_stays_text() -> None:
    name = '<img src=x onerror="alert(1)">'
    assert after({"kind": "set", "path": ["job", "name"], "value": name})["job"]["name"] == name


@pytest.mark.parametrize(
    ("edit", "sentence"),
    [
        ({"kind": "insert_corner", "line": 0, "after": True, "at": [1, 2]}, "true is no number"),
        ({"kind": "remove_corner", "line": 0, "corner": False}, "false is no number"),
        ({"kind": "remove_line", "line": True}, "true is no row: give its number from 0, or its name"),
        ({"kind": "set", "path": ["gate", True, "at"], "value": "9 ft"}, "true is no step of a path"),
        ({"kind": "pin_top", "line": "home", "at": True, "height": "4 ft"}, "true is no length"),
        ({"kind": "move_line", "line": 0, "by": [True, 0]}, "true is no length"),
        ({"kind": "met_rock", "line": "home", "at": [9], "depth": 1}, "[9] is no length: write text with its unit"),
        ({"kind": "prices", "prices": [{"item": "a", "unit": "h", "price": True}]}, "true is no figure"),
    ],
)  # fmt: skip
def test_true_is_no_number_of_an_edit(edit: dict[str, Any], sentence: str) -> None:
    with pytest.raises(InputError) as refused:
        read_edit(edit)
    assert refused.value.what.startswith(f"this edit cannot be read: {sentence}")


def test_a_row_whose_name_is_a_number_is_found_by_it() -> None:
    text = JOB.replace('"lane"', '"0"')
    assert [line["name"] for line in after({"kind": "remove_line", "line": "0"}, text=text)["line"]] == [
        "home"
    ]
    assert [line["name"] for line in after({"kind": "remove_line", "line": 0}, text=text)["line"]] == ["0"]


names = st.text(st.characters(codec="utf-8"), min_size=1, max_size=20)
amounts = st.floats(-500, 500).map(lambda value: round(value, 3))
places = st.tuples(amounts, amounts)
stations = st.floats(0, 150).map(lambda value: round(value, 2))
EDITS = st.one_of(
    st.builds(lambda p, n, c: {"kind": "add_line", "points": p, "name": n.strip(), "closed": c},
              st.lists(places, min_size=2, max_size=5), names, st.booleans()),
    st.builds(lambda i: {"kind": "remove_line", "line": i}, st.integers(0, 3)),
    st.builds(lambda i, n: {"kind": "rename_line", "line": i, "name": n}, st.integers(0, 3), names),
    st.builds(lambda i, c, p: {"kind": "move_corner", "line": i, "corner": c, "to": p},
              st.integers(0, 3), st.integers(0, 5), places),
    st.builds(lambda i, c, p: {"kind": "insert_corner", "line": i, "after": c, "at": p},
              st.integers(0, 3), st.integers(-1, 4), places),
    st.builds(lambda i, c: {"kind": "remove_corner", "line": i, "corner": c}, st.integers(0, 3), st.integers(0, 5)),
    st.builds(lambda i, c: {"kind": "split_line", "line": i, "corner": c}, st.integers(0, 3), st.integers(0, 4)),
    st.builds(lambda i, j: {"kind": "join_lines", "line": i, "other": j}, st.integers(0, 3), st.integers(0, 3)),
    st.builds(lambda i, c: {"kind": "close_line", "line": i, "closed": c}, st.integers(0, 3), st.booleans()),
    st.builds(lambda v: {"kind": "set", "path": ["fence", "rails"], "value": v}, st.none() | st.integers(0, 14)),
    st.builds(lambda v: {"kind": "set", "path": ["holes", "bell"], "value": v}, st.sampled_from([None, "6 in", "x"])),
    st.builds(lambda at, n: {"kind": "add", "table": "gate",
                             "values": {"line": "home", "at": at, "opening": 3.6, "name": n.strip()}}, stations, names),
    st.builds(lambda t, i: {"kind": "remove", "table": t, "item": i},
              st.sampled_from(["gate", "pin", "built", "rock", "strain", "obstacle"]), st.integers(0, 2)),
    st.builds(lambda i, at: {"kind": "slide", "table": "gate", "item": i, "at": at}, st.integers(0, 3), stations),
    st.builds(lambda at, h: {"kind": "pin_top", "line": "home", "at": at, "height": h}, stations, st.floats(1, 2)),
    st.builds(lambda at: {"kind": "unpin", "line": "home", "at": at}, stations),
    st.builds(lambda at, d: {"kind": "met_rock", "line": "home", "at": at, "depth": d}, stations, st.floats(0.1, 1)),
    st.builds(lambda at: {"kind": "strain_post", "line": "home", "at": at}, stations),
)  # fmt: skip


@given(st.lists(EDITS, max_size=12))
def test_any_edits_leave_a_job_that_reads_or_are_refused_whole(edits: list[dict[str, Any]]) -> None:
    text = JOB
    for edit in edits:
        try:
            made = apply_edit(text, edit)
        except InputError:
            continue
        text = made.text
        assert made.asked.job.name == "Home"
        assert text.startswith('# an invented paddock\n[job]\nname = "Home"      # printed on every sheet\n')
        lines = {line.name for line in made.asked.line}
        assert edit["kind"] in ("add", "slide") or {gate.line for gate in made.asked.gate} <= lines | {"home"}


def test_every_kind_is_in_the_description_of_the_api() -> None:
    from fencewright.server.app import openapi_record

    schemas = openapi_record()["components"]["schemas"]
    told = {
        schema["properties"]["kind"]["const"]
        for schema in schemas.values()
        if "const" in schema.get("properties", {}).get("kind", {})
    }
    assert told == set(KINDS)
