"""Runs: where the rail ends, strain posts by length, by turning and by wish, closed lines without an end."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from fencewright.layout.runs import turning_limit_rad
from fencewright.pipeline.record import Design
from fencewright.tables.fence import Role

Laid = Callable[..., Design]
SQUARE = [(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)]
CLOSED = "closed = true"


def strains(made: Design) -> np.ndarray:
    posts = made.layout.posts
    return np.asarray(posts.station_m[posts.role == int(Role.STRAIN)])


def ring(count: int, radius_m: float) -> list[tuple[float, float]]:
    return [(radius_m * math.cos(a), radius_m * math.sin(a)) for a in np.arange(count) * 2 * math.pi / count]


def test_a_closed_line_without_a_gate_starts_and_finishes_at_one_corner(laid: Laid) -> None:
    layout = laid({"a": (SQUARE, CLOSED)}).layout
    assert len(layout.runs) == 1
    assert layout.runs.from_post[0] == layout.runs.to_post[0]
    assert math.degrees(layout.runs.turning_rad[0]) == pytest.approx(270)
    assert "starts and finishes here" in layout.posts.why[int(layout.runs.from_post[0])]


def test_it_starts_at_the_corner_that_turns_most(laid: Laid) -> None:
    kite = [(0.0, 0.0), (50.0, -20.0), (90.0, 0.0), (50.0, 20.0)]
    layout = laid({"a": (kite, CLOSED)}).layout
    assert layout.posts.x_m[int(layout.runs.from_post[0])] == pytest.approx(0.0)


def test_a_closed_curve_without_any_corner_starts_at_its_first_point(laid: Laid) -> None:
    """400 turns of 0.9 deg, none of which asks for a post: 360 deg all the same, more than one pull's."""
    made = laid({"a": (ring(400, 50.0), CLOSED)})
    layout = made.layout
    assert (layout.posts.role == int(Role.STRAIN)).sum() == 2
    assert layout.posts.station_m[int(layout.runs.from_post[0])] == 0.0
    assert len(layout.posts) == 2 * math.ceil(layout.lines[0].length_m / 2 / 4.0)
    assert (layout.runs.turning_rad <= turning_limit_rad(made.job.settings.layout)).all()


def test_turns_too_small_for_a_post_count_in_their_pull(laid: Laid) -> None:
    """A quarter turn of 60 turns of 1.5 deg, by the tables of runs and, from the posts as set, of pulls."""
    steps = np.deg2rad(np.arange(60) * 1.5 + 1.5)
    points = np.vstack(
        [[0.0, 0.0], np.cumsum(np.column_stack([np.cos(steps), np.sin(steps)]), axis=0) + [10, 0]]
    )
    made = laid({"a": [(float(x), float(y)) for x, y in np.vstack([[0.0, 0.0], [10.0, 0.0], points[1:]])]})
    assert len(made.layout.runs) == 1
    assert not (made.layout.posts.role == int(Role.BEND)).any()
    assert math.degrees(made.layout.runs.turning_rad[0]) == pytest.approx(90.0)
    assert math.degrees(made.pulls.turning_3d_rad[0]) == pytest.approx(
        90.0, abs=3.0
    )  # the end spans hold some


def test_a_circle_of_bends_is_two_pulls(laid: Laid) -> None:
    """36 bends of 10 deg: 360 deg in all, more than one pull's; the two are as even as can be."""
    made = laid({"a": (ring(36, 50.0), CLOSED)})
    assert len(made.layout.runs) == 2
    assert made.layout.runs.turning_rad[0] == pytest.approx(made.layout.runs.turning_rad[1])
    assert (made.layout.posts.role == int(Role.BEND)).sum() == 34
    limit = turning_limit_rad(made.job.settings.layout)
    assert (made.layout.runs.turning_rad <= limit).all()


