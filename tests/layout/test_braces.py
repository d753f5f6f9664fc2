"""Braces: at each rail end and each way from a corner, their feet clear of what lies in the way."""

from collections.abc import Callable

import numpy as np
import pytest
import shapely

from fencewright.findings import Finding
from fencewright.pipeline.record import Design
from fencewright.tables.fence import Role, Setting

Laid = Callable[..., Design]
STRAIGHT = [(0.0, 0.0), (60.0, 0.0)]
ELL = [(0.0, 0.0), (60.0, 0.0), (60.0, 40.0)]
INCH, FOOT = 0.0254, 0.3048
HORIZONTAL = '[brace]\nkind = "horizontal"\n'


def found(made: Design, code: str) -> list[Finding]:
    return [one for one in made.findings if one.code == code]


def tree(x: float, y: float, clearance: float) -> str:
    return f'[[obstacle]]\nkind = "tree"\npoints = [["{x} m", "{y} m"]]\nclearance = "{clearance} m"\n'


def test_each_end_once_and_a_corner_both_ways(laid: Laid) -> None:
    """Common practice, no source: foot 70 in from the post, contact 40 in up."""
    braces = laid({"a": ELL}).layout.braces
    feet = sorted(zip(braces.x_m.round(6).tolist(), braces.y_m.round(6).tolist(), strict=True))
    assert feet == [(1.778, 0.0), (58.222, 0.0), (60.0, 1.778), (60.0, 38.222)]
    np.testing.assert_allclose(braces.reach_m, 70 * INCH)
    np.testing.assert_allclose(braces.contact_m, 40 * INCH)
    below = 18 * INCH  # the brace meets its concrete this far below grade
    np.testing.assert_allclose(braces.length_m, np.hypot(70 * INCH, 40 * INCH + below))


def test_a_bend_and_a_tee_that_the_rail_passes_are_not_braced(laid: Laid) -> None:
    made = laid({"a": [(0.0, 0.0), (30.0, 0.0), (60.0, 5.0)], "b": [(20.0, 0.0), (20.0, 30.0)]})
    assert len(made.layout.braces) == 4


def test_a_foot_in_a_clearance_is_moved_and_said(laid: Laid) -> None:
    made = laid({"a": STRAIGHT}, tree(1.8, 1.0, 0.9))
    away = shapely.distance(
        shapely.Point(1.8, 1.0), shapely.points(made.layout.braces.x_m, made.layout.braces.y_m)
    )
    assert away.min() >= 0.9 + 0.1524 - 1e-9
    note = found(made, "brace-moved")[0]
    assert note.level == "note"
    assert f"{made.layout.braces.reach_m[0] * 1000:,.0f} mm from its post" in note.message
    assert not found(made, "brace-in-clearance")


def test_a_foot_that_finds_no_place_is_a_stop(laid: Laid) -> None:
    made = laid({"a": STRAIGHT}, tree(1.8, 0.5, 1.2))
    assert [one.level for one in found(made, "brace-in-clearance")] == ["stop"]


def test_no_line_post_stands_in_the_hole_of_a_brace(laid: Laid) -> None:
    made = laid({"a": ELL}, fence='spacing_limit = "1.8 m"')
    posts, braces = made.layout.posts, made.layout.braces
    apart = np.hypot(posts.x_m[:, None] - braces.x_m, posts.y_m[:, None] - braces.y_m)
    assert apart.min() >= 12 * INCH - 1e-9
    assert not found(made, "holes-touch")


@pytest.mark.parametrize(("leg", "stops"), [(3.87, 0), (3.85, 1)])
def test_a_leg_must_hold_both_its_braces(laid: Laid, leg: float, stops: int) -> None:
    """Two feet of 70 in and a 12 in hole between them: 3.861 m."""
    made = laid(
        {"a": [(0.0, 0.0), (60.0, 0.0), (60.0, leg), (100.0, leg)]}, '[[strain]]\nline="a"\nat="60 m"\n'
    )
    assert len(found(made, "leg-too-short")) == stops


