"""Solve the program of the top line: order, shortcut, interior point, certificate."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from scipy.sparse import csr_array

from fencewright.tables.top_line import FloatArray, IntArray, TopLineCertificate, TopLineSettings
from fencewright.topline.certificate import certify
from fencewright.topline.interior_point import interior_point
from fencewright.topline.newton import newton_matrix, order_unknowns, row_products
from fencewright.topline.program import Program

#: The solver aims at this part of the gap asked for.
AIM = 0.1


def solve_program(program: Program, settings: TopLineSettings) -> tuple[FloatArray, TopLineCertificate]:
    """Find the least of the program, and prove it.

    Parameters
    ----------
    program : Program
        From `build_program`.
    settings : TopLineSettings
        Tolerance and limit of iterations.

    Returns
    -------
    x_m : float array (unknowns,)
        Within the bounds. [m]
    certificate : TopLineCertificate
        Computed on the program as given, not on the solver's state.

    Notes
    -----
    The free optimum (no bound, no row) is found by one factorisation; where it keeps all bounds and
    rows it is the answer, else the interior point finds it.
    """
    met = row_products(program.flow), row_products(program.rows)
    order, band, met = order_unknowns(*met, program.weight.size)
    ordered = program if order is None else _reordered(program, order)
    matrix = newton_matrix(ordered.weight, *met, band)
    rows = ordered.limit_m.size
    free = np.zeros(ordered.weight.size)
    if free.size:
        pull = -(ordered.flow.T @ ordered.flow_offset_m)
        solve = matrix.factorise(np.zeros(rows), free)
        free = free if solve is None else solve(pull)
    price, iterations = np.zeros(rows), 1
    if free.size and not _keeps_all(ordered, free):
        free, price, iterations = interior_point(
            ordered, matrix, AIM * settings.relative_gap, settings.iteration_limit
        )
    x = free
    if order is not None:
        x = np.empty_like(free)
        x[order] = free
    x = np.clip(x, program.low_m, program.high_m)
    return x, certify(program, x, price, iterations, settings.relative_gap)


def _keeps_all(program: Program, x: FloatArray) -> bool:
    inside = bool(np.all(x >= program.low_m) and np.all(x <= program.high_m))
    return inside and bool(np.all(program.rows @ x <= program.limit_m))


def _reordered(program: Program, order: IntArray) -> Program:
    place = np.empty(order.size, np.int32)
    place[order] = np.arange(order.size, dtype=np.int32)
    flow, rows = (
        csr_array((part.data, place[part.indices], part.indptr), shape=part.shape)
        for part in (program.flow, program.rows)
    )
    return replace(
        program,
        flow=flow,
        rows=rows,
        weight=program.weight[order],
        low_m=program.low_m[order],
        high_m=program.high_m[order],
    )
