"""Two edits made side by side: what merges, what clashes, and that nothing of either is lost."""

import math
import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.edits.applying import apply_edit
from fencewright.edits.changes import changes_between, pair_rows, read_plain
from fencewright.edits.document import metres
from fencewright.edits.merging import merge_points, merge_texts
from fencewright.findings import InputError

BASE = """\
[job]
name = "Home"
[[line]]
name = "a"
points = [["0 m", "0 m"], ["50 m", "0 m"], ["50 m", "50 m"], ["0 m", "50 m"]]
[[gate]]
line = "a"
at = "10 m"
opening = "4 m"
[[gate]]
name = "far"
line = "a"
at = "60 m"
opening = "4 m"
[fence]
rails = 4
"""


def corner(number: int, x: str) -> dict[str, Any]:
    return {"kind": "move_corner", "line": "a", "corner": number, "to": [x, "1 m"]}


def slide(item: int | str, at: str) -> dict[str, Any]:
    return {"kind": "slide", "table": "gate", "item": item, "at": at}


def merged(mine: dict[str, Any], theirs: dict[str, Any]) -> tuple[dict[str, Any] | None, tuple[str, ...]]:
    result = merge_texts(BASE, apply_edit(BASE, mine).text, apply_edit(BASE, theirs).text)
    return (tomllib.loads(result.text) if result.text else None), result.clashes


@pytest.mark.parametrize(
    ("mine", "theirs"),
    [
        (corner(0, "1 m"), corner(2, "51 m")),
        (corner(1, "1 m"), {"kind": "insert_corner", "line": "a", "after": 3, "at": ["0 m", "20 m"]}),
        (slide(0, "12 m"), slide(1, "70 m")),
        (
            {"kind": "slide", "table": "gate", "item": 0, "at": "12 m"},
            {"kind": "set", "path": ["gate", 0, "opening"], "value": "5 m"},
        ),
        ({"kind": "remove", "table": "gate", "item": 0}, slide("far", "70 m")),
        (
            {"kind": "set", "path": ["fence", "rails"], "value": 3},
            {"kind": "set", "path": ["fence", "top_height"], "value": "1.4 m"},
        ),
        (
            {"kind": "add", "table": "gate", "values": {"line": "a", "at": "120 m", "opening": "4 m"}},
            {"kind": "add", "table": "gate", "values": {"line": "a", "at": "150 m", "opening": "4 m"}},
        ),
        (
            {"kind": "strain_post", "line": "a", "at": "20 m"},
            {"kind": "met_rock", "line": "a", "at": "30 m", "depth": "0.5 m"},
        ),
    ],
)  # fmt: skip
def test_edits_of_different_things_merge_either_way_round(
    mine: dict[str, Any], theirs: dict[str, Any]
) -> None:
    one, clashes = merged(mine, theirs)
    other, _ = merged(theirs, mine)
    assert one is not None
    assert clashes == ()
    assert other is not None
    unordered = [
        {
            table: sorted(map(str, rows)) if isinstance(rows, list) and table != "line" else rows
            for table, rows in job.items()
        }
        for job in (one, other)
    ]
    assert unordered[0] == unordered[1]
    base = read_plain(BASE)
    told = {change.item for change in changes_between(base, one)}
    for edit in (mine, theirs):  # what each changed alone is changed together
        alone = {change.item for change in changes_between(base, read_plain(apply_edit(BASE, edit).text))}
        assert len(alone - told) == 0 or "add" in str(edit)


