"""Models of uplift, embedment as forces at grade, bearing: against the textbook functions and by hand."""

from collections.abc import Callable

import numpy as np
import pytest

from fencewright.mechanics.embedment import free_utilisation
from fencewright.mechanics.uplift import shaft_resistance_pa, shaft_skin_n, weight_n
from fencewright.quantity.parse import POUND_FORCE_N
from fencewright.strength.footings import (
    UPLIFT_MODELS,
    bearing_of_post_n,
    embedment_terms,
    hold_down_n,
    hole_shape,
)
from fencewright.strength.task import StrengthTask, footings_of, members_of
from fencewright.tables.fence import Role

Tasks = Callable[..., StrengthTask]
STATED = '[holes]\nauger = "12 in"\nbell = "{bell}"\nend_depth = "48 in"\n'


def hold(task: StrengthTask, model: str, depth_m: float | None = None) -> float:
    """Hold-down of the first corner by one model. [N]"""
    corner = np.flatnonzero(task.layout.posts.role == int(Role.CORNER))[:1]
    shape = hole_shape(task, footings_of(task), members_of(task), corner)
    depth = task.holes.depth_m[corner] if depth_m is None else np.array([depth_m])
    return float(hold_down_n(task, shape, depth, model)[0])


def test_shaft_is_its_concrete_its_skin_and_the_post(strength_task: Tasks) -> None:
    task = strength_task(STATED.format(bell="6 in"))
    corner = np.flatnonzero(task.layout.posts.role == int(Role.CORNER))[:1]
    depth = task.holes.depth_m[corner]
    length = depth - task.settings.holes.recess_m
    skin = shaft_skin_n(task.holes.diameter_m[corner], length, shaft_resistance_pa(task.soils[0].bearing_pa))
    old = weight_n(task.holes.concrete_m3[corner]) + skin / task.settings.holes.uplift_factor
    own = members_of(task).weight_n_m[corner] * (depth + task.height_m[corner])
    assert hold(task, "shaft") == pytest.approx(float((old + own)[0]))


def test_cylinder_by_hand(strength_task: Tasks) -> None:
    """12 in shaft, 18 in bell 6 in high, 48 in deep in sand: skin 333 psf / 2 on 42 in of 18 in, soil at 110 pcf."""
    task = strength_task(STATED.format(bell="6 in"))
    skin = np.pi * 1.5 * 3.5 * (2000 / 6) / 2
    ring = np.pi / 4 * (1.5**2 - 1) * 3.5 * 110
    bell = np.pi / 12 * 0.5 * (1.5**2 + 1 + 1.5)
    concrete = (bell + np.pi / 4 * (44 / 12 - 0.5) - np.pi / 4 * 0.25 * 44 / 12) * 150
    post = np.pi / 4 * 0.25 * 8.5 * 45
    by_hand = (skin + ring + concrete + post) * POUND_FORCE_N
    assert hold(task, "cylinder") == pytest.approx(by_hand, rel=2e-3)


def test_without_a_bell_the_cylinder_is_the_shaft(strength_task: Tasks) -> None:
    task = strength_task(STATED.format(bell="0 in"))
    assert hold(task, "cylinder") == pytest.approx(hold(task, "shaft"))
    assert hold(task, "ledge") < hold(task, "shaft")


@pytest.mark.parametrize("model", UPLIFT_MODELS)
def test_a_deeper_hole_holds_more_by_every_model(strength_task: Tasks, model: str) -> None:
    task = strength_task()
    held = [hold(task, model, depth) for depth in np.linspace(0.4, 1.8, 8)]
    assert (np.diff(held) > 0).all()


def test_embedment_as_forces_is_the_code_s_utilisation() -> None:
    force, moment = np.array([500.0, 0.0, 800.0]), np.array([900.0, 1200.0, 0.0])
    depth, width, lateral = np.full(3, 0.9), np.full(3, 0.3), np.full(3, 47e3)
    demand, capacity = embedment_terms(force, moment, depth, width, lateral)
    assert demand / capacity == pytest.approx(free_utilisation(force, moment, depth, width, lateral))


def test_a_tamped_post_stands_on_its_foot_and_its_friction(strength_task: Tasks) -> None:
    task = strength_task()
    line = int(np.flatnonzero(task.layout.posts.role == int(Role.LINE))[0])
    foot = np.pi / 4 * task.layout.posts.diameter_m[line] ** 2 * task.soils[line].bearing_pa
    assert bearing_of_post_n(task, footings_of(task))[line] == pytest.approx(foot + 883 / 2)


def test_half_an_inch_doubles_the_soil_sideways_alone(strength_task: Tasks) -> None:
    yes, no = (footings_of(strength_task(f"[strength]\nhalf_inch = {word}\n")) for word in ("true", "false"))
    assert yes.lateral_pa_m == pytest.approx(2 * no.lateral_pa_m)
    assert np.array_equal(yes.bearing_pa, no.bearing_pa)
