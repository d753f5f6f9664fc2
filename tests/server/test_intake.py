"""Uploads: bounded, staying in their folder, archives that do not swell."""

import contextlib
import io
import json
import zipfile
from pathlib import Path
from typing import Any

import httpx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fencewright.desk.warm_reading import is_plain_path
from fencewright.findings import InputError
from fencewright.server import intake
from fencewright.server.errors import Refused
from fencewright.server.importing import job_from_upload, look_again, look_at
from fencewright.server.intake import take_files, unpack

EXAMPLES = Path(__file__).parents[2] / "examples"
JOB = b'[job]\nname = "A"\n[[line]]\nname = "a"\nfile = "a.csv"\n[site]\nfile_unit = "m"\n'
LINE = b"line,x,y\na,0,0\na,40,0\na,40,30\n"


def packed(files: dict[str, bytes]) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            archive.writestr(name, content)
    return made.getvalue()


@pytest.mark.parametrize(
    "name",
    ["../x.csv", "/etc/x.csv", "a/../../x.csv", "..\\x.csv", "C:\\x.csv", "a//x.csv", ".x.csv", "a/./x.csv", "x\0.csv",
     "x\n.csv", "", "a" * 301 + ".csv", "x .csv/ ", "con:.csv"],
)  # fmt: skip
def test_names_that_leave_their_folder_are_refused(name: str) -> None:
    assert not is_plain_path(name)
    with pytest.raises(Refused, match="leaves its folder"):
        take_files({name: b"x"})


@pytest.mark.parametrize("name", ["a.csv", "survey/spring/a b.csv", "été.gpx", "a.b.c.tif"])
def test_names_that_stay_are_taken(name: str) -> None:
    assert is_plain_path(name)
    assert take_files({name: b"x"}) == {name: b"x"}


def test_an_archive_is_unpacked_without_its_outermost_folder() -> None:
    files = {"job.toml": JOB, "sub/a.csv": LINE}
    wrapped = {f"home/{name}": content for name, content in files.items()} | {
        "__MACOSX/x": b"",
        "home/.DS_Store": b"",
    }
    assert unpack(packed(files), "a.zip") == files
    assert unpack(packed(wrapped), "a.zip") == files


def test_an_archive_whose_names_climb_is_refused() -> None:
    for name in ("../a.csv", "/a.csv", "x/../../a.csv"):
        with pytest.raises(Refused, match="leaves its folder"):
            unpack(packed({name: b"x"}), "a.zip")


def test_an_archive_that_expands_is_refused() -> None:
    with pytest.raises(Refused, match="expands beyond reason"):
        unpack(packed({"a.csv": b"0" * 30_000_000}), "a.zip")


def test_an_archive_that_says_too_little_of_its_size_is_refused() -> None:
    content = bytearray(packed({"a.csv": bytes(range(256)) * 40}))
    for at in range(len(content) - 4):  # the size stands in the local and in the central record
        if content[at : at + 4] == (256 * 40).to_bytes(4, "little"):
            content[at : at + 4] = (100).to_bytes(4, "little")
    with pytest.raises(Refused):
        unpack(bytes(content), "a.zip")


