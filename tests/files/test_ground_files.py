"""Ground files good and bad: the reader is chosen by kind, and what is bad gives one sentence."""

import tomllib
from pathlib import Path

import laspy
import numpy as np
import pytest
import rasterio
from affine import Affine
from pyproj import CRS

from fencewright.exchange.ground_files import ground_crs, read_ground
from fencewright.exchange.ground_request import GroundRequest
from fencewright.exchange.height_datum import plane_name
from fencewright.findings import InputError
from fencewright.quantity.show import UnitSystem
from fencewright.site.ground import Ground
from fencewright.site.ground_precision import GroundPrecision
from fencewright.site.profile_ground import ProfileGround
from fencewright.site.spot_ground import SpotGround

DATA = Path(__file__).parents[1] / "data"
PRECISION = GroundPrecision(**tomllib.loads((DATA / "ground-practice" / "precision.toml").read_text()))
TERRAIN = Path(__file__).parents[2] / "examples" / "rolling-pasture" / "terrain.tif"
HILL = DATA / "las-hill" / "hill.laz"
FLAT = DATA / "las-flat-feet" / "flat-feet.las"
GPX = '<gpx xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>{}</trkseg></trk></gpx>'
POINT = '<trkpt lat="0.0" lon="{}"><ele>{}</ele></trkpt>'
BOMB = (
    '<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>'
    "<gpx><trk><name>&b;</name></trk></gpx>"
)


def read(path: Path) -> Ground:
    return read_ground(path, GroundRequest(PRECISION))[0]


def sentence(path: Path) -> str:
    """Read a bad file; give its one sentence after checking that it is one."""
    with pytest.raises(InputError) as caught:
        read(path)
    text = str(caught.value)
    assert text.startswith(path.name)
    assert "\n" not in text
    assert len(text) < 330
    return text


def put(path: Path, content: str | bytes) -> Path:
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path


def test_the_reader_follows_the_kind_of_file(tmp_path: Path) -> None:
    spots = put(tmp_path / "a.csv", "x_m,y_m,z_m\n0,0,1\n9,0,1\n0,9,1\n")
    notes = put(tmp_path / "b.CSV", "from,to,slope_length_m,rise_m,bearing\nA,B,30,1,N10E\n")
    walk = put(tmp_path / "c.gpx", GPX.format(POINT.format(0, 5) + POINT.format(90, 6)))
    assert isinstance(read(spots), SpotGround)
    assert isinstance(read(notes), ProfileGround)
    assert isinstance(read(walk), ProfileGround)
    assert "cells of 1.00 m" in read(TERRAIN).source
    assert "ground points" in read(HILL).source
    assert [ground_crs(path) for path in (spots, notes, walk)] == [None, None, "EPSG:4326"]
    assert ground_crs(HILL) == "EPSG:2154"  # Lambert-93, EPSG registry
    assert ground_crs(TERRAIN) == "EPSG:26916"
    assert "Nebraska" in (ground_crs(FLAT) or "")
    assert ground_crs(put(tmp_path / "d.csv", "lon,lat,z_m\n1,1,1\n")) == "EPSG:4326"


def test_the_plane_is_named_without_its_heights() -> None:
    assert plane_name(CRS("EPSG:26916+5703").to_wkt()) == "EPSG:26916"
    assert plane_name(CRS("EPSG:4979").to_wkt()) == "EPSG:4326"
    assert plane_name(None) is None
    assert plane_name("rubbish") == "rubbish"


def test_notes_show_their_misclosure(tmp_path: Path) -> None:
    text = "from,to,slope_length_m,rise_m,bearing\nA,B,30,1,90\nB,A,30.01,-1.01,270\n"
    for sheets, told in (("metric", "10 mm over 59.98 m"), ("us", "3/8 in over 196.8 ft")):
        request = GroundRequest(PRECISION, show=UnitSystem(sheets))
        _, findings = read_ground(put(tmp_path / "n.csv", text), request)
        assert findings[0].code == "level-misclosure"
        assert f"closes to within {told} of plan (1:6,202)" in findings[0].message


