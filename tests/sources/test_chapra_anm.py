"""S. C. Chapra, Applied Numerical Methods, chapter 6, catenary cable (read; stored examples).

w 10, height 5 at the low point and 15 at x = 50: a level span of 100 with a sag of 10.

Register key: chapra-anm.
"""

import pytest

from fencewright.mechanics.cable import catenary, catenary_tension_for_sag_n


def test_tension_at_the_low_point() -> None:
    tension = catenary_tension_for_sag_n(10.0, 100.0, 10.0)
    assert float(tension) == pytest.approx(1266.32, abs=0.005)
    assert float(catenary(tension, 100.0, 10.0).sag_m) == pytest.approx(15.0 - 5.0, rel=1e-12)
