"""Tape-and-level notes: reading them, their closure, and their adjustment."""

import math
import tomllib
from pathlib import Path

import numpy as np
import pytest

from fencewright.findings import CAUTION, NOTE, InputError
from fencewright.quantity.show import UnitSystem
from fencewright.site.ground_precision import GroundPrecision
from fencewright.site.level_adjustment import AdjustedNotes, adjust_level_notes
from fencewright.site.level_ground import level_findings, level_ground
from fencewright.site.level_notes import parse_level_notes, traverse
from fencewright.site.survey_table import parse_bearing, parse_turn

METRIC = UnitSystem("metric")
DATA = Path(__file__).parents[1] / "data" / "ground-practice" / "precision.toml"
PRECISION = GroundPrecision(**tomllib.loads(DATA.read_text()))

# 60 m by 40 m, diagonals 72.111 m (3-4-5 family, sqrt(60^2 + 40^2)); level, then tilted by the rises
RECTANGLE = """from,to,slope_length_m,rise_m
A,B,60.000,0.00
B,C,40.000,0.00
C,D,60.000,0.00
D,A,40.000,0.00
A,C,72.11103,
B,D,72.11103,
"""


def adjusted(text: str) -> AdjustedNotes:
    return adjust_level_notes(parse_level_notes(text, "notes.csv"), PRECISION)


@pytest.mark.parametrize(
    ("text", "degrees", "is_fine"),
    [
        ("N76E", 76.0, False),
        ("n 22-36-40 w", 360.0 - (22 + 36 / 60 + 40 / 3600), True),
        ("S60°39'24\"W", 180.0 + 60 + 39 / 60 + 24 / 3600, True),
        ("S 38 46 10 E", 180.0 - (38 + 46 / 60 + 10 / 3600), True),
        ("123.5", 123.5, True),
        ("270 deg", 270.0, False),
    ],
)
def test_bearings(text: str, degrees: float, is_fine: bool) -> None:
    azimuth, fine = parse_bearing(text)
    assert math.degrees(azimuth) == pytest.approx(degrees, abs=1e-9)
    assert fine is is_fine


@pytest.mark.parametrize("text", ["N91E", "N10", "10E", "361", "10-60", "north", "nan", ""])
def test_what_is_no_bearing(text: str) -> None:
    with pytest.raises(ValueError):
        parse_bearing(text)


@pytest.mark.parametrize(
    ("text", "degrees"), [("42-30 R", 42.5), ("L15", -15.0), ("-15", -15.0), ("90", 90.0), ("R 10.5", 10.5)]
)
def test_turned_angles(text: str, degrees: float) -> None:
    assert math.degrees(parse_turn(text)[0]) == pytest.approx(degrees)


def test_units_in_heading_and_in_cell_agree() -> None:
    heading = parse_level_notes("from,to,slope_length_ft,rise_in\nA,B,100,18", "a.csv")
    cell = parse_level_notes("from;to;slope_length;rise\nA;B;100 ft;1' 6\"", "a.csv")
    assert heading.legs[0].slope_length_m == pytest.approx(30.48)
    assert cell.legs[0].slope_length_m == pytest.approx(30.48)
    assert heading.legs[0].rise_m == pytest.approx(cell.legs[0].rise_m) == pytest.approx(0.4572)


def test_rectangle_by_tape_alone_is_exact() -> None:
    """Derived (sources-structure.md section 10): a 60 by 40 rectangle has the diagonal 72.11103."""
    points = adjusted(RECTANGLE)
    np.testing.assert_allclose(points.place_m, [[0, 0, 0], [60, 0, 0], [60, 40, 0], [0, 40, 0]], atol=2e-5)
    assert points.misfit_plan < 0.01
    assert points.misfit_height == pytest.approx(0.0, abs=1e-12)
    assert "due east" in points.assumed
    assert "turning left" in points.assumed


