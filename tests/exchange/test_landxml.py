"""LandXML: northing before easting, units, arcs, references, surfaces as ground; and what is refused."""

import math
import tomllib
from pathlib import Path

import numpy as np
import pytest

from fencewright.exchange import collect
from fencewright.exchange.ground_files import check_ground, ground_crs, read_ground
from fencewright.exchange.ground_request import GroundRequest
from fencewright.exchange.landxml import read_landxml
from fencewright.exchange.site_files import read_site_file
from fencewright.findings import InputError
from fencewright.site.ground_precision import GroundPrecision

PRACTICE = Path(__file__).parents[1] / "data" / "ground-practice" / "precision.toml"
WHOLE = GroundRequest(GroundPrecision(**tomllib.loads(PRACTICE.read_text())))
US_FOOT_M = 1200 / 3937  # exact, by its definition
HEAD = '<LandXML xmlns="http://www.landxml.org/schema/LandXML-1.2" version="1.2">'
METRES = '<Units><Metric linearUnit="meter" areaUnit="squareMeter"/></Units>'
FEET = '<Units><Imperial linearUnit="USSurveyFoot" areaUnit="squareFoot"/></Units>'
SURFACE = (
    '<Surface name="{}"><Definition surfType="TIN"><Pnts><P id="1">0 0 10</P><P id="2">0 100 12</P>'
    '<P id="3">100 0 13</P><P id="4">100 100 15</P></Pnts><Faces><F>1 2 3</F></Faces></Definition></Surface>'
)


def put(folder: Path, body: str, units: str = METRES, name: str = "survey.xml") -> Path:
    path = folder / name
    path.write_text(f"{HEAD}{units}{body}</LandXML>", encoding="utf-8")
    return path


def path_of(legs: str, name: str = "north") -> str:
    return f'<Alignments><Alignment name="{name}"><CoordGeom>{legs}</CoordGeom></Alignment></Alignments>'


def line(start: str, end: str) -> str:
    return f"<Line><Start>{start}</Start><End>{end}</End></Line>"


def test_northing_comes_first_in_the_file_and_east_in_what_is_read(tmp_path: Path) -> None:
    body = (
        '<CgPoints><CgPoint name="12" code="IP" desc="iron pin">500.5 20 101</CgPoint></CgPoints>'
        + path_of(line("0 1", "5 7") + line("5 7", "5 9 102.5"))
    )
    site = read_site_file(put(tmp_path, body))
    assert (site.crs, site.is_geographic, site.unit_m, site.elevation_unit_m) == ("", False, 1.0, 1.0)
    north, pin = site.features
    assert (north.name, north.geometry, north.layer, north.is_closed) == (
        "north",
        "line",
        "alignments",
        False,
    )
    assert north.points.tolist() == [[1, 0], [7, 5], [9, 5]]
    np.testing.assert_array_equal(north.elevation, [math.nan, math.nan, 102.5])
    assert (pin.name, pin.geometry, pin.layer) == ("12", "point", "points")
    assert (pin.points.tolist(), pin.elevation.tolist()) == ([[20, 500.5]], [101])
    assert pin.attributes == {"code": "IP", "desc": "iron pin"}
    assert site.findings == ()


@pytest.mark.parametrize(
    ("units", "unit_m"),
    [
        (METRES, 1.0),
        (FEET, US_FOOT_M),
        ('<Units><Imperial linearUnit="foot"/></Units>', 0.3048),
        ('<Units><Metric linearUnit="millimeter"/></Units>', 0.001),
        ("", math.nan),
    ],
)
def test_the_unit_is_that_of_the_file(tmp_path: Path, units: str, unit_m: float) -> None:
    site = read_landxml(put(tmp_path, path_of(line("0 0", "1 1")), units))
    np.testing.assert_array_equal(site.unit_m, unit_m)


