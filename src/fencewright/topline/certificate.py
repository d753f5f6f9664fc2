"""Proof of how good a line is: a lower bound on every line's cost, from any prices of the rows."""

from __future__ import annotations

import numpy as np

from fencewright.tables.top_line import FloatArray, TopLineCertificate
from fencewright.topline.program import Program

#: Where the objective is less than this for each unknown, the gap is measured against this. [m2]
LEAST_OBJECTIVE_M2 = 1e-6


def certify(
    program: Program, x_m: FloatArray, row_price_m: FloatArray, iterations: int, relative_gap: float
) -> TopLineCertificate:
    """Certify a point of the program.

    Parameters
    ----------
    program : Program
        The program.
    x_m : float array (unknowns,)
        Any point; it is clipped to its bounds. [m]
    row_price_m : float array (rows,)
        Any prices of the rows; clipped to 0 and the price of breaking them. [m2/m]
    iterations : int
        Iterations used, handed through.
    relative_gap : float
        The gap asked for. [-]

    Returns
    -------
    TopLineCertificate
        Holds whatever made the point and the prices.

    Notes
    -----
    With z in [0, p], f(x') + z'(A x' - b) is at most the cost of any x' in the box. f is convex, so it
    is at least its tangent at x, and the least of the tangent over the box is found entry by entry:
    with g = grad f(x) + A'z, gap = p'(Ax - b)+ - z'(Ax - b) + sum max(g, 0)(x - low) +
    max(-g, 0)(high - x). Every term is 0 or more: nothing cancels.
    """
    x = np.clip(x_m, program.low_m, program.high_m)
    z = np.clip(row_price_m, 0.0, program.price_m)
    bend = program.flow @ x + program.flow_offset_m
    over = program.rows @ x - program.limit_m
    slope = program.flow.T @ bend + program.weight * x + program.rows.T @ z
    broken = np.maximum(over, 0.0)
    objective = program.constant_m2 + 0.5 * (ordered_dot(bend, bend) + ordered_dot(program.weight, x * x))
    objective += ordered_dot(program.price_m, broken)
    gap = ordered_dot(program.price_m - z, broken) + ordered_dot(z, np.maximum(-over, 0.0))
    gap += ordered_dot(np.maximum(slope, 0.0), x - program.low_m)
    gap += ordered_dot(np.maximum(-slope, 0.0), program.high_m - x)
    relative = gap / objective_scale(program, objective)
    move = x - np.clip(x - slope, program.low_m, program.high_m)
    return TopLineCertificate(
        objective_m2=objective,
        lower_bound_m2=objective - gap,
        relative_gap=relative,
        max_residual_m=float(np.max(np.abs(move), initial=0.0)),
        iterations=iterations,
        is_converged=relative <= relative_gap,
    )


def ordered_dot(one: FloatArray, other: FloatArray) -> float:
    """Multiply and sum in one fixed order: the same bytes on any number of threads.

    Parameters
    ----------
    one, other : float array (n,)
        Factors.

    Returns
    -------
    float
        Their scalar product; 0 for none.
    """
    return float(np.einsum("i,i->", one, other))


def objective_scale(program: Program, objective_m2: float) -> float:
    """Give what a gap is measured against.

    Parameters
    ----------
    program : Program
        For its number of unknowns.
    objective_m2 : float
        Objective. [m2]

    Returns
    -------
    float
        The objective, or 1e-6 m2 for each unknown (one at least) where that is more. [m2]
    """
    return max(objective_m2, LEAST_OBJECTIVE_M2 * max(program.weight.size, 1))
