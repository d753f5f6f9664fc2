"""Polylines by hand, and against shapely wherever it has the same thing."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from numpy.typing import NDArray

from fencewright.geometry.polyline import (
    headings,
    leg_at,
    nearest_station,
    offset_points,
    places,
    self_crossing,
    signed_area,
    stations,
    straightened,
    turning_in_space_rad,
    turnings,
    with_closing,
    wrapped,
)

Floats = NDArray[np.float64]
SQUARE = np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 3.0], [0.0, 3.0]])
COORDINATE = st.floats(-500.0, 500.0).map(lambda value: round(value, 3))
POINTS = st.lists(st.tuples(COORDINATE, COORDINATE), min_size=3, max_size=12, unique=True).map(
    lambda rows: np.array(rows, np.float64)
)


def far_apart(xy: Floats) -> bool:
    return bool((np.hypot(*np.diff(with_closing(xy, True), axis=0).T) > 0.01).all())


def test_stations_headings_and_turnings_of_a_rectangle() -> None:
    """3-4-5: the diagonal of a 4 by 3 rectangle is 5 (Euclid)."""
    np.testing.assert_array_equal(stations(SQUARE, True), [0, 4, 7, 11, 14])
    np.testing.assert_array_equal(stations(SQUARE), [0, 4, 7, 11])
    np.testing.assert_allclose(headings(SQUARE, True), [0, math.pi / 2, math.pi, -math.pi / 2])
    np.testing.assert_allclose(turnings(SQUARE, True), [math.pi / 2] * 4)
    np.testing.assert_allclose(turnings(SQUARE[::-1], True), [-math.pi / 2] * 4)
    np.testing.assert_allclose(turnings(SQUARE), [0, math.pi / 2, math.pi / 2, 0])
    assert stations(SQUARE[[0, 2]])[-1] == 5.0


@given(POINTS)
def test_length_area_and_places_as_shapely_has_them(xy: Floats) -> None:
    line, ring = shapely.LineString(xy), shapely.LinearRing(xy)
    station = stations(xy)
    assert station[-1] == pytest.approx(line.length, rel=1e-12)
    assert stations(xy, True)[-1] == pytest.approx(ring.length, rel=1e-12)
    area = shapely.Polygon(xy).area if ring.is_simple else None
    if area is not None:
        assert abs(signed_area(xy)) == pytest.approx(area, rel=1e-9, abs=1e-6)
        assert (signed_area(xy) > 0) == ring.is_ccw or area < 1e-6
    at = np.linspace(0.0, station[-1], 7)
    expected = shapely.get_coordinates(shapely.line_interpolate_point(line, at))
    np.testing.assert_allclose(places(xy, station, at), expected, atol=1e-6)


@given(POINTS, COORDINATE, COORDINATE)
def test_nearest_station_as_shapely_has_it(xy: Floats, x: float, y: float) -> None:
    assume(far_apart(xy))
    line, point = shapely.LineString(xy), shapely.Point(x, y)
    station, away = nearest_station(xy, stations(xy), np.array([x, y]))
    assert away == pytest.approx(line.distance(point), abs=1e-7)
    there = shapely.line_interpolate_point(line, station)
    assert there.distance(point) == pytest.approx(away, abs=1e-6)


@given(POINTS)
def test_turnings_of_a_closed_simple_line_sum_to_a_whole_turn(xy: Floats) -> None:
    assume(far_apart(xy) and shapely.LinearRing(xy).is_simple)
    turns = turnings(xy, True)
    assume(np.abs(turns).max() < math.pi - 1e-6)
    assert turns.sum() == pytest.approx(math.copysign(2 * math.pi, signed_area(xy)), abs=1e-6)


@given(POINTS)
def test_a_reversed_line_turns_the_other_way(xy: Floats) -> None:
    assume(far_apart(xy) and np.abs(turnings(xy)).max() < math.pi - 1e-6)
    np.testing.assert_allclose(turnings(xy[::-1]), -turnings(xy)[::-1], atol=1e-9)


@given(st.floats(-100.0, 100.0))
def test_wrapped_angles(angle: float) -> None:
    once = float(wrapped(np.array(angle)))
    assert -math.pi < once <= math.pi
    assert math.cos(once) == pytest.approx(math.cos(angle), abs=1e-9)
    assert math.sin(once) == pytest.approx(math.sin(angle), abs=1e-9)


def test_leg_at_a_point_is_the_one_after_it_or_before_it() -> None:
    station = stations(SQUARE, True)
    at = np.array([0.0, 4.0, 5.0, 14.0])
    np.testing.assert_array_equal(leg_at(station, at), [0, 1, 1, 3])
    np.testing.assert_array_equal(leg_at(station, at, before=True), [0, 0, 1, 3])


def test_an_inset_rectangle_is_shapelys_mitred_buffer() -> None:
    inner = offset_points(SQUARE, True, 0.5)
    expected = shapely.Polygon(SQUARE).buffer(-0.5, join_style="mitre")
    assert shapely.Polygon(inner).symmetric_difference(expected).area == pytest.approx(0.0, abs=1e-9)


def test_an_open_line_is_moved_square_to_its_ends() -> None:
    moved = offset_points(np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0]]), False, 1.0)
    np.testing.assert_allclose(moved, [[0, 1], [9, 1], [9, 10]], atol=1e-12)


@given(st.floats(5.0, 145.0), st.floats(-2.0, 2.0))
def test_every_leg_of_an_offset_line_is_as_far_as_asked(turn_deg: float, left_m: float) -> None:
    turn = math.radians(turn_deg)
    xy = np.array([[0.0, 0.0], [50.0, 0.0], [50 + 50 * math.cos(turn), 50 * math.sin(turn)]])
    moved = offset_points(xy, False, left_m)
    step, away = np.diff(xy, axis=0), moved[1] - xy[1]
    left = (step[:, 0] * away[1] - step[:, 1] * away[0]) / np.hypot(step[:, 0], step[:, 1])
    np.testing.assert_allclose(left, left_m, atol=1e-9)


def test_a_hairpin_does_not_run_away() -> None:
    hairpin = np.array([[0.0, 0.0], [10.0, 0.0], [0.0, 0.1]])
    assert np.hypot(*(offset_points(hairpin, False, 1.0)[1] - hairpin[1])) < 4.0


@given(POINTS, st.floats(0.5, 60.0))
def test_points_left_out_were_within_the_tolerance(xy: Floats, tolerance: float) -> None:
    assume(far_apart(xy))
    kept = straightened(xy, False, tolerance)
    left_out = shapely.points(xy)
    assert shapely.distance(shapely.LineString(kept), left_out).max() <= tolerance + 1e-9
    np.testing.assert_array_equal(kept[[0, -1]], xy[[0, -1]])


def test_a_closed_line_is_straightened_all_round() -> None:
    dense = np.array(
        [[0, 0], [2, 0.01], [4, 0], [4, 1.5], [4, 3], [2, 2.99], [0, 3], [0.01, 1.5]], np.float64
    )
    np.testing.assert_array_equal(straightened(dense, True, 0.05), SQUARE)
    assert straightened(dense, True, 0.0) is dense


@given(POINTS, st.booleans())
def test_a_line_crosses_itself_just_where_shapely_says_it_is_not_simple(xy: Floats, is_closed: bool) -> None:
    assume(far_apart(xy))
    place = self_crossing(xy, is_closed)
    shape = shapely.LineString(with_closing(xy, is_closed))
    assert (place is None) == shape.is_simple
    if place is not None:
        assert shape.distance(shapely.Point(place)) < 1e-6


@pytest.mark.parametrize(
    ("points", "is_closed", "place"),
    [
        ([[0, 0], [10, 10], [10, 0], [0, 10]], False, (5, 5)),
        ([[0, 0], [10, 10], [10, 0], [0, 10]], True, (5, 5)),
        ([[0, 0], [10, 0], [10, 5], [5, 0]], False, (5, 0)),
        ([[0, 0], [10, 0], [5, 0]], False, (5, 0)),
    ],
)
def test_where_a_line_crosses_or_touches_itself(
    points: list[list[float]], is_closed: bool, place: tuple[float, float]
) -> None:
    found = self_crossing(np.array(points, np.float64), is_closed)
    assert found is not None
    assert math.dist(found, place) <= (5.0 if len(points) == 3 else 1e-9)


@given(st.lists(st.tuples(*[st.floats(-9.0, 9.0)] * 6), min_size=1, max_size=5))
def test_turning_in_space_is_the_angle_between_the_legs(rows: list[tuple[float, ...]]) -> None:
    before, after = np.array(rows)[:, :3], np.array(rows)[:, 3:]
    long = np.linalg.norm(before, axis=1) * np.linalg.norm(after, axis=1)
    assume((long > 1e-3).all())
    sine, cosine = np.linalg.norm(np.cross(before, after), axis=1), (before * after).sum(axis=1)
    turning = turning_in_space_rad(before, after)
    np.testing.assert_allclose(np.sin(turning), sine / long, atol=1e-9)
    np.testing.assert_allclose(np.cos(turning), cosine / long, atol=1e-9)
    assert ((turning >= 0) & (turning <= math.pi)).all()


def test_turning_in_space_of_none() -> None:
    assert turning_in_space_rad(np.zeros((0, 3)), np.zeros((0, 3))).shape == (0,)
