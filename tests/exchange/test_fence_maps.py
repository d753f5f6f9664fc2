"""fence.geojson, fence.gpkg and stakes.gpx: read back by other programs' readers, in the right place."""

import json
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import gpxpy
import numpy as np
import pyogrio
import pyproj
import pytest
import shapely
from geographiclib.geodesic import Geodesic

from fencewright.exchange.design_json import design_record
from fencewright.exchange.fence_geojson import write_geojson
from fencewright.exchange.fence_gpkg import UNDEFINED_PLANE, write_gpkg
from fencewright.exchange.fence_layers import map_layers
from fencewright.exchange.fence_place import map_reference, place_findings, way_to_degrees, wkt_of
from fencewright.exchange.stakes_gpx import write_gpx
from fencewright.pipeline.record import Design
from fencewright.site.plane import Plane

Make = Callable[..., Design]
ORIGIN = (46.5, -87.4)
LAYERS = ["posts", "spans", "braces", "gates", "obstacles"]


@pytest.fixture
def placed(made_design: Make) -> Callable[..., Design]:
    """The design on a bare plane with an origin, north turned, or on a plane with a system."""

    def build(
        origin: Any = None, north_rad: float = 0.0, crs: str = "", unit_m: float = 1.0, **asked: Any
    ) -> Design:
        made = made_design(**asked)
        made.job.asked.site.origin, made.job.asked.site.north = origin, north_rad  # type: ignore[misc]
        made.job.site.plane = Plane("a plane", crs, unit_m)  # type: ignore[misc]
        return made

    return build


def layers_of(design: Design) -> Any:
    return map_layers(design_record(design), design.job.site.obstacles)


def geojson_of(design: Design) -> dict[str, Any]:
    parsed: dict[str, Any] = json.loads(
        write_geojson(layers_of(design), way_to_degrees(design.job), {"digest": "d"})
    )
    return parsed


def gpkg_of(design: Design, folder: Path) -> Path:
    path = folder / "fence.gpkg"
    reference, unit_m = map_reference(design.job), design.job.site.plane.unit_m
    path.write_bytes(write_gpkg(layers_of(design), reference, wkt_of(), "by hand", unit_m))
    return path


def gpx_of(design: Design) -> Any:
    return gpxpy.parse(write_gpx(design_record(design), way_to_degrees(design.job)).decode("utf-8"))


def test_geojson_in_degrees_is_where_the_geodesic_says(placed: Make) -> None:
    """The second gate post lies 3.80995 m east of the origin (geodesic of WGS 84)."""
    features = geojson_of(placed(origin=ORIGIN))["features"]
    first, second = (feature["geometry"]["coordinates"] for feature in features[:2])
    assert first == [-87.4, 46.5]
    line = Geodesic.WGS84.Inverse(first[1], first[0], second[1], second[0])
    assert line["s12"] == pytest.approx(3.80995, abs=2e-3)
    assert line["azi1"] == pytest.approx(90, abs=0.05)


def test_a_turned_plane_turns_the_map(placed: Make) -> None:
    """+y bears 30 degrees, so +x bears 120."""
    features = geojson_of(placed(origin=ORIGIN, north_rad=np.radians(30)))["features"]
    first, second = (feature["geometry"]["coordinates"] for feature in features[:2])
    line = Geodesic.WGS84.Inverse(first[1], first[0], second[1], second[0])
    assert line["azi1"] == pytest.approx(120, abs=0.05)


def test_geojson_without_a_place_says_metres(placed: Make) -> None:
    parsed = geojson_of(placed())
    assert parsed["coordinate_system"] == "local plane, metres"
    assert parsed["features"][4]["geometry"] == {"type": "Point", "coordinates": [12.0, 0.0]}


def test_geojson_holds_every_layer_and_its_own_members(placed: Make) -> None:
    parsed = geojson_of(placed(origin=ORIGIN))
    counts = {
        name: sum(each["properties"]["layer"] == name for each in parsed["features"]) for name in LAYERS
    }
    assert counts == {"posts": 7, "spans": 6, "braces": 2, "gates": 1, "obstacles": 3}
    assert (parsed["type"], parsed["digest"]) == ("FeatureCollection", "d")
    assert not {"coordinates", "geometry", "properties"} & set(parsed)  # RFC 7946 keeps these out, clause 7.1


