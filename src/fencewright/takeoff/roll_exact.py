"""Exact groups of a few pulls by dynamic programming over how many of each kind are already placed.

Lay group after group along one line of rolls; a group begins on a new roll. For given pulls placed and
given groups finished, the shorter the line the better, whatever follows: one number a state.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fencewright.takeoff.roll_instance import Instance

Ints = NDArray[np.int64]
UNREACHED = 1 << 60


@dataclass(frozen=True)
class GroupTable:
    """Shortest line of rolls for every count of pulls and every number of groups.

    Attributes
    ----------
    kinds, count : list of int (kinds,)
        Kinds and how many of each, all of them in the last state.
    stride : list of int (kinds,)
        Step of the state for one pull of each kind.
    open_um : int array (states, groups + 1)
        Line up to the last pull, its group not finished, with so many groups finished before. [um]
    closed_um : int array (states, groups + 1)
        Line up to the end of the last roll, its group finished and counted. [um]
    """

    kinds: list[int]
    count: list[int]
    stride: list[int]
    open_um: Ints
    closed_um: Ints


@dataclass(frozen=True)
class Groups:
    """Groups of least cost: the kinds of each, with the one that leaves most last."""

    kinds: list[list[int]]
    cost: int
    offcut: int


def is_small(count: list[int], most_cells: int) -> bool:
    """Whether a table has at most so many cells, states times pulls."""
    cells = sum(count)
    for number in count:
        cells *= number + 1
        if cells > most_cells:
            return False
    return True


def group_table(instance: Instance, kinds: list[int], count: list[int], spare: int = 0) -> GroupTable:
    """Fill the table for some pulls.

    Parameters
    ----------
    instance : Instance
        The problem; only new rolls are used.
    kinds, count : list of int (kinds,)
        Pulls to group.
    spare : int
        Rail that every group must leave, for splices that don't fall where they should. [um]

    Returns
    -------
    table : GroupTable
        Exact for residues above the splice loss, which all are but pulls shorter than it; those only make
        the line longer than need be, never too short, if they end up alone.

    Notes
    -----
    O(states x kinds x pulls), by layers of as many pulls placed.
    """
    shape = [number + 1 for number in count]
    states, pulls = int(np.prod(shape)), sum(count)
    digits = np.indices(shape).reshape(len(shape), states)
    stride = [int(np.prod(shape[axis + 1 :])) for axis in range(len(shape))]
    layer = digits.sum(axis=0)
    order = np.argsort(layer, kind="stable")
    edges = np.searchsorted(layer[order], np.arange(pulls + 2))
    open_um = np.full((states, pulls + 1), UNREACHED, dtype=np.int64)
    closed_um = np.full((states, pulls + 1), UNREACHED, dtype=np.int64)
    closed_um[0, 0] = 0
    best = closed_um.copy()
    further = instance.further
    for placed in range(1, pulls + 1):
        rows = order[edges[placed] : edges[placed + 1]]
        line = np.full((rows.size, placed), UNREACHED, dtype=np.int64)
        for axis, kind in enumerate(kinds):
            has = np.flatnonzero(digits[axis, rows])
            before = best[rows[has] - stride[axis], :placed] + max(instance.residue[kind], instance.loss + 1)
            line[has] = np.minimum(line[has], before)
        finished = -((instance.loss - spare - line) // further) * further
        open_um[rows, :placed] = line
        closed_um[rows, 1 : placed + 1] = finished
        best[rows, :placed] = line
        best[rows, 1 : placed + 1] = np.minimum(best[rows, 1 : placed + 1], finished)
    return GroupTable(kinds, count, stride, open_um, closed_um)


def least_costs(instance: Instance, table: GroupTable) -> Ints:
    """Least cost of every state, full rolls left out; 0 for no pulls. [um]"""
    each = instance.roll + instance.price
    groups = np.arange(table.closed_um.shape[1])
    cost = table.closed_um // instance.further * each - instance.price * groups
    least: Ints = cost.min(axis=1)
    return least


def full_roll_cost(instance: Instance, kinds: list[int], count: list[int]) -> int:
    """Cost of the full rolls that come before the residues. [um]"""
    full = sum(instance.full_rolls[kind] * number for kind, number in zip(kinds, count, strict=True))
    return full * (instance.roll + instance.price)


def best_groups(instance: Instance, table: GroupTable, turn: int = 0) -> Groups:
    """Read the groups of least cost off a table, and among those the longest offcut.

    Parameters
    ----------
    instance : Instance
        The problem.
    table : GroupTable
        Its table.
    turn : int
        Which of several equally good choices is taken first.

    Returns
    -------
    groups : Groups
        The last group leaves the offcut.
    """
    closed, opened = table.closed_um[-1], table.open_um[-1]
    groups = np.arange(closed.size)
    cost = closed // instance.further * (instance.roll + instance.price) - instance.price * groups
    left = closed[1:] + instance.loss - opened[:-1]
    pick = min(range(1, closed.size), key=lambda g: (int(cost[g]), -int(left[g - 1])))
    found = _trace(instance, table, pick, turn)
    total = int(cost[pick]) + full_roll_cost(instance, table.kinds, table.count)
    return Groups(found, total, int(left[pick - 1]))


def _trace(instance: Instance, table: GroupTable, groups: int, turn: int) -> list[list[int]]:
    """Groups back from the last state, the last one first found and returned last."""
    state, finished = table.open_um.shape[0] - 1, groups - 1
    line = int(table.open_um[state, finished])
    axes = list(range(len(table.kinds)))
    axes = axes[turn % len(axes) :] + axes[: turn % len(axes)]
    found: list[list[int]] = [[]]
    while True:
        for axis in axes:
            kind, before = table.kinds[axis], state - table.stride[axis]
            if state // table.stride[axis] % (table.count[axis] + 1) == 0:
                continue
            rest = line - max(instance.residue[kind], instance.loss + 1)
            if rest in (table.open_um[before, finished], table.closed_um[before, finished]):
                break
        else:
            raise RuntimeError("the table of groups does not lead back: a fault of the program")
        found[-1].append(kind)
        state, line = before, rest
        if state == 0:
            return found[::-1]
        if line == table.closed_um[state, finished]:
            finished -= 1
            line = int(table.open_um[state, finished])
            found.append([])
