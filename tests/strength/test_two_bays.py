"""Ends with two braces one behind the other: statics by hand, capacities, hardware, and what each part is asked."""

from collections.abc import Callable

import numpy as np
import pytest

from fencewright.mechanics.brace_statics import tied_two_bays
from fencewright.mechanics.brace_stiffness import (
    first_bay_share,
    near_diagonal_share,
    rail_flexibility_m_n,
    tie_flexibility_m_n,
)
from fencewright.mechanics.sections import round_area_m2
from fencewright.quantity.parse import POUND_FORCE_N
from fencewright.strength.braces import brace_frame
from fencewright.strength.load_cases import Factors
from fencewright.strength.post_loads import PostForces, forces_of, surroundings_of
from fencewright.strength.posts import Reactions
from fencewright.strength.reactions import SECOND_SHARE, reactions_of
from fencewright.strength.stage import check_strength
from fencewright.strength.task import StrengthTask, members_of
from fencewright.tables.fence import Role
from fencewright.tables.strength import Check

Tasks = Callable[..., StrengthTask]
OPEN = '[["0 ft", "0 ft"], ["150 ft", "0 ft"]]'
STATED = '[holes]\nend_depth = "48 in"\nbrace_depth = "48 in"\nline_depth = "30 in"\n'
CALM = '[strength]\nwind_speed = "0 mph"\nanimal_force = "0 lbf"\n'


def bays(kind: str, count: int) -> str:
    return f'[brace]\nkind = "{kind}"\nbays = {count}\n'


def pulled(task: StrengthTask) -> tuple[PostForces, Reactions]:
    loads = forces_of(task, surroundings_of(task), task.settings.strength.cases[0], Factors(1.0, 0.0, 0.0))
    return loads, reactions_of(task, members_of(task), brace_frame(task), loads)


def used_by(task: StrengthTask, check: Check, post: int) -> float:
    checks = check_strength(task)[0].checks
    mine = (checks.check == int(check)) & (checks.post_index == post)
    return float(checks.utilisation[mine].max())


def test_two_horizontal_bays_are_those_of_the_textbook(strength_task: Tasks) -> None:
    task = strength_task(STATED + bays("horizontal", 2), points=OPEN, gate="")
    loads, held = pulled(task)
    frame, braces, settings = brace_frame(task), task.layout.braces, task.settings
    end = int(task.layout.runs.from_post[0])
    (first,) = np.flatnonzero(braces.post_index == end).tolist()
    second = int(frame.behind[first])
    assert braces.post_index[second] == braces.second_post[first]
    area = round_area_m2(settings.brace.diameter_m) * settings.strength.timber.modulus_pa
    contact, bay = float(braces.contact_m[first]), float(braces.reach_m[first])
    share = first_bay_share(
        tie_flexibility_m_n(contact, bay, settings.strength.tie_stiffness_n), rail_flexibility_m_n(bay, area)
    )
    pull, moment = float(loads.force_n[end, 0]), float(loads.moment_n_m[end, 0])
    one, two = tied_two_bays(pull, moment, contact, bay, share)
    assert held.thrust_n[first] == pytest.approx(float(one.rail_n), rel=1e-3)
    assert held.thrust_n[second] == pytest.approx(float(two.rail_n), rel=1e-3)
    assert held.tied_n[first] * np.hypot(contact, bay) / bay == pytest.approx(float(one.tie_n), rel=1e-3)
    assert held.uplift_n[end] == pytest.approx(float(one.uplift_n), rel=1e-3)
    assert held.foot_n[end, 0] == pytest.approx(float(one.foot_n), rel=1e-3)
    middle, last = int(braces.second_post[first]), int(braces.second_post[second])
    assert held.foot_n[middle, 0] + held.foot_n[last, 0] == pytest.approx(float(two.foot_n), abs=2.0)
    assert held.foot_n[last, 0] == pytest.approx(float(two.foot_n) * SECOND_SHARE, rel=1e-2)


