"""Sign foundation sheets, City of Zephyrhills FL, public record 178567, pages 30, 35, 40 (key zephyrhills-signs).

All read. Class 4 doubled (2 x 150 psf/ft), S1 at the depth *provided*; wind 24.7 psf; concrete 150 pcf.
Tolerance: half the last printed digit, widened where the sheet rounds A or P on its way.
"""

import numpy as np
import pytest

from fencewright.mechanics import embedment, uplift
from fencewright.mechanics.resultant import equivalent_height_m, resultant_at_grade
from fencewright.mechanics.solids import cylinder_m3

LB_N, FT_M, PSF_PA = 4.4482216152605, 0.3048, 47.88025898033584
WIND_PSF = 24.7
VALUE_PA_M = 2 * 150 * PSF_PA / FT_M


@pytest.mark.parametrize(
    ("areas_ft2", "heights_ft", "width_ft", "depth_ft", "pull_kip", "s1_psf", "required_ft"),
    [
        ([36.0], [3.40], 3.0, 4.0, 0.89, 400.0, 3.54),
        ([26.6, 44.1], [3.0, 4.9], 5.5, 4.0, 1.74, 400.0, 3.97),
        ([3.2], [3.20], 1.5, 2.67, 0.08, 267.0, 1.53),
    ],
    ids=["page 30", "page 35", "page 40"],
)
def test_depth_required_at_the_pressure_of_the_depth_provided(
    areas_ft2: list[float],
    heights_ft: list[float],
    width_ft: float,
    depth_ft: float,
    pull_kip: float,
    s1_psf: float,
    required_ft: float,
) -> None:
    pulls = np.array(areas_ft2) * WIND_PSF * LB_N
    pull, moment = resultant_at_grade(pulls, np.array(heights_ft) * FT_M)
    assert float(pull) / LB_N / 1000 == pytest.approx(pull_kip, abs=0.0075)
    pressure = embedment.free_pressure_pa(depth_ft * FT_M, VALUE_PA_M)
    assert float(pressure) / PSF_PA == pytest.approx(s1_psf, abs=0.5)
    found = embedment.depth_at_pressure_m(pull, moment, width_ft * FT_M, pressure)
    assert float(found) / FT_M == pytest.approx(required_ft, abs=0.02)
    assert embedment.free_utilisation(pull, moment, depth_ft * FT_M, width_ft * FT_M, VALUE_PA_M) < 1.0


def test_two_panels_act_at_4_17_ft_and_a_is_1_9_ft() -> None:
    """Page 35: h 4.17 ft (the sheet's 4.17 comes from unrounded areas: 0.02)."""
    pull, moment = resultant_at_grade(np.array([26.6, 44.1]), np.array([3.0, 4.9]))
    assert equivalent_height_m(pull, moment) == pytest.approx(4.17, abs=0.02)
    a = embedment.depth_at_pressure_m(float(pull) * WIND_PSF * LB_N, 0.0, 5.5 * FT_M, 400 * PSF_PA)
    assert float(a) / FT_M == pytest.approx(1.9, abs=0.05)


def test_concrete_at_150_pounds_a_cubic_foot() -> None:
    """7689 lb for 2.33 x 5.5 x 4 ft; 4241 lb for 3 ft round x 4 ft; 708 lb for 1.5 ft round x 2.67 ft."""
    box = uplift.weight_n(2.33 * 5.5 * 4 * FT_M**3)
    assert float(box) / LB_N == pytest.approx(7689, abs=1)
    rounds = uplift.weight_n(cylinder_m3(np.array([3, 1.5]) * FT_M, np.array([4, 2.67]) * FT_M)) / LB_N
    np.testing.assert_allclose(rounds, [4241, 708], atol=0.6)
