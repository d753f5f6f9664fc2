"""Wires in a polymer: shares, weighted expansion, a polymer left out, stresses of warming."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics.composite import (
    axial_stiffness_n,
    breaking_load_n,
    expansion_per_c,
    line_mass_kg_m,
    load_share,
    part_tension_n,
    stretch_m,
    wires_area_m2,
)

AREA = np.array([15e-6, 400e-6])  # wires, polymer: invented
MODULUS = np.array([200e9, 0.9e9])
EXPANSION = np.array([11.7e-6, 150e-6])


def test_one_part_alone_is_itself() -> None:
    assert axial_stiffness_n([2e-6], [200e9]) == pytest.approx(4e5)
    assert expansion_per_c([2e-6], [200e9], [11.7e-6]) == pytest.approx(11.7e-6)


def test_a_polymer_without_stiffness_adds_weight_only() -> None:
    without = MODULUS * [1, 0]
    assert axial_stiffness_n(AREA, without) == pytest.approx(3e6)
    assert expansion_per_c(AREA, without, EXPANSION) == pytest.approx(11.7e-6)
    np.testing.assert_allclose(load_share(AREA, without), [1.0, 0.0])
    assert line_mass_kg_m(AREA, [7850.0, 950.0]) == pytest.approx(15e-6 * 7850 + 400e-6 * 950)


def test_a_polymer_counted_lies_between_its_parts() -> None:
    assert axial_stiffness_n(AREA, MODULUS) == pytest.approx(3e6 + 0.36e6)
    whole = float(expansion_per_c(AREA, MODULUS, EXPANSION))
    assert 11.7e-6 < whole < 150e-6
    assert whole == pytest.approx((3 * 11.7e-6 + 0.36 * 150e-6) / 3.36)


@given(st.floats(0, 1e4), st.floats(-60, 60))
def test_parts_sum_to_the_rail_and_stretch_alike(tension: float, warmer: float) -> None:
    parts = part_tension_n(np.array([tension]), np.array([warmer]), AREA, MODULUS, EXPANSION)
    assert parts.shape == (1, 2)
    assert parts.sum() == pytest.approx(tension, abs=1e-9)
    strain = parts[0] / (AREA * MODULUS) + EXPANSION * warmer
    assert strain[0] == pytest.approx(strain[1], abs=1e-15)


def test_a_warm_polymer_pulls_on_its_wires() -> None:
    cold, hot = part_tension_n(np.full(2, 1000.0), np.array([-20.0, 40.0]), AREA, MODULUS, EXPANSION)
    assert hot[0] > cold[0]
    assert hot[1] < 0 < cold[1]


def test_rails_by_parts_at_once() -> None:
    areas = np.stack([AREA, 2 * AREA])
    np.testing.assert_allclose(axial_stiffness_n(areas, MODULUS), [3.36e6, 6.72e6])
    np.testing.assert_allclose(
        breaking_load_n(wires_area_m2(2e-3, [1, 3]), 1e9), np.pi * np.array([1e3, 3e3])
    )
    assert stretch_m(500.0, 100.0, 1e6) == pytest.approx(0.05)