@pytest.mark.parametrize("name", ["g.tif", "g.asc", "g.las", "g.laz", "g.csv", "g.gpx", "g.xml"])
def test_missing_empty_folder_and_rubbish(tmp_path: Path, name: str) -> None:
    assert "there is no such file" in sentence(tmp_path / name)
    assert "is empty" in sentence(put(tmp_path / name, b""))
    (tmp_path / name).unlink()
    (tmp_path / name).mkdir()
    assert "is a folder" in sentence(tmp_path / name)
    (tmp_path / name).rmdir()
    rng = np.random.default_rng(1)
    sentence(put(tmp_path / name, rng.bytes(3000)))
    sentence(put(tmp_path / name, b"\xff\xfe" + "x,y,z\n".encode("utf-16-le")))
    sentence(put(tmp_path / name, "<html><body>404</body></html>"))


def test_unknown_kind_is_refused(tmp_path: Path) -> None:
    assert "no kind of ground file" in sentence(put(tmp_path / "ground.xlsx", b"PK"))


def test_a_file_under_another_name_is_refused(tmp_path: Path) -> None:
    vrt = '<VRTDataset rasterXSize="1" rasterYSize="1"><VRTRasterBand dataType="Byte" band="1"/></VRTDataset>'
    assert "no GeoTIFF" in sentence(put(tmp_path / "sly.tif", vrt))
    assert "no GeoTIFF" in sentence(put(tmp_path / "cloud.tif", FLAT.read_bytes()[:5000]))
    assert "no LAS" in sentence(put(tmp_path / "raster.laz", TERRAIN.read_bytes()[:5000]))
    assert "not GPX" in sentence(put(tmp_path / "map.gpx", "<kml><Document/></kml>"))


@pytest.mark.parametrize(("source", "name"), [(TERRAIN, "t.tif"), (HILL, "h.laz"), (FLAT, "f.las")])
def test_cut_short_anywhere_gives_one_sentence(
    tmp_path: Path, capfd: pytest.CaptureFixture[str], source: Path, name: str
) -> None:
    whole = source.read_bytes()
    for share in (0.0005, 0.002, 0.01, 0.03, 0.1, 0.3, 0.6, 0.9, 0.99):
        part = put(tmp_path / name, whole[: max(int(len(whole) * share), 8)])
        sentence(part)
    printed = capfd.readouterr()
    assert printed.out == printed.err == ""


@pytest.mark.parametrize(("source", "name"), [(TERRAIN, "t.tif"), (HILL, "h.laz"), (FLAT, "f.las")])
def test_flipped_bytes_give_ground_or_one_sentence(
    tmp_path: Path, capfd: pytest.CaptureFixture[str], source: Path, name: str
) -> None:
    whole = source.read_bytes()
    rng = np.random.default_rng(7)
    refused = []
    for _ in range(40):
        damaged = bytearray(whole)
        for place in rng.integers(4, 1200, 6):
            damaged[place] = int(rng.integers(0, 256))
        path = put(tmp_path / name, bytes(damaged))
        try:
            read(path)
        except InputError as error:
            refused.append(str(error))
    assert refused
    assert not any("\n" in text for text in refused)
    printed = capfd.readouterr()
    assert printed.out == printed.err == ""


def test_ascii_grid_cut_short_or_wrong(tmp_path: Path) -> None:
    head = "ncols 3\nnrows 2\nxllcorner 0\nyllcorner 0\ncellsize 10\n"
    assert "cut short" in sentence(put(tmp_path / "g.asc", head + "1 2 3\n"))
    assert "cut short" in sentence(put(tmp_path / "g.asc", "ncols 3\nnrows"))
    assert "cut short" in sentence(
        put(tmp_path / "h.asc", "ncols -3\nnrows 2\n" + head[16:] + "1 2 3\n4 5 6\n")
    )
    huge = head.replace("ncols 3", "ncols 2000000000").replace("nrows 2", "nrows 2000000000")
    path = put(tmp_path / "i.asc", huge + "1 2 3\n")
    assert "cut short" in sentence(path)


