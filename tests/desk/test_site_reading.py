"""Site files of a job on its plane: ground in the plane's own system, whatever its unit."""

from pathlib import Path

import laspy
import numpy as np
import pytest
import rasterio
from affine import Affine
from pyproj import CRS

from fencewright.catalogue.loading import shipped_catalogue
from fencewright.desk.site_reading import read_site
from fencewright.job.reading import parse_job
from fencewright.site.features import Site

US_FOOT_M = 1200 / 3937  # exact, by its definition
FEET, METRES = "EPSG:3734", "EPSG:26917"  # US survey feet; metres
EAST, NORTH = 2_200_000.0, 600_000.0

JOB = """
[job]
name = "north"
[site]
{plane}
ground = "{ground}"
ground_unit = "{unit}"
[[line]]
name = "a"
file = "a.geojson"
"""
LINE = (
    '{{"type": "Feature", "crs": {{"type": "name", "properties": {{"name": "{crs}"}}}}, "properties": {{}},'
    '"geometry": {{"type": "LineString", "coordinates": [[{east}, {north}], [{far}, {north}]]}}}}'
)


def _slope(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    return 900.0 + (x - EAST) / 50.0 + (y - NORTH) / 100.0


def _raster(path: Path, crs: str | None) -> None:
    x, y = np.meshgrid(EAST - 495.0 + 10.0 * np.arange(200), NORTH + 495.0 - 10.0 * np.arange(100))
    place = Affine(10.0, 0, EAST - 500.0, 0, -10.0, NORTH + 500.0)
    with rasterio.open(
        path, "w", driver="GTiff", width=200, height=100, count=1, dtype="float64", crs=crs, transform=place
    ) as raster:
        raster.write(_slope(x, y), 1)


def _cloud(path: Path, crs: str) -> None:
    header = laspy.LasHeader(point_format=6, version="1.4")
    header.offsets, header.scales = [EAST, NORTH, 900.0], [0.001] * 3
    header.add_crs(CRS.from_user_input(crs))
    cloud = laspy.LasData(header)
    x, y = np.meshgrid(EAST + np.arange(-300.0, 900.0, 4.0), NORTH + np.arange(-300.0, 300.0, 4.0))
    cloud.x, cloud.y = x.ravel(), y.ravel()
    cloud.z = _slope(x.ravel(), y.ravel())
    cloud.classification = np.full(x.size, 2, np.uint8)
    cloud.write(path)


def _site(folder: Path, plane: str, ground: str, crs: str, unit: str) -> Site:
    line = LINE.format(crs=crs, east=EAST, far=EAST + 400.0, north=NORTH)
    (folder / "a.geojson").write_text(line)
    asked = parse_job(JOB.format(plane=plane, ground=ground, unit=unit), "job.toml")
    return read_site(asked, shipped_catalogue(), folder)[0]


@pytest.mark.parametrize("ground", ["hill.tif", "hill.las"])
@pytest.mark.parametrize(("crs", "unit", "unit_m"), [(FEET, "us-ft", US_FOOT_M), (METRES, "m", 1.0)])
@pytest.mark.parametrize("is_declared", [False, True])
def test_ground_in_the_planes_own_system(
    tmp_path: Path, ground: str, crs: str, unit: str, unit_m: float, is_declared: bool
) -> None:
    (_raster if ground == "hill.tif" else _cloud)(tmp_path / ground, crs)
    site = _site(tmp_path, f'crs = "{crs}"' if is_declared else "", ground, crs, unit)
    across = EAST + np.array([5.0, 100.0, 200.0, 395.0])
    along = np.full(4, NORTH)
    found = site.ground.elevation_m(across * unit_m, along * unit_m)
    np.testing.assert_allclose(found, _slope(across, along) * unit_m, atol=0.06 * unit_m)
    np.testing.assert_allclose(site.lines[0].xy_m[0], [EAST * unit_m, NORTH * unit_m], atol=1e-6)


@pytest.mark.parametrize(
    ("plane", "unit_m"),
    [
        (f'crs = "{FEET}"', US_FOOT_M),
        ('crs = "local"', 1.0),
        ('crs = "local"\nfile_unit = "ft"', 0.3048),
        (f'crs = "{METRES}"\nfile_unit = "ft"', 0.3048),
    ],
)
def test_a_raster_without_a_system_is_in_the_unit_of_the_job_or_of_its_plane(
    tmp_path: Path, plane: str, unit_m: float
) -> None:
    _raster(tmp_path / "hill.tif", None)
    line = f"x_m,y_m\n{EAST * unit_m!r},{NORTH * unit_m!r}\n{(EAST + 400) * unit_m!r},{NORTH * unit_m!r}\n"
    (tmp_path / "a.csv").write_text(line)
    job = JOB.format(plane=plane, ground="hill.tif", unit="m").replace("a.geojson", "a.csv")
    ground = read_site(parse_job(job, "job.toml"), shipped_catalogue(), tmp_path)[0].ground
    found = ground.elevation_m(np.array([EAST + 200.0]) * unit_m, np.array([NORTH]) * unit_m)
    np.testing.assert_allclose(found, [904.0], atol=1e-6)