def test_geojson_rings_close_and_run_to_the_left(placed: Make) -> None:
    (pond,) = [each for each in geojson_of(placed())["features"] if each["geometry"]["type"] == "Polygon"]
    (ring,) = pond["geometry"]["coordinates"]
    assert ring[0] == ring[-1]
    assert len(ring) == 5
    assert shapely.LinearRing(ring).is_ccw


def test_geojson_is_read_by_gdal(placed: Make, tmp_path: Path) -> None:
    path = tmp_path / "fence.geojson"
    design = placed(origin=ORIGIN, line='=x "quoted" \u2603')
    path.write_bytes(write_geojson(layers_of(design), way_to_degrees(design.job), {}))
    info = pyogrio.read_info(path)
    assert (info["features"], info["crs"]) == (19, "EPSG:4326")


@pytest.mark.parametrize(
    ("layer", "shape", "count"),
    [
        ("posts", "Point Z", 7),
        ("spans", "LineString", 6),
        ("braces", "LineString", 2),
        ("gates", "LineString", 1),
        ("obstacles", "Unknown", 3),
    ],
)
def test_gpkg_layers_are_read_by_gdal(
    placed: Make, tmp_path: Path, layer: str, shape: str, count: int
) -> None:
    path = gpkg_of(placed(crs="EPSG:26916"), tmp_path)
    assert [name for name, _ in pyogrio.list_layers(path)] == LAYERS
    info = pyogrio.read_info(path, layer=layer, force_total_bounds=True)
    assert (info["geometry_type"], info["features"], info["crs"]) == (shape, count, "EPSG:26916")


def read_layer(path: Path, layer: str) -> tuple[Any, dict[str, Any]]:
    meta, _, geometry, columns = pyogrio.raw.read(path, layer=layer)
    return shapely.from_wkb(geometry), dict(zip(meta["fields"], columns, strict=True))


def test_gpkg_posts_carry_place_ground_and_columns(placed: Make, tmp_path: Path) -> None:
    points, columns = read_layer(gpkg_of(placed(), tmp_path), "posts")
    assert shapely.get_coordinates(points, include_z=True)[4].tolist() == [12.0, 0.0, 100.3]
    assert np.isnan(shapely.get_coordinates(points, include_z=True)[3, 2])
    assert columns["role"].tolist()[:3] == ["gate", "gate", "brace"]
    assert columns["rail_1_m"].tolist()[4] == 0.6
    assert np.isnan(columns["cut_m"][3])
    assert columns["cut"].tolist()[2:4] == [True, False]
    assert columns["also"].tolist()[0] == "lane 0.000 m"


def test_gpkg_lines_and_areas_are_where_they_stand(placed: Make, tmp_path: Path) -> None:
    path = gpkg_of(placed(), tmp_path)
    spans, _ = read_layer(path, "spans")
    assert shapely.length(spans).tolist() == pytest.approx([3.81, 2.39, 2.8, 3, 3, 3], abs=2e-4)
    shapes, columns = read_layer(path, "obstacles")
    assert shapely.get_type_id(shapes).tolist() == [1, 0, 3]
    assert shapely.area(shapes)[2] == 20
    assert columns["name"].tolist()[1] == "=cmd|' /C calc'!A0"


def test_gpkg_in_a_foot_system_holds_feet(placed: Make, tmp_path: Path) -> None:
    """EPSG:2256 is in international feet; elevations stay metres."""
    path = gpkg_of(placed(crs="EPSG:2256", unit_m=0.3048), tmp_path)
    points, _ = read_layer(path, "posts")
    assert shapely.get_x(points)[4] == pytest.approx(12 / 0.3048)
    assert shapely.get_z(points)[4] == 100.3
    assert pyogrio.read_info(path, layer="posts")["crs"] == "EPSG:2256"


def test_gpkg_of_a_bare_plane_is_undefined(placed: Make, tmp_path: Path) -> None:
    assert map_reference(placed().job) is UNDEFINED_PLANE
    assert map_reference(placed(origin=ORIGIN, north_rad=0.1).job) is UNDEFINED_PLANE
    crs = pyogrio.read_info(gpkg_of(placed(), tmp_path), layer="posts")["crs"]
    assert crs is None or not pyproj.CRS.from_user_input(crs).is_geographic


