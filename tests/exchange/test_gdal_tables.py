"""Shapefile and GeoPackage: shapes, fields, systems, layers, and what is refused; written with pyogrio."""

import math
import warnings
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
from pyogrio import raw

from fencewright.exchange.geopackage import read_geopackage
from fencewright.exchange.shapefile import read_shapefile
from fencewright.exchange.site_files import list_layers, read_site_file
from fencewright.findings import InputError

_DRIVERS = {".shp": "ESRI Shapefile", ".gpkg": "GPKG"}
_WALK = shapely.LineString([(500_000, 5_000_000, 300), (500_100, 5_000_000, 301), (500_100, 5_000_050, 302)])


def _write(
    path: Path, *shapes: Any, crs: str | None = "EPSG:26916", names: Any = None, **options: Any
) -> Path:
    wkb = np.array([None if shape is None else shapely.to_wkb(shape) for shape in shapes], dtype=object)
    fields = ["name"] if names is not None else []
    data = [np.array(names, dtype=object)] if names is not None else []
    kind = options.pop("geometry_type", "LineString Z")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        raw.write(
            path, wkb, data, fields, geometry_type=kind, crs=crs, driver=_DRIVERS[path.suffix], **options
        )
    return path


@pytest.mark.parametrize("suffix", [".shp", ".gpkg"])
def test_lines_with_heights_and_names(tmp_path: Path, suffix: str) -> None:
    site = read_site_file(_write(tmp_path / f"site{suffix}", _WALK, None, names=["né", "gone"]))
    (line,) = site.features
    assert (line.name, line.layer, line.geometry) == ("né", "site", "line")
    np.testing.assert_array_equal(line.points, shapely.get_coordinates(_WALK))
    assert line.elevation.tolist() == [300, 301, 302]
    assert (site.crs, site.is_geographic, site.unit_m) == ("EPSG:26916", False, 1.0)
    assert "1 x feature without geometry" in site.findings[0].message


@pytest.mark.parametrize("suffix", [".shp", ".gpkg"])
@pytest.mark.parametrize(
    ("crs", "geographic", "unit_m", "height_unit_m"),
    [
        ("EPSG:4326", True, math.nan, 1.0),
        ("EPSG:2232", False, 1200 / 3937, 1200 / 3937),
        ("EPSG:26916+6360", False, 1.0, 1200 / 3937),
        (None, False, math.nan, math.nan),
    ],
)
def test_systems_and_their_units(
    tmp_path: Path, suffix: str, crs: str | None, geographic: bool, unit_m: float, height_unit_m: float
) -> None:
    """EPSG:2232 and EPSG:6360 are in US survey feet (their names say so)."""
    line = shapely.LineString([(1, 2, 3), (4, 5, 6)])
    site = read_site_file(_write(tmp_path / f"site{suffix}", line, crs=crs))
    assert site.is_geographic is geographic
    np.testing.assert_allclose(
        [site.unit_m, site.elevation_unit_m], [unit_m, height_unit_m], rtol=1e-12, equal_nan=True
    )
    assert bool(site.crs) is (crs is not None)


def test_layers_of_a_geopackage(tmp_path: Path) -> None:
    path = _write(tmp_path / "farm.gpkg", _WALK, layer="fences")
    _write(path, shapely.Point(500_000, 5_000_000), layer="trees", geometry_type="Point", append=False)
    assert list_layers(path) == ("fences", "trees")
    assert [f.layer for f in read_site_file(path).features] == ["fences", "trees"]
    assert [f.layer for f in read_site_file(path, "Trees").features] == ["trees"]
    with pytest.raises(InputError, match=r'no layer "fence", only "fences", "trees"; is "fences" meant\?'):
        read_site_file(path, "fence")


