"""Roll cutting: known counts, remainders, forbidden places, errors."""

from __future__ import annotations

import numpy as np
import pytest

from fencewright.takeoff.roll_checker import check_cut_list
from fencewright.takeoff.rolls import (
    CutList,
    RollPieces,
    RollStock,
    SpliceRule,
    UncuttablePullError,
    cut_rolls,
)

FOOT_M = 0.3048
ROLL_660_FT = RollStock(660 * FOOT_M)
RULE = SpliceRule(splice_loss_m=2 * FOOT_M, splice_price_m=30 * FOOT_M, least_fragment_m=20 * FOOT_M)


def pulls(*length_m: float) -> RollPieces:
    return RollPieces(np.array(length_m, dtype=np.float64))


def between_posts(length_m: np.ndarray, span_m: float, near_m: float) -> RollPieces:
    """Pulls on which a splice may not be nearer a post than `near_m`."""
    posts = [np.arange(0.0, length + span_m, span_m) for length in length_m]
    start = np.concatenate([[0], np.cumsum([post.size for post in posts])])
    at = np.concatenate(posts)
    return RollPieces(length_m, start, at - near_m, at + near_m)


def checked(pieces: RollPieces, stock: RollStock, rule: SpliceRule) -> CutList:
    cut = cut_rolls(pieces, stock, rule)
    assert check_cut_list(pieces, stock, rule, cut) == []
    return cut


def test_four_pulls_that_fit_take_a_roll_each() -> None:
    # The small job, common practice, no source: 4 rolls of 660 ft.
    cut = checked(pulls(*[192.5] * 4), ROLL_660_FT, RULE)
    assert cut.roll_length_m.size == 4
    assert cut.splices == 0
    assert cut.is_proven
    assert cut.is_offcut_proven
    assert cut.longest_offcut_m == pytest.approx(201.168 - 192.5, abs=1e-6)


@pytest.mark.parametrize(("wires", "rolls"), [(4, 16), (5, 20)])
def test_rolls_of_wire_in_a_mile(wires: int, rolls: int) -> None:
    # sources-fence.md A5: rolls of 1,320 ft; 4 wires take 16 rolls a mile, 5 wires 20, no waste.
    cut = checked(
        pulls(*[5280 * FOOT_M] * wires), RollStock(1320 * FOOT_M), SpliceRule(0.0, 30 * FOOT_M, 0.0)
    )
    assert cut.roll_length_m.size == rolls
    assert cut.splices == 3 * wires
    assert cut.is_proven


def test_no_pulls() -> None:
    cut = checked(pulls(), ROLL_660_FT, RULE)
    assert (cut.cost_m, cut.bound_m, cut.splices, cut.gap, cut.is_proven) == (0.0, 0.0, 0, 0.0, True)


def test_a_long_roll_takes_every_pull_and_the_rest_stays_in_one_length() -> None:
    cut = checked(pulls(100.0, 80.0, 60.0), RollStock(1000.0), RULE)
    assert cut.roll_length_m.size == 1
    assert cut.is_proven
    assert cut.is_offcut_proven
    assert cut.longest_offcut_m == pytest.approx(760.0)


def test_price_of_a_splice_decides_between_a_splice_and_a_roll() -> None:
    pieces, stock = pulls(60.0, 60.0, 60.0), RollStock(100.0)
    cheap = checked(pieces, stock, SpliceRule(1.0, 5.0, 2.0))
    dear = checked(pieces, stock, SpliceRule(1.0, 101.0, 2.0))
    assert (cheap.roll_length_m.size, cheap.splices) == (2, 1)
    assert (dear.roll_length_m.size, dear.splices) == (3, 0)
    assert cheap.is_proven
    assert dear.is_proven


