"""A track's own heights: the smoother against its own equations, and the ground made of it."""

import math
import tomllib
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from pyproj import Transformer

from fencewright.exchange.gpx_heights import read_track_ground, read_track_points, smooth_heights
from fencewright.exchange.ground_request import GroundRequest
from fencewright.findings import InputError
from fencewright.site.ground_precision import GroundPrecision

FloatArray = NDArray[np.float64]
PRACTICE = Path(__file__).parents[1] / "data" / "ground-practice" / "precision.toml"
PRECISION = GroundPrecision(**tomllib.loads(PRACTICE.read_text()))


def track(path: Path, points: FloatArray, tag: str = "trkpt") -> Path:
    """Write longitude, latitude and height as one track segment."""
    rows = "".join(f'<{tag} lat="{y:.8f}" lon="{x:.8f}"><ele>{z:.2f}</ele></{tag}>' for x, y, z in points)
    path.write_text(
        '<?xml version="1.0"?><gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1">'
        f"<trk><trkseg>{rows}</trkseg></trk></gpx>",
        encoding="utf-8",
    )
    return path


def from_file(degrees: FloatArray) -> FloatArray:
    """Take degrees to a plane of 100 km a degree."""
    return degrees * 100_000.0


def test_smoother_solves_its_own_normal_equations_on_uneven_steps() -> None:
    """Oracle: dense matrices built from second derivatives."""
    rng = np.random.default_rng(1)
    station = np.cumsum(rng.uniform(0.5, 9.0, 60))
    height = rng.normal(100.0, 2.0, 60)
    step = np.diff(station)
    second = np.zeros((58, 60))
    for row in range(58):
        half = (step[row] + step[row + 1]) / 2.0
        second[row, row] = 1.0 / step[row] / half
        second[row, row + 2] = 1.0 / step[row + 1] / half
        second[row, row + 1] = -second[row, row] - second[row, row + 2]
    weight = np.zeros(60)
    weight[:-1] += step / 2.0
    weight[1:] += step / 2.0
    penalty = second.T @ np.diag((step[1:] + step[:-1]) / 2.0) @ second
    strength = (20.0 / (2.0 * math.pi)) ** 4
    dense = np.linalg.solve(np.diag(weight) + strength * penalty, weight * height)
    np.testing.assert_allclose(smooth_heights(station, height, shortest_hump_m=20.0)[0], dense, atol=1e-8)


@pytest.mark.parametrize("ratio", [0.5, 1.0, 2.0, 4.0])
def test_waves_keep_the_share_that_theory_says(ratio: float) -> None:
    """Derived: the filter's gain at wavelength l is 1 / (1 + (L / l)^4)."""
    station = np.arange(0.0, 6000.0, 1.0)
    wave = np.sin(2.0 * math.pi * station / (60.0 * ratio))
    smooth, _ = smooth_heights(station, wave, shortest_hump_m=60.0)
    assert np.ptp(smooth[1000:-1000]) / 2.0 == pytest.approx(1.0 / (1.0 + ratio**-4.0), rel=0.01)


def test_noise_is_estimated_and_removed() -> None:
    rng = np.random.default_rng(2)
    station = np.cumsum(rng.uniform(3.0, 7.0, 3000))
    true = 10.0 * np.sin(2.0 * math.pi * station / 800.0)
    smooth, noise = smooth_heights(station, true + rng.normal(0.0, 1.5, 3000), shortest_hump_m=60.0)
    assert noise == pytest.approx(1.5, rel=0.05)
    assert np.std(smooth - true) < 0.7


def test_straight_slopes_and_short_lines_stay() -> None:
    station = np.array([0.0, 3.0, 10.0, 11.0, 30.0])
    smooth, noise = smooth_heights(station, 5.0 + 0.1 * station, shortest_hump_m=60.0)
    np.testing.assert_allclose(smooth, 5.0 + 0.1 * station, atol=1e-9)
    assert noise == pytest.approx(0.0, abs=1e-9)
    short = np.array([1.0, 5.0, 2.0])
    np.testing.assert_array_equal(smooth_heights(station[:3], short, shortest_hump_m=60.0)[0], short)


