"""Near misses: which small shortening saves a roll."""

from __future__ import annotations

import numpy as np
import pytest

from fencewright.takeoff.roll_near_misses import near_misses
from fencewright.takeoff.roll_records import NearMiss
from fencewright.takeoff.rolls import RollPieces, RollStock, SpliceRule, cut_rolls

RULE = SpliceRule(0.6096, 9.144, 6.096)
ROLL_660_FT = RollStock(201.168)


def misses(lengths: list[float], near_m: float, rule: SpliceRule = RULE) -> list[NearMiss]:
    pieces = RollPieces(np.array(lengths))
    return near_misses(pieces, ROLL_660_FT, rule, cut_rolls(pieces, ROLL_660_FT, rule), near_m)


def test_four_pulls_just_longer_than_a_roll() -> None:
    first = next(miss for miss in misses([201.588] * 4, 0.5) if miss.kind == "equal pulls")
    assert first.pull_index.tolist() == [0, 1, 2, 3]
    assert first.by_m == pytest.approx(0.42, abs=1e-4)
    assert first.saves_rolls == 1
    # Five rolls and four splices become four rolls.
    assert first.saves_m == pytest.approx(201.168 + 4 * 9.144)


def test_two_pulls_that_share_a_roll_all_but_a_little() -> None:
    found = misses([120.0, 81.5], 0.5)
    assert [(miss.pull_index.tolist(), miss.saves_rolls) for miss in found] == [([0], 1)]
    assert found[0].by_m == pytest.approx(0.332, abs=1e-4)
    assert found[0].saves_m == pytest.approx(201.168)


def test_two_of_three_pulls_that_a_roll_all_but_holds() -> None:
    # Where a splice counts as more than a roll: 120 and 81.5 m miss a roll of 201.168 m by 0.332.
    found = misses([120.0, 81.5, 198.0], 0.5, SpliceRule(0.6096, 250.0, 6.096))
    assert [(miss.kind, miss.pull_index.tolist(), miss.saves_rolls) for miss in found] == [
        ("one group", [0], 1)
    ]
    assert found[0].by_m == pytest.approx(0.332, abs=1e-4)
    assert found[0].saves_m == pytest.approx(201.168)


def test_nothing_near() -> None:
    assert misses([201.588] * 4, 0.2) == []
    assert misses([120.0, 90.0], 0.5) == []


def test_the_shortening_is_enough() -> None:
    lengths = np.array([201.588, 301.0, 120.0, 81.9, 160.2])
    pieces = RollPieces(lengths)
    before = cut_rolls(pieces, ROLL_660_FT, RULE)
    for miss in near_misses(pieces, ROLL_660_FT, RULE, before, 2.0):
        shorter = lengths.copy()
        shorter[miss.pull_index] -= miss.by_m
        after = cut_rolls(RollPieces(shorter), ROLL_660_FT, RULE)
        assert before.roll_length_m.size - after.roll_length_m.size == miss.saves_rolls
        assert before.cost_m - after.cost_m == pytest.approx(miss.saves_m)


def test_no_pulls_and_too_many() -> None:
    assert misses([], 1.0) == []
    assert misses([201.588] * 501, 1.0) == []
