"""Catenary and change of state, sources-structure section 6 (derived; proved by an independent program).

H 1000 N, 5 N/m, span 60 m; and 12.5 gauge wire (2.5146 mm, 200 GPa, 11.7e-6, 7850 kg/m3), span 50 m, 1000 N
at 20 C, ends fixed.

Register key: elastic-catenary.
"""

import numpy as np
import pytest

from fencewright.mechanics.cable import (
    catenary,
    catenary_tension_after_n,
    catenary_tension_n,
    parabola_sag_m,
)
from fencewright.mechanics.change_of_state import PullModel, pull_sums, tension_after_n
from fencewright.mechanics.composite import axial_stiffness_n, line_mass_kg_m, wires_area_m2

AREA = wires_area_m2([2.5146e-3])
EA_N = float(axial_stiffness_n(AREA, [200e9]))
LOAD_N_M = float(line_mass_kg_m(AREA, [7850.0])) * 9.80665


def test_a_stiff_catenary() -> None:
    shape = catenary(1000.0, 60.0, 5.0)
    assert float(shape.sag_m) == pytest.approx(2.25422192, abs=5e-9)
    assert float(shape.length_m) == pytest.approx(60.22525326, abs=5e-9)
    assert float(shape.end_tension_n) == pytest.approx(1011.27110958, abs=5e-9)
    assert float(parabola_sag_m(1000.0, 60.0, 5.0)) == pytest.approx(2.25)


def test_unstressed_length() -> None:
    assert float(catenary(1000.0, 50.0, LOAD_N_M, EA_N).unstressed_m) == pytest.approx(
        49.950468945, abs=5e-10
    )
    assert float(catenary_tension_n(49.950468945, 50.0, LOAD_N_M, EA_N)) == pytest.approx(1000.0, abs=1e-5)


def test_cold_and_hot_exact() -> None:
    found = catenary_tension_after_n(1000.0, 50.0, LOAD_N_M, EA_N, 11.7e-6, [-40.0, 30.0])
    np.testing.assert_allclose(found, [1457.531205, 669.702691], rtol=0, atol=5e-7)


def test_cold_and_hot_by_the_parabola() -> None:
    length, sag, _ = pull_sums([50.0], LOAD_N_M, np.array([0, 1]))
    wire = PullModel(length, sag, np.array([EA_N]), np.array([11.7e-6]), np.zeros(1))
    found = tension_after_n(wire, 1000.0, [-40.0, 30.0])[0]
    np.testing.assert_allclose(found, [1456.843, 669.941], rtol=0, atol=5e-4)
