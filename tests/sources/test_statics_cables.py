"""Statics companion, example 10.1, a cable under three loads (read): 400, 600, 400 N at 2 m steps, span 8 m.

The last support stands 2 m above the first and the middle load hangs 1.25 m below the chord: both follow
from the printed reactions.

Register key: statics-cables.
"""

import math

import pytest

from fencewright.mechanics.loaded_cable import LoadedCable, level_tension_n, loaded_cable

PLACE_M, LOAD_N = [2.0, 4.0, 6.0], [400.0, 600.0, 400.0]


@pytest.fixture
def cable() -> LoadedCable:
    return loaded_cable(level_tension_n(1.25, 4.0, PLACE_M, LOAD_N, 8.0), PLACE_M, LOAD_N, 8.0, 2.0)


def test_level_and_upright_reaction(cable: LoadedCable) -> None:
    assert level_tension_n(1.25, 4.0, PLACE_M, LOAD_N, 8.0) == pytest.approx(1600.0)
    assert cable.last_n == pytest.approx(1100.0)


def test_sag_at_e_below_the_upper_support(cable: LoadedCable) -> None:
    assert 2.0 - float(cable.height_m[2]) == pytest.approx(1.375)


def test_first_and_greatest_tension(cable: LoadedCable) -> None:
    assert cable.tension_n[0] == pytest.approx(1627.88, abs=0.005)
    assert cable.tension_n.max() == pytest.approx(1941.65, abs=0.005)
    assert math.degrees(math.atan2(cable.last_n, 1600.0)) == pytest.approx(34.5085, abs=5e-5)
