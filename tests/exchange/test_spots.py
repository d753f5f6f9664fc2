"""Ground from sheets of spot heights."""

import tomllib
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from fencewright.exchange.ground_request import GroundRequest
from fencewright.exchange.spots import parse_spots, read_spots, spots_in_degrees
from fencewright.findings import CAUTION, InputError
from fencewright.site.ground_precision import GroundPrecision
from fencewright.site.profile_ground import ProfileGround
from fencewright.site.spot_ground import SpotGround

FloatArray = NDArray[np.float64]
PRACTICE = Path(__file__).parents[1] / "data" / "ground-practice" / "precision.toml"
PRECISION = GroundPrecision(**tomllib.loads(PRACTICE.read_text()))
WHOLE = GroundRequest(PRECISION)


def sheet(path: Path, text: str) -> Path:
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("heading", "factors"),
    [
        ("x_m,y_m,z_m", (1.0, 1.0, 1.0)),
        ("x_ft,y_ft,z_ft", (0.3048, 0.3048, 0.3048)),
        ("Easting [m],Northing [m],Elevation (us-ft)", (1.0, 1.0, 1200 / 3937)),
        ("e_usft,n_usft,z_in", (1200 / 3937, 1200 / 3937, 0.0254)),
        ("lon,lat,z_m", (1.0, 1.0, 1.0)),
    ],
)
def test_units_of_the_heading(heading: str, factors: tuple[float, float, float]) -> None:
    spots, _ = parse_spots(f"{heading}\n10,20,30\n", "s.csv")
    np.testing.assert_allclose(spots, [[10 * factors[0], 20 * factors[1], 30 * factors[2]]])


def test_units_in_cells_other_separators_and_columns() -> None:
    text = "# walked in May\npoint;z;x;y\nA;1' 6\";10 ft;20 ft\n\n"
    spots, columns = parse_spots(text, "s.csv")
    np.testing.assert_allclose(spots, [[3.048, 6.096, 0.4572]])
    assert columns == ["x", "y", "z"]


@pytest.mark.parametrize(
    "text",
    [
        "x_m;y_m;z_m\r\n512340,5;20,25;1,125\r\n",
        "x_m\ty_m\tz_m\n512340,5\t20,25\t1,125\n",
        'x_m,y_m,z_m\n"512340,5","20,25","1,125"\n',
        "point;x_m;y_m;z_m\n1.1;512340,5;20,25;1,125\n",
        "x;y;z\n512340,5 m;20,25 m;1,125 m\n",
    ],
)
def test_decimal_commas_are_read_where_they_can_be_nothing_else(text: str) -> None:
    np.testing.assert_allclose(parse_spots(text, "s.csv")[0], [[512340.5, 20.25, 1.125]])


def test_heights_without_unit_take_the_job_s() -> None:
    spots, _ = parse_spots("x_m,y_m,z\n1,2,10\n", "s.csv", 0.3048)
    assert spots[0, 2] == pytest.approx(3.048)


def test_triangles_between_spots(tmp_path: Path) -> None:
    path = sheet(tmp_path / "s.csv", "x_m,y_m,z_m\n0,0,1\n10,0,2\n10,10,3\n0,10,2\n5,5,2\n")
    ground, findings = read_spots(path, WHOLE)
    assert isinstance(ground, SpotGround)
    np.testing.assert_allclose(
        ground.elevation_m(np.array([2.5, 20.0]), np.array([5.0, 5.0])), [1.75, np.nan]
    )
    assert findings == []
    assert ground.is_coarse
    assert ground.source == "s.csv, 5 spot heights"


def test_spots_in_a_row_are_ground_along_it(tmp_path: Path) -> None:
    path = sheet(tmp_path / "s.csv", "x_m,y_m,z_m\n6,8.3,3\n0,0,1\n3,4,2\n9,12,4\n")
    ground, _ = read_spots(path, WHOLE)
    assert isinstance(ground, ProfileGround)
    np.testing.assert_allclose(ground.elevation_m(np.array([1.5]), np.array([2.0])), [1.5])


def test_places_are_taken_to_the_job_s_plane(tmp_path: Path) -> None:
    path = sheet(tmp_path / "s.csv", "lon,lat,z_m\n1,1,1\n2,1,2\n2,2,3\n1,2,2\n")

    def from_file(degrees: FloatArray) -> FloatArray:
        return (degrees - 1.0) * 100.0

    ground, _ = read_spots(path, GroundRequest(PRECISION, from_file=from_file))
    np.testing.assert_allclose(ground.elevation_m(np.array([50.0]), np.array([0.0])), [1.5])
    assert spots_in_degrees(path)
    lost = GroundRequest(PRECISION, from_file=lambda degrees: degrees * np.inf)
    with pytest.raises(InputError, match="cannot hold"):
        read_spots(path, lost)


def test_two_heights_on_one_place_are_a_caution(tmp_path: Path) -> None:
    path = sheet(tmp_path / "s.csv", "x_m,y_m,z_m\n0,0,1\n10,0,2\n10,10,3\n0,10,2\n0,0,1.8\n10,0,2.01\n")
    ground, (finding,) = read_spots(path, WHOLE)
    assert (finding.level, finding.code) == (CAUTION, "spots-disagree")
    assert "1 place two heights, up to 0.80 m apart" in finding.message
    np.testing.assert_allclose(ground.elevation_m(np.zeros(1), np.zeros(1)), [1.4])


