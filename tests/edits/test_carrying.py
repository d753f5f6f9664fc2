"""What stands on a line keeps its place when a corner moves, comes or goes: against shapely's linear referencing."""

import math
import tomllib
from typing import Any

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from fencewright.edits.applying import apply_edit
from fencewright.edits.carrying import kept_places
from fencewright.edits.lines import DrawnPoints

JOB = """\
[job]
name = "Home"
sheets = "us"
[[line]]
name = "home"
points = [["0 ft", "0 ft"], ["300 ft", "0 ft"], ["300 ft", "200 ft"], ["0 ft", "200 ft"]]
closed = true
[[line]]
name = "lane"
points = [["300 ft", "0 ft"], ["400 ft", "0 ft"]]
[[gate]]
name = "south"
line = "home"
at = "20 ft"
opening = "12 ft"
[[gate]]
name = "north"
line = "home"
at = "650 ft"      # half way along the north side
opening = "12 ft"
[[strain]]
line = "home"
at = "500 ft"      # at the north-east corner
[[soil_zone]]
line = "home"
from = "520 ft"
to = "700 ft"
soil = "clay"
"""
SQUARE = ((0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0))
NUMBERS = st.integers(-300, 300).map(lambda tenth: tenth / 10)


def after(edit: dict[str, Any], text: str = JOB) -> dict[str, Any]:
    return tomllib.loads(apply_edit(text, edit).text)


def ring(points: tuple[tuple[float, float], ...], closed: bool) -> shapely.LineString:
    return shapely.LineString([*points, points[0]] if closed else points)


def test_a_gate_stays_where_it_is_on_a_side_that_nobody_touched() -> None:
    edit = {"kind": "move_corner", "line": "home", "corner": 1, "to": ["400 ft", "0 ft"], "shared": False}
    made = after(edit)
    east_ft = math.hypot(100, 200)
    assert made["gate"][0]["at"] == "20 ft"
    assert float(made["gate"][1]["at"].split()[0]) == pytest.approx(400 + east_ft + 150, abs=1e-3)
    assert float(made["strain"][0]["at"].split()[0]) == pytest.approx(400 + east_ft, abs=1e-3)
    zone = made["soil_zone"][0]
    assert [float(zone[key].split()[0]) for key in ("from", "to")] == pytest.approx(
        [400 + east_ft + 20, 400 + east_ft + 200], abs=1e-3
    )
    assert "# half way along the north side" in apply_edit(JOB, edit).text


def test_a_shared_corner_goes_along_unless_it_is_left() -> None:
    edit = {"kind": "move_corner", "line": "home", "corner": 1, "to": ["310 ft", "-5 ft"]}
    made = after(edit)
    assert made["line"][1]["points"][0] == made["line"][0]["points"][1] == ["310 ft", "-5 ft"]
    assert apply_edit(JOB, edit).label == 'move corner 2 of line "home" and of line "lane"'
    assert after({**edit, "shared": False})["line"][1]["points"][0] == ["300 ft", "0 ft"]


def test_a_shared_corner_of_a_line_from_a_file_goes_along_and_what_stands_on_it_stays() -> None:
    text = JOB.replace('points = [["300 ft", "0 ft"], ["400 ft", "0 ft"]]', 'file = "lane.gpx"').replace(
        'sheets = "us"', 'sheets = "us"\n[[pin]]\nline = "lane"\nat = "60 ft"\npost = true'
    )
    foot = 0.3048
    drawn = {"lane": DrawnPoints([(300 * foot, 0.001), (400 * foot, 0.0)])}
    edit = {"kind": "move_corner", "line": "home", "corner": 1, "to": ["310 ft", "0 ft"]}
    made = apply_edit(text, edit, drawn)
    rows = tomllib.loads(made.text)
    assert rows["line"][1] == {"name": "lane", "points": [["310 ft", "0 ft"], ["400 ft", "0 ft"]]}
    assert float(rows["pin"][0]["at"].split()[0]) == pytest.approx(50, abs=1e-3)
    assert made.label == 'move corner 2 of line "home" and of line "lane"'
    left = tomllib.loads(apply_edit(text, {**edit, "shared": False}, drawn).text)["line"][1]
    assert left == {"name": "lane", "file": "lane.gpx"}
    elsewhere = tomllib.loads(apply_edit(text, {**edit, "corner": 2}, drawn).text)["line"][1]
    assert elsewhere == {"name": "lane", "file": "lane.gpx"}