def test_slope_lengths_are_reduced_to_plan() -> None:
    """Derived (sources-structure.md section 10): 30 m on a 10 % slope is 29.85112 m level."""
    rise_m = 30.0 * 0.1 / math.hypot(1.0, 0.1)
    points = adjusted(f"from,to,slope_length_m,rise_m,bearing\nA,B,30,{rise_m},90")
    assert points.place_m[1, 0] == pytest.approx(29.85112, abs=5e-6)
    assert points.place_m[1, 2] == pytest.approx(rise_m)
    assert math.isnan(points.misfit_height)


def test_ties_from_two_points() -> None:
    """Derived (sources-structure.md section 10): ties 25 and 20 from the ends of 30 give 18.75, 16.53594."""
    points = adjusted("from,to,slope_length_m,rise_m\nA,B,30,0\nA,P,25,\nB,P,20,\nA,P,,0\n")
    np.testing.assert_allclose(points.place_m[2], [18.75, 16.53594, 0.0], atol=5e-6)


def test_a_vertical_misclosure_is_shared_evenly_between_equal_rises() -> None:
    text = RECTANGLE.replace("60.000,0.00", "60.000,0.01").replace("40.000,0.00", "40.000,0.01")
    points = adjusted(text)
    assert points.closure.vertical_m == pytest.approx(0.04)
    np.testing.assert_allclose(points.place_m[:, 2], 0.0, atol=1e-12)  # 0.01 - 0.04 / 4
    # variance of a height in a ring of four equal rises: k (4 - k) / 4 of one rise's, times the misfit
    misfit = 0.02 / PRECISION.level_sd_m
    assert points.misfit_height == pytest.approx(misfit)
    expected = [0.0, math.sqrt(3 / 4), 1.0, math.sqrt(3 / 4)]
    np.testing.assert_allclose(points.sd_m[:, 2], np.array(expected) * PRECISION.level_sd_m * misfit)


def test_standard_deviations_match_a_thousand_surveys() -> None:
    """Oracle: the same rectangle measured again and again with the errors that tape and level promise."""
    rng = np.random.default_rng(5)
    notes = parse_level_notes(RECTANGLE, "notes.csv")
    places = []
    for _ in range(400):
        rows = ["from,to,slope_length_m,rise_m"]
        for leg in notes.legs:
            sd_m = math.hypot(PRECISION.tape_sd_m, PRECISION.tape_sd_ratio * leg.slope_length_m)
            rise = "" if leg.is_tie else f"{rng.normal(0.0, PRECISION.level_sd_m):.6f}"
            rows.append(
                f"{leg.from_point},{leg.to_point},{leg.slope_length_m + rng.normal(0.0, sd_m):.6f},{rise}"
            )
        places.append(adjusted("\n".join(rows)).place_m)
    scatter = np.std(places, axis=0)
    promised = adjusted(RECTANGLE).sd_m
    free = promised > 1e-4
    assert free.sum() == 8
    np.testing.assert_allclose(scatter[free], promised[free], rtol=0.15)


def test_turned_angles_give_the_same_square_as_bearings() -> None:
    bearings = adjusted(
        "from,to,slope_length_m,rise_m,bearing\nA,B,50,1,N\nB,C,50,1,E".replace(",N\n", ",N10E\n").replace(
            ",E", ",S80E"
        )
    )
    turned = adjusted("from,to,slope_length_m,rise_m,bearing,turned\nA,B,50,1,N10E,\nB,C,50,1,,90 R")
    np.testing.assert_allclose(turned.place_m, bearings.place_m, atol=1e-9)


def test_known_points_hold_and_close() -> None:
    text = (
        "from,to,slope_length_m,rise_m,bearing,x_m,y_m,z_m\n"
        "A,,,,,1000,2000,100\nC,,,,,1100,2000,102\n"
        "A,B,50.02,1.01,90,,,\nB,C,50.03,1.01,90,,,\n"
    )
    points = adjusted(text)
    np.testing.assert_allclose(points.place_m[[0, 2]], [[1000, 2000, 100], [1100, 2000, 102]])
    np.testing.assert_allclose(points.sd_m[[0, 2]], 0.0)
    np.testing.assert_allclose(points.place_m[1], [1049.995, 2000, 101.0], atol=2e-3)
    assert points.closure.vertical_m == pytest.approx(0.02)