def test_equal_cost_prefers_the_longer_offcut() -> None:
    # Two rolls hold 60 + 30 and 55 + 20, or 60 and 55 + 30 and 20 elsewhere: the longest single one is 45.
    cut = checked(pulls(60.0, 55.0, 30.0, 10.0), RollStock(100.0), SpliceRule(1.0, 50.0, 2.0))
    assert cut.roll_length_m.size == 2
    assert cut.longest_offcut_m == pytest.approx(45.0)
    assert cut.is_offcut_proven


def test_remainder_is_used_where_it_saves_a_roll() -> None:
    cut = checked(
        pulls(90.0, 90.0, 40.0), RollStock(100.0, np.array([15.0, 45.0])), SpliceRule(1.0, 5.0, 2.0)
    )
    assert cut.cost_m == pytest.approx(200.0)
    assert cut.remainder_index.tolist().count(1) == 1
    assert 0 not in cut.remainder_index
    assert cut.is_proven


def test_remainder_that_saves_nothing_stays_in_the_yard() -> None:
    cut = checked(pulls(90.0), RollStock(100.0, np.array([50.0])), SpliceRule(1.0, 5.0, 2.0))
    assert not cut.is_remainder.any()
    assert cut.is_proven


def test_priced_remainder_is_left_when_a_new_roll_is_cheaper() -> None:
    stock = RollStock(100.0, np.array([95.0]), np.array([120.0]))
    cut = checked(pulls(90.0), stock, SpliceRule(1.0, 5.0, 2.0))
    assert not cut.is_remainder.any()
    assert cut.cost_m == pytest.approx(100.0)
    half = RollStock(100.0, np.array([95.0]), np.array([20.0]))
    assert checked(pulls(90.0), half, SpliceRule(1.0, 5.0, 2.0)).cost_m == pytest.approx(20.0)


def test_two_remainders_spliced_together() -> None:
    cut = checked(pulls(90.0), RollStock(100.0, np.array([50.0, 45.0])), SpliceRule(1.0, 5.0, 2.0))
    assert cut.is_remainder.tolist() == [True, True]
    assert cut.cost_m == pytest.approx(5.0)
    assert cut.is_proven


def test_splices_fall_between_posts() -> None:
    length_m = np.repeat([310.0, 355.5, 283.2, 120.0], 4)
    pieces = between_posts(length_m, span_m=3.6576, near_m=0.6096)
    cut = checked(pieces, ROLL_660_FT, RULE)
    free = cut_rolls(RollPieces(length_m), ROLL_660_FT, RULE)
    assert cut.splices > 0
    assert cut.cost_m >= free.cost_m
    assert cut.bound_m == pytest.approx(free.bound_m)


def test_only_one_place_for_the_splice() -> None:
    pieces = RollPieces(np.array([150.0]), np.array([0, 2]), np.array([0.0, 63.0]), np.array([63.0, 150.0]))
    cut = checked(pieces, RollStock(100.0), SpliceRule(1.0, 5.0, 2.0))
    assert sorted(cut.from_m.tolist()) == [0.0, 63.0]


def test_furthest_splice_is_given_up_where_it_leads_nowhere() -> None:
    # From 95 nothing is within 30 and 99 further on; from 70 the splice at 165 is.
    start = np.array([0, 3])
    low, high = np.array([0.0, 70.0, 95.0]), np.array([70.0, 95.0, 122.0])
    pieces = RollPieces(np.array([260.0]), start, low, np.append(high[:2], 165.0))
    cut = checked(pieces, RollStock(100.0), SpliceRule(1.0, 5.0, 30.0))
    assert cut.splices >= 2


def test_pull_without_any_allowed_splice_is_named() -> None:
    pieces = RollPieces(np.array([50.0, 150.0]), np.array([0, 0, 1]), np.array([0.0]), np.array([150.0]))
    with pytest.raises(UncuttablePullError, match=r"pull 1 of 150.000 m cannot be cut") as caught:
        cut_rolls(pieces, RollStock(100.0), RULE)
    assert caught.value.pull_index == 1


