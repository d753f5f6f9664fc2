"""Ground from point clouds: real ones that a package ships (tests/data/las-*/ORIGIN.toml), and made ones."""

import time
import tomllib
from pathlib import Path

import laspy
import numpy as np
import pytest
from numpy.typing import NDArray

from fencewright.exchange.ground_request import GroundRequest
from fencewright.exchange.las import las_crs, read_las_ground
from fencewright.exchange.las_grid import cell_size, filled, median_cells
from fencewright.findings import CAUTION, NOTE, InputError
from fencewright.site.ground_precision import GroundPrecision

FloatArray = NDArray[np.float64]
DATA = Path(__file__).parents[1] / "data"
PRECISION = GroundPrecision(**tomllib.loads((DATA / "ground-practice" / "precision.toml").read_text()))
WHOLE = GroundRequest(PRECISION)
HILL = DATA / "las-hill" / "hill.laz"
FLAT_FEET = DATA / "las-flat-feet" / "flat-feet.las"
FOOT_M = 0.3048


def write(path: Path, points: FloatArray, classes: NDArray[np.uint8] | int = 2) -> Path:
    """Write a point cloud with millimetre steps."""
    header = laspy.LasHeader(point_format=6, version="1.4")
    header.scales, header.offsets = np.full(3, 0.001), np.floor(points.min(axis=0))
    cloud = laspy.LasData(header)
    cloud.x, cloud.y, cloud.z = points.T
    cloud.classification = np.broadcast_to(np.asarray(classes, np.uint8), len(points)).copy()
    cloud.write(path)
    return path


def plane_points(count: int = 4000, seed: int = 1) -> FloatArray:
    """Scatter points over 60 m by 40 m of a plane with 5 % and -3 % slope, 2 cm noise."""
    rng = np.random.default_rng(seed)
    xy = rng.uniform([500.0, 800.0], [560.0, 840.0], (count, 2))
    return np.column_stack([xy, 100.0 + xy @ [0.05, -0.03] + rng.normal(0.0, 0.02, count)])


def test_plane_comes_back(tmp_path: Path) -> None:
    ground, findings = read_las_ground(write(tmp_path / "p.laz", plane_points()), WHOLE)
    x, y = np.random.default_rng(2).uniform([502.0, 802.0], [558.0, 838.0], (500, 2)).T
    error = ground.elevation_m(x, y) - (100.0 + 0.05 * x - 0.03 * y)
    assert np.abs(np.mean(error)) < 0.005
    assert np.std(error) < 0.03
    assert [finding.code for finding in findings] == [
        "ground-unit-assumed", "ground-without-crs", "ground-gridded",
    ]  # fmt: skip
    assert (ground.sd_m(x, y) >= PRECISION.las_sd_m).all()


def test_other_classes_do_not_count(tmp_path: Path) -> None:
    low, high = plane_points(seed=3), plane_points(seed=4) + [0.0, 0.0, 9.0]
    classes = np.repeat(np.array([2, 5], np.uint8), len(low))
    mixed, _ = read_las_ground(write(tmp_path / "m.laz", np.vstack([low, high]), classes), WHOLE)
    alone, _ = read_las_ground(write(tmp_path / "a.laz", low), WHOLE)
    x, y = np.array([520.0, 540.0]), np.array([810.0, 830.0])
    np.testing.assert_allclose(mixed.elevation_m(x, y), alone.elevation_m(x, y), atol=1e-9)


def test_small_gaps_are_filled_and_known_worse_large_ones_stay(tmp_path: Path) -> None:
    points = plane_points(12_000)
    narrow = (np.abs(points[:, 0] - 515.0) < 1.5) & (np.abs(points[:, 1] - 820.0) < 1.5)
    wide = (np.abs(points[:, 0] - 542.0) < 12.0) & (np.abs(points[:, 1] - 820.0) < 12.0)
    ground, findings = read_las_ground(write(tmp_path / "g.laz", points[~narrow & ~wide]), WHOLE)
    x, y = np.array([515.0, 542.0, 505.0]), np.array([820.0, 820.0, 820.0])
    heights, sd = ground.elevation_m(x, y), ground.sd_m(x, y)
    assert heights[0] == pytest.approx(100.0 + 0.05 * 515.0 - 0.03 * 820.0, abs=0.05)
    assert np.isnan(heights).tolist() == [False, True, False]
    assert sd[0] > sd[2]
    assert findings[-1].code == "ground-gridded"


def test_real_hill() -> None:
    """A thinned piece of real hill ground in Lambert-93; each kept cell against its own points."""
    ground, findings = read_las_ground(HILL, WHOLE)
    cloud = laspy.read(HILL)
    is_ground = np.asarray(cloud.classification) == 2
    x, y, z = (np.asarray(axis)[is_ground] for axis in (cloud.x, cloud.y, cloud.z))
    error = ground.elevation_m(x, y) - z
    known = np.isfinite(error)
    assert known.mean() > 0.95
    assert np.std(error[known]) < 0.3
    assert np.abs(np.median(error[known])) < 0.02
    assert np.nanmin(ground.elevation_m(x, y)) > 92.0
    assert "Lambert-93" in (las_crs(HILL) or "")
    assert [(finding.level, finding.code) for finding in findings] == [
        (NOTE, "ground-unit-assumed"),
        (NOTE, "ground-gridded"),
    ]
    assert np.isnan(ground.elevation_m(np.array([698_030.0]), np.array([6_259_990.0]))).all()


