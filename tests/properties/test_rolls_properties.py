"""What holds for every cut list: it passes the checker, its bound is below, order does not matter."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fencewright.takeoff.roll_checker import check_cut_list
from fencewright.takeoff.rolls import RollPieces, RollStock, SpliceRule, UncuttablePullError, cut_rolls

LENGTHS = st.lists(st.floats(0.5, 450.0), min_size=1, max_size=14)
RULES = st.builds(SpliceRule, st.floats(0.0, 5.0), st.floats(0.0, 150.0), st.floats(0.0, 25.0))
STOCKS = st.builds(
    RollStock, st.floats(60.0, 300.0), st.lists(st.floats(1.0, 200.0), max_size=3).map(np.array)
)
SETTINGS = settings(max_examples=40, deadline=None, derandomize=True)


@st.composite
def pieces_with_intervals(draw: st.DrawFn) -> RollPieces:
    length_m = np.array(draw(LENGTHS))
    counts = [draw(st.integers(0, 6)) for _ in length_m]
    low, high = [], []
    for length, count in zip(length_m.tolist(), counts, strict=True):
        for _ in range(count):
            begin = draw(st.floats(-5.0, length + 5.0))
            low.append(begin)
            high.append(begin + draw(st.floats(0.0, 30.0)))
    return RollPieces(length_m, np.concatenate([[0], np.cumsum(counts)]), np.array(low), np.array(high))


@SETTINGS
@given(pieces_with_intervals(), STOCKS, RULES)
def test_every_list_passes_the_checker(pieces: RollPieces, stock: RollStock, rule: SpliceRule) -> None:
    uncuttable, cut = -1, None
    try:
        cut = cut_rolls(pieces, stock, rule)
    except UncuttablePullError as error:
        uncuttable = error.pull_index
    if cut is None:
        assert pieces.length_m[uncuttable] > stock.roll_length_m
        return
    assert check_cut_list(pieces, stock, rule, cut) == []
    assert cut.bound_m <= cut.cost_m + 1e-6
    assert 0.0 <= cut.gap <= 1.0


@SETTINGS
@given(LENGTHS, STOCKS, RULES)
def test_order_of_the_pulls_does_not_change_the_cost(
    lengths: list[float], stock: RollStock, rule: SpliceRule
) -> None:
    order = np.random.default_rng(len(lengths)).permutation(len(lengths))
    first = _figures(RollPieces(np.array(lengths)), stock, rule)
    assert first == _figures(RollPieces(np.array(lengths)[order]), stock, rule)


@SETTINGS
@given(LENGTHS, STOCKS, RULES)
def test_no_list_beats_the_bound_of_freer_splices(
    lengths: list[float], stock: RollStock, rule: SpliceRule
) -> None:
    pieces = RollPieces(np.array(lengths))
    freer = SpliceRule(rule.splice_loss_m, rule.splice_price_m, 0.0)
    free, tight = _figures(pieces, stock, freer), _figures(pieces, stock, rule)
    if tight is not None and free is not None:
        assert tight[0] >= free[1] - 1e-6


@SETTINGS
@given(st.integers(1, 40), st.floats(1.0, 100.0))
def test_pulls_of_half_a_roll_share_rolls_two_by_two(number: int, half_m: float) -> None:
    half_m = round(half_m, 6)
    cut = cut_rolls(RollPieces(np.full(number, half_m)), RollStock(2.0 * half_m), SpliceRule(0.5, 3.0, 1.0))
    assert cut.roll_length_m.size == -(-number // 2)
    assert cut.splices == 0
    assert cut.is_proven
    assert cut.cost_m == pytest.approx(-(-number // 2) * 2.0 * half_m)


def _figures(pieces: RollPieces, stock: RollStock, rule: SpliceRule) -> tuple[float, float] | None:
    try:
        cut = cut_rolls(pieces, stock, rule)
    except UncuttablePullError:
        return None
    return cut.cost_m, cut.bound_m