def test_an_archive_with_a_link_or_many_files_or_cut_short_is_refused() -> None:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as archive:
        info = zipfile.ZipInfo("a.csv")
        info.external_attr = 0o120777 << 16
        archive.writestr(info, "/etc/passwd")
    with pytest.raises(Refused, match="it holds a link"):
        unpack(made.getvalue(), "a.zip")
    with pytest.raises(Refused, match="it holds 201 files"):
        unpack(packed({f"{number}.csv": b"" for number in range(201)}), "a.zip")
    whole = packed({"a.csv": LINE * 500})
    for end in (10, len(whole) // 2, len(whole) - 5):
        with pytest.raises(Refused, match="damaged"):
            unpack(whole[:end], "a.zip")


@given(st.lists(st.tuples(st.integers(0, 10_000), st.integers(0, 255)), max_size=4), st.integers(0, 400))
def test_an_archive_damaged_anywhere_is_refused_or_read(marks: list[tuple[int, int]], cut: int) -> None:
    content = bytearray(packed({"job.toml": JOB, "été.csv": LINE}))
    for at, value in marks:
        content[at % len(content)] = value
    with contextlib.suppress(Refused):  # anything else is a fault of the program
        files = unpack(bytes(content[: len(content) - cut]), "a.zip")
        assert all(is_plain_path(name) for name in files)


def test_an_archive_packed_in_an_unusual_way_is_refused() -> None:
    for way in (zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA):
        made = io.BytesIO()
        with zipfile.ZipFile(made, "w", way) as archive:
            archive.writestr("a.csv", LINE)
        with pytest.raises(Refused, match="packed in an unusual way"):
            unpack(made.getvalue(), "a.zip")


def test_several_archives_may_not_expand_to_more_than_one_may(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(intake, "LARGEST_SET_BYTES", 1_500)
    given = {f"{number}.zip": packed({f"{number}.csv": b"x" * 1_000}) for number in range(3)}
    with pytest.raises(Refused, match="unpacked it is too large") as refused:
        take_files(given)
    assert refused.value.file == "1.zip"  # the second is not unpacked


def test_an_archive_within_an_archive_is_not_unpacked() -> None:
    inner = packed({"a.csv": LINE})
    assert take_files({"a.zip": packed({"b.zip": inner, "c.csv": LINE})}) == {"c.csv": LINE}


def test_two_files_of_one_name_or_a_file_that_is_a_folder_are_refused() -> None:
    with pytest.raises(Refused, match="two files have one name"):
        take_files({"a.csv": b"x", "a.zip": packed({"a.csv": b"y"})})
    with pytest.raises(Refused, match="two files have one name"):
        take_files({"a.zip": packed({"a.csv": b"x"}), "b.zip": packed({"A.csv": b"y"})})
    with pytest.raises(Refused, match="of a file and of a folder") as refused:
        take_files({"a.zip": packed({"Field.csv": b"x", "field.csv/b.csv": b"y"})})
    assert refused.value.file == "Field.csv"


@pytest.mark.parametrize("name", ["terrain.tif", "corners.csv", "job.toml", "prices.toml"])
@pytest.mark.parametrize("share", [0.0, 0.3, 0.95])
def test_a_file_cut_short_is_one_sentence_or_what_it_still_says(
    client: httpx.Client, name: str, share: float
) -> None:
    folder = EXAMPLES / "rolling-pasture"
    names = ("job.toml", "terrain.tif", "corners.csv", "prices.toml")
    given = {one: (folder / one).read_bytes() for one in names}
    given[name] = given[name][: int(len(given[name]) * share)]
    before = len(client.get("/api/jobs").json())
    answer = client.post("/api/jobs/import", files=[("files", item) for item in given.items()])
    if answer.status_code != 201:
        error = answer.json()["error"]
        assert (answer.status_code, error["code"]) == (422, "input"), answer.text
        assert "\n" not in error["sentence"]
        assert "/tmp" not in answer.text
        assert len(client.get("/api/jobs").json()) == before
        return
    design = client.get(f"/api/jobs/{answer.json()['id']}/design")
    assert design.status_code == 200 or (design.status_code, design.json()["error"]["code"]) == (422, "input")


def test_a_form_cut_short_or_of_too_many_files_has_the_one_shape(client: httpx.Client) -> None:
    head = {"content-type": "multipart/form-data; boundary=x"}
    body = b'--x\r\ncontent-disposition: form-data; name="fi'
    many = b"".join(
        b'--x\r\ncontent-disposition: form-data; name="files"; filename="%d.csv"\r\n\r\nx\r\n' % number
        for number in range(1_100)
    )
    for sent in (body, b"", many + b"--x--\r\n"):
        answer = client.post("/api/jobs/import", content=sent, headers=head)
        assert answer.status_code in (400, 413, 422), answer.text
        assert answer.json()["error"]["code"] in ("request", "too-large", "input")
        assert "\n" not in answer.json()["error"]["sentence"]


def test_kinds_that_no_job_holds_are_refused() -> None:
    with pytest.raises(Refused, match="a job holds no file of this kind"):
        take_files({"a.exe": b"x"})


def test_names_that_differ_by_case_alone_are_refused() -> None:
    with pytest.raises(Refused, match="two files have one name"):
        take_files({"a.csv": b"x", "A.csv": b"y"})


def test_a_job_comes_with_the_files_that_it_names() -> None:
    name, text, files = job_from_upload({"job.toml": JOB, "a.csv": LINE, "other.csv": b"x"})
    assert (name, text, files) == ("A", JOB.decode(), {"a.csv": LINE})


def test_a_job_whose_file_is_missing_says_which() -> None:
    with pytest.raises(Exception, match="give it together with the job file") as refused:
        job_from_upload({"job.toml": JOB})
    assert getattr(refused.value, "file", "") == "a.csv"


def test_a_job_is_made_of_site_files_alone() -> None:
    folder = EXAMPLES / "rolling-pasture"
    given = {name: (folder / name).read_bytes() for name in ("corners.csv", "terrain.tif")}
    name, text, files = job_from_upload(given)
    assert name == "corners"
    assert text.count("[[line]]") == 4
    assert 'ground = "terrain.tif"' in text
    assert set(files) == set(given)


SURVEY = (
    b'<LandXML version="1.2"><Units><Metric linearUnit="meter"/></Units><Alignments><Alignment name="north"><CoordGeom>'
    b"<Line><Start>10 10</Start><End>10 90</End></Line></CoordGeom></Alignment></Alignments>%s</LandXML>"
)
HILL = (
    b'<Surfaces><Surface name="g"><Definition surfType="TIN"><Pnts><P>0 0 5</P><P>0 100 6</P><P>100 0 7</P>'
    b"<P>100 100 8</P></Pnts></Definition></Surface></Surfaces>"
)


def test_a_landxml_survey_is_lines_and_where_it_has_a_surface_ground() -> None:
    name, text, files = job_from_upload({"farm.xml": SURVEY % HILL})
    assert (name, list(files)) == ("farm", ["farm.xml"])
    assert text.count('file = "farm.xml"') == 1
    assert 'ground = "farm.xml"' in text
    assert 'name = "north"' in text
    _, text, _ = job_from_upload({"farm.xml": SURVEY % b""})
    assert "ground" not in text
    (given,) = look_at({"hill.landxml": b"<LandXML>%s</LandXML>" % HILL})
    assert (given.layers, given.is_ground, given.sentence) == ([], True, "")


def test_xml_that_describes_other_files_of_an_archive_is_passed_over() -> None:
    files = {
        "a.csv": LINE,
        "a.shp.xml": b"<metadata/>",
        "farm.xml": SURVEY % b"",
        "b.xml": (SURVEY % b"").decode().encode("utf-16"),
    }
    assert sorted(take_files({"all.zip": packed(files)})) == ["a.csv", "b.xml", "farm.xml"]
    with pytest.raises(InputError, match=r"it is XML of another kind \(<metadata>\), not LandXML"):
        job_from_upload(take_files({"a.shp.xml": b"<metadata/>"}))


SPOTS = b"name,x_m,y_m,z_m\n" + b"".join(b"s%d,%d,%d,5\n" % (i, i * 7 % 40, i * 11 % 30) for i in range(20))


def test_spot_heights_beside_a_line_are_ground_and_no_second_line() -> None:
    name, text, _ = job_from_upload({"spots.csv": SPOTS, "a.csv": LINE})
    assert (name, text.count("[[line]]")) == ("a", 1)
    assert 'ground = "spots.csv"' in text
    _, text, _ = job_from_upload({"walk.csv": SPOTS})  # alone it may be a line walked with heights
    assert text.count("[[line]]") == 1
    assert "ground" not in text
    _, text, _ = job_from_upload({"a.csv": LINE, "b.csv": b"line,x,y,z\nb,50,0,1\nb,90,0,1\n"})
    assert text.count("[[line]]") == 2


def test_what_files_hold_is_told() -> None:
    seen = look_at({"a.csv": LINE})
    assert [(one.path, one.is_ground, one.layers[0].lines) for one in seen] == [("a.csv", False, ["a"])]


@pytest.mark.parametrize(
    ("name", "content", "sentence"),
    [
        ("walk.gpx", b"<gpx", "cut short in line 1"),
        ("walk.gpx", b"", "is empty"),
        ("walk.gpx", b"<html></html>", "not GPX"),
        ("spots.csv", b"nan,inf\n", "its first row has no headers for coordinates"),
        ("line.csv", b"x_ft,y_ft\n0,0\n100 m,0\n", '"100 m" is no number: write one like 12.5'),
        ("line.csv", b"x_furlong,y_furlong\n0,0\n1,1\n", 'the unit of its column "x_furlong" is unknown'),
        ("line.csv", b"lon,lat\n2200000,600000\n2200100,600000\n", "longitude 2.2e+06 lies outside"),
        ("spots.csv", b"x_m,y_m,z_rod\n1,1,3\n", 'column "z_rod" has a unit that is not known'),
        (
            "job.toml",
            '[job]\nname = "a"\n'.encode("utf-16"),
            "line 1 is not UTF-8 text: save the file as UTF-8",
        ),
        ("spots.csv", b"x_m,y_m,z_m\nnan,2,3\n", 'x "nan" is no number of this world'),
        ("spots.csv", b"x_m,y_m,z_m\n1,inf,3\n", 'y "inf" is no number of this world'),
        ("notes.csv", b"from,to,slope_length_ft\nA,B,far\n", "no length"),
    ],
)
def test_what_cannot_be_ground_is_no_ground(name: str, content: bytes, sentence: str) -> None:
    for taken in (look_at, job_from_upload) if not name.endswith(".toml") else (job_from_upload,):
        with pytest.raises(InputError) as refused:
            taken({name: content})
        assert sentence in refused.value.what
        assert refused.value.file == name
    beside = look_again({"a.csv": LINE, name: content})
    assert [(one.is_ground, bool(one.sentence)) for one in beside] == [(False, False), (False, True)]


def test_a_note_beside_the_files_of_a_job_is_no_ground_either() -> None:
    read_me, heights = look_at({"read me.txt": b"walked in May", "spots.txt": b"x_m,y_m,z\n0,0,1\n9,0,2\n"})
    assert (read_me.is_ground, heights.is_ground) == (False, True)
    assert read_me.sentence == "it is kept with the job, which makes no use of it"


def test_an_upload_too_large_is_refused_over_http(
    client: httpx.Client, job: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fencewright.server.routes.jobs.LARGEST_UPLOAD_BYTES", 1000)
    answer = client.post("/api/jobs/import", files=[("files", ("a.csv", b"x" * 2000))])
    assert (answer.status_code, answer.json()["error"]["code"]) == (413, "too-large")
    assert intake.LARGEST_UPLOAD_BYTES > 1000


def test_an_upload_is_refused_by_the_limit_that_is_documented(
    client: httpx.Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fencewright.server.guard.LARGEST_UPLOAD_BYTES", 2_000_000)
    answer = client.post("/api/jobs/import", files=[("files", ("a.csv", b"x" * 2_500_000))])
    assert answer.json()["error"]["sentence"] == "give at most 2 MB at once"


def test_a_polygon_given_to_a_job_keeps_its_last_side_when_a_corner_moves(
    client: httpx.Client, job: dict[str, Any], edit: Any
) -> None:
    ring = [[0, 0], [60, 0], [60, 40], [0, 40], [0, 0]]
    feature = {"type": "Feature", "properties": {"name": "field"},
               "geometry": {"type": "Polygon", "coordinates": [ring]}}  # fmt: skip
    crs = {"type": "name", "properties": {"name": "urn:ogc:def:crs:EPSG::25832"}}
    given = json.dumps({"type": "FeatureCollection", "crs": crs, "features": [feature]}).encode()
    client.post(
        f"/api/jobs/{job['id']}/files", params={"base": 1}, files=[("files", ("field.geojson", given))]
    )
    record = {"kind": "many", "edits": [
        {"kind": "set", "path": ["site", "crs"], "value": "EPSG:25832"},
        {"kind": "import_file", "use": "line", "file": "field.geojson", "name": "field"},
    ]}  # fmt: skip
    taken = edit(job, 2, record)
    assert taken.status_code == 200, taken.text
    moved = edit(job, 3, {"kind": "move_corner", "line": "field", "corner": 2, "to": [61.0, 41.0]}).json()
    line = moved["state"]["asked"]["line"][1]
    assert (len(line["points"]), line["closed"]) == (4, True)


def test_a_file_given_to_a_job_is_a_revision_and_can_be_drawn_from(
    client: httpx.Client, job: dict[str, Any], edit: Any
) -> None:
    at = f"/api/jobs/{job['id']}"
    given = client.post(f"{at}/files", params={"base": 1}, files=[("files", ("walk.csv", LINE))])
    assert given.status_code == 200, given.text
    assert given.json()["given"][0]["layers"][0]["lines"] == ["a"]
    assert given.json()["state"]["head"] == 2
    assert client.get(f"{at}/files/walk.csv").content == LINE
    record = {"kind": "many", "edits": [
        {"kind": "set", "path": ["site", "file_unit"], "value": "m"},
        {"kind": "import_file", "use": "line", "file": "walk.csv", "name": "walk"},
    ]}  # fmt: skip
    assert edit(job, 2, record).json()["state"]["asked"]["line"][1]["file"] == "walk.csv"
    moved = edit(job, 3, {"kind": "move_corner", "line": "walk", "corner": 0, "to": [1.0, 2.0]}).json()
    assert moved["state"]["asked"]["line"][1]["points"][0] == ["3.2808 ft", "6.5617 ft"]
    undone = client.post(f"{at}/undo", json={"base": 4}).json()
    assert undone["asked"]["line"][1]["file"] == "walk.csv"
