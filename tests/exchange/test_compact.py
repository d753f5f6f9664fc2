"""Columns kept small: plain values as JSON has them, and the stretch that changed, against plain lists."""

import math
from typing import Any

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from fencewright.exchange.compact import Cells, Named, is_same, plain, splice_of

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


lists = st.lists(st.one_of(st.integers(0, 3), st.none(), st.text("ab", max_size=1)), max_size=9)


@given(lists, lists)
def test_a_splice_turns_the_old_column_into_the_new(before: list[Any], after: list[Any]) -> None:
    splice = splice_of(before, after)
    if splice is None:
        assert before == after
        return
    made = list(before)
    made[splice["start"] : splice["start"] + splice["remove"]] = splice["values"]
    assert made == after


@given(st.integers(0, 1600), st.lists(st.tuples(st.integers(0, 1599), st.integers(0, 2)), max_size=3))
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
    if splice is None:
        assert before == after
        return
    start, end = splice["start"], splice["start"] + splice["remove"]
    assert before[:start] + splice["values"] + before[end:] == after
    for one, other in ((0, 0), (-1, -1)):  # neither its first nor its last row stands there already
        if splice["remove"] and splice["values"]:
            assert before[start:end][one] != splice["values"][other]