def test_real_flat_ground_in_feet() -> None:
    """A plane in feet whose heights have no unit of their own: feet are assumed, with a caution."""
    request = GroundRequest(PRECISION, lambda xy: xy / FOOT_M, bounds_m=(745_295, 184_195, 745_305, 184_205))
    ground, findings = read_las_ground(FLAT_FEET, request)
    height_m = ground.elevation_m(np.array([745_300.0]), np.array([184_200.0]))
    assert height_m[0] == pytest.approx(412.8, abs=0.3)  # 1,354 ft
    assert (findings[0].level, findings[0].code) == (CAUTION, "ground-unit-assumed")
    metres, findings = read_las_ground(FLAT_FEET, GroundRequest(PRECISION, z_unit="m"))
    assert metres.elevation_m(np.array([2_445_200.0]), np.array([604_320.0]))[0] > 1300.0
    assert [finding.code for finding in findings] == ["ground-gridded"]


def test_bounds_leave_out_the_rest(tmp_path: Path) -> None:
    path = write(tmp_path / "p.laz", plane_points())
    ground, _ = read_las_ground(path, GroundRequest(PRECISION, bounds_m=(510.0, 810.0, 520.0, 820.0)))
    heights = ground.elevation_m(np.array([515.0, 545.0]), np.array([815.0, 815.0]))
    assert np.isnan(heights).tolist() == [False, True]
    with pytest.raises(InputError, match="no ground points near the line"):
        read_las_ground(path, GroundRequest(PRECISION, bounds_m=(0.0, 0.0, 9.0, 9.0)))


def test_no_ground_class_names_those_found(tmp_path: Path) -> None:
    path = write(tmp_path / "p.las", plane_points(30), np.repeat(np.array([1, 5], np.uint8), [10, 20]))
    with pytest.raises(InputError, match=r"p\.las: has no points.*class 1 \(10 points\), 5 \(20 points\)"):
        read_las_ground(path, WHOLE)


def test_more_points_than_can_be_held_are_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="more than 1,000 ground points"):
        read_las_ground(write(tmp_path / "p.laz", plane_points()), WHOLE, most_points=1000)


@pytest.mark.parametrize("spacing", [0.2, 1.0, 7.0])
def test_cell_holds_about_the_points_wanted(spacing: float) -> None:
    grid = np.arange(0.0, 60 * spacing, spacing)
    x, y = (axis.ravel() for axis in np.meshgrid(grid, grid))
    assert 0.5 < (cell_size(x, y, 4.0) / spacing) ** 2 / 4.0 < 2.0


def test_empty_land_between_patches_does_not_widen_the_cell() -> None:
    patch = np.random.default_rng(5).uniform(0, 20, (2000, 2))
    both = np.vstack([patch, patch + 5000.0])
    assert cell_size(both[:, 0], both[:, 1], 4.0) == cell_size(patch[:, 0], patch[:, 1], 4.0)


def test_cell_of_one_point() -> None:
    assert cell_size(np.array([3.0]), np.array([4.0]), 4.0) > 0.0


def test_median_and_spread_of_a_cell() -> None:
    x, z = np.array([0.1, 0.2, 0.3, 0.4, 3.5]), np.array([1.0, 2.0, 3.0, 10.0, 7.0])
    height, spread, origin = median_cells(x, np.full(5, 0.5), z, 1.0, 100)
    np.testing.assert_allclose(height, [[2.5, np.nan, np.nan, 7.0]])
    np.testing.assert_allclose(spread[0, [0, 3]], [np.std(z[:4], ddof=1) / 2.0, 0.0])
    assert origin == (0.5, 0.5)


def test_filling_a_slope_keeps_it() -> None:
    slope = np.add.outer(np.arange(12.0), 2.0 * np.arange(12.0))
    holed = slope.copy()
    holed[4:7, 5:8] = np.nan
    smooth, distance = filled(holed, 2.0)
    np.testing.assert_allclose(smooth, slope, atol=0.05)
    assert distance[5, 6] == 2.0
    assert np.isnan(filled(holed, 1.0)[0][5, 6])


@pytest.mark.parametrize(("at", "said"), [(100, 0xFFFFFFFF), (243, 0xFFFFFFFF)])
def test_a_head_that_counts_more_records_than_the_file_can_hold_is_refused_at_once(
    tmp_path: Path, at: int, said: int
) -> None:
    path = write(tmp_path / "a.las", plane_points())
    content = bytearray(path.read_bytes())
    content[25] = 4  # the version that has the second count too
    content[at : at + 4] = said.to_bytes(4, "little")
    path.write_bytes(bytes(content))
    begun = time.monotonic()
    with pytest.raises(InputError, match=r"a\.las: "):
        las_crs(path)
    assert time.monotonic() - begun < 2.0
