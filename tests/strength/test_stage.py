"""The stage as a whole: what usual posts and holes give, what is kept, what a second run changes."""

from collections.abc import Callable

import numpy as np
import pytest

from fencewright.strength.stage import check_strength, size_holes
from fencewright.strength.task import StrengthTask
from fencewright.tables.fence import Role
from fencewright.tables.strength import Check

Tasks = Callable[..., StrengthTask]
STATED = '[holes]\nauger = "12 in"\nbell = "6 in"\nend_depth = "48 in"\nbrace_depth = "48 in"\nline_depth = "30 in"\n'
OPEN = '[["0 ft", "0 ft"], ["150 ft", "0 ft"], ["300 ft", "40 ft"], ["450 ft", "40 ft"]]'
MANY = (
    "",
    STATED,
    '[brace]\nkind = "horizontal"\n',
    '[brace]\nkind = "none"\n',
    "[brace]\nbays = 2\n",
    '[brace]\nkind = "horizontal"\nbays = 2\n',
    '[strength]\nmethod = "lrfd"\nice_thickness = "0.5 in"\nwind_speed = "105 mph"\n',
    '[strength]\nend_pipe = "6 in schedule 40"\nline_pipe = "4 in schedule 40"\n',
)


def role_rows(task: StrengthTask, role: Role) -> list[int]:
    return np.flatnonzero(task.layout.posts.role == int(role)).tolist()


def used_by(task: StrengthTask, check: Check, post: int) -> float:
    checks = check_strength(task)[0].checks
    mine = (checks.check == int(check)) & (checks.post_index == post)
    return float(checks.utilisation[mine].max())


def test_usual_ends_and_corners_come_out_near_the_line(strength_task: Tasks) -> None:
    """Common practice, no source: 6 in ends, 12 in holes 48 in deep, four rails at their cold pull."""
    task = strength_task(STATED)
    strength, findings = check_strength(task)
    for role in (Role.GATE, Role.CORNER):
        used = strength.utilisation[role_rows(task, role)]
        assert used.min() > 0.6
        assert used.max() < 1.0
    assert not [one for one in findings if one.level != "note"]


def test_a_strain_post_on_a_slight_bend_is_used_as_on_a_straight(strength_task: Tasks) -> None:
    """At 0.2 degrees its two braces took 93 kN each to hold the wind across them: 1,661 % of their post's hole."""

    def used(rise_ft: float) -> float:
        points = f'[["0 ft", "0 ft"], ["200 ft", "0 ft"], ["400 ft", "{rise_ft} ft"]]'
        task = strength_task(STATED + '[[strain]]\nline = "paddock"\nat = "200 ft"\n', points=points, gate="")
        strain = role_rows(task, Role.STRAIN)
        assert len(strain) == 1
        return float(check_strength(task)[0].utilisation[strain[0]])

    straight = used(0.0)
    for rise_ft in (0.7, 3.5, 10.0, 20.0):  # 0.2, 1, 3 and 6 degrees
        assert used(rise_ft) == pytest.approx(straight, rel=0.35)


def test_uplift_at_a_corner_is_twice_that_of_an_end(strength_task: Tasks) -> None:
    task = strength_task(STATED)
    end, corner = role_rows(task, Role.GATE)[1], role_rows(task, Role.CORNER)[1]
    assert used_by(task, Check.UPLIFT_SHAFT, corner) == pytest.approx(
        2 * used_by(task, Check.UPLIFT_SHAFT, end), rel=2e-2
    )


def test_the_models_of_uplift_differ_at_a_corner(strength_task: Tasks) -> None:
    """They agree that an end holds; only some of them say so of a corner."""
    task = strength_task(STATED)
    models = (Check.UPLIFT_SHAFT, Check.UPLIFT_CYLINDER, Check.UPLIFT_CONE)
    end, corner = role_rows(task, Role.GATE)[1], role_rows(task, Role.CORNER)[0]
    assert max(used_by(task, model, end) for model in models) < 1
    at_corner = [used_by(task, model, corner) for model in models]
    assert min(at_corner) < 1 < max(at_corner)


@pytest.mark.parametrize("more", MANY)
@pytest.mark.parametrize("soil", ["sand", "clay"])
def test_a_second_run_with_the_sizes_chosen_changes_nothing(
    strength_task: Tasks, more: str, soil: str
) -> None:
    task = strength_task(more, soil=soil)
    first, _ = check_strength(task)
    second, findings = check_strength(task.with_depths(first.sizes.depth_m, first.brace_sizes.depth_m))
    assert np.array_equal(second.sizes.depth_m, first.sizes.depth_m)
    assert np.array_equal(second.brace_sizes.depth_m, first.brace_sizes.depth_m)
    assert np.array_equal(second.checks.utilisation, first.checks.utilisation)
    assert not [one for one in findings if one.code == "footing-enlarged"]


