"""University of Missouri, Constructing Wire Fences (mu-wire-fences; sources-fence.md A9, REPOST; volume DERIVED).

The concrete anchor of a steel corner post, 20 in square and 3.5 ft deep: 9.72 cu ft, 17 bags of 80 lb (16.2), 22 of 60 lb,
26 of 50 lb, 33 of 40 lb. Our holes are round: the one of the same area is 22.57 in wide.
"""

import math

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.mechanics.solids import cylinder_m3

INCH, FOOT = 0.0254, 0.3048
SAME_AREA_IN = 20 * math.sqrt(4 / math.pi)


def test_volume() -> None:
    assert float(cylinder_m3(SAME_AREA_IN * INCH, 42 * INCH)) / FOOT**3 == pytest.approx(9.72, abs=0.005)


@pytest.mark.parametrize(("bag", "count"), [("80 lb", 17), ("60 lb", 22), ("50 lb", 26), ("40 lb", 33)])
def test_bags(bag: str, count: int) -> None:
    volume = float(cylinder_m3(SAME_AREA_IN * INCH, 42 * INCH))
    assert math.ceil(volume / shipped_catalogue().bags[bag].yield_m3) == count
