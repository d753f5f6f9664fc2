"""Window of the set tension: closed forms without sag, which limit governs, and the choice inside."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from fencewright.job.settings import Settings
from fencewright.tables.tension import GOVERNS_HIGH, TensionTask
from fencewright.tension.pulled import PulledRuns, cold_tension_n, hot_tension_n, pulled_runs
from fencewright.tension.rail_model import rail_models
from fencewright.tension.window import chosen_tension_n

Build = Callable[..., TensionTask]
Change = Callable[..., Settings]
LIGHT = {"line_mass_kg_m": 1e-6}  # so light that sag takes up nothing


def pulled(build: Build, settings: Settings, *runs: Any, **ends: float) -> PulledRuns:
    return pulled_runs(build(*runs, **ends), rail_models(settings)[0], settings)


def test_rigid_ends_and_no_sag_lose_ea_alpha_a_degree(
    build: Build, settings: Settings, change: Change
) -> None:
    """Sources-structure 6: a taut wire between fixed ends changes by EA alpha = 11.62100 N a degree."""
    light = change(settings, rail=LIGHT)
    made = pulled(build, light, [[3.6] * 20])
    gain = made.rails.stiffness_n[0] * made.rails.expansion_per_c[0]
    assert gain / 3 == pytest.approx(
        11.62100, rel=4e-3
    )  # E of 29e6 psi, not 200 GPa; 0.099 in, not 2.5146 mm
    cold = made.rails.cold_allowed_n[0] - gain * (20.0 - made.rails.coldest_c[0])
    assert made.window.high_n[0, 0] == pytest.approx(cold, rel=1e-6)


def test_yielding_ends_ease_the_coldest_day(build: Build, settings: Settings, change: Change) -> None:
    light = change(settings, rail=LIGHT)
    made = pulled(build, light, [[3.6] * 20], stiffness_n_m=4e5)
    each = 4e5 / 4  # four equal rails share an end
    flexible = 72.0 / made.rails.stiffness_n[0] + 2 / each
    gained = 72.0 * made.rails.expansion_per_c[0] * (20.0 - made.rails.coldest_c[0]) / flexible
    assert made.window.high_n[0, 0] == pytest.approx(made.rails.cold_allowed_n[0] - gained, rel=1e-6)


def test_low_edge_just_keeps_the_sag(build: Build, settings: Settings) -> None:
    """Drawn to the low edge, the deepest span sags by just the limit on the hottest day."""
    made = pulled(build, settings, [[3.0, 3.6, 2.0]], [[0.5, 0.3]], stiffness_n_m=1e6)
    hot = hot_tension_n(replace(made, set_tension_n=made.window.low_n), 20.0)[0, 0]
    sag = max(
        made.rails.weight_n_m[0] * span**2 / (8 * hot * share)
        for span, share in zip([3.0, 3.6, 2.0], made.drawn.share.tolist(), strict=True)
    )
    assert sag == pytest.approx(settings.tension.sag_limit_m, rel=1e-6)


def test_high_edge_just_keeps_the_cold_limit(build: Build, settings: Settings) -> None:
    made = pulled(build, settings, [[3.6] * 30], [[0.2] * 29], stiffness_n_m=1e6)
    cold = cold_tension_n(replace(made, set_tension_n=made.window.high_n), 20.0)[0, 0]
    assert cold == pytest.approx(made.rails.cold_allowed_n[0], rel=1e-6)


@pytest.mark.parametrize(
    ("rail", "capacity_n", "governs"),
    [
        ({}, np.inf, "cold allowed"),
        ({"cold_tension_n": 15000.0}, np.inf, "breaking share"),
        ({}, 8000.0, "ends"),
        ({"turn": 1.0}, 8000.0, "corners"),
    ],
)
def test_what_governs_from_above(
    build: Build,
    settings: Settings,
    change: Change,
    rail: dict[str, float],
    capacity_n: float,
    governs: str,
) -> None:
    place = "turn_capacity_n" if rail.get("turn") else "capacity_n"
    own = {key: value for key, value in rail.items() if key != "turn"}
    made = pulled(build, change(settings, rail=own), [[3.6] * 20], **{place: capacity_n})
    assert GOVERNS_HIGH[int(made.window.governs_high[0, 0])] == governs


def test_ends_carry_all_rails_together(build: Build, settings: Settings, change: Change) -> None:
    """10 kN for four rails is the same limit as 2.5 kN allowed for each."""
    ends = pulled(build, settings, [[3.6] * 20], capacity_n=10e3).window.high_n
    alone = pulled(build, change(settings, rail={"cold_tension_n": 2500.0}), [[3.6] * 20]).window.high_n
    assert ends == pytest.approx(alone)


def test_a_corner_limits_the_tensioner_wherever_it_stands(build: Build, settings: Settings) -> None:
    """10 kN for four rails: at the greatest set tension each is at 2.5 kN on the coldest day, at the tensioner."""
    for at in (1, 10, 17):
        turns = [0.0] * 19
        turns[at] = 1.2
        made = pulled(build, settings, [[3.6] * 20], [turns], turn_capacity_n=10e3, stiffness_n_m=1e6)
        cold = cold_tension_n(replace(made, set_tension_n=made.window.high_n), 20.0)[0, 0]
        assert cold == pytest.approx(2500.0, rel=1e-6)


@pytest.mark.parametrize(
    ("wanted", "low", "high", "chosen"),
    [
        (5.0, 0.0, 10.0, 5.0),
        (12.0, 0.0, 10.0, 9.5),
        (-3.0, 0.0, 10.0, 0.5),
        (5.0, 8.0, 6.0, 5.0),
        (7.0, 8.0, 6.0, 6.0),
    ],
)
def test_choice_inside(wanted: float, low: float, high: float, chosen: float) -> None:
    assert chosen_tension_n(wanted, np.array(low), np.array(high), 0.05) == pytest.approx(chosen)
