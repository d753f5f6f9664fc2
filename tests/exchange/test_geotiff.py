"""Ground from rasters: windows, units, datums, gaps, tiles; real terrain against an independent sampler."""

import re
import tomllib
from importlib.resources import files
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import rasterio
from affine import Affine
from numpy.typing import NDArray
from pyproj import Transformer
from scipy.ndimage import map_coordinates

from fencewright.exchange.geotiff import raster_crs, read_raster_ground
from fencewright.exchange.ground_request import GroundRequest, PlacedGround
from fencewright.exchange.raster_tiles import TiledRasterGround
from fencewright.findings import CAUTION, NOTE, InputError
from fencewright.site.grid_ground import GridGround
from fencewright.site.ground_precision import GroundPrecision

FloatArray = NDArray[np.float64]
PRACTICE = Path(__file__).parents[1] / "data" / "ground-practice" / "precision.toml"
PRECISION = GroundPrecision(**tomllib.loads(PRACTICE.read_text()))
WHOLE = GroundRequest(PRECISION)
TERRAIN = Path(__file__).parents[2] / "examples" / "rolling-pasture" / "terrain.tif"


def from_origin(west: float, north: float, across: float, down: float) -> Affine:
    """Place a raster with north up."""
    return Affine(across, 0.0, west, 0.0, -down, north)


def write(path: Path, heights: NDArray[Any], **changes: Any) -> Path:
    """Write a raster of 2 m cells whose north-west corner is 1000, 5000."""
    profile: dict[str, Any] = {
        "driver": "GTiff", "width": heights.shape[1], "height": heights.shape[0], "count": 1,
        "dtype": heights.dtype.name, "crs": "EPSG:26916", "transform": from_origin(1000.0, 5000.0, 2.0, 2.0),
    }  # fmt: skip
    unit = changes.pop("unit", "metre")
    with rasterio.open(path, "w", **(profile | changes)) as raster:
        raster.write(heights, 1)
        if unit:
            raster.set_band_unit(1, unit)
    return path


def slope(rows: int = 40, columns: int = 50) -> NDArray[np.float32]:
    """Make a plane in single precision: rises 0.25 a column, 0.5 a row southwards."""
    plane = 200.0 + 0.25 * np.arange(columns)[np.newaxis, :] + 0.5 * np.arange(rows)[:, np.newaxis]
    return plane.astype(np.float32)


def test_cell_centres_and_plane(tmp_path: Path) -> None:
    ground, findings = read_raster_ground(write(tmp_path / "g.tif", slope()), WHOLE)
    x, y = np.array([1001.0, 1003.0, 1002.0, 1090.0]), np.array([4999.0, 4999.0, 4996.5, 4930.0])
    expected = 200.0 + 0.25 * (x - 1001.0) / 2.0 + 0.5 * (4999.0 - y) / 2.0
    np.testing.assert_allclose(ground.elevation_m(x, y), expected, atol=1e-4)
    assert findings == []
    assert ground.source == "g.tif, raster in cells of 2.00 m"
    assert not ground.is_coarse


def test_only_the_window_is_read_and_gives_the_same_heights(tmp_path: Path) -> None:
    path = write(tmp_path / "g.tif", slope(200, 300))
    window, _ = read_raster_ground(path, GroundRequest(PRECISION, bounds_m=(1100.0, 4800.0, 1160.0, 4840.0)))
    whole, _ = read_raster_ground(path, WHOLE)
    assert isinstance(window, GridGround)
    x, y = np.random.default_rng(1).uniform([1100.0, 4800.0], [1160.0, 4840.0], (200, 2)).T
    np.testing.assert_array_equal(window.elevation_m(x, y), whole.elevation_m(x, y))
    np.testing.assert_array_equal(window.sd_m(x, y), whole.sd_m(x, y))
    outside = window.elevation_m(np.array([1400.0]), np.array([4700.0]))
    assert np.isnan(outside).all()


