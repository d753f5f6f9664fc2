"""Scale of the plane, and how well another datum fits onto it."""

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from fencewright.quantity.show import UnitSystem
from fencewright.site.plane import Plane, local_mercator, to_plane
from fencewright.site.plane_choice import choose_plane
from fencewright.site.plane_findings import datum_findings, grid_scale_finding

METRIC = UnitSystem("metric")
_PLACES = np.array([[-87.0, 46.0], [-86.999, 46.0005]])


@pytest.mark.parametrize(
    ("crs", "level"),
    [("EPSG:26916", "note"), ("EPSG:26914", "stop"), ("EPSG:26915", "caution"), ("EPSG:3857", "stop")],
)
def test_the_scale_is_that_of_a_short_geodesic(crs: str, level: str) -> None:
    """Independent: plane length over geographiclib's length, to 5e-5 (Pseudo-Mercator's scale turns with the way)."""
    plane, _ = choose_plane(crs, [])
    xy = to_plane(plane, _PLACES, "EPSG:4269")
    (west, south), (east, north) = _PLACES
    ground = Geodesic.WGS84.Inverse(south, west, north, east)["s12"]
    scale = float(np.hypot(*(xy[1] - xy[0]))) / ground
    finding = grid_scale_finding(plane, xy, METRIC)
    assert finding is not None
    assert (finding.level, finding.code) == (level, "grid-scale")
    told = float(finding.message.rpartition("scale ")[2].rstrip(")"))
    assert told == pytest.approx(scale, abs=5e-5 if crs != "EPSG:3857" else 5e-3)


def test_utm_on_its_central_meridian_is_40_mm_short_in_100_m() -> None:
    """Scale 0.9996 of UTM: from memory."""
    plane, _ = choose_plane("EPSG:26916", [])
    finding = grid_scale_finding(plane, to_plane(plane, _PLACES, "EPSG:4269"), METRIC)
    assert finding is not None
    assert "40 mm in 100 m shorter" in finding.message
    told = grid_scale_finding(plane, to_plane(plane, _PLACES, "EPSG:4269"), UnitSystem("us"))
    assert told is not None
    assert "1/2 in in 100 ft shorter" in told.message


def test_silence_where_the_scale_is_true() -> None:
    local = Plane("local", local_mercator(46.0, -87.0))
    assert grid_scale_finding(local, to_plane(local, _PLACES, "EPSG:4326"), METRIC) is None
    assert grid_scale_finding(Plane(), np.zeros((3, 2)), METRIC) is None
    assert grid_scale_finding(local, np.zeros((0, 2)), METRIC) is None


@pytest.mark.parametrize(
    ("crs", "levels"),
    [("", []), ("EPSG:4269", []), ("EPSG:26917", []), ("EPSG:4326", ["note"]), ("EPSG:4267", ["caution"])],
)
def test_another_datum_is_told_with_its_accuracy(crs: str, levels: list[str]) -> None:
    """NAD 27 (EPSG:4267) needs a grid to reach NAD 83; there is none on disk (shared notes, pitfall 7)."""
    findings = datum_findings(Plane("EPSG:26916", "EPSG:26916"), crs, "old.shp", METRIC)
    assert [finding.level for finding in findings] == levels
    assert all("old.shp" in finding.message for finding in findings)
