"""Two published traverses.

traverse-1: worked compass-rule example, scribd document 493615208 (read; sources-structure.md section 10).
traverse-2: worked example in feet, justaaa question 19749 (read; sources-structure.md section 10).
Tolerance: half a unit of the last printed digit, twice that where the book rounds on the way.
"""

import math
import tomllib
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from fencewright.geometry.polyline import stations
from fencewright.site.ground_precision import GroundPrecision
from fencewright.site.level_adjustment import adjust_level_notes
from fencewright.site.level_notes import LevelNotes, Traverse, parse_level_notes, traverse
from fencewright.stakeout.chainage import lay_axis
from fencewright.stakeout.checks import find_corners
from fencewright.tables.fence import FenceLine

FloatArray = NDArray[np.float64]
FOOT_M = 0.3048  # international foot, exact
PRACTICE = Path(__file__).parents[1] / "data" / "ground-practice" / "precision.toml"

ONE = "from,to,slope_length_m,bearing\nA,B,80.40,N76E\nB,C,46.30,S36E\nC,D,72.80,S61W\nD,A,68.00,N38W\n"
TWO = (
    "from,to,slope_length_ft,bearing\n"
    "A,B,314.02,N22-36-40W\nB,C,264.49,S60-39-24W\nC,D,213.50,S38-46-10E\nD,A,217.69,N88-22-58E\n"
)


@pytest.fixture
def first() -> Traverse:
    return traverse(parse_level_notes(ONE, "traverse-1.csv"))


@pytest.fixture
def second() -> Traverse:
    return traverse(parse_level_notes(TWO, "traverse-2.csv"))


def by_compass_rule(part_m: FloatArray, closed: Traverse) -> FloatArray:
    """Share the misclosure of latitudes or departures in proportion to the legs' lengths."""
    length_m = np.hypot(closed.latitude_m, closed.departure_m)
    return np.asarray(part_m - part_m.sum() * length_m / length_m.sum())


def test_traverse_1_latitudes_and_departures(first: Traverse) -> None:
    np.testing.assert_allclose(first.latitude_m, [19.451, -37.457, -35.294, 53.585], atol=0.0006)
    np.testing.assert_allclose(first.departure_m, [78.012, 27.214, -63.672, -41.865], atol=0.0006)
    assert first.latitude_m.sum() == pytest.approx(0.285, abs=0.002)  # sum of four rounded numbers
    assert first.departure_m.sum() == pytest.approx(-0.311, abs=0.002)


def test_traverse_1_misclosure(first: Traverse) -> None:
    """Printed 0.42 in 267.5, 1:634; 0.42 is rounded, and 1:634 follows from the rounded sums."""
    assert first.length_m == pytest.approx(267.5, abs=0.05)
    assert first.horizontal_m == pytest.approx(0.42, abs=0.005)
    assert first.ratio == pytest.approx(634, abs=3)


def test_traverse_1_compass_rule(first: Traverse) -> None:
    np.testing.assert_allclose(
        by_compass_rule(first.latitude_m, first), [19.3653, -37.5063, -35.3716, 53.5126], atol=0.001
    )
    np.testing.assert_allclose(
        by_compass_rule(first.departure_m, first)[:3], [78.1055, 27.2678, -63.5874], atol=0.001
    )


def test_traverse_2_latitudes_and_departures(second: Traverse) -> None:
    np.testing.assert_allclose(
        second.departure_m / FOOT_M, [-120.733, -230.556, 133.691, 217.603], atol=0.0015
    )
    np.testing.assert_allclose(second.latitude_m / FOOT_M, [289.883, -129.611, -166.460, 6.144], atol=0.0015)


def test_traverse_2_misclosure(second: Traverse) -> None:
    """Printed 0.045 ft, about 1:22500."""
    assert second.horizontal_m / FOOT_M == pytest.approx(0.045, abs=0.0008)
    assert second.ratio == pytest.approx(22_500, rel=0.02)


@pytest.mark.parametrize("text", [ONE, TWO])
def test_least_squares_meets_the_compass_rule_where_angles_are_as_good_as_lengths(text: str) -> None:
    """The compass rule is least squares for errors that grow with the root of length alike both ways.

    With a tape error a leg and bearings of equal weight the two may differ by a part of the misclosure
    only: the largest difference stays below it.
    """
    notes: LevelNotes = parse_level_notes(text, "traverse.csv")
    level = "".join(f"{leg.from_point},{leg.to_point},,,0\n" for leg in notes.legs)
    unit = "m" if "length_m" in text else "ft"
    with_rises = text.replace("bearing\n", f"bearing,rise_{unit}\n") + level
    precision = GroundPrecision(**tomllib.loads(PRACTICE.read_text()))
    adjusted = adjust_level_notes(parse_level_notes(with_rises, "traverse.csv"), precision)
    closed = traverse(notes)
    east = np.concatenate([[0.0], np.cumsum(by_compass_rule(closed.departure_m, closed))[:-1]])
    north = np.concatenate([[0.0], np.cumsum(by_compass_rule(closed.latitude_m, closed))[:-1]])
    apart_m = np.hypot(adjusted.place_m[:, 0] - east, adjusted.place_m[:, 1] - north)
    assert apart_m.max() < closed.horizontal_m
    assert math.isfinite(adjusted.misfit_plan)


def by_departures(departure: list[float], latitude: list[float]) -> FenceLine:
    """Points of a traverse from its printed departures and latitudes, not closed: its misclosure stays."""
    xy = np.vstack([[0.0, 0.0], np.cumsum(np.column_stack([departure, latitude]), axis=0)])
    return FenceLine("traverse", xy, stations(xy), False, 0, 0)


@pytest.mark.parametrize(
    ("departure", "latitude", "courses", "bearings"),
    [
        (
            [78.012, 27.214, -63.672, -41.865], [19.451, -37.457, -35.294, 53.585], [80.40, 46.30, 72.80, 68.00],
            [76.0, 180 - 36.0, 180 + 61.0, 360 - 38.0],
        ),
        (
            [-120.733, -230.556, 133.691, 217.603], [289.883, -129.611, -166.460, 6.144], [314.02, 264.49, 213.50, 217.69],
            [360 - (22 + 36 / 60 + 40 / 3600), 180 + 60 + 39 / 60 + 24 / 3600, 180 - (38 + 46 / 60 + 10 / 3600),
             88 + 22 / 60 + 58 / 3600],
        ),
    ],
    ids=["traverse-1", "traverse-2"],
)  # fmt: skip
def test_courses_come_back_as_chainage_and_corner_angles(
    departure: list[float], latitude: list[float], courses: list[float], bearings: list[float]
) -> None:
    """Printed departures and latitudes, laid out as a fence, give the printed courses and the turns between bearings.

    Departures are printed to 0.001, which turns a course of 46 by 0.001 degrees or so.
    """
    line = by_departures(departure, latitude)
    corners = find_corners((line,), math.radians(2.0))
    np.testing.assert_allclose(np.diff(corners.station_m), courses, atol=0.006)
    np.testing.assert_allclose(corners.ahead_m[:-1], courses, atol=0.006)
    np.testing.assert_allclose(corners.back_m[1:], courses, atol=0.006)
    turns = -np.degrees(corners.turning_rad[1:-1])  # bearings run clockwise, turns to the left are positive
    wanted = (np.diff(bearings) + 180) % 360 - 180
    np.testing.assert_allclose(turns, wanted, atol=0.005)
    axis = lay_axis((line,))
    np.testing.assert_allclose(
        axis.places(axis.key_m(np.zeros(5, np.int64), line.station_m)), line.xy_m, atol=1e-9
    )
