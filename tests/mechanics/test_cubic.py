"""The positive root of x^3 = a x + b, in both branches of its closed form and at its limits."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics.cubic import positive_root

sizes = st.floats(1e-6, 1e6)


@given(sizes, sizes)
def test_the_root_solves_its_cubic_whatever_the_sizes(linear: float, constant: float) -> None:
    root = float(positive_root(linear, constant))
    assert root > 0
    assert root**3 == pytest.approx(linear * root + constant, rel=1e-12)


@pytest.mark.parametrize(("linear", "constant", "root"), [(4.0, 0.0, 2.0), (0.0, 27.0, 3.0), (3.0, 2.0, 2.0)])
def test_roots_known_by_hand(linear: float, constant: float, root: float) -> None:
    assert positive_root(linear, constant) == pytest.approx(root, rel=1e-14)


def test_nothing_gives_zero_and_unknown_stays_unknown() -> None:
    assert positive_root(0.0, 0.0) == 0.0
    assert np.isnan(positive_root([np.nan, 1.0], [1.0, np.nan])).all()
    assert positive_root(np.empty(0), 1.0).shape == (0,)