def test_layers_in_different_systems_must_be_named(tmp_path: Path) -> None:
    path = _write(tmp_path / "farm.gpkg", _WALK, layer="a")
    _write(path, shapely.Point(1, 2), layer="b", geometry_type="Point", crs="EPSG:4326")
    with pytest.raises(InputError, match="different coordinate systems: name one layer"):
        read_geopackage(path)
    assert read_geopackage(path, "b").is_geographic


def test_polygons_and_parts(tmp_path: Path) -> None:
    pond = shapely.Polygon([(0, 0), (9, 0), (9, 9)], [[(5, 1), (6, 1), (6, 2)]])
    both = shapely.MultiPolygon([pond, shapely.Polygon([(20, 0), (30, 0), (30, 9)])])
    site = read_geopackage(_write(tmp_path / "p.gpkg", both, names=["wet"], geometry_type="MultiPolygon"))
    assert [(f.name, f.geometry, len(f.points)) for f in site.features] == [
        ("wet part 1", "polygon", 3),
        ("wet part 2", "polygon", 3),
    ]
    assert "inner ring" in site.findings[0].message


@pytest.mark.parametrize("share", [0.0, 0.1, 0.5, 0.999])
@pytest.mark.parametrize("suffix", [".shp", ".gpkg"])
def test_cut_short(tmp_path: Path, suffix: str, share: float, capfd: pytest.CaptureFixture[str]) -> None:
    path = _write(tmp_path / f"site{suffix}", *[_WALK] * 20)
    data = path.read_bytes()
    path.write_bytes(data[: int(len(data) * share)])
    with pytest.raises(InputError, match=r"cut short|empty|whatever its name"):
        read_site_file(path)
    assert capfd.readouterr() == ("", "")


@pytest.mark.parametrize("suffix", [".shp", ".gpkg"])
def test_scrambled_bytes_give_a_sentence_or_a_site(
    tmp_path: Path, suffix: str, capfd: pytest.CaptureFixture[str]
) -> None:
    path = _write(tmp_path / f"site{suffix}", *[_WALK] * 20, names=["x"] * 20)
    data = path.read_bytes()
    rng = np.random.default_rng(5)
    refused: list[str] = []
    for _ in range(30):
        damaged = bytearray(data)
        for place in rng.integers(100, len(data), 40):
            damaged[place] = rng.integers(256)
        path.write_bytes(damaged)
        try:
            read_site_file(path)
        except InputError as error:
            refused.append(str(error))
    assert refused
    assert all("\n" not in message for message in refused)
    assert capfd.readouterr() == ("", "")


def test_a_shapefile_without_its_index_or_with_a_strange_system(tmp_path: Path) -> None:
    path = _write(tmp_path / "site.shp", _WALK)
    path.with_suffix(".prj").write_text("rubbish")
    with pytest.raises(InputError, match="prj names no known"):
        read_shapefile(path)
    path.with_suffix(".prj").unlink()
    assert read_shapefile(path).crs == ""
    path.with_suffix(".shx").unlink()
    with pytest.raises(InputError, match=r'"site\.shx" is not beside it'):
        read_shapefile(path)


def test_another_database_is_no_geopackage(tmp_path: Path) -> None:
    import sqlite3

    path = tmp_path / "other.gpkg"
    base = sqlite3.connect(path)
    base.execute("create table t (a)")
    base.commit()
    base.close()
    with pytest.raises(InputError, match=r"damaged|no layer|whatever its name"):
        read_geopackage(path)


def test_coordinates_that_are_no_place(tmp_path: Path) -> None:
    with np.errstate(invalid="ignore"):
        line = shapely.LineString([(0, 0), (math.nan, 1)])
    with pytest.raises(InputError, match=r'feature 1 "a", point 2: a coordinate is no finite number'):
        read_geopackage(_write(tmp_path / "n.gpkg", line, names=["a"], geometry_type="LineString"))
    far = shapely.LineString([(0, 0), (500, 1)])
    with pytest.raises(InputError, match="longitude 500"):
        read_geopackage(_write(tmp_path / "f.gpkg", far, geometry_type="LineString", crs="EPSG:4326"))
