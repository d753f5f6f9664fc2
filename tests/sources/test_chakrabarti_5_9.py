"""Chakrabarti and others, Power System Engineering, 2nd edition, example 5.9, p. 201 (read; stored solution).

Erratum: the book's 1710 kg and 5.55 m do not solve its own cubic. Tested to the root, 1644.784 kg and
5.773 m (derived), and to the printed value's failing.

Register key: chakrabarti-5-9.
"""

import numpy as np
import pytest

from fencewright.mechanics.cable import parabola_sag_m
from fencewright.mechanics.change_of_state import PullModel, pull_sums, tension_after_n

SPAN_M, AREA_MM2, WEIGHT_KG_M = 300.0, 226.0, 0.844


def test_tension_and_sag_in_still_air() -> None:
    ruled = np.array([0, 1])
    ice = 915 * np.pi * 0.95 * (1.953 + 0.95) * 1e-4
    wind = 39.0 * (1.953 + 2 * 0.95) * 1e-2
    length, loaded, _ = pull_sums([SPAN_M], np.hypot(WEIGHT_KG_M + ice, wind), ruled)
    bare = pull_sums([SPAN_M], WEIGHT_KG_M, ruled)[1]
    wire = PullModel(length, loaded, np.array([9320.0 * AREA_MM2]), np.array([18.44e-6]), np.zeros(1))
    tension = float(tension_after_n(wire, 7950 / 2, 50.0, 0.0, bare)[0, 0])
    assert tension == pytest.approx(1644.784, abs=5e-4)
    assert float(parabola_sag_m(tension, SPAN_M, WEIGHT_KG_M)) == pytest.approx(5.773, abs=5e-4)
    assert float(parabola_sag_m(1710.0, SPAN_M, WEIGHT_KG_M)) == pytest.approx(5.55, abs=5e-3)
