"""Plans within crew and plant against a constraint solver that proves the shortest: random networks with waits, fences."""

from __future__ import annotations

import random

import numpy as np
import pytest
from ortools.sat.python import cp_model

from fencewright.programme.bounds import lower_bound
from fencewright.programme.crew import share_out
from fencewright.programme.levelling import level
from fencewright.programme.network import Network, earliest

HORIZON = 160


def shortest(network: Network, horizon: int = 80) -> int:
    """Least end of a network, waits as tables of allowed pairs, people and plant as cumulative limits."""
    model = cp_model.CpModel()
    start = [model.new_int_var(0, horizon, "") for _ in range(len(network))]
    end = [model.new_int_var(0, 4 * horizon, "") for _ in range(len(network))]
    last = model.new_int_var(0, 4 * horizon, "")
    intervals = []
    for row, many in enumerate(network.before):
        if row in network.release:
            table = network.release[row]
            pairs = [(slot, int(table[slot])) for slot in range(horizon + 1)]
            model.add_allowed_assignments([start[row], end[row]], pairs)
        else:
            model.add(end[row] == start[row] + network.duration[row])
        for one in many:
            model.add(start[row] >= end[one])
        model.add(last >= end[row])
        intervals.append(
            model.new_interval_var(start[row], network.duration[row], start[row] + network.duration[row], "")
        )
    for kind, capacity in enumerate(network.capacity):
        used = [row for row in range(len(network)) if network.need[row, kind] and network.duration[row]]
        if used:
            model.add_cumulative(
                [intervals[row] for row in used], [int(network.need[row, kind]) for row in used], capacity
            )
    model.minimize(last)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def made(seed: int, count: int) -> Network:
    """A random network: two resources, a wait now and then that crosses a week's end."""
    rng = random.Random(seed)
    duration, before, need, release = [], [], [], {}
    week = np.array([slot + 3 if slot % 5 < 3 else slot - slot % 5 + 5 for slot in range(5 * HORIZON)])
    tables = [np.maximum.accumulate(week), np.arange(5 * HORIZON) + 2]
    for row in range(count):
        earlier = [one for one in range(row) if rng.random() < 2.0 / max(row, 1)]
        is_wait = rng.random() < 0.2 and earlier and not any(one in release for one in earlier)
        if is_wait:
            release[row] = tables[rng.randrange(2)]
        duration.append(0 if is_wait else rng.randint(1, 6))
        before.append(tuple(earlier))
        need.append((0, 0) if is_wait else (rng.randint(1, 3), rng.randint(0, 1)))
    return Network(tuple(duration), tuple(before), np.array(need), (3, 1), release)


@pytest.mark.parametrize("seed", range(12))
def test_small_networks(seed: int) -> None:
    network = made(seed, 11)
    plan = level(network)
    best = shortest(network, plan.finish + 3)
    assert plan.bound <= best <= plan.finish
    assert plan.finish == best


@pytest.mark.parametrize("seed", range(3))
def test_larger_networks_are_near_and_never_bounded_above(seed: int) -> None:
    network = made(100 + seed, 16)
    plan = level(network)
    best = shortest(network, plan.finish + 3)
    assert lower_bound(network)[0] <= plan.bound <= best <= plan.finish <= 1.1 * best


@pytest.mark.parametrize("seed", range(5))
def test_a_plan_keeps_to_the_network_and_to_the_capacity(seed: int) -> None:
    network = made(200 + seed, 15)
    start = level(network).start
    used = np.zeros((HORIZON, 2), dtype=np.int64)
    for row, many in enumerate(network.before):
        assert all(start[row] >= network.ends(one, start[one]) for one in many)
        used[start[row] : start[row] + network.duration[row]] += network.need[row]
    assert (used <= np.array(network.capacity)).all()


@pytest.mark.parametrize("seed", range(5))
def test_people_given_out_make_the_same_plan(seed: int) -> None:
    """The links of the crew alone, without any limit, keep the plan within its capacity and no longer."""
    network = made(300 + seed, 15)
    plan = level(network)
    order = sorted(range(len(network)), key=lambda row: (plan.start[row], row))
    place = {row: number for number, row in enumerate(order)}
    own = Network(
        tuple(network.duration[row] for row in order),
        tuple(tuple(sorted(place[one] for one in network.before[row])) for row in order),
        network.need[order],
        network.capacity,
        {place[row]: table for row, table in network.release.items()},
    )
    linked = own.with_links(share_out(own, [plan.start[row] for row in order]).links)
    start, end = earliest(linked)
    assert max(end) <= plan.finish
    used = np.zeros((HORIZON, 2), dtype=np.int64)
    for row in range(len(own)):
        used[start[row] : start[row] + own.duration[row]] += own.need[row]
    assert (used <= np.array(own.capacity)).all()