def test_misclosure_is_shown_and_a_blunder_is_a_caution() -> None:
    (good, assumed) = level_findings(adjusted(RECTANGLE), METRIC)
    assert (good.level, good.code, assumed.code) == (NOTE, "level-misclosure", "level-assumed")
    blunder = level_findings(adjusted(RECTANGLE.replace("72.11103", "73.2", 1)), METRIC)[0]
    assert (blunder.level, blunder.code) == (CAUTION, "level-misclosure")
    once = adjusted("from,to,slope_length_m,rise_m,bearing\nA,B,50,1,N10E")
    (unchecked,) = level_findings(once, METRIC)
    assert (unchecked.level, unchecked.code) == (CAUTION, "level-unchecked")


def test_notes_become_ground_along_their_legs() -> None:
    points = adjusted("from,to,slope_length_m,rise_m,bearing\nA,B,50,1,90\nB,C,50,2,90\n")
    ground = level_ground(points, PRECISION)
    middle_m = points.place_m[1, 0]
    np.testing.assert_allclose(
        ground.elevation_m(np.array([middle_m / 2, middle_m, 20.0]), np.array([0.0, 1.0, 4.0])),
        [0.5, 1.0, np.nan],
    )
    assert ground.sd_m(np.array([middle_m]), np.zeros(1))[0] == pytest.approx(PRECISION.level_sd_m)


def test_traverse_stops_where_legs_no_longer_follow() -> None:
    notes = parse_level_notes(
        "from,to,slope_length_m,rise_m\nA,B,50,1\nB,C,50,1\nX,Y,10,1\nA,X,10,1\n", "n.csv"
    )
    assert [leg.to_point for leg in traverse(notes).legs] == ["B", "C"]
    assert math.isnan(traverse(notes).horizontal_m)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "is empty"),
        ("\0\1\2", "not text"),
        ("from,to\nA,B\n", 'no column "slope_length"'),
        ("from,to,slope_length_m\n", "holds no legs"),
        ("from,to,slope_length\nA,B,50\n", "line 2.*heading with its unit"),
        ("from,to,slope_length_m\nA,B,fifty\n", "line 2.*is no length"),
        ("from,to,slope_length_m\nA,B,nan\n", "no number of this world"),
        ("from,to,slope_length_m\nA,B,1e12\n", "no number of this world"),
        ("from,to,slope_length_m\nA,B,-3\n", "more than zero"),
        ("from,to,slope_length_m\nA,A,3\n", "two different points"),
        ("from,to,slope_length_m\nA,B,\n", "a length or a rise"),
        ("from,to,slope_length_m,rise_ft\nA,B,3,10\n", "not less than the slope length"),
        ("from,to,slope_length_m,bearing\nA,B,3,up\n", "is no angle"),
        ("from,to,slope_length_m,slope_length_ft\nA,B,3,3\n", "twice"),
        ("from,to,slope_length_m,rise_m\nA,B,3,1\nC,D,3,1\n", 'ties point "C"'),
        ("from,to,slope_length_m,rise_m\nA,B,30,1\nB,C,30,1\n", 'point "C" is not fixed'),
        ("from,to,slope_length_m,rise_m,x_m,y_m\nA,,,,0,\nA,B,3,1,,\n", "needs x and y"),
    ],
)
def test_bad_notes_give_one_sentence(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        adjusted(text)
    assert str(caught.value).startswith("notes.csv")


def test_too_many_points_are_refused() -> None:
    rows = "".join(f"P{i},P{i + 1},10,0,90\n" for i in range(2001))
    with pytest.raises(InputError, match="divide the survey"):
        adjusted("from,to,slope_length_m,rise_m,bearing\n" + rows)
