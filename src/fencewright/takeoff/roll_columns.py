"""Columns of the group model: which pulls share rolls, what they cost, what they leave."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations, combinations_with_replacement, product

import numpy as np
from numpy.typing import NDArray

from fencewright.takeoff.roll_instance import Instance

Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Columns:
    """Groups by the pulls and remainders they take.

    Attributes
    ----------
    pulls : int array (columns, kinds)
        Pulls of each kind.
    owned : int array (columns, remainders)
        1 for each remainder used.
    new : int array (columns,)
        New rolls needed.
    cost, waste : int array (columns,)
        New rolls, remainders and splices by their price; rail left over. [um]
    """

    pulls: Ints
    owned: Ints
    new: Ints
    cost: Ints
    waste: Ints

    def rows(self, keep: NDArray[np.bool_] | Ints) -> Columns:
        """Only some of the columns."""
        return Columns(self.pulls[keep], self.owned[keep], self.new[keep], self.cost[keep], self.waste[keep])


def columns_of(instance: Instance, pulls: Ints, owned: Ints) -> Columns:
    """Cost each group at the fewest new rolls; a group in which a remainder saves nothing is left out.

    Parameters
    ----------
    instance : Instance
        The problem.
    pulls : int array (columns, kinds)
        Pulls of each kind, at least one a column.
    owned : int array (columns, remainders)
        Remainders used.

    Returns
    -------
    columns : Columns
        At most as many rows.
    """
    length = np.array(instance.length, dtype=np.int64)
    remainder = np.array(instance.remainders, dtype=np.int64)
    need = pulls @ length - instance.loss - owned @ (remainder - instance.loss)
    new = np.maximum(0, -(-need // instance.further))
    used = owned.sum(axis=1)
    keep = new + used > 0
    # A remainder without which no more new rolls are needed only costs a splice.
    for row in range(remainder.size):
        without = np.maximum(0, -(-(need + remainder[row] - instance.loss) // instance.further))
        keep &= (owned[:, row] == 0) | (without > new)
    cost = new * instance.roll + owned @ np.array(instance.remainder_prices, dtype=np.int64)
    cost = cost + instance.price * (new + used - 1)
    return Columns(pulls, owned, new, cost, new * instance.further - need).rows(keep)


def all_groups(instance: Instance) -> Columns:
    """Every group there is: all counts of every kind with all sets of remainders.

    Parameters
    ----------
    instance : Instance
        The problem; look at `group_count` first.

    Returns
    -------
    columns : Columns
        With every column an exact model.
    """
    grids = np.indices([count + 1 for count in instance.count], dtype=np.int64)
    pulls = grids.reshape(len(instance.count), -1).T[1:]
    sets = np.array(list(product((0, 1), repeat=len(instance.remainders))), dtype=np.int64)
    sets = sets.reshape(2 ** len(instance.remainders), len(instance.remainders))
    return columns_of(instance, np.repeat(pulls, len(sets), axis=0), np.tile(sets, (len(pulls), 1)))


def group_count(instance: Instance, most: int) -> int:
    """Size of `all_groups`, counted up to a limit."""
    number = 1
    for count in [*instance.count, *[1] * len(instance.remainders)]:
        number *= count + 1
        if number > most:
            return most + 1
    return number


def small_groups(instance: Instance, most_columns: int) -> Columns:
    """Groups of one to four pulls that leave little, on new rolls or with one remainder.

    Parameters
    ----------
    instance : Instance
        The problem.
    most_columns : int
        Columns kept, those that leave least first; single pulls always.

    Returns
    -------
    columns : Columns
        Groups that split without another roll are left out.
    """
    kinds = len(instance.length)
    found = [_counts(kinds, np.arange(kinds)[:, None])]
    for size in (2, 3, 4):
        if kinds**size > 24 * 60_000 * (2 if size == 4 else 1):
            break
        members = np.array(list(combinations_with_replacement(range(kinds), size)), dtype=np.int64)
        members = members[~_splits(instance, members)]
        found.append(_counts(kinds, members))
    pulls = np.concatenate(found)
    pulls = pulls[(pulls <= np.array(instance.count)).all(axis=1)]
    sets = np.concatenate(
        [np.zeros((1, len(instance.remainders)), np.int64), np.eye(len(instance.remainders), dtype=np.int64)]
    )
    columns = columns_of(instance, np.repeat(pulls, len(sets), axis=0), np.tile(sets, (len(pulls), 1)))
    is_single = (columns.pulls.sum(axis=1) == 1) & (columns.owned.sum(axis=1) == 0)
    order = np.argsort(np.where(is_single, -1, columns.waste), kind="stable")
    return columns.rows(order[:most_columns])


def _counts(kinds: int, members: Ints) -> Ints:
    """Counts of each kind for rows of member kinds."""
    counts = np.zeros((len(members), kinds), dtype=np.int64)
    np.add.at(counts, (np.arange(len(members))[:, None], members), 1)
    return counts


def _splits(instance: Instance, members: Ints) -> NDArray[np.bool_]:
    """Groups of which some part and the rest need no more rolls apart than together."""
    residue = np.array(instance.residue, dtype=np.int64)[members]
    total = residue.sum(axis=1)

    def rolls(needed: Ints) -> Ints:
        return np.maximum(1, -((instance.loss - needed) // instance.further))

    is_split = np.zeros(len(members), dtype=np.bool_)
    size = members.shape[1]
    for part_size in range(1, size // 2 + 1):
        for part in combinations(range(size), part_size):
            some = residue[:, list(part)].sum(axis=1)
            is_split |= rolls(some) + rolls(total - some) <= rolls(total)
    return is_split
