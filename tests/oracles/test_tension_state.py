"""Change of state of whole pulls against two slow ways: exact catenaries with a root-finder, and friction step by step.

The first writes the rail of every span as an exact elastic catenary and looks for the tension by Brent's method. The
second warms and cools a chain of straight legs in small steps, letting rail slip round a corner only where belt
friction is overcome; the stage's two closed rules (warming keeps the profile, cooling adds one tension) must be on
the safe side of it, and near.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pytest
from scipy.optimize import brentq

from fencewright.tension.state import States, held_change_n, slid_tension_n

STIFFNESS_N, EXPANSION, WEIGHT = 2.979e6, 11.7e-6, 3.21
RIGHT = math.pi / 2
LEGS = ([36.0, 61.2, 36.0, 57.6], [18.0, 100.8, 50.4, 21.6], [90.0, 21.6, 21.6, 54.0])
SPAN_M = 3.6


@dataclass
class Pull:
    """Spans, each with its share of the tensioner's tension, and what both ends give for a newton."""

    spans: list[float]
    shares: list[float]
    give_m_n: tuple[float, float]


def unstressed_m(span_m: float, tension_n: float, weight_n_m: float) -> float:
    """Unstressed rail of one span: span = H L0 / EA + (2 H / w) asinh(w L0 / 2 H), solved for L0."""

    def too_wide(rail_m: float) -> float:
        bow = 2 * tension_n / weight_n_m * math.asinh(weight_n_m * rail_m / (2 * tension_n))
        return tension_n * rail_m / STIFFNESS_N + bow - span_m

    return float(brentq(too_wide, 0.5 * span_m, 2 * span_m, xtol=1e-14, rtol=1e-15))


def rail_in_pull_m(pull: Pull, tension_n: float, warmer_c: float) -> float:
    """Rail in the pull as it would lie without tension at the first temperature."""
    grown = 1 + EXPANSION * warmer_c
    whole = 0.0
    for span, share in zip(pull.spans, pull.shares, strict=True):
        whole += unstressed_m(span, tension_n * share, WEIGHT / grown)
    first, last = pull.give_m_n
    ends = tension_n * (pull.shares[0] * first + pull.shares[-1] * last)
    return (whole - ends) / grown


def exact_after_n(pull: Pull, tension_n: float, warmer_c: float) -> float:
    had = rail_in_pull_m(pull, tension_n, 0.0)
    return float(brentq(lambda one: rail_in_pull_m(pull, one, warmer_c) - had, 30.0, 2e4, xtol=1e-9))


def states_of(pull: Pull) -> States:
    span, share = np.array(pull.spans), np.array(pull.shares)
    first, last = pull.give_m_n
    yields = share[0] * first + share[-1] * last
    load = WEIGHT**2 / 24
    return States(
        *(
            np.asarray(one)
            for one in (
                EXPANSION * span.sum(),
                (span * share).sum() / STIFFNESS_N + yields,
                load * (span**3 / share**2).sum(),
                span.sum() / STIFFNESS_N + first + last,
                load * (span**3).sum(),
                math.sqrt((span**3).sum() / (span**3 / share**2).sum()),
            )
        )
    )


@pytest.mark.parametrize("warmer_c", [-49.0, -20.0, 5.0, 25.0, 45.0])
@pytest.mark.parametrize("give", [0.0, 4e-6, 4e-5])
def test_sliding_pull_against_exact_catenaries(warmer_c: float, give: float) -> None:
    """Unequal spans, falling shares: within 0.3 %, most of it the parabola at the hottest."""
    rng = np.random.default_rng(7)
    spans = rng.uniform(1.5, 3.66, 25).tolist()
    shares = np.exp(-0.15 * np.cumsum(rng.uniform(0, 0.3, 25)))
    pull = Pull(spans, (shares / shares[0]).tolist(), (give, 2 * give))
    states = states_of(pull)
    fast = float(slid_tension_n(states, 1112.0, states.expansion_m_per_c * warmer_c))
    assert fast == pytest.approx(exact_after_n(pull, 1112.0, warmer_c), rel=3e-3)


