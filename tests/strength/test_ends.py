"""What ends carry: at that pull, drawn for real, the check that limits them is just used up."""

from collections.abc import Callable

import numpy as np
import pytest

from fencewright.quantity.parse import POUND_FORCE_N
from fencewright.strength.stage import check_strength
from fencewright.strength.task import StrengthTask
from fencewright.tables.fence import Role
from fencewright.tables.strength import Check

Tasks = Callable[..., StrengthTask]
OPEN = '[["0 ft", "0 ft"], ["150 ft", "0 ft"]]'
STATED = '[holes]\nend_depth = "48 in"\nbrace_depth = "48 in"\nline_depth = "30 in"\n'


@pytest.mark.parametrize("soil", ["sand", "clay", "sandy gravel"])
@pytest.mark.parametrize(
    "more", ["", '[brace]\nkind = "none"\n', '[brace]\ncontact = "46 in"\n', "[holes2]"], ids=range(4)
)
def test_at_its_capacity_an_end_is_just_used_up(strength_task: Tasks, soil: str, more: str) -> None:
    extra = STATED + ("" if more == "[holes2]" else more)
    extra = extra.replace("48 in", "40 in") if more == "[holes2]" else extra
    calm = extra + '[strength]\nwind_speed = "0 mph"\nanimal_force = "0 lbf"\n'
    first = check_strength(strength_task(calm, points=OPEN, gate="", soil=soil))[0].ends
    whole = float(first.capacity_n[0, 0])
    task = strength_task(calm, points=OPEN, gate="", soil=soil, cold_lbf=whole / 4 / POUND_FORCE_N)
    strength, _ = check_strength(task)
    end = int(task.layout.runs.from_post[0])
    assert strength.utilisation[end] == pytest.approx(1.0, abs=2e-3)
    assert Check(strength.check[end]) is Check(first.check[0, 0])


def test_capacity_knows_its_horizontal_brace(strength_task: Tasks) -> None:
    more = STATED + '[brace]\nkind = "horizontal"\n[strength]\nwind_speed = "0 mph"\nanimal_force = "0 lbf"\n'
    first = check_strength(strength_task(more, points=OPEN, gate="", cold_lbf=100))[0].ends
    pull = float(first.capacity_n[0, 0]) / 4 / POUND_FORCE_N
    task = strength_task(more, points=OPEN, gate="", cold_lbf=pull)
    strength, _ = check_strength(task)
    ends = [int(task.layout.runs.from_post[0]), *task.layout.braces.second_post.tolist()]
    assert strength.utilisation[ends].max() == pytest.approx(
        1.0, abs=2e-2
    )  # rails bend a little at the second upright


def test_a_turn_limits_a_run_that_its_ends_would_carry(strength_task: Tasks) -> None:
    task = strength_task(STATED)
    ends = check_strength(task)[0].ends
    assert ends.turn_capacity_n.shape == (1,)
    assert ends.turn_capacity_n[0] < ends.capacity_n[0].min()
    at_limit = strength_task(STATED, cold_lbf=float(ends.turn_capacity_n[0]) / 4 / POUND_FORCE_N)
    turning = np.abs(at_limit.layout.posts.turning_rad) > 0.1
    assert check_strength(at_limit)[0].utilisation[turning].max() == pytest.approx(1.0, abs=2e-2)


def test_a_turn_that_its_soil_does_not_hold_is_given_the_pull_that_it_does(strength_task: Tasks) -> None:
    """Weights do not grow with the pull: the pull over the utilisation alone would still be too much."""
    shallow = '[holes]\nend_depth = "36 in"\nbrace_depth = "36 in"\nline_depth = "30 in"\n'
    task = strength_task(shallow)
    ends = check_strength(task)[0].ends
    assert ends.turn_capacity_n[0] < float(task.tension_n["cold"][0].sum())
    calm = shallow + '[strength]\nwind_speed = "0 mph"\nanimal_force = "0 lbf"\n'
    at_limit = strength_task(calm, cold_lbf=float(ends.turn_capacity_n[0]) / 4 / POUND_FORCE_N)
    used = check_strength(at_limit)[0].utilisation
    weakest = int(ends.turn_post[0])
    assert used[weakest] == pytest.approx(1.0, abs=2e-3)
    turning = np.abs(at_limit.layout.posts.turning_rad) > 0.1
    gates = at_limit.layout.posts.role == int(Role.GATE)
    assert used[turning & ~gates].max() <= 1 + 1e-4


def test_a_run_that_turns_nowhere_has_no_such_limit(strength_task: Tasks) -> None:
    ends = check_strength(strength_task(points=OPEN, gate=""))[0].ends
    assert np.isinf(ends.turn_capacity_n).all()
    assert (ends.turn_post == -1).all()


def test_movement_is_the_pull_over_the_stiffness(strength_task: Tasks) -> None:
    """The top moves as the rails' common height does, about grade."""
    task = strength_task(STATED, points=OPEN, gate="")
    strength, _ = check_strength(task)
    end = int(task.layout.runs.from_post[0])
    pull = float(task.tension_n["cold"][0].sum())
    at_rails = pull / float(strength.ends.stiffness_n_m[0, 0])
    height = float(task.height_m[end] - task.strands.drop_m.mean())
    assert strength.movement_m[end] == pytest.approx(at_rails * float(task.height_m[end]) / height, rel=1e-6)


def test_the_fastener_carries_the_thrust_along_the_brace(strength_task: Tasks) -> None:
    strength, _ = check_strength(strength_task(STATED))
    assert (strength.fastener_n > 2080 * POUND_FORCE_N).all()
    assert strength.fastener_n.max() < 3000 * POUND_FORCE_N
