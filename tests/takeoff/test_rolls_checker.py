"""The checker of cut lists finds each fault that is put into a good list."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from fencewright.takeoff.roll_checker import check_cut_list
from fencewright.takeoff.rolls import CutList, RollPieces, RollStock, SpliceRule, cut_rolls

RULE = SpliceRule(1.0, 5.0, 2.0)
STOCK = RollStock(100.0, np.array([30.0, 40.0]))
PIECES = RollPieces(
    np.array([150.0, 60.0, 60.0, 70.0]), np.array([0, 1, 1, 1, 1]), np.array([120.0]), np.array([130.0])
)


@pytest.fixture
def cut() -> CutList:
    return cut_rolls(PIECES, STOCK, RULE)


def with_value(column: np.ndarray, row: int, value: float) -> np.ndarray:
    changed = column.copy()
    changed[row] = value
    return changed


def spliced(cut: CutList) -> int:
    """A fragment that begins at a splice."""
    return int(np.flatnonzero(cut.from_m > 0.0)[0])


def test_good_list_is_fine(cut: CutList) -> None:
    assert cut.splices > 0
    assert check_cut_list(PIECES, STOCK, RULE, cut) == []


def test_missing_pull(cut: CutList) -> None:
    more = replace(
        PIECES, length_m=np.append(PIECES.length_m, 5.0), forbidden_start=np.append(PIECES.forbidden_start, 1)
    )
    assert "Pull 4 is not cut at all." in check_cut_list(more, STOCK, RULE, cut)


def test_gap_in_a_pull(cut: CutList) -> None:
    row = spliced(cut)
    wrong = replace(cut, from_m=with_value(cut.from_m, row, cut.from_m[row] + 1.0))
    pull = cut.pull_index[row]
    assert f"Pull {pull} has fragments that do not meet." in check_cut_list(PIECES, STOCK, RULE, wrong)


def test_end_left_off(cut: CutList) -> None:
    row = int(np.flatnonzero(cut.to_m == 60.0)[0])
    wrong = replace(cut, to_m=with_value(cut.to_m, row, 59.0))
    sentences = check_cut_list(PIECES, STOCK, RULE, wrong)
    assert f"Pull {cut.pull_index[row]} is not cut to its end, or beyond it." in sentences


def test_beginning_left_off(cut: CutList) -> None:
    row = int(np.flatnonzero(cut.from_m == 0.0)[0])
    wrong = replace(cut, from_m=with_value(cut.from_m, row, 1.0))
    sentences = check_cut_list(PIECES, STOCK, RULE, wrong)
    assert f"Pull {cut.pull_index[row]} is not cut from its beginning." in sentences


def test_splice_where_none_may_be(cut: CutList) -> None:
    pull = int(cut.pull_index[spliced(cut)])
    at = cut.from_m[spliced(cut)]
    start = np.where(np.arange(5) > pull, 1, 0)
    pieces = RollPieces(PIECES.length_m, start, np.array([at - 1.0]), np.array([at + 1.0]))
    sentences = check_cut_list(pieces, STOCK, RULE, cut)
    assert sentences == [f"Pull {pull} is spliced where no splice may fall."]
    touching = RollPieces(PIECES.length_m, start, np.array([at]), np.array([at + 1.0]))
    assert check_cut_list(touching, STOCK, RULE, cut) == []


def test_short_fragment(cut: CutList) -> None:
    longest = float((cut.to_m - cut.from_m)[cut.from_m > 0.0].max())
    sentences = check_cut_list(PIECES, STOCK, replace(RULE, least_fragment_m=longest + 1.0), cut)
    assert any("fragment shorter than allowed" in sentence for sentence in sentences)


def test_loss_that_does_not_fit(cut: CutList) -> None:
    sentences = check_cut_list(PIECES, STOCK, replace(RULE, splice_loss_m=90.0), cut)
    assert any("too short for what is cut from it" in sentence for sentence in sentences)


def test_shorter_rolls(cut: CutList) -> None:
    sentences = check_cut_list(PIECES, replace(STOCK, roll_length_m=80.0), RULE, cut)
    assert any("has another length." in sentence for sentence in sentences)


def test_remainder_used_twice(cut: CutList) -> None:
    rows = np.zeros(cut.remainder_index.size, dtype=np.int64)
    sentences = check_cut_list(PIECES, STOCK, RULE, replace(cut, remainder_index=rows))
    assert "Remainder 0 is used twice." in sentences


def test_overlap_on_a_roll(cut: CutList) -> None:
    wrong = replace(cut, at_m=np.zeros_like(cut.at_m))
    assert any(
        "fragments that overlap" in sentence for sentence in check_cut_list(PIECES, STOCK, RULE, wrong)
    )


def test_fragment_off_the_roll(cut: CutList) -> None:
    wrong = replace(cut, at_m=cut.at_m + 90.0)
    assert any("off the roll" in sentence for sentence in check_cut_list(PIECES, STOCK, RULE, wrong))


@pytest.mark.parametrize(
    ("column", "words"),
    [("used_m", "length used"), ("offcut_m", "offcut"), ("rail_m", "other rail")],
)
def test_wrong_sums(cut: CutList, column: str, words: str) -> None:
    change: dict[str, Any] = {column: with_value(getattr(cut, column), 0, 3.25)}
    wrong = replace(cut, **change)
    assert any(words in sentence for sentence in check_cut_list(PIECES, STOCK, RULE, wrong))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"cost_m": 1.0}, "a cost of 1.0 m"),
        ({"splices": 9}, "9 splices"),
        ({"bound_m": 1e6}, "bound is above"),
        ({"bound_m": 1.0, "is_proven": True}, "called proven"),
        ({"longest_offcut_m": 99.0}, "longest offcut"),
    ],
)
def test_wrong_figures(cut: CutList, change: dict[str, Any], words: str) -> None:
    sentences = check_cut_list(PIECES, STOCK, RULE, replace(cut, **change))
    assert any(words in sentence for sentence in sentences)


@pytest.mark.parametrize(
    ("column", "row", "value", "words"),
    [
        ("roll_index", 0, 99, "not listed"),
        ("pull_index", 0, 99, "does not exist"),
        ("remainder_index", 0, 5, "not in the yard"),
        ("from_m", 0, np.nan, "no number"),
    ],
)
def test_rows_that_point_nowhere(cut: CutList, column: str, row: int, value: float, words: str) -> None:
    change: dict[str, Any] = {column: with_value(getattr(cut, column), row, value)}
    wrong = replace(cut, **change)
    assert any(words in sentence for sentence in check_cut_list(PIECES, STOCK, RULE, wrong))


def test_columns_of_unequal_length(cut: CutList) -> None:
    wrong = replace(cut, from_m=cut.from_m[:-1])
    assert check_cut_list(PIECES, STOCK, RULE, wrong) == [
        "The columns of the cut list are not of one length."
    ]