def test_rasters_that_are_no_terrain(tmp_path: Path) -> None:
    def write(name: str, count: int, kind: str, place: Affine, crs: str | None) -> Path:
        path = tmp_path / name
        with rasterio.open(
            path, "w", driver="GTiff", width=8, height=8, count=count, dtype=kind, transform=place, crs=crs
        ) as raster:
            for band in range(count):
                raster.write(np.ones((8, 8), kind), band + 1)
        return path

    north_up, turned = Affine(1, 0, 0, 0, -1, 8), Affine(0.8, 0.6, 0, 0.6, -0.8, 8)
    assert "is a picture" in sentence(write("p.tif", 3, "uint8", north_up, "EPSG:26916"))
    assert "is a picture" in sentence(write("c.tif", 1, "complex64", north_up, "EPSG:26916"))
    assert "is turned" in sentence(write("r.tif", 1, "float32", turned, "EPSG:26916"))


def test_raster_without_a_place_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "n.tif"
    with (
        pytest.warns(rasterio.errors.NotGeoreferencedWarning),
        rasterio.open(path, "w", driver="GTiff", width=8, height=8, count=1, dtype="float32") as raster,
    ):
        raster.write(np.ones((8, 8), "float32"), 1)
    assert "does not say where it lies" in sentence(path)


def test_a_raster_stored_in_one_huge_block_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "b.tif"
    options = {
        "tiled": True,
        "blockxsize": 9008,
        "blockysize": 9008,
        "sparse_ok": True,
        "crs": "EPSG:26916",
        "transform": Affine(1, 0, 0, 0, -1, 8),
    }
    with rasterio.open(path, "w", driver="GTiff", width=9000, height=9000, count=1, dtype="uint8", **options):
        pass
    assert path.stat().st_size < 100_000
    assert "export it tiled" in sentence(path)


def test_cloud_without_points_and_in_degrees(tmp_path: Path) -> None:
    empty = laspy.LasData(laspy.LasHeader(point_format=6, version="1.4"))
    empty.write(tmp_path / "e.las")
    assert "holds no points" in sentence(tmp_path / "e.las")
    header = laspy.LasHeader(point_format=6, version="1.4")
    header.add_crs(CRS.from_epsg(4326))
    degrees = laspy.LasData(header)
    degrees.x, degrees.y, degrees.z = np.zeros(3), np.ones(3), np.ones(3)
    degrees.write(tmp_path / "d.las")
    assert "is in degrees" in sentence(tmp_path / "d.las")


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (BOMB, "holds a document type"),
        (GPX.format(POINT.format(0, 5))[:-20], "cut short"),
        (GPX.format(""), "holds no heights"),
        (GPX.format('<trkpt lat="1" lon="2"/>'), "holds no heights"),
        (GPX.format(POINT.format(0, "high")), "is no number"),
        (GPX.format(POINT.format(0, "nan")), "holds no heights"),
        (GPX.format(POINT.format(0, "inf")), "no finite number"),
        (GPX.format(POINT.format("east", 5)), "is no number"),
        (GPX.format(POINT.format(900, 5)), "lies outside"),
        (GPX.format("<trkpt><ele>5</ele></trkpt>"), "it has no lon"),
    ],
)
def test_bad_tracks(tmp_path: Path, content: str, words: str) -> None:
    assert words in sentence(put(tmp_path / "w.gpx", content))


def test_sheet_of_one_endless_line(tmp_path: Path) -> None:
    assert "plain CSV" in sentence(put(tmp_path / "s.csv", "x" * 3_000_000))
    sentence(put(tmp_path / "q.csv", 'x_m,y_m,z_m\n"' + "1" * 3_000_000))


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "utf-16-be"])
def test_a_sheet_is_read_as_spreadsheets_save_it(tmp_path: Path, encoding: str) -> None:
    text = "x_m\ty_m\tz_m\r\n0\t0\t1\r\n9\t0\t1\r\n0\t9\t1\r\n"
    mark = b"\xfe\xff" if encoding == "utf-16-be" else b""
    assert "3 spot heights" in read(put(tmp_path / "s.csv", mark + text.encode(encoding))).source
    assert "UTF-8" in sentence(put(tmp_path / "t.csv", text.encode("utf-16")[:-1]))
