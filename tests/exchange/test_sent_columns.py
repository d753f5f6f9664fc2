"""Columns sent through a pipe: what is unpacked is what was packed, and the change that is told is the same."""

import math
import pickle
from typing import Any

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from fencewright.exchange.column_change import splice_of
from fencewright.exchange.compact import Cells, Named, plain
from fencewright.exchange.sent_columns import ColumnReceiver, ColumnSender, Same

NAMES = ("corner", "line", "gate")
VALUES = st.lists(st.integers(0, 3), max_size=60)


def column(kind: str, values: list[int]) -> Cells:
    if kind == "numbers":
        return np.array([[0.5, -1.25, math.nan, math.inf][value] for value in values], np.float64)
    if kind == "flags":
        return np.array([value > 1 for value in values], np.bool_)
    if kind == "names":
        return Named(NAMES, np.array(values, np.int64) - 1, "none")
    if kind == "other names":
        return Named(NAMES[::-1], np.array(values, np.int64) - 1, "none")
    return [[value] if value else "" for value in values]


def sent(
    sender: ColumnSender, receiver: ColumnReceiver, columns: dict[str, Cells], rows: int
) -> dict[str, Any]:
    packed = pickle.dumps(sender.pack({"posts": {"rows": rows, "columns": columns}}))
    return receiver.unpack(pickle.loads(packed))["posts"]


@given(
    st.lists(
        st.tuples(
            st.sampled_from(["numbers", "flags", "names", "other names", "list"]),
            st.sampled_from(["a", "b"]),
            VALUES,
        ),
        max_size=8,
    )
)
def test_what_is_unpacked_is_what_was_packed(answers: list[tuple[str, str, list[int]]]) -> None:
    sender, receiver = ColumnSender(), ColumnReceiver()
    for kind, name, values in answers:
        cells = column(kind, values)
        told = sent(sender, receiver, {name: cells}, len(values))
        assert told["rows"] == len(values)
        assert plain(told["columns"][name]) == plain(cells)
        assert type(told["columns"][name]) is type(cells)
        if name in told["changes"]:
            before, change = told["changes"][name]
            assert change.splice() == splice_of(before, cells)


def test_a_column_that_is_as_it_was_is_the_same_object_and_a_change_is_small() -> None:
    sender, receiver = ColumnSender(), ColumnReceiver()
    numbers = np.arange(10_000.0)
    first = sent(sender, receiver, {"x_m": numbers}, 10_000)["columns"]["x_m"]
    assert sent(sender, receiver, {"x_m": numbers.copy()}, 10_000)["columns"]["x_m"] is first
    moved = numbers.copy()
    moved[[5, 5000]] += 1.0
    packed = sender.pack({"posts": {"rows": 10_000, "columns": {"x_m": moved}}})
    assert isinstance(packed["posts"]["columns"]["x_m"], Same)
    assert len(pickle.dumps(packed)) < 2_000
    told = receiver.unpack(packed)["posts"]
    assert told["columns"]["x_m"].tolist() == moved.tolist()
    assert told["changes"]["x_m"][0] is first
    assert first.tolist() == numbers.tolist()  # what another window was told stays as it was
