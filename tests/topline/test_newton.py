"""The Newton matrix against dense algebra, in band and in listed form."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.sparse import csr_array, random_array

from fencewright.topline.newton import newton_matrix, order_unknowns, row_products


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
    solve = newton_matrix(flow, weight, rows, band).factorise(scale, extra)
    assert solve is not None
    dense = flow.toarray().T @ flow.toarray() + np.diag(weight + extra)
    dense += rows.toarray().T @ np.diag(scale) @ rows.toarray()
    np.testing.assert_allclose(solve(right.copy()), np.linalg.solve(dense, right), rtol=1e-10)


def test_matrix_that_is_not_definite_gives_none() -> None:
    matrix = newton_matrix(csr_array((0, 2)), np.array([1.0, -1.0]), csr_array((0, 2)), 0)
    assert matrix.factorise(np.zeros(0), np.zeros(2)) is None


def test_products_are_the_lower_triangle_of_each_row() -> None:
    matrix = csr_array(np.array([[2.0, 0.0, 3.0], [0.0, 0.0, 0.0], [0.0, 5.0, 0.0]]))
    row, high, low, value = row_products(matrix)
    got = sorted(zip(row.tolist(), high.tolist(), low.tolist(), value.tolist(), strict=True))
    assert got == [(0, 0, 0, 4.0), (0, 2, 0, 6.0), (0, 2, 2, 9.0), (2, 1, 1, 25.0)]


def test_chain_keeps_its_order_and_ring_folds_to_four() -> None:
    chain = _chain(50)
    assert order_unknowns(chain, csr_array((0, 50))) == (None, 2)
    closed = csr_array(np.eye(50) - 2 * np.roll(np.eye(50), 1, axis=1) + np.roll(np.eye(50), 2, axis=1))
    order, band = order_unknowns(closed, csr_array((0, 50)))
    assert order is not None
    assert sorted(order.tolist()) == list(range(50))
    assert band <= 5


def test_wide_graph_is_left_to_the_sparse_factor() -> None:
    flow = csr_array(random_array((900, 300), density=0.02, rng=np.random.default_rng(2)))
    assert order_unknowns(flow, csr_array((0, 300))) == (None, -1)