def zones(text: str) -> list[tuple[str, float, float, str]]:
    rows = tomllib.loads(text).get("soil_zone", [])
    return [
        (row["line"], *(float(row[key].split()[0]) for key in ("from", "to")), row["soil"]) for row in rows
    ]


SLANT = """\
[job]
name = "S"
sheets = "metric"
[[line]]
name = "a"
points = [["0 m", "0 m"], ["40.0001 m", "30.0003 m"], ["90 m", "0 m"], ["40 m", "-70 m"]]
closed = true
[[soil_zone]]
line = "a"
from = "20 m"
to = "130 m"
soil = "clay"
[[soil_zone]]
line = "a"
from = "45 m"
to = "60 m"
soil = "gravel"
"""


def test_a_closed_line_opened_within_a_soil_zone_has_it_on_both_sides_of_the_opening() -> None:
    """Opened at the second corner, at 50 m: both zones reach over it; the later one goes on to hold where both are."""
    first, second = math.hypot(40.0001, 30.0003), math.hypot(49.9999, 30.0003)
    length = first + second + math.hypot(50, 70) + math.hypot(40, 70)
    made = zones(apply_edit(SLANT, {"kind": "split_line", "line": "a", "corner": 1}).text)
    assert [soil for *_, soil in made] == ["clay", "clay", "gravel", "gravel"]
    expected = [
        (length - first + 20, length), (0, 130 - first), (length - first + 45, length), (0, 60 - first),
    ]  # fmt: skip
    for (_, start, end, _), wanted in zip(made, expected, strict=True):
        assert (start, end) == pytest.approx(wanted, abs=2e-4)
    assert made[0][2] >= length  # the end post stands in it


@pytest.mark.parametrize("corner", [0, 3])
def test_zones_that_end_where_a_line_is_opened_are_not_turned_inside_out(corner: int) -> None:
    text = JOB.replace('from = "520 ft"\nto = "700 ft"', 'from = "800 ft"\nto = "1000 ft"')
    (_, start, end, _), *others = zones(
        apply_edit(text, {"kind": "split_line", "line": "home", "corner": corner}).text
    )
    assert (start, end) == pytest.approx((0, 200) if corner == 3 else (800, 1000), abs=1e-3)
    assert not others


def test_a_line_divided_within_a_soil_zone_leaves_a_part_on_each() -> None:
    text = SLANT.replace("closed = true\n", "")
    first = math.hypot(40.0001, 30.0003)
    made = zones(apply_edit(text, {"kind": "split_line", "line": "a", "corner": 1, "name": "b"}).text)
    assert [(line, soil) for line, *_, soil in made] == [
        ("a", "clay"), ("b", "clay"), ("a", "gravel"), ("b", "gravel"),
    ]  # fmt: skip
    expected = [(20, first), (0, 130 - first), (45, first), (0, 60 - first)]
    for (_, start, end, _), wanted in zip(made, expected, strict=True):
        assert (start, end) == pytest.approx(wanted, abs=2e-4)
    assert made[0][2] >= first


def test_a_corner_put_before_the_first_takes_the_gates_along() -> None:
    lane = JOB + '[[gate]]\nname = "lane"\nline = "lane"\nat = "30 ft"\nopening = "12 ft"\n'
    made = after({"kind": "insert_corner", "line": "lane", "after": -1, "at": ["300 ft", "-50 ft"]}, lane)
    assert made["gate"][2]["at"] == "80 ft"
    back = apply_edit(
        lane, {"kind": "insert_corner", "line": "lane", "after": -1, "at": ["300 ft", "-50 ft"]}
    ).text
    assert after({"kind": "remove_corner", "line": "lane", "corner": 0}, back)["gate"][2]["at"] == "30 ft"


def test_a_corner_that_came_and_went_leaves_the_gates_where_they_were() -> None:
    for at in (["100 ft", "-10 ft"], ["20 ft", "0 ft"], ["10 ft", "5 ft"]):
        more = apply_edit(JOB, {"kind": "insert_corner", "line": "home", "after": 0, "at": at}).text
        made = after({"kind": "remove_corner", "line": "home", "corner": 1}, more)
        assert [row["at"] for row in made["gate"]] == ["20 ft", "650 ft"]