@pytest.mark.parametrize(
    ("units", "code", "factor"),
    [
        (METRES, "26916", 1.0),
        (FEET, "26916", US_FOOT_M),  # a plane of metres
        (FEET, "3734", 1.0),  # US survey feet
        ('<Units><Imperial linearUnit="foot"/></Units>', "3734", 1.0),  # a loose word for the same numbers
        (METRES, "3734", 1 / US_FOOT_M),
    ],
)
def test_numbers_are_in_the_unit_of_their_system(
    tmp_path: Path, units: str, code: str, factor: float
) -> None:
    body = f'<CoordinateSystem epsgCode="{code}"/>' + path_of(line("5000 1000", "5000 3000"))
    path = put(tmp_path, body, units)
    site = read_landxml(path)
    assert (site.crs, ground_crs(path)) == (f"EPSG:{code}", f"EPSG:{code}")
    np.testing.assert_allclose(site.features[0].points[0], [1000 * factor, 5000 * factor], rtol=1e-14)


def test_a_file_in_degrees_has_latitude_first(tmp_path: Path) -> None:
    body = '<CoordinateSystem epsgCode="4326"/>' + path_of(line("46 -87", "46.1 -87"))
    site = read_landxml(put(tmp_path, body))
    assert site.is_geographic
    assert site.features[0].points.tolist() == [[-87, 46], [-87, 46.1]]


@pytest.mark.parametrize(("turns", "middle"), [("ccw", (5.0, 5.0)), ("cw", (-5.0, 5.0))])
def test_an_arc_turns_as_it_says(tmp_path: Path, turns: str, middle: tuple[float, float]) -> None:
    ends = "<Start>0 0</Start><Center>5 0</Center><End>10 0</End>"
    body = path_of(f'<Curve rot="{turns}" radius="5">{ends}</Curve>' + line("10.000001 0", "20 0"))
    points = read_landxml(put(tmp_path, body)).features[0].points
    assert points[0].tolist() == [0, 0]
    assert points[-1].tolist() == [0, 20]
    arc = points[:-1]
    np.testing.assert_allclose(np.hypot(arc[:, 0], arc[:, 1] - 5), 5, atol=1e-5)
    assert np.hypot(*(arc - middle).T).min() < 0.4
    assert np.hypot(*(arc - [-middle[0], middle[1]]).T).min() > 5


def test_chains_lists_and_places_may_name_points(tmp_path: Path) -> None:
    body = (
        '<CgPoints><CgPoint name="a">0 0</CgPoint><CgPoint name="b">0 5</CgPoint><CgPoint name="c">5 5</CgPoint>'
        '</CgPoints><CgPoints name="corners"><CgPoint pntRef="a"/><CgPoint name="z" pntRef="c"/></CgPoints>'
        '<PlanFeatures name="ditches"><PlanFeature name="ditch"><CoordGeom><Chain>a b z</Chain></CoordGeom></PlanFeature>'
        '<PlanFeature name="well"><Location pntRef="b"/></PlanFeature></PlanFeatures>'
        '<Parcels><Parcel name="lot"><CoordGeom><IrregularLine><Start pntRef="a"/><End pntRef="a"/>'
        "<PntList2D>0 0 0 5 5 5</PntList2D></IrregularLine></CoordGeom></Parcel></Parcels>"
    )
    site = read_landxml(put(tmp_path, body))
    told = [(one.name, one.geometry, one.layer, one.points.tolist(), one.is_closed) for one in site.features]
    assert told[:3] == [
        ("ditch", "line", "plan features", [[0, 0], [5, 0], [5, 5]], False),
        ("well", "point", "plan features", [[5, 0]], False),
        ("lot", "line", "parcels", [[0, 0], [5, 0], [5, 5]], True),
    ]
    assert [name for name, *_ in told[3:]] == ["a", "b", "c"]  # a group that only lists them adds none


def test_a_path_with_a_gap_is_two_lines(tmp_path: Path) -> None:
    site = read_landxml(put(tmp_path, path_of(line("0 0", "0 5") + line("1 5", "1 9"))))
    assert [(one.name, len(one.points)) for one in site.features] == [
        ("north part 1", 2),
        ("north part 2", 2),
    ]


