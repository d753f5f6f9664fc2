"""Textbook problem 15.3, ice and wind (read; bartleby): 300 m, 240 mm2, 20 mm, 1 kg/m, kilogram-force.

Trap: the printed 541.9 kg and 20.76 m need the expansion as printed there, 18.44e-5, ten times the true
18.44e-6 of such a conductor, which gives 1532.604 kg (derived). E is not in our notes: 9320 kg/mm2, that of
the same conductor in textbook companion 2273, reproduces every digit.

Register key: bartleby-15-3.
"""

import numpy as np
import pytest

from fencewright.mechanics.cable import parabola_sag_m
from fencewright.mechanics.change_of_state import PullModel, pull_sums, tension_after_n

DIAMETER_M, ICE_M, SPAN_M, WEIGHT_KG_M = 0.020, 0.010, 300.0, 1.0


def hot_tension_kg(expansion_per_c: float) -> float:
    ruled = np.array([0, 1])
    iced = DIAMETER_M + 2 * ICE_M
    ice = 910 * np.pi / 4 * (iced**2 - DIAMETER_M**2)
    length, loaded, _ = pull_sums([SPAN_M], np.hypot(WEIGHT_KG_M + ice, 40 * iced), ruled)
    bare = pull_sums([SPAN_M], WEIGHT_KG_M, ruled)[1]
    wire = PullModel(length, loaded, np.array([9320.0 * 240]), np.array([expansion_per_c]), np.zeros(1))
    return float(tension_after_n(wire, 4000.0, 70.0, 0.0, bare)[0, 0])


def test_as_printed_with_the_wrong_expansion() -> None:
    printed = hot_tension_kg(18.44e-5)
    assert printed == pytest.approx(541.9, abs=0.05)
    assert float(parabola_sag_m(printed, SPAN_M, WEIGHT_KG_M)) == pytest.approx(20.76, abs=0.005)


def test_with_the_true_expansion() -> None:
    assert hot_tension_kg(18.44e-6) == pytest.approx(1532.604, abs=5e-4)