@pytest.mark.parametrize("warmer_c", [-49.0, -20.0])
def test_cooling_pull_against_exact_catenaries(warmer_c: float) -> None:
    """One gain everywhere; the sag of all spans through one even share."""
    rng = np.random.default_rng(8)
    spans = rng.uniform(1.5, 3.66, 25).tolist()
    shares = np.exp(-0.15 * np.cumsum(rng.uniform(0, 0.3, 25)))
    pull = Pull(spans, (shares / shares[0]).tolist(), (4e-6, 4e-6))
    had = rail_in_pull_m(pull, 1112.0, 0.0)

    def surplus(gain_n: float) -> float:
        grown = 1 + EXPANSION * warmer_c
        tension = [1112.0 * share + gain_n for share in pull.shares]
        rail = sum(unstressed_m(s, t, WEIGHT / grown) for s, t in zip(pull.spans, tension, strict=True))
        return (rail - 4e-6 * (tension[0] + tension[-1])) / grown - had

    states = states_of(pull)
    fast = float(held_change_n(states, 1112.0, states.expansion_m_per_c * warmer_c))
    assert fast == pytest.approx(float(brentq(surplus, 0.0, 1e4)), rel=3e-3)


def legs_after_n(
    legs: Sequence[float], stiffness_n_m: float, warmer_c: float, steps: int = 12
) -> list[float]:
    """Tension of each leg of a chain with three right corners, warmed in steps, slipping where friction gives way."""
    give = [1 / stiffness_n_m, 0.0, 0.0, 1 / stiffness_n_m]
    flexible = [leg / STIFFNESS_N + end for leg, end in zip(legs, give, strict=True)]
    sag = [WEIGHT**2 * SPAN_M**2 * leg / 24 for leg in legs]
    tension = [1112.0 * math.exp(-0.15 * RIGHT * number) for number in range(4)]
    rail = [f * t - k / t**2 for f, t, k in zip(flexible, tension, sag, strict=True)]
    grip = math.exp(0.15 * RIGHT)

    def solve(number: int, grown_m: float) -> float:
        have = rail[number] - grown_m
        return float(brentq(lambda t: flexible[number] * t - sag[number] / t**2 - have, 1.0, 2e4, xtol=1e-9))

    for step in range(1, steps + 1):
        grown = [EXPANSION * leg * warmer_c * step / steps for leg in legs]
        for _ in range(60):
            moved = 0.0
            for corner in range(3):
                near, far = solve(corner, grown[corner]), solve(corner + 1, grown[corner + 1])
                limit = (
                    grip
                    if near > far * grip * (1 + 1e-9)
                    else 1 / grip
                    if near * grip < far * (1 - 1e-9)
                    else 0
                )
                if not limit:
                    continue

                def unbalanced(
                    slip: float, at: int = corner, to: float = limit, had: Sequence[float] = grown
                ) -> float:
                    return solve(at, had[at] + slip) - to * solve(at + 1, had[at + 1] - slip)

                slip = float(brentq(unbalanced, -0.02, 0.02, xtol=1e-12))
                rail[corner] -= slip
                rail[corner + 1] += slip
                moved = max(moved, abs(slip))
            if moved < 1e-8:
                break
        tension = [solve(number, grown[number]) for number in range(4)]
    return tension


@pytest.mark.parametrize("legs", LEGS, ids=["even", "long middle", "long first"])
@pytest.mark.parametrize("stiffness_n_m", [1e9, 2.5e5])
def test_rules_against_friction_step_by_step(legs: list[float], stiffness_n_m: float) -> None:
    """Cold: never 1.5 % below the tightest leg, nor 10 % above it. Hot: the loosest leg is never looser than said."""
    shares = [math.exp(-0.15 * RIGHT * number) for number in range(4)]
    spans = [SPAN_M] * round(sum(legs) / SPAN_M)
    count = [round(leg / SPAN_M) for leg in legs]
    pull = Pull(spans, np.repeat(shares, count).tolist(), (1 / stiffness_n_m, 1 / stiffness_n_m))
    states = states_of(pull)
    cold = 1112.0 + float(held_change_n(states, 1112.0, states.expansion_m_per_c * -49.0))
    tightest = max(legs_after_n(legs, stiffness_n_m, -49.0))
    assert 0.985 * tightest < cold < 1.1 * tightest
    hot = float(slid_tension_n(states, 1112.0, states.expansion_m_per_c * 45.0)) * shares[-1]
    assert hot < min(legs_after_n(legs, stiffness_n_m, 45.0)) * 1.001
