"""Point load at mid bay, weightless, exact (derived; sources-structure section 6).

200 N, bay 3 m, 1100 N, 12.5 gauge wire of 993.248 kN: held at both posts, and free to slide over 60 m.

Register key: pushed-wire.
"""

import numpy as np
import pytest

from fencewright.mechanics.pushed_span import (
    deflection_m,
    linear_deflection_m,
    pushed_tension_n,
    tension_from_push_n,
)

EA_N, RUN_M = 993_248.0, np.array([3.0, 60.0])


def test_deflection_held_and_sliding() -> None:
    found = deflection_m(200.0, 3.0, RUN_M, 1100.0, EA_N)
    np.testing.assert_allclose(found, [69.400185e-3, 119.628621e-3], rtol=0, atol=5e-10)


def test_tension_under_the_push() -> None:
    found = pushed_tension_n(200.0, 3.0, RUN_M, 1100.0, EA_N)
    np.testing.assert_allclose(found, [2163.6896, 1257.8618], rtol=0, atol=5e-5)


def test_linear() -> None:
    assert float(linear_deflection_m(200.0, 3.0, 1100.0)) * 1e3 == pytest.approx(136.36, abs=0.005)


def test_back_to_the_tension() -> None:
    found = tension_from_push_n(200.0, [69.400185e-3, 119.628621e-3], 3.0, RUN_M, EA_N)
    np.testing.assert_allclose(found, 1100.0, atol=1e-4)
