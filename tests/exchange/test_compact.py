"""Columns kept small: plain values as JSON has them, and the stretch that changed, against plain lists."""

import math
from typing import Any

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from fencewright.exchange.column_change import splice_of
from fencewright.exchange.compact import Cells, Named, is_same, plain

NUMBERS = st.sampled_from([0.0, 1.5, -2.25, math.nan, math.inf])
NAMES = ("corner", "line", "gate")


def arrays(values: list[float]) -> Cells:
    return np.array(values, np.float64)


def named(values: list[int]) -> Cells:
    return Named(NAMES, np.array(values, np.int64), "none")


COLUMNS = st.one_of(
    st.tuples(st.lists(NUMBERS, max_size=12), st.lists(NUMBERS, max_size=12)).map(
        lambda pair: (arrays(pair[0]), arrays(pair[1]))
    ),
    st.tuples(st.lists(st.integers(-1, 2), max_size=12), st.lists(st.integers(-1, 2), max_size=12)).map(
        lambda pair: (named(pair[0]), named(pair[1]))
    ),
    st.tuples(st.lists(NUMBERS, max_size=12), st.lists(NUMBERS, max_size=12)).map(
        lambda pair: (plain(arrays(pair[0])), arrays(pair[1]))
    ),
    st.tuples(st.lists(st.booleans(), max_size=12), st.lists(st.booleans(), max_size=12)).map(
        lambda pair: (np.array(pair[0], np.bool_), np.array(pair[1], np.bool_))
    ),
)


@given(COLUMNS)
def test_a_splice_of_a_column_is_that_of_its_plain_values(pair: tuple[Cells, Cells]) -> None:
    before, after = pair
    splice = splice_of(before, after)
    assert splice == splice_of(plain(before), plain(after))
    assert (splice is None) == is_same(before, after) == (plain(before) == plain(after))


def test_plain_values_are_those_of_json() -> None:
    assert plain(np.array([1.0, math.nan, -math.inf])) == [1.0, None, None]
    assert plain(np.array([[1.0, math.nan], [2.0, 3.0]])) == [[1.0, None], [2.0, 3.0]]
    assert plain(Named(NAMES, np.array([2, -1, 0]), "none"), 1) == ["none", "corner"]
    assert [type(one) for one in plain(np.array([1, 2]))] == [int, int]


def test_names_in_another_list_are_compared_as_names() -> None:
    one, other = Named(NAMES, np.array([0, 1])), Named(("line", "corner"), np.array([1, 0]))
    assert is_same(one, other)
    assert splice_of(one, Named(("line", "corner"), np.array([1, 1]))) == {
        "start": 1,
        "remove": 1,
        "values": ["corner"],
    }


def after_splice(before: list[Any], splice: dict[str, Any]) -> list[Any]:
    """Do what a splice says."""
    made = list(before)
    made[splice["start"] : splice["start"] + splice["remove"]] = splice["values"]
    for row, value in zip(splice.get("rows", ()), splice.get("changed", ()), strict=True):
        made[row] = value
    return made


lists = st.lists(st.one_of(st.integers(0, 3), st.none(), st.text("ab", max_size=1)), max_size=9)


@given(lists, lists)
def test_a_splice_turns_the_old_column_into_the_new(before: list[Any], after: list[Any]) -> None:
    splice = splice_of(before, after)
    if splice is None:
        assert before == after
        return
    assert after_splice(before, splice) == after


@given(st.integers(0, 1600), st.lists(st.tuples(st.integers(0, 1599), st.integers(0, 2)), max_size=5))
def test_a_splice_of_a_long_column_is_no_longer_than_what_changed(
    rows: int, marks: list[tuple[int, int]]
) -> None:
    before = [row % 7 for row in range(rows)]
    after = list(before)
    for row, what in marks:
        if what == 0:
            after.insert(min(row, len(after)), -1)
        elif row < len(after):
            after[row : row + 1] = [-2] if what == 1 else []
    splice = splice_of(before, after)
    assert splice == splice_of(np.array(before), np.array(after))
    if splice is None:
        assert before == after
        return
    assert after_splice(before, splice) == after
    start, end = splice["start"], splice["start"] + splice["remove"]
    if "rows" in splice:
        assert 2 * len(splice["rows"]) + len(splice["values"]) <= rows + len(marks)
        assert splice["rows"] == sorted(set(splice["rows"]))
        return
    for one, other in ((0, 0), (-1, -1)):  # neither its first nor its last row stands there already
        if splice["remove"] and splice["values"]:
            assert before[start:end][one] != splice["values"][other]


@given(
    st.lists(st.integers(0, 299), min_size=2, max_size=40, unique=True),
    st.integers(0, 300),
    st.integers(-4, 4),
)
def test_values_that_change_here_and_there_are_told_alone(rows: list[int], place: int, gained: int) -> None:
    before = np.arange(300.0)
    after = before.copy()
    after[rows] += 0.5
    after = (
        np.insert(after, place, np.full(gained, -1.0))
        if gained > 0
        else np.delete(after, slice(place, place - gained))
    )
    splice = splice_of(before, after)
    assert splice is not None
    assert after_splice(before.tolist(), splice) == after.tolist()
    told = len(splice["values"]) + len(splice.get("rows", ()))
    assert told <= len(rows) + max(gained, 0) + 16 or "rows" not in splice


def test_names_and_unknown_numbers_change_alone() -> None:
    index = np.zeros(40, np.int64)
    changed = index.copy()
    changed[[3, 30]] = 1, -1
    assert splice_of(Named(NAMES, index, "none"), Named(NAMES, changed, "none")) == {
        "start": 3, "remove": 0, "values": [], "rows": [3, 30], "changed": ["line", "none"],
    }  # fmt: skip
    numbers = np.full(40, math.nan)
    known = numbers.copy()
    known[[2, 39]] = 1.0, math.inf
    known[20] = 2.0
    assert splice_of(numbers, known) == {
        "start": 2, "remove": 0, "values": [], "rows": [2, 20], "changed": [1.0, 2.0],
    }  # fmt: skip
