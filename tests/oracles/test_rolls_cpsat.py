"""Roll cutting against a constraint solver that places every fragment of every pull on a roll."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from ortools.sat.python import cp_model

from fencewright.takeoff.roll_checker import check_cut_list
from fencewright.takeoff.rolls import RollPieces, RollStock, SpliceRule, cut_rolls


def least_cost(
    lengths: list[int], roll: int, remainders: list[int], loss: int, price: int, least: int
) -> int:
    """Least cost of cutting pulls of whole lengths, without forbidden places.

    A pull takes an amount from each roll, `least` or more if it takes from several; all its fragments but
    one also take the loss.
    """
    model = cp_model.CpModel()
    new = sum(-(-length // (roll - loss)) for length in lengths)
    sizes = remainders + [roll] * new
    used = [model.new_bool_var("") for _ in sizes]
    for first, second in zip(used[len(remainders) :], used[len(remainders) + 1 :], strict=False):
        model.add(first >= second)
    taken: list[list[cp_model.LinearExprT]] = [[] for _ in sizes]
    fragments = []
    for length in lengths:
        has = [model.new_bool_var("") for _ in sizes]
        free = [model.new_bool_var("") for _ in sizes]
        amount = [model.new_int_var(0, min(length, size), "") for size in sizes]
        model.add_exactly_one(free)
        model.add(sum(amount) == length)
        is_one = model.new_bool_var("")
        model.add(sum(has) == 1).only_enforce_if(is_one)
        for place, size in enumerate(sizes):
            model.add_implication(free[place], has[place])
            model.add_implication(has[place], used[place])
            model.add(amount[place] <= size * has[place])
            model.add(amount[place] >= least).only_enforce_if(has[place], is_one.negated())
            model.add(amount[place] >= 1).only_enforce_if(has[place])
            taken[place].append(amount[place] + loss * has[place] - loss * free[place])
        fragments.append(sum(has))
    for place, size in enumerate(sizes):
        model.add(sum(taken[place]) <= size)
    model.minimize(roll * sum(used[len(remainders) :]) + price * (sum(fragments) - len(lengths)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


CASES = [
    (seed, pulls, remainders)
    for seed, pulls, remainders in [
        (1, 3, 0),
        (2, 4, 0),
        (3, 5, 0),
        (4, 4, 1),
        (5, 3, 2),
        (6, 5, 0),
        (7, 4, 2),
    ]
]


@pytest.mark.parametrize(("seed", "pulls", "remainders"), CASES)
@pytest.mark.parametrize(("loss", "price", "least"), [(0, 10, 1), (2, 15, 5), (1, 120, 1), (3, 0, 2)])
def test_cost_is_the_least(seed: int, pulls: int, remainders: int, loss: int, price: int, least: int) -> None:
    random = np.random.default_rng(seed)
    lengths = random.integers(20, 180, pulls).tolist()
    owned = random.integers(15, 95, remainders).tolist()
    expected = least_cost(lengths, 100, owned, loss, price, least)
    pieces = RollPieces(np.array(lengths, dtype=np.float64))
    stock = RollStock(100.0, np.array(owned, dtype=np.float64))
    rule = SpliceRule(float(loss), float(price), float(least))
    cut = cut_rolls(pieces, stock, rule)
    assert check_cut_list(pieces, stock, rule, cut) == []
    assert cut.bound_m <= expected + 1e-6
    assert cut.cost_m == pytest.approx(expected, abs=1e-6)


def most_groups(lengths: list[int], count: int, roll: int, loss: int, price: int) -> int:
    """Least cost by groups, `count` pulls of each length: every group counts its pulls by length."""
    model = cp_model.CpModel()
    groups = len(lengths) * count
    taken = [[model.new_int_var(0, count, "") for _ in lengths] for _ in range(groups)]
    most = -(-sum(lengths) * count // (roll - loss)) + groups
    rolls = [model.new_int_var(0, most, "") for _ in range(groups)]
    is_used = [model.new_bool_var("") for _ in range(groups)]
    for kind in range(len(lengths)):
        model.add(sum(group[kind] for group in taken) == count)
    for group, number, used in zip(taken, rolls, is_used, strict=True):
        need = sum(length * n for length, n in zip(lengths, group, strict=True))
        model.add(need + loss * (number - 1) <= roll * number).only_enforce_if(used)
        model.add(sum(group) >= 1).only_enforce_if(used)
        model.add(number >= 1).only_enforce_if(used)
        model.add(sum(group) == 0).only_enforce_if(used.negated())
        model.add(number == 0).only_enforce_if(used.negated())
    for first, second in pairwise(rolls):
        model.add(first >= second)
    model.minimize(sum(rolls) * (roll + price) - price * sum(is_used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.random_seed = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@pytest.mark.parametrize(("seed", "kinds", "count"), [(1, 3, 4), (2, 3, 4)])
def test_pulls_of_a_few_lengths_are_proven(seed: int, kinds: int, count: int) -> None:
    lengths = np.random.default_rng(seed).integers(80, 1200, kinds).tolist()
    expected = most_groups(lengths, count, 660, 2, 30)
    pieces = RollPieces(np.repeat(np.array(lengths, dtype=np.float64), count))
    cut = cut_rolls(pieces, RollStock(660.0), SpliceRule(2.0, 30.0, 1.0))
    assert cut.is_proven
    assert cut.cost_m == pytest.approx(expected, abs=1e-6)
