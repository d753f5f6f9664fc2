"""Near misses: which small shortening of a pull would save a roll."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from math import comb

import numpy as np

from fencewright.takeoff.roll_records import CutList, Indices, NearMiss, RollPieces, RollStock, SpliceRule
from fencewright.takeoff.rolls import cut_rolls

MOST_PULLS = 500
MOST_SETS = 20_000  # sets of groups looked at
ROUNDING_M = 1e-5  # shortened by this much more, so that rounding does not undo it

Candidate = tuple[str, Indices, float]


def near_misses(
    pieces: RollPieces, stock: RollStock, rule: SpliceRule, cut_list: CutList, near_m: float, most: int = 6
) -> list[NearMiss]:
    """Shortenings of at most `near_m` a pull that save new rolls, each proved by cutting again.

    Parameters
    ----------
    pieces, stock, rule : RollPieces, RollStock, SpliceRule
        The problem.
    cut_list : CutList
        Its cut list.
    near_m : float
        Largest shortening looked at. [m]
    most : int
        Shortenings tried, the smallest first.

    Returns
    -------
    misses : list of NearMiss
        Smallest first; empty where nothing was found, and above 500 pulls.

    Notes
    -----
    Looks where lengths alone say so: pulls just longer than some whole rolls, groups of pulls just longer
    than one roll less than theirs, all the rail just longer than one roll less.
    """
    if not 0 < pieces.length_m.size <= MOST_PULLS:
        return []
    candidates = [
        *_equal_pulls(pieces, stock, rule, near_m),
        *_groups(pieces, stock, rule, cut_list, near_m),
        *_all_pulls(pieces, stock, rule, cut_list, near_m),
    ]
    candidates.sort(key=lambda candidate: (candidate[2], candidate[1].tolist()))
    found: list[NearMiss] = []
    for candidate in candidates[:most]:
        miss = _tried(pieces, stock, rule, cut_list, candidate)
        if miss is not None and not any(np.array_equal(miss.pull_index, other.pull_index) for other in found):
            found.append(miss)
    return found


def _tried(
    pieces: RollPieces, stock: RollStock, rule: SpliceRule, cut_list: CutList, candidate: Candidate
) -> NearMiss | None:
    """What a shortening saves when the pulls are cut again; None for no roll."""
    kind, pull_index, by_m = candidate
    length_m = np.array(pieces.length_m, dtype=np.float64)
    length_m[pull_index] -= by_m
    again = cut_rolls(replace(pieces, length_m=length_m), stock, rule)
    saves = int(np.sum(~cut_list.is_remainder)) - int(np.sum(~again.is_remainder))
    saves_m = cut_list.cost_m - again.cost_m
    return NearMiss(kind, pull_index, by_m, saves, saves_m) if saves > 0 and saves_m > 0.0 else None


def _equal_pulls(pieces: RollPieces, stock: RollStock, rule: SpliceRule, near_m: float) -> list[Candidate]:
    """Pulls of one length that are just longer than some whole rolls spliced together."""
    further = stock.roll_length_m - rule.splice_loss_m
    found: list[Candidate] = []
    for length in np.unique(pieces.length_m).tolist():
        over = (length - rule.splice_loss_m) % further
        if length > stock.roll_length_m and ROUNDING_M < over <= near_m:
            found.append(("equal pulls", np.flatnonzero(pieces.length_m == length), over + ROUNDING_M))
    return found


def _groups(
    pieces: RollPieces, stock: RollStock, rule: SpliceRule, cut_list: CutList, near_m: float
) -> list[Candidate]:
    """Up to three groups of pulls that share rolls, together just longer than one roll less."""
    group = _group_of_rolls(cut_list)
    group_of_pull = np.zeros(pieces.length_m.size, dtype=np.int64)
    group_of_pull[cut_list.pull_index] = group[cut_list.roll_index]
    numbers = [n for n in np.unique(group).tolist() if not cut_list.is_remainder[group == n].all()]
    need = [float(pieces.length_m[group_of_pull == n].sum()) for n in numbers]
    holds = [float(cut_list.roll_length_m[group == n].sum()) for n in numbers]
    rolls = [int(np.sum(group == n)) for n in numbers]
    found: list[Candidate] = []
    for size in (1, 2, 3):
        for some in combinations(range(len(numbers)), size) if comb(len(numbers), size) <= MOST_SETS else ():
            fewer = sum(rolls[i] for i in some) - 1
            over = sum(need[i] - holds[i] for i in some) + stock.roll_length_m
            over += rule.splice_loss_m * max(0, fewer - 1)
            if fewer and 0.0 < over <= near_m:
                pulls = np.flatnonzero(np.isin(group_of_pull, [numbers[i] for i in some]))
                longest = pulls[np.argmax(pieces.length_m[pulls])]
                if pieces.length_m[longest] > 2.0 * over:
                    found.append(("one group", np.array([longest], dtype=np.int64), over + ROUNDING_M))
    return found


def _all_pulls(
    pieces: RollPieces, stock: RollStock, rule: SpliceRule, cut_list: CutList, near_m: float
) -> list[Candidate]:
    """All the rail just longer than one new roll less, at one splice less."""
    holds = float(cut_list.roll_length_m.sum()) - stock.roll_length_m
    over = float(pieces.length_m.sum()) + rule.splice_loss_m * max(0, cut_list.splices - 1) - holds
    longest = int(np.argmax(pieces.length_m))
    if cut_list.is_remainder.all() or not 0.0 < over <= near_m or pieces.length_m[longest] <= 2.0 * over:
        return []
    return [("all pulls", np.array([longest], dtype=np.int64), over + ROUNDING_M)]


def _group_of_rolls(cut_list: CutList) -> Indices:
    """Number of the group of each roll: rolls joined through the pulls they share."""
    group = np.arange(cut_list.roll_length_m.size)
    order = np.argsort(cut_list.pull_index, kind="stable")
    pull, roll = cut_list.pull_index[order], cut_list.roll_index[order]
    joined = np.flatnonzero(pull[1:] == pull[:-1])
    while True:
        before = group.copy()
        for row in joined.tolist():
            least = min(group[roll[row]], group[roll[row + 1]])
            group[roll[row]] = group[roll[row + 1]] = least
        if np.array_equal(before, group):
            return group