def test_a_short_leg_names_its_line_and_the_amount(laid: Laid) -> None:
    made = laid({"a": [(0.0, 0.0), (2.0, 0.0), (2.0, 40.0)]})
    stop = found(made, "leg-too-short")[0]
    assert (stop.level, stop.where.line, stop.where.station_m) == ("stop", "a", 0.0)
    assert "2.00 m is 1.86 m too short for its two braces of 1.78 m reach" in stop.message


def test_a_pinned_post_does_not_shorten_its_leg(laid: Laid) -> None:
    made = laid({"a": STRAIGHT}, '[[pin]]\nline = "a"\nat = "1.9 m"\n')
    assert not found(made, "leg-too-short")
    assert abs(made.layout.braces.x_m[0] - 1.9) >= 12 * INCH
    twice = laid({"a": [(0.0, 0.0), (3.0, 0.0), (3.0, 40.0)]}, '[[pin]]\nline = "a"\nat = "1.5 m"\n')
    assert len(found(twice, "leg-too-short")) == 1


def test_without_braces(laid: Laid) -> None:
    made = laid({"a": [(0.0, 0.0), (2.0, 0.0), (2.0, 40.0)]}, '[brace]\nkind = "none"\n')
    assert len(made.layout.braces) == len(made.brace_bags) == 0
    assert not found(made, "leg-too-short")


def test_a_horizontal_brace_has_a_second_upright(laid: Laid) -> None:
    """uwex-brace: 8 to 10 ft from the end post."""
    made = laid({"a": ELL}, HORIZONTAL)
    layout = made.layout
    uprights = np.flatnonzero(layout.posts.role == int(Role.BRACE))
    assert sorted(layout.braces.second_post.tolist()) == uprights.tolist()
    np.testing.assert_allclose(layout.braces.reach_m, 8 * FOOT)
    np.testing.assert_allclose(layout.braces.length_m, 8 * FOOT)
    assert (made.holes.set[uprights] == int(Setting.CONCRETE)).all()
    assert (made.holes.depth_m[uprights] >= made.job.settings.holes.end_depth_m - 1e-9).all()
    assert made.brace_bags.sum() == 0
    assert (layout.posts.diameter_m[uprights] == made.job.settings.posts.line_diameter_m).all()
    assert not layout.posts.is_fixed[uprights].any()


def test_second_uprights_keep_out_of_clearances_with_their_whole_bell(laid: Laid) -> None:
    """A pipe square to the line; the upright's hole is belled like every concreted post's."""
    pipe = '[[obstacle]]\nkind = "buried gas"\npoints = [["3 m", "-5 m"], ["3 m", "5 m"]]\nclearance = "0.35 m"\n'
    made = laid({"a": STRAIGHT}, HORIZONTAL + pipe)
    posts = made.layout.posts
    away = shapely.distance(shapely.LineString([(3, -5), (3, 5)]), shapely.points(posts.x_m, posts.y_m))
    assert (away - made.holes.bell_m / 2 >= 0.35 - 1e-6).all()
    assert not found(made, "post-in-clearance")


@pytest.mark.parametrize("leg", [0.5, 1.0, 3.0, 5.0])
def test_an_upright_of_a_leg_too_short_stays_on_its_leg(laid: Laid, leg: float) -> None:
    gate = f'[[gate]]\nline = "a"\nat = "{leg} m"\nopening = "4 m"\n'
    made = laid({"a": STRAIGHT}, HORIZONTAL + gate)
    assert len(found(made, "leg-too-short")) == 1
    uprights = made.layout.posts.role == int(Role.BRACE)
    inside = (made.layout.posts.x_m > leg + 0.01) & (made.layout.posts.x_m < leg + 4.1)
    assert not (uprights & inside).any()


