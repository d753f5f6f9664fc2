"""Lines that share posts: tees, shared corners, a lane between two paddocks; lines that cross or lie on one another."""

from collections import Counter
from collections.abc import Callable

import numpy as np
import pytest

from fencewright.pipeline.record import Design
from fencewright.tables.fence import Role

Laid = Callable[..., Design]
SQUARE = [(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)]
EAST = [(70.0, 0.0), (120.0, 0.0), (120.0, 40.0), (70.0, 40.0)]
CLOSED = "closed = true"
OWN = {
    "lines-cross", "lines-overlap", "holes-touch", "leg-too-short", "rail-leaves-corner", "rail-leaves-bend",
    "post-in-clearance", "brace-in-clearance", "span-over-clearance", "no-strain-post", "leaf-too-long",
}  # fmt: skip


def roles(made: Design) -> dict[str, int]:
    return dict(Counter(Role(int(role)).label for role in made.layout.posts.role))


def codes(made: Design) -> list[str]:
    """Codes of the layout's own stops and cautions."""
    return [one.code for one in made.findings if one.code in OWN]


def visits(made: Design) -> list[tuple[float, float, int, float]]:
    layout = made.layout
    return [
        (float(layout.posts.x_m[post]), float(layout.posts.y_m[post]), int(line), round(float(station), 6))
        for post, line, station in zip(
            layout.visits.post_index, layout.visits.line_index, layout.visits.station_m, strict=True
        )
    ]


def test_a_fence_across_a_paddock_ends_on_two_tees(laid: Laid) -> None:
    made = laid({"a": (SQUARE, CLOSED), "b": [(30.0, 0.0), (30.0, 40.0)]})
    assert roles(made)["tee"] == 2
    assert visits(made) == [(30.0, 0.0, 1, 0.0), (30.0, 40.0, 1, 40.0)]
    assert len(made.layout.braces) == 8 + 2  # each corner both ways, each end of b once
    assert not codes(made)


def test_the_rail_of_the_first_line_passes_the_tee(laid: Laid) -> None:
    alone = laid({"a": (SQUARE, CLOSED)})
    made = laid({"a": (SQUARE, CLOSED), "b": [(30.0, 0.0), (30.0, 40.0)]})
    assert len(made.layout.runs) == len(alone.layout.runs) + 1
    assert made.layout.runs.turning_rad[0] == pytest.approx(alone.layout.runs.turning_rad[0])


def test_the_order_of_the_lines_does_not_matter_to_the_counts(laid: Laid) -> None:
    one = laid({"a": (SQUARE, CLOSED), "b": [(30.0, 0.0), (30.0, 40.0)]})
    other = laid({"b": [(30.0, 0.0), (30.0, 40.0)], "a": (SQUARE, CLOSED)})
    assert len(one.layout.posts) == len(other.layout.posts)
    assert len(one.layout.braces) == len(other.layout.braces)


SHARED = {
    "an end on another's middle": {"a": SQUARE, "b": [(30.0, 0.0), (30.0, 40.0)]},
    "an end on another's corner": {"a": SQUARE, "b": [(60.0, 40.0), (95.0, 60.0)]},
    "a corner on another's middle": {"a": SQUARE, "b": [(100.0, 10.0), (60.0, 20.0), (100.0, 35.0)]},
    "two ends": {"a": [(0.0, 0.0), (60.0, 0.0)], "b": [(60.0, 0.0), (110.0, 20.0)]},
}


GATE = '[[gate]]\nline = "b"\nat = "0 m"\nopening = "3.6 m"\nswing = "left"\n'


@pytest.mark.parametrize("gate", ["", GATE])
@pytest.mark.parametrize("case", SHARED)
def test_the_order_of_the_lines_does_not_matter_to_what_a_shared_post_is(
    laid: Laid, case: str, gate: str
) -> None:
    """Nor to the loads that it is checked for: an animal leans on a tee, and did not where its post was called an end."""
    lines = {name: (points, CLOSED) if points is SQUARE else points for name, points in SHARED[case].items()}
    found = []
    for names in ("ab", "ba"):
        made = laid({name: lines[name] for name in names}, gate)
        posts, checks = made.layout.posts, made.strength.checks
        cases = [
            sorted({checks.cases[k] for k in checks.case_index[checks.post_index == row]})
            for row in range(len(posts))
        ]
        used = np.round(made.strength.utilisation, 6).tolist()
        places = zip(np.round(posts.x_m, 6).tolist(), np.round(posts.y_m, 6).tolist(), strict=True)
        found.append(dict(zip(places, zip(posts.role.tolist(), used, cases, strict=True), strict=True)))
    assert found[0] == found[1]


def test_an_end_within_a_foot_is_drawn_onto_the_line(laid: Laid) -> None:
    made = laid({"a": [(0.0, 0.0), (60.0, 0.0)], "b": [(30.0, 0.2), (30.0, 20.0)]})
    assert visits(made) == [(30.0, 0.0, 1, 0.0)]
    assert roles(made) == {"end": 3, "tee": 1, "line": 14 + 4}


def test_an_end_further_away_stands_alone(laid: Laid) -> None:
    made = laid({"a": [(0.0, 0.0), (60.0, 0.0)], "b": [(30.0, 0.5), (30.0, 20.0)]})
    assert roles(made)["end"] == 4
    assert not visits(made)


