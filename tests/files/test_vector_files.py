"""Bad vector files of every format: one sentence with the file's name, nothing on standard error."""

import json
import os
import warnings
from collections.abc import Callable
from pathlib import Path

import defusedxml.ElementTree
import ezdxf.filemanagement
import numpy as np
import pytest
import shapely
from pyogrio import raw

from fencewright.exchange import collect, intake
from fencewright.exchange.site_files import list_layers, read_site_file
from fencewright.findings import InputError

_XY = [(i / 1000, 46 + i / 2000) for i in range(50)]
_PNG = b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 4
_SUFFIXES = (".geojson", ".gpx", ".kml", ".shp", ".gpkg", ".dxf", ".csv", ".xml")
_TEXT_SUFFIXES = (".geojson", ".gpx", ".kml", ".csv", ".xml")
_XML_SUFFIXES = (".gpx", ".kml", ".xml")


def _geojson(path: Path) -> None:
    feature = {
        "type": "Feature",
        "properties": {"name": "walk"},
        "geometry": {"type": "LineString", "coordinates": _XY},
    }
    path.write_text(json.dumps({"type": "FeatureCollection", "features": [feature]}))


def _gpx(path: Path) -> None:
    points = "".join(f'<trkpt lat="{y}" lon="{x}"/>' for x, y in _XY)
    path.write_text(f'<gpx version="1.1"><trk><name>walk</name><trkseg>{points}</trkseg></trk></gpx>')


def _kml(path: Path) -> None:
    points = " ".join(f"{x},{y}" for x, y in _XY)
    line = f"<LineString><coordinates>{points}</coordinates></LineString>"
    path.write_text(
        f'<kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><name>walk</name>{line}</Placemark></kml>'
    )


def _landxml(path: Path) -> None:
    points = " ".join(f"{y} {x}" for x, y in _XY)
    line = f"<CoordGeom><IrregularLine><PntList2D>{points}</PntList2D></IrregularLine></CoordGeom>"
    path.write_text(
        '<LandXML version="1.2"><CoordinateSystem epsgCode="4326"/>'
        f'<PlanFeatures><PlanFeature name="walk">{line}</PlanFeature></PlanFeatures></LandXML>'
    )


def _csv(path: Path) -> None:
    path.write_text("lon,lat\n" + "\n".join(f"{x},{y}" for x, y in _XY) + "\n")


def _dxf(path: Path) -> None:
    drawing = ezdxf.filemanagement.new("R2010")
    drawing.modelspace().add_lwpolyline(_XY)
    drawing.saveas(path)


def _table(path: Path) -> None:
    line = np.array([shapely.to_wkb(shapely.LineString(_XY))], dtype=object)
    driver = {".shp": "ESRI Shapefile", ".gpkg": "GPKG"}[path.suffix]
    raw.write(path, line, [], [], geometry_type="LineString", crs="EPSG:4326", driver=driver)


_WRITERS: dict[str, Callable[[Path], None]] = {
    ".geojson": _geojson,
    ".gpx": _gpx,
    ".kml": _kml,
    ".csv": _csv,
    ".dxf": _dxf,
    ".shp": _table,
    ".gpkg": _table,
    ".xml": _landxml,
}


def _good(tmp_path: Path, suffix: str) -> Path:
    path = tmp_path / f"site{suffix}"
    _WRITERS[suffix](path)
    return path


def _refusal(path: Path, layer: str | None = None) -> str:
    with pytest.raises(InputError) as caught:
        read_site_file(path, layer)
    message = str(caught.value)
    assert message.startswith(str(path))
    assert caught.value.file == str(path)
    assert "\n" not in message
    assert len(message) < len(str(path)) + 320
    return caught.value.what


@pytest.mark.parametrize("suffix", _SUFFIXES)
def test_good_files_read_alike(tmp_path: Path, suffix: str) -> None:
    site = read_site_file(_good(tmp_path, suffix))
    np.testing.assert_allclose(site.features[0].points, _XY, atol=1e-12)
    assert site.findings == ()
    assert list_layers(site.path) == site.layers
    assert site.bounds == pytest.approx((0, 46, 0.049, 46.0245))


@pytest.mark.parametrize("suffix", _SUFFIXES)
def test_missing_empty_and_folder(tmp_path: Path, suffix: str) -> None:
    assert "no such file" in _refusal(tmp_path / f"none{suffix}")
    (tmp_path / f"empty{suffix}").write_bytes(b"")
    assert _refusal(tmp_path / f"empty{suffix}") == "the file is empty"
    (tmp_path / f"folder{suffix}").mkdir()
    assert "folder" in _refusal(tmp_path / f"folder{suffix}")


