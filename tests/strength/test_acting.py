"""Load cases all at once, a few at a time or one by one are the same cases, and each hole is as shallow as it can be."""

from collections.abc import Callable

import numpy as np
import pytest

from fencewright.strength import acting as acting_module
from fencewright.strength.acting import acting
from fencewright.strength.braces import brace_frame
from fencewright.strength.ledger import Ledger
from fencewright.strength.load_cases import cases_of, soil_factors
from fencewright.strength.post_loads import forces_of, surroundings_of
from fencewright.strength.reactions import reactions_of
from fencewright.strength.sizing import least_steps_m
from fencewright.strength.stage import check_strength, size_holes
from fencewright.strength.task import StrengthTask, members_of
from fencewright.tables.strength import Check

Tasks = Callable[..., StrengthTask]
WAYS = (
    "",
    '[brace]\nkind = "horizontal"\nbays = 2\n',
    '[strength]\nmethod = "lrfd"\nice_thickness = "0.5 in"\nwind_speed = "105 mph"\n',
    '[brace]\nkind = "none"\n',
)


@pytest.mark.parametrize("more", WAYS)
def test_cases_together_are_what_each_is_alone(strength_task: Tasks, more: str) -> None:
    task = strength_task(more)
    around, members, frame = surroundings_of(task), members_of(task), brace_frame(task)
    cases = cases_of(task.settings, task.layout.runs, task.layout.openings)
    (some,) = acting(task, around, members, frame, cases, soil_factors)
    assert some.cases == cases
    assert len(cases) > 8
    for row, case in enumerate(cases):
        alone = reactions_of(task, members, frame, forces_of(task, around, case, soil_factors(case)))
        together = some.reactions.of(row)
        for name in alone.__slots__:
            np.testing.assert_allclose(getattr(together, name), getattr(alone, name), rtol=1e-12, atol=1e-9)


@pytest.mark.parametrize("more", WAYS)
def test_how_many_cases_are_held_at_once_changes_nothing(
    strength_task: Tasks, more: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    task = strength_task(more)
    whole, said = check_strength(task)
    for at_once in (1, 3 * len(task.layout.posts)):
        monkeypatch.setattr(acting_module, "_AT_ONCE", at_once)
        parts, again = check_strength(task)
        assert again == said
        for name in ("post_index", "brace_index", "check", "case_index"):
            assert np.array_equal(getattr(parts.checks, name), getattr(whole.checks, name)), name
        np.testing.assert_allclose(parts.checks.utilisation, whole.checks.utilisation, rtol=1e-12)
        assert np.array_equal(parts.sizes.depth_m, whole.sizes.depth_m)
        np.testing.assert_allclose(parts.sizes.least_depth_m, whole.sizes.least_depth_m, rtol=1e-12)


@pytest.mark.parametrize("more", WAYS)
def test_holes_are_sized_as_the_whole_check_sizes_them(strength_task: Tasks, more: str) -> None:
    task = strength_task(more)
    sizes, brace_sizes, ends = size_holes(task)
    whole, _ = check_strength(task)
    assert np.array_equal(sizes.depth_m, whole.sizes.depth_m)
    assert sizes.governs == whole.sizes.governs
    assert np.array_equal(brace_sizes.depth_m, whole.brace_sizes.depth_m)
    for name in ("capacity_n", "stiffness_n_m", "turn_capacity_n", "turn_post", "turn_check"):
        assert np.array_equal(getattr(ends, name), getattr(whole.ends, name)), name
    given, _ = check_strength(task, ends=ends)
    assert given.ends is ends


def test_the_first_of_the_worst_cases_is_kept() -> None:
    demand = np.array([[1.0, 3.0, 0.0], [2.0, 3.0, 0.0], [2.0, 1.0, 0.0]])
    together, parts = Ledger(), Ledger()
    together.note(Check.BENDING, np.array([4, 5, 6]), demand, np.array([4.0, 4.0, 4.0]))
    for case in range(3):
        parts.note(Check.BENDING, np.array([4 + case]), demand[case : case + 1], np.array([4.0, 4.0, 4.0]))
    for ledger in (together, parts):
        worst = ledger.posts[Check.BENDING]
        assert worst.case.tolist() == [5, 4, 4]
        assert worst.demand.tolist() == [2.0, 3.0, 0.0]
        assert worst.utilisation.tolist() == [0.5, 0.75, 0.0]


def test_a_capacity_of_each_case_counts_for_its_own() -> None:
    ledger = Ledger()
    ledger.note(Check.SHEAR, np.array([0, 1]), np.array([[4.0], [3.0]]), np.array([[8.0], [3.0]]))
    row = ledger.posts[Check.SHEAR]
    assert (row.case.tolist(), row.utilisation.tolist(), row.capacity.tolist()) == ([1], [1.0], [3.0])


@pytest.mark.parametrize("at_once", [1, 7, 100_000])
def test_the_least_step_that_passes_is_found_however_many_are_tried_at_once(
    at_once: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fencewright.strength.sizing._AT_ONCE", at_once)
    needed = np.array([0.0, 0.05, 0.1, 0.32, 1.0, 1.01])
    least = least_steps_m(lambda depth: (needed / depth)[None], 1, len(needed), 0.1, 1.0)[0]
    np.testing.assert_allclose(least, [0.1, 0.1, 0.1, 0.4, 1.0, np.inf])
