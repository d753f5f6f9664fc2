"""Better cut lists: exact where all pulls fit one table of groups, else some chains at a time."""

from __future__ import annotations

import numpy as np

from fencewright.takeoff.roll_chain import chain_steps, roll_rooms
from fencewright.takeoff.roll_exact import Group, best_groups, group_table, is_small
from fencewright.takeoff.roll_greedy import Chain, break_even
from fencewright.takeoff.roll_instance import Instance
from fencewright.takeoff.roll_placing import place_group
from fencewright.takeoff.roll_valuing import Solution, better, cost_of, offcut_of, solution

MOST_CELLS = 2_000_000  # of the table that proves a list
PART_CELLS = 15_000  # of the table that betters some chains
MOST_PULLS = 500  # beyond, greedy chains are left as they are
PROVEN_ROUNDS = 15  # parts tried for a longer offcut once the cost is the least
TURNS = 4  # equally good choices tried where some group cannot be placed


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
        None if there are too many pulls of too many kinds, or pulls shorter than a splice loss.

    Notes
    -----
    Good groups may have no allowed splices; then equally good ones are tried, then groups that leave some
    rail to spare. The bound stays that of the best groups.
    """
    kinds, count = list(range(len(instance.count))), list(instance.count)
    free = [row for row, length in enumerate(instance.remainders) if length > instance.loss]
    if not is_small(count + [1] * len(free), MOST_CELLS) or min(instance.residue) <= instance.loss:
        return None
    chains, bound, longest = found.chains, found.bound, found.offcut
    even = break_even(instance)
    for spare in (0, even // 8 + 1, even // 2 + 2):
        table = group_table(instance, kinds, count, free, found.cost, spare)
        for turn in range(TURNS):
            groups = best_groups(instance, table, turn)
            if spare == turn == 0:
                bound, longest = max(bound, groups.cost), groups.offcut
            if groups.cost > cost_of(instance, chains):
                break
            chains = better(instance, chains, _placed(instance, groups.groups))
            if cost_of(instance, chains) == bound and (free or offcut_of(instance, chains) >= longest):
                break
        if cost_of(instance, chains) == bound:
            break
    is_longest = not free and cost_of(instance, chains) == bound and offcut_of(instance, chains) >= longest
    return solution(instance, chains, bound, is_longest)


def _placed(instance: Instance, groups: list[Group]) -> list[Chain] | None:
    """Chains of the groups; None if one cannot be placed."""
    chains = []
    for group in groups:
        owned = sum(instance.remainders[row] - instance.loss for row in group.remainders)
        need = sum(instance.length[kind] for kind in group.kinds) - owned - instance.loss
        new = -(-need // instance.further)
        if new < 0:
            return None  # it leaves more than a roll, which the table wrongly hands on
        if not group.kinds:
            continue
        chain = place_group(instance, group.kinds, group.remainders, new)
        if chain is None:
            return None
        chains.append(chain)
    return chains


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
    for turn in range(rounds if instance.pulls <= MOST_PULLS else 0):
        if turn >= PROVEN_ROUNDS and cost_of(instance, chains) == found.bound:
            break
        part = _part(chains, random, _left(instance, chains) if turn % 2 else None)
        some = [chains[row] for row in part]
        again = _regrouped(instance, some)
        if again is not None and _rank(instance, again) <= _rank(instance, some):
            chains = [chain for row, chain in enumerate(chains) if row not in part] + again
    return solution(instance, chains, found.bound, found.is_offcut_proven)


def _rank(instance: Instance, chains: list[Chain]) -> tuple[int, int]:
    return cost_of(instance, chains), -offcut_of(instance, chains)


def _left(instance: Instance, chains: list[Chain]) -> list[int]:
    """Rail left on all the rolls of each chain. [um]"""
    return [sum(roll_rooms(instance, *chain).values()) for chain in chains]


def _part(chains: list[Chain], random: np.random.Generator, left: list[int] | None) -> list[int]:
    """Some chains, as many as one table can hold: in random order, or that which leaves most first."""
    order = random.permutation(len(chains)).tolist()
    if left is not None:
        most = max(range(len(chains)), key=lambda row: left[row])
        order = [most, *(row for row in order if row != most)]
    part: list[int] = []
    count: dict[int, int] = {}
    for row in order:
        more = dict(count)
        for item in _items(chains[row]):
            more[item] = more.get(item, 0) + 1
        if is_small(list(more.values()), PART_CELLS):
            count = more
            part.append(row)
        elif len(part) > 1:
            break
    return part


def _items(chain: Chain) -> list[int]:
    """Kinds of the pulls of a chain, and -1 - row for each remainder."""
    rolls, last = chain
    return [step.kind for step in chain_steps(last)] + [-1 - row for row in rolls.rows if row >= 0]


def _regrouped(instance: Instance, chains: list[Chain]) -> list[Chain] | None:
    """The pulls of some chains in the best groups that can be placed."""
    count: dict[int, int] = {}
    for chain in chains:
        for item in _items(chain):
            count[item] = count.get(item, 0) + 1
    kinds = sorted(item for item in count if item >= 0)
    free = sorted(-1 - item for item in count if item < 0)
    if not kinds or min(instance.residue[kind] for kind in kinds) <= instance.loss:
        return None
    most = cost_of(instance, chains)
    table = group_table(instance, kinds, [count[kind] for kind in kinds], free, most)
    groups = best_groups(instance, table)
    if groups.cost > most:
        return None
    return _placed(instance, groups.groups)
