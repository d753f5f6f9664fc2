"""Lower bounds on the cost of any cut list, whatever groups it uses and wherever its splices fall.

Join a pull and a roll by an edge for each fragment: a connected group of r rolls has at least r - 1
splices, so its rail, r - 1 losses included, must fit on its rolls. Every bound here follows from that.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from fencewright.takeoff.roll_instance import Instance

Floats = NDArray[np.float64]
LEAST_CAPACITY_STEPS = 1500  # steps of a roll in the knapsack: sizes are rounded down to them
LARGEST_GROUP = 6  # rolls of a group priced one by one; larger ones are bounded by their density
MOST_ROWS = 96


def volume_bound(instance: Instance) -> int:
    """Cost by length alone: rolls that hold all the rail and the splices no list can avoid.

    Parameters
    ----------
    instance : Instance
        The problem.

    Returns
    -------
    bound : int
        Least over the number of remainders used, the longest and the cheapest taken first. [um of rail]

    Notes
    -----
    A pull longer than the longest roll needs splices; so do more rolls than pulls.
    """
    forced, prices = forced_splices(instance), sorted(instance.remainder_prices)
    costs = []
    for used in range(len(prices) + 1):
        owned = sum(instance.remainders[:used])
        splices, new = forced, 0
        for _ in range(3):
            new = max(0, -((owned - instance.total - instance.loss * splices) // instance.roll))
            splices = max(splices, new + used - instance.pulls)
        costs.append(instance.roll * new + instance.price * splices + sum(prices[:used]))
    return min(costs)


def forced_splices(instance: Instance) -> int:
    """Splices that no list avoids: pulls longer than the longest roll."""
    longest = max([instance.roll, *instance.remainders[:1]])
    return sum(
        count * max(0, -((instance.loss - length) // (longest - instance.loss)) - 1)
        for length, count in zip(instance.length, instance.count, strict=True)
    )


def raised_to_sums(instance: Instance, bound: float) -> int:
    """Raise a bound to the next cost that a whole number of rolls and splices can have. [um]"""
    floor = int(np.ceil(bound - max(1.0, abs(bound) * 1e-9)))
    if any(instance.remainder_prices):
        return floor
    forced = forced_splices(instance)
    owned = sum(instance.remainders)
    least_new = max(0, -((owned - instance.total - instance.loss * forced) // instance.roll))
    costs = []
    for new in range(least_new, max(least_new, floor // instance.roll + 1) + 1):
        short = floor - instance.roll * new - instance.price * forced
        more = -(-short // instance.price) if short > 0 and instance.price else 0
        cost = instance.roll * new + instance.price * (forced + more)
        if cost >= floor:
            costs.append(cost)
    return min(costs, default=floor)


def priced_bound(instance: Instance, rounds: int) -> float:
    """Bound by prices of residues that no group of any size overpays: column generation.

    Parameters
    ----------
    instance : Instance
        The problem.
    rounds : int
        Linear programs solved at most; each round's bound is valid, the best is returned.

    Returns
    -------
    bound : float
        [um of rail]

    Notes
    -----
    Residues are rounded down, to the least of a row and to a step of the knapsack, which only lets more
    fit. Each price vector is scaled until no group is overpaid, so the bound is rigorous in every round.
    A remainder counts as the new rolls that could stand in for it.
    """
    sizes, counts = _rows(instance)
    scale = float(instance.roll)
    step = max(1, instance.roll // LEAST_CAPACITY_STEPS)
    steps = [size // step for size in sizes]
    capacity = [(r * instance.further + instance.loss) // step for r in range(1, LARGEST_GROUP + 1)]
    cost = [
        (r * (instance.roll + instance.price) - instance.price) / scale for r in range(1, LARGEST_GROUP + 1)
    ]
    beyond = LARGEST_GROUP + 1
    rate = (beyond * (instance.roll + instance.price) - instance.price) / scale
    rate /= beyond * instance.further + instance.loss
    columns = [np.eye(len(sizes))[i] for i in range(len(sizes))]
    prices_of = [min(1.0, rate * size) for size in sizes]
    numbers, weight = np.array(counts, dtype=np.float64), rate * np.array(sizes)
    best, center, is_mixed = 0.0, np.zeros(len(sizes)), False
    for _ in range(rounds):
        dual = _dual(np.array(columns), np.array(prices_of), numbers)
        # Prices halfway to the best so far jump about less, and their bound rises sooner.
        price = (dual + center) / 2.0 if is_mixed else dual
        value, patterns = _best_patterns(steps, counts, capacity, price)
        over = max([v / c for v, c in zip(value, cost, strict=True)] + list(price / weight))
        bound = float(price @ numbers) / max(over, 1e-12)
        if bound > best:
            best, center = bound, price / over
        fresh = [i for i, pattern in enumerate(patterns) if pattern @ dual > cost[i] * (1 + 1e-7)]
        if not fresh and not is_mixed:
            break
        is_mixed = bool(fresh)
        columns.extend(patterns[i] for i in fresh)
        prices_of.extend(cost[i] for i in fresh)
    full = sum(f * c for f, c in zip(instance.full_rolls, instance.count, strict=True))
    return best * scale * (1 - 1e-9) + full * (instance.roll + instance.price) - _stand_ins(instance)


def _stand_ins(instance: Instance) -> int:
    """Most that the remainders can save against new rolls in their place. [um]"""
    saved = 0
    for length, price in zip(instance.remainders, instance.remainder_prices, strict=True):
        rolls = instance.rolls_for(length)
        saved += max(0, rolls * (instance.roll + instance.price) - instance.price - price)
    return saved


def _rows(instance: Instance) -> tuple[list[int], list[int]]:
    """Residues in at most `MOST_ROWS` rows of like size, the least of each, and how many there are."""
    kinds = len(instance.residue)
    edges = sorted({round(i * kinds / min(kinds, MOST_ROWS)) for i in range(min(kinds, MOST_ROWS) + 1)})
    merged: dict[int, int] = {}
    for low, high in pairwise(edges):
        size = min(instance.residue[low:high])
        merged[size] = merged.get(size, 0) + sum(instance.count[low:high])
    sizes = sorted(merged, reverse=True)
    return sizes, [merged[size] for size in sizes]


def _dual(columns: Floats, cost: Floats, counts: Floats) -> Floats:
    """Price of each row at the optimum of the columns listed, 0 or more."""
    from scipy.optimize import linprog  # slow to import, and most lists do without

    result = linprog(cost, A_ub=-columns.T, b_ub=-counts, method="highs")
    if result.status != 0:
        return np.zeros(counts.size)
    return np.maximum(0.0, -np.asarray(result.ineqlin.marginals, dtype=np.float64))


def _best_patterns(
    steps: list[int], counts: list[int], capacity: list[int], price: Floats
) -> tuple[list[float], list[Floats]]:
    """Dearest set of residues for each capacity, by dynamic programming over copies in powers of two."""
    top = capacity[-1]
    value = np.zeros(top + 1)
    taken: list[tuple[int, int, NDArray[np.bool_]]] = []
    for row, size in enumerate(steps):
        if price[row] <= 0.0:
            continue
        left, copies = counts[row] if size == 0 else min(counts[row], top // size), 1
        while left > 0:
            copies = min(copies, left)
            left -= copies
            jump = size * copies
            if jump > top:
                break
            with_it = value[: top + 1 - jump] + price[row] * copies
            is_better = with_it > value[jump:]
            value[jump:] = np.where(is_better, with_it, value[jump:])
            taken.append((row, copies, is_better))
            copies *= 2
    patterns = []
    for place in capacity:
        pattern, at = np.zeros(len(steps)), place
        for row, copies, is_better in reversed(taken):
            jump = steps[row] * copies
            if at >= jump and is_better[at - jump]:
                pattern[row] += copies
                at -= jump
        patterns.append(pattern)
    return [float(value[place]) for place in capacity], patterns
