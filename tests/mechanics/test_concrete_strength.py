"""Strength, maturity and a post's pressure: limits, inverses, statics."""

import numpy as np
import pytest

from fencewright.mechanics.concrete_strength import (
    age_for_share,
    maturity_c_h,
    post_pressure_pa,
    strength_share,
)


def test_age_is_the_inverse_of_strength() -> None:
    ages = np.array([0.0, 1.0, 7.0, 28.0, 90.0])
    assert age_for_share(strength_share(ages)) == pytest.approx(ages)


def test_a_share_that_is_never_reached() -> None:
    assert np.isinf(age_for_share(1.2))


def test_nothing_is_gained_below_the_datum() -> None:
    assert maturity_c_h(np.array([-20.0, -10.0, 0.0]), 24.0, -10.0).tolist() == [0.0, 0.0, 240.0]


def test_the_pressure_carries_shear_and_moment() -> None:
    """Straight from its greatest at the top: its sum is the shear, its moment about the top the moment, times the width."""
    shear, moment, depth, width = 900.0, 1100.0, 1.1, 0.15
    top = float(post_pressure_pa(np.array(shear), np.array(moment), np.array(depth), np.array(width))) * width
    bottom = 2 * shear / depth - top
    z = np.linspace(0.0, depth, 20001)
    along = top + (bottom - top) * z / depth
    assert np.trapezoid(along, z) == pytest.approx(shear, rel=1e-6)
    assert -np.trapezoid(along * z, z) == pytest.approx(moment, rel=1e-6)
