"""C. L. Wadhwa, Electrical Power Systems, example 7.3 (read; stored solution of the textbook companion).

Units as printed: kilogram-force, millimetre squared. The stored solution rounds its cubic to
f^3 - 14.44 f^2 - 84.23 and takes the weight for the sag as 0.115 kg/m, for the tension as 0.1157.

Register key: wadhwa-eps.
"""

import numpy as np
import pytest

from fencewright.mechanics.cable import parabola_sag_m
from fencewright.mechanics.change_of_state import PullModel, pull_sums, sagging_tension_n, tension_after_n

AREA_MM2, SPAN_M = 13.2, 45.7
WIND_KG_M = 48.82 * 4.1e-3


def test_the_printed_cubic() -> None:
    """Accepted root 14.823332."""
    assert float(sagging_tension_n(14.44, 84.23)) == pytest.approx(14.823332, abs=1e-6)


def test_from_the_given_data() -> None:
    """14.823 kg/mm2 at 32.2 C from 21 at 4.5 C; the data give 14.4436 and 84.24, hence 0.004 more."""
    ruled = np.array([0, 1])
    length, windy, _ = pull_sums([SPAN_M], np.hypot(0.1157, WIND_KG_M), ruled)
    still = pull_sums([SPAN_M], 0.1157, ruled)[1]
    wire = PullModel(length, windy, np.array([12600 * AREA_MM2]), np.array([16.6e-6]), np.zeros(1))
    stress = tension_after_n(wire, 21 * AREA_MM2, 32.2 - 4.5, 0.0, still)[0, 0] / AREA_MM2
    assert stress == pytest.approx(14.823, abs=0.004)


def test_sag() -> None:
    assert float(parabola_sag_m(14.823332 * AREA_MM2, SPAN_M, 0.115)) == pytest.approx(0.1534, abs=5e-5)