def test_two_diagonals_share_by_stiffness_and_lift_less(strength_task: Tasks) -> None:
    one, two = (strength_task(STATED + bays("diagonal", count), points=OPEN, gate="") for count in (1, 2))
    end = int(two.layout.runs.from_post[0])
    frame, held = brace_frame(two), pulled(two)[1]
    rows = np.flatnonzero(two.layout.braces.post_index == end)
    assert len(rows) == 2
    near, far = rows[np.argsort(frame.reach_m[rows])]
    assert frame.reach_m[far] == pytest.approx(1.5 * frame.reach_m[near])
    share = float(near_diagonal_share(frame.drop_m[near], frame.reach_m[near], frame.reach_m[far], 1e6))
    whole = pulled(one)[1].thrust_n[np.flatnonzero(one.layout.braces.post_index == end)[0]]
    assert held.thrust_n[[near, far]] == pytest.approx([whole * share, whole * (1 - share)])
    single = float(pulled(one)[1].uplift_n[end])
    assert held.uplift_n[end] == pytest.approx(single * (share + (1 - share) / 1.5), rel=1e-6)


def test_a_second_brace_eases_what_the_first_is_asked(strength_task: Tasks) -> None:
    """A second level brace eases the tie most: the first one's second upright took a third of the pull already."""
    for kind, checks in (
        ("diagonal", (Check.FOOTING_PUSH, Check.FOOTING_TIPPING, Check.FOOTING_BEARING, Check.UPLIFT)),
        ("horizontal", (Check.TIE, Check.UPLIFT, Check.EMBEDMENT)),
    ):
        one, two = (
            strength_task(STATED + CALM + bays(kind, count), points=OPEN, gate="", cold_lbf=300)
            for count in (1, 2)
        )
        end = int(one.layout.runs.from_post[0])
        for check in checks:
            assert used_by(two, check, end) < 0.95 * used_by(one, check, end), (kind, check)


@pytest.mark.parametrize("kind", ["diagonal", "horizontal"])
@pytest.mark.parametrize("soil", ["sand", "clay"])
def test_at_its_capacity_an_end_of_two_bays_is_just_used_up(
    strength_task: Tasks, kind: str, soil: str
) -> None:
    more = STATED + CALM + bays(kind, 2)
    first = check_strength(strength_task(more, points=OPEN, gate="", soil=soil, cold_lbf=100))[0].ends
    whole = float(first.capacity_n[0, 0])
    task = strength_task(more, points=OPEN, gate="", soil=soil, cold_lbf=whole / 4 / POUND_FORCE_N)
    strength, _ = check_strength(task)
    uprights = np.flatnonzero(task.layout.posts.role == int(Role.BRACE)).tolist()
    ends = [int(task.layout.runs.from_post[0]), *uprights]
    assert strength.utilisation[ends].max() == pytest.approx(1.0, abs=2e-2)


def test_two_bays_carry_more_than_one(strength_task: Tasks) -> None:
    for kind in ("diagonal", "horizontal"):
        one, two = (
            check_strength(strength_task(STATED + bays(kind, count), points=OPEN, gate=""))[0].ends
            for count in (1, 2)
        )
        assert two.capacity_n.min() > 1.05 * one.capacity_n.min()
        assert two.stiffness_n_m.min() > 1.1 * one.stiffness_n_m.min()


@pytest.mark.parametrize("kind", ["diagonal", "horizontal"])
def test_a_corner_of_two_bays_is_lifted_less(strength_task: Tasks, kind: str) -> None:
    one, two = (strength_task(STATED + bays(kind, count)) for count in (1, 2))
    corner = int(np.flatnonzero(one.layout.posts.role == int(Role.CORNER))[0])
    other = int(np.flatnonzero(two.layout.posts.role == int(Role.CORNER))[0])
    assert used_by(two, Check.UPLIFT, other) < 0.9 * used_by(one, Check.UPLIFT, corner)
