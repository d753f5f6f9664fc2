"""Concrete with age and warmth: keys aci-209 (read as quoted), nurse-saul (read), plowman-1956 (from memory).

Sources-structure section 9. Tolerance: the printed digits.
"""

import numpy as np
import pytest

from fencewright.mechanics import concrete_strength


def test_share_of_the_28_day_strength() -> None:
    """Type I, moist: 3, 7, 14, 28 days give 0.4580, 0.7035, 0.8805, 1.0072 (not exactly 1 at 28)."""
    found = concrete_strength.strength_share(np.array([3.0, 7.0, 14.0, 28.0]))
    np.testing.assert_allclose(found, [0.4580, 0.7035, 0.8805, 1.0072], atol=5e-5)


def test_twenty_eight_days_at_15_c() -> None:
    """From -11 C: 728 C days (read)."""
    found = concrete_strength.maturity_c_h(np.full(28, 15.0), 24.0, -11.0)[-1]
    assert found / 24.0 == pytest.approx(728)


@pytest.mark.parametrize(("warm_c", "hours"), [(23.0, 152.0), (49.0, 72.0)])
def test_3500_degree_hours(warm_c: float, hours: float) -> None:
    """From 0 C: 152 h at 23 C, or 49 C for 3 days (read; rounded there)."""
    found = concrete_strength.maturity_c_h(np.array([warm_c]), hours, 0.0)[-1]
    assert found == pytest.approx(3500, rel=0.01)


def test_a_week_of_warm_days_and_cool_nights() -> None:
    """12 h at 20 C and 12 h at 10 C for 7 days, from -11 C: 4368 C h (read); Plowman 66.6 % (from memory)."""
    gained = concrete_strength.maturity_c_h(np.tile([20.0, 10.0], 7), 12.0, -11.0)[-1]
    assert gained == pytest.approx(4368)
    assert float(concrete_strength.plowman_share(gained)) == pytest.approx(0.666, abs=5e-4)
