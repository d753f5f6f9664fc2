"""Ties meet again at the post, and their error ellipse is that of many tapings."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from fencewright.job.stake_out_settings import StakeOutSettings
from fencewright.stakeout.ties import Targets, Ties, no_ties, tie_stakes
from fencewright.tables.stake_out import TIES, References

TAPE = StakeOutSettings(
    tape_length_m=90.0, tape_sd_m=0.006, tape_share=2e-4, tie_angle_least_rad=math.radians(30),
    tie_angle_most_rad=math.radians(150), reference_clear_m=0.3, peg_beyond_m=1.8, check_leg_m=10.0,
    right_angle_rad=1e-3, sheet_unit_m=0.5,
)  # fmt: skip
place = st.tuples(st.floats(-80, 80), st.floats(-80, 80))


def points(*xyz: tuple[float, float, float]) -> References:
    table = np.array(xyz)
    names = tuple("abcdefgh"[: len(table)])
    return References(names, table[:, 0], table[:, 1], table[:, 2], np.zeros(len(table)))


def target(x: float, y: float, z: float = 0.0, sd: float = 0.0) -> Targets:
    return Targets(*(np.array([value]) for value in (x, y, z, sd)))


def state(made: Ties) -> str:
    return TIES[int(made.tie_state[0])]


def test_ties_of_25_and_20_from_the_ends_of_30() -> None:
    """sources-structure.md, section 10, derived: they meet at (18.75, 16.53594)."""
    made = tie_stakes(target(18.75, 16.53594), points((0, 0, 0), (30, 0, 0)), TAPE)
    np.testing.assert_allclose(made.tie_m[0], [25.0, 20.0], atol=1e-5)
    assert made.tie_side[0] == 1
    cosine = (25**2 + 20**2 - 30**2) / (2 * 25 * 20)
    assert made.tie_angle_rad[0] == pytest.approx(math.acos(cosine), abs=1e-6)


def test_thirty_metres_on_a_ten_percent_slope() -> None:
    """sources-structure.md, section 10, derived: 29.85112 m level."""
    level = 29.85112
    made = tie_stakes(target(level, 0, level / 10), points((0, 0, 0), (0, 20, 0)), TAPE)
    assert made.slope_tie_m[0, 0] == pytest.approx(30.0, abs=1e-5)


@given(post=place, one=place, other=place)
def test_two_circles_meet_at_the_post(
    post: tuple[float, float], one: tuple[float, float], other: tuple[float, float]
) -> None:
    """Circles of another library, drawn fine, cross where the stake stands, on the side that is named."""
    assume(math.dist(one, other) > 1 and min(math.dist(post, one), math.dist(post, other)) > 2)
    made = tie_stakes(target(*post), points((*one, 0), (*other, 0)), TAPE)
    assume(0.2 < made.tie_angle_rad[0] < math.pi - 0.2)
    rings = [
        shapely.Point(centre).buffer(radius, quad_segs=4000).exterior
        for centre, radius in zip((one, other), made.tie_m[0].tolist(), strict=True)
    ]
    meet = shapely.get_coordinates(shapely.intersection(rings[0], rings[1]))
    base = np.subtract(other, one)
    side = np.sign(base[0] * (meet[:, 1] - one[1]) - base[1] * (meet[:, 0] - one[0]))
    own = meet[side == made.tie_side[0]]
    assert np.hypot(*(own - np.array(post)).T).min() < 1e-3


@given(post=place, turn=st.floats(0, 6.28), mirror=st.booleans())
def test_moved_turned_and_mirrored(post: tuple[float, float], turn: float, mirror: bool) -> None:
    refs = np.array([[-100.0, -95.0], [90.0, -110.0]])
    spots = np.vstack([refs, [post]])
    flip = np.array([1.0, -1.0 if mirror else 1.0])
    cos, sin = math.cos(turn), math.sin(turn)
    moved = (spots * flip) @ np.array([[cos, sin], [-sin, cos]]) + np.array([5000.0, -300.0])
    made, again = (
        tie_stakes(target(*xy[2]), points((*xy[0], 0), (*xy[1], 0)), TAPE) for xy in (spots, moved)
    )
    for name in ("tie_m", "tie_angle_rad", "position_sd_m", "major_sd_m", "minor_sd_m"):
        np.testing.assert_allclose(getattr(made, name), getattr(again, name), atol=1e-8)
    assert again.tie_side[0] == (-1 if mirror else 1) * made.tie_side[0]


def solved(made: Ties, refs: References, taped: np.ndarray, rise: np.ndarray) -> np.ndarray:
    """Where a crew would set the stake that taped these slopes: two circles, met by the law of cosines."""
    first, second = np.sqrt(taped**2 - rise**2).T
    base = np.array([refs.x_m[1] - refs.x_m[0], refs.y_m[1] - refs.y_m[0]])
    length = np.hypot(*base)
    along = (first**2 - second**2 + length**2) / (2 * length)
    off = made.tie_side[0] * np.sqrt(first**2 - along**2)
    east, north = base / length, np.array([-base[1], base[0]]) / length
    return np.asarray(along[:, None] * east + off[:, None] * north + [refs.x_m[0], refs.y_m[0]])


@pytest.mark.parametrize("where", [(18.0, 40.0, 0.0), (55.0, 35.0, 6.0), (-20.0, 15.0, -3.0)])
def test_the_ellipse_is_that_of_many_tapings(where: tuple[float, float, float]) -> None:
    refs = points((0, 0, 0), (30, -4, 1))
    made = tie_stakes(target(*where, 0.01), refs, TAPE)
    rng = np.random.default_rng(7)
    count = 200_000
    tape_sd = np.hypot(TAPE.tape_sd_m, TAPE.tape_share * made.slope_tie_m[0])
    taped = made.slope_tie_m[0] + rng.normal(0, tape_sd, (count, 2))
    rise = (where[2] - refs.ground_m) + rng.normal(0, 0.01, (count, 2))
    spread = np.cov((solved(made, refs, taped, rise) - np.array(where[:2])).T)
    axes, ways = np.linalg.eigh(spread)
    assert math.sqrt(axes[1]) == pytest.approx(made.major_sd_m[0], rel=0.01)
    assert math.sqrt(axes[0]) == pytest.approx(made.minor_sd_m[0], rel=0.01)
    assert math.sqrt(axes.sum()) == pytest.approx(made.position_sd_m[0], rel=0.01)
    along = np.array([math.cos(made.major_heading_rad[0]), math.sin(made.major_heading_rad[0])])
    assert abs(float(ways[:, 1] @ along)) > 0.999


@pytest.mark.parametrize(
    ("post", "says"),
    [((15, 12), "good"), ((15, 80), "too sharp"), ((15, 2), "too flat"), ((80, 60), "too long"), ((60, 0), "too sharp")],
)  # fmt: skip
def test_how_ties_stand_to_each_other(post: tuple[float, float], says: str) -> None:
    assert state(tie_stakes(target(*post), points((0, 0, 0), (30, 0, 0)), TAPE)) == says


def test_in_one_line_with_both_points_a_stake_has_no_position() -> None:
    made = tie_stakes(target(60, 0), points((0, 0, 0), (30, 0, 0)), TAPE)
    assert np.isinf(made.position_sd_m[0])
    assert np.isinf(made.major_sd_m[0])
    assert made.tie_side[0] == 0


def test_a_third_point_is_used_where_it_cuts_better() -> None:
    two = tie_stakes(target(60, 0.1), points((0, 0, 0), (30, 0, 0)), TAPE)
    three = tie_stakes(target(60, 0.1), points((0, 0, 0), (30, 0, 0), (60, 30, 0)), TAPE)
    assert three.tie_reference[0].tolist() in ([0, 2], [1, 2])
    assert three.position_sd_m[0] < two.position_sd_m[0] / 10
    assert state(three) == "good"


def test_a_height_that_is_not_known_leaves_the_slope_out() -> None:
    made = tie_stakes(target(15, 12), points((0, 0, np.nan), (30, 0, 0)), TAPE)
    assert np.isnan(made.slope_tie_m[0, 0])
    assert np.isfinite(made.position_sd_m[0])


def test_no_references_give_no_ties() -> None:
    made = no_ties(3)
    assert made.tie_reference.tolist() == [[-1, -1]] * 3
    assert np.isnan(made.tie_m).all()
    assert not made.tie_state.any()
