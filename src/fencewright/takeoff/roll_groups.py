"""Choose groups of pulls by integer programming: exactly where all groups are listed, well where not."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import csr_array, eye_array, hstack, vstack

from fencewright.takeoff.roll_columns import Columns
from fencewright.takeoff.roll_instance import Instance

Floats = NDArray[np.float64]
UM_SLACK = 0.5  # below the least difference of two costs in whole micrometres


@dataclass(frozen=True)
class Choice:
    """Columns chosen.

    Attributes
    ----------
    rows : tuple of int
        Columns, one entry for each time chosen.
    rest : tuple of int
        Pulls of each kind in the free group of `choose_with_rest`; empty where there is none.
    rest_new : int
        New rolls of the free group.
    rest_owned : tuple of int
        Remainders of the free group.
    """

    rows: tuple[int, ...]
    rest: tuple[int, ...] = ()
    rest_new: int = 0
    rest_owned: tuple[int, ...] = ()


def reduced_costs(instance: Instance, columns: Columns) -> tuple[float, Floats]:
    """Bound of the linear program over all the columns, and what each column costs above it.

    Parameters
    ----------
    instance : Instance
        The problem.
    columns : Columns
        Columns, single pulls among them.

    Returns
    -------
    bound : float
        No whole choice costs less. [um]
    reduced : float array (columns,)
        A choice with this column costs at least the bound and this. [um]
    """
    cost = columns.cost / instance.roll
    matrix = np.concatenate([-columns.pulls, columns.owned], axis=1).astype(np.float64)
    right = np.array([-count for count in instance.count] + [1] * len(instance.remainders), dtype=np.float64)
    pieces = columns.pulls.sum(axis=1)
    is_active = pieces <= 2
    is_active[np.argsort(columns.waste, kind="stable")[:300]] = True
    bound, reduced = -np.inf, np.zeros(cost.size)
    for _ in range(60):
        rows = np.flatnonzero(is_active)
        result = linprog(cost[rows], A_ub=matrix[rows].T, b_ub=right, method="highs")
        if result.status != 0:
            return (bound, reduced) if bound > -np.inf else (0.0, np.zeros(cost.size))
        dual = np.minimum(0.0, np.asarray(result.ineqlin.marginals, dtype=np.float64))
        over = cost - matrix @ dual
        least = min(0.0, float(over.min()))
        # At most one group a pull, so the shortfall of every group is lost at most that often.
        value = float(right @ dual) + least * instance.pulls
        if value > bound:
            bound, reduced = value, over - least
        fresh = np.argsort(over, kind="stable")[:200]
        fresh = fresh[over[fresh] < -1e-9]
        if fresh.size == 0:
            break
        is_active[fresh] = True
    return bound * instance.roll, reduced * instance.roll


def choose_groups(instance: Instance, columns: Columns, nodes: int) -> tuple[Choice | None, float]:
    """Groups of least cost that take every pull once.

    Parameters
    ----------
    instance : Instance
        The problem.
    columns : Columns
        Groups to choose from.
    nodes : int
        Branch-and-bound nodes at most.

    Returns
    -------
    choice : Choice or None
        None if there is none or none was found.
    bound : float
        No choice of these columns costs less; infinite if there is none. [um]
    """
    matrix, low, high, upper = _cover(instance, columns)
    values, bound = _solve(columns.cost / instance.roll, matrix, low, high, upper, nodes)
    return _chosen(instance, columns, values), bound * instance.roll


def choose_longest_offcut(
    instance: Instance, columns: Columns, nodes: int, at_most: int, longer_than: int
) -> tuple[Choice | None, float]:
    """Groups at a given cost of which one leaves as much as can be.

    Parameters
    ----------
    instance, columns, nodes : Instance, Columns, int
        As for `choose_groups`.
    at_most : int
        Cost not to be passed. [um]
    longer_than : int
        Only an offcut longer than this is looked for. [um]

    Returns
    -------
    choice : Choice or None
        None if no longer one was found.
    bound : float
        No choice leaves a longer offcut; `longer_than` if there is none. [um]
    """
    marked = np.flatnonzero(columns.waste > longer_than)
    if marked.size == 0:
        return None, float(longer_than)
    matrix, low, high, upper = _cover(instance, columns)
    number, marks = columns.cost.size, marked.size
    pick = csr_array((np.ones(marks), (np.arange(marks), marked)), shape=(marks, number))
    none = csr_array((matrix.shape[0], marks))
    paid = csr_array(np.concatenate([columns.cost / instance.roll, np.zeros(marks)])[None])
    once = csr_array(np.concatenate([np.zeros(number), np.ones(marks)])[None])
    model = vstack([hstack([matrix, none]), hstack([pick, -eye_array(marks)]), once, paid], format="csr")
    low = np.concatenate([low, np.zeros(marks), [1.0, 0.0]])
    high = np.concatenate([high, np.full(marks, np.inf), [1.0, (at_most + UM_SLACK) / instance.roll]])
    objective = np.concatenate([np.zeros(number), -columns.waste[marked] / instance.roll])
    values, bound = _solve(objective, model, low, high, np.concatenate([upper, np.ones(marks)]), nodes)
    choice = _chosen(instance, columns, values)
    return choice, max(float(longer_than), -bound * instance.roll)


def _cover(instance: Instance, columns: Columns) -> tuple[csr_array, Floats, Floats, Floats]:
    """Rows that take each pull once and each remainder at most once, and the most of each column."""
    matrix = csr_array(np.concatenate([columns.pulls.T, columns.owned.T]).astype(np.float64))
    owned = len(instance.remainders)
    low = np.array([*instance.count, *[0] * owned], dtype=np.float64)
    high = np.array([*instance.count, *[1] * owned], dtype=np.float64)
    most = np.array(instance.count) // np.maximum(columns.pulls, 1)
    upper = np.where(columns.pulls > 0, most, instance.pulls).min(axis=1).astype(np.float64)
    return matrix, low, high, upper


def _chosen(instance: Instance, columns: Columns, values: Floats | None) -> Choice | None:
    """Columns of whole values, checked to take every pull once."""
    if values is None:
        return None
    chosen = np.rint(values[: columns.cost.size]).astype(np.int64)
    if (columns.pulls.T @ chosen != np.array(instance.count)).any() or (columns.owned.T @ chosen > 1).any():
        return None
    return Choice(tuple(np.repeat(np.arange(chosen.size), chosen).tolist()))


def choose_with_rest(
    instance: Instance, columns: Columns, nodes: int, spare: int, at_most: int | None = None
) -> Choice | None:
    """Least cost over the columns and one free group of all pulls that no column takes.

    Parameters
    ----------
    instance : Instance
        The problem.
    columns : Columns
        Groups to choose from.
    nodes : int
        Branch-and-bound nodes at most.
    spare : int
        Rail the free group must leave, for splices that don't fall where they should. [um]
    at_most : int, optional
        Cost not to be passed; what the free group leaves is then made most. [um]

    Returns
    -------
    choice : Choice or None
        None if nothing was found within the nodes.
    """
    number, kinds, owned = columns.cost.size, len(instance.count), len(instance.remainders)
    unit = float(instance.roll)
    residue = np.array(instance.length) / unit
    remainder = np.array(instance.remainders, dtype=np.float64) / unit
    loss, price = instance.loss / unit, instance.price / unit
    # Columns, pulls of the rest, its remainders, its new rolls, whether there is a rest.
    objective = np.concatenate(
        [
            columns.cost / unit,
            np.zeros(kinds),
            np.array(instance.remainder_prices, dtype=np.float64) / unit + price,
            [1.0 + price, -price],
        ]
    )
    cover = np.concatenate([columns.pulls.T, np.eye(kinds), np.zeros((kinds, owned + 2))], axis=1)
    once = np.concatenate(
        [columns.owned.T, np.zeros((owned, kinds)), np.eye(owned), np.zeros((owned, 2))], axis=1
    )
    room = np.concatenate([np.zeros(number), -residue, remainder - loss, [1.0 - loss, loss - spare / unit]])
    some = np.concatenate([np.zeros(number), np.ones(kinds), np.zeros(owned), [0.0, -1.0]])
    matrix = np.concatenate([cover, once, room[None], some[None]])
    low = np.concatenate([instance.count, np.zeros(owned) - np.inf, [0.0, 0.0]])
    high = np.concatenate([instance.count, np.ones(owned), [np.inf, np.inf]])
    upper = np.concatenate(
        [
            np.full(number, float(max(instance.count))),
            np.array(instance.count, dtype=np.float64),
            np.ones(owned),
            [float(instance.rolls_for(instance.total + spare) + instance.pulls), 1.0],
        ]
    )
    if at_most is not None:
        matrix = np.concatenate([matrix, objective[None]])
        low, high = np.append(low, 0.0), np.append(high, (at_most + UM_SLACK) / unit)
        objective = -room
    values, _ = _solve(objective, csr_array(matrix), low, high, upper, nodes)
    if values is None:
        return None
    whole = np.rint(values).astype(np.int64)
    rest = tuple(whole[number : number + kinds].tolist())
    used = tuple(np.flatnonzero(whole[number + kinds : number + kinds + owned]).tolist())
    rows = tuple(np.repeat(np.arange(number), whole[:number]).tolist())
    return Choice(rows, rest, int(whole[-2]), used)


def _solve(
    cost: Floats, matrix: csr_array, low: Floats, high: Floats, upper: Floats, nodes: int
) -> tuple[Floats | None, float]:
    """Whole variables of least cost, and the program's own bound; stops on nodes, never on time."""
    result = milp(
        cost,
        integrality=np.ones(cost.size),
        bounds=Bounds(0.0, upper),
        constraints=LinearConstraint(matrix, low, high),
        options={"mip_rel_gap": 0.0, "node_limit": nodes},
    )
    if result.status == 2:
        return None, np.inf
    bound = result.mip_dual_bound
    return result.x, -np.inf if bound is None else float(bound)
