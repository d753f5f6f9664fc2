"""Better cut lists by choosing groups with integer programs, and the proofs that go with them."""

from __future__ import annotations

import numpy as np

from fencewright.takeoff.roll_bounds import priced_bound, raised_to_sums
from fencewright.takeoff.roll_columns import Columns, all_groups, group_count, small_groups
from fencewright.takeoff.roll_greedy import Chain, GreedyRule, break_even, greedy_chains
from fencewright.takeoff.roll_groups import (
    UM_SLACK,
    Choice,
    choose_groups,
    choose_longest_offcut,
    choose_with_rest,
    reduced_costs,
)
from fencewright.takeoff.roll_instance import Instance
from fencewright.takeoff.roll_placing import place_group
from fencewright.takeoff.roll_solving import Solution, better, cost_of, offcut_of, solution

MOST_GROUPS = 70_000  # all groups are listed up to this many
MOST_KINDS = 130  # the program over small groups is tried up to this many kinds
MOST_COLUMNS = 2_000
PATIENCE = 12  # choices made again without the groups that could not be placed
EXACT_NODES = 3_000
OFFCUT_NODES = 300
SMALL_NODES = 60
PRICING_ROUNDS = 40

Known = dict[int, Chain | None]


def refine_all_groups(instance: Instance, found: Solution) -> Solution | None:
    """Least cost over all groups there are, then the longest offcut: proven wherever it can be placed.

    Parameters
    ----------
    instance : Instance
        The problem.
    found : Solution
        A list to better.

    Returns
    -------
    solution : Solution or None
        None if there are too many groups to list.
    """
    if group_count(instance, MOST_GROUPS) > MOST_GROUPS:
        return None
    columns = all_groups(instance)
    program, reduced = reduced_costs(instance, columns)
    bound = max(found.bound, raised_to_sums(instance, program))
    chains, known = found.chains, {}
    for turn in range(PATIENCE):
        cost = cost_of(instance, chains)
        if cost <= bound:
            break
        rows = _worth_while(reduced, cost - program, known)
        choice, least = choose_groups(instance, columns.rows(rows), EXACT_NODES)
        if turn == 0:
            bound = max(bound, raised_to_sums(instance, min(least, float(cost))))
        if choice is None or sum(int(columns.cost[rows[row]]) for row in choice.rows) >= cost:
            break
        chains = better(
            instance, chains, _place_rows(instance, columns, [int(rows[r]) for r in choice.rows], known)
        )
    program_gap = cost_of(instance, chains) - program
    chains, is_proven = _longest_offcut(instance, columns, reduced, program_gap, chains, known)
    return solution(instance, chains, bound, is_proven)


def _longest_offcut(
    instance: Instance, columns: Columns, reduced: np.ndarray, gap: float, chains: list[Chain], known: Known
) -> tuple[list[Chain], bool]:
    """Longest offcut at the cost of the chains, and whether no longer one exists."""
    cost, most = cost_of(instance, chains), np.inf
    for turn in range(PATIENCE // 2):
        offcut = offcut_of(instance, chains)
        if offcut >= most - UM_SLACK:
            break
        rows = _worth_while(reduced, gap, known)
        choice, limit = choose_longest_offcut(instance, columns.rows(rows), OFFCUT_NODES, cost, offcut)
        most = limit if turn == 0 else most
        if choice is None:
            break
        chains = better(
            instance, chains, _place_rows(instance, columns, [int(rows[r]) for r in choice.rows], known)
        )
    return chains, offcut_of(instance, chains) >= most - UM_SLACK


def _worth_while(reduced: np.ndarray, gap: float, known: Known) -> np.ndarray:
    """Columns that a list at the cost in hand may hold, those known to have no placing left out."""
    keep = reduced <= gap + UM_SLACK + abs(gap) * 1e-9
    keep[[row for row, chain in known.items() if chain is None]] = False
    return np.flatnonzero(keep)


def _place_rows(instance: Instance, columns: Columns, rows: list[int], known: Known) -> list[Chain] | None:
    """Chains of the columns chosen; None if one cannot be placed, which `known` then shows."""
    for row in rows:
        if row not in known:
            known[row] = _place_row(instance, columns, row)
    chains = [chain for chain in (known[row] for row in rows) if chain is not None]
    return chains if len(chains) == len(rows) else None


def _place_row(instance: Instance, columns: Columns, row: int) -> Chain | None:
    kinds = np.repeat(np.arange(columns.pulls.shape[1]), columns.pulls[row]).tolist()
    return place_group(instance, kinds, np.flatnonzero(columns.owned[row]).tolist(), int(columns.new[row]))


def refine_small_groups(instance: Instance, found: Solution) -> Solution | None:
    """Good list from groups of a few pulls and one free group, with a priced bound.

    Parameters
    ----------
    instance : Instance
        The problem.
    found : Solution
        A list to better.

    Returns
    -------
    solution : Solution or None
        None if there are too many kinds.
    """
    if len(instance.length) > MOST_KINDS:
        return None
    bound, chains = found.bound, found.chains
    if found.cost > bound:
        bound = max(bound, raised_to_sums(instance, priced_bound(instance, PRICING_ROUNDS)))
    columns = small_groups(instance, MOST_COLUMNS)
    known: Known = {}
    if len(instance.window_from) > len(instance.length):
        known = {row: _place_row(instance, columns, row) for row in range(columns.cost.size)}
        columns = columns.rows(
            np.array([row for row, chain in known.items() if chain is not None], dtype=np.int64)
        )
        known = dict(enumerate(chain for chain in known.values() if chain is not None))
    for spare in (0, break_even(instance)):
        if cost_of(instance, chains) > bound:
            choice = choose_with_rest(instance, columns, SMALL_NODES, spare)
            chains = better(instance, chains, _place_with_rest(instance, columns, choice, known))
    longest = choose_with_rest(instance, columns, SMALL_NODES, 0, cost_of(instance, chains))
    chains = better(instance, chains, _place_with_rest(instance, columns, longest, known))
    return solution(instance, chains, bound, False)


def _place_with_rest(
    instance: Instance, columns: Columns, choice: Choice | None, known: Known
) -> list[Chain] | None:
    """Chains of a choice; what cannot be placed is grown greedily."""
    if choice is None:
        return None
    chains, left = [], list(choice.rest)
    owned = list(choice.rest_owned)
    for row in choice.rows:
        if row not in known:
            known[row] = _place_row(instance, columns, row)
        chain = known[row]
        if chain is not None:
            chains.append(chain)
        else:
            left = [a + int(b) for a, b in zip(left, columns.pulls[row], strict=True)]
            owned.extend(np.flatnonzero(columns.owned[row]).tolist())
    kinds = np.repeat(np.arange(len(left)), left).tolist()
    if not kinds:
        return chains
    placed = place_group(instance, kinds, owned, choice.rest_new) if left == list(choice.rest) else None
    if placed is not None:
        return [*chains, placed]
    even = break_even(instance)
    grown = [greedy_chains(instance, kinds, owned, GreedyRule(aim, even, 48)) for aim in (even // 16, even)]
    complete = [more for more in grown if more is not None]
    return chains + min(complete, key=lambda more: cost_of(instance, more)) if complete else None
