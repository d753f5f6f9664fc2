"""Yield of bagged concrete (premix-yield; sources-structure.md section 9, read) and gross holes in bags.

40, 50, 60, 80, 90 lb give 0.30, 0.375, 0.45, 0.60, 0.675 cu ft: 45 bags of 80 lb or 60 of 60 lb to a cubic yard. The
table of holes is geometry (sources-fence.md G, DERIVED): no post deducted, no waste, rounded up for each hole.
"""

import math

import pytest

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.mechanics.solids import belled_hole_m3, cylinder_m3

INCH, FOOT = 0.0254, 0.3048
BAGS = ("80 lb", "60 lb", "50 lb", "40 lb")
GROSS = {
    (8, 24): (0.698, (2, 2, 2, 3)),
    (8, 36): (1.047, (2, 3, 3, 4)),
    (10, 30): (1.364, (3, 4, 4, 5)),
    (10, 36): (1.636, (3, 4, 5, 6)),
    (12, 36): (2.356, (4, 6, 7, 8)),
    (12, 42): (2.749, (5, 7, 8, 10)),
    (12, 48): (3.142, (6, 7, 9, 11)),
    (16, 42): (4.887, (9, 11, 14, 17)),
    (18, 48): (7.069, (12, 16, 19, 24)),
}
NET = {
    (12, 36, 4): (2.094, (4, 5, 6, 7)),
    (12, 36, 6): (1.767, (3, 4, 5, 6)),
    (12, 42, 6): (2.062, (4, 5, 6, 7)),
    (18, 48, 8): (5.672, (10, 13, 16, 19)),
}


def bags(volume_m3: float) -> tuple[int, ...]:
    rows = shipped_catalogue().bags
    return tuple(math.ceil(volume_m3 / rows[name].yield_m3) for name in BAGS)


@pytest.mark.parametrize(
    ("bag", "cubic_feet"),
    [("40 lb", 0.30), ("50 lb", 0.375), ("60 lb", 0.45), ("80 lb", 0.60), ("90 lb", 0.675)],
)
def test_yield(bag: str, cubic_feet: float) -> None:
    row = shipped_catalogue().bags[bag]
    assert row.yield_m3 / FOOT**3 == pytest.approx(cubic_feet, rel=1e-12)
    assert row.mass_kg == pytest.approx(float(bag.split()[0]) * 0.45359237)


@pytest.mark.parametrize(("bag", "count"), [("80 lb", 45), ("60 lb", 60)])
def test_bags_to_a_cubic_yard(bag: str, count: int) -> None:
    assert 27 * FOOT**3 / shipped_catalogue().bags[bag].yield_m3 == pytest.approx(count)


@pytest.mark.parametrize("hole", GROSS)
def test_gross_hole(hole: tuple[int, int]) -> None:
    cubic_feet, count = GROSS[hole]
    volume = float(belled_hole_m3(hole[0] * INCH, hole[0] * INCH, 0.15, hole[1] * INCH, 0.0))
    assert volume / FOOT**3 == pytest.approx(cubic_feet, abs=5e-4)
    assert bags(volume) == count


@pytest.mark.parametrize("hole", NET)
def test_hole_net_of_its_post(hole: tuple[int, int, int]) -> None:
    cubic_feet, count = NET[hole]
    volume = float(cylinder_m3(hole[0] * INCH, hole[1] * INCH) - cylinder_m3(hole[2] * INCH, hole[1] * INCH))
    assert volume / FOOT**3 == pytest.approx(cubic_feet, abs=5e-4)
    assert bags(volume) == count
