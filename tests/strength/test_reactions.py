"""Statics of each case: loads, thrusts and what is left for the soil are in balance."""

from collections.abc import Callable

import numpy as np
import pytest

from fencewright.quantity.parse import INCH_M, POUND_FORCE_N
from fencewright.strength.braces import brace_frame
from fencewright.strength.load_cases import Factors, cases_of, soil_factors
from fencewright.strength.post_loads import forces_of, surroundings_of
from fencewright.strength.reactions import SECOND_SHARE, passed_on_n, reactions_of
from fencewright.strength.task import StrengthTask, members_of
from fencewright.tables.fence import Role

Tasks = Callable[..., StrengthTask]
KINDS = ("diagonal", "horizontal", "none", 'diagonal"\nbays = 2 #', 'horizontal"\nbays = 2 #')


def rows(task: StrengthTask, role: Role) -> list[int]:
    return np.flatnonzero(task.layout.posts.role == int(role)).tolist()


@pytest.mark.parametrize("kind", KINDS)
def test_forces_and_moments_balance_in_every_case(strength_task: Tasks, kind: str) -> None:
    task = strength_task(f'[brace]\nkind = "{kind}"\n')
    around, frame, members = surroundings_of(task), brace_frame(task), members_of(task)
    braces = task.layout.braces
    for case in cases_of(task.settings, task.layout.runs, task.layout.openings):
        loads = forces_of(task, around, case, soil_factors(case))
        held = reactions_of(task, members, frame, loads)
        force = np.where(loads.applies[:, None], loads.force_n, 0.0)
        into_soil = held.foot_n.sum(axis=0)
        diagonal = ~braces.is_horizontal
        footings = (held.thrust_n[diagonal, None] * frame.unit[diagonal]).sum(axis=0)
        assert into_soil + footings == pytest.approx(force.sum(axis=0), abs=1e-6)


def test_an_end_gets_its_pull_and_kicks_with_what_the_brace_leaves(strength_task: Tasks) -> None:
    """Four rails of 640 lbf at a mean height of 32.5 in, contact 40 in: thrust 2080 lbf, kick 480 lbf."""
    task = strength_task()
    case = task.settings.strength.cases[0]
    loads = forces_of(task, surroundings_of(task), case, Factors(1.0, 0.0, 0.0))
    held = reactions_of(task, members_of(task), brace_frame(task), loads)
    end = rows(task, Role.GATE)[1]
    assert np.hypot(*loads.force_n[end]) == pytest.approx(2560 * POUND_FORCE_N, rel=1e-6)
    assert np.hypot(*loads.moment_n_m[end]) == pytest.approx(2560 * 32.5 * POUND_FORCE_N * INCH_M, rel=1e-6)
    brace = np.flatnonzero(task.layout.braces.post_index == end)[0]
    assert held.thrust_n[brace] == pytest.approx(2080 * POUND_FORCE_N, rel=1e-3)
    assert held.kick_n[end] == pytest.approx(480 * POUND_FORCE_N, rel=5e-3)
    assert held.uplift_n[end] == pytest.approx(2080 * 58 / 70 * POUND_FORCE_N, rel=5e-3)


def test_a_corner_is_pulled_along_its_bisector(strength_task: Tasks) -> None:
    task = strength_task()
    loads = forces_of(task, surroundings_of(task), task.settings.strength.cases[0], Factors(1.0, 0.0, 0.0))
    corner = rows(task, Role.CORNER)[0]
    force = loads.force_n[corner] / POUND_FORCE_N
    assert np.abs(force) == pytest.approx([2560.0, 2560.0], rel=1e-3)


def test_a_straight_line_post_gets_no_pull_but_all_the_wind(strength_task: Tasks) -> None:
    task = strength_task()
    around = surroundings_of(task)
    by_name = {case.name: case for case in task.settings.strength.cases}
    line = rows(task, Role.LINE)[5]
    cold = forces_of(task, around, by_name["cold pull"], Factors(1.0, 0.0, 0.0))
    assert np.hypot(*cold.force_n[line]) < 2.0
    left = forces_of(task, around, by_name["hot pull, wind from the right"], Factors(0.0, 1.0, 0.0))
    right = forces_of(task, around, by_name["hot pull, wind from the left"], Factors(0.0, 1.0, 0.0))
    assert left.force_n == pytest.approx(-right.force_n)
    assert np.hypot(*left.force_n[line]) > 300.0


