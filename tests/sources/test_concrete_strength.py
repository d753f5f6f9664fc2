"""Strength of concrete with time and temperature (aci-209, nurse-saul, plowman-1956; sources-structure.md section 9).

f(t)/f28 = t / (4 + 0.85 t) for type I, 2.3 and 0.92 for type III (READ, quoting MacGregor): 3, 7, 14, 28 d give 0.4580,
0.7035, 0.8805, 1.0072. Maturity: 28 d at 15 C from -11 C are 728 C d; 3500 C h from 0 C are 152 h at 23 C, or 49 C for 3
days (READ). 12 h at 20 C and 12 h at 10 C for 7 d from -11 C are 4368 C h, which Plowman's 32 + 54 log10(M/1000) makes
66.6 % (MEMORY of Shetty).
"""

import numpy as np
import pytest

from fencewright.mechanics.concrete_strength import HIGH_EARLY, maturity_c_h, plowman_share, strength_share


@pytest.mark.parametrize(("days", "share"), [(3, 0.4580), (7, 0.7035), (14, 0.8805), (28, 1.0072)])
def test_strength_with_time(days: float, share: float) -> None:
    assert float(strength_share(days)) == pytest.approx(share, abs=5e-5)


def test_high_early_strength_comes_sooner() -> None:
    assert float(strength_share(3.0, HIGH_EARLY)) == pytest.approx(3 / (2.3 + 0.92 * 3), rel=1e-12)
    assert float(strength_share(3.0, HIGH_EARLY)) > float(strength_share(3.0))


def test_maturity_of_28_days_at_15_c() -> None:
    assert maturity_c_h(np.full(28, 15.0), 24.0, -11.0)[-1] / 24 == pytest.approx(728.0)


@pytest.mark.parametrize(("temperature_c", "hours", "within"), [(23.0, 152.0, 5.0), (49.0, 72.0, 30.0)])
def test_maturity_of_3500_degree_hours(temperature_c: float, hours: float, within: float) -> None:
    """Printed in whole hours and days: half a unit of the last digit, times the temperature."""
    assert maturity_c_h(np.array([temperature_c]), hours, 0.0)[-1] == pytest.approx(3500.0, abs=within)


def test_plowman_after_a_week_of_warm_days_and_cool_nights() -> None:
    week = maturity_c_h(np.tile([20.0, 10.0], 7), 12.0, -11.0)[-1]
    assert week == pytest.approx(4368.0)
    assert float(plowman_share(week)) == pytest.approx(0.666, abs=5e-4)