def test_what_is_drawn_straight_or_left_out_is_told(tmp_path: Path) -> None:
    spiral = "<Spiral length='9' rot='cw'><Start>0 0</Start><PI>0 5</PI><End>1 9</End></Spiral>"
    curve = "<Curve rot='cw' radius='9'><Start>1 9</Start><End>5 9</End></Curve>"
    body = path_of(spiral + curve) + path_of("", "empty")
    site = read_landxml(put(tmp_path, body))
    assert site.features[0].points.tolist() == [[0, 0], [9, 1], [9, 5]]
    assert {one.code for one in site.findings} == {"file-part-left-out"}
    told = " ".join(one.message for one in site.findings)
    assert "1 x bend of a spiral, which is drawn straight, left out" in told
    assert "1 x bend of an arc without its centre, which is drawn straight, left out" in told
    assert "1 x alignment without geometry left out" in told


@pytest.mark.parametrize(
    ("body", "told"),
    [
        ("", "it has no point, line or polygon that can be used"),
        (f"<Surfaces>{SURFACE.format('g')}</Surfaces>", "it has no point, line or polygon that can be used"),
        (path_of(line("0 x", "1 1")), 'alignment "north", Start: "0 x" is no place'),
        (path_of(line("0", "1 1")), "a place is northing, easting and perhaps elevation, not 1 numbers"),
        (path_of(line("0 nan", "1 1")), 'alignment "north", point 1: a coordinate is no finite number'),
        (path_of(line("0 1e300", "1 1")), "a coordinate of 1e+300 is absurd"),
        (path_of("<Line><Start>0 0</Start></Line>"), 'alignment "north": a Line of it has no End'),
        (path_of('<Line><Start pntRef="9"/><End>1 1</End></Line>'), 'there is no point "9"'),
        (
            '<CgPoints><CgPoint name="1" pntRef="2"/><CgPoint name="2" pntRef="1"/></CgPoints>'
            + path_of("<Chain>1 2</Chain>"),
            'there is no point "1" with a place of its own',
        ),
        (
            path_of("<Curve rot='cw'><Start>0 0</Start><Center>1 0</Center><End>9 0</End></Curve>"),
            "unlike distances from its centre",
        ),
        (
            path_of("<IrregularLine><PntList3D>1 2 3 4</PntList3D></IrregularLine>"),
            "it has 4 numbers in a list",
        ),
        ("<CgPoints><CgPoint name='7'/></CgPoints>", 'point "7": a place is northing'),
        ('<CoordinateSystem epsgCode="999999"/>', 'its coordinate system "EPSG:999999" is unknown'),
        ('<Units><Metric linearUnit="furlong"/></Units>', 'its linear unit "furlong" is not known'),
    ],
)
def test_what_cannot_be_used_is_one_sentence(tmp_path: Path, body: str, told: str) -> None:
    with pytest.raises(InputError) as caught:
        read_landxml(put(tmp_path, body))
    assert told in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("<landXML/>", "it is XML of another kind (<landXML>), not LandXML"),
        ('<!DOCTYPE x [<!ENTITY a "aaaa">]><LandXML>&a;</LandXML>', "it holds a document type"),
        ('<!DOCTYPE x SYSTEM "file:///etc/passwd"><LandXML/>', "it holds a document type"),
        (f"{HEAD}<Surfaces>", "the file is cut short in line 1"),
        ("PK\x03\x04", "it is a ZIP archive, not LandXML"),
    ],
)
def test_hostile_and_foreign_files(tmp_path: Path, text: str, told: str) -> None:
    (tmp_path / "a.xml").write_text(text)
    for read in (read_site_file, check_ground):
        with pytest.raises(InputError) as caught:
            read(tmp_path / "a.xml")
        assert told in str(caught.value)


def test_too_much_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(collect, "MAX_POINTS", 30)
    with pytest.raises(InputError, match="above the 30 that are read"):
        read_landxml(put(tmp_path, path_of(line("0 0", "1 1") * 20)))
    with pytest.raises(InputError, match="above the 30 that are read"):
        check_ground(put(tmp_path, f"<Surfaces>{SURFACE.format('g') * 9}</Surfaces>"))


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16"])
def test_marks_of_an_encoding(tmp_path: Path, encoding: str) -> None:
    head = '<?xml version="1.0"?>' + HEAD + METRES + path_of(line("0 0", "1 1"), "Zaun süd") + "</LandXML>"
    (tmp_path / "a.xml").write_bytes(head.encode(encoding))
    assert read_landxml(tmp_path / "a.xml").features[0].name == "Zaun süd"


