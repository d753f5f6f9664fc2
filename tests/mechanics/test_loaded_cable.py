"""A cable under single loads: many small loads make a parabola, and a drop gives its tension back."""

import numpy as np
import pytest

from fencewright.mechanics.cable import parabola_sag_m
from fencewright.mechanics.loaded_cable import level_tension_n, loaded_cable


def test_many_small_loads_are_a_parabola() -> None:
    place = (np.arange(2001) + 0.5) * 20.0 / 2001
    cable = loaded_cable(500.0, place, np.full(2001, 4.0 * 20.0 / 2001), 20.0)
    assert -cable.height_m.min() == pytest.approx(float(parabola_sag_m(500.0, 20.0, 4.0)), rel=1e-6)
    assert cable.first_n == pytest.approx(40.0)
    assert cable.tension_n.max() == pytest.approx(np.hypot(500.0, 40.0))


def test_a_drop_gives_its_tension_back() -> None:
    place, load = np.array([1.0, 4.0, 5.5]), np.array([100.0, 50.0, 20.0])
    cable = loaded_cable(321.0, place, load, 9.0, -1.0)
    chord = -1.0 * place / 9.0
    for row in range(3):
        drop = float(chord[row] - cable.height_m[row])
        assert level_tension_n(drop, float(place[row]), place, load, 9.0) == pytest.approx(321.0)


def test_supports_carry_all_of_the_load() -> None:
    cable = loaded_cable(100.0, [2.0, 3.0], [70.0, 30.0], 8.0, 1.0)
    assert cable.first_n + cable.last_n == pytest.approx(100.0)
    last = cable.height_m[-1] + (8.0 - 3.0) * cable.last_n / 100.0
    assert last == pytest.approx(1.0)  # the last part ends on the last support
