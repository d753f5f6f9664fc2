"""Ground of even waves: its height, its steepest slope."""

import numpy as np
import pytest

from fencewright.site.wavy_ground import WavyGround


def test_it_rises_from_trough_to_crest_and_is_as_steep_as_a_sine() -> None:
    ground = WavyGround(2.0, 60.0, "waves")
    x = np.linspace(0.0, 120.0, 4801)
    height = ground.elevation_m(x, np.zeros_like(x))
    assert np.ptp(height) == pytest.approx(2.0, rel=1e-6)
    assert np.abs(np.diff(height) / np.diff(x)).max() == pytest.approx(np.pi * 2.0 / 60.0, rel=1e-3)
    assert ground.sd_m(x, x).tolist() == [0.0] * len(x)


def test_it_waves_along_both_axes() -> None:
    ground = WavyGround(2.0, 60.0, "waves")
    x, y = np.array([15.0, 0.0, 15.0]), np.array([0.0, 15.0, 15.0])
    assert ground.elevation_m(x, y) == pytest.approx([1.0, 1.0, 2.0])