@pytest.mark.parametrize("tiled", [True, False])
def test_tiles_give_the_same_as_memory(tmp_path: Path, tiled: bool) -> None:
    rough = np.random.default_rng(2).normal(200.0, 5.0, (700, 1300)).astype(np.float32)
    rough[300:320, 500:540] = -9999.0
    blocks = {"tiled": True, "blockxsize": 256, "blockysize": 256} if tiled else {}
    path = write(tmp_path / "g.tif", rough, nodata=-9999.0, compress="deflate", predictor=3, **blocks)
    whole, _ = read_raster_ground(path, WHOLE)
    pieces, findings = read_raster_ground(path, WHOLE, memory_bytes=1000)
    assert isinstance(pieces, TiledRasterGround)
    assert [finding.code for finding in findings] == ["ground-large"]
    x, y = np.random.default_rng(3).uniform([990.0, 3590.0], [3610.0, 5010.0], (4000, 2)).T
    np.testing.assert_array_equal(pieces.elevation_m(x, y), whole.elevation_m(x, y))
    np.testing.assert_array_equal(pieces.sd_m(x, y), whole.sd_m(x, y))
    assert 0 < np.isnan(whole.elevation_m(x, y)).sum() < 400


def test_few_tiles_kept_change_nothing(tmp_path: Path) -> None:
    path = write(tmp_path / "g.tif", slope(90, 110))
    pieces, _ = read_raster_ground(path, WHOLE, memory_bytes=10)
    assert isinstance(pieces, TiledRasterGround)
    small = TiledRasterGround(pieces._frame, tile=(16, 24), most_tiles=2)
    x, y = np.random.default_rng(4).uniform([1000.0, 4820.0], [1220.0, 5000.0], (500, 2)).T
    np.testing.assert_allclose(small.elevation_m(x, y), pieces.elevation_m(x, y), atol=1e-9)
    assert len(small._kept) == 2


def test_no_data_is_unknown(tmp_path: Path) -> None:
    heights = slope()
    heights[10, 10] = -9999.0
    ground, findings = read_raster_ground(write(tmp_path / "g.tif", heights, nodata=-9999.0), WHOLE)
    assert np.isnan(ground.elevation_m(np.array([1021.0]), np.array([4979.0]))).all()
    assert findings == []


@pytest.mark.parametrize("missing", [-9999.0, -3.4e38, 3.4e38])
def test_missing_cells_left_unmarked_are_found(tmp_path: Path, missing: float) -> None:
    heights = slope()
    heights[10:12, 10] = missing
    ground, (finding,) = read_raster_ground(write(tmp_path / "g.tif", heights), WHOLE)
    assert np.isnan(ground.elevation_m(np.array([1021.0]), np.array([4979.0]))).all()
    assert (finding.level, finding.code) == (CAUTION, "ground-heights-absurd")
    assert finding.message.startswith("2 cells")


def test_one_cell_is_spoken_of_as_one(tmp_path: Path) -> None:
    heights = slope()
    heights[10, 10] = -9999.0
    _, (finding,) = read_raster_ground(write(tmp_path / "g.tif", heights), WHOLE)
    assert finding.message == "1 cell of g.tif holds heights that no land has: it is taken as missing"


@pytest.mark.parametrize(
    ("changes", "asked", "factor", "codes"),
    [
        ({"unit": "ft"}, None, 0.3048, []),
        ({"unit": "US survey foot"}, None, 1200 / 3937, []),
        ({"unit": "metre"}, "ft", 0.3048, []),
        ({"unit": ""}, "us-ft", 1200 / 3937, []),
        ({"unit": ""}, None, 1.0, [(NOTE, "ground-unit-assumed")]),
        ({"unit": "", "crs": "EPSG:2264"}, None, 1200 / 3937, [(CAUTION, "ground-unit-assumed")]),
        ({"unit": "", "crs": "EPSG:26916+6360"}, None, 1200 / 3937, []),
    ],
)
def test_unit_of_heights(
    tmp_path: Path, changes: dict[str, Any], asked: str | None, factor: float, codes: list[tuple[str, str]]
) -> None:
    """The US survey foot is 1200/3937 m; EPSG:2264 is a plane in such feet, EPSG:6360 such heights."""
    request = GroundRequest(PRECISION, z_unit=asked)
    ground, findings = read_raster_ground(write(tmp_path / "g.tif", slope(), **changes), request)
    height = ground.elevation_m(np.array([1001.0]), np.array([4999.0]))
    np.testing.assert_allclose(height, 200.0 * factor, rtol=1e-6)
    assert [(finding.level, finding.code) for finding in findings] == codes


