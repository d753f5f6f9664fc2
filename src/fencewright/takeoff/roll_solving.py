"""Find a cut list and its bound: greedy chains first, then exact groups as far as their tables reach."""

from __future__ import annotations

from collections.abc import Iterator

from fencewright.takeoff.roll_bounds import priced_bound, raised_to_sums, volume_bound
from fencewright.takeoff.roll_chain import new_rolls, walk_pull
from fencewright.takeoff.roll_greedy import Chain, GreedyRule, break_even, greedy_chains
from fencewright.takeoff.roll_instance import Instance
from fencewright.takeoff.roll_placing import place_group
from fencewright.takeoff.roll_records import UncuttablePullError
from fencewright.takeoff.roll_refining import refine_exactly, refine_in_parts
from fencewright.takeoff.roll_valuing import Solution, better, solution
from fencewright.takeoff.roll_windows import UM_PER_M

SMALL_GAP = 0.005  # a gap that isn't worth pricing, or another greedy list of very many pulls
PRICING_ROUNDS = 50
PART_ROUNDS = 100
MANY_PULLS = 2_000
PAIR_SAMPLES = 16


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
    lists = _greedy_lists(instance)
    found = solution(instance, next(lists), volume_bound(instance), False)
    if found.is_offcut_proven and found.cost == found.bound:
        return found
    if instance.pulls > MANY_PULLS:
        return _until_small_gap(instance, found, lists)
    found = _best_of(instance, found, lists)
    exact = refine_exactly(instance, found)
    if exact is not None and exact.cost == exact.bound:
        return exact
    return _priced(instance, refine_in_parts(instance, exact or found, PART_ROUNDS))


def _gap_matters(found: Solution) -> bool:
    return found.cost - found.bound > SMALL_GAP * found.cost


def _priced(instance: Instance, found: Solution) -> Solution:
    """The same list under a better bound, if that is worth its time."""
    if not _gap_matters(found):
        return found
    bound = raised_to_sums(instance, priced_bound(instance, PRICING_ROUNDS))
    return solution(instance, found.chains, max(found.bound, bound), found.is_offcut_proven)


def _best_of(instance: Instance, found: Solution, lists: Iterator[list[Chain]]) -> Solution:
    chains = found.chains
    for more in lists:
        chains = better(instance, chains, more)
    return solution(instance, chains, found.bound, False)


def _until_small_gap(instance: Instance, found: Solution, lists: Iterator[list[Chain]]) -> Solution:
    """Price the list, then try the other greedy lists only while the gap matters."""
    found = _priced(instance, found)
    while _gap_matters(found):
        more = next(lists, None)
        if more is None:
            break
        found = solution(instance, better(instance, found.chains, more), found.bound, False)
    return found


def _greedy_lists(instance: Instance) -> Iterator[list[Chain]]:
    """Greedy lists with a middling finish first, then tight and loose ones; with remainders, then without."""
    reserved, kinds, rows = _reserved(instance)
    even, is_many = break_even(instance), instance.pulls > MANY_PULLS
    samples = PAIR_SAMPLES if is_many else 4 * PAIR_SAMPLES
    for owned in (rows, []) if rows else ([],):
        for part in (3, 16, 1) if is_many else (3, 16, 1, 2, 5, 8, 32):
            yield greedy_chains(instance, kinds, owned, GreedyRule(even // part, even, samples)) + reserved


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
    raise UncuttablePullError(pull, float(instance.length[kind]) / UM_PER_M, instance.roll / UM_PER_M)
