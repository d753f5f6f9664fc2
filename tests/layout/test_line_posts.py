"""Line posts of a whole design: clearances measured from the raw geometry, dips and crests, what the job fixes."""

import math
from collections.abc import Callable

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fencewright.findings import Finding, InputError
from fencewright.pipeline.record import Design
from fencewright.pipeline.why import explain
from fencewright.tables.fence import Role, Setting
from fencewright.takeoff.pieces import rail_points

Laid = Callable[..., Design]
SQUARE = [(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)]
STRAIGHT = [(0.0, 0.0), (60.0, 0.0)]
CLOSED = "closed = true"
INCH, FOOT = 0.0254, 0.3048


def found(made: Design, code: str) -> list[Finding]:
    return [one for one in made.findings if one.code == code]


def obstacle(kind: str, points: list[tuple[float, float]], clearance: float, more: str = "") -> str:
    rows = ", ".join(f'["{x:.4f} m", "{y:.4f} m"]' for x, y in points)
    return f'[[obstacle]]\nkind = "{kind}"\npoints = [{rows}]\nclearance = "{clearance} m"\n{more}\n'


def room_m(made: Design, shape: shapely.Geometry) -> np.ndarray:
    """From a feature's edge to each hole's widest edge, by shapely from the raw geometry."""
    posts = made.layout.posts
    return np.asarray(shapely.distance(shape, shapely.points(posts.x_m, posts.y_m)) - made.holes.bell_m / 2)


def spans_m(made: Design) -> np.ndarray:
    spans = made.layout.spans
    return np.asarray((spans.to_station_m - spans.from_station_m)[spans.kind == 0])


PLACE = st.tuples(st.floats(3.0, 57.0), st.floats(-3.0, 3.0))


