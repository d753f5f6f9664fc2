"""A pushed span: bounds, the linear limit, both directions, spread, a measurement no tension explains."""

from functools import partial

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from numpy.typing import NDArray

from fencewright.mechanics.bracketed_root import bracketed_root
from fencewright.mechanics.pushed_span import (
    deflection_m,
    linear_deflection_m,
    push_for_deflection_n,
    pushed_tension_n,
    tension_and_spread_n,
    tension_from_push_n,
)

Floats = NDArray[np.float64]
EA_N = 993_248.0
pushes, spans, tensions = st.floats(1.0, 600.0), st.floats(1.0, 6.0), st.floats(50.0, 6000.0)


@given(pushes, spans, tensions, st.floats(1.0, 200.0))
def test_pinned_is_stiffer_than_sliding_is_stiffer_than_linear(
    push: float, span: float, tension: float, times: float
) -> None:
    pinned, sliding = deflection_m(push, span, [span, span * times], tension, EA_N)
    assert 0 < pinned <= sliding * (1 + 1e-12)
    held, free = pushed_tension_n(push, span, [span, span * times], tension, EA_N)
    assert held >= free * (1 - 1e-12) >= tension * (1 - 1e-9)


@given(pushes, spans, tensions, st.floats(1.0, 200.0))
def test_deflection_to_push_and_back(push: float, span: float, tension: float, times: float) -> None:
    given_m = deflection_m(push, span, span * times, tension, EA_N)
    back = push_for_deflection_n(given_m, span, span * times, tension, EA_N)
    assert float(back) == pytest.approx(push, rel=1e-6)


@given(pushes, spans, tensions, st.floats(1.0, 200.0), st.floats(0.0, 10.0))
def test_tension_from_what_was_measured(
    push: float, span: float, tension: float, times: float, load: float
) -> None:
    assume(tension > load * span)
    given_m = deflection_m(push, span, span * times, tension, EA_N, load)
    back = tension_from_push_n(push, given_m, span, span * times, EA_N, load)
    assert float(back) == pytest.approx(tension, rel=1e-5, abs=0.02)


@given(pushes, spans, st.floats(1.0, 6000.0), st.floats(1.0, 200.0), st.floats(0.0, 10.0))
def test_climbing_finds_what_shutting_the_root_in_finds(
    push: float, span: float, before: float, times: float, load: float
) -> None:
    """The rail's length under some tension less its path, written out anew, and its root shut in."""
    assume(before > load * span)
    run = span * times
    unstressed = run * (1 + (load * span / before) ** 2 / 24) / (1 + before / EA_N)

    def spare_m(tension: Floats) -> Floats:
        half = span / 2 / np.sqrt(1 - (push / 2 / tension) ** 2 - (load * span / 4 / tension) ** 2)
        path = 2 * half * (1 + (load * half / tension) ** 2 / 24)
        rest = (run - span) * (1 + (load * span / tension) ** 2 / 24)
        return (1 + tension / EA_N) * unstressed - path - rest

    least = max(before, np.hypot(push / 2, load * span / 4) * (1 + 1e-9))
    shut_in = bracketed_root(spare_m, least, before + push + 2 * EA_N)
    found = pushed_tension_n(push, span, run, before, EA_N, load)
    assert float(found) == pytest.approx(float(shut_in), rel=1e-9, abs=1e-6 * run)


def test_an_endless_run_or_a_small_push_is_linear() -> None:
    """Linear but for geometry: the leg is longer than half the span by half the slope squared."""
    linear = linear_deflection_m(100.0, 3.0, 1100.0)
    assert float(deflection_m(100.0, 3.0, 1e9, 1100.0, EA_N)) == pytest.approx(
        float(linear) / np.sqrt(1 - (100 / 2200) ** 2), rel=1e-6
    )
    small = deflection_m(1e-3, 3.0, 3.0, 1100.0, EA_N)
    assert float(small) == pytest.approx(float(linear_deflection_m(1e-3, 3.0, 1100.0)), rel=1e-6)


@given(pushes, spans, tensions)
def test_tighter_gives_less_and_a_harder_push_gives_more(push: float, span: float, tension: float) -> None:
    run = np.array([span, 20 * span])
    here = deflection_m(push, span, run, tension, EA_N)
    assert (deflection_m(push, span, run, tension * 1.05, EA_N) < here).all()
    assert (deflection_m(push * 1.05, span, run, tension, EA_N) > here).all()


def test_a_light_rail_is_a_rail_without_weight() -> None:
    run = np.array([3.0, 60.0])
    light = deflection_m(200.0, 3.0, run, 1100.0, EA_N, 1e-6)
    np.testing.assert_allclose(light, deflection_m(200.0, 3.0, run, 1100.0, EA_N), rtol=1e-9)
    heavy = deflection_m(200.0, 3.0, run, 1100.0, EA_N, 30.0)
    assert (np.abs(heavy / light - 1) > 1e-3).all()


def test_no_push_no_deflection() -> None:
    assert deflection_m(0.0, 3.0, 3.0, 1100.0, EA_N, 3.0) == 0.0
    assert pushed_tension_n(0.0, 3.0, 3.0, 1100.0, EA_N) == 1100.0


def test_a_deflection_that_no_tension_explains() -> None:
    """Held at both posts even a slack wire stretches as it is pushed, so more than this cannot be."""
    slackest = deflection_m(200.0, 3.0, 3.0, 1e-3, EA_N)
    assert np.isnan(tension_from_push_n(200.0, slackest * 1.01, 3.0, 3.0, EA_N))
    assert tension_from_push_n(200.0, slackest * 0.99, 3.0, 3.0, EA_N) > 0


def test_the_spread_agrees_with_a_simulation() -> None:
    measured = partial(tension_from_push_n, span_m=3.0, run_m=60.0, stiffness_n=EA_N)
    tension, spread = tension_and_spread_n(100.0, 0.065, 2.0, 0.001, measured)
    random = np.random.default_rng(7)
    drawn = measured(random.normal(100.0, 2.0, 40_000), random.normal(0.065, 0.001, 40_000))
    assert float(tension) == pytest.approx(float(drawn.mean()), rel=0.01)
    assert float(spread) == pytest.approx(float(drawn.std()), rel=0.03)


def test_the_spread_of_a_linear_rail_in_closed_form() -> None:
    def linear(push_n: np.ndarray, deflection_m: np.ndarray) -> np.ndarray:
        return push_n * 3.0 / (4.0 * deflection_m)

    tension, spread = tension_and_spread_n([100.0, 50.0], [0.05, 0.02], 1.0, 0.001, linear)
    np.testing.assert_allclose(
        spread, tension * np.hypot([0.01, 0.02], np.array([0.001 / 0.05, 0.001 / 0.02])), rtol=1e-6
    )


def test_many_spans_at_once_and_none() -> None:
    span = np.linspace(1.5, 4.0, 1000)
    assert (np.diff(deflection_m(100.0, span, span * 30, 1300.0, 3e6, 3.2)) > 0).all()
    assert deflection_m(100.0, np.empty(0), np.empty(0), 1300.0, 3e6).shape == (0,)
