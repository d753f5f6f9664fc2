"""What was drawn to where the posts stand: post centres, the rail's face, a boundary with its set-back."""

from collections.abc import Callable

import numpy as np
import pytest
import shapely

from fencewright.findings import InputError
from fencewright.pipeline.record import Design
from fencewright.tables.fence import Role
from fencewright.takeoff.pieces import rail_points

Laid = Callable[..., Design]
SQUARE = [(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)]
END_M, LINE_M = 0.1524, 0.1143  # trade defaults: 6 in and 4.5 in


def corners(made: Design) -> np.ndarray:
    posts = made.layout.posts
    rows = posts.role == int(Role.CORNER)
    return np.asarray(np.column_stack([posts.x_m, posts.y_m])[rows])


def test_post_centres_stand_where_they_were_drawn(laid: Laid) -> None:
    made = laid({"a": (SQUARE, "closed = true")})
    np.testing.assert_allclose(corners(made), SQUARE, atol=1e-9)
    assert not [one for one in made.findings if one.code == "line-offset"]


@pytest.mark.parametrize("reverse", [False, True])
def test_a_drawn_rail_face_is_where_the_rail_runs(laid: Laid, reverse: bool) -> None:
    """The rail runs outside at corners, so posts stand half a diameter inside, whichever way it was drawn."""
    points = SQUARE[::-1] if reverse else SQUARE
    made = laid({"a": (points, 'closed = true\ndrawn = "rail face"')})
    inner = shapely.Polygon(SQUARE).buffer(-END_M / 2, join_style="mitre")
    assert shapely.Polygon(corners(made)).symmetric_difference(inner).area < 1e-9
    rail = rail_points(made.layout.posts)[made.layout.posts.role == int(Role.CORNER)]
    assert shapely.Polygon(rail).symmetric_difference(shapely.Polygon(SQUARE)).area < 1e-6
    assert [one.code for one in made.findings if one.code == "line-offset"] == ["line-offset"]


def test_no_part_of_a_post_stands_nearer_to_the_boundary_than_the_set_back(laid: Laid) -> None:
    made = laid({"a": (SQUARE, 'closed = true\ndrawn = "boundary"\nset_back = "0.5 m"')})
    posts = made.layout.posts
    away = (
        shapely.distance(shapely.LinearRing(SQUARE), shapely.points(posts.x_m, posts.y_m))
        - posts.diameter_m / 2
    )
    assert away.min() == pytest.approx(0.5, abs=1e-9)
    assert shapely.contains_xy(shapely.Polygon(SQUARE), posts.x_m, posts.y_m).all()


@pytest.mark.parametrize(("inside", "sign"), [("left", 1), ("right", -1)])
def test_an_open_boundary_is_set_back_to_its_inside(laid: Laid, inside: str, sign: int) -> None:
    made = laid(
        {"a": ([(0.0, 0.0), (50.0, 0.0)], f'drawn = "boundary"\nset_back = "1 m"\ninside = "{inside}"')}
    )
    fixed = made.layout.posts.is_fixed
    np.testing.assert_allclose(made.layout.posts.y_m[fixed], sign * (1 + END_M / 2), atol=1e-9)


def test_an_open_boundary_needs_its_inside(laid: Laid) -> None:
    with pytest.raises(InputError, match='line "a": an open boundary needs inside'):
        laid({"a": ([(0.0, 0.0), (50.0, 0.0)], 'drawn = "boundary"')})


def test_stock_inside_an_open_line_needs_its_inside(laid: Laid) -> None:
    with pytest.raises(InputError, match='stock_side = "inside" needs inside'):
        laid({"a": ([(0.0, 0.0), (50.0, 0.0)], 'stock_side = "inside"')})


def test_line_posts_carry_the_rail_on_the_stock_side_and_corners_outside(laid: Laid) -> None:
    """The string runs along the outer face of the corners; inside it lies the rail of the line posts."""
    made = laid({"a": (SQUARE, "closed = true")})
    posts = made.layout.posts
    line = posts.role == int(Role.LINE)
    np.testing.assert_array_equal(posts.rail_face[line], 1)  # stock inside is left of an anticlockwise line
    np.testing.assert_array_equal(posts.rail_face[~line], -1)
    points = rail_points(posts)
    away = shapely.distance(shapely.LinearRing(points[~line]), shapely.points(points))
    np.testing.assert_allclose(away, 0.0, atol=1e-6)  # one string for all of them
    outside = ~shapely.contains_xy(shapely.Polygon(SQUARE), posts.x_m[line], posts.y_m[line])
    assert outside.all()  # line posts stand beyond the string: their inner face meets it


def test_a_rail_on_the_outer_face_everywhere(laid: Laid) -> None:
    made = laid({"a": (SQUARE, 'closed = true\nrail_side = "right"')})
    posts = made.layout.posts
    np.testing.assert_array_equal(posts.rail_face, -1)
    np.testing.assert_allclose(posts.offset_m, posts.diameter_m / 2)
    rail = shapely.LinearRing(rail_points(posts)[posts.is_fixed])
    away = shapely.distance(rail, shapely.points(rail_points(posts)))
    np.testing.assert_allclose(away, 0.0, atol=1e-6)


def test_repeated_points_and_points_on_a_straight_are_left_out_aloud(laid: Laid) -> None:
    points = [(0.0, 0.0), (0.0, 0.0), (20.0, 0.004), (40.0, 0.0), (40.0, 30.0), (40.0, 30.0)]
    made = laid({"a": (points, 'straighten = "10 mm"')})
    said = [one.message for one in made.findings if one.code == "points-left-out"]
    assert said == ["2 repeated points left out.", "1 of 4 points left out, each within 10 mm of the line."]
    assert len(made.layout.lines[0].xy_m) == 3


def test_one_repeated_point_is_spoken_of_as_one(laid: Laid) -> None:
    made = laid({"a": ([(0.0, 0.0), (0.0, 0.0), (40.0, 0.0), (40.0, 30.0)], "")})
    said = [one.message for one in made.findings if one.code == "points-left-out"]
    assert said == ["1 repeated point left out."]


@pytest.mark.parametrize(
    ("points", "extra", "sentence"),
    [
        ([(0, 0), (0, 0)], "", "has no length"),
        ([(0, 0), (0.1, 0)], "", "has no length"),
        ([(0, 0), (5, 0)], "closed = true", "has no length"),
        ([(5, 5)], "", "has no length"),
        ([(0, 0), (30, 30), (30, 0), (0, 30)], "closed = true", "crosses or touches itself near x 15.00 m, y 15.00 m"),
        ([(0, 0), (30, 0), (10, 0)], "", "crosses or touches itself"),
        ([(0, 0), (30, 0), (30, 20), (0.2, 20), (0.2, 0.1), (0.15, 20), (0.0, 20)],
         'closed = true\ndrawn = "boundary"\nset_back = "2 m"', "crosses or touches itself"),
    ],
)  # fmt: skip
def test_lines_that_cannot_be_built(
    laid: Laid, points: list[tuple[float, float]], extra: str, sentence: str
) -> None:
    with pytest.raises(InputError, match=sentence) as refused:
        laid({"a": (points, extra)})
    assert refused.value.item == 'line "a"'
