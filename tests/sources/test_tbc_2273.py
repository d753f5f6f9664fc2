"""Textbook companion 2273, example 3.14 (read): 300 m span, 240 mm2, kilogram-force and metres.

Erratum: the book prints 2.121 m, from a wrong root; the solution's author says so. Tested to the root.

Register key: tbc-2273.
"""

import numpy as np
import pytest

from fencewright.mechanics.cable import parabola_sag_m
from fencewright.mechanics.change_of_state import PullModel, pull_sums, tension_after_n

AREA_M2, SPAN_M = 2.4e-4, 300.0


def test_tension_and_sag_at_35_c() -> None:
    """11951292 kg/m2 and 3.530 m."""
    ruled = np.array([0, 1])
    length, windy, _ = pull_sums([SPAN_M], np.hypot(0.9, 38.5 * 19.5e-3), ruled)
    still = pull_sums([SPAN_M], 0.9, ruled)[1]
    wire = PullModel(length, windy, np.array([9320e6 * AREA_M2]), np.array([18.44e-6]), np.zeros(1))
    tension = tension_after_n(wire, 4000.0, 30.0, 0.0, still)[0, 0]
    assert tension / AREA_M2 == pytest.approx(11951292, abs=1)
    sag = float(parabola_sag_m(tension, SPAN_M, 0.9))
    assert sag == pytest.approx(3.530, abs=5e-4)
    assert sag != pytest.approx(2.121, abs=0.5)
