"""What holds a footing down: each model by itself, and where one turns into another."""

import numpy as np
import pytest

from fencewright.mechanics import uplift


def test_a_cone_without_spread_is_the_ledge_of_a_bell() -> None:
    straight = uplift.cone_soil_n(0.6, 0.3, 1.0, 0.0, 18e3)
    assert straight == pytest.approx(uplift.bell_ledge_soil_n(0.3, 0.6, 1.0, 18e3))
    assert uplift.cone_soil_n(0.3, 0.3, 1.0, 0.0, 18e3) == pytest.approx(0.0, abs=1e-9)


def test_a_wider_spread_and_a_deeper_base_hold_more() -> None:
    held = uplift.cone_soil_n(0.3, 0.3, [1.0, 1.0, 1.2], np.radians([10, 20, 20]), 18e3)
    assert np.all(np.diff(held) > 0)


def test_a_bell_counts_from_twice_the_shaft_on_and_not_before() -> None:
    held = uplift.bell_as_skin_n(1000.0, 0.3, [0.3, 0.45, 0.59, 0.6, 0.9])
    np.testing.assert_allclose(held, [1000, 1000, 1000, 2000, 2000])


def test_a_bell_no_wider_than_its_shaft_has_no_ledge() -> None:
    assert uplift.bell_ledge_soil_n(0.3, 0.3, 1.0, 18e3) == 0.0
    assert uplift.bell_ledge_soil_n(0.3, 0.2, 1.0, 18e3) == 0.0


def test_adhesion_is_never_more_than_the_clay_itself() -> None:
    assert uplift.clay_adhesion_share(1e6) == 1.0
    assert uplift.clay_adhesion_share(0.0) == 0.31
