"""Forces of braces as tabled in our sources (key statics; derived, no published numeric example was found).

sources-structure.md section 3 (proved there by two frame programs) and the table of sources-fence.md
section D. Tolerance: the printed digits.
"""

import numpy as np
import pytest

from fencewright.mechanics import brace_statics, brace_stiffness, sections
from fencewright.mechanics.resultant import resultant_at_grade

PULLS_N, HEIGHTS_M = np.full(4, 1500.0), np.array([0.35, 0.70, 1.05, 1.40])
CONTACT_M, REACH_M = 1.0, 2.0


@pytest.mark.parametrize(
    ("pivot_depth_m", "thrust", "axial", "uplift", "pivot"),
    [(0.0, 5250.0, 5869.678, 2625.0, 750.0), (0.8, 5583.333, 6242.356, 2791.667, 416.667)],
)
def test_diagonal_brace(
    pivot_depth_m: float, thrust: float, axial: float, uplift: float, pivot: float
) -> None:
    load = resultant_at_grade(PULLS_N, HEIGHTS_M)
    forces = brace_statics.diagonal_brace(*load, CONTACT_M, REACH_M, pivot_depth_m)
    assert forces.thrust_n == pytest.approx(thrust, abs=5e-4)
    assert forces.axial_n == pytest.approx(axial, abs=6e-4)
    assert forces.uplift_n == pytest.approx(uplift, abs=5e-4)
    assert forces.pivot_n == pytest.approx(pivot, abs=5e-4)


def test_clamped_foot() -> None:
    """E 10 GPa, upright 150 mm, brace 100 mm round, force method."""
    modulus = 10e9
    flexibility = brace_stiffness.diagonal_flexibility_m_n(
        CONTACT_M, REACH_M, modulus * sections.round_area_m2(0.15), modulus * sections.round_area_m2(0.1)
    )
    bending = modulus * sections.round_inertia_m4(0.15)
    forces = brace_stiffness.clamped_brace(PULLS_N, HEIGHTS_M, CONTACT_M, REACH_M, bending, flexibility)
    assert forces.brace.thrust_n == pytest.approx(4964.273516, abs=1e-6)
    assert forces.brace.axial_n == pytest.approx(5550.226520, abs=1e-6)
    assert forces.brace.uplift_n == pytest.approx(2482.136758, abs=1e-6)
    assert forces.foot_moment_n_m == pytest.approx(285.726484, abs=1e-6)
    assert forces.brace.pivot_n == pytest.approx(1035.726484, abs=1e-6)


def test_horizontal_brace_with_a_tie() -> None:
    """Rail at 1.2 m, bay 2.4 m: 4.375, 4.891399, 2.1875, 6.0 kN."""
    forces = brace_statics.tied_brace(*resultant_at_grade(PULLS_N, HEIGHTS_M), 1.2, 2.4)
    assert forces.rail_n == pytest.approx(4375.0)
    assert forces.tie_n == pytest.approx(4891.399, abs=5e-4)
    assert forces.uplift_n == pytest.approx(2187.5)
    assert forces.foot_n == pytest.approx(6000.0)


@pytest.mark.parametrize(
    ("pull", "pull_in", "rail_in", "bay_in", "compression", "tie", "uplift"),
    [
        (1250, 34, 48, 96, 885.4, 989.9, 442.7),
        (1250, 34, 48, 120, 885.4, 953.6, 354.2),
        (1000, 30, 40, 96, 750.0, 812.5, 312.5),
    ],
)
def test_fence_notes_table(
    pull: float,
    pull_in: float,
    rail_in: float,
    bay_in: float,
    compression: float,
    tie: float,
    uplift: float,
) -> None:
    """sources-fence.md section D, in pounds and inches: the formulas hold in any one system of units."""
    forces = brace_statics.tied_brace(pull, pull * pull_in, rail_in, bay_in)
    assert forces.rail_n == pytest.approx(compression, abs=0.05)
    assert forces.tie_n == pytest.approx(tie, abs=0.06)
    assert forces.uplift_n == pytest.approx(uplift, abs=0.05)


@pytest.mark.parametrize(
    ("bay_over_rail", "tie_ratio", "uplift_ratio"),
    [(1.0, 1.414, 1.000), (1.5, 1.202, 0.667), (2.0, 1.118, 0.500), (2.5, 1.077, 0.400)],
)
def test_fence_notes_ratios(bay_over_rail: float, tie_ratio: float, uplift_ratio: float) -> None:
    forces = brace_statics.tied_brace(1.0, 1.0, 1.0, bay_over_rail)
    assert forces.tie_n == pytest.approx(tie_ratio, abs=5e-4)
    assert forces.uplift_n == pytest.approx(uplift_ratio, abs=5e-4)


def test_a_longer_bay_saves_uplift_rather_than_tension() -> None:
    """Going from 2 to 2.5 cuts uplift 20 %, tension only 3.7 %."""
    forces = brace_statics.tied_brace(1.0, 1.0, 1.0, np.array([2.0, 2.5]))
    assert 1 - forces.uplift_n[1] / forces.uplift_n[0] == pytest.approx(0.20)
    assert 1 - forces.tie_n[1] / forces.tie_n[0] == pytest.approx(0.037, abs=5e-4)


def test_a_second_bay_does_not_simply_halve_the_uplift() -> None:
    """Section D: a double span shares load; with timber rail and wire tie the first bay keeps more than half."""
    tie = brace_stiffness.tie_flexibility_m_n(1.2, 2.4, 200e9 * 11.0e-6)
    rail = brace_stiffness.rail_flexibility_m_n(2.4, 10e9 * sections.round_area_m2(0.1))
    share = brace_stiffness.first_bay_share(tie, rail)
    load = resultant_at_grade(PULLS_N, HEIGHTS_M)
    first, _ = brace_statics.tied_two_bays(*load, 1.2, 2.4, share)
    assert 0.5 * 2187.5 < first.uplift_n < 0.6 * 2187.5
