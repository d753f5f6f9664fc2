"""Marks of a line: many added at once stand as if added one by one; openings that enclose one are refused."""

from dataclasses import replace

import numpy as np
import pytest

from fencewright.findings import InputError
from fencewright.layout.gates import Opening, refuse_inside
from fencewright.layout.marks import Mark, add_marks, merge_into
from fencewright.quantity.show import UnitSystem
from fencewright.tables.fence import FenceLine, Role

LENGTH_M, SNAP_M = 100.0, 0.3


def _one_by_one(marks: list[Mark], new: list[Mark], is_closed: bool) -> list[int]:
    """Add each mark to the nearest within the snap, by looking at every mark; gives the rows that stand."""
    rows = []
    for mark in new:
        away = [abs(other.station_m - mark.station_m) for other in marks]
        away = [min(gap, LENGTH_M - gap) if is_closed else gap for gap in away]
        nearest = away.index(min(away)) if away else -1
        if nearest >= 0 and away[nearest] <= SNAP_M:
            merge_into(marks[nearest], mark)
        else:
            nearest = len(marks)
            marks.append(mark)
        rows.append(nearest)
    return rows


@pytest.mark.parametrize("is_closed", [True, False])
@pytest.mark.parametrize("first", [0, 30])
def test_many_marks_stand_as_if_added_one_by_one(is_closed: bool, first: int) -> None:
    random = np.random.default_rng(first)
    station = np.round(random.uniform(0.0, LENGTH_M, 150), 1)
    roles = random.choice([Role.GATE, Role.STRAIN, Role.LINE], 150)
    every = [
        Mark(float(at), Role(role), f"reason {row}", opening=row)
        for row, (at, role) in enumerate(zip(station, roles, strict=True))
    ]
    apart, together = ([replace(mark) for mark in every[:first]] for _ in range(2))
    rows = _one_by_one(apart, [replace(mark) for mark in every[first:]], is_closed)
    stand = add_marks(together, [replace(mark) for mark in every[first:]], SNAP_M, LENGTH_M, is_closed)
    assert [str(mark) for mark in together] == [str(mark) for mark in apart]
    assert [next(row for row, mark in enumerate(together) if mark is one) for one in stand] == rows
    assert len(together) < len(every)


def _opening(start_m: float, end_m: float) -> Opening:
    return Opening("north", "gate 1", 0, False, start_m, end_m, 3.6, 3.5, True, 0)


def _line(is_closed: bool) -> FenceLine:
    square = np.array([[0.0, 0.0], [25.0, 0.0], [25.0, 25.0], [0.0, 25.0]])
    return FenceLine("a", square, np.array([0.0, 25.0, 50.0, 75.0, 100.0]), is_closed, 1, 0)


@pytest.mark.parametrize(
    ("start_m", "end_m", "is_closed", "refused"),
    [
        (23.0, 27.0, True, True),
        (25.0, 29.0, True, False),
        (21.0, 25.04, True, False),
        (21.0, 25.06, True, True),
        (98.0, 102.0, True, True),
        (96.0, 100.0, True, False),
        (98.0, 102.0, False, False),
        (30.0, 34.0, True, False),
    ],
)
def test_an_opening_that_encloses_a_mark_is_refused(
    start_m: float, end_m: float, is_closed: bool, refused: bool
) -> None:
    marks = [Mark(at, Role.CORNER, "the line turns") for at in (25.0, 0.0, 75.0, 50.0)]
    openings = [_opening(60.0, 64.0), _opening(start_m, end_m)]
    if not refused:
        refuse_inside(_line(is_closed), marks, openings, UnitSystem("metric"))
        return
    with pytest.raises(InputError, match=r"a post must stand at station .* \(the line turns\)"):
        refuse_inside(_line(is_closed), marks, openings, UnitSystem("metric"))
