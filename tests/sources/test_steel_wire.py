"""12.5 gauge steel wire: sources-structure section 7 and sources-fence B.

Diameter 0.099 in: ASTM A854 (READ) and gauge tables (memory); E 29e6 psi / 200 GPa, density, expansion:
memory, universal. All figures derived from them. Grades: ASTM A854 3.2 (READ).

Register key: steel-wire.
"""

import numpy as np
import pytest

from fencewright.mechanics.cable import parabola_sag_m
from fencewright.mechanics.change_of_state import PullModel, pull_sums, tension_change_n_per_c
from fencewright.mechanics.composite import (
    axial_stiffness_n,
    breaking_load_n,
    line_mass_kg_m,
    stretch_m,
    wires_area_m2,
)

DIAMETER_IN, E_PSI, DENSITY_LB_IN3, EXPANSION_PER_F = 0.099, 29e6, 0.2836, 6.5e-6
AREA_IN2 = float(wires_area_m2(DIAMETER_IN))
EA_LBF = float(axial_stiffness_n([AREA_IN2], [E_PSI]))


def test_metric_constants() -> None:
    """4.96624 mm2, 38.985 g/m, EA 993.248 kN (sources-structure 7)."""
    area = float(wires_area_m2(2.5146e-3))
    assert area * 1e6 == pytest.approx(4.96624, abs=5e-6)
    assert float(line_mass_kg_m([area], [7850.0])) * 1e3 == pytest.approx(38.985, abs=5e-4)
    assert float(axial_stiffness_n([area], [200e9])) / 1e3 == pytest.approx(993.248, abs=5e-4)


def test_area_weight_stiffness() -> None:
    assert pytest.approx(0.0076977, abs=5e-8) == AREA_IN2
    assert pytest.approx(223_233, abs=1) == EA_LBF
    weight_lb_ft = float(line_mass_kg_m([AREA_IN2], [DENSITY_LB_IN3])) * 12
    assert weight_lb_ft == pytest.approx(0.02620, abs=5e-6)
    assert weight_lb_ft * 4000 == pytest.approx(104.8, abs=0.05)
    assert 1 / weight_lb_ft == pytest.approx(38.2, abs=0.05)


def test_breaking_loads_by_grade_and_the_share_of_250_pounds() -> None:
    """1,540, 1,386, 1,078 lbf; UF CIR851 says about 1,600 for 200 ksi, 3.9 % more: within 5 %."""
    breaking = breaking_load_n(AREA_IN2, [200e3, 180e3, 140e3])
    np.testing.assert_allclose(breaking, [1540, 1386, 1078], atol=0.5)
    np.testing.assert_allclose(250 / breaking * 100, [16.2, 18.0, 23.2], atol=0.05)
    assert breaking[0] == pytest.approx(1600, rel=0.05)


def test_stretch_at_250_pounds() -> None:
    inches = stretch_m(250.0, np.array([100.0, 1000.0, 1320.0]) * 12, EA_LBF)
    assert inches[0] == pytest.approx(1.344, abs=5e-4)
    np.testing.assert_allclose(inches[1:], [13.4, 17.7], atol=0.05)


def test_a_taut_wire_between_rigid_ends_by_degree_fahrenheit() -> None:
    """1.451 lbf/F; 14.5, 72.6, 145 lbf for 10, 50, 100 F (upper bounds: ends that give lower them)."""
    length, sag, _ = pull_sums([1200.0], 0.0, np.array([0, 1]))
    wire = PullModel(length, sag, np.array([EA_LBF]), np.array([EXPANSION_PER_F]), np.zeros(1))
    by_degree = float(tension_change_n_per_c(wire, 250.0)[0])
    assert by_degree == pytest.approx(1.451, abs=5e-4)
    np.testing.assert_allclose(by_degree * np.array([10, 50]), [14.5, 72.6], atol=0.05)
    assert by_degree * 100 == pytest.approx(145, abs=0.5)


def test_sag_of_its_own_weight_at_250_pounds() -> None:
    feet = np.array([8.0, 12.0, 20.0, 30.0, 50.0])
    found = parabola_sag_m(250.0, feet * 12, AREA_IN2 * DENSITY_LB_IN3)
    np.testing.assert_allclose(found, [0.010, 0.023, 0.063, 0.141, 0.393], atol=5e-4)


def test_two_and_a_half_sizes_of_gauge() -> None:
    """12.5 is .099 in (memory); the mean of 12 and 13, .1055 and .0915 (READ), is .0985: not the same wire."""
    mean = (0.1055 + 0.0915) / 2
    assert mean == pytest.approx(0.0985)
    assert float(wires_area_m2(mean)) / AREA_IN2 == pytest.approx(0.990, abs=5e-4)
