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
    assert [(miss.kind, miss.pull_index.tolist(), miss.saves_rolls) for miss in found] == [
        ("one group", [0], 1)
    ]
    assert found[0].by_m == pytest.approx(0.332, abs=1e-4)


def test_pulls_spliced_together_all_but_a_little() -> None:
    # 402.5 m and one splice less than three rolls hold: shorter by 0.774 m they are two rolls.
    found = misses([150.0, 150.0, 102.5, 30.0, 190.0, 195.0], 0.8)
    assert found
    assert all(miss.saves_rolls == 1 for miss in found)


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
