"""The Newton matrix against dense algebra, in band and in listed form."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.linalg import block_diag
from scipy.sparse import csr_array, random_array

from fencewright.tables.top_line import IntArray
from fencewright.topline.newton import Products, newton_matrix, order_unknowns, row_products


def _chain(size: int) -> csr_array:
    rows = np.zeros((size - 2, size))
    for row in range(size - 2):
        rows[row, row : row + 3] = [1.0, -2.0 - 0.1 * row, 1.0]
    return csr_array(rows)


@pytest.mark.parametrize("band", [2, 3, -1])
def test_factor_solves_the_dense_system(band: int) -> None:
    random = np.random.default_rng(1)
    flow, weight = _chain(9), random.uniform(0.1, 1.0, 9)
    rows = csr_array(np.eye(9)[[2, 4]] - 0.5 * np.eye(9)[[3, 6]] * [[1.0], [0.0]])
    scale, extra, right = random.uniform(1, 2, 2), random.uniform(0, 1, 9), random.standard_normal(9)
    solve = newton_matrix(weight, row_products(flow), row_products(rows), band).factorise(scale, extra)
    assert solve is not None
    dense = flow.toarray().T @ flow.toarray() + np.diag(weight + extra)
    dense += rows.toarray().T @ np.diag(scale) @ rows.toarray()
    np.testing.assert_allclose(solve(right.copy()), np.linalg.solve(dense, right), rtol=1e-10)


def test_matrix_that_is_not_definite_gives_none() -> None:
    none = row_products(csr_array((0, 2)))
    matrix = newton_matrix(np.array([1.0, -1.0]), none, none, 0)
    assert matrix.factorise(np.zeros(0), np.zeros(2)) is None


def test_products_are_the_lower_triangle_of_each_row() -> None:
    matrix = csr_array(np.array([[2.0, 0.0, 3.0], [0.0, 0.0, 0.0], [0.0, 5.0, 0.0]]))
    products = row_products(matrix)
    assert products.start.tolist() == [0, 3, 3, 4]
    columns = (products.high.tolist(), products.low.tolist(), products.value.tolist())
    got = list(zip(*columns, strict=True))
    assert sorted(got[:3]) == [(0, 0, 4.0), (2, 0, 6.0), (2, 2, 9.0)]
    assert got[3:] == [(1, 1, 25.0)]


def _none(size: int) -> Products:
    return row_products(csr_array((0, size)))


def _closed(size: int) -> NDArray[np.float64]:
    eye = np.eye(size)
    return eye - 2 * np.roll(eye, 1, axis=1) + np.roll(eye, 2, axis=1)


def _met(order: IntArray, matrix: NDArray[np.float64]) -> int:
    """Greatest distance of two unknowns that a row joins, counted from the dense rows."""
    place = {int(unknown): at for at, unknown in enumerate(order)}
    spots = [[place[int(column)] for column in np.flatnonzero(row)] for row in matrix]
    return max(max(row) - min(row) for row in spots)


@pytest.mark.parametrize("size", [7, 50, 51])
def test_chain_keeps_its_order_and_ring_folds_to_four(size: int) -> None:
    chain = row_products(_chain(size))
    assert order_unknowns(chain, _none(size), size)[:2] == (None, 2)
    closed = csr_array(_closed(size))
    order, band, (flow, _) = order_unknowns(row_products(closed), _none(size), size)
    assert order is not None
    assert sorted(order.tolist()) == list(range(size))
    assert band == flow.band == _met(order, closed.toarray()) == 4


def test_two_rings_and_a_chain_fold_apart() -> None:
    matrix = block_diag(_closed(20), _chain(9).toarray(), _closed(33))
    order, band, _ = order_unknowns(row_products(csr_array(matrix)), _none(62), 62)
    assert order is not None
    assert sorted(order.tolist()) == list(range(62))
    assert band == _met(order, matrix) == 4


def test_ring_that_is_joined_across_is_ordered_by_the_general_method() -> None:
    across = np.zeros((1, 50))
    across[0, [10, 35]] = 1.0
    matrix = np.vstack([_closed(50), across])
    order, band, (flow, _) = order_unknowns(row_products(csr_array(matrix)), _none(50), 50)
    assert order is not None
    assert sorted(order.tolist()) == list(range(50))
    assert band == flow.band == _met(order, matrix)
    assert 4 < band < 25


def test_wide_graph_is_left_to_the_sparse_factor() -> None:
    flow = csr_array(random_array((900, 300), density=0.02, rng=np.random.default_rng(2)))
    assert order_unknowns(row_products(flow), _none(300), 300)[:2] == (None, -1)
