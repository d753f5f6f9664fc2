"""Tipping of a footing over its toe: hand statics, and pressures summed in thin layers."""

import numpy as np
import pytest

from fencewright.mechanics import broms, tipping

FOOT, LBF = 0.3048, 4.4482216152605
PSF = LBF / FOOT**2


def test_sand_by_hand() -> None:
    """Concrete 1.5 to 4 ft deep, 1 ft wide; 110 pcf and 32 degrees: 1,074 z psf, 7,832 lbf ft about its toe."""
    growth = 3 * np.tan(np.deg2rad(45 + 16)) ** 2 * 110
    by_hand = growth * (4 * (16 - 2.25) / 2 - (64 - 3.375) / 3)
    assert by_hand == pytest.approx(7832, rel=1e-3)
    made = tipping.sand_holding_n_m(1.5 * FOOT, 4 * FOOT, FOOT, 110 * PSF / FOOT, np.deg2rad(32))
    assert made / (LBF * FOOT) == pytest.approx(by_hand, rel=1e-9)


def test_a_post_from_grade_is_broms_own_in_sand() -> None:
    """Pushed at grade: H L about the toe, H = gamma D L^3 Kp / (2 L)."""
    soil, angle = 17e3, np.deg2rad(32.0)
    push = broms.sand_capacity_n(1.2, 0.0, 0.3, soil, angle)
    assert tipping.sand_holding_n_m(0.0, 1.2, 0.3, soil, angle) == pytest.approx(float(push) * 1.2)


def test_a_post_from_grade_is_broms_own_in_clay() -> None:
    push = broms.clay_capacity_n(1.5, 0.0, 0.3, 36e3)
    assert tipping.clay_holding_n_m(0.0, 1.5, 0.3, 36e3) == pytest.approx(float(push) * 1.5)


@pytest.mark.parametrize(("top_m", "bottom_m"), [(0.2, 1.2), (0.46, 1.2), (0.7, 1.5)])
def test_clay_in_thin_layers(top_m: float, bottom_m: float) -> None:
    """The pressures are in balance about the top, and their sum is the push."""
    width, cohesion = 0.3, 36e3
    push = float(tipping.clay_holding_n_m(top_m, bottom_m, width, cohesion)) / (bottom_m - top_m)
    begins = max(top_m, 0.45)
    pivot = top_m + np.sqrt(((bottom_m - top_m) ** 2 + (begins - top_m) ** 2) / 2)
    edge = np.linspace(begins, bottom_m, 200_001)
    z = (edge[1:] + edge[:-1]) / 2
    force = np.where(z < pivot, 1.0, -1.0) * 9 * cohesion * width * np.diff(edge)
    assert force.sum() == pytest.approx(push, rel=1e-4)
    assert (force * (z - top_m)).sum() == pytest.approx(0.0, abs=1e-3 * push)


def test_no_clay_above_one_and_a_half_widths() -> None:
    assert tipping.clay_holding_n_m(0.1, 0.4, 0.3, 36e3) == pytest.approx(0.0, abs=1e-9)
