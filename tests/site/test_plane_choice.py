"""Choosing the plane: declared, chosen, or refused with what to write."""

import pytest

from fencewright.findings import InputError
from fencewright.site.plane import Plane
from fencewright.site.plane_choice import PlaneSource, choose_plane

_WALK = PlaneSource("EPSG:4326", True, (-87.40, 46.50, -87.39, 46.5024), "walk.gpx")
_SURVEY = PlaneSource("EPSG:26916", False, (470_000, 5_149_000, 471_000, 5_150_000), "survey.shp")
_BARE = PlaneSource("", False, (0, 0, 60, 40), "points.csv")


def test_degrees_alone_give_a_local_plane_and_a_note() -> None:
    plane, (finding,) = choose_plane(None, [_WALK, _WALK])
    assert plane.name == "local transverse Mercator at 46.5012 N 87.3950 W"
    assert (finding.level, finding.code) == ("note", "plane-chosen")
    assert plane.name in finding.message
    assert plane.unit_m == 1


@pytest.mark.parametrize("declared", [None, "", "local", "LOCAL"])
@pytest.mark.parametrize("sources", [[], [_BARE]])
def test_nothing_with_a_system_gives_a_bare_plane(declared: str | None, sources: list[PlaneSource]) -> None:
    assert choose_plane(declared, sources) == (Plane(), ())


def test_the_one_projected_system_of_all_files_is_used() -> None:
    plane, (finding,) = choose_plane(None, [_SURVEY, _SURVEY])
    assert (plane.name, plane.crs) == ("EPSG:26916 NAD83 / UTM zone 16N", "EPSG:26916")
    assert finding.code == "plane-chosen"


@pytest.mark.parametrize("declared", ["EPSG:26916", " epsg:26916 "])
def test_a_declared_system_takes_every_file(declared: str) -> None:
    plane, findings = choose_plane(declared, [_WALK, _SURVEY, _BARE])
    assert plane.name == "EPSG:26916 NAD83 / UTM zone 16N"
    assert findings == ()


def test_feet_and_heights_beside_the_plane() -> None:
    assert choose_plane("EPSG:2232", [])[0].unit_m == pytest.approx(1200 / 3937, rel=1e-12)
    assert choose_plane("EPSG:26916+6360", [])[0].unit_m == 1.0


@pytest.mark.parametrize(
    ("declared", "told"),
    [
        ("EPSG:4326", "is in degrees, no plane: name a projected one such as EPSG:32616"),
        ("EPSG:4979", "is in degrees"),
        ("EPSG:4978", "is geocentric"),
        ("EPSG:5703", "holds heights only"),
        ("EPSG:9518", "is in degrees"),
        ("EPSG:2048", "does not count east and north"),
        ("EPSG:99999", "no coordinate system that is known"),
        ("plane", "no coordinate system that is known"),
        ("EPSG:" + "9" * 5000, "no coordinate system that is known"),
        ("local", 'crs = "local": name an EPSG code such as EPSG:32616, or leave crs out'),
    ],
)
def test_what_is_no_plane_is_refused(declared: str, told: str) -> None:
    with pytest.raises(InputError) as caught:
        choose_plane(declared, [_WALK])
    assert told in str(caught.value)
    assert "[site] crs" in str(caught.value)
    assert len(str(caught.value)) < 300


@pytest.mark.parametrize(
    "sources",
    [
        [_WALK, _SURVEY],
        [_WALK, PlaneSource("", False, (0, 0, 1, 1))],
        [_SURVEY, _BARE],
        [_SURVEY, _SURVEY._replace(crs="EPSG:26917")],
    ],
)
def test_mixed_coordinates_need_a_code(sources: list[PlaneSource]) -> None:
    with pytest.raises(InputError, match=r'the job must name an EPSG code, such as crs = "EPSG:\d+"'):
        choose_plane(None, sources)


def test_files_a_continent_apart_are_no_site() -> None:
    with pytest.raises(InputError, match="reach over 53 degrees, no single site"):
        choose_plane(None, [_WALK, _WALK._replace(bounds=(-140, 46, -139, 47))])


def test_the_example_zone_lies_where_the_file_does() -> None:
    south = PlaneSource("EPSG:4326", True, (151, -34, 151.1, -33.9), "walk.gpx")
    with pytest.raises(InputError, match="EPSG:32756"):
        choose_plane("local", [south])


def test_a_plain_tuple_will_do() -> None:
    assert choose_plane(None, [("EPSG:4326", True, (1, 2, 1.1, 2.1))])[0].crs  # type: ignore[list-item]  # callers may pass a bare tuple