def test_unknown_unit_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match='"furlong" is not known'):
        read_raster_ground(write(tmp_path / "g.tif", slope()), GroundRequest(PRECISION, z_unit="furlong"))


def test_ellipsoidal_heights_are_a_caution(tmp_path: Path) -> None:
    path = write(
        tmp_path / "g.tif", slope(), crs="EPSG:4979", transform=from_origin(-87.0, 46.0, 1e-4, 1e-4), unit=""
    )
    request = GroundRequest(PRECISION, bounds_m=(-86.999, 45.997, -86.997, 45.999))
    _, findings = read_raster_ground(path, request)
    assert [(finding.level, finding.code) for finding in findings] == [(CAUTION, "ellipsoidal-heights")]


def test_whole_heights_carry_their_rounding(tmp_path: Path) -> None:
    x, y = np.array([1021.0]), np.array([4979.0])
    flat = np.full((40, 50), 200)
    for kind, name in ((np.int16, "short"), (np.float32, "single")):
        ground, _ = read_raster_ground(write(tmp_path / f"{name}.tif", flat.astype(kind)), WHOLE)
        np.testing.assert_allclose(ground.sd_m(x, y), np.hypot(PRECISION.raster_sd_m, 1 / np.sqrt(12)))
    ground, _ = read_raster_ground(write(tmp_path / "cm.tif", (flat + 0.25).astype(np.float32)), WHOLE)
    np.testing.assert_allclose(ground.sd_m(x, y), PRECISION.raster_sd_m)


def test_the_job_may_state_the_standard_deviation(tmp_path: Path) -> None:
    path = write(tmp_path / "g.tif", np.full((40, 50), 200.25, np.float32))
    ground, _ = read_raster_ground(path, GroundRequest(PRECISION, source_sd_m=0.5))
    np.testing.assert_allclose(ground.sd_m(np.array([1021.0]), np.array([4979.0])), 0.5)
    assert ground.is_coarse


def test_esri_ascii_grid_without_coordinate_system(tmp_path: Path) -> None:
    path = tmp_path / "g.asc"
    path.write_text(
        "ncols 3\nnrows 2\nxllcorner 100\nyllcorner 200\ncellsize 10\nNODATA_value -9999\n5 6 7\n1 2 -9999\n"
    )
    ground, findings = read_raster_ground(path, WHOLE)
    x, y = np.array([105.0, 110.0, 125.0, 125.0]), np.array([205.0, 210.0, 215.0, 205.0])
    np.testing.assert_allclose(ground.elevation_m(x, y), [1.0, 3.5, 7.0, np.nan])
    assert {finding.code for finding in findings} == {"ground-without-crs", "ground-unit-assumed"}
    assert ground.is_coarse
    assert raster_crs(path) is None


def test_example_terrain_has_the_crest_swale_and_stream_that_its_maker_says() -> None:
    ground, findings = read_raster_ground(TERRAIN, WHOLE)
    assert findings == []
    assert "26916" in (raster_crs(TERRAIN) or "")
    east = np.arange(0.5, 700.0)
    across = ground.elevation_m(470_000.0 + east, np.full(700, 5_150_200.0))
    assert abs(east[150 + np.argmax(across[150:300])] - 221.0) < 6.0
    assert abs(east[410 + np.argmin(across[410:450])] - 430.0) < 2.0
    north = np.arange(380.5, 480.0)
    along = ground.elevation_m(np.full(100, 470_175.0), 5_150_000.0 + north)
    assert abs(north[np.argmin(along)] - 430.0) < 2.0


