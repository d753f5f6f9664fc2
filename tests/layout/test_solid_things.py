"""A fence that is drawn through a tree, a rock or a building is a stop that names the thing and the station."""

from collections.abc import Callable

import pytest

from fencewright.findings import STOP, Finding
from fencewright.pipeline.record import Design

Laid = Callable[..., Design]
Points = list[tuple[float, float]]
STRAIGHT = [(0.0, 0.0), (60.0, 0.0)]
SHED = [(48.0, -0.5), (49.2, -0.5), (49.2, 0.5), (48.0, 0.5)]


def thing(kind: str, points: Points, more: str = "") -> str:
    rows = ", ".join(f'["{x} m", "{y} m"]' for x, y in points)
    return (
        f'[[obstacle]]\nname = "the {kind}"\nkind = "{kind}"\npoints = [{rows}]\nclearance = "0 m"\n{more}\n'
    )


def through(made: Design) -> list[Finding]:
    return [one for one in made.findings if one.code == "rail-through-solid"]


def test_tree_rock_and_shed_on_the_line_are_each_a_stop(laid: Laid) -> None:
    trunk = 'radius = "0.4 m"'
    things = thing("tree", [(30.0, 0.0)], trunk) + thing("rock", [(40.0, 0.0)], trunk)
    made = laid({"home": STRAIGHT}, things + thing("building", SHED, "closed = true"))
    stops = through(made)
    assert [one.level for one in stops] == [STOP] * 3
    assert [one.where.station_m for one in stops] == pytest.approx([29.6, 39.6, 48.0], abs=0.05)
    for one, name in zip(stops, ("the tree", "the rock", "the building"), strict=True):
        assert name in one.message
        assert "Line home" in one.message
        assert name in one.remedy


@pytest.mark.parametrize(("y", "count"), [(0.3, 1), (-0.3, 1), (0.6, 0), (-0.6, 0)])
def test_a_trunk_beside_the_line_is_met_by_its_radius(laid: Laid, y: float, count: int) -> None:
    assert len(through(laid({"home": STRAIGHT}, thing("tree", [(30.0, y)], 'radius = "0.4 m"')))) == count


@pytest.mark.parametrize(("y", "count"), [(0.0, 1), (0.4, 0), (-0.4, 0)])
def test_a_tree_without_a_size_is_met_only_where_the_line_runs_over_it(
    laid: Laid, y: float, count: int
) -> None:
    assert len(through(laid({"home": STRAIGHT}, thing("tree", [(30.0, y)])))) == count


def test_what_the_rail_spans_is_no_stop(laid: Laid) -> None:
    across = [(30.0, -5.0), (30.0, 5.0)]
    for kind in ("stream", "buried water", "septic field", "overhead line", "boundary", "pond"):
        assert not through(laid({"home": STRAIGHT}, thing(kind, across)))


def test_a_fence_that_ends_against_a_building_is_no_stop(laid: Laid) -> None:
    barn = [(60.0, -5.0), (70.0, -5.0), (70.0, 5.0), (60.0, 5.0)]
    assert not through(laid({"home": STRAIGHT}, thing("building", barn, "closed = true")))


def test_a_long_building_is_told_once_a_way_through_it(laid: Laid) -> None:
    barn = [(20.0, -5.0), (40.0, -5.0), (40.0, 5.0), (20.0, 5.0)]
    ring = ([(0.0, 0.0), (60.0, 0.0), (60.0, 30.0), (30.0, 30.0), (30.0, 1.0)], "")
    stops = through(laid({"home": ring}, thing("building", barn, "closed = true")))
    assert [one.where.station_m for one in stops] == pytest.approx([20.0, 145.0], abs=0.1)


def test_a_tree_where_two_lines_meet_is_told_of_each(laid: Laid) -> None:
    tree = thing("tree", [(60.0, 0.0)], 'radius = "0.4 m"')
    stops = through(laid({"home": STRAIGHT, "lane": ([(60.0, 0.0), (60.0, 40.0)], "")}, tree))
    assert [one.where.line for one in stops] == ["home", "lane"]


def test_a_tree_in_a_gate_is_a_stop_and_in_a_crossing_is_none(laid: Laid) -> None:
    tree = thing("tree", [(31.0, 0.0)], 'radius = "0.2 m"')
    gate = '[[gate]]\nline = "home"\nat = "30 m"\nopening = "3 m"\n'
    crossing = '[[crossing]]\nline = "home"\nat = "30 m"\nwidth = "6 m"\n'
    assert len(through(laid({"home": STRAIGHT}, gate + tree))) == 1
    assert not through(laid({"home": STRAIGHT}, crossing + tree))
