"""The Newton matrix of the program, assembled and factorised in band form or, when wide, sparse."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.linalg.lapack import dpbtrf, dpbtrs
from scipy.sparse import csc_array, csr_array
from scipy.sparse.csgraph import reverse_cuthill_mckee
from scipy.sparse.linalg import splu

from fencewright.tables.top_line import FloatArray, IntArray

#: Half bandwidth above which a sparse factorisation is quicker than the band's.
WIDEST_BAND = 60
#: Half bandwidth of a plain chain of posts: no order of the unknowns is better.
CHAIN_BAND = 2

Solve = Callable[[FloatArray], FloatArray]


@dataclass(frozen=True)
class NewtonMatrix:
    """Lower triangle of H + A' diag(s) A + diag(g): where each entry stands, and H's values.

    Attributes
    ----------
    band : int
        Half bandwidth; entry (i, j) stands at `j * (band + 1) + i - j`. -1: listed entries.
    row, column : int array (entries,)
        Places of the listed entries; empty in band form.
    diagonal : int array (unknowns,) or slice
        Where the diagonal stands.
    base : float array (entries,)
        H.
    spread : sparse array (entries, rows)
        Entries of A' diag(s) A for each s.
    work : float array (entries,)
        Room for a factor: the last one alone is good.
    """

    band: int
    row: IntArray
    column: IntArray
    diagonal: IntArray | slice
    base: FloatArray
    spread: csr_array
    work: FloatArray

    def factorise(self, scale: FloatArray, diagonal: FloatArray) -> Solve | None:
        """Factorise H + A' diag(scale) A + diag(diagonal).

        Parameters
        ----------
        scale : float array (rows,)
            Above 0.
        diagonal : float array (unknowns,)
            0 or more.

        Returns
        -------
        callable or None
            Gives the solution for a right-hand side (unknowns,), which it may overwrite. None where
            the matrix is not positive definite in floating point.
        """
        entries = self.work
        np.copyto(entries, self.base)
        if scale.size:
            entries += self.spread @ scale
        entries[self.diagonal] += diagonal
        if self.band < 0:
            return _factorise_sparse(entries, self.row, self.column, diagonal.size)
        return _factorise_band(entries.reshape((self.band + 1, -1), order="F"))


def order_unknowns(flow: csr_array, rows: csr_array) -> tuple[IntArray | None, int]:
    """Order the unknowns so that the Newton matrix has a narrow band.

    Parameters
    ----------
    flow, rows : sparse array (flows, unknowns), (rows, unknowns)
        Unknowns of a row meet in the matrix.

    Returns
    -------
    order : int array (unknowns,) or None
        Unknowns in their new order; None = as they are (a chain, in order).
    band : int
        Half bandwidth in that order; -1 where it is too wide to be worth a band.
    """
    band = max(_widest(flow), _widest(rows))
    if band <= CHAIN_BAND:
        return None, band
    pairs = [row_products(matrix)[1:3] for matrix in (flow, rows)]
    high = np.concatenate([pair[0] for pair in pairs])
    low = np.concatenate([pair[1] for pair in pairs])
    size = flow.shape[1]
    graph = csr_array(
        (np.ones(2 * high.size, np.int8), (np.concatenate([high, low]), np.concatenate([low, high]))),
        shape=(size, size),
    )
    order = np.asarray(reverse_cuthill_mckee(graph, symmetric_mode=True), np.int64)
    place = np.empty(size, np.int64)
    place[order] = np.arange(size)
    narrowed = int(np.max(np.abs(place[high] - place[low]), initial=0))
    if min(narrowed, band) > WIDEST_BAND:
        return None, -1
    return (order, narrowed) if narrowed < band else (None, band)


def newton_matrix(flow: csr_array, weight: FloatArray, rows: csr_array, band: int) -> NewtonMatrix:
    """Lay out the Newton matrix of D'D + diag(w) and A' diag(s) A.

    Parameters
    ----------
    flow : sparse array (flows, unknowns)
        D.
    weight : float array (unknowns,)
        w.
    rows : sparse array (rows, unknowns)
        A.
    band : int
        Half bandwidth, -1 for listed entries.

    Returns
    -------
    NewtonMatrix
        O(unknowns x band + products of rows).
    """
    size = flow.shape[1]
    _, flow_high, flow_low, flow_value = row_products(flow)
    owner, row_high, row_low, row_value = row_products(rows)
    listed = np.zeros(0, np.int64)
    if band >= 0:
        count = size * (band + 1)
        flow_at = flow_low * band + flow_high
        row_at = row_low * band + row_high
        diagonal: IntArray | slice = slice(0, count, band + 1)
        row = column = listed
    else:
        every = np.arange(size, dtype=np.int64)
        keys, place = np.unique(
            np.concatenate([flow_high * size + flow_low, row_high * size + row_low, every * (size + 1)]),
            return_inverse=True,
        )
        count, row, column = keys.size, keys // size, keys % size
        flow_at, row_at, diagonal = np.split(place, [flow_low.size, flow_low.size + row_low.size])
    base = np.asarray(np.bincount(flow_at, flow_value, count), np.float64)
    base[diagonal] += weight
    spread = csr_array((row_value, (row_at, owner)), shape=(count, rows.shape[0]))
    return NewtonMatrix(band, row, column, diagonal, base, spread, np.empty_like(base))


def row_products(matrix: csr_array) -> tuple[IntArray, IntArray, IntArray, FloatArray]:
    """Products of each two entries of each row: the lower triangle of the rows' outer products.

    Parameters
    ----------
    matrix : sparse array (rows, columns)
        No column twice in a row.

    Returns
    -------
    row, high, low : int array (products,)
        Row, greater column, lesser column.
    value : float array (products,)
        Product of the two entries.
    """
    length = np.diff(matrix.indptr)
    parts: list[tuple[IntArray, IntArray, IntArray, FloatArray]] = []
    for size in np.flatnonzero(np.bincount(length)[1:]) + 1:
        rows = np.flatnonzero(length == size)
        column, value = _rectangle(matrix, rows, int(size))
        for first in range(size):
            for second in range(first + 1):
                one, other = column[first], column[second]
                product = value[first] * value[second]
                parts.append((rows, np.maximum(one, other), np.minimum(one, other), product))
    if not parts:
        none = np.zeros(0, np.int64)
        return none, none, none, np.zeros(0)
    row, high, low, product = (np.concatenate(column) for column in zip(*parts, strict=True))
    return row, high, low, product


def _rectangle(matrix: csr_array, rows: IntArray, size: int) -> tuple[IntArray, FloatArray]:
    """Columns and values of the rows that hold `size` entries, one line of each entry: (size, rows)."""
    if rows.size * size == matrix.data.size:
        columns, values = matrix.indices.reshape(-1, size), matrix.data.reshape(-1, size)
    else:
        at = matrix.indptr[rows][:, None] + np.arange(size)
        columns, values = matrix.indices[at], matrix.data[at]
    return np.ascontiguousarray(columns.T, np.int64), np.ascontiguousarray(values.T)


def _widest(matrix: csr_array) -> int:
    """Greatest distance between two columns of a row."""
    length, widest = np.diff(matrix.indptr), 0
    for size in np.flatnonzero(np.bincount(length)[1:]) + 1:
        if size > 1:
            column, _ = _rectangle(matrix, np.flatnonzero(length == size), int(size))
            widest = max(widest, int(np.max(column.max(axis=0) - column.min(axis=0))))
    return widest


def _factorise_band(band: FloatArray) -> Solve | None:
    factor, info = dpbtrf(band, lower=1, overwrite_ab=1)
    if info != 0:
        return None

    def solve(right: FloatArray) -> FloatArray:
        return np.asarray(dpbtrs(factor, right, lower=1, overwrite_b=1)[0])

    return solve


def _factorise_sparse(entries: FloatArray, row: IntArray, column: IntArray, size: int) -> Solve:
    below = row != column
    place = (np.concatenate([row, column[below]]), np.concatenate([column, row[below]]))
    matrix = csc_array((np.concatenate([entries, entries[below]]), place), shape=(size, size))
    options = {"SymmetricMode": True}
    factor = splu(matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options=options)
    return lambda right: np.asarray(factor.solve(right))
