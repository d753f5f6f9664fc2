"""A construction estimating text, example 10-3 (estimating-bell; sources-structure.md section 11, read).

18 in shaft, 42 in bell, sides at 60 deg: the bell is 1.732 ft high and holds 8.96 cu ft.
V = pi h (D1^2 + D2^2 + D1 D2) / 12. Also there: 12 in by 42 in is 2.748894 cu ft, 4.58 bags of 80 lb.
"""

import math

import pytest

from fencewright.mechanics.solids import belled_hole_m3, cylinder_m3, frustum_m3

INCH, FOOT = 0.0254, 0.3048


def test_bell() -> None:
    height_in = (42 - 18) / 2 * math.tan(math.radians(60))
    assert height_in / 12 == pytest.approx(1.732, abs=5e-4)
    volume = float(frustum_m3(42 * INCH, 18 * INCH, height_in * INCH))
    assert volume / FOOT**3 == pytest.approx(8.96, abs=5e-3)


def test_pier_on_its_bell() -> None:
    """With 10 ft of shaft over the bell the pier holds both."""
    bell, shaft = 1.732 * FOOT, 10 * FOOT
    whole = float(belled_hole_m3(18 * INCH, 42 * INCH, bell, bell + shaft, 0.0))
    assert whole == pytest.approx(
        float(frustum_m3(42 * INCH, 18 * INCH, bell) + cylinder_m3(18 * INCH, shaft))
    )


def test_plain_hole() -> None:
    cubic_feet = float(cylinder_m3(12 * INCH, 42 * INCH)) / FOOT**3
    assert cubic_feet == pytest.approx(2.748894, abs=5e-7)
    assert cubic_feet / 0.60 == pytest.approx(4.58, abs=5e-3)
