"""Pulls that their ends or corners leave far slacker than the data sheet: told, with what limits them and what mends it."""

import re
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from fencewright.catalogue.rows import Rail
from fencewright.findings import CAUTION, Finding
from fencewright.job.settings import Settings
from fencewright.quantity.parse import parse_quantity
from fencewright.quantity.show import UnitSystem
from fencewright.tables.tension import TensionTask
from fencewright.tension.stage import pull_tensions

Build = Callable[..., TensionTask]
Change = Callable[..., Settings]
SPANS_M = [3.0] * 20
CORNER = [0.0] * 9 + [np.pi / 2] + [0.0] * 9
METRIC = UnitSystem("metric")


def told(task: TensionTask, settings: Settings) -> tuple[np.ndarray, list[Finding]]:
    made, _, findings = pull_tensions(task, settings, METRIC)
    return made.set_tension_n, [one for one in findings if one.code in ("tension-low", "tension-moved")]


def needed_n(said: Finding) -> float:
    """`Make P1 carry 11.4 kN (...`."""
    words = said.remedy.removeprefix("Make ").split()
    return float(parse_quantity(f"{words[2]} {words[3]}", "force"))


@pytest.mark.parametrize("weak", [0, 1])
def test_a_weak_end_is_named_with_what_it_would_have_to_carry(
    build: Build, settings: Settings, weak: int
) -> None:
    capacity = np.full((1, 2), np.inf)
    capacity[0, weak] = 5e3
    task = replace(build([SPANS_M], None, 4e5), end_capacity_n=capacity)
    tension, (said,) = told(task, settings)
    assert (said.code, said.level) == ("tension-low", CAUTION)
    assert (
        f"P{(1, 21)[weak]} carries no more than 5.00 kN of all its rails on the coldest day" in said.message
    )
    assert f"{tension[0] / 1112.06:.0%} of the 1.11 kN of its data sheet" in said.message
    assert tension[0] < 0.5 * 1112.06
    capacity[0, weak] = needed_n(said) * 1.005
    assert told(replace(task, end_capacity_n=capacity), settings)[0] == pytest.approx(1112.06, rel=1e-5)
    capacity[0, weak] = needed_n(said) * 0.99
    assert told(replace(task, end_capacity_n=capacity), settings)[0][0] < 1112


def test_a_weak_corner_may_end_the_rail_instead(build: Build, settings: Settings) -> None:
    task = build([SPANS_M], [CORNER], 4e5, np.inf, 5.5e3)
    _, (said,) = told(task, settings)
    assert "P2 carries no more than 5.50 kN" in said.message
    assert said.remedy.endswith("Or end the rail there both ways with a [[strain]].")
    held = replace(task, turn_capacity_n=np.array([needed_n(said) * 1.005]))
    assert told(held, settings)[0] == pytest.approx(1112.06, rel=1e-5)


def test_of_unlike_rails_each_gets_its_sheets_tension_at_what_is_named(
    build: Build, settings: Settings, rails: dict[str, Rail]
) -> None:
    names = ("coated wire", "slim polymer rail", "polymer rail", "polymer rail")
    strands = tuple(replace(row, rail=rails[name]) for row, name in zip(settings.strands, names, strict=True))
    mixed = replace(settings, strands=strands)
    task = build([SPANS_M], None, 4e5, 3e3)
    _, said = told(task, mixed)
    needed = [needed_n(one) for one in said if one.code == "tension-low"]
    assert len(set(needed)) == 1
    asked = [row.rail.set_tension_n for row in strands]
    assert told(replace(task, end_capacity_n=np.full((1, 2), needed[0] * 1.005)), mixed)[0] == pytest.approx(
        asked
    )


def test_a_rail_that_bears_no_more_itself_is_told_so(
    build: Build, settings: Settings, change: Change
) -> None:
    _, (said,) = told(build([SPANS_M]), change(settings, rail={"cold_tension_n": 2150.0}))
    assert "more than 2.15 kN is too much for the rail itself on the coldest day" in said.message
    assert said.remedy.startswith("Take a rail that may carry ")
    assert "spring_keeper" in said.remedy


def test_half_the_sheets_tension_is_a_note_only(build: Build, settings: Settings) -> None:
    _, (said,) = told(build([SPANS_M], None, 4e5, 7e3), settings)
    assert said.code == "tension-moved"
    assert re.search(r"too tight on the coldest day for its end P\d+; its window is ", said.message)