@pytest.mark.parametrize(
    ("mine", "theirs", "clash"),
    [
        (corner(1, "1 m"), corner(1, "2 m"), 'points of line "a"'),
        (
            {"kind": "set", "path": ["fence", "rails"], "value": 3},
            {"kind": "set", "path": ["fence", "rails"], "value": 5},
            "rails of fence",
        ),
        (
            {"kind": "remove", "table": "gate", "item": "far"},
            {"kind": "slide", "table": "gate", "item": "far", "at": "70 m"},
            'gate "far"',
        ),
        (
            {"kind": "slide", "table": "gate", "item": "far", "at": "70 m"},
            {"kind": "remove", "table": "gate", "item": "far"},
            'at of gate "far"',
        ),
        (
            {"kind": "strain_post", "line": "a", "at": "20 m"},
            {"kind": "remove_line", "line": "a"},
            "strain 1",
        ),
        (
            {"kind": "add_line", "name": "b", "points": [[0, 0], [9, 9]]},
            {"kind": "add_line", "name": "b", "points": [[0, 0], [5, 5]]},
            'line "b"',
        ),
    ],
)
def test_edits_of_one_thing_clash_and_say_which(mine: Any, theirs: Any, clash: str) -> None:
    text, clashes = merged(mine, theirs)
    assert text is None
    assert clash in clashes


def test_the_same_edit_twice_is_no_clash() -> None:
    same = corner(1, "7 m")
    assert merged(same, same) == (tomllib.loads(apply_edit(BASE, same).text), ())


def test_comments_of_the_present_job_are_kept() -> None:
    theirs = BASE.replace("rails = 4", "rails = 4 # four, as the neighbour has")
    result = merge_texts(BASE, apply_edit(BASE, corner(0, "1 m")).text, theirs)
    assert result.text is not None
    assert "# four, as the neighbour has" in result.text


points = st.lists(st.tuples(st.integers(0, 3), st.integers(0, 3)).map(list), max_size=6)


@given(points, points)
def test_points_merge_with_no_change_to_the_other(base: list[Any], other: list[Any]) -> None:
    assert merge_points(base, other, base) == other
    assert merge_points(base, base, other) == other


@given(st.lists(st.dictionaries(st.sampled_from(["name", "at"]), st.sampled_from("abc")), max_size=5),
       st.lists(st.dictionaries(st.sampled_from(["name", "at"]), st.sampled_from("abc")), max_size=5))  # fmt: skip
def test_rows_are_matched_each_once(old: list[Any], new: list[Any]) -> None:
    pairs = pair_rows(old, new)
    assert sorted(row for row, _ in pairs if row is not None) == list(range(len(old)))
    assert sorted(row for _, row in pairs if row is not None) == list(range(len(new)))


@given(st.integers(0, 3), st.integers(0, 3), st.integers(5, 90), st.integers(5, 90))
def test_of_two_edits_each_stands_or_the_clash_is_told(a: int, b: int, x: int, y: int) -> None:
    mine, theirs = corner(a, f"{x} m"), corner(b, f"{y} m")
    text, clashes = merged(mine, theirs)
    if text is None:
        assert a == b
        assert clashes
    else:
        got = text["line"][0]["points"]
        assert got[a] == [f"{x} m", "1 m"]
        assert got[b] == [f"{y} m", "1 m"]


@given(st.integers(0, 3), st.integers(0, 3), st.integers(40, 60), st.integers(40, 60))
def test_two_moved_corners_carry_a_gate_as_one_after_the_other_would(a: int, b: int, x: int, y: int) -> None:
    mine, theirs = corner(a, f"{x} m"), corner(b, f"{y} m")
    text, _ = merged(mine, theirs)
    if text is not None and abs(a - b) == 2:  # each leg has one end that stays
        after = tomllib.loads(apply_edit(apply_edit(BASE, theirs).text, mine).text)
        got, wanted = ([metres(gate["at"]) for gate in one["gate"]] for one in (text, after))
        assert got == pytest.approx(wanted, abs=0.002)


def test_a_gate_added_beside_a_moved_corner_stands_where_it_was_put() -> None:
    gate = {"kind": "add", "table": "gate", "values": {"line": "a", "at": "125 m", "opening": "4 m"}}
    for mine, theirs in ((gate, corner(1, "60 m")), (corner(1, "60 m"), gate)):
        text, clashes = merged(mine, theirs)
        assert clashes == ()
        assert text is not None
        longer = math.hypot(60, 1) + math.hypot(10, 49) - 100
        assert metres(text["gate"][2]["at"]) == pytest.approx(125 + longer, abs=0.002)


def test_a_text_that_is_no_job_is_refused() -> None:
    with pytest.raises(InputError):
        merge_texts(BASE, "[job", BASE)
