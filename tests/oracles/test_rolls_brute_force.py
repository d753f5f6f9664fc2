"""Roll cutting against trying everything: all partitions into groups, all splices on a grid."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import product

import numpy as np
import pytest

from fencewright.takeoff.roll_checker import check_cut_list
from fencewright.takeoff.rolls import RollPieces, RollStock, SpliceRule, cut_rolls


def partitions(items: list[int]) -> Iterator[list[list[int]]]:
    """All ways to part a list."""
    if not items:
        yield []
        return
    for rest in partitions(items[1:]):
        yield [[items[0]], *rest]
        for place in range(len(rest)):
            yield [*rest[:place], [items[0], *rest[place]], *rest[place + 1 :]]


def group_cost_and_left(lengths: list[int], roll: int, loss: int, price: int) -> tuple[int, int]:
    """Cost of pulls that share rolls, and what they leave, by trying one roll more at a time."""
    rolls = 1
    while sum(lengths) + loss * (rolls - 1) > roll * rolls:
        rolls += 1
    return rolls * roll + (rolls - 1) * price, roll * rolls - sum(lengths) - loss * (rolls - 1)


@pytest.mark.parametrize("seed", range(25))
@pytest.mark.parametrize(("loss", "price"), [(0, 7), (2, 15), (3, 60), (1, 150)])
def test_cost_and_offcut_of_up_to_six_pulls(seed: int, loss: int, price: int) -> None:
    random = np.random.default_rng(seed)
    lengths = random.integers(10, 260, random.integers(1, 7)).tolist()
    costs = []
    for parts in partitions(lengths):
        groups = [group_cost_and_left(part, 100, loss, price) for part in parts]
        costs.append((sum(cost for cost, _ in groups), -max(left for _, left in groups)))
    cost, left = min(costs)
    pieces, stock = RollPieces(np.array(lengths, dtype=np.float64)), RollStock(100.0)
    rule = SpliceRule(float(loss), float(price), 0.0)
    cut = cut_rolls(pieces, stock, rule)
    assert check_cut_list(pieces, stock, rule, cut) == []
    assert cut.is_proven
    assert cut.cost_m == pytest.approx(cost, abs=1e-6)
    assert cut.longest_offcut_m <= -left + 1e-6
    if cut.is_offcut_proven:
        assert cut.longest_offcut_m == pytest.approx(-left, abs=1e-5)


@pytest.mark.parametrize(("seed", "kinds", "count"), [(1, 4, 6), (2, 4, 6), (3, 3, 8), (4, 3, 8), (5, 2, 12)])
def test_twenty_four_pulls_of_a_few_lengths(seed: int, kinds: int, count: int) -> None:
    # Every group that may come first, then the best of what is left: all counts, no pruning.
    lengths = np.random.default_rng(seed).integers(80, 1200, kinds).tolist()
    roll, loss, price = 660, 2, 30
    states = list(product(range(count + 1), repeat=kinds))
    alone = {
        state: group_cost_and_left(
            [length for length, n in zip(lengths, state, strict=True) for _ in range(n)], roll, loss, price
        )[0]
        for state in states[1:]
    }
    least = {states[0]: 0}
    for state in states[1:]:
        least[state] = min(
            alone[group] + least[tuple(a - b for a, b in zip(state, group, strict=True))]
            for group in product(*(range(n + 1) for n in state))
            if any(group)
        )
    pieces = RollPieces(np.repeat(np.array(lengths, dtype=np.float64), count))
    cut = cut_rolls(pieces, RollStock(float(roll)), SpliceRule(float(loss), float(price), 1.0))
    assert cut.is_proven
    assert cut.cost_m == pytest.approx(least[states[-1]], abs=1e-6)


def fragmentings(length: int, allowed: frozenset[int], least: int) -> list[tuple[int, ...]]:
    """All ways to cut a pull at allowed places, as fragment lengths; at most three fragments."""
    found: list[tuple[int, ...]] = [(length,)]
    places = sorted(allowed)
    found += [(a, length - a) for a in places if least <= a <= length - least]
    found += [
        (a, b - a, length - b) for a in places for b in places if a >= least and b - a >= least <= length - b
    ]
    return found


def least_rolls(fragments: tuple[int, ...], roll: int) -> int:
    """Fewest rolls for fragments, by trying every roll for each."""

    @cache
    def fill(rest: tuple[int, ...], rooms: tuple[int, ...]) -> int:
        if not rest:
            return len(rooms)
        size = rest[0]
        best = fill(rest[1:], tuple(sorted([*rooms, roll - size])))
        for place, room in enumerate(rooms):
            if room >= size and room not in rooms[:place]:
                lower = tuple(sorted([*rooms[:place], room - size, *rooms[place + 1 :]]))
                best = min(best, fill(rest[1:], lower))
        return best

    return fill(tuple(sorted(fragments, reverse=True)), ())


@pytest.mark.parametrize("seed", range(12))
def test_forbidden_places(seed: int) -> None:
    random = np.random.default_rng(seed)
    roll, loss, price, least = 10, 1, int(random.integers(1, 6)), 2
    lengths = random.integers(4, 19, random.integers(2, 4)).tolist()
    allowed = [frozenset(p for p in range(1, length) if p % 3 != seed % 3) for length in lengths]
    best = None
    for choice in product(*(fragmentings(n, a, least) for n, a in zip(lengths, allowed, strict=True))):
        sizes = tuple(size + (loss if place else 0) for cut in choice for place, size in enumerate(cut))
        if max(sizes) <= roll:
            cost = roll * least_rolls(sizes, roll) + price * (len(sizes) - len(lengths))
            best = cost if best is None else min(best, cost)
    assert best is not None
    forbidden = [
        (pull, at) for pull, length in enumerate(lengths) for at in range(length) if at % 3 == seed % 3
    ]
    rows = np.array([pull for pull, _ in forbidden])
    start = np.searchsorted(rows, np.arange(len(lengths) + 1))
    at = np.array([place for _, place in forbidden], dtype=np.float64)
    pieces = RollPieces(np.array(lengths, dtype=np.float64), start, at - 0.9, at + 0.9)
    rule = SpliceRule(float(loss), float(price), float(least))
    cut = cut_rolls(pieces, RollStock(float(roll)), rule)
    assert check_cut_list(pieces, RollStock(float(roll)), rule, cut) == []
    # The grid leaves out splices between whole places, so the list may be better but should not be worse.
    assert cut.cost_m <= best + 1e-6
    assert cut.bound_m <= best + 1e-6
