"""Columns: Euler's load against a discretised beam, and the ends of the steel curve."""

import numpy as np
import pytest

from fencewright.mechanics import buckling, sections

STEEL_PA = 200e9


def test_euler_load_is_the_least_eigenvalue_of_a_discretised_beam() -> None:
    """Pin-ended beam of 400 pieces: y'' = -P/(EI) y by central differences."""
    length, stiffness, pieces = 2.4, 4.0e4, 400
    step = length / pieces
    rows = np.diag(np.full(pieces - 1, 2.0)) - np.eye(pieces - 1, k=1) - np.eye(pieces - 1, k=-1)
    by_matrix = float(np.linalg.eigvalsh(rows)[0]) / step**2
    assert buckling.euler_load_n(1.0, stiffness, length) == pytest.approx(stiffness * by_matrix, rel=1e-4)


def test_load_and_stress_agree_and_a_flagpole_is_twice_as_long() -> None:
    area, inertia = sections.pipe_area_m2(0.06, 0.004), sections.pipe_inertia_m4(0.06, 0.004)
    slender = buckling.slenderness(2.0, sections.pipe_gyration_m(0.06, 0.004), 2.0)
    stress = buckling.euler_stress_pa(STEEL_PA, slender)
    assert stress * area == pytest.approx(buckling.euler_load_n(STEEL_PA, inertia, 4.0))


def test_steel_curve_joins_at_its_limit_and_starts_at_yield() -> None:
    at = np.pi * np.sqrt(2.25 * STEEL_PA / 250e6)
    near = buckling.steel_column_pa(STEEL_PA, 250e6, at * np.array([0.999, 1.001]))
    assert near[0] == pytest.approx(near[1], rel=5e-3)
    assert buckling.steel_column_pa(STEEL_PA, 250e6, 0.0) == pytest.approx(250e6)
    assert buckling.steel_column_pa(STEEL_PA, 250e6, 200.0) == pytest.approx(0.877 * np.pi**2 * 200e9 / 4e4)


def test_steel_curve_falls() -> None:
    assert np.all(np.diff(buckling.steel_column_pa(STEEL_PA, 250e6, np.arange(0.0, 250.0, 5.0))) < 0)


def test_pipe_bending_is_its_plastic_moment_over_the_safety_factor() -> None:
    plastic = sections.pipe_plastic_modulus_m3(0.0603, 0.0039)
    assert buckling.steel_pipe_bending_n_m(240e6, plastic) == pytest.approx(240e6 * plastic / 1.67)


def test_a_column_of_no_length_does_not_buckle() -> None:
    assert buckling.euler_load_n(STEEL_PA, 1e-6, 0.0) == np.inf
