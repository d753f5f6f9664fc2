"""Pairs of the interior point against the equations that they stand for, one number at a time."""

from __future__ import annotations

import numpy as np
import pytest

from fencewright.topline import pairs as module
from fencewright.topline.pairs import aimed, follow, move, paired, predict, products_of, stiffness

SIZE, TARGET = 23, 0.07


@pytest.mark.parametrize("part", [1, 7, 23, 100])
def test_whole_step_meets_the_linear_equations_with_the_second_order(
    part: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "PART", part)
    random = np.random.default_rng(part)
    driver, follower = random.uniform(0.5, 2.0, (2, SIZE)), random.uniform(0.5, 2.0, (2, SIZE))
    first, second = 0.2 * random.standard_normal((2, SIZE))
    pairs = paired((driver[0], driver[1]), (follower[0], follower[1]))
    assert products_of(pairs) == pytest.approx(sum((driver * follower).ravel()))
    np.testing.assert_allclose(stiffness(pairs), (follower / driver).sum(axis=0))

    affine = np.array([first, -first])
    answer = -follower - follower * affine / driver
    reach, summed = predict(pairs, first)
    assert reach == pytest.approx(max((-affine / driver).max(), (-answer / follower).max()))
    assert summed == pytest.approx(-(affine * answer).sum())

    pull = (TARGET - affine * answer) / driver
    np.testing.assert_allclose(aimed(pairs, TARGET), pull[0] - pull[1])
    moved = np.array([second, -second])
    change = pull - follower - follower * moved / driver
    falls = follow(pairs, second)
    assert falls == pytest.approx(((-moved / driver).max(), (-change / follower).max()))

    after = move(pairs, second, 0.5, 0.25)
    np.testing.assert_allclose(pairs.driver, driver + 0.5 * moved)
    np.testing.assert_allclose(pairs.follower, follower + 0.25 * change)
    assert after == pytest.approx((pairs.driver * pairs.follower).sum())


def test_no_pairs_move_nothing() -> None:
    none = np.zeros(0)
    pairs = paired((none, none), (none, none))
    assert stiffness(pairs).size == 0
    assert predict(pairs, none) == (0.0, 0.0)
    assert aimed(pairs, 1.0).size == 0
    assert follow(pairs, none) == (0.0, 0.0)
    assert move(pairs, none, 1.0, 1.0) == 0.0
