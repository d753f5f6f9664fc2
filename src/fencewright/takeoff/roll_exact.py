"""Exact groups of pulls by dynamic programming over how many of each kind are already placed.

Lay group after group along one line of new rolls; a group begins on a new roll, and a remainder takes
from the line what it adds to its group. For given pulls and remainders placed and given groups finished,
the shorter the line the better, whatever follows: one number a state.
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
    kinds, count : list of int (items,)
        Kinds of pull and how many of each, then -1 - row for each remainder, once.
    adds_um : list of int (items,)
        What one of each adds to the line: the residue of a pull; less than 0 for a remainder. [um]
    before : list of int array (items,), each (states,)
        State with one of the item less; -1 if it holds none.
    open_um : int array (states, groups + 1)
        Line up to the last item, its group not finished, with so many groups finished before. [um]
    closed_um : int array (states, groups + 1)
        Line up to the end of the last roll, its group finished and counted. [um]
    """

    kinds: list[int]
    count: list[int]
    adds_um: list[int]
    before: list[Ints]
    open_um: Ints
    closed_um: Ints


@dataclass(frozen=True)
class Group:
    """Pulls that share rolls, and their remainders."""

    kinds: list[int]
    remainders: list[int]


@dataclass(frozen=True)
class Groups:
    """Groups of least cost, the one that leaves most last. [um]

    With remainders the cost is a bound: a group may leave more than its last new roll, which is not real.
    """

    groups: list[Group]
    cost: int
    offcut: int


def is_small(count: list[int], most_cells: int) -> bool:
    """Whether a table has at most so many cells, states times items."""
    cells = max(1, sum(count))
    for number in count:
        cells *= number + 1
        if cells > most_cells:
            return False
    return True


def group_table(
    instance: Instance,
    kinds: list[int],
    count: list[int],
    remainders: list[int],
    most_cost: int,
    spare: int = 0,
) -> GroupTable:
    """Fill the table for some pulls and remainders.

    Parameters
    ----------
    instance : Instance
        The problem.
    kinds, count : list of int (kinds,)
        Pulls to group.
    remainders : list of int
        Remainders that may be used.
    most_cost : int
        Cost of a list in hand; groups are not counted beyond what a better one can have. [um]
    spare : int
        Rail that every group must leave, for splices that don't fall where they should. [um]

    Returns
    -------
    table : GroupTable
        For residues above the splice loss.

    Notes
    -----
    O(states x items x groups), by layers of as many items placed; states are numbered layer by layer.
    """
    items, numbers = kinds + [-1 - row for row in remainders], count + [1] * len(remainders)
    adds = [instance.residue[kind] for kind in kinds]
    adds += [instance.loss - instance.remainders[row] for row in remainders]
    full = sum(instance.full_rolls[kind] * number for kind, number in zip(kinds, count, strict=True))
    groups = max(1, min(sum(numbers), most_cost // instance.roll - full + len(remainders)))
    shape = [number + 1 for number in numbers]
    digits = np.indices(shape).reshape(len(shape), -1)
    layer = digits.sum(axis=0)
    order = np.argsort(layer, kind="stable")
    rank = np.empty_like(order)
    rank[order] = np.arange(order.size)
    edges = np.searchsorted(layer[order], np.arange(sum(numbers) + 2)).tolist()
    before = [
        np.where(digits[axis] > 0, rank[np.arange(order.size) - int(np.prod(shape[axis + 1 :]))], -1)[order]
        for axis in range(len(shape))
    ]
    open_um = np.full((order.size, groups + 1), UNREACHED, dtype=np.int64)
    closed_um = np.full((order.size, groups + 1), UNREACHED, dtype=np.int64)
    closed_um[0, 0] = 0
    best = closed_um[edges[0] : edges[1]]
    for placed in range(1, sum(numbers) + 1):
        rows, first = slice(edges[placed], edges[placed + 1]), edges[placed - 1]
        line = open_um[rows, :groups]
        for axis, add in enumerate(adds):
            has = np.flatnonzero(before[axis][rows] >= 0)
            shorter = best[before[axis][rows][has] - first, :groups] + add
            line[has] = np.minimum(line[has], shorter)
        np.multiply(
            -((instance.loss - spare - line) // instance.further), instance.further, out=closed_um[rows, 1:]
        )
        best = np.minimum(open_um[rows], closed_um[rows])
    return GroupTable(items, numbers, adds, before, open_um, closed_um)


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
        All the pulls, and those remainders that pay.
    """
    each = instance.roll + instance.price
    ends = _ends(table)
    best: tuple[int, int, int, int, int] | None = None
    for end, owned in ends:
        paid = sum(instance.remainder_prices[row] + instance.price for row in owned)
        for groups in range(1, table.closed_um.shape[1]):
            line = int(table.open_um[end, groups - 1])
            if line < UNREACHED // 2:
                closed = int(table.closed_um[end, groups])
                cost = closed // instance.further * each - instance.price * groups + paid
                key = (cost, len(owned), line - closed - instance.loss, end, groups)
                best = key if best is None or key < best else best
    if best is None:
        raise RuntimeError("the table of groups has no end: a fault of the program")
    full = sum(instance.full_rolls[k] * n for k, n in zip(table.kinds, table.count, strict=True) if k >= 0)
    return Groups(_trace(table, best[3], best[4], turn), best[0] + full * each, -best[2])


def _ends(table: GroupTable) -> list[tuple[int, list[int]]]:
    """States with all pulls placed, and the remainders used in each."""
    ends: list[tuple[int, list[int]]] = [(table.open_um.shape[0] - 1, [-1 - i for i in table.kinds if i < 0])]
    for axis, item in enumerate(table.kinds):
        if item < 0:
            ends += [
                (int(table.before[axis][end]), [r for r in owned if r != -1 - item]) for end, owned in ends
            ]
    return ends


def _trace(table: GroupTable, end: int, groups: int, turn: int) -> list[Group]:
    """Groups back from the last state, the last one first found and returned last."""
    state, finished = end, groups - 1
    line = int(table.open_um[state, finished])
    axes = list(range(len(table.kinds)))
    axes = axes[turn % len(axes) :] + axes[: turn % len(axes)]
    found: list[Group] = [Group([], [])]
    while True:
        axis = _step_back(table, axes, state, finished, line)
        item = table.kinds[axis]
        if item >= 0:
            found[-1].kinds.append(item)
        else:
            found[-1].remainders.append(-1 - item)
        state, line = int(table.before[axis][state]), line - table.adds_um[axis]
        if state == 0:
            return found[::-1]
        if line == table.closed_um[state, finished]:
            finished -= 1
            line = int(table.open_um[state, finished])
            found.append(Group([], []))


def _step_back(table: GroupTable, axes: list[int], state: int, finished: int, line: int) -> int:
    """Item that was laid last to reach a state."""
    for axis in axes:
        before, rest = int(table.before[axis][state]), line - table.adds_um[axis]
        if before >= 0 and rest in (table.open_um[before, finished], table.closed_um[before, finished]):
            return axis
    raise RuntimeError("the table of groups does not lead back: a fault of the program")
