"""Kansas Agland, 20 April 2016 (hppr-2016; sources-fence.md A5, PRESS): 16 rolls a mile for 4 wires, 20 for 5.

A roll of 1,320 ft stretches a quarter mile (bc-307-100). The figures hold no tails and no splices.
"""

from collections.abc import Callable

import pytest

from fencewright.pipeline.record import Design


@pytest.mark.parametrize(("wires", "rolls"), [(4, 16), (5, 20)])
def test_rolls_per_mile(straight: Callable[[float, str], Design], wires: int, rolls: int) -> None:
    more = (
        '[fence]\ntail = "0 ft"\ntop_height = "48 in"\nspacing_limit = "16.5 ft"\n'
        + "[[strand]]\nrail = 'coated wire'\n" * wires
    )
    made = straight(5280, more)
    line = next(one for one in made.order if one.item == "coated wire")
    assert line.order == rolls
    assert line.net == pytest.approx(rolls)
    assert len(made.layout.runs) == 4  # nrcs-me-382a: a tensioner every 1,320 ft
    assert sum(one.cut_list.splices for one in made.cutting) == 0
