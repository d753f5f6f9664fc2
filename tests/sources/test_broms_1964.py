"""Short free-head piles after Broms (keys broms-1964a, broms-1964b, broms-sheet, terzaghi-1955)."""

import numpy as np
import pytest

from fencewright.mechanics import broms, rigid_post


def test_sheet_in_clay() -> None:
    """Key broms-sheet (read): M 102 kNm at 7.5 m, FOS 1, D 0.75 m, cu 50 kPa."""
    pull = 102e3 / 7.5
    assert pull == pytest.approx(13.6e3)
    assert pull / (9 * 50e3 * 0.75) == pytest.approx(0.04, abs=0.0005)
    assert broms.clay_moment_n_m(pull, 7.5, 0.75, 50e3) == pytest.approx(117.57e3, abs=6)
    assert broms.clay_depth_m(pull, 7.5, 0.75, 50e3) == pytest.approx(2.35, abs=0.005)
    g = broms.clay_depth_m(pull, 7.5, 0.75, 50e3) - 1.5 * 0.75 - pull / (9 * 50e3 * 0.75)
    assert g == pytest.approx(1.18, abs=0.005)


def test_short_pile_in_sand() -> None:
    """Formulas from memory, values derived: D 0.15, L 1.2, e 1.0, 18 kN/m3, 33 degrees."""
    angle = np.radians(33)
    assert broms.passive_coefficient(angle) == pytest.approx(3.39212, abs=5e-6)
    pull = broms.sand_capacity_n(1.2, 1.0, 0.15, 18e3, angle)
    assert pull == pytest.approx(3596.88, abs=0.005)
    assert np.sqrt(pull / (1.5 * 18e3 * 0.15 * 3.39212)) == pytest.approx(0.511682, abs=1e-6)
    assert broms.sand_moment_n_m(pull, 1.0, 0.15, 18e3, angle) == pytest.approx(4823.85, abs=0.005)


def test_rigid_pile_in_soil_that_stiffens_with_depth() -> None:
    """Derived: H 2 kN, e 1 m, L 1.2 m, nh 6600 kN/m3: 7.99663 mm, 9.46970 mrad (0.542574 deg)."""
    load = (2000.0, 2000.0, 1.2, 6.6e6)
    assert rigid_post.grade_movement_m(*load) == pytest.approx(7.99663e-3, abs=5e-9)
    turn = rigid_post.rotation_rad(*load)
    assert turn == pytest.approx(9.46970e-3, abs=5e-9)
    assert np.degrees(turn) == pytest.approx(0.542574, abs=5e-7)
    assert rigid_post.pivot_depth_m(*load[:3]) == pytest.approx(7.99663 / 9.46970, abs=1e-6)


def test_rigid_pile_against_a_two_by_two_system() -> None:
    """The two equilibria with their integrals done by quadrature, solved as a system: to 1e-12."""
    pull, height, depth, subgrade = 2000.0, 1.0, 1.2, 6.6e6
    nodes, weights = np.polynomial.legendre.leggauss(4)
    z, dz = depth / 2 * (nodes + 1), weights * depth / 2
    shapes = np.stack([np.ones_like(z), -z])  # movement at grade, and turning
    arms = np.stack([np.ones_like(z), z])
    start, turn = np.linalg.solve(
        np.einsum("az,bz,z->ab", arms, shapes, subgrade * z * dz), [pull, -pull * height]
    )
    load = (pull, pull * height, depth, subgrade)
    assert rigid_post.grade_movement_m(*load) == pytest.approx(start, rel=1e-12)
    assert rigid_post.rotation_rad(*load) == pytest.approx(turn, rel=1e-12)


def test_movement_as_broms_prints_it() -> None:
    """18 H (1 + 1.33 e/L) / (nh L^2) (from memory): 1.33 for 4/3."""
    printed = 18 * 2000 * (1 + 1.33 / 1.2) / (6.6e6 * 1.44)
    assert rigid_post.grade_movement_m(2000.0, 2000.0, 1.2, 6.6e6) == pytest.approx(printed, rel=2e-3)


def test_subgrade_of_sand() -> None:
    """Key terzaghi-1955 (from memory), MN/m3: 2.2, 6.6, 17.6 dry; 1.3, 4.4, 10.7 below water."""
    assert list(rigid_post.SUBGRADE_DRY_N_M3.values()) == [2.2e6, 6.6e6, 17.6e6]
    assert list(rigid_post.SUBGRADE_WET_N_M3.values()) == [1.3e6, 4.4e6, 10.7e6]
