"""Round sections, pipes, tapers: against strips added up, and where one shape becomes another."""

import numpy as np
import pytest

from fencewright.mechanics import sections


def strips(outer: float, bore: float) -> tuple[float, float, float]:
    """Area, second moment and plastic modulus of a ring, by strips across it."""
    y = np.linspace(-outer / 2, outer / 2, 200_001)
    wide = 2 * np.sqrt(np.maximum((outer / 2) ** 2 - y**2, 0))
    wide = wide - 2 * np.sqrt(np.maximum((bore / 2) ** 2 - y**2, 0))
    return np.trapezoid(wide, y), np.trapezoid(wide * y**2, y), np.trapezoid(wide * np.abs(y), y)


@pytest.mark.parametrize("bore", [0.0, 0.1, 0.14])
def test_properties_of_a_ring_by_strips(bore: float) -> None:
    outer = 0.15
    area, inertia, plastic = strips(outer, bore)
    wall = (outer - bore) / 2
    assert sections.pipe_area_m2(outer, wall) == pytest.approx(area, rel=1e-5)
    assert sections.pipe_inertia_m4(outer, wall) == pytest.approx(inertia, rel=1e-5)
    assert sections.pipe_modulus_m3(outer, wall) == pytest.approx(inertia / 0.075, rel=1e-5)
    assert sections.pipe_plastic_modulus_m3(outer, wall) == pytest.approx(plastic, rel=1e-5)
    assert sections.pipe_gyration_m(outer, wall) == pytest.approx((inertia / area) ** 0.5, rel=1e-5)


def test_a_pipe_whose_walls_meet_is_round() -> None:
    wall = np.array([0.05, 0.08])
    np.testing.assert_allclose(sections.pipe_area_m2(0.1, wall), sections.round_area_m2(0.1))
    np.testing.assert_allclose(sections.pipe_inertia_m4(0.1, wall), sections.round_inertia_m4(0.1))
    np.testing.assert_allclose(sections.pipe_modulus_m3(0.1, wall), sections.round_modulus_m3(0.1))
    np.testing.assert_allclose(sections.pipe_gyration_m(0.1, wall), sections.round_gyration_m(0.1))


def test_modulus_inverts_and_the_equal_square_has_the_area() -> None:
    assert sections.round_for_modulus_m(sections.round_modulus_m3(0.13)) == pytest.approx(0.13)
    assert sections.equal_square_m(0.13) ** 2 == pytest.approx(sections.round_area_m2(0.13))


def test_a_taper_counts_a_third_from_its_tip() -> None:
    assert sections.tapered_diameter_m(0.12, 0.15) == pytest.approx(0.13)
    assert sections.tapered_diameter_m(0.12, 0.12) == 0.12
