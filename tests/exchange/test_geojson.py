"""GeoJSON: shapes, names, layers, old coordinate systems, and what is refused."""

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from fencewright.exchange.geojson import read_geojson
from fencewright.exchange.records import SiteFile
from fencewright.findings import InputError


def _write(path: Path, root: Any) -> Path:
    path.write_text(json.dumps(root), encoding="utf-8")
    return path


def _feature(kind: str, coordinates: Any, **properties: Any) -> dict[str, Any]:
    return {
        "type": "Feature",
        "properties": properties,
        "geometry": {"type": kind, "coordinates": coordinates},
    }


def _read(tmp_path: Path, *features: dict[str, Any], **root: Any) -> SiteFile:
    return read_geojson(
        _write(tmp_path / "site.geojson", {"type": "FeatureCollection", "features": features, **root})
    )


def test_a_line_keeps_points_heights_name_and_fields(tmp_path: Path) -> None:
    site = _read(
        tmp_path,
        _feature("LineString", [[-87.4, 46.5, 300], [-87.3, 46.6]], Name="north", depth=2.5, tall=True),
    )
    (line,) = site.features
    assert (line.name, line.geometry, line.is_closed, line.layer) == ("north", "line", False, "site")
    np.testing.assert_array_equal(line.points, [[-87.4, 46.5], [-87.3, 46.6]])
    np.testing.assert_array_equal(line.elevation, [300, math.nan])
    assert line.attributes == {"Name": "north", "depth": "2.5", "tall": "true"}
    assert (site.crs, site.is_geographic, site.elevation_unit_m) == ("EPSG:4326", True, 1.0)


def test_a_ring_is_closed_and_does_not_repeat_its_first_point(tmp_path: Path) -> None:
    ring = [[0, 0], [1, 0], [1, 1], [0, 0]]
    site = _read(tmp_path, _feature("Polygon", [ring, ring]), _feature("LineString", ring))
    assert [(f.geometry, f.is_closed, len(f.points)) for f in site.features] == [
        ("polygon", True, 3),
        ("line", True, 3),
    ]
    assert [f.code for f in site.findings] == ["file-part-left-out"]
    assert "1 x inner ring of a polygon" in site.findings[0].message


def test_there_and_back_is_no_ring(tmp_path: Path) -> None:
    site = _read(tmp_path, _feature("LineString", [[0, 0], [1, 0], [0, 0]]))
    assert (site.features[0].is_closed, len(site.features[0].points)) == (False, 3)


def test_parts_of_multiple_geometries_are_features(tmp_path: Path) -> None:
    site = _read(
        tmp_path,
        _feature("MultiLineString", [[[0, 0], [1, 0]], [[2, 0], [3, 0]]], name="lane"),
        {"type": "Feature", "geometry": None},
        {
            "type": "Feature",
            "id": 7,
            "geometry": {
                "type": "GeometryCollection",
                "geometries": [{"type": "Point", "coordinates": [5, 6]}],
            },
        },
    )
    assert [f.name for f in site.features] == ["lane part 1", "lane part 2", "7"]
    assert "feature without geometry" in site.findings[0].message


def test_repeated_points_are_dropped_with_a_note(tmp_path: Path) -> None:
    site = _read(tmp_path, _feature("LineString", [[0, 0], [0, 0], [1, 0], [1, 0]]))
    assert len(site.features[0].points) == 2
    assert [(f.level, f.code) for f in site.findings] == [("note", "duplicate-points")]


def test_an_old_crs_member_gives_a_plane(tmp_path: Path) -> None:
    crs = {"type": "name", "properties": {"name": "urn:ogc:def:crs:EPSG::2232"}}
    site = _read(tmp_path, _feature("Point", [3_000_000, 1_700_000]), crs=crs)
    assert not site.is_geographic
    assert site.unit_m == pytest.approx(1200 / 3937, rel=1e-12)


@pytest.mark.parametrize(
    ("feature", "told"),
    [
        (_feature("LineString", [[0, 0], [181, 0]]), "feature 1, point 2: longitude 181 lies outside"),
        (_feature("Point", [46, -120]), "longitude comes before latitude"),
        (_feature("Point", [500_000, 5_000_000]), "names their EPSG code"),
        (_feature("LineString", [[0, 0], ["1", 2]]), "point 2: it is no pair of numbers"),
        (_feature("LineString", [[0, 0], [1]]), "point 2: it is no pair of numbers"),
        (_feature("LineString", [[0, 0], [True, 1.0], [1]]), "point 2: it is no pair of numbers"),
        (_feature("LineString", [[0, 0], [10**400, 1]]), "no finite number"),
        (_feature("LineString", [[0, 0], [math.nan, 1]]), "point 2: a coordinate is no finite number"),
        (_feature("Point", [0, 0, math.inf]), "no finite number"),
        (_feature("LineString", {}), "its coordinates are no list"),
        (_feature("Circle", [0, 0]), 'unknown type "Circle"'),
        (_feature("LineString", [[1, 1], [1, 1]], name="still"), "1 x line of no length"),
        ({"type": "feature"}, "it is no GeoJSON feature"),
    ],
)
def test_bad_features_are_told_in_one_sentence(tmp_path: Path, feature: dict[str, Any], told: str) -> None:
    with pytest.raises(InputError) as caught:
        _read(tmp_path, feature)
    assert told in str(caught.value)
    assert str(caught.value).startswith(str(tmp_path / "site.geojson"))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("[1, 2]", 'no "type" at its root'),
        ('{"type": "Topology"}', 'its type is "Topology"'),
        ("x,y\n1,2\n", "is not JSON"),
        ("[" * 100_000, "cut short|nested too deep"),
        ('{"type": "FeatureCollection", "features": 3}', "no list"),
        ('{"type": "Point", "coordinates": [1, 2], "crs": {"properties": {"name": "EPSG:1"}}}', "is unknown"),
        ('{"type": "Point", "coordinates": [1, 2], "crs": 7}', "names no coordinate system"),
    ],
)
def test_what_is_no_geojson_is_told(tmp_path: Path, text: str, told: str) -> None:
    path = tmp_path / "site.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match=told):
        read_geojson(path)


def test_a_hostile_name_cannot_break_a_message(tmp_path: Path) -> None:
    feature = _feature("Point", [999, 0], name="a\nTraceback\x1b[31m" + "z" * 10_000)
    with pytest.raises(InputError) as caught:
        _read(tmp_path, feature)
    message = str(caught.value)
    assert "\n" not in message
    assert "\x1b" not in message
    assert len(message) < 400