def test_two_paddocks_that_share_a_leg_share_its_corners(laid: Laid) -> None:
    """The second is drawn as an open line that ends on the first's corners: nothing is built twice."""
    made = laid({"a": (SQUARE, CLOSED), "b": [(60.0, 0.0), (100.0, 0.0), (100.0, 40.0), (60.0, 40.0)]})
    assert roles(made)["corner"] == 6
    assert [row[:2] for row in visits(made)] == [(60.0, 0.0), (60.0, 40.0)]
    assert len(made.layout.braces) == 8 + 6
    why = [made.layout.posts.why[post] for post in made.layout.visits.post_index]
    assert all("the line turns 90.0 deg left" in one and 'shared with line "b"' in one for one in why)
    assert not codes(made)


def test_a_lane_between_two_paddocks(laid: Laid) -> None:
    lanes = {"south": [(60.0, 0.0), (70.0, 0.0)], "north": [(60.0, 40.0), (70.0, 40.0)]}
    made = laid({"west": (SQUARE, CLOSED), "east": (EAST, CLOSED), **lanes})
    assert roles(made)["corner"] == 8
    assert len(made.layout.visits.post_index) == 4
    assert len(made.layout.braces) == 16 + 4
    assert len(made.layout.runs) == 4
    assert not codes(made)
    xy = np.column_stack([made.layout.posts.x_m, made.layout.posts.y_m])
    assert len(np.unique(xy.round(3), axis=0)) == len(xy)  # one post, one row


def test_three_lines_share_one_post(laid: Laid) -> None:
    arms = {
        name: [(0.0, 0.0), end] for name, end in (("a", (30.0, 0.0)), ("b", (0.0, 30.0)), ("c", (-30.0, 5.0)))
    }
    made = laid(arms)
    assert [row[2] for row in visits(made)] == [1, 2]
    assert set(made.layout.visits.post_index.tolist()) == {0}
    assert roles(made)["end"] == 4


def test_two_lines_with_a_point_at_their_crossing_share_its_post(laid: Laid) -> None:
    made = laid(
        {"a": [(0.0, 0.0), (30.0, 0.0), (60.0, 0.0)], "b": [(30.0, -30.0), (30.0, 0.0), (30.0, 30.0)]}
    )
    assert roles(made)["tee"] == 1
    assert not codes(made)


def test_lines_that_cross_without_a_post_are_stopped(laid: Laid) -> None:
    made = laid({"a": [(0.0, 0.0), (60.0, 0.0)], "b": [(30.0, -20.0), (30.0, 20.0)]})
    assert codes(made) == ["lines-cross"]
    found = next(one for one in made.findings if one.code == "lines-cross")
    assert (found.level, found.where.line) == ("stop", "b")
    assert found.where.station_m == pytest.approx(20.0)
    assert "x 30.00 m, y 0.00 m" in found.message
    assert not made.may_be_built


def test_lines_that_lie_on_one_another_are_stopped(laid: Laid) -> None:
    made = laid(
        {"a": (SQUARE, CLOSED), "b": ([(60.0, 0.0), (100.0, 0.0), (100.0, 40.0), (60.0, 40.0)], CLOSED)}
    )
    found = next(one for one in made.findings if one.code == "lines-overlap")
    assert "from station 120.00 m to 160.00 m" in found.message
    assert 'open line that ends on "a" at both ends' in found.remedy


def test_a_gate_at_a_tee_is_a_gate_post_of_both(laid: Laid) -> None:
    made = laid(
        {"a": (SQUARE, CLOSED), "b": [(30.0, 0.0), (30.0, 40.0)]},
        '[[gate]]\nline = "b"\nat = "0 m"\nopening = "4 m"\n',
    )
    assert roles(made)["gate"] == 2
    post = int(made.layout.openings.from_post[0])
    assert made.layout.posts.line_index[post] == 0
    assert not codes(made)


def test_posts_of_two_lines_too_near_break_into_each_other(laid: Laid) -> None:
    """The bend of b stands 31 cm off a's line, just too far to be drawn onto it, beside a line post of a."""
    made = laid({"a": [(0.0, 0.0), (56.0, 0.0)], "b": [(0.0, 4.0), (28.0, 0.31), (56.0, 4.0)]})
    found = [one for one in made.findings if one.code == "holes-touch"]
    assert [one.level for one in found] == ["caution"]
    assert "P8 and P" in found[0].message
    apart = laid({"a": [(0.0, 0.0), (56.0, 0.0)], "b": [(0.0, 4.0), (28.0, 0.34), (56.0, 4.0)]})
    assert "holes-touch" not in codes(apart)


def test_a_post_in_the_hole_of_a_brace_is_found(laid: Laid) -> None:
    """The bend of b stands 35 cm off a's line, where a's brace has its footing, 70 in from the end."""
    made = laid({"a": [(0.0, 0.0), (56.0, 0.0)], "b": [(-20.0, 8.0), (1.778, 0.306), (56.0, 8.0)]})
    found = [one.message for one in made.findings if one.code == "holes-touch"]
    assert not found
    wide = laid(
        {"a": [(0.0, 0.0), (56.0, 0.0)], "b": [(-20.0, 8.0), (1.778, 0.306), (56.0, 8.0)]},
        '[holes]\nauger = "14 in"\n',
    )
    found = [one.message for one in wide.findings if one.code == "holes-touch"]
    assert len(found) == 1
    assert "and B1 stand 306 mm apart" in found[0]


def test_the_brace_of_an_end_avoids_the_post_of_a_tee(laid: Laid) -> None:
    made = laid({"a": [(0.0, 0.0), (56.0, 0.0)], "b": [(1.8, 0.0), (1.8, 30.0)]})
    assert not codes(made)
    assert abs(made.layout.braces.x_m[0] - 1.8) >= 0.3048
