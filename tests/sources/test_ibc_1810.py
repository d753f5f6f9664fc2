"""Shaft resistance by IBC 1810.3.3.1 (key ibc-1810): read as quoted in eng-tips 442590 and at up.codes."""

import pytest

from fencewright.mechanics import uplift

PSF_PA = 47.88025898033584


@pytest.mark.parametrize(("bearing_psf", "shaft_psf"), [(1500, 250), (2000, 333), (3000, 500), (4000, 500)])
def test_a_sixth_of_bearing_and_at_most_500_psf(bearing_psf: float, shaft_psf: float) -> None:
    found = uplift.shaft_resistance_pa(bearing_psf * PSF_PA)
    assert float(found) / PSF_PA == pytest.approx(shaft_psf, abs=0.5)


def test_factors_of_uplift_by_analysis() -> None:
    assert uplift.UPLIFT_FACTOR == 3.0
    assert uplift.UPLIFT_FACTOR_WIND == 2.0
