"""KML: folders as layers, heights by altitude mode, shapes in shapes."""

import math
from pathlib import Path

import numpy as np
import pytest

from fencewright.exchange.kml import parse_coordinates, read_kml
from fencewright.exchange.site_files import list_layers, read_site_file
from fencewright.findings import InputError

_HEAD = '<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2">'
_LINE = "<LineString>{mode}<coordinates>{points}</coordinates></LineString>"


def _write(tmp_path: Path, body: str) -> Path:
    path = tmp_path / "farm.kml"
    path.write_text(f"{_HEAD}<Document>{body}</Document></kml>", encoding="utf-8")
    return path


def _placemark(shape: str, name: str = "p") -> str:
    return f"<Placemark><name>{name}</name>{shape}</Placemark>"


def test_the_innermost_named_folder_is_the_layer(tmp_path: Path) -> None:
    line = _LINE.format(mode="", points="-87,46 -87.1,46.1")
    path = _write(
        tmp_path,
        f"<name>farm</name>{_placemark(line, 'a')}"
        f"<Folder><name>fences</name>{_placemark(line, 'b')}<Folder>{_placemark(line, 'c')}</Folder></Folder>",
    )
    assert [(f.name, f.layer) for f in read_kml(path).features] == [
        ("a", "farm"),
        ("b", "fences"),
        ("c", "fences"),
    ]
    assert list_layers(path) == ("farm", "fences")
    assert [f.name for f in read_site_file(path, "FENCES").features] == ["b", "c"]


@pytest.mark.parametrize(
    ("mode", "heights"),
    [
        ("<altitudeMode>absolute</altitudeMode>", [300.0, math.nan]),
        ("<altitudeMode>relativeToGround</altitudeMode>", [math.nan, math.nan]),
        ("", [math.nan, math.nan]),
    ],
)
def test_heights_count_only_where_they_are_absolute(tmp_path: Path, mode: str, heights: list[float]) -> None:
    site = read_kml(_write(tmp_path, _placemark(_LINE.format(mode=mode, points="1,2,300 1,3"))))
    np.testing.assert_array_equal(site.features[0].elevation, heights)


def test_polygon_multi_geometry_and_track(tmp_path: Path) -> None:
    ring = "<LinearRing><coordinates>0,0 1,0 1,1 0,0</coordinates></LinearRing>"
    body = _placemark(
        f"<MultiGeometry><Polygon><outerBoundaryIs>{ring}</outerBoundaryIs><innerBoundaryIs>{ring}</innerBoundaryIs>"
        "</Polygon><Point><coordinates>5,6</coordinates></Point></MultiGeometry>"
        '<ExtendedData><Data name="kind"><value>pond</value></Data></ExtendedData>',
        "wet",
    ) + _placemark("<gx:Track><gx:coord>1 2 3</gx:coord><gx:coord>2 2 3</gx:coord></gx:Track>", "ride")
    site = read_kml(_write(tmp_path, body))
    assert [(f.name, f.geometry, len(f.points)) for f in site.features] == [
        ("wet part 1", "polygon", 3),
        ("wet part 2", "point", 1),
        ("ride", "line", 2),
    ]
    assert site.features[0].attributes == {"kind": "pond"}
    assert "inner ring" in site.findings[0].message


def test_coordinates_with_blanks_about_their_commas() -> None:
    np.testing.assert_array_equal(
        parse_coordinates(" 1 , 2 ,3\n\t4,5,6 7,8,", "f", "i"), [[1, 2, 3], [4, 5, 6], [7, 8, math.nan]]
    )


@pytest.mark.parametrize("text", ["1", "1,2 x,3", "1,2,3,4 a", "1,,2"])
def test_broken_coordinates_are_told(text: str) -> None:
    with pytest.raises(InputError, match=r"farm\.kml: p, point \d: .* is no longitude,latitude"):
        parse_coordinates(text, "farm.kml", "p")


@pytest.mark.parametrize(
    ("body", "told"),
    [
        (_placemark(""), "1 x placemark without geometry"),
        ("<NetworkLink><Link><href>http://x</href></Link></NetworkLink>", "1 x link to another file"),
        (_placemark(_LINE.format(mode="", points="200,1 2,3")), "point 1: longitude 200"),
        ("<Folder>" * 300 + "</Folder>" * 300, "nested more than 200 deep"),
        (_placemark("<Point/>"), "1 x point without coordinates"),
    ],
)
def test_what_cannot_be_used_is_told(tmp_path: Path, body: str, told: str) -> None:
    with pytest.raises(InputError) as caught:
        read_kml(_write(tmp_path, body))
    assert told in str(caught.value)
