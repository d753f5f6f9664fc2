"""Frequency of a string: two worked problems (read; draculanotes, numerade).

Register key: string-frequency.
"""

import pytest

from fencewright.mechanics.vibration import frequency_hz


@pytest.mark.parametrize(
    ("tension_n", "mass_kg_m", "span_m", "printed_hz", "half_digit"),
    [(50.0, 0.050, 1.0, 15.81, 0.005), (12.0, 0.0012, 1.5, 33.0, 0.5)],
)
def test_frequency(
    tension_n: float, mass_kg_m: float, span_m: float, printed_hz: float, half_digit: float
) -> None:
    assert float(frequency_hz(tension_n, span_m, mass_kg_m)) == pytest.approx(printed_hz, abs=half_digit)
