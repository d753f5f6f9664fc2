"""A plucked rail: both directions, a beam without tension, beats, spread."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics.vibration import (
    beats_per_minute,
    frequency_hz,
    spread_from_frequency_n,
    tension_from_frequency_n,
)


@given(st.floats(1.0, 5000.0), st.floats(0.5, 10.0), st.floats(0.01, 1.0), st.floats(0.0, 20.0))
def test_tension_to_frequency_and_back(tension: float, span: float, mass: float, bending: float) -> None:
    beat = frequency_hz(tension, span, mass, bending)
    assert float(tension_from_frequency_n(beat, span, mass, bending)) == pytest.approx(tension, rel=1e-9)


def test_a_beam_without_tension() -> None:
    """Pinned beam: (pi / 2) sqrt(E I / (mu L^4)), textbook, from memory."""
    assert float(frequency_hz(0.0, 2.0, 0.3, 12.0)) == pytest.approx(np.pi / 2 * np.sqrt(12.0 / (0.3 * 16)))


def test_twice_the_span_half_the_beat_four_times_the_tension_twice() -> None:
    first = frequency_hz(1000.0, 2.0, 0.3)
    assert frequency_hz(1000.0, 4.0, 0.3) == pytest.approx(first / 2)
    assert frequency_hz(4000.0, 2.0, 0.3) == pytest.approx(first * 2)
    assert beats_per_minute(first) == pytest.approx(first * 60)


def test_stiffness_never_slows_the_beat_and_may_leave_no_tension_to_explain_it() -> None:
    beat = frequency_hz(1000.0, 2.0, 0.3, [0.0, 5.0, 10.0])
    assert (np.diff(beat) > 0).all()
    alone = frequency_hz(0.0, 2.0, 0.3, 12.0)
    assert np.isnan(tension_from_frequency_n(alone * 0.99, 2.0, 0.3, 12.0))


def test_spread_by_differences() -> None:
    beat, mass, step = 12.0, 0.3, 1e-4
    by_beat = tension_from_frequency_n(beat * (1 + step), 2.4, mass) - tension_from_frequency_n(
        beat, 2.4, mass
    )
    spread = spread_from_frequency_n(beat, 2.4, mass, beat * step)
    assert float(spread) == pytest.approx(float(by_beat), rel=1e-3)
    both = spread_from_frequency_n(beat, 2.4, mass, beat * 0.03, mass * 0.08)
    assert float(both / tension_from_frequency_n(beat, 2.4, mass)) == pytest.approx(0.1, rel=1e-9)
