"""A spool: turn by turn against the formula, both directions, re-grips."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics.spool import regrips_for, turns_for, turns_with_regrips, wound_m


@given(st.integers(0, 60), st.integers(1, 8), st.floats(0.01, 0.1), st.floats(0.0, 0.006))
def test_turn_by_turn(turns: int, wraps: int, barrel: float, thickness: float) -> None:
    counted = sum(np.pi * (barrel + (2 * (turn // wraps) + 1) * thickness) for turn in range(turns))
    assert float(wound_m(turns, barrel, thickness, wraps)) == pytest.approx(counted, rel=1e-12)


@given(st.floats(0.0, 60.0), st.integers(1, 8), st.floats(0.01, 0.1), st.floats(0.0, 0.006))
def test_turns_to_length_and_back(turns: float, wraps: int, barrel: float, thickness: float) -> None:
    length = wound_m(turns, barrel, thickness, wraps)
    assert float(turns_for(length, barrel, thickness, wraps)) == pytest.approx(turns, abs=1e-9)


def test_a_wire_without_thickness_never_grows() -> None:
    assert wound_m(10.0, 0.05, 0.0) == pytest.approx(np.pi * 0.5)
    assert wound_m(0.0, 0.05, 0.003) == 0.0


def test_regrips_start_past_a_full_spool() -> None:
    np.testing.assert_array_equal(regrips_for([0.0, 0.3, 0.5, 0.51, 1.0, 1.2], 0.5), [0, 0, 0, 1, 1, 2])
    assert regrips_for(0.1 * 3, 0.1) == 2  # 0.30000000000000004 is three spools, not four


def test_each_regrip_starts_on_an_empty_spool() -> None:
    whole = turns_with_regrips([0.4, 0.5, 0.9], 0.5, 0.04, 0.003)
    full, part = turns_for([0.5, 0.4], 0.04, 0.003)
    np.testing.assert_allclose(whole, [part, full, full + part], rtol=1e-9)
    assert float(whole[2]) > float(turns_for(0.9, 0.04, 0.003))