def test_gpkg_of_a_plane_with_an_origin_lies_there(placed: Make, tmp_path: Path) -> None:
    path = gpkg_of(placed(origin=ORIGIN), tmp_path)
    crs = pyogrio.read_info(path, layer="posts")["crs"]
    lon, lat = pyproj.Transformer.from_crs(crs, 4326, always_xy=True).transform(0.0, 0.0)
    assert (lon, lat) == pytest.approx((-87.4, 46.5), abs=1e-9)


def test_gpkg_is_a_sound_database_with_the_tables_of_the_standard(placed: Make, tmp_path: Path) -> None:
    path = gpkg_of(placed(crs="EPSG:26916"), tmp_path)
    database = sqlite3.connect(path)
    assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    assert database.execute("PRAGMA foreign_key_check").fetchall() == []
    assert database.execute("PRAGMA application_id").fetchone() == (0x47504B47,)
    assert {row[0] for row in database.execute("SELECT srs_id FROM gpkg_spatial_ref_sys")} == {
        -1,
        0,
        4326,
        26916,
    }
    box = database.execute(
        "SELECT min_x, min_y, max_x, max_y FROM gpkg_contents WHERE table_name = 'posts'"
    ).fetchone()
    assert box == (0, 0, 12, 6)
    database.close()
    assert path.read_bytes()[68:72] == b"GPKG"


def test_layers_may_be_empty(placed: Make, tmp_path: Path) -> None:
    design = placed(crs="EPSG:26916")
    record = {**design_record(design), "posts": [], "spans": [], "braces": [], "gates": []}
    layers = map_layers(record, ())
    path = tmp_path / "empty.gpkg"
    path.write_bytes(write_gpkg(layers, map_reference(design.job), wkt_of(), "empty"))
    assert [pyogrio.read_info(path, layer=name)["features"] for name in LAYERS] == [0] * 5
    assert json.loads(write_geojson(layers, None, {}))["features"] == []


def test_gpx_has_a_waypoint_for_every_hole(placed: Make) -> None:
    design = placed(origin=ORIGIN)
    gpx = gpx_of(design)
    assert [point.name for point in gpx.waypoints] == ["P1", "P2", "P3", "P4", "P5", "P6", "P7", "B2"]
    corner = gpx.waypoints[4]
    assert corner.type == "corner"
    assert corner.description == "paddock, 39.4 ft: corner post, hole 12 in x 48 in deep, concrete"
    line = Geodesic.WGS84.Inverse(*ORIGIN, corner.latitude, corner.longitude)
    assert line["s12"] == pytest.approx(12, abs=2e-3)
    assert "off by metres" in str(gpx.description)


def test_gpx_without_a_place_says_how_to_give_one(placed: Make) -> None:
    design = placed(stopped=True)
    gpx = gpx_of(design)
    assert gpx.waypoints == []
    assert str(gpx.description).startswith("NOT TO BE BUILT. No waypoints")
    assert "[site] origin" in str(gpx.description)
    (finding,) = place_findings(design.job)
    assert (finding.level, finding.code) == ("note", "no-place")


def test_a_plane_with_a_place_has_no_such_finding(placed: Make) -> None:
    assert place_findings(placed(origin=ORIGIN).job) == ()
    assert place_findings(placed(crs="EPSG:26916").job) == ()


def test_gpx_takes_any_name(placed: Make) -> None:
    design = placed(origin=ORIGIN, name='<A> & "B"\x00\x0b\ufffe\U0001f40e', line="]]><wpt/>&amp;")
    gpx = gpx_of(design)
    assert gpx.name == '<A> & "B"\U0001f40e'
    assert len(gpx.waypoints) == 8
    assert str(gpx.waypoints[0].description).startswith("]]><wpt/>&amp;,")


def test_gpkg_bytes_are_equal_in_two_processes(placed: Make) -> None:
    record = json.dumps(design_record(placed()))
    code = (
        "import hashlib, json, sys; from fencewright.exchange import fence_gpkg as g, fence_layers as f;"
        "made = g.write_gpkg(f.map_layers(json.load(sys.stdin), ()), g.UNDEFINED_PLANE, 'wkt', 'x');"
        "print(hashlib.sha256(made).hexdigest())"
    )
    runs = [
        subprocess.run(
            [sys.executable, "-c", code], input=record, capture_output=True, text=True, check=True
        ).stdout
        for _ in range(2)
    ]
    assert runs[0] == runs[1]