def test_a_brace_longer_than_its_stock_is_a_stop_and_is_not_ordered(laid: Laid) -> None:
    made = laid({"a": STRAIGHT}, '[brace]\nreach = "15 ft"\nlengths = ["8 ft", "12 ft"]\n')
    stop = found(made, "no-stock-length")[0]
    assert stop.level == "stop"
    assert "2 braces need up to" in stop.message
    assert not [line for line in made.order if line.item == "brace"]
    fits = laid({"a": STRAIGHT}, '[brace]\nlengths = ["7 ft", "9 ft"]\n')
    assert [(line.size, line.order) for line in fits.order if line.item == "brace"] == [
        ("114 mm x 2.74 m", 2)
    ]


def test_feet_on_a_slope_are_measured_on_it(laid: Laid) -> None:
    """The brace of the upper end points downhill and is longer than that of the lower end."""
    made = laid({"a": STRAIGHT}, height=lambda x, _: 0.2 * x)
    low, high = np.argsort(made.layout.braces.x_m)
    below = 40 * INCH + 18 * INCH
    rise = 0.2 * 70 * INCH
    assert made.layout.braces.length_m[low] == pytest.approx(np.hypot(70 * INCH, below - rise), abs=1e-3)
    assert made.layout.braces.length_m[high] == pytest.approx(np.hypot(70 * INCH, below + rise), abs=1e-3)


def test_a_second_level_brace_stands_behind_the_first(laid: Laid) -> None:
    made = laid({"a": ELL}, '[brace]\nkind = "horizontal"\nbays = 2\nreach = "2.4 m"\n')
    posts, braces = made.layout.posts, made.layout.braces
    assert len(braces) == 8
    assert (posts.role == int(Role.BRACE)).sum() == 8
    for row in range(0, 8, 2):
        assert braces.post_index[row + 1] == braces.second_post[row]
        end, last = int(braces.post_index[row]), int(braces.second_post[row + 1])
        assert np.hypot(posts.x_m[end] - posts.x_m[last], posts.y_m[end] - posts.y_m[last]) == pytest.approx(
            4.8, abs=0.05
        )
    items = {line.item: line.order for line in made.order}
    assert items["brace bolt"] == 8
    assert items["brace tie wire, 9 gauge"] == 8


def test_a_second_diagonal_has_its_foot_half_as_far_again(laid: Laid) -> None:
    made = laid({"a": STRAIGHT}, "[brace]\nbays = 2\n")
    braces = made.layout.braces
    assert braces.post_index.tolist()[0::2] == braces.post_index.tolist()[1::2]
    np.testing.assert_allclose(braces.reach_m, [70 * INCH, 105 * INCH] * 2)
    assert not found(made, "no-stock-length")
    assert {line.item: line.order for line in made.order}["brace bolt"] == 4


def test_the_foot_of_a_second_diagonal_keeps_clear_of_the_first(laid: Laid) -> None:
    made = laid({"a": STRAIGHT}, "[brace]\nbays = 2\n" + tree(2.667, 1.0, 0.9))
    braces = made.layout.braces
    away = shapely.distance(shapely.Point(2.667, 1.0), shapely.points(braces.x_m, braces.y_m))
    assert away.min() >= 0.9 + 0.1524 - 1e-9
    assert braces.reach_m[1] - braces.reach_m[0] >= 12 * INCH - 1e-9


def test_a_leg_must_hold_two_bays_each_way(laid: Laid) -> None:
    """Two feet of 105 in and a 12 in hole between them: 5.639 m."""
    for leg, stops in ((5.65, 0), (5.62, 1)):
        made = laid(
            {"a": [(0.0, 0.0), (60.0, 0.0), (60.0, leg), (100.0, leg)]},
            "[brace]\nbays = 2\n" + '[[strain]]\nline="a"\nat="60 m"\n',
        )
        assert len(found(made, "leg-too-short")) == stops
