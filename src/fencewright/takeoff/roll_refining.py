"""Better cut lists: exact where all pulls fit one table of groups, else some chains at a time."""

from __future__ import annotations

import numpy as np

from fencewright.takeoff.roll_chain import chain_steps
from fencewright.takeoff.roll_exact import (
    Groups,
    GroupTable,
    best_groups,
    group_table,
    is_small,
    least_costs,
)
from fencewright.takeoff.roll_greedy import Chain, break_even
from fencewright.takeoff.roll_instance import Instance
from fencewright.takeoff.roll_placing import place_group
from fencewright.takeoff.roll_valuing import Solution, better, cost_of, offcut_of, solution

MOST_CELLS = 700_000  # of the table that proves a list
PART_CELLS = 15_000  # of the table that betters some chains
MOST_PULLS = 500  # beyond, greedy chains are left as they are
TURNS = 6  # equally good choices tried where some group cannot be placed


def refine_exactly(instance: Instance, found: Solution) -> Solution | None:
    """Least cost and then longest offcut, proven where every group can be placed.

    Parameters
    ----------
    instance : Instance
        The problem.
    found : Solution
        A list to better.

    Returns
    -------
    solution : Solution or None
        None if there are too many pulls of too many kinds. With two or more remainders the cost is only
        proven where it meets the bound by length.
    """
    kinds, count = list(range(len(instance.count))), list(instance.count)
    if not is_small(count, MOST_CELLS):
        return None
    table = group_table(instance, kinds, count)
    exact = best_groups(instance, table)
    if instance.remainders:
        chains, bound = _with_remainders(instance, found, table, exact)
        return solution(instance, chains, max(found.bound, bound), False)
    chains = _best_placed(instance, found.chains, table, exact)
    is_longest = cost_of(instance, chains) == exact.cost and offcut_of(instance, chains) >= exact.offcut
    return solution(instance, chains, max(found.bound, exact.cost), is_longest)