@pytest.fixture
def jacksboro(tmp_path: Path) -> tuple[Path, NDArray[np.int16]]:
    """Write the terrain that matplotlib ships as a GeoTIFF; in it ymin is the north edge."""
    source = Path(str(files("matplotlib"))) / "mpl-data" / "sample_data" / "jacksboro_fault_dem.npz"
    with np.load(source) as dem:
        heights = dem["elevation"]
        place = from_origin(float(dem["xmin"]), float(dem["ymin"]), float(dem["dx"]), float(dem["dy"]))
        assert dem["ymin"] > dem["ymax"]
    return write(tmp_path / "dem.tif", heights, crs="EPSG:4326", transform=place, unit="metre"), heights


def test_real_terrain_against_an_independent_sampler(jacksboro: tuple[Path, NDArray[np.int16]]) -> None:
    path, heights = jacksboro
    to_degrees = Transformer.from_crs("EPSG:26916", "EPSG:4326", always_xy=True)

    def to_file(xy: FloatArray) -> FloatArray:
        return np.column_stack(to_degrees.transform(xy[:, 0], xy[:, 1]))

    back = Transformer.from_crs("EPSG:4326", "EPSG:26916", always_xy=True)
    x0, y0 = back.transform(-84.30, 36.55)
    request = GroundRequest(PRECISION, to_file, bounds_m=(x0, y0, x0 + 6000.0, y0 + 4000.0))
    ground, _ = read_raster_ground(path, request)
    assert isinstance(ground, PlacedGround)
    x, y = np.random.default_rng(6).uniform([x0, y0], [x0 + 6000.0, y0 + 4000.0], (5000, 2)).T
    with rasterio.open(path) as raster:
        place = raster.transform
    degrees = to_file(np.column_stack([x, y]))
    column, row = (degrees[:, 0] - place.c) / place.a, (degrees[:, 1] - place.f) / place.e
    oracle = map_coordinates(heights.astype(float), [row - 0.5, column - 0.5], order=1)
    np.testing.assert_allclose(ground.elevation_m(x, y), oracle, atol=1e-4)
    sd = ground.sd_m(x, y)
    assert 230 < oracle.min() < oracle.max() < 1080
    assert ground.is_coarse
    assert "raster in cells of 92" in ground.source
    assert sd.min() > 1 / np.sqrt(12)  # whole metres
    assert 3.0 < np.median(sd) < 15.0  # median slope 24 % over cells of 75 by 92 m


def test_whole_raster_in_degrees_needs_bounds(jacksboro: tuple[Path, NDArray[np.int16]]) -> None:
    with pytest.raises(InputError, match="say which part"):
        read_raster_ground(jacksboro[0], WHOLE)


def test_line_elsewhere_is_refused(tmp_path: Path) -> None:
    request = GroundRequest(PRECISION, bounds_m=(9000.0, 4900.0, 9100.0, 4950.0))
    with pytest.raises(InputError, match="does not reach the line") as refused:
        read_raster_ground(write(tmp_path / "g.tif", slope()), request)
    said = re.search(
        r"spans x (\d+) to (\d+), y (\d+) to (\d+) metres, and the line is near", refused.value.what
    )
    assert said is not None  # plain digits, low to high, with their unit
    x0, x1, y0, y1 = map(int, said.groups())
    assert x0 < x1
    assert y0 < y1
    assert "x 9000, y 4900 metres" in refused.value.what
    lost = GroundRequest(PRECISION, lambda xy: np.full_like(xy, np.inf), bounds_m=(0.0, 0.0, 1.0, 1.0))
    with pytest.raises(InputError, match="coordinate system can hold"):
        read_raster_ground(tmp_path / "g.tif", lost)


def test_raster_of_nothing_is_refused(tmp_path: Path) -> None:
    path = write(tmp_path / "g.tif", np.full((40, 50), np.nan, np.float32))
    with pytest.raises(InputError, match="holds no heights"):
        read_raster_ground(path, WHOLE)
