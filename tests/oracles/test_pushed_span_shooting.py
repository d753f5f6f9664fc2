"""The pushed span against shooting along an elastic cable in space, and against least energy.

Shooting: from a post, the cable's direction follows the force in it, which the weight turns as it goes; the
force at the post is sought so that mid-span is met and the rail is as long as it was before the push.
"""

import itertools

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, minimize_scalar, root

from fencewright.mechanics.pushed_span import deflection_m, pushed_tension_n

Floats = NDArray[np.float64]

SPAN_M = 3.0
CASES = list(itertools.product((20.0, 200.0, 600.0), (400.0, 1500.0), (1, 20)))


def reached(
    level_n: float, across_n: float, unstressed_m: float, ea_n: float, load_n_m: float
) -> list[float]:
    """Place of mid-span as seen from the post: along, sideways; half the unstressed length is walked."""

    def slope(along_m: float, _place: Floats) -> list[float]:
        down = load_n_m * (unstressed_m / 2 - along_m)
        force = np.sqrt(level_n**2 + across_n**2 + down**2)
        return [level_n / force * (1 + force / ea_n), across_n / force * (1 + force / ea_n)]

    walk = solve_ivp(slope, (0.0, unstressed_m / 2), [0.0, 0.0], rtol=1e-11, atol=1e-14)
    return [float(value) for value in walk.y[:, -1]]


def post_force_n(level_n: float, across_n: float, unstressed_m: float, load_n_m: float) -> float:
    return float(np.sqrt(level_n**2 + across_n**2 + (load_n_m * unstressed_m / 2) ** 2))


def unstressed_span_m(force_n: float, ea_n: float, load_n_m: float) -> float:
    """Unstressed rail of a span that nobody pushes, with this force at its posts."""

    def miss(unstressed_m: float) -> float:
        level = np.sqrt(force_n**2 - (load_n_m * unstressed_m / 2) ** 2)
        return reached(float(level), 0.0, unstressed_m, ea_n, load_n_m)[0] - SPAN_M / 2

    return float(brentq(miss, SPAN_M * 0.9, SPAN_M * 1.05, xtol=1e-13))


def shot_m(push_n: float, force_n: float, spans: int, ea_n: float, load_n_m: float) -> float:
    """Deflection by shooting; the other spans of the pull give up rail as the force grows."""
    before = unstressed_span_m(force_n, ea_n, load_n_m) * spans

    def misses(guess: Floats, /) -> list[float]:
        level, unstressed = float(guess[0]) * 1000, float(guess[1])
        force = post_force_n(level, push_n / 2, unstressed, load_n_m)
        others = (spans - 1) * unstressed_span_m(force, ea_n, load_n_m) if spans > 1 else 0.0
        along = reached(level, push_n / 2, unstressed, ea_n, load_n_m)[0]
        return [(along - SPAN_M / 2) * 1e3, (unstressed + others - before) * 1e3]

    start = float(pushed_tension_n(push_n, SPAN_M, SPAN_M * spans, force_n, ea_n)) / 1000
    found = root(misses, [start, SPAN_M * (1 - start * 1000 / ea_n)], tol=1e-11)
    assert np.abs(found.fun).max() < 1e-6
    return reached(found.x[0] * 1000, push_n / 2, found.x[1], ea_n, load_n_m)[1]


@pytest.mark.parametrize(("push", "tension", "spans"), CASES)
def test_without_weight(push: float, tension: float, spans: int) -> None:
    shot = shot_m(push, tension, spans, 993_248.0, 0.0)
    ours = deflection_m(push, SPAN_M, SPAN_M * spans, tension, 993_248.0)
    assert float(ours) == pytest.approx(shot, rel=1e-7)


@pytest.mark.parametrize(("push", "tension", "spans"), CASES)
def test_with_weight(push: float, tension: float, spans: int) -> None:
    """A heavy rail, 6 N/m.

    Ours takes the tension along the chord, shooting the force at the post: they differ by half the square of
    w L / 2 T, 2.5 parts in 10,000 at the slackest; the parabola costs less.
    """
    shot = shot_m(push, tension, spans, 2e6, 6.0)
    ours = deflection_m(push, SPAN_M, SPAN_M * spans, tension, 2e6, 6.0)
    assert float(ours) == pytest.approx(shot, rel=2.5e-4)


@pytest.mark.parametrize(("push", "tension", "spans"), CASES)
def test_least_energy(push: float, tension: float, spans: int) -> None:
    """Strain energy of the whole rail less the work of the push is least at the deflection."""
    ea_n, run = 993_248.0, SPAN_M * spans
    unstressed = run / (1 + tension / ea_n)

    def energy_j(deflection: float) -> float:
        length = run - SPAN_M + 2 * np.hypot(SPAN_M / 2, deflection)
        return float(ea_n * (length - unstressed) ** 2 / (2 * unstressed) - push * deflection)

    least = minimize_scalar(energy_j, bounds=(0.0, 1.0), method="bounded", options={"xatol": 1e-10})
    ours = deflection_m(push, SPAN_M, run, tension, ea_n)
    assert float(ours) == pytest.approx(float(least.x), rel=1e-5)