def test_ellipsoidal_heights_are_a_caution(tmp_path: Path) -> None:
    path = sheet(tmp_path / "s.csv", "x_m,y_m,ellipsoidal_height_m\n0,0,1\n10,0,2\n10,10,3\n")
    assert [finding.code for finding in read_spots(path, WHOLE)[1]] == ["ellipsoidal-heights"]


def test_very_many_spots_are_cut_to_the_site(tmp_path: Path) -> None:
    rng = np.random.default_rng(1)
    xy = rng.uniform(0, 10_000, (60_000, 2))
    rows = "\n".join(f"{x:.2f},{y:.2f},{0.01 * x:.3f}" for x, y in xy)
    path = sheet(tmp_path / "s.csv", "x_m,y_m,z_m\n" + rows)
    ground, _ = read_spots(path, GroundRequest(PRECISION, bounds_m=(4000.0, 4000.0, 6000.0, 6000.0)))
    assert "spot heights" in ground.source
    assert "60,000" not in ground.source
    np.testing.assert_allclose(ground.elevation_m(np.array([5000.0]), np.array([5000.0])), [50.0], atol=0.01)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("x_m,y_m\n1,2\n", 'no column "z"'),
        ("x_m,y_m,z_m\n", "no spot heights"),
        ("x_yd,y_yd,z_yd\n1,2,3\n", 'column "x_yd" has a unit that is not known: write m, ft or us-ft'),
        ("x_m,y_m,z_m\n1,2\n", r"line 2: it ends before z: is the file cut short\?"),
        ("x_m,y_m,z_m\n1,2,3\n\n4,,6\n", "line 4: y is empty: write it, or take the line out"),
        ("x_m,y_m,z_m\n10,5,20,5,1,5\n", "line 2: has 6 cells under 3 headings: write decimal points"),
        ("x_m\ty_m\tz_m\n1,234\t2,345\t1,100\n", 'line 2: x "1,234" has a comma that may stand'),
        ("x_m;y_m;z_m\n1.234,5;2;3\n", 'line 2: x "1.234,5" has a comma that may stand'),
        ("x_m,y_m,z_m\n1,2,high\n", "line 2: z .*is no length"),
        ("x_m,y_m,z_m\n1,2,nan\n", "no number of this world"),
        ("x_m,y_m,z_m\n1,2,inf\n", "no number of this world"),
        ("x,y,z\n1,2,3\n", "heading with its unit"),
        ("lon,y_m,z_m\n1,2,3\n", "mixes degrees"),
        ("lon,lat,z_m\n1,200,3\n", "no degrees"),
        ("x_m,y_m,z_m\n1,2,3\n", "at least two points|at least three"),
    ],
)
def test_bad_sheets_give_one_sentence(tmp_path: Path, text: str, words: str) -> None:
    path = sheet(tmp_path / "s.csv", text)
    with pytest.raises(InputError, match=words) as caught:
        read_spots(path, WHOLE)
    assert str(caught.value).startswith("s.csv")


GRID = "name,x_m,y_m,z_m\n" + "".join(f"S{k},{k % 5 * 20},{k // 5 * 20},{k}\n" for k in range(25))
SITE = GroundRequest(PRECISION, bounds_m=(0.0, 0.0, 80.0, 80.0))


def test_a_spot_far_off_the_site_is_named(tmp_path: Path) -> None:
    path = sheet(tmp_path / "s.csv", GRID + "S25,4470120,-20,3\n")
    (found,) = [one for one in read_spots(path, SITE)[1] if one.code == "spot-far-off"]
    assert found.level == CAUTION
    assert (
        's.csv places 1 of 26 spot heights far off the site, the farthest at line 27 ("S25"), 4,470 km'
        in found.message
    )


@pytest.mark.parametrize("more", ["", "S25,2100,0,3\n", "".join(f"F{k},{k},90000,3\n" for k in range(30))])
def test_spots_around_the_site_or_of_a_whole_district_are_no_slip(tmp_path: Path, more: str) -> None:
    found = read_spots(sheet(tmp_path / "s.csv", GRID + more), SITE)[1]
    assert "spot-far-off" not in [one.code for one in found]


def test_a_plain_heading_takes_the_units_of_the_job(tmp_path: Path) -> None:
    text = "name,x,y,z\nA,0,0,1\nB,100,0,2\nC,0,100,3\n"
    request = GroundRequest(PRECISION, z_unit="m", xy_unit="ft")
    ground, _ = read_spots(sheet(tmp_path / "s.csv", text), request)
    height = ground.elevation_m(np.array([15.24, 15.24]), np.array([0.0, 15.24]))
    np.testing.assert_allclose(height, [1.5, 2.5])


@pytest.mark.parametrize(
    ("request_", "column", "key"),
    [(WHOLE, "x", "file_unit"), (GroundRequest(PRECISION, xy_unit="ft"), "z", "ground_unit")],
)
def test_a_plain_heading_without_them_names_the_key(
    tmp_path: Path, request_: GroundRequest, column: str, key: str
) -> None:
    path = sheet(tmp_path / "s.csv", "name,x,y,z\nA,7,8,9\n")
    with pytest.raises(
        InputError, match=rf'{column} "\d" is no length.*or state \[site\] {key} = "ft" or "m"'
    ):
        read_spots(path, request_)