def test_wind_grows_with_the_square_of_its_speed(strength_task: Tasks) -> None:
    slow, fast = (strength_task(f'[strength]\nwind_speed = "{speed}"\n') for speed in ("40 mph", "80 mph"))
    case = next(one for one in slow.settings.strength.cases if one.wind == "left")
    line = rows(slow, Role.LINE)[5]
    force = [
        np.hypot(*forces_of(task, surroundings_of(task), case, Factors(0.0, 1.0, 0.0)).force_n[line])
        for task in (slow, fast)
    ]
    assert force[1] == pytest.approx(4 * force[0])


def test_a_leaf_turns_its_hinge_post_alone(strength_task: Tasks) -> None:
    task = strength_task()
    by_name = {case.name: case for case in task.settings.strength.cases}
    hinge = int(task.layout.openings.hinge_post[0])
    for name in ("cold pull, gate shut", "cold pull, gate swung open"):
        loads = forces_of(task, surroundings_of(task), by_name[name], Factors(0.0, 0.0, 1.0))
        assert np.flatnonzero(loads.applies).tolist() == [hinge]
        leaf = float(task.layout.openings.leaf_m[0])
        arm = leaf / 2 + task.settings.posts.end_diameter_m / 2
        assert np.hypot(*loads.moment_n_m[hinge]) == pytest.approx(120.0 * leaf * arm)


def test_a_leaf_that_hangs_at_a_corner_swings_square_to_its_gate(strength_task: Tasks) -> None:
    corner = '[["0 ft", "0 ft"], ["150 ft", "0 ft"], ["150 ft", "150 ft"]]'
    gate = '[[gate]]\nline = "paddock"\nat = "150 ft"\nopening = "12 ft"\nswing = "left"\n'
    task = strength_task(points=corner, gate=gate)
    by_name = {case.name: case for case in task.settings.strength.cases}
    hinge = int(task.layout.openings.hinge_post[0])
    assert task.layout.posts.x_m[hinge] == pytest.approx(150 * 0.3048)
    moment = [
        forces_of(task, surroundings_of(task), by_name[name], Factors(0.0, 0.0, 1.0)).moment_n_m[hinge]
        for name in ("cold pull, gate shut", "cold pull, gate swung open")
    ]
    size = np.hypot(*moment[0])
    assert moment[0] / size == pytest.approx([0.0, 1.0], abs=1e-9)
    assert moment[1] / size == pytest.approx([-1.0, 0.0], abs=1e-9)


def test_a_flood_pushes_the_two_posts_of_a_crossing(strength_task: Tasks) -> None:
    crossing = '[[crossing]]\nline = "paddock"\nat = "80 ft"\nwidth = "16 ft"\n'
    task = strength_task(crossing)
    case = next(
        one for one in cases_of(task.settings, task.layout.runs, task.layout.openings) if one.extra == "flood"
    )
    loads = forces_of(task, surroundings_of(task), case, Factors(0.0, 0.0, 1.0))
    assert np.flatnonzero(loads.applies).tolist() == rows(task, Role.CROSSING)
    opening = float(task.layout.openings.opening_m[task.layout.openings.is_crossing][0])
    drag = 0.5 * 1000 * 1.2 * 1.5**2 * 0.5 * opening * 0.6096
    assert np.linalg.norm(loads.force_n, axis=1).sum() == pytest.approx(drag)


def test_cases_that_a_fence_cannot_have_are_left_out(strength_task: Tasks) -> None:
    plain = strength_task(points='[["0 ft", "0 ft"], ["150 ft", "0 ft"]]', gate="")
    names = {case.name for case in cases_of(plain.settings, plain.layout.runs, plain.layout.openings)}
    assert not any("gate" in name or "flood" in name or "ice" in name or "alone" in name for name in names)
    strained = strength_task(
        '[[strain]]\nline = "paddock"\nat = "90 ft"\n[strength]\nice_thickness = "0.25 in"\n'
    )
    names = {
        case.name for case in cases_of(strained.settings, strained.layout.runs, strained.layout.openings)
    }
    assert {"cold pull, first run alone", "ice, wind on it", "cold pull, gate shut"} <= names


def test_a_second_upright_takes_no_more_than_its_bending_strength() -> None:
    passed = passed_on_n(
        np.array([900.0, 9000.0, 900.0]), np.array([800.0, 8000.0, 100.0]), np.full(3, 1000.0), np.ones(3)
    )
    assert passed == pytest.approx([900 * SECOND_SHARE, 1000.0, 100.0])