@pytest.mark.parametrize(
    ("station", "height", "words"),
    [([0, 1, 1, 2], [0, 0, 0, 0], "must rise"), ([0, 1, 2, 3], [0, np.nan, 0, 0], "finite")],
)
def test_bad_arguments_are_refused(station: list[float], height: list[float], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        smooth_heights(np.array(station, float), np.array(height, float), shortest_hump_m=60.0)


@pytest.mark.parametrize("tag", ["trkpt", "rtept"])
def test_track_becomes_coarse_ground_along_itself(tmp_path: Path, tag: str) -> None:
    rng = np.random.default_rng(3)
    along = np.linspace(0.0, 0.01, 200)  # 1 km east
    points = np.column_stack([along, np.zeros(200), 50.0 + 3000.0 * along + rng.normal(0.0, 1.0, 200)])
    path = track(tmp_path / "walk.gpx", points, tag)
    if tag == "rtept":
        path.write_text(
            path.read_text().replace("<trk><trkseg>", "<rte>").replace("</trkseg></trk>", "</rte>")
        )
    ground, (finding,) = read_track_ground(path, GroundRequest(PRECISION, from_file=from_file))
    x = np.array([200.0, 500.0, 500.0])
    heights = ground.elevation_m(x, np.array([0.0, 1.0, 50.0]))
    np.testing.assert_allclose(heights, [56.0, 65.0, np.nan], atol=1.0)
    assert ground.is_coarse
    assert ground.sd_m(x[:1], np.zeros(1))[0] == pytest.approx(PRECISION.gpx_sd_m, rel=0.1)
    assert finding.code == "ground-from-track"


def test_standing_still_is_averaged(tmp_path: Path) -> None:
    points = np.array([[0.0, 0.0, 10.0], [0.0, 0.0, 12.0], [0.001, 0.0, 11.0], [0.002, 0.0, 11.0]])
    ground, _ = read_track_ground(
        track(tmp_path / "w.gpx", points), GroundRequest(PRECISION, from_file=from_file)
    )
    np.testing.assert_allclose(ground.elevation_m(np.array([0.0, 150.0]), np.zeros(2)), [11.0, 11.0])


@pytest.mark.parametrize(
    ("heights", "words"), [([7.0, 7.0, 7.0], "same height"), ([7.0], "at least two points")]
)
def test_tracks_without_real_heights_are_refused(tmp_path: Path, heights: list[float], words: str) -> None:
    points = np.column_stack([0.001 * np.arange(len(heights)), np.zeros(len(heights)), heights])
    with pytest.raises(InputError, match=rf"w\.gpx: .*{words}"):
        read_track_ground(track(tmp_path / "w.gpx", points), GroundRequest(PRECISION, from_file=from_file))


def test_real_walk_stays_near_its_own_heights() -> None:
    """A real hill walk (tests/data/gpx-walks/ORIGIN.toml): 14.9 km, 722 to 1,051 m."""
    walk = PRACTICE.parents[1] / "gpx-walks" / "korita.gpx"
    to_plane = Transformer.from_crs("EPSG:4326", "EPSG:32633", always_xy=True)
    raw = np.concatenate(read_track_points(walk))
    place = np.column_stack(to_plane.transform(raw[:, 0], raw[:, 1]))
    request = GroundRequest(
        PRECISION, from_file=lambda degrees: np.column_stack(to_plane.transform(degrees[:, 0], degrees[:, 1]))
    )
    ground, _ = read_track_ground(walk, request)
    heights = ground.elevation_m(place[:, 0], place[:, 1])
    assert np.isfinite(heights).all()
    assert 715.0 < heights.min() < heights.max() < 1055.0
    assert 0.0 < np.std(heights - raw[:, 2]) < 8.0
    assert ground.is_coarse