@pytest.mark.parametrize("suffix", _SUFFIXES)
def test_a_picture_by_another_name(tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"picture{suffix}"
    path.write_bytes(_PNG)
    assert "PNG picture" in _refusal(path)


@pytest.mark.parametrize("other", _SUFFIXES)
@pytest.mark.parametrize("suffix", _SUFFIXES)
def test_a_file_of_another_format(tmp_path: Path, suffix: str, other: str) -> None:
    if suffix == other:
        return
    path = tmp_path / f"renamed{suffix}"
    path.write_bytes(_good(tmp_path, other).read_bytes())
    _refusal(path)


@pytest.mark.parametrize("share", [0.05, 0.3, 0.6, 0.9])
@pytest.mark.parametrize("suffix", [s for s in _SUFFIXES if s != ".csv"])
def test_cut_short(tmp_path: Path, suffix: str, share: float, capfd: pytest.CaptureFixture[str]) -> None:
    path = _good(tmp_path, suffix)
    data = path.read_bytes()
    path.write_bytes(data[: int(len(data) * share)])
    assert "cut short" in _refusal(path)
    assert capfd.readouterr() == ("", "")


@pytest.mark.parametrize("suffix", _SUFFIXES)
def test_noise(tmp_path: Path, suffix: str, capfd: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / f"noise{suffix}"
    rng = np.random.default_rng(3)
    for size in (1, 7, 300, 5000):
        path.write_bytes(rng.bytes(size))
        _refusal(path)
    assert capfd.readouterr() == ("", "")


@pytest.mark.parametrize("suffix", _TEXT_SUFFIXES)
def test_bytes_that_are_not_utf8(tmp_path: Path, suffix: str) -> None:
    path = _good(tmp_path, suffix)
    text = path.read_bytes()
    place = text.index(b"walk") if b"walk" in text else 0
    path.write_bytes(text[:place] + "é".encode("latin-1") + text[place:])
    assert "UTF-8" in _refusal(path)


@pytest.mark.parametrize("suffix", _SUFFIXES)
def test_absurd_size(tmp_path: Path, suffix: str) -> None:
    path = _good(tmp_path, suffix)
    os.truncate(path, intake.MAX_BINARY_BYTES + 1)  # sparse: takes no room on the disk
    assert "more than the" in _refusal(path)


@pytest.mark.parametrize("suffix", _SUFFIXES)
def test_too_many_points_or_features(tmp_path: Path, suffix: str, monkeypatch: pytest.MonkeyPatch) -> None:
    path = _good(tmp_path, suffix)
    monkeypatch.setattr(collect, "MAX_POINTS", 49)
    assert "50 points or more, above the 49" in _refusal(path)
    monkeypatch.setattr(collect, "MAX_POINTS", 50)
    monkeypatch.setattr(collect, "MAX_FEATURES", 0)
    assert "features" in _refusal(path)


@pytest.mark.parametrize("suffix", _SUFFIXES)
def test_a_layer_that_is_not_there(tmp_path: Path, suffix: str) -> None:
    path = _good(tmp_path, suffix)
    (name,) = list_layers(path)
    assert f'only "{name}"' in _refusal(path, "nothing alike")
    assert len(read_site_file(path, name).features) == 1


@pytest.mark.parametrize("suffix", _SUFFIXES)
def test_a_site_beyond_the_earth(tmp_path: Path, suffix: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(
        globals(), "_XY", [(0.0, 0.0), (500.0, 0.0)] if suffix != ".dxf" else [(0, 0), (1e200, 0)]
    )
    assert "longitude 500 lies outside" in (told := _refusal(_good(tmp_path, suffix))) or "absurd" in told


_BOMB = '<!DOCTYPE {0} [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]><{0}><name>&b;</name></{0}>'
_OUTSIDE = '<!DOCTYPE {0} [<!ENTITY x SYSTEM "file:///etc/hostname">]><{0}><name>&x;</name></{0}>'
_REMOTE = '<!DOCTYPE {0} SYSTEM "http://127.0.0.1:9/x.dtd"><{0}/>'


@pytest.mark.parametrize("text", [_BOMB, _OUTSIDE, _REMOTE])
@pytest.mark.parametrize("suffix", _XML_SUFFIXES)
def test_hostile_xml_is_refused_as_defusedxml_does(tmp_path: Path, suffix: str, text: str) -> None:
    path = tmp_path / f"hostile{suffix}"
    body = text.format(suffix[1:])
    path.write_text(body)
    with pytest.raises(defusedxml.DTDForbidden):
        defusedxml.ElementTree.fromstring(body, forbid_dtd=True)
    assert "document type" in _refusal(path)
    path.write_text(body, encoding="utf-16")
    assert "document type" in _refusal(path)


@pytest.mark.parametrize("suffix", _XML_SUFFIXES)
def test_xml_of_another_kind_or_encoding(tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"page{suffix}"
    path.write_text("<html><body/></html>")
    assert "another kind (<html>)" in _refusal(path)
    path.write_text(f'<?xml version="1.0" encoding="klingon"?><{suffix[1:]}/>')
    assert "encoding" in _refusal(path)


@pytest.mark.parametrize("name", ["site", "site.", "site.txt", "site.kmz", "site.GPX.zip"])
def test_an_unknown_extension_lists_the_formats(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_text("x")
    told = _refusal(tmp_path / name)
    assert all(suffix in told for suffix in _SUFFIXES)


@pytest.mark.parametrize("suffix", [".GPX", ".GeoJSON", ".CSV", ".Kml"])
def test_the_case_of_the_extension_does_not_matter(tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"site{suffix}"
    _WRITERS[suffix.lower()](path)
    assert read_site_file(str(path)).features


@pytest.mark.parametrize("suffix", [".shp", ".gpkg"])
def test_a_description_of_other_files_is_not_followed(tmp_path: Path, suffix: str) -> None:
    """GDAL would open what such a file points to; its head is looked at first."""
    path = tmp_path / f"pointer{suffix}"
    path.write_text(
        '<OGRVRTDataSource><OGRVRTLayer name="x"><SrcDataSource>/etc</SrcDataSource></OGRVRTLayer></OGRVRTDataSource>'
    )
    assert "whatever its name says" in _refusal(path)


@pytest.mark.parametrize("suffix", _SUFFIXES)
def test_reading_changes_nothing(tmp_path: Path, suffix: str) -> None:
    path = _good(tmp_path, suffix)
    before = {item.name: item.read_bytes() for item in tmp_path.iterdir()}
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        read_site_file(path)
    assert {item.name: item.read_bytes() for item in tmp_path.iterdir()} == before
