"""The Newton matrix of the program, assembled and factorised in band form or, when wide, sparse."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
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
class Products:
    """Products of each two entries of each row of a matrix: the lower triangle of the rows' outer products.

    Attributes
    ----------
    start : int array (rows + 1,)
        Products of row r stand from `start[r]` to `start[r + 1]`.
    high, low : int array (products,)
        Greater and lesser column.
    value : float array (products,)
        Product of the two entries.
    """

    start: IntArray
    high: IntArray
    low: IntArray
    value: FloatArray

    @property
    def band(self) -> int:
        """Greatest distance between two columns of a product."""
        return int(np.max(self.high - self.low, initial=0))

    def reordered(self, place: NDArray[np.int32]) -> Products:
        """Give the same products where column c stands at `place[c]`."""
        one, other = place[self.high], place[self.low]
        return Products(self.start, np.maximum(one, other), np.minimum(one, other), self.value)


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
    spread: csc_array
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


def order_unknowns(
    flow: Products, rows: Products, size: int
) -> tuple[IntArray | None, int, tuple[Products, Products]]:
    """Order the unknowns so that the Newton matrix has a narrow band.

    Parameters
    ----------
    flow, rows : Products
        Of the flows and of the rows: unknowns of a product meet in the matrix.
    size : int
        Number of unknowns.

    Returns
    -------
    order : int array (unknowns,) or None
        Unknowns in their new order; None = as they are (a chain, in order).
    band : int
        Half bandwidth in that order; -1 where it is too wide to be worth a band.
    products : two Products
        The products given, in the new order.

    Notes
    -----
    Chains keep their order, rings are folded (0, n - 1, 1, n - 2, ...): what met within 2 then meets within 4. For all
    else the order is reverse Cuthill-McKee's.
    """
    band = max(flow.band, rows.band)
    if band <= CHAIN_BAND:
        return None, band, (flow, rows)
    for find in (_folded, _cuthill_mckee):
        order = find(flow, rows, size)
        place = np.empty(size, np.int32)
        place[order] = np.arange(size, dtype=np.int32)
        products = flow.reordered(place), rows.reordered(place)
        narrowed = max(one.band for one in products)
        if narrowed <= 2 * CHAIN_BAND:
            break
    if min(narrowed, band) > WIDEST_BAND:
        return None, -1, (flow, rows)
    return (order, narrowed, products) if narrowed < band else (None, band, (flow, rows))


def _folded(flow: Products, rows: Products, size: int) -> IntArray:
    """Fold each ring on itself, taking what meets far apart for what closes it."""
    ends = []
    for products in (flow, rows):
        far = np.flatnonzero(products.high - products.low > CHAIN_BAND)
        ends.append(np.stack([products.low[far], products.high[far]]))
    low, high = np.concatenate(ends, axis=1)
    by_low = np.argsort(low, kind="stable")
    low, high = low[by_low], np.maximum.accumulate(high[by_low])
    starts = np.flatnonzero(np.append(True, low[1:] > high[:-1]))
    order = np.arange(size)
    for first, last in zip(starts, np.append(starts[1:], low.size) - 1, strict=True):
        start, stop = int(low[first]), int(high[last]) + 1
        half = (stop - start + 1) // 2
        order[start:stop:2] = np.arange(start, start + half)
        order[start + 1 : stop : 2] = np.arange(stop - 1, start + half - 1, -1)
    return order


def _cuthill_mckee(flow: Products, rows: Products, size: int) -> IntArray:
    high, low = np.concatenate([flow.high, rows.high]), np.concatenate([flow.low, rows.low])
    apart = high != low
    high, low = high[apart], low[apart]
    ends = np.concatenate([high, low]), np.concatenate([low, high])
    graph = csr_array((np.ones(2 * high.size, np.int8), ends), shape=(size, size))
    return np.asarray(reverse_cuthill_mckee(graph, symmetric_mode=True), np.int64)


def newton_matrix(weight: FloatArray, flow: Products, rows: Products, band: int) -> NewtonMatrix:
    """Lay out the Newton matrix of D'D + diag(w) and A' diag(s) A.

    Parameters
    ----------
    weight : float array (unknowns,)
        w.
    flow, rows : Products
        Of D and of A, in the order of the unknowns.
    band : int
        Half bandwidth, -1 for listed entries.

    Returns
    -------
    NewtonMatrix
        O(unknowns x band + products of rows).
    """
    size = weight.size
    listed = np.zeros(0, np.int64)
    if band >= 0:
        count = size * (band + 1)
        flow_at = flow.low * band + flow.high
        row_at = rows.low * band + rows.high
        diagonal: IntArray | slice = slice(0, count, band + 1)
        row = column = listed
    else:
        every = np.arange(size, dtype=np.int64)
        keys, place = np.unique(
            np.concatenate([_key(flow, size), _key(rows, size), every * (size + 1)]),
            return_inverse=True,
        )
        count, row, column = keys.size, keys // size, keys % size
        flow_at, row_at, diagonal = np.split(place, [flow.low.size, flow.low.size + rows.low.size])
    base = np.asarray(np.bincount(flow_at, flow.value, count), np.float64)
    base[diagonal] += weight
    spread = csc_array(
        (rows.value, row_at.astype(np.int32), rows.start.astype(np.int32)), shape=(count, rows.start.size - 1)
    )
    return NewtonMatrix(band, row, column, diagonal, base, spread, np.empty_like(base))


def _key(products: Products, size: int) -> IntArray:
    """One number for each place in the lower triangle."""
    return products.high.astype(np.int64) * size + products.low


def row_products(matrix: csr_array) -> Products:
    """Multiply each two entries of each row.

    Parameters
    ----------
    matrix : sparse array (rows, columns)
        No column twice in a row.

    Returns
    -------
    Products
        Row after row.
    """
    length = np.diff(matrix.indptr).astype(np.int64)
    start = np.concatenate([[0], np.cumsum(length * (length + 1) // 2)])
    high, low = (np.empty(start[-1], matrix.indices.dtype) for _ in range(2))
    value = np.empty(start[-1])
    for size in np.flatnonzero(np.bincount(length)[1:]) + 1:
        rows = np.flatnonzero(length == size)
        column, entry = _rectangle(matrix, rows, int(size))
        at = start[rows]
        for first in range(size):
            for second in range(first + 1):
                high[at] = np.maximum(column[first], column[second])
                low[at] = np.minimum(column[first], column[second])
                value[at] = entry[first] * entry[second]
                at += 1
    return Products(start, high, low, value)


def _rectangle(matrix: csr_array, rows: IntArray, size: int) -> tuple[IntArray, FloatArray]:
    """Columns and values of the rows that hold `size` entries, one line of each entry: (size, rows)."""
    if rows.size * size == matrix.data.size:
        columns, values = matrix.indices.reshape(-1, size), matrix.data.reshape(-1, size)
    else:
        at = matrix.indptr[rows][:, None] + np.arange(size)
        columns, values = matrix.indices[at], matrix.data[at]
    return np.ascontiguousarray(columns.T), np.ascontiguousarray(values.T)


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
