"""The plane that a job may name so that a file lies on it."""

import pytest

from fencewright.site.plane import parse_crs
from fencewright.site.plane_choice import choose_plane, suggest_plane


@pytest.mark.parametrize(
    ("crs", "lon_deg", "lat_deg", "code"),
    [
        ("EPSG:26916", -87.4, 46.5, "EPSG:26916"),  # a plane that keeps lengths: the file's own
        ("EPSG:2253", -85.0, 46.0, "EPSG:2253"),  # in feet, too
        ("EPSG:4326", -87.4, 46.5, "EPSG:32616"),
        ("EPSG:4326", -71.2, -33.0, "EPSG:32719"),
        ("EPSG:3857", -87.4, 46.5, "EPSG:32616"),  # its metres are longer than the ground's
    ],
)
def test_the_suggestion_is_a_plane_that_a_job_can_name(
    crs: str, lon_deg: float, lat_deg: float, code: str
) -> None:
    assert suggest_plane(crs, lon_deg, lat_deg) == code
    plane, _ = choose_plane(code, ())
    assert plane.crs == code


def test_a_system_given_as_text_is_known_by_its_code() -> None:
    assert suggest_plane(parse_crs("EPSG:26916").to_wkt(), -87.4, 46.5) == "EPSG:26916"


def test_near_a_pole_nothing_is_suggested() -> None:
    assert suggest_plane("EPSG:4326", 10.0, 86.0) == ""
