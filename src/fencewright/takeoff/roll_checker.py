"""Check a cut list against the problem, from its fragments alone; shares no code with the solver."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from fencewright.takeoff.roll_records import (
    CutList,
    Flags,
    Floats,
    Indices,
    RollPieces,
    RollStock,
    SpliceRule,
)

TOLERANCE_M = 2e-5  # lengths are rounded to a micrometre by the solver, some tens of them on one roll


def check_cut_list(pieces: RollPieces, stock: RollStock, rule: SpliceRule, cut_list: CutList) -> list[str]:
    """Whatever is wrong with a cut list, in sentences.

    Parameters
    ----------
    pieces, stock, rule : RollPieces, RollStock, SpliceRule
        The problem.
    cut_list : CutList
        The list to check.

    Returns
    -------
    sentences : list of str
        Empty if every pull is covered once from end to end, every splice and fragment is allowed, no roll
        is overdrawn, no remainder used twice, and splices, cost, offcuts and bound are as the fragments
        say. At most five of each fault.
    """
    shape = _check_rows(pieces, stock, cut_list)
    if shape:
        return shape
    order = np.lexsort((cut_list.from_m, cut_list.pull_index))
    pull, low, high = cut_list.pull_index[order], cut_list.from_m[order], cut_list.to_m[order]
    follows = np.zeros(pull.size, dtype=np.bool_)
    follows[1:] = pull[1:] == pull[:-1]
    return [
        *_check_cover(pieces, pull, low, high, follows),
        *_check_fragments(rule, pull, low, high, follows),
        *_check_splices(pieces, pull[follows], low[follows]),
        *_check_rolls(stock, rule, cut_list),
        *_check_sums(pieces, stock, rule, cut_list),
    ]


def _some(rows: NDArray[np.int64], sentence: str) -> list[str]:
    """One sentence for each of the first five rows."""
    return [sentence.format(row) for row in rows[:5].tolist()]


def _check_rows(pieces: RollPieces, stock: RollStock, cut_list: CutList) -> list[str]:
    """Rows that point nowhere or are no numbers: nothing else can be checked then."""
    rolls, fragments = cut_list.roll_length_m.size, cut_list.roll_index.size
    columns = (cut_list.pull_index, cut_list.from_m, cut_list.to_m, cut_list.rail_m, cut_list.at_m)
    tables = (cut_list.used_m, cut_list.offcut_m, cut_list.is_remainder, cut_list.remainder_index)
    if any(c.size != fragments for c in columns) or any(t.size != rolls for t in tables):
        return ["The columns of the cut list are not of one length."]
    if not all(np.isfinite(c).all() for c in (*columns, cut_list.roll_length_m, cut_list.used_m)):
        return ["The cut list holds a value that is no number."]
    sentences = []
    if fragments and not (cut_list.roll_index.min() >= 0 and cut_list.roll_index.max() < rolls):
        sentences.append("A fragment is cut from a roll that is not listed.")
    if fragments and not (
        cut_list.pull_index.min() >= 0 and cut_list.pull_index.max() < pieces.length_m.size
    ):
        sentences.append("A fragment belongs to a pull that does not exist.")
    if rolls and not (
        cut_list.remainder_index.min() >= -1 and cut_list.remainder_index.max() < stock.remainders_m.size
    ):
        sentences.append("A roll is a remainder that is not in the yard.")
    return sentences


def _check_cover(pieces: RollPieces, pull: Indices, low: Floats, high: Floats, follows: Flags) -> list[str]:
    """Each pull from 0 to its end without gap or overlap."""
    missing = np.setdiff1d(np.arange(pieces.length_m.size), pull)
    starts = ~follows
    ends = np.append(starts[1:], True) if pull.size else starts
    late = pull[starts][np.abs(low[starts]) > 0.0]
    short = pull[ends][np.abs(high[ends] - pieces.length_m[pull[ends]]) > TOLERANCE_M]
    later = np.flatnonzero(follows)
    broken = pull[later][np.abs(low[later] - high[later - 1]) > TOLERANCE_M]
    return [
        *_some(missing, "Pull {} is not cut at all."),
        *_some(late, "Pull {} is not cut from its beginning."),
        *_some(short, "Pull {} is not cut to its end, or beyond it."),
        *_some(broken, "Pull {} has fragments that do not meet."),
    ]


def _check_fragments(rule: SpliceRule, pull: Indices, low: Floats, high: Floats, follows: Flags) -> list[str]:
    """No fragment of a spliced pull below the least; none without length."""
    precedes = np.append(follows[1:], False) if pull.size else follows
    least = np.where(follows | precedes, rule.least_fragment_m, 0.0)
    is_short = (high - low <= 0.0) | (high - low < least - TOLERANCE_M)
    return _some(pull[is_short], "Pull {} has a fragment shorter than allowed.")


def _check_splices(pieces: RollPieces, pull: Indices, at: Floats) -> list[str]:
    """No splice inside a forbidden interval, and all pairs compared."""
    if pieces.forbidden_start.size == 0:
        return []
    first, beyond = pieces.forbidden_start[pull], pieces.forbidden_start[pull + 1]
    counts = beyond - first
    splice = np.repeat(np.arange(pull.size), counts)
    interval = (
        np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts) + np.repeat(first, counts)
    )
    after = at[splice] > pieces.forbidden_from_m[interval] + TOLERANCE_M
    before = at[splice] < pieces.forbidden_to_m[interval] - TOLERANCE_M
    wrong = np.unique(pull[splice[after & before]])
    return _some(wrong, "Pull {} is spliced where no splice may fall.")


def _check_rolls(stock: RollStock, rule: SpliceRule, cut_list: CutList) -> list[str]:
    """Lengths, order along the roll, rail taken, what is left, remainders once each."""
    is_owned = cut_list.remainder_index >= 0
    owned = cut_list.remainder_index[is_owned]
    length = np.full(is_owned.size, stock.roll_length_m)
    length[is_owned] = stock.remainders_m[owned]
    rail = cut_list.to_m - cut_list.from_m + np.where(cut_list.from_m > 0.0, rule.splice_loss_m, 0.0)
    taken = np.zeros(is_owned.size)
    np.add.at(taken, cut_list.roll_index, rail)
    order = np.lexsort((cut_list.at_m, cut_list.roll_index))
    roll, at, end = cut_list.roll_index[order], cut_list.at_m[order], (cut_list.at_m + rail)[order]
    overlaps = (roll[1:] == roll[:-1]) & (at[1:] < end[:-1] - TOLERANCE_M)
    outside = (cut_list.at_m < 0.0) | (cut_list.at_m + rail > length[cut_list.roll_index] + TOLERANCE_M)
    twice = np.flatnonzero(np.bincount(owned, minlength=1) > 1)
    left = np.maximum(0.0, length - taken)
    return [
        *_some(np.flatnonzero(cut_list.is_remainder != is_owned), "Roll {} is and is not a remainder."),
        *_some(np.flatnonzero(np.abs(length - cut_list.roll_length_m) > 0.0), "Roll {} has another length."),
        *_some(np.flatnonzero(taken > length + TOLERANCE_M), "Roll {} is too short for what is cut from it."),
        *_some(np.flatnonzero(taken <= 0.0), "Roll {} is listed and nothing is cut from it."),
        *_some(
            np.flatnonzero(np.abs(taken - cut_list.used_m) > TOLERANCE_M), "Roll {} has another length used."
        ),
        *_some(np.flatnonzero(np.abs(left - cut_list.offcut_m) > TOLERANCE_M), "Roll {} has another offcut."),
        *_some(np.flatnonzero(np.abs(rail - cut_list.rail_m) > TOLERANCE_M), "Fragment {} takes other rail."),
        *_some(roll[1:][overlaps], "Roll {} has fragments that overlap."),
        *_some(cut_list.roll_index[outside], "Roll {} has a fragment that begins or ends off the roll."),
        *_some(twice, "Remainder {} is used twice."),
    ]


def _check_sums(pieces: RollPieces, stock: RollStock, rule: SpliceRule, cut_list: CutList) -> list[str]:
    """Splices, cost, bound and the longest offcut against the fragments."""
    splices = cut_list.roll_index.size - pieces.length_m.size
    owned = cut_list.remainder_index[cut_list.remainder_index >= 0]
    cost = (cut_list.remainder_index.size - owned.size) * stock.roll_length_m + splices * rule.splice_price_m
    if stock.remainder_prices_m.size:
        cost += float(stock.remainder_prices_m[owned].sum())
    slack = TOLERANCE_M + abs(cost) * 1e-7
    longest = float(cut_list.offcut_m.max(initial=0.0))
    faults = {
        f"The list says {cut_list.splices} splices, its fragments {splices}.": cut_list.splices != splices,
        f"The list says a cost of {cut_list.cost_m} m, its rolls and splices {cost} m.": abs(
            cut_list.cost_m - cost
        )
        > slack,
        "The bound is above the cost.": cut_list.bound_m > cost + slack,
        "The list is called proven though cost and bound differ.": cut_list.is_proven
        and abs(cost - cut_list.bound_m) > slack,
        "The longest offcut is another.": abs(longest - cut_list.longest_offcut_m) > TOLERANCE_M,
    }
    return [sentence for sentence, is_wrong in faults.items() if is_wrong]
