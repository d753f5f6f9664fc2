"""Site checks: which spans, and what belongs there."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from fencewright.findings import Finding
from fencewright.job.settings import Settings
from fencewright.tables.tension import PLACES, SiteChecks, Tensions, TensionTask
from fencewright.tension.site_checks import site_checks
from fencewright.tension.stage import pull_tensions

Build = Callable[..., TensionTask]
Change = Callable[..., Settings]
RIGHT = np.pi / 2


def checked(task: TensionTask, settings: Settings) -> tuple[Tensions, SiteChecks, tuple[Finding, ...]]:
    """Run the stage and its site checks."""
    tensions, pulled, _ = pull_tensions(task, settings)
    return tensions, *site_checks(task, pulled, settings)


def test_places_of_a_pull_with_two_corners(build: Build, settings: Settings) -> None:
    turns = [[0.0, RIGHT, 0.0, 0.0, 0.0, 0.0, RIGHT, 0.0]]
    tensions, made, said = checked(build([[3.6] * 9], turns, 1e5), settings)
    assert said == ()
    assert tensions.drawn_from[0] == 0
    day = made.rail_temperature_c == made.rail_temperature_c[0]
    named = {
        PLACES[place]: made.post_index[day & (made.place == place)].tolist() for place in range(len(PLACES))
    }
    assert named == {"tensioner": [0], "middle": [4], "far end": [8], "past corner": [2, 7]}
    assert made.run_m[day].tolist() == pytest.approx([7.2, 18.0, 18.0, 7.2, 7.2])


def test_mirrored_pull_names_the_same_places(build: Build, settings: Settings) -> None:
    turns = [0.0, RIGHT, 0.0, 0.0, 0.0, 0.5, 0.0]
    spans = [3.0, 3.1, 3.2, 3.3, 3.4, 3.5, 3.6, 3.7]
    _, there, _ = checked(build([spans], [turns], 3e5), settings)
    _, back, _ = checked(build([spans[::-1]], [turns[::-1]], 3e5), settings)
    rows = sorted(zip(there.place, there.span_m, there.tension_n, there.deflection_sliding_m, strict=True))
    mirrored = sorted(zip(back.place, back.span_m, back.tension_n, back.deflection_sliding_m, strict=True))
    assert np.array(mirrored) == pytest.approx(np.array(rows), rel=1e-9)


def test_tension_is_the_charts_times_the_share(build: Build, settings: Settings, change: Change) -> None:
    task = build([[3.6] * 6], [[0.0, 0.0, RIGHT, 0.0, 0.0]], 2e5)
    tensions, made, _ = checked(task, change(settings, chart_c=settings.tension.checks.temperatures_c))
    far = made.place == PLACES.index("far end")
    assert made.tension_n[far] == pytest.approx(tensions.chart_n[0] * tensions.far_share[0])
    assert tensions.far_share[0] < 1


def test_pinned_gives_less_and_colder_beats_faster(build: Build, settings: Settings) -> None:
    _, made, _ = checked(build([[3.6] * 20], None, 4e5), settings)
    assert (made.deflection_pinned_m < made.deflection_sliding_m).all()
    first = made.place == 0
    assert (np.diff(made.frequency_hz[first]) < 0).all()
    assert (np.diff(made.deflection_sliding_m[first]) > 0).all()
    expected = np.sqrt(made.tension_n[first] / settings.strands[0].rail.line_mass_kg_m) / 2 / 3.6
    assert made.frequency_hz[first] == pytest.approx(expected)


def test_one_span_is_checked_once(build: Build, settings: Settings) -> None:
    _, made, _ = checked(build([[3.6]], None, 4e5), settings)
    assert len(made) == len(settings.tension.checks.temperatures_c)
    assert set(made.place.tolist()) == {0}


@pytest.mark.parametrize(("most", "rows"), [(1000, 300), (400, 300), (120, 100), (30, 30)])
def test_a_huge_fence_gets_fewer(
    build: Build, settings: Settings, change: Change, most: int, rows: int
) -> None:

    few = replace(settings.tension.checks, most=most, temperatures_c=(0.0,) if most == 1000 else (0.0, 20.0))
    _, made, said = checked(build([[3.6] * 9] * 100, None, 4e5), change(settings, checks=few))
    assert len(made) == rows
    assert bool(said) == (most != 1000)
