"""Cut pulls from rolls: which fragment from which roll, where each splice falls, and how good that is."""

from __future__ import annotations

import numpy as np

from fencewright.takeoff.roll_chain import chain_steps
from fencewright.takeoff.roll_instance import Instance, build_instance
from fencewright.takeoff.roll_records import (
    CutList,
    RollPieces,
    RollStock,
    SpliceRule,
    UncuttablePullError,
)
from fencewright.takeoff.roll_solving import solve
from fencewright.takeoff.roll_valuing import Solution
from fencewright.takeoff.roll_windows import UM_PER_M

__all__ = [
    "CutList",
    "RollPieces",
    "RollStock",
    "SpliceRule",
    "UncuttablePullError",
    "cut_rolls",
]


def cut_rolls(pieces: RollPieces, stock: RollStock, rule: SpliceRule) -> CutList:
    """Cut list of least cost found, then with the longest offcut, and a bound on any other's cost.

    Parameters
    ----------
    pieces : RollPieces
        Pulls of one product; none gives an empty list.
    stock : RollStock
        New rolls and remainders.
    rule : SpliceRule
        Loss and price of a splice, shortest fragment.

    Returns
    -------
    cut_list : CutList
        Every pull whole, every splice allowed; the same input gives the same list, and the order of the
        pulls changes nothing but which of equal pulls is cut from which roll.

    Raises
    ------
    ValueError
        A length is not a number or not above 0, rows of intervals do not match, the splice loss is not
        below the roll.
    UncuttablePullError
        A pull is longer than every roll and no allowed splices make it.

    Notes
    -----
    Lengths are whole micrometres inside. A group of r rolls has r - 1 splices at least, so the most
    groups are sought. Where all pulls fit one table of groups (24 pulls of 6 lengths do) cost and offcut
    are exact, but for groups whose splices find no allowed place. Up to 500 pulls, tables better some
    chains at a time; beyond, greedy chains alone, O(n log n). The bound is valid for all of them.
    """
    _check(pieces, stock, rule)
    instance = build_instance(pieces, stock, rule)
    return _cut_list(instance, solve(instance), pieces, stock, rule)


def _check(pieces: RollPieces, stock: RollStock, rule: SpliceRule) -> None:
    """Refuse what is no problem of cutting."""
    values = [rule.splice_loss_m, rule.splice_price_m, rule.least_fragment_m]
    if not all(np.isfinite(value) and value >= 0.0 for value in values):
        raise ValueError("splice loss, splice price and least fragment must be numbers, 0 or more")
    if not np.isfinite(stock.roll_length_m) or stock.roll_length_m <= rule.splice_loss_m:
        raise ValueError("the roll must be longer than the rail that a splice takes")
    for name, lengths in (("pull", pieces.length_m), ("remainder", stock.remainders_m)):
        wrong = np.flatnonzero(~(np.isfinite(lengths) & (lengths >= 1.0 / UM_PER_M)))
        if wrong.size:
            raise ValueError(f"{name} {wrong[0]} has the length {lengths[wrong[0]]} m: it must be above 0")
    if stock.remainder_prices_m.size not in (0, stock.remainders_m.size):
        raise ValueError("remainder_prices_m must have one price a remainder, or none at all")
    if not (np.isfinite(stock.remainder_prices_m) & (stock.remainder_prices_m >= 0.0)).all():
        raise ValueError("prices of remainders must be numbers, 0 or more")
    _check_intervals(pieces)


def _check_intervals(pieces: RollPieces) -> None:
    start, rows = pieces.forbidden_start, pieces.forbidden_from_m.size
    if rows != pieces.forbidden_to_m.size or (start.size == 0 and rows):
        raise ValueError("forbidden_start, forbidden_from_m and forbidden_to_m do not belong together")
    if start.size and (
        start.size != pieces.length_m.size + 1
        or start[0] != 0
        or start[-1] != rows
        or (np.diff(start) < 0).any()
    ):
        raise ValueError(
            "forbidden_start must rise from 0 to the number of intervals, one row more than pulls"
        )
    if not (np.isfinite(pieces.forbidden_from_m) & np.isfinite(pieces.forbidden_to_m)).all():
        raise ValueError("forbidden intervals must be numbers")


def _cut_list(
    instance: Instance, found: Solution, pieces: RollPieces, stock: RollStock, rule: SpliceRule
) -> CutList:
    """Tables of a solution: rolls in the order of the chains, fragments along each roll."""
    fragments, rows = _fragments(instance, found)
    table = np.array(fragments, dtype=np.int64).reshape(-1, 5)
    roll, pull, low, high, at = table.T
    length_m = np.asarray(pieces.length_m, dtype=np.float64)
    to_m = np.where(high < 0, length_m[pull], high / UM_PER_M)
    rail_m = to_m - low / UM_PER_M + np.where(low > 0, rule.splice_loss_m, 0.0)
    remainder = np.array(rows, dtype=np.int64)
    owned = np.append(np.asarray(stock.remainders_m, dtype=np.float64), stock.roll_length_m)
    roll_length_m = owned[remainder]
    used_m = np.zeros(remainder.size)
    np.add.at(used_m, roll, rail_m)
    offcut_m = np.maximum(0.0, roll_length_m - used_m)
    return CutList(
        roll_index=roll,
        pull_index=pull,
        from_m=low / UM_PER_M,
        to_m=to_m,
        rail_m=rail_m,
        at_m=at / UM_PER_M,
        roll_length_m=roll_length_m,
        used_m=used_m,
        offcut_m=offcut_m,
        is_remainder=remainder >= 0,
        remainder_index=remainder,
        splices=roll.size - length_m.size,
        cost_m=found.cost / UM_PER_M,
        bound_m=found.bound / UM_PER_M,
        is_proven=found.cost == found.bound,
        longest_offcut_m=float(offcut_m.max(initial=0.0)),
        is_offcut_proven=found.is_offcut_proven and found.cost == found.bound,
    )


def _fragments(instance: Instance, found: Solution) -> tuple[list[tuple[int, int, int, int, int]], list[int]]:
    """Roll, pull, from, to (-1: its end) and place on the roll, in order; row of each roll's remainder or -1."""
    waiting = [list(reversed(members)) for members in instance.members]
    fragments: list[tuple[int, int, int, int, int]] = []
    rows: list[int] = []
    for rolls, last in found.chains:
        number: dict[int, int] = {}
        used: dict[int, int] = {}
        for step in chain_steps(last):
            pull, length = waiting[step.kind].pop(), instance.length[step.kind]
            ends = [0, *step.walk, length]
            for part in range(len(ends) - 1):
                low, high = ends[part], ends[part + 1]
                if step.is_reversed:
                    low, high = length - high, length - low
                place = step.first_roll + part
                if place not in number:
                    number[place] = len(rows)
                    row = rolls.rows[place] if place < len(rolls.rows) else -1
                    rows.append(instance.remainder_rows[row] if row >= 0 else -1)
                at = used.get(place, 0)
                fragments.append((number[place], pull, low, -1 if high == length else high, at))
                used[place] = at + high - low + (instance.loss if low else 0)
    return sorted(fragments, key=lambda fragment: (fragment[0], fragment[4])), rows