@given(
    places=st.lists(PLACE, min_size=1, max_size=3),
    clearance=st.floats(0.2, 1.2),
    radius=st.floats(0.0, 0.3),
    set_by=st.sampled_from(["tamped", "concrete", "driven"]),
)
@settings(max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_hole_is_placed_inside_a_clearance(
    laid: Laid, places: list[tuple[float, float]], clearance: float, radius: float, set_by: str
) -> None:
    more = obstacle("tree", places, clearance, f'radius = "{radius} m"')
    made = laid({"a": STRAIGHT}, more, fence=f'line_posts = "{set_by}"')
    shape = shapely.Point(places[0]) if len(places) == 1 else shapely.LineString(places)
    line = made.layout.posts.role == int(Role.LINE)
    if not found(made, "span-over-clearance"):
        assert (room_m(made, shape) - radius >= clearance - 1e-6)[line].all()
        assert spans_m(made).max() <= 4.0 + 1e-6


def test_a_curve_does_not_let_a_post_stand_at_its_own_points(laid: Laid) -> None:
    """A pipe along a curved line bars every leg of it, the points between the legs too."""
    ring = [(50 * math.cos(a), 50 * math.sin(a)) for a in np.arange(400) * 2 * math.pi / 400]
    pipe = [(28.956, -60.0), (28.956, 60.0)]
    made = laid({"a": (ring, CLOSED)}, obstacle("buried water", pipe, 0.6096))
    assert (room_m(made, shapely.LineString(pipe)) >= 0.6096 - 1e-6).all()
    assert not found(made, "post-in-clearance")


def test_a_clearance_over_the_first_point_of_a_closed_line(laid: Laid) -> None:
    """Station 0 lies mid-leg inside the clearance: it is one stretch, not two that touch there."""
    points = [(30.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0), (0.0, 0.0)]
    made = laid({"a": (points, CLOSED)}, obstacle("tree", [(30.0, 0.0)], 0.9))
    assert (room_m(made, shapely.Point(30, 0)) >= 0.9 - 1e-6).all()


@pytest.mark.parametrize(("unstable", "bell", "count"), [(False, 0.0, 16), (True, 6 * INCH, 17)])
def test_unstable_ground_widens_the_holes_that_must_keep_clear(
    laid: Laid, unstable: bool, bell: float, count: int
) -> None:
    """A post 1 m from a tree clears 0.8 m with a 12 in hole, but not with its bell of 18 in."""
    zone = f'[[soil_zone]]\nline = "a"\nfrom = "20 m"\nto = "40 m"\nsoil = "peat"\nunstable = {str(unstable).lower()}\n'
    made = laid({"a": STRAIGHT}, zone + obstacle("tree", [(29.0, 0.0)], 0.8))
    inside = (np.abs(made.layout.posts.x_m - 30) < 9.9) & (made.layout.posts.role == int(Role.LINE))
    assert (made.holes.set[inside] == int(Setting.CONCRETE if unstable else Setting.TAMPED)).all()
    np.testing.assert_allclose(made.holes.bell_m[inside], 12 * INCH + bell)
    assert room_m(made, shapely.Point(29, 0)).min() >= 0.8 - 1e-6
    assert len(made.layout.posts) == count
    assert not found(made, "post-in-clearance")


def test_a_clearance_wider_than_the_limit_is_a_stop_with_its_stations(laid: Laid) -> None:
    made = laid({"a": STRAIGHT}, obstacle("pond", [(30.0, 1.0)], 3.0))
    stop = found(made, "span-over-clearance")[0]
    half = math.sqrt((3.0 + 6 * INCH) ** 2 - 1)
    told = float(stop.message.split(" m of line")[0].rsplit(" ", 1)[1])
    assert told == pytest.approx(2 * half, abs=0.02)  # line posts stand 19 mm beside the string
    assert stop.where.station_m == pytest.approx(30 - half, abs=0.01)
    assert (room_m(made, shapely.Point(30, 1)) >= 3.0 - 1e-6).all()


def test_a_fixed_post_in_a_clearance_is_a_stop_with_the_amount(laid: Laid) -> None:
    made = laid({"a": STRAIGHT}, obstacle("septic field", [(60.0, 3.0)], 3.0))
    stop = found(made, "post-in-clearance")[0]
    assert stop.where.id == f"P{len(made.layout.posts)}"
    assert (
        "229 mm into the clearance of septic field 1" in stop.message
    )  # half of a 12 in hole with its 6 in bell


def test_an_overhead_line_bars_no_hole_but_is_named(laid: Laid) -> None:
    line = obstacle("overhead line", [(30.0, -20.0), (30.0, 20.0)], 0.0)
    made = laid({"a": STRAIGHT}, line)
    assert len(made.layout.posts) == len(laid({"a": STRAIGHT}).layout.posts)
    assert "P7 and 3 more" in found(made, "under-overhead-line")[0].message  # within 6 m: stations 24 to 36


def gauss(at: float, height: float, wide: float) -> Callable[[float, float], float]:
    return lambda x, _: height * math.exp(-(((x - at) / wide) ** 2))


@pytest.mark.parametrize(("height", "word"), [(0.8, "crest"), (-0.9, "dip")])
def test_a_post_stands_on_a_crest_and_in_a_dip_that_need_one(laid: Laid, height: float, word: str) -> None:
    """96 m and a hump are 25 bays; in the middle of the 13th the ground leaves the band of the gap."""
    made = laid({"a": [(0.0, 0.0), (96.0, 0.0)]}, height=gauss(48.0, height, 1.6))
    why = made.layout.posts.why
    at = [float(made.layout.posts.x_m[row]) for row in range(len(why)) if why[row].startswith(word)]
    assert at, why
    assert min(abs(x - 48.0) for x in at) < 0.7
    assert spans_m(made).max() <= 4.1


def test_a_small_hump_needs_no_post(laid: Laid) -> None:
    made = laid({"a": [(0.0, 0.0), (100.0, 0.0)]}, height=gauss(50.0, 0.05, 1.6))
    assert not any(why.startswith(("crest", "dip")) for why in made.layout.posts.why)
    assert (made.layout.posts.role == int(Role.LINE)).sum() == 24 + 1  # 100.003 m along the ground


def test_spacing_is_measured_along_the_ground(laid: Laid) -> None:
    """On 3-4-5 ground 4 m along the slope are 3.2 m on plan: 80 m need 25 bays, not 20."""
    made = laid({"a": [(0.0, 0.0), (80.0, 0.0)]}, height=lambda x, _: 0.75 * x)
    assert len(made.layout.posts) == 26
    np.testing.assert_allclose(np.diff(made.layout.posts.x_m[1:-1]), 3.2, atol=1e-3)


def test_a_pin_fixes_a_station_and_a_top(laid: Laid) -> None:
    made = laid(
        {"a": STRAIGHT},
        '[[pin]]\nline = "a"\nat = "29 m"\nheight = "56 in"\n[[pin]]\nline = "a"\nat = "41 m"\ntop = "1.40 m"\n',
    )
    posts = made.layout.posts
    first, second = (int(np.flatnonzero(np.abs(posts.station_m - at) < 1e-6)[0]) for at in (29.0, 41.0))
    assert made.top_line.height_m[first] == pytest.approx(56 * INCH)
    assert made.top_line.top_m[second] == pytest.approx(1.40)
    assert posts.why[first] == "pinned in the job"
    assert spans_m(made).max() <= 4.0 + 1e-9


def test_a_post_already_set_is_kept_where_and_as_it_stands(laid: Laid) -> None:
    made = laid(
        {"a": STRAIGHT},
        '[[built]]\nline = "a"\nat = "29 m"\noffset = "-2 in"\ndepth = "28 in"\nheight = "55 in"\n',
    )
    posts = made.layout.posts
    row = int(np.flatnonzero(posts.is_built)[0])
    assert (posts.x_m[row], posts.y_m[row]) == (29.0, pytest.approx(-2 * INCH))
    assert made.holes.depth_m[row] == pytest.approx(28 * INCH)
    assert made.top_line.height_m[row] == pytest.approx(55 * INCH)
    assert (made.holes.concrete_m3[row], made.holes.governs[row]) == (0.0, "already set")
    bought = sum(line.order for line in made.order if line.item == "round post")
    assert bought == len(posts) - 1
    assert spans_m(made).max() <= 4.0 + 1e-9


@pytest.mark.parametrize(("offset", "off"), [("-20 mm", 0.020), ("0 mm", 0.0), (None, None)])
def test_a_post_already_set_stands_off_the_string_by_its_own_offset(
    laid: Laid, offset: str | None, off: float | None
) -> None:
    """The string is half an end post beside the line through the ends' centres; the offset is of the centre."""
    stated = "" if offset is None else f'offset = "{offset}"\n'
    made = laid({"a": STRAIGHT}, f'[[built]]\nline = "a"\nat = "29 m"\n{stated}')
    posts = made.layout.posts
    row = int(np.flatnonzero(posts.is_built)[0])
    string = posts.y_m[0] - posts.offset_m[0]
    assert posts.offset_m[row] == pytest.approx(posts.y_m[row] - string)
    if off is None:
        assert posts.y_m[row] == pytest.approx(posts.y_m[row - 1])
        assert not found(made, "built-off-string")
        return
    assert posts.y_m[row] == pytest.approx(-off)
    face = posts.offset_m[row] + posts.rail_face[row] * posts.diameter_m[row] / 2
    off_rail = rail_points(posts)[row, 1] - rail_points(posts)[row - 1, 1]
    assert off_rail == pytest.approx(face)  # the rail is drawn to it, and its hole is checked so
    (caution,) = found(made, "built-off-string")
    assert f"is {abs(face) * 1000:.0f} mm {'left' if face > 0 else 'right'} of the string" in caution.message


def test_the_ground_measured_at_a_post_already_set_is_taken_and_the_line_flows_over_it(laid: Laid) -> None:
    built = '[[built]]\nline = "a"\nat = "29 m"\nheight = "1.4 m"\n'
    plain, low = laid({"a": STRAIGHT}, built), laid({"a": STRAIGHT}, built + 'ground = "-60 mm"\n')
    row = int(np.flatnonzero(low.layout.posts.is_built)[0])
    assert (plain.layout.posts.ground_m[row], low.layout.posts.ground_m[row]) == (0.0, -0.06)
    assert low.top_line.top_m[row] == pytest.approx(1.34)
    near = [row - 1, row + 1]
    assert (low.top_line.top_m[near] < plain.top_line.top_m[near] - 1e-3).all()
    reason = next(one for one in explain(low, f"P{row + 1}").reasons if one.name == "top above ground")
    assert "the job, [[built]] ground" in {one.origin for one in reason.inputs}


def test_a_post_set_near_a_corner_is_that_corner(laid: Laid) -> None:
    made = laid({"a": (SQUARE, CLOSED)}, '[[built]]\nline = "a"\nat = "60.2 m"\ndepth = "40 in"\n')
    row = int(np.flatnonzero(made.layout.posts.is_built)[0])
    assert Role(int(made.layout.posts.role[row])) is Role.CORNER
    assert len(made.layout.posts) == len(laid({"a": (SQUARE, CLOSED)}).layout.posts)


def test_a_hole_that_met_rock_is_kept_and_told(laid: Laid) -> None:
    made = laid({"a": STRAIGHT}, '[[rock]]\nline = "a"\nat = "29 m"\ndepth = "12 in"\n')
    row = int(np.flatnonzero(np.isfinite(made.layout.posts.rock_depth_m))[0])
    assert made.layout.posts.x_m[row] == 29.0
    assert made.holes.depth_m[row] == pytest.approx(12 * INCH)
    assert made.holes.governs[row] == "rock"
    caution = found(made, "hole-meets-rock")[0]
    assert f"P{row + 1} met rock 457 mm above its depth of 762 mm" in caution.message


@pytest.mark.parametrize(
    ("how", "setting", "wide"), [("driven", Setting.DRIVEN, 4.5), ("concrete", Setting.CONCRETE, 12)]
)
def test_line_posts_driven_or_concreted(laid: Laid, how: str, setting: Setting, wide: float) -> None:
    made = laid({"a": STRAIGHT}, fence=f'line_posts = "{how}"')
    line = made.layout.posts.role == int(Role.LINE)
    assert (made.holes.set[line] == int(setting)).all()
    np.testing.assert_allclose(made.holes.diameter_m[line], wide * INCH)
    assert (made.holes.concrete_m3[line] > 0).all() == (how == "concrete")
    assert (made.holes.spoil_m3[line] > 0).all() == (how == "concrete")


def test_a_soil_zone_is_concreted_there_and_heaves_there(laid: Laid) -> None:
    zone = '[[soil_zone]]\nline = "a"\nfrom = "10 m"\nto = "21 m"\nsoil = "silt"\n{}\n'
    line = {"a": STRAIGHT}
    made = laid(line, zone.format("unstable = true"), site="unstable = false")
    inside = (made.layout.posts.x_m >= 10) & (made.layout.posts.x_m <= 21)
    assert ((made.holes.set == int(Setting.CONCRETE)) == (inside | made.layout.posts.is_fixed)).all()
    assert not found(laid(line), "frost-heave")  # sand does not heave


def test_the_heave_of_a_zone_is_told_with_its_soil(laid: Laid) -> None:
    zone = '[[soil_zone]]\nline = "a"\nfrom = "10 m"\nto = "21 m"\nsoil = "silt"\n[holes]\nline_depth = "12 in"\n'
    caution = found(laid({"a": STRAIGHT}, zone), "frost-heave")[0]
    assert "3 tamped posts end above the frost line at 400 mm in silt" in caution.message


def test_a_note_where_a_little_less_would_save_a_post(laid: Laid) -> None:
    note = found(laid({"a": [(0.0, 0.0), (60.4, 0.0)]}), "bay-near-miss")[0]
    assert "400 mm less between P1 and P17 would save a post" in note.message
    assert not found(laid({"a": STRAIGHT}), "bay-near-miss")


def test_no_such_note_where_a_given_post_costs_the_bay(laid: Laid) -> None:
    """Rock at 31 m makes 16 bays of a line that needs 15: no shortening of the line saves one."""
    made = laid({"a": STRAIGHT}, '[[rock]]\nline = "a"\nat = "29.5 m"\ndepth = "12 in"\n')
    assert len(made.layout.posts) == 17
    assert not found(made, "bay-near-miss")


@pytest.mark.parametrize("table", ["pin", "strain", "built", "rock", "soil_zone", "crossing"])
def test_a_wish_for_no_line_is_refused(laid: Laid, table: str) -> None:
    more = {"rock": 'depth = "1 ft"', "crossing": 'width = "9 m"'}.get(table, "")
    where = 'from = "1 m"\nto = "2 m"\nsoil = "sand"' if table == "soil_zone" else 'at = "5 m"'
    with pytest.raises(InputError, match=f'{table} 1: there is no line "b"; lines: a'):
        laid({"a": STRAIGHT}, f'[[{table}]]\nline = "b"\n{where}\n{more}\n')


@pytest.mark.parametrize(
    ("start", "end", "key", "said"), [("20 m", "5000 m", "to", 5000), ("90 m", "95 m", "from", 90)]
)
@pytest.mark.parametrize("closed", [False, True])
def test_a_soil_zone_beyond_the_end_is_refused(
    laid: Laid, start: str, end: str, key: str, said: int, closed: bool
) -> None:
    """Its posts would take another soil than the one that was meant."""
    ring = ([(0.0, 0.0), (30.0, 0.0), (30.0, 10.0), (0.0, 10.0)], CLOSED)
    zone = f'[[soil_zone]]\nline = "a"\nfrom = "{start}"\nto = "{end}"\nsoil = "peat"\n'
    words = (
        rf'soil_zone 1, {key}: station {said}\.\d+ m lies beyond the end of line "a", which is 80\.\d+ m long'
    )
    with pytest.raises(InputError, match=words):
        laid({"a": ring if closed else [(0.0, 0.0), (80.0, 0.0)]}, zone)


def test_a_soil_zone_may_end_at_a_length_rounded_by_hand(laid: Laid) -> None:
    zone = '[[soil_zone]]\nline = "a"\nfrom = "20 m"\nto = "80.5 m"\nsoil = "peat"\n'
    assert len(laid({"a": [(0.0, 0.0), (80.0, 0.0)]}, zone).layout.posts)


@pytest.mark.parametrize("table", ["pin", "strain", "built"])
def test_a_wish_beyond_the_end_is_refused(laid: Laid, table: str) -> None:
    with pytest.raises(InputError, match=r'61.000 m lies beyond the end of line "a", which is 60.000 m long'):
        laid({"a": STRAIGHT}, f'[[{table}]]\nline = "a"\nat = "61 m"\n')


@pytest.mark.parametrize("at", ["54.89 m", "180.09 ft"])
def test_the_end_of_a_line_is_found_by_its_station_rounded_up(laid: Laid, at: str) -> None:
    made = laid({"a": [(0.0, 0.0), (54.8896, 0.0)]}, f'[[pin]]\nline = "a"\nat = "{at}"\nheight = "1.3 m"\n')
    assert made.layout.posts.station_m[-1] == 54.8896


def test_a_job_without_lines_or_with_two_of_one_name(laid: Laid) -> None:
    with pytest.raises(InputError, match=r"has no \[\[line\]\]"):
        laid({})
    with pytest.raises(InputError, match='two lines are called "a"'):
        laid({"a": STRAIGHT}, '[[line]]\nname = "a"\npoints = [["0 m", "9 m"], ["9 m", "9 m"]]\n')


def test_an_endless_fence_is_refused_with_its_number_of_posts(laid: Laid) -> None:
    with pytest.raises(
        InputError, match=r"9,999 km of fence would take 16,402,559 posts, more than 200,000"
    ) as refused:
        laid({"a": [(0.0, 0.0), (9_999_000.0, 0.0)]}, fence='spacing_limit = "2 ft"')
    assert "check the unit of its points" in refused.value.what