def test_a_curved_corner_of_several_bends_is_one_pull_of_their_sum(laid: Laid) -> None:
    """A quarter turn in six bends of 15 deg, each less than a corner."""
    steps = np.deg2rad(np.arange(15, 91, 15))
    points = [(0.0, 0.0), (40.0, 0.0)]
    for heading in steps[:-1]:
        points.append((points[-1][0] + 4 * math.cos(heading), points[-1][1] + 4 * math.sin(heading)))
    points.append((points[-1][0], points[-1][1] + 40.0))
    made = laid({"a": points})
    assert len(made.layout.runs) == 1
    assert math.degrees(made.layout.runs.turning_rad[0]) == pytest.approx(90)
    assert (made.layout.posts.role == int(Role.BEND)).sum() == 6
    assert len(made.layout.braces) == 2
    assert not [one for one in made.findings if one.level == "stop"]


def test_turning_points_nearer_than_two_holes_share_a_post(laid: Laid) -> None:
    made = laid({"a": [(0.0, 0.0), (40.0, 0.0), (40.3, 0.3), (40.3, 40.0)]})
    assert (made.layout.posts.role == int(Role.CORNER)).sum() == 1
    assert [one.code for one in made.findings if one.code == "bends-merged"]
    assert math.degrees(made.layout.runs.turning_rad[0]) == pytest.approx(90)


@pytest.mark.parametrize("stub", [(0.3, 0.3), (0.05, 0.0), (0.0, 0.05), (0.2, -0.1)])
def test_a_corner_drawn_twice_is_braced_along_its_legs(laid: Laid, stub: tuple[float, float]) -> None:
    """Along the stub between its two points no fence runs: a brace there held nothing, and the pull was cut to 8 %."""
    to_x, to_y = 40.0 + stub[0], stub[1]
    twice = laid({"a": [(0.0, 0.0), (40.0, 0.0), (to_x, to_y), (to_x, 40.0)]}).layout
    once = laid({"a": [(0.0, 0.0), (40.0, 0.0), (40.0, 40.0)]}).layout
    assert len(twice.braces) == len(once.braces) == 4
    feet = [np.column_stack([one.braces.x_m, one.braces.y_m]) for one in (twice, once)]
    assert np.abs(feet[0] - feet[1]).max() <= math.hypot(*stub) + 1e-9
    at = int(np.flatnonzero(twice.posts.role == int(Role.CORNER))[0])
    assert math.degrees(twice.posts.heading_rad[at]) == pytest.approx(45)


@pytest.mark.parametrize(
    ("turn_deg", "role"),
    [(1.9, None), (2.1, Role.BEND), (19.9, Role.BEND), (20.1, Role.CORNER), (120.0, Role.CORNER)],
)
def test_what_a_turning_point_is(laid: Laid, turn_deg: float, role: Role | None) -> None:
    """Common practice, no source: below 2 deg no post of its own, from 20 deg a corner."""
    turn = math.radians(turn_deg)
    posts = laid(
        {"a": [(0.0, 0.0), (40.0, 0.0), (40 + 40 * math.cos(turn), 40 * math.sin(turn))]}
    ).layout.posts
    own = [Role(int(kind)) for kind in posts.role if kind not in (int(Role.LINE), int(Role.END))]
    assert own == ([role] if role is not None else [])


@pytest.mark.parametrize(
    ("limit", "pulls"), [("400 m", 3), ("500 m", 2), ("1000 m", 1), ("999 m", 2), ("333.34 m", 3)]
)
def test_a_long_run_is_divided_into_the_fewest_even_pulls(laid: Laid, limit: str, pulls: int) -> None:
    made = laid({"a": [(0.0, 0.0), (1000.0, 0.0)]}, fence=f'pull_length_limit = "{limit}"')
    np.testing.assert_allclose(strains(made), np.arange(1, pulls) * 1000 / pulls, atol=1e-6)
    assert len(made.layout.runs) == pulls
    assert len(made.layout.braces) == 2 * pulls