@pytest.mark.parametrize("more", MANY)
def test_rows_are_finite_and_each_names_its_case(strength_task: Tasks, more: str) -> None:
    checks = check_strength(strength_task(more))[0].checks
    assert len(checks) > 100
    assert np.isfinite(checks.utilisation).all()
    assert np.allclose(checks.utilisation, checks.demand / checks.capacity)
    assert checks.case_index.min() >= 0
    assert checks.case_index.max() < len(checks.cases)


def test_utilisation_is_the_largest_counted_row(strength_task: Tasks) -> None:
    task = strength_task()
    strength, _ = check_strength(task)
    checks = strength.checks
    for post in range(0, len(task.layout.posts), 7):
        mine = [
            float(checks.utilisation[row])
            for row in np.flatnonzero(checks.post_index == post)
            if Check(checks.check[row]).kind.is_counted
        ]
        assert strength.utilisation[post] == max(mine)


def test_one_row_a_check_and_post_or_brace(strength_task: Tasks) -> None:
    checks = check_strength(strength_task())[0].checks
    keys = set(
        zip(checks.post_index.tolist(), checks.brace_index.tolist(), checks.check.tolist(), strict=True)
    )
    assert len(keys) == len(checks)


def test_sizes_are_only_enlarged_and_what_is_stated_is_kept(strength_task: Tasks) -> None:
    free, kept = strength_task(soil="clay"), strength_task(STATED, soil="clay")
    sizes = check_strength(free)[0].sizes
    assert (sizes.depth_m >= free.holes.depth_m).all()
    assert (sizes.depth_m > free.holes.depth_m + 0.05).any()
    assert np.array_equal(check_strength(kept)[0].sizes.depth_m, kept.holes.depth_m)


def test_soil_without_values_stops_and_is_asked_nothing(strength_task: Tasks) -> None:
    strength, findings = check_strength(strength_task(soil="peat"))
    assert [one.code for one in findings if one.level == "stop"] == ["soil-has-no-values"]
    assert not np.isin(strength.checks.check, (int(Check.EMBEDMENT), int(Check.UPLIFT))).any()
    assert np.isfinite(strength.utilisation).all()
    assert not strength.ends.capacity_n.any()


def test_an_unbraced_end_carries_far_less(strength_task: Tasks) -> None:
    braced = size_holes(strength_task(STATED)).ends
    bare = size_holes(strength_task(STATED + '[brace]\nkind = "none"\n')).ends
    assert (bare.capacity_n < braced.capacity_n / 4).all()
    assert (bare.stiffness_n_m < braced.stiffness_n_m / 4).all()


def test_steel_ends_bend_less_of_their_strength(strength_task: Tasks) -> None:
    timber, steel = strength_task(STATED), strength_task(STATED + MANY[-1])
    post = role_rows(timber, Role.CORNER)[0]
    assert used_by(steel, Check.BENDING, post) < used_by(timber, Check.BENDING, post)


def test_a_bend_is_held_by_its_soil_alone(strength_task: Tasks) -> None:
    task = strength_task(points=OPEN, gate="")
    bend = role_rows(task, Role.BEND)[0]
    strength, _ = check_strength(task)
    assert strength.sizes.governs[bend] == "embedment"
    assert 0.9 < used_by(task, Check.EMBEDMENT, bend) <= 1


def test_braces_never_let_a_post_move_further_than_its_soil_alone(strength_task: Tasks) -> None:
    """Those of a corner that turns little stand nearly across its pull: by them alone its top went three times as far."""
    points = '[["0 ft", "0 ft"], ["150 ft", "0 ft"], ["290 ft", "54 ft"]]'
    stated = '[holes]\nend_depth = "66 in"\nbrace_depth = "30 in"\n'
    moved = []
    for brace in ("diagonal", "none"):
        task = strength_task(f'{stated}[brace]\nkind = "{brace}"\n', points=points, gate="")
        (corner,) = np.flatnonzero(task.layout.posts.role == int(Role.CORNER))
        moved.append(float(check_strength(task)[0].movement_m[corner]))
    assert 0.0 < moved[0] <= moved[1] * (1 + 1e-9)
