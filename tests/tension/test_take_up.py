"""Take-up, turns, re-grips, the watched mark, and the re-pull."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from fencewright.catalogue.rows import Rail
from fencewright.job.settings import Settings
from fencewright.tables.tension import TensionTask
from fencewright.tension.stage import pull_tensions

Build = Callable[..., TensionTask]
Change = Callable[..., Settings]
INCH, FOOT, LBF = 0.0254, 0.3048, 4.4482216152605


def one_wire(settings: Settings, change: Change, rails: dict[str, Rail], **tension: float) -> Settings:
    """A single smooth 12.5 gauge wire drawn to 250 lbf whatever the weather."""
    wire = replace(rails["smooth wire"], cold_tension_n=5000.0, allowed_share=1.0)
    alone = replace(settings, strands=(replace(settings.strands[0], rail=wire),))
    return change(alone, sag_limit_m=5.0, window_margin=0.0, **tension)


@pytest.mark.parametrize(("feet", "inches"), [(100, 1.344), (1000, 13.4), (1320, 17.7)])
def test_stretch_of_a_wire(
    build: Build, settings: Settings, change: Change, rails: dict[str, Rail], feet: float, inches: float
) -> None:
    """Sources-fence B, derived: stretch at 250 lbf of 12.5 gauge wire, from zero tension, straight."""
    spans = [feet * FOOT / 50] * 50
    made, _, _ = pull_tensions(build([spans]), one_wire(settings, change, rails))
    assert made.set_tension_n[0] == pytest.approx(250 * LBF)
    assert made.stretch_m[0] / INCH == pytest.approx(inches, rel=4e-3)


def test_marked_length_stretches_as_the_whole(
    build: Build, settings: Settings, change: Change, rails: dict[str, Rail]
) -> None:
    """1.344 in per 100 ft is 0.403 in over the 30 ft mark."""
    made, _, _ = pull_tensions(build([[3.0] * 30]), one_wire(settings, change, rails))
    assert made.marked_m == pytest.approx(30 * FOOT)
    assert made.marked_stretch_m[0] / INCH == pytest.approx(0.3 * 1.344, rel=1e-3)


def test_take_up_is_its_parts_and_longer_pulls_take_more(build: Build, settings: Settings) -> None:
    runs = [[3.6] * 10, [3.6] * 40, [3.6] * 110]
    made, _, _ = pull_tensions(build(runs, None, 5e5), settings)
    assert made.take_up_m == pytest.approx(made.slack_m + made.stretch_m + made.end_yield_m)
    first = made.take_up_m[::4]
    assert (np.diff(first) > 0).all()
    assert (np.diff(made.turns[::4]) > 0).all()
    assert made.slack_m[0] == pytest.approx(36.0 * settings.tension.hand_slack)


def test_a_small_spool_is_gripped_again(build: Build, settings: Settings, change: Change) -> None:
    task = build([[3.6] * 50], None, 4e5)
    whole = pull_tensions(task, settings)[0]
    small = pull_tensions(task, change(settings, rail={"tensioner_holds_m": whole.take_up_m[0] / 3.5}))[0]
    tensioners = 1 + (whole.drawn_from[0] == 2)
    assert whole.regrips[0] == 0
    assert small.regrips[0] == np.ceil(3.5 / tensioners) - 1
    assert small.extra_rail_m[0] > whole.extra_rail_m[0]


def test_end_yield_is_the_pull_of_all_rails_over_the_stiffness(build: Build, settings: Settings) -> None:
    made, _, _ = pull_tensions(build([[3.6] * 20], None, 5e5), settings)
    assert made.end_yield_m[0] == pytest.approx(2 * 4 * made.set_tension_n[0] / 5e5)


def test_settlement_and_creep_ask_for_a_repull(build: Build, settings: Settings, change: Change) -> None:
    """Nine tenths of the settlement are over at ln(10) settling times; between rigid ends each m costs EA / L."""
    task, light = build([[3.6] * 20]), {"line_mass_kg_m": 1e-6}
    made, pulled, _ = pull_tensions(task, change(settings, rail=light, settlement_m=1e-3))
    assert made.repull_days == pytest.approx(30 * np.log(10))
    assert made.repull_m[0] == pytest.approx(1.8e-3)
    assert made.repull_loss_n[0] == pytest.approx(1.8e-3 * pulled.rails.stiffness_n[0] / 72.0, rel=1e-6)
    creeping, _, _ = pull_tensions(task, change(settings, rail={**light, "creep": 1e-5}, settlement_m=1e-3))
    more = 1e-5 * np.log10(1 + made.repull_days)
    assert creeping.repull_m[0] - made.repull_m[0] == pytest.approx(72.0 * more)
    assert creeping.repull_loss_n[0] > made.repull_loss_n[0]


def test_a_spring_keeper_eases_loss_and_cold(build: Build, settings: Settings, change: Change) -> None:
    task = build([[3.6] * 20])
    stiff, _, _ = pull_tensions(task, settings)
    sprung, _, _ = pull_tensions(task, change(settings, spring_m_n=settings.tension.spring_offered_m_n))
    assert sprung.repull_loss_n[0] < stiff.repull_loss_n[0]
    assert sprung.cold_n[0] - sprung.set_tension_n[0] < stiff.cold_n[0] - stiff.set_tension_n[0]
    assert sprung.window_high_n[0] - sprung.window_low_n[0] > stiff.window_high_n[0] - stiff.window_low_n[0]