def test_a_strain_post_keeps_out_of_a_clearance(laid: Laid) -> None:
    pond = '[[obstacle]]\nkind = "pond"\npoints = [["500 m", "0 m"]]\nradius = "1 m"\nclearance = "0.5 m"\n'
    made = laid({"a": [(0.0, 0.0), (1000.0, 0.0)]}, pond, fence='pull_length_limit = "600 m"')
    assert abs(strains(made)[0] - 500) >= 1.5 + (0.3048 + 0.1524) / 2 - 1e-6
    assert abs(strains(made)[0] - 500) < 1.8
    assert not [one for one in made.findings if one.code == "post-in-clearance"]


def test_no_room_for_a_strain_post_is_a_stop(laid: Laid) -> None:
    pond = '[[obstacle]]\nkind = "pond"\npoints = [["10 m", "0 m"], ["190 m", "0 m"]]\n'
    made = laid({"a": [(0.0, 0.0), (200.0, 0.0)]}, pond, fence='pull_length_limit = "120 m"')
    assert "no-strain-post" in [one.code for one in made.findings if one.level == "stop"]


@pytest.mark.parametrize("at", ["60 m", "59.8 m"])
def test_a_strain_that_is_asked_for_at_a_corner_ends_the_rail_there(laid: Laid, at: str) -> None:
    made = laid({"a": [(0.0, 0.0), (60.0, 0.0), (60.0, 40.0)]}, f'[[strain]]\nline = "a"\nat = "{at}"\n')
    assert len(made.layout.runs) == 2
    post = int(made.layout.runs.to_post[0])
    assert Role(int(made.layout.posts.role[post])) is Role.CORNER
    assert "the job ends the rail here" in made.layout.posts.why[post]
    assert (made.layout.runs.turning_rad == 0).all()


def test_a_strain_that_is_asked_for_mid_run_is_braced_both_ways(laid: Laid) -> None:
    made = laid({"a": [(0.0, 0.0), (60.0, 0.0)]}, '[[strain]]\nline = "a"\nat = "30 m"\n')
    assert strains(made).tolist() == [30.0]
    assert sorted(made.layout.braces.x_m.round(3).tolist()) == pytest.approx(
        [1.778, 28.222, 31.778, 58.222], abs=1e-3
    )


def test_turning_is_limited_by_belt_friction(laid: Laid) -> None:
    """With friction 0.5 and half the pull at the far end: ln 2 / 0.5 = 79.4 deg, less than one corner each."""
    made = laid({"a": (SQUARE, CLOSED)}, fence="friction = 0.5\nfar_end_share = 0.5")
    assert math.degrees(turning_limit_rad(made.job.settings.layout)) == pytest.approx(79.42, abs=0.01)
    assert len(made.layout.runs) == 4
    assert (made.layout.runs.turning_rad == 0).all()
    assert sum("the rail ends here both ways" in why for why in made.layout.posts.why) == 3


def test_every_fixed_post_says_why(laid: Laid) -> None:
    made = laid(
        {"a": (SQUARE, CLOSED), "b": [(30.0, 0.0), (30.0, 40.0)]},
        '[[gate]]\nline = "a"\nat = "10 m"\nopening = "4 m"\n[[strain]]\nline = "a"\nat = "80 m"\n',
    )
    posts = made.layout.posts
    assert all(why for why in posts.why)
    assert any("farther post of gate 1" in why for why in posts.why)


def test_spans_of_a_run_follow_one_another(laid: Laid) -> None:
    layout = laid({"a": (SQUARE, CLOSED)}, '[[gate]]\nline = "a"\nat = "10 m"\nopening = "4 m"\n').layout
    spans = layout.spans
    np.testing.assert_array_equal(spans.to_post[:-1], spans.from_post[1:])
    assert spans.to_post[-1] == spans.from_post[0]
    along = np.mod(spans.to_station_m - spans.from_station_m, 200.0)
    assert along.sum() == pytest.approx(200.0, abs=1e-9)
    assert (spans.length_m >= along - 0.2).all()
    assert spans.length_m.max() < 4.2
    assert (np.diff(spans.run_index[spans.run_index >= 0]) >= 0).all()