def test_pull_without_any_allowed_splice_takes_the_long_remainder() -> None:
    pieces = RollPieces(np.array([50.0, 150.0]), np.array([0, 0, 1]), np.array([0.0]), np.array([150.0]))
    cut = checked(pieces, RollStock(100.0, np.array([160.0, 151.0])), RULE)
    assert cut.splices == 0
    assert 1 in cut.remainder_index


def test_the_same_input_gives_the_same_list() -> None:
    length_m = np.random.default_rng(5).uniform(20.0, 700.0, 40)
    first, second = (checked(between_posts(length_m, 3.6, 0.5), ROLL_660_FT, RULE) for _ in range(2))
    for name, column in vars(first).items():
        assert np.array_equal(column, getattr(second, name)), name


def test_fragments_stand_in_the_order_of_the_rolls() -> None:
    cut = checked(pulls(*np.linspace(30.0, 400.0, 20)), ROLL_660_FT, RULE)
    key = cut.roll_index * 1e6 + cut.at_m
    assert (np.diff(key) > 0.0).all()


@pytest.mark.parametrize("scale", [200, 2500])
def test_many_pulls_stay_within_one_percent(scale: int) -> None:
    length_m = np.random.default_rng(scale).uniform(24.0, 730.0, scale)
    cut = checked(between_posts(length_m, 3.6, 0.6), ROLL_660_FT, RULE)
    assert cut.gap <= 0.01


def test_thousands_of_equal_pulls() -> None:
    cut = checked(pulls(*[400 * FOOT_M] * 3000), ROLL_660_FT, RULE)
    assert cut.gap <= 0.01


def test_pulls_that_barely_miss_half_a_roll() -> None:
    # Lengths alone say 78 rolls for 120 pulls; only prices of groups bring the bound near the cost.
    cut = checked(pulls(*np.linspace(103.0, 131.0, 120)), ROLL_660_FT, RULE)
    assert cut.gap <= 0.01


@pytest.mark.parametrize(
    ("pieces", "stock", "rule", "message"),
    [
        (pulls(10.0, np.nan), ROLL_660_FT, RULE, "pull 1 has the length nan"),
        (pulls(10.0, 0.0), ROLL_660_FT, RULE, "pull 1 has the length 0.0"),
        (pulls(10.0), RollStock(100.0, np.array([-1.0])), RULE, "remainder 0"),
        (pulls(10.0), RollStock(100.0, np.array([1.0]), np.array([1.0, 2.0])), RULE, "one price a remainder"),
        (pulls(10.0), RollStock(100.0, np.array([1.0]), np.array([-2.0])), RULE, "prices of remainders"),
        (pulls(10.0), RollStock(0.5), RULE, "longer than the rail that a splice takes"),
        (pulls(10.0), ROLL_660_FT, SpliceRule(-1.0, 0.0, 0.0), "0 or more"),
        (pulls(10.0), ROLL_660_FT, SpliceRule(1.0, np.inf, 0.0), "0 or more"),
    ],
)
def test_bad_input_is_one_sentence(
    pieces: RollPieces, stock: RollStock, rule: SpliceRule, message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        cut_rolls(pieces, stock, rule)


@pytest.mark.parametrize(
    ("start", "low", "high", "message"),
    [
        ([], [1.0], [2.0], "do not belong together"),
        ([0, 1], [1.0], [2.0, 3.0], "do not belong together"),
        ([0, 2], [1.0], [2.0], "must rise from 0"),
        ([0], [], [], "must rise from 0"),
        ([0, 1], [np.nan], [2.0], "must be numbers"),
    ],
)
def test_bad_intervals_are_one_sentence(
    start: list[int], low: list[float], high: list[float], message: str
) -> None:
    pieces = RollPieces(np.array([10.0]), np.array(start, dtype=np.int64), np.array(low), np.array(high))
    with pytest.raises(ValueError, match=message):
        cut_rolls(pieces, ROLL_660_FT, RULE)
