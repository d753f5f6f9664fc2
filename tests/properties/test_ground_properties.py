"""What must hold for any ground: planes exact, moves and turns without effect, bounds between neighbours."""

import math
import tomllib
from pathlib import Path

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from fencewright.exchange.gpx_heights import smooth_heights
from fencewright.site.grid_ground import GridGround, GridPlace
from fencewright.site.ground_precision import GroundPrecision
from fencewright.site.level_adjustment import adjust_level_notes
from fencewright.site.level_notes import Leg, LevelNotes
from fencewright.site.spot_ground import SpotGround
from fencewright.site.survey_table import parse_bearing

FloatArray = NDArray[np.float64]
PRACTICE = Path(__file__).parents[1] / "data" / "ground-practice" / "precision.toml"
PRECISION = GroundPrecision(**tomllib.loads(PRACTICE.read_text()))

slopes = st.floats(-0.5, 0.5)
offsets = st.floats(-1e6, 1e6)
seeds = st.integers(0, 2**32 - 1)


def grid(heights: FloatArray, place: GridPlace) -> GridGround:
    return GridGround(heights, place, height_sd_m=0.0, subcell_share=0.29)


@settings(deadline=None)
@given(seeds, offsets, offsets, st.floats(0.1, 100.0))
def test_grid_stays_between_its_nodes_and_does_not_mind_being_moved(
    seed: int, x0: float, y0: float, cell: float
) -> None:
    rng = np.random.default_rng(seed)
    heights = rng.normal(0.0, 5.0, (7, 9))
    x, y = rng.uniform([0.0, 0.0], [8.0, 6.0], (50, 2)).T
    here = grid(heights, GridPlace(0.0, 0.0, 1.0, 1.0)).elevation_m(x, y)
    moved = grid(heights, GridPlace(x0, y0, cell, cell)).elevation_m(x0 + x * cell, y0 + y * cell)
    np.testing.assert_allclose(moved, here, atol=1e-4)
    assert heights.min() <= here.min()
    assert here.max() <= heights.max()


@settings(deadline=None)
@given(seeds)
def test_grid_does_not_mind_being_flipped(seed: int) -> None:
    rng = np.random.default_rng(seed)
    heights = rng.normal(0.0, 5.0, (7, 9))
    x, y = rng.uniform([0.0, 0.0], [8.0, 6.0], (50, 2)).T
    up = grid(heights, GridPlace(0.0, 0.0, 1.0, 1.0))
    down = grid(heights[::-1], GridPlace(0.0, 6.0, 1.0, -1.0))
    np.testing.assert_allclose(up.elevation_m(x, y), down.elevation_m(x, y), atol=1e-9)
    np.testing.assert_allclose(up.sd_m(x, y), down.sd_m(x, y), atol=1e-9)


@settings(max_examples=30, deadline=None)
@given(seeds, slopes, slopes, offsets, st.floats(0.0, 2 * math.pi))
def test_spots_on_a_plane_give_the_plane_wherever_it_lies(
    seed: int, east: float, north: float, away: float, turn: float
) -> None:
    rng = np.random.default_rng(seed)
    flat = rng.uniform(0.0, 100.0, (40, 2))
    heights = flat @ [east, north]
    rotation = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    places = flat @ rotation + away
    ground = SpotGround(np.column_stack([places, heights]), spot_sd_m=0.01)
    asked = rng.uniform(40.0, 60.0, (20, 2))
    found = ground.elevation_m(*(asked @ rotation + away).T)
    known = np.isfinite(found)
    np.testing.assert_allclose(found[known], (asked @ [east, north])[known], atol=1e-5)
    assert ground.roughness < 1e-4


@settings(max_examples=30, deadline=None)
@given(seeds, st.floats(5.0, 200.0))
def test_smoothing_keeps_straight_slopes_and_does_not_mind_direction(seed: int, hump: float) -> None:
    rng = np.random.default_rng(seed)
    station = np.cumsum(rng.uniform(0.5, 20.0, 80))
    noise = rng.normal(0.0, 1.0, 80)
    smooth, sd = smooth_heights(station, noise, shortest_hump_m=hump)
    tilted, tilted_sd = smooth_heights(station, noise + 3.0 + 0.2 * station, shortest_hump_m=hump)
    back, back_sd = smooth_heights(station[-1] - station[::-1], noise[::-1], shortest_hump_m=hump)
    np.testing.assert_allclose(tilted, smooth + 3.0 + 0.2 * station, atol=1e-5)
    np.testing.assert_allclose(back[::-1], smooth, atol=1e-5)
    np.testing.assert_allclose([tilted_sd, back_sd], sd, atol=1e-5)


@settings(max_examples=30, deadline=None)
@given(seeds, st.integers(3, 8))
def test_exact_notes_of_any_round_give_back_its_points(seed: int, corners: int) -> None:
    rng = np.random.default_rng(seed)
    angle = np.sort(rng.uniform(0, 2 * math.pi, corners)) + np.arange(corners) * 0.3
    points = np.column_stack([60 * np.cos(angle), 60 * np.sin(angle), rng.uniform(-2, 2, corners)])
    points -= points[0]
    legs = []
    for start in range(corners):
        stop = (start + 1) % corners
        way = points[stop] - points[start]
        legs.append(
            Leg(
                f"P{start}", f"P{stop}", float(np.linalg.norm(way)), float(way[2]),
                math.atan2(way[0], way[1]), is_fine=True,
            )
        )  # fmt: skip
    adjusted = adjust_level_notes(LevelNotes("n.csv", tuple(legs), {}), PRECISION)
    np.testing.assert_allclose(adjusted.place_m, points, atol=1e-6)
    assert adjusted.closure.horizontal_m < 1e-6
    assert adjusted.closure.vertical_m < 1e-9


@given(
    st.integers(0, 89), st.integers(0, 59), st.integers(0, 59), st.sampled_from("NS"), st.sampled_from("EW")
)
def test_bearings_in_seconds_read_back(degrees: int, minutes: int, seconds: int, ns: str, ew: str) -> None:
    azimuth, is_fine = parse_bearing(f"{ns}{degrees}-{minutes:02d}-{seconds:02d}{ew}")
    north, east = math.cos(azimuth), math.sin(azimuth)
    turned = math.radians(degrees + minutes / 60 + seconds / 3600)
    assert math.isclose(abs(east), math.sin(turned), abs_tol=1e-12)
    assert math.isclose(north, math.cos(turned) * (1 if ns == "N" else -1), abs_tol=1e-12)
    assert (east >= -1e-12) == (ew == "E") or math.isclose(east, 0.0, abs_tol=1e-9)
    assert is_fine
