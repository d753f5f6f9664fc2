"""GPX: layers, heights, segments, and a walk whose length a geodesic library confirms."""

import math
import re
from pathlib import Path

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from fencewright.exchange.gpx import read_gpx
from fencewright.exchange.site_files import list_layers, read_site_file
from fencewright.findings import InputError
from fencewright.site.plane import to_plane
from fencewright.site.plane_choice import PlaneSource, choose_plane

_HEAD = '<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1">'
_WALKS = Path(__file__).parent.parent / "data" / "gpx-walks"


def _write(tmp_path: Path, body: str, name: str = "walk.gpx") -> Path:
    path = tmp_path / name
    path.write_text(f"{_HEAD}{body}</gpx>", encoding="utf-8")
    return path


def test_tracks_routes_and_waypoints_are_layers(tmp_path: Path) -> None:
    path = _write(
        tmp_path,
        "<metadata><name>the day</name></metadata>"
        '<wpt lat="46.5" lon="-87.4"><ele>301.5</ele><name>old oak</name><sym>Tree</sym></wpt>'
        '<rte><name>plan</name><rtept lat="1" lon="2"><name>turn</name></rtept><rtept lat="1" lon="3"/></rte>'
        '<trk><name>walked</name><desc>north side</desc><trkseg><trkpt lat="46.5" lon="-87.4"><ele>300</ele></trkpt>'
        '<trkpt lat="46.6" lon="-87.4"/></trkseg></trk>',
    )
    assert list_layers(path) == ("waypoints", "routes", "tracks")
    oak, plan, walked = read_gpx(path).features
    assert (oak.name, oak.geometry, oak.elevation.tolist(), oak.attributes) == (
        "old oak",
        "point",
        [301.5],
        {"sym": "Tree"},
    )
    assert (plan.name, plan.points.tolist()) == ("plan", [[2, 1], [3, 1]])
    assert walked.attributes == {"desc": "north side"}
    np.testing.assert_array_equal(walked.elevation, [300, math.nan])


def test_a_route_is_not_named_by_its_first_point(tmp_path: Path) -> None:
    points = '<rtept lat="1" lon="2"><name>gate</name></rtept><rtept lat="1" lon="3"/>'
    first, second = read_gpx(
        _write(tmp_path, f"<rte>{points}</rte><rte><name>way</name>{points}</rte>")
    ).features
    assert (first.name, second.name) == ("route 1", "way")


def test_each_segment_is_a_line_and_a_note_says_so(tmp_path: Path) -> None:
    segment = '<trkseg><trkpt lat="{0}" lon="0"/><trkpt lat="{0}" lon="1"/></trkseg>'
    site = read_gpx(_write(tmp_path, f"<trk><name>a</name>{segment.format(1)}{segment.format(2)}</trk>"))
    assert [f.name for f in site.features] == ["a segment 1", "a segment 2"]
    assert [f.code for f in site.findings] == ["track-in-segments"]


def test_prefixed_elements_read_alike(tmp_path: Path) -> None:
    path = tmp_path / "p.gpx"
    path.write_text(
        '<g:gpx xmlns:g="http://www.topografix.com/GPX/1/0"><g:wpt lat="1" lon="2"><g:ele>3</g:ele></g:wpt></g:gpx>'
    )
    assert read_gpx(path).features[0].elevation.tolist() == [3]


@pytest.mark.parametrize(
    ("body", "told"),
    [
        ('<wpt lat="1"/>', "waypoint 1: it has no lon"),
        ('<wpt lat="1" lon="2"><ele>high</ele></wpt>', "waypoint 1: its lat, lon or ele is no number"),
        (
            '<trk><trkseg><trkpt lat="1" lon="2"/><trkpt lat="x" lon="2"/></trkseg></trk>',
            "track 1, point 2: its lat",
        ),
        ('<wpt lat="nan" lon="2"/>', "waypoint 1: a coordinate is no finite number"),
        ('<wpt lat="91" lon="2"/>', "waypoint 1: latitude 91 lies outside -90 to 90"),
        ('<wpt lat="1" lon="2"><ele>inf</ele></wpt>', "no finite number"),
        ("<trk><trkseg/></trk>", "no point, line or polygon"),
        ("", "no point, line or polygon"),
    ],
)
def test_bad_points_are_told_with_their_place(tmp_path: Path, body: str, told: str) -> None:
    with pytest.raises(InputError) as caught:
        read_gpx(_write(tmp_path, body))
    assert told in str(caught.value)


@pytest.mark.parametrize("name", ["korita.gpx", "lake.gpx"])
def test_a_real_walk_has_all_its_points_and_heights(name: str) -> None:
    """Against a plain search of the file's text; lengths by geographiclib (see the set's ORIGIN.toml)."""
    path = _WALKS / name
    expected = []
    for segment in path.read_text(encoding="utf-8").split("<trkseg>")[1:]:
        rows = re.findall(r'<trkpt lat="([^"]+)" lon="([^"]+)"><ele>([^<]+)', segment)
        fresh = [
            row
            for row, before in zip(rows, [None, *rows], strict=False)
            if not before or row[:2] != before[:2]
        ]
        if len(fresh) > 1:
            expected.append([(float(lon), float(lat), float(ele)) for lat, lon, ele in fresh])
    features = read_site_file(path, "tracks").features
    assert len(features) == len(expected)
    for feature, rows_wanted in zip(features, expected, strict=True):
        np.testing.assert_array_equal(np.column_stack([feature.points, feature.elevation]), rows_wanted)


def test_a_real_walk_is_as_long_on_the_plane_as_on_the_earth() -> None:
    """Independent: geographiclib. The walk lies within 10 km of its middle, so 1e-6 of the length holds."""
    site = read_site_file(_WALKS / "lake.gpx", "tracks")
    plane, _ = choose_plane(None, [PlaneSource(site.crs, True, site.bounds)])
    for feature in site.features:
        longitude, latitude = feature.points.T
        ways = [
            Geodesic.WGS84.Inverse(latitude[i], longitude[i], latitude[i + 1], longitude[i + 1])["s12"]
            for i in range(len(latitude) - 1)
        ]
        legs_m = np.hypot(*np.diff(to_plane(plane, feature.points, site.crs), axis=0).T)
        np.testing.assert_allclose(legs_m, ways, rtol=1e-6)
