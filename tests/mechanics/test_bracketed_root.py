"""Bracketed roots: found to the last bits, bounds that are roots, no change of sign."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from fencewright.mechanics.bracketed_root import bracketed_root

Floats = NDArray[np.float64]


@given(st.floats(-50.0, 50.0), st.floats(0.01, 100.0), st.floats(0.01, 100.0))
def test_a_root_anywhere_between_its_bounds(root: float, below: float, above: float) -> None:
    found = bracketed_root(lambda x: np.asarray((x - root) ** 3 + (x - root)), root - below, root + above)
    assert float(found) == pytest.approx(root, abs=1e-13 * (1 + abs(root)))


def test_many_at_once_each_in_its_own_bounds() -> None:
    wanted = np.geomspace(1e-6, 1e6, 500)
    calls = 0

    def curve(place: Floats) -> Floats:
        nonlocal calls
        calls += 1
        return np.asarray(np.log(place / wanted))

    np.testing.assert_allclose(bracketed_root(curve, wanted / 30, wanted * 70), wanted, rtol=1e-14)
    assert calls < 20


def test_a_bound_may_be_the_root() -> None:
    assert bracketed_root(lambda x: np.asarray(x - 2.0), 2.0, 5.0) == 2.0
    assert bracketed_root(lambda x: np.asarray(x - 5.0), 2.0, 5.0) == 5.0


def test_a_falling_curve_and_a_step() -> None:
    assert bracketed_root(lambda x: np.asarray(3.0 - x), 0.0, 10.0) == pytest.approx(3.0, rel=1e-14)
    step = bracketed_root(lambda x: np.where(x < 7.0, -1.0, 1.0), 0.0, 10.0)
    assert step == pytest.approx(7.0, rel=1e-14)


def test_without_a_change_of_sign_there_is_no_answer_for_that_one_only() -> None:
    found = bracketed_root(lambda x: np.asarray(x**2 - np.array([4.0, -1.0, np.nan])), np.zeros(3), 10.0)
    assert found[0] == pytest.approx(2.0, rel=1e-14)
    assert np.isnan(found[1:]).all()
    assert bracketed_root(lambda x: x, np.empty(0), np.empty(0)).shape == (0,)
