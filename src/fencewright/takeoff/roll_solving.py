"""Find a cut list and its bound: greedy chains first, then groups by integer programming where it pays."""

from __future__ import annotations

from dataclasses import dataclass

from fencewright.takeoff.roll_bounds import priced_bound, raised_to_sums, volume_bound
from fencewright.takeoff.roll_chain import new_rolls, roll_rooms, walk_pull
from fencewright.takeoff.roll_greedy import Chain, GreedyRule, break_even, greedy_chains
from fencewright.takeoff.roll_instance import Instance
from fencewright.takeoff.roll_placing import place_group
from fencewright.takeoff.roll_records import UncuttablePullError
from fencewright.takeoff.roll_windows import UM_PER_M

SMALL_GAP = 0.004  # a gap of a large list that isn't worth pricing
PRICING_ROUNDS = 60


@dataclass(frozen=True)
class Solution:
    """Chains that take every pull, their cost and what is known of the best. [um]"""

    chains: list[Chain]
    cost: int
    offcut: int
    bound: int
    is_offcut_proven: bool


def solve(instance: Instance) -> Solution:
    """Cut all the pulls of an instance.

    Parameters
    ----------
    instance : Instance
        The problem.

    Returns
    -------
    solution : Solution
        Always placed; the cost is proven where it equals the bound.

    Raises
    ------
    UncuttablePullError
        A pull cannot be cut from any sequence of the rolls.
    """
    chains = _first(instance)
    found = solution(instance, chains, volume_bound(instance), False)
    if found.is_offcut_proven and found.cost == found.bound:
        return found
    # Loaded here: a list that is plainly the best does not wait for the solvers.
    from fencewright.takeoff.roll_refining import refine_all_groups, refine_small_groups

    refined = refine_all_groups(instance, found) or refine_small_groups(instance, found)
    if refined is not None:
        return refined
    bound = found.bound
    if found.cost - bound > SMALL_GAP * found.cost:
        bound = max(bound, raised_to_sums(instance, priced_bound(instance, PRICING_ROUNDS)))
    return solution(instance, chains, bound, False)


def solution(instance: Instance, chains: list[Chain], bound: int, is_offcut_proven: bool) -> Solution:
    """Chains with their cost; an offcut that plainly could not be longer is called proven."""
    cost, offcut = cost_of(instance, chains), offcut_of(instance, chains)
    used = sum(len(roll_rooms(instance, *chain)) for chain in chains)
    # As many rolls as pulls and no splice: the shortest pull lies alone whatever the list.
    is_plain = used == instance.pulls == len(chains) and not any(last.splices for _, last in chains)
    is_plain = is_plain and not instance.remainders and cost == bound
    return Solution(chains, cost, offcut, min(bound, cost), is_offcut_proven or is_plain)


def cost_of(instance: Instance, chains: list[Chain]) -> int:
    """New rolls by their length, remainders and splices by their prices. [um]"""
    cost = 0
    for rolls, last in chains:
        cost += last.splices * instance.price
        for place in roll_rooms(instance, rolls, last) if rolls.rows else ():
            row = rolls.rows[place] if place < len(rolls.rows) else -1
            cost += instance.roll if row < 0 else instance.remainder_prices[row]
        if not rolls.rows:
            cost += last.rolls * instance.roll
    return cost


def offcut_of(instance: Instance, chains: list[Chain]) -> int:
    """Longest rail left on any roll of the chains. [um]"""
    return max((max(roll_rooms(instance, *chain).values()) for chain in chains), default=0)


def better(instance: Instance, first: list[Chain], second: list[Chain] | None) -> list[Chain]:
    """The cheaper of two lists, then the one with the longer offcut, then the first."""
    if second is None:
        return first
    costs = cost_of(instance, first), cost_of(instance, second)
    if costs[0] != costs[1]:
        return second if costs[1] < costs[0] else first
    return second if offcut_of(instance, second) > offcut_of(instance, first) else first


def _first(instance: Instance) -> list[Chain]:
    """Best of the greedy lists: with and without remainders, with a tight and a loose finish."""
    reserved, kinds, rows = _reserved(instance)
    even = break_even(instance)
    best: list[Chain] | None = None
    for owned in ([], rows) if rows else ([],):
        for aim in (even // 16, even // 3, even):
            found = greedy_chains(instance, kinds, owned, GreedyRule(aim, even, 24))
            if found is not None:
                best = found + reserved if best is None else better(instance, best, found + reserved)
    if best is None:
        raise RuntimeError("a pull that lies on new rolls was not laid: a fault of the program")
    return best


def _reserved(instance: Instance) -> tuple[list[Chain], list[int], list[int]]:
    """Chains for pulls that new rolls cannot make, the other pulls, the remainders still free."""
    chains: list[Chain] = []
    kinds: list[int] = []
    free = list(range(len(instance.remainders)))
    for kind, count in enumerate(instance.count):
        left = count
        while left and not _lies_on_new_rolls(instance, kind):
            chain = _with_remainder(instance, kind, free)
            free = [row for row in free if row not in chain[0].rows]
            chains.append(chain)
            left -= 1
        kinds.extend([kind] * left)
    return chains, kinds, free


def _lies_on_new_rolls(instance: Instance, kind: int) -> bool:
    rolls = new_rolls(instance)
    ways = (walk_pull(instance, rolls, kind, is_reversed, instance.roll, 1) for is_reversed in (False, True))
    return any(walk is not None for walk in ways)


def _with_remainder(instance: Instance, kind: int, free: list[int]) -> Chain:
    """A pull that needs a remainder, with the shortest that will do, else with all of them."""
    most = 2 * instance.full_rolls[kind] + 2
    for rows in [*([row] for row in reversed(free)), free]:
        chain = place_group(instance, [kind], rows, most)
        if chain is not None:
            return chain
    pull = instance.members[kind][0]
    raise UncuttablePullError(
        pull,
        f"pull {pull} of {instance.length[kind] / UM_PER_M:.3f} m cannot be cut from rolls of "
        f"{instance.roll / UM_PER_M:.3f} m: no allowed places for its splices are within a roll of each other; "
        "allow splices on more spans, take a longer roll or a shorter least fragment",
    )
