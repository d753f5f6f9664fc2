"""The job's plane: lengths against geodesics, rotation and units, and back to degrees."""

import math

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from fencewright.findings import InputError
from fencewright.site.plane import Origin, Plane, local_mercator, to_geographic, to_plane
from fencewright.site.plane_choice import PlaneSource, choose_plane

_UTM = Plane("EPSG:26916 NAD83 / UTM zone 16N", "EPSG:26916", 1.0)


@pytest.mark.parametrize("latitude", [-65.0, -30.0, 0.0, 46.5012, 68.0])
@pytest.mark.parametrize("azimuth", [0.0, 37.0, 90.0, 200.0, 315.0])
def test_lengths_on_the_local_plane_are_geodesic_lengths(latitude: float, azimuth: float) -> None:
    """Independent: geographiclib's direct problem. Within 10 km of the centre, 1e-6 of the length."""
    plane = Plane("local", local_mercator(latitude, -87.395))
    start = Geodesic.WGS84.Direct(latitude, -87.395, azimuth + 40, 4000)
    end = Geodesic.WGS84.Direct(start["lat2"], start["lon2"], azimuth, 5000)
    places = np.array([[start["lon2"], start["lat2"]], [end["lon2"], end["lat2"]]])
    xy = to_plane(plane, places, "EPSG:4326")
    assert math.dist(*xy) == pytest.approx(5000, rel=1e-6)


def test_a_plane_in_feet_gives_metres() -> None:
    """The same point by EPSG:2232 (US survey foot) and by its twin in metres, EPSG:26954."""
    place = np.array([[-105.2, 39.1], [-105.0, 39.2]])
    feet, _ = choose_plane("EPSG:2232", [])
    metres, _ = choose_plane("EPSG:26954", [])
    np.testing.assert_allclose(
        to_plane(feet, place, "EPSG:4269"), to_plane(metres, place, "EPSG:4269"), rtol=0, atol=1e-3
    )
    native = to_plane(feet, place, "EPSG:4269") / feet.unit_m
    np.testing.assert_allclose(
        to_plane(feet, native, "EPSG:2232"), to_plane(feet, place, "EPSG:4269"), atol=1e-6
    )
    np.testing.assert_allclose(to_plane(feet, native, ""), to_plane(feet, native, "EPSG:2232"))


@pytest.mark.parametrize(("unit_m", "expected"), [(math.nan, 10.0), (0.3048, 3.048)])
def test_a_bare_plane_scales_by_the_files_unit(unit_m: float, expected: float) -> None:
    np.testing.assert_allclose(to_plane(Plane(), np.array([[10.0, 0.0]]), "", unit_m), [[expected, 0]])


def test_a_bare_plane_takes_no_file_with_a_system() -> None:
    with pytest.raises(InputError, match=r"EPSG:4326 WGS 84.*plane is local"):
        to_plane(Plane(), np.array([[1.0, 2.0]]), "EPSG:4326")


def test_no_points_stay_none() -> None:
    empty = np.zeros((0, 2))
    assert to_plane(_UTM, empty, "EPSG:4326").shape == (0, 2)
    back = to_geographic(_UTM, empty)
    assert back is not None
    assert back.shape == (0, 2)


def test_points_out_of_reach_are_told() -> None:
    with pytest.raises(InputError, match="does not reach the point"):
        to_plane(_UTM, np.array([[-87.0, 46.0], [3.0, 0.0]]), "EPSG:4326")


def test_degrees_to_the_plane_and_back() -> None:
    places = np.array([[-87.395, 46.5012], [-87.1, 46.2]])
    back = to_geographic(_UTM, to_plane(_UTM, places, "EPSG:4326"))
    assert back is not None
    np.testing.assert_allclose(back, places, atol=1e-9)


def test_a_bare_plane_has_no_degrees_without_an_origin() -> None:
    assert to_geographic(Plane(), np.array([[1.0, 2.0]])) is None


@pytest.mark.parametrize("north_deg", [0.0, 30.0, 90.0, -45.0])
def test_an_origin_turns_the_plane_to_its_bearing(north_deg: float) -> None:
    """+y lies at bearing `north_deg`, +x a right angle further clockwise; by geographiclib's inverse problem."""
    places = to_geographic(
        Plane(), np.array([[0.0, 0.0], [0.0, 500.0], [500.0, 0.0]]), Origin(46.5, -87.4, north_deg)
    )
    assert places is not None
    np.testing.assert_allclose(places[0], [-87.4, 46.5], atol=1e-12)
    for place, bearing in ((places[1], north_deg), (places[2], north_deg + 90)):
        way = Geodesic.WGS84.Inverse(46.5, -87.4, place[1], place[0])
        assert way["s12"] == pytest.approx(500, rel=1e-7)
        assert math.remainder(way["azi1"] - bearing, 360) == pytest.approx(0, abs=1e-3)


def test_a_file_across_the_antimeridian_has_its_plane_there() -> None:
    plane, _ = choose_plane(None, [PlaneSource("EPSG:4326", True, (-179.99, -17, 179.99, -16.9), "reef.gpx")])
    xy = to_plane(plane, np.array([[179.99, -17.0], [-179.99, -17.0]]), "EPSG:4326")
    way = Geodesic.WGS84.Inverse(-17, 179.99, -17, -179.99)["s12"]
    assert math.dist(*xy) == pytest.approx(way, rel=1e-6)
