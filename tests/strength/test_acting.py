"""Load cases all at once, a few at a time or one by one are the same cases, and each hole is as shallow as it can be."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from fencewright.catalogue.rows import LoadCase
from fencewright.strength import acting as acting_module
from fencewright.strength.acting import acting
from fencewright.strength.fence import Fence, fence_of
from fencewright.strength.ledger import Ledger
from fencewright.strength.load_cases import is_local, soil_factors
from fencewright.strength.post_loads import forces_of
from fencewright.strength.posts import Reactions
from fencewright.strength.reactions import reactions_of
from fencewright.strength.sizing import least_steps_m
from fencewright.strength.stage import check_strength, size_holes
from fencewright.strength.task import StrengthTask
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
    fence = fence_of(task)
    (some,) = acting(fence, fence.cases, soil_factors)
    assert some.cases == fence.cases
    assert len(fence.cases) > 8
    for row, case in enumerate(fence.cases):
        alone = _alone(fence, case)
        together = some.reactions.of(row)
        for name in alone.__slots__:
            np.testing.assert_allclose(getattr(together, name), getattr(alone, name), rtol=1e-12, atol=1e-9)


def _alone(fence: Fence, case: LoadCase) -> Reactions:
    """Reactions of one case at every post."""
    loads = forces_of(fence.task, fence.around, case, soil_factors(case))
    return reactions_of(fence.task, fence.members, fence.frame, loads)


@pytest.mark.parametrize("more", WAYS)
def test_a_case_of_a_few_posts_is_worked_out_there_and_is_nothing_elsewhere(
    strength_task: Tasks, more: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    fence = fence_of(strength_task(more))
    monkeypatch.setattr(acting_module, "_SHORT", 0)
    parts = list(acting(fence, fence.cases, soil_factors))
    assert sorted(np.concatenate([some.row for some in parts]).tolist()) == list(range(len(fence.cases)))
    few = [some for some in parts if some.reach.rows is not None]
    assert {case.name for some in few for case in some.cases} == {
        case.name for case in fence.cases if is_local(case)
    }
    for some in few:
        assert some.reach.count < len(fence.task.layout.posts)
        for row, case in enumerate(some.cases):
            alone, here = _alone(fence, case), some.reactions.of(row)
            for name in ("foot_n", "foot_moment_n_m", "kick_n", "turn_n_m", "uplift_n", "down_n"):
                whole = np.zeros_like(getattr(alone, name))
                whole[some.reach.rows] = getattr(here, name)
                np.testing.assert_allclose(whole, getattr(alone, name), rtol=1e-12, atol=1e-9, err_msg=name)
            for name in ("thrust_n", "tied_n", "held_n"):
                np.testing.assert_allclose(getattr(here, name), getattr(alone, name), rtol=1e-12, atol=1e-9)


@pytest.mark.parametrize("more", WAYS)
def test_how_many_cases_are_held_at_once_changes_nothing(
    strength_task: Tasks, more: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    task = strength_task(more)
    whole, said = check_strength(task)
    for at_once in (1, 3 * len(task.layout.posts)):
        monkeypatch.setattr(acting_module, "_AT_ONCE", at_once)
        monkeypatch.setattr(acting_module, "_SHORT", 0)
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
    sized = size_holes(task)
    whole, _ = check_strength(task)
    assert np.array_equal(sized.sizes.depth_m, whole.sizes.depth_m)
    assert sized.sizes.governs == whole.sizes.governs
    assert np.array_equal(sized.brace_sizes.depth_m, whole.brace_sizes.depth_m)
    for name in ("capacity_n", "stiffness_n_m", "turn_capacity_n", "turn_post", "turn_check"):
        assert np.array_equal(getattr(sized.ends, name), getattr(whole.ends, name)), name


@pytest.mark.parametrize("more", WAYS)
def test_columns_of_the_sizing_used_again_give_what_fresh_ones_give(strength_task: Tasks, more: str) -> None:
    task = strength_task(more)
    sized = size_holes(task)
    slacker = {day: 0.8 * tension for day, tension in task.tension_n.items()}
    again = replace(task.with_depths(sized.sizes.depth_m, sized.brace_sizes.depth_m), tension_n=slacker)
    quick, said = check_strength(again, sized=sized)
    fresh, other = check_strength(again, is_sizing=False)
    assert said == other
    assert quick.ends is sized.ends
    for name in ("utilisation", "check", "movement_m", "brace_utilisation", "fastener_n"):
        assert np.array_equal(getattr(quick, name), getattr(fresh, name)), name
    for name in ("post_index", "brace_index", "check", "case_index", "demand", "capacity", "utilisation"):
        assert np.array_equal(getattr(quick.checks, name), getattr(fresh.checks, name)), name
    assert np.array_equal(quick.sizes.least_depth_m, fresh.sizes.least_depth_m)


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


def test_of_equally_bad_cases_the_earliest_is_kept_whatever_comes_first() -> None:
    ledger, capacity = Ledger(), np.array([4.0, 4.0, 4.0])
    ledger.note(Check.BENDING, np.array([2]), np.array([[1.0, 3.0, 2.0]]), capacity)
    ledger.note(Check.BENDING, np.array([1]), np.array([[3.0, 2.0]]), capacity[1:], rows=np.array([1, 2]))
    row = ledger.posts[Check.BENDING]
    assert row.case.tolist() == [2, 1, 1]
    ledger.note(Check.BENDING, np.array([3]), np.array([[2.0, 2.0]]), capacity[:2], rows=np.array([0, 2]))
    assert row.case.tolist() == [3, 1, 1]
    assert row.demand.tolist() == [2.0, 3.0, 2.0]


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
    least = least_steps_m(lambda depth, rows: (needed[rows] / depth)[None], 1, len(needed), 0.1, 1.0)[0]
    np.testing.assert_allclose(least, [0.1, 0.1, 0.1, 0.4, 1.0, np.inf])
