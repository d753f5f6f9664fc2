"""CSV: headers, units, groups, WKT, and what is refused."""

import math
from pathlib import Path

import numpy as np
import pytest

from fencewright.exchange.csv import read_csv
from fencewright.exchange.records import SiteFile
from fencewright.findings import InputError


def _read(tmp_path: Path, text: str) -> SiteFile:
    path = tmp_path / "survey.csv"
    path.write_text(text, encoding="utf-8")
    return read_csv(path)


def test_rows_alone_are_one_line_named_as_the_file(tmp_path: Path) -> None:
    site = _read(tmp_path, "station,x_ft,y_ft,z_ft\nA,0,0,10\nB,100,0,\n\nC,100,50,12\n")
    (line,) = site.features
    assert (line.name, line.geometry, line.is_closed) == ("survey", "line", False)
    np.testing.assert_array_equal(line.elevation, [10, math.nan, 12])
    assert (site.crs, site.unit_m, site.elevation_unit_m) == ("", 0.3048, 0.3048)


def test_the_column_line_groups_and_kind_makes_points(tmp_path: Path) -> None:
    site = _read(
        tmp_path,
        "line,kind,name,east,north,clearance\n"
        "lane,,1,0,0,\nback,boundary,2,5,5,3 ft\nlane,,3,10,0,\n,tree,oak,4,4,\nback,,4,6,6,\n",
    )
    assert [(f.name, f.geometry, f.points.tolist()) for f in site.features] == [
        ("oak", "point", [[4, 4]]),
        ("lane", "line", [[0, 0], [10, 0]]),
        ("back", "line", [[5, 5], [6, 6]]),
    ]
    assert site.features[2].attributes["clearance"] == "3 ft"
    assert site.features[0].attributes["kind"] == "tree"


def test_closed_says_so_or_the_first_point_is_repeated(tmp_path: Path) -> None:
    site = _read(tmp_path, "line,closed,x,y\na,yes,0,0\na,,1,0\na,,1,1\nb,,0,0\nb,,1,0\nb,,1,1\nb,,0,0\n")
    assert [(f.is_closed, len(f.points)) for f in site.features] == [(True, 3), (True, 3)]


@pytest.mark.parametrize(
    ("header", "unit_m"),
    [
        ("X,Y", math.nan),
        ("x_m,y_m", 1.0),
        ("Easting (ft),Northing (ft)", 0.3048),
        ("east [usft],north [usft]", 1200 / 3937),
        ("E mm,N mm", 0.001),
    ],
)
def test_units_stand_in_the_header(tmp_path: Path, header: str, unit_m: float) -> None:
    """The international foot is 0.3048 m and the US survey foot 1200/3937 m (from memory)."""
    np.testing.assert_equal(_read(tmp_path, f"{header}\n1,2\n3,4\n").unit_m, unit_m)


def test_degrees_with_heights_in_feet(tmp_path: Path) -> None:
    site = _read(tmp_path, "lat,lon,elev_ft\n46.5,-87.4,900\n46.6,-87.4,910\n")
    assert (site.is_geographic, site.crs, site.elevation_unit_m) == (True, "EPSG:4326", 0.3048)
    assert site.features[0].points[0].tolist() == [-87.4, 46.5]


def test_semicolons_and_decimal_commas(tmp_path: Path) -> None:
    site = _read(tmp_path, "x;y\n1,5;2,25\n3;4\n")
    assert site.features[0].points.tolist() == [[1.5, 2.25], [3, 4]]


@pytest.mark.parametrize("text", ["x\ty\n1,5\t2,25\n3\t4\n", 'x,y\r\n"1,5","2,25"\r\n3,4\r\n'])
def test_decimal_commas_that_can_be_nothing_else(tmp_path: Path, text: str) -> None:
    assert _read(tmp_path, text).features[0].points.tolist() == [[1.5, 2.25], [3, 4]]


def test_shapes_as_wkt(tmp_path: Path) -> None:
    site = _read(
        tmp_path,
        'name,kind,wkt\nlane,fence,"LINESTRING (0 0, 10 0)"\npond,pond,"POLYGON ((0 0, 1 0, 1 1, 0 0))"\nx,,\n',
    )
    assert [(f.name, f.geometry) for f in site.features] == [("lane", "line"), ("pond", "polygon")]
    assert site.features[1].attributes["kind"] == "pond"
    assert "1 x row without geometry" in site.findings[0].message


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a,b\n1,2\n", "no headers for coordinates"),
        ("1,2\n3,4\n", "no headers for coordinates"),
        ("x,y\n", "headers but no rows"),
        ("x,y\n1,2\n3\n", "row 3: it has 1 of 2 cells: is the file cut short?"),
        ("x,y\n1,2\n3,\n", "row 3: its y is empty: write it"),
        ("x,y\n1,5,2,5\n3,4\n", "row 2: it has 4 cells under 2 headers: write decimal points"),
        ("wkt\nPOINT (1 2),3\n", "row 2: it has 2 cells under 1 header: write decimal points"),
        ('x,y\n"1,234","2,345"\n"3,456","4,567"\n', 'row 2: "1,234" has a comma that may stand'),
        ("x;y\n1.234,5;2\n3;4\n", 'row 2: "1.234,5" has a comma that may stand'),
        ("x,y\n1,2\n3,four\n", 'row 3: "four" is no number'),
        ("x,y\n1,2\nnan,1\n", "no finite number"),
        ("x,y\n1,2\n1e300,1\n", "is absurd"),
        ("x_ft,y_m\n1,2\n", "different units"),
        ("x_cubit,y\n1,2\n", 'unit of its column "x_cubit" is unknown'),
        ("x,east,y\n1,2,3\n", 'two columns for "x"'),
        ("line,line,x,y\na,b,1,2\n", 'two columns "line"'),
        ("lon,lat\n200,1\n1,2\n", "longitude 200"),
        ('x,y\n1,2\n"3,4\n', "cut short inside quotes"),
        ("name,wkt\na,CIRCLE(0 0)\n", 'row 2: "CIRCLE(0 0)" is no WKT shape'),
        ('name,wkt\na,"LINESTRING (0 0, nan 1)"\n', "no finite number"),
        ('name,wkt\na,"LINESTRING (0 0, 1e999 1)"\n', "no finite number"),
        ("x,y\n1,1\n1,1\n", "line of no length"),
    ],
)
def test_bad_tables_are_told(tmp_path: Path, text: str, told: str) -> None:
    with pytest.raises(InputError) as caught:
        _read(tmp_path, text)
    assert told in str(caught.value)
