"""Parabola and catenary: both directions, and each the limit of the other."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.mechanics.cable import (
    catenary,
    catenary_tension_after_n,
    catenary_tension_for_sag_n,
    catenary_tension_n,
    parabola_end_tension_n,
    parabola_length_m,
    parabola_sag_m,
    parabola_tension_n,
    parabola_unstressed_m,
    tension_for_sag_n,
)

spans, loads, tensions = st.floats(1.0, 200.0), st.floats(0.05, 50.0), st.floats(50.0, 2e4)


@given(tensions, spans, loads)
def test_a_parabola_there_and_back(tension: float, span: float, load: float) -> None:
    unstressed = parabola_unstressed_m(tension, span, load, 1e6)
    assert parabola_tension_n(unstressed, span, load, 1e6) == pytest.approx(tension, rel=1e-6)
    assert tension_for_sag_n(parabola_sag_m(tension, span, load), span, load) == pytest.approx(tension)


@given(tensions, spans, loads)
def test_a_catenary_there_and_back(tension: float, span: float, load: float) -> None:
    unstressed = catenary(tension, span, load, 1e6).unstressed_m
    assert catenary_tension_n(unstressed, span, load, 1e6) == pytest.approx(tension, rel=1e-6)


@given(st.floats(1e-4, 50.0), st.floats(1.0, 100.0), loads)
def test_the_tension_of_a_sag_gives_that_sag(sag: float, span: float, load: float) -> None:
    tension = catenary_tension_for_sag_n(sag, span, load)
    assert catenary(tension, span, load).sag_m == pytest.approx(sag, rel=1e-9)


def test_a_tight_catenary_is_a_parabola() -> None:
    shape = catenary(5000.0, 3.0, 3.0, 3e6)
    assert shape.sag_m == pytest.approx(parabola_sag_m(5000.0, 3.0, 3.0), rel=2e-3)  # its load grows thinner
    assert shape.unstressed_m == pytest.approx(parabola_unstressed_m(5000.0, 3.0, 3.0, 3e6), rel=1e-9)
    stiff = catenary(5000.0, 3.0, 3.0)
    assert stiff.sag_m == pytest.approx(parabola_sag_m(5000.0, 3.0, 3.0), rel=1e-6)
    assert stiff.length_m == pytest.approx(parabola_length_m(5000.0, 3.0, 3.0), rel=1e-12)
    assert stiff.end_tension_n == pytest.approx(parabola_end_tension_n(5000.0, 3.0, 3.0), rel=1e-12)


def test_a_stiff_catenary_in_closed_form() -> None:
    """H cosh(w L / 2H) at the support, 2 H / w sinh(w L / 2H) long: textbook, from memory."""
    tension, span, load = 100.0, 20.0, 12.0
    lean = load * span / (2 * tension)
    shape = catenary(tension, span, load)
    assert shape.length_m == pytest.approx(2 * tension / load * np.sinh(lean), rel=1e-12)
    assert shape.unstressed_m == pytest.approx(shape.length_m, rel=1e-12)
    assert shape.end_tension_n == pytest.approx(tension * np.cosh(lean), rel=1e-12)
    assert shape.sag_m == pytest.approx(tension / load * (np.cosh(lean) - 1), rel=1e-12)


def test_the_stretch_is_the_sum_of_tension_along_the_rail() -> None:
    tension, load, stiffness = 100.0, 12.0, 5e3
    shape = catenary(tension, 20.0, load, stiffness)
    along = np.linspace(-0.5, 0.5, 200_001) * shape.unstressed_m
    stretch = np.trapezoid(np.hypot(tension, load * along), along) / stiffness
    assert shape.length_m - shape.unstressed_m == pytest.approx(stretch, rel=1e-8)


def test_a_rail_longer_than_its_span_hangs_with_little_tension() -> None:
    slack = catenary_tension_n([21.0, 30.0, 60.0], 20.0, 3.0, 1e6)
    assert (np.diff(slack) < 0).all()
    np.testing.assert_allclose(catenary(slack, 20.0, 3.0, 1e6).unstressed_m, [21.0, 30.0, 60.0], rtol=1e-9)


@given(tensions, st.floats(-60.0, 60.0), st.floats(0.1, 20.0))
def test_colder_is_never_slacker(tension: float, warmer: float, colder: float) -> None:
    two = catenary_tension_after_n(tension, 30.0, 2.0, 1e6, 1.2e-5, [warmer, warmer - colder])
    assert two[1] > two[0] > 0


def test_no_change_of_temperature_changes_nothing() -> None:
    assert catenary_tension_after_n(800.0, 30.0, 2.0, 1e6, 1.2e-5, 0.0) == pytest.approx(800.0, rel=1e-9)