def _best_placed(instance: Instance, chains: list[Chain], table: GroupTable, exact: Groups) -> list[Chain]:
    """Best list found among equally good groups, then among groups with some rail to spare."""
    even = break_even(instance)
    for spare in (0, even // 8 + 1, even // 2 + 2):
        used = table if spare == 0 else group_table(instance, table.kinds, table.count, spare)
        for turn in range(TURNS):
            groups = exact if spare == turn == 0 else best_groups(instance, used, turn)
            if groups.cost > cost_of(instance, chains):
                break
            chains = better(instance, chains, _placed(instance, groups.kinds))
            if cost_of(instance, chains) == exact.cost and offcut_of(instance, chains) >= exact.offcut:
                return chains
        if cost_of(instance, chains) == exact.cost:
            break
    return chains


def _placed(instance: Instance, groups: list[list[int]], is_strict: bool = True) -> list[Chain] | None:
    """Chains of the groups on new rolls; None if one cannot be placed."""
    chains = []
    for kinds in groups:
        needed = instance.rolls_for(sum(instance.length[kind] for kind in kinds))
        chain = place_group(instance, kinds, [], needed)
        if chain is None and not is_strict:
            chain = place_group(instance, kinds, [], needed + 1)
        if chain is None:
            return None
        chains.append(chain)
    return chains


def _with_remainders(
    instance: Instance, found: Solution, table: GroupTable, exact: Groups
) -> tuple[list[Chain], int]:
    """Best of no remainder and of one after the other, each with the group that saves most."""
    chains = better(instance, found.chains, _placed(instance, exact.kinds))
    bound, fixed = exact.cost, []
    free = list(range(len(instance.remainders)))
    while free:
        picks = [(*_one_remainder(instance, table, row), row) for row in free]
        cost, state, row = min(picks)
        if len(instance.remainders) == 1:
            bound = min(bound, cost)
        kinds, new = _state_kinds(instance, table, state, row)
        if not kinds:
            break
        chain = place_group(instance, kinds, [row], new)
        if chain is None:
            break
        fixed.append(chain)
        free.remove(row)
        left = [n - kinds.count(kind) for kind, n in zip(table.kinds, table.count, strict=True)]
        if not any(left):
            chains = better(instance, chains, fixed)
            break
        table = group_table(instance, table.kinds, left)
        rest = _placed(instance, best_groups(instance, table).kinds)
        chains = better(instance, chains, fixed + rest if rest is not None else None)
    return chains, bound if len(instance.remainders) == 1 else 0


def _one_remainder(instance: Instance, table: GroupTable, row: int) -> tuple[int, int]:
    """Least cost with one remainder in one group, and the state of that group's pulls."""
    length, new = _remainder_rolls(instance, table, row)
    least = least_costs(instance, table)[::-1]
    shape = [n + 1 for n in table.count]
    digits = np.indices(shape).reshape(len(shape), -1)
    full = np.array([instance.full_rolls[kind] for kind in table.kinds]) @ digits
    rest = least + full[::-1] * (instance.roll + instance.price)
    cost = new * (instance.roll + instance.price) + instance.remainder_prices[row] + rest
    cost[0] = rest[0]
    state = int(np.argmin(np.where(length > 0, cost, cost.max() + 1)))
    return int(cost[state]), state


def _remainder_rolls(instance: Instance, table: GroupTable, row: int) -> tuple[np.ndarray, np.ndarray]:
    """Length of every state's pulls, and the new rolls that they need besides a remainder."""
    shape = [n + 1 for n in table.count]
    digits = np.indices(shape).reshape(len(shape), -1)
    length = np.array([instance.length[kind] for kind in table.kinds], dtype=np.int64) @ digits
    return length, np.maximum(0, -((instance.remainders[row] - length) // instance.further))


def _state_kinds(instance: Instance, table: GroupTable, state: int, row: int) -> tuple[list[int], int]:
    """Pulls of a state and the new rolls they need besides a remainder."""
    kinds = []
    for kind, number, stride in zip(table.kinds, table.count, table.stride, strict=True):
        kinds.extend([kind] * (state // stride % (number + 1)))
    length = sum(instance.length[kind] for kind in kinds)
    return kinds, max(0, -((instance.remainders[row] - length) // instance.further))


def refine_in_parts(instance: Instance, found: Solution, rounds: int) -> Solution:
    """Group the pulls of some chains again, exactly, and keep what is better: a search of large steps.

    Parameters
    ----------
    instance : Instance
        The problem.
    found : Solution
        A list to better.
    rounds : int
        Parts tried.

    Returns
    -------
    solution : Solution
        Never worse; its bound is the one given.
    """
    chains = list(found.chains)
    random = np.random.default_rng(0)
    for _ in range(rounds if instance.pulls <= MOST_PULLS else 0):
        if cost_of(instance, chains) == found.bound and len(chains) < 2:
            break
        part = _part(instance, chains, random)
        if len(part) < 2:
            continue
        some = [chains[row] for row in part]
        again = _regrouped(instance, some)
        if again is None:
            continue
        first, second = (
            (cost_of(instance, some), -offcut_of(instance, some)),
            (
                cost_of(instance, again),
                -offcut_of(instance, again),
            ),
        )
        if second <= first:
            chains = [chain for row, chain in enumerate(chains) if row not in part] + again
    return solution(instance, chains, found.bound, False)


def _part(instance: Instance, chains: list[Chain], random: np.random.Generator) -> list[int]:
    """Chains on new rolls, in random order, as many as one table can hold."""
    part: list[int] = []
    count: dict[int, int] = {}
    for row in random.permutation(len(chains)).tolist():
        if any(place >= 0 for place in chains[row][0].rows):
            continue
        more = dict(count)
        for step in chain_steps(chains[row][1]):
            more[step.kind] = more.get(step.kind, 0) + 1
        if is_small(list(more.values()), PART_CELLS):
            count = more
            part.append(row)
        elif len(part) > 1:
            break
    return part


def _regrouped(instance: Instance, chains: list[Chain]) -> list[Chain] | None:
    """The pulls of some chains in the best groups that can be placed."""
    count: dict[int, int] = {}
    for _, last in chains:
        for step in chain_steps(last):
            count[step.kind] = count.get(step.kind, 0) + 1
    kinds = sorted(count)
    table = group_table(instance, kinds, [count[kind] for kind in kinds])
    groups = best_groups(instance, table)
    if groups.cost > cost_of(instance, chains):
        return None
    return _placed(instance, groups.kinds)
