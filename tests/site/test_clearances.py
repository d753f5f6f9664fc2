"""Clearances against raw distances: shapes that hold the true circle, stretches of a line, trespass."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from fencewright.site.clearances import kept_out_shape, kept_out_stretches, obstacle_shape, trespass_m
from fencewright.site.features import SiteObstacle

Floats = NDArray[np.float64]
PLACE = st.tuples(st.floats(-20, 20), st.floats(-20, 20))


def obstacle(
    points: list[tuple[float, float]], geometry: str, clearance: float = 1.0, radius: float = 0.0
) -> SiteObstacle:
    return SiteObstacle(
        "it",
        "tree",
        geometry,
        np.array(points, np.float64),
        clearance,
        radius,
        "none",
        False,
        False,
        False,
        False,
    )


POLYGON = [(0.0, 0.0), (6.0, 0.0), (6.0, 4.0)]


@pytest.mark.parametrize(
    ("points", "geometry", "kind"),
    [
        ([(1.0, 2.0)], "point", "Point"),
        ([(1.0, 2.0)], "polygon", "Point"),
        ([(0.0, 0.0), (5.0, 0.0)], "line", "LineString"),
        ([(0.0, 0.0), (5.0, 0.0)], "polygon", "LineString"),
        (POLYGON, "line", "LineString"),
        (POLYGON, "polygon", "Polygon"),
    ],
)
def test_the_shape_of_an_obstacle(points: list[tuple[float, float]], geometry: str, kind: str) -> None:
    assert type(obstacle_shape(obstacle(points, geometry))).__name__ == kind


def test_an_area_whose_outline_crosses_itself_still_bars_both_parts() -> None:
    bow = obstacle([(0, 0), (4, 4), (4, 0), (0, 4)], "polygon")
    shape = kept_out_shape(bow, 0.0)
    assert shapely.contains_xy(shape, [3.9, 0.1], [2.0, 2.0]).all()


@given(PLACE, st.sampled_from(["point", "line", "polygon"]), st.floats(0.0, 0.6))
def test_no_hole_within_the_clearance_slips_past_the_shape(
    place: tuple[float, float], geometry: str, hole: float
) -> None:
    """The polygon drawn for a circle holds the circle, and is wider by less than one part in a thousand."""
    one = obstacle([(0.0, 0.0)] if geometry == "point" else POLYGON, geometry, clearance=2.0, radius=0.3)
    away = shapely.distance(obstacle_shape(one), shapely.Point(place))
    over = float(trespass_m(one, np.array([place[0]]), np.array([place[1]]), hole)[0])
    assert over == pytest.approx(0.3 + 2.0 + hole - away, abs=1e-12)
    is_inside = bool(shapely.intersects_xy(kept_out_shape(one, hole), *place))
    if over > 0:
        assert is_inside
    if over < -0.003:
        assert not is_inside


def track(points: list[tuple[float, float]]) -> tuple[Floats, Floats, Floats]:
    xy = np.array(points, np.float64)
    return xy[:-1], xy[1:], np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(xy, axis=0).T))])


def test_a_pipe_square_to_the_line_bars_its_clearance_and_the_hole_each_way() -> None:
    """A service 0.1 m wide at station 30, 0.6 m clear, a 0.3 m hole: 30 -+ 0.8."""
    pipe = obstacle([(30.0, -5.0), (30.0, 5.0)], "line", 0.6, 0.05)
    start, end, index = kept_out_stretches(*track([(0, 0), (100, 0)]), [kept_out_shape(pipe, 0.15)])
    np.testing.assert_allclose([start, end], [[29.2], [30.8]], atol=1e-3)
    assert start[0] <= 29.2
    assert end[0] >= 30.8
    assert index.tolist() == [0]


def test_stretches_come_sorted_one_a_leg_with_their_shape() -> None:
    trees = [
        obstacle([(90.0, 0.0)], "point", 1.0),
        obstacle([(10.0, 0.0)], "point", 1.0),
        obstacle([(50.0, 0.0)], "point", 1.0),
    ]
    shapes = [kept_out_shape(one, 0.0) for one in trees]
    start, end, index = kept_out_stretches(*track([(0, 0), (50, 0), (100, 0)]), shapes)
    assert index.tolist() == [1, 2, 2, 0]
    np.testing.assert_allclose(start, [9, 49, 50, 89], atol=2e-3)
    np.testing.assert_allclose(end, [11, 50, 51, 91], atol=2e-3)


@given(
    st.lists(PLACE, min_size=2, max_size=6, unique=True), st.lists(PLACE, min_size=1, max_size=4, unique=True)
)
def test_every_station_is_barred_just_where_it_trespasses(
    line: list[tuple[float, float]], feature: list[tuple[float, float]]
) -> None:
    start, end, station = track(line)
    if (np.diff(station) < 1e-3).any():
        return
    one = obstacle(feature, "line" if len(feature) > 1 else "point", 1.5, 0.2)
    low, high, _ = kept_out_stretches(start, end, station, [kept_out_shape(one, 0.15)])
    at = np.linspace(0.0, station[-1], 80)
    xy = shapely.get_coordinates(shapely.line_interpolate_point(shapely.LineString(line), at))
    over = trespass_m(one, xy[:, 0], xy[:, 1], 0.15)
    barred = np.asarray(((at[:, None] >= low - 1e-9) & (at[:, None] <= high + 1e-9)).any(axis=1))
    assert barred[over > 1e-9].all()
    assert not barred[over < -0.003].any()


@pytest.mark.parametrize("shapes", [[], [shapely.Point(500, 500).buffer(1)]])
def test_nothing_in_the_way(shapes: list[shapely.Geometry]) -> None:
    start, end, index = kept_out_stretches(*track([(0, 0), (100, 0)]), shapes)
    assert len(start) == len(end) == len(index) == 0


def test_a_line_that_only_touches_a_clearance_is_not_barred() -> None:
    start, _, _ = kept_out_stretches(
        *track([(0, 0), (100, 0)]), [shapely.box(10, -5, 20, 0).union(shapely.box(10, -5, 11, -4))]
    )
    assert len(start) == 1  # it runs along the edge
    start, _, _ = kept_out_stretches(
        *track([(0, 0), (100, 0)]), [shapely.Polygon([(10, 0), (5, -5), (15, -5)])]
    )
    assert len(start) == 0  # one point of it