@pytest.mark.parametrize(("units", "unit_m"), [(METRES, 1.0), (FEET, US_FOOT_M)])
def test_a_surface_is_ground(tmp_path: Path, units: str, unit_m: float) -> None:
    path = put(tmp_path, f"<Surfaces>{SURFACE.format('as it lies')}</Surfaces>", units, "hill.landxml")
    check_ground(path)
    ground, findings = read_ground(path, WHOLE)
    assert findings == []
    assert ground.source == "hill.landxml, 4 spot heights"
    # z = 10 + 0.02 east + 0.03 north
    found = ground.elevation_m(np.array([50.0, 10.0]) * unit_m, np.array([20.0, 90.0]) * unit_m)
    np.testing.assert_allclose(found, np.array([11.6, 12.9]) * unit_m)


def test_the_job_may_say_the_units(tmp_path: Path) -> None:
    path = put(tmp_path, f"<Surfaces>{SURFACE.format('g')}</Surfaces>", "")
    with pytest.raises(InputError, match=r"does not say its unit: set \[site\] file_unit"):
        read_ground(path, WHOLE)
    with pytest.raises(InputError, match=r"does not say its unit: set \[site\] ground_unit"):
        read_ground(path, GroundRequest(WHOLE.precision, xy_unit="ft"))
    ground, _ = read_ground(path, GroundRequest(WHOLE.precision, xy_unit="ft", z_unit="m"))
    np.testing.assert_allclose(ground.elevation_m(np.array([15.24]), np.array([0.0])), [11.0])


def test_without_triangles_what_the_surface_was_made_from_is_ground(tmp_path: Path) -> None:
    source = (
        "<SourceData><DataPoints><PntList3D>0 0 1 0 90 1</PntList3D></DataPoints><Breaklines><Breakline>"
        "<PntList3D>90 0 1 90 90 1</PntList3D></Breakline></Breaklines></SourceData>"
    )
    path = put(tmp_path, f'<Surfaces><Surface name="g">{source}</Surface></Surfaces>')
    assert "4 spot heights" in read_ground(path, WHOLE)[0].source


def test_points_with_heights_are_ground_where_there_is_no_surface(tmp_path: Path) -> None:
    places = ("0 0 5", "0 90 5", "90 0 5", "40 40")
    points = "".join(f'<CgPoint name="{i}">{place}</CgPoint>' for i, place in enumerate(places))
    assert "3 spot heights" in read_ground(put(tmp_path, f"<CgPoints>{points}</CgPoints>"), WHOLE)[0].source


@pytest.mark.parametrize(
    ("body", "told"),
    [
        (path_of(line("0 0", "1 1")), "holds no surface and no points with heights: give other ground"),
        (
            f"<Surfaces>{SURFACE.format('now')}{SURFACE.format('then')}</Surfaces>",
            'holds 2 surfaces (surface "now", surface "then"): export the one of the ground as it lies alone',
        ),
        ("<Surfaces><Surface name='g'><P>1 2</P></Surface></Surfaces>", 'surface "g", point 1: a point of a'),
        (
            "<Surfaces><Surface><P>1 2 3</P><P>1 2 inf</P></Surface></Surfaces>",
            "surface 1, point 2: a coordinate is no",
        ),
    ],
)
def test_what_is_no_ground(tmp_path: Path, body: str, told: str) -> None:
    with pytest.raises(InputError) as caught:
        check_ground(put(tmp_path, body))
    assert told in str(caught.value)


def test_a_point_far_off_is_named_as_the_file_names_it(tmp_path: Path) -> None:
    places = ["0 0 5", "0 90 5", "90 0 5", "90 90 5", "9000000 0 5"]
    points = "".join(f'<CgPoint name="P{i}">{place}</CgPoint>' for i, place in enumerate(places))
    request = GroundRequest(WHOLE.precision, bounds_m=(0.0, 0.0, 90.0, 90.0))
    _, findings = read_ground(put(tmp_path, f"<CgPoints>{points}</CgPoints>"), request)
    assert [one.code for one in findings] == ["spot-far-off"]
    assert 'the farthest at point "P4"' in findings[0].message