@given(
    st.lists(st.tuples(NUMBERS, NUMBERS), min_size=3, max_size=5),
    st.integers(0, 3),
    st.floats(0.05, 0.95),
    st.lists(st.floats(0, 1), min_size=1, max_size=4),
    st.integers(1, 4),
    st.sampled_from(["us", "metric"]),
    st.booleans(),
)
def test_a_corner_put_on_a_straight_leg_leaves_every_text_as_it_was_typed(
    points: list[tuple[float, float]], after_corner: int, share: float, shares: list[float], digits: int,
    sheets: str, closed: bool,
) -> None:  # fmt: skip
    """Stations near corners too: a zone from 120.15 m, one hand's breadth past a corner at 120.1499 m, stays there."""
    here, there = points[after_corner % (len(points) - 1) :][:2]
    assume(all(math.dist(a, b) > 1 for a, b in zip(points, (*points[1:], points[0]), strict=True)))
    corners = [shapely.LineString(points[:count]).length for count in range(2, len(points) + 1)]
    length = ring(tuple(points), closed).length
    stations = [min(one, length) for one in [*(share * length for share in shares), *corners]]
    rows = "".join(f'[[pin]]\nline = "a"\nat = "{one:.{digits}f} m"\n' for one in stations)
    drawn = [[f"{x} m", f"{y} m"] for x, y in points]
    text = (
        f'[job]\nname = "A"\nsheets = "{sheets}"\n[[line]]\nname = "a"\npoints = {drawn}\n'
        f"closed = {str(closed).lower()}\n{rows}"
    )
    at = [a + share * (b - a) for a, b in zip(here, there, strict=True)]
    edit = {"kind": "insert_corner", "line": "a", "after": after_corner % (len(points) - 1), "at": at}
    made = apply_edit(text, edit)
    assert len(made.asked.line[0].points or ()) == len(points) + 1
    assert tomllib.loads(made.text)["pin"] == tomllib.loads(text)["pin"]


@given(st.integers(0, 3), NUMBERS, NUMBERS, st.floats(0, 1), st.booleans())
def test_places_on_untouched_sides_are_kept_and_the_rest_stay_on_their_sides(
    corner: int, x: float, y: float, share: float, closed: bool
) -> None:
    moved = tuple((x, y) if number == corner else point for number, point in enumerate(SQUARE))
    old, new = ring(SQUARE, closed), ring(moved, closed)
    assume(all(math.dist(a, b) > 0.1 for a, b in zip(moved, (*moved[1:], moved[0]), strict=True)))
    station = share * old.length
    placed = kept_places(SQUARE, moved, range(4), closed=closed)(station)
    assert -1e-9 <= placed <= new.length + 1e-9
    legs = 4 if closed else 3
    own = [old.project(shapely.Point(point)) for point in SQUARE] + [old.length]
    leg = max(number for number in range(legs) if station >= own[number])
    is_near_corner = min(abs(station - one) for one in own) < 0.01
    if corner not in (leg, (leg + 1) % 4) and not is_near_corner:
        assert old.interpolate(station).distance(new.interpolate(placed)) < 1e-6
    first, second = moved[leg], moved[(leg + 1) % 4]
    assert shapely.LineString([first, second]).distance(new.interpolate(placed)) < 0.02


@given(st.integers(0, 3), NUMBERS, NUMBERS, st.floats(0, 1), st.booleans())
def test_a_corner_put_in_and_taken_out_again_leaves_the_other_sides_alone(
    corner: int, x: float, y: float, share: float, closed: bool
) -> None:
    assume(closed or corner < 3)
    more = (*SQUARE[: corner + 1], (x, y), *SQUARE[corner + 1 :])
    old, new = ring(SQUARE, closed), ring(more, closed)
    there = [number + (number > corner) for number in range(4)]
    back = [None if number == corner + 1 else number - (number > corner) for number in range(5)]
    station = share * old.length
    placed = kept_places(SQUARE, more, there, closed=closed)(station)
    own = [old.project(shapely.Point(point)) for point in SQUARE] + [old.length]
    leg = max(number for number in range(4 if closed else 3) if station >= own[number])
    if min(abs(station - one) for one in own) < 0.01:
        return
    if leg != corner:
        assert old.interpolate(station).distance(new.interpolate(placed)) < 1e-6
        assert kept_places(more, SQUARE, back, closed=closed)(placed) == pytest.approx(station, abs=1e-6)
    else:
        nearer = min(station - own[leg], own[leg + 1] - station)
        start, end = new.project(shapely.Point(SQUARE[corner])), new.length
        if corner < 3:
            end = new.project(shapely.Point(SQUARE[corner + 1]))
        assume(start < end)  # the new corner makes the line pass a place twice
        assert min(placed - start, end - placed) == pytest.approx(nearer, abs=1e-6)
