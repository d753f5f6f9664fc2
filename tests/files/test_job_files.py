"""Job files from which no design is possible: one sentence, exit code 2, no traceback, nothing written or touched."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from fencewright.cli.main import run

Refused = Callable[..., str]
RING = '[["0 ft", "0 ft"], ["200 ft", "0 ft"], ["200 ft", "120 ft"], ["0 ft", "120 ft"]]'
LIMIT = 'spacing_limit = "12 ft"'
GATE = '[[gate]]\nline = "paddock"\nat = "100 ft"\nopening = "12 ft"\n'


@pytest.fixture
def refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Refused:
    """Design a job file over earlier results; give the one sentence with which it is refused."""

    def call(content: str | bytes, file: str = "job.toml: ") -> str:
        path, out = tmp_path / "job.toml", tmp_path / "out"
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        out.mkdir()
        (out / "design.json").write_text("earlier")
        monkeypatch.setattr("sys.argv", ["fencewright", "design", str(path), "--out", str(out)])
        with pytest.raises(SystemExit) as ended:
            run()
        said = capsys.readouterr()
        assert ended.value.code == 2, said
        assert said.out == ""
        assert said.err.count("\n") == 1
        assert "Traceback" not in said.err
        assert said.err.startswith(f"fencewright: {file}")
        assert [(one.name, one.read_text()) for one in out.iterdir()] == [("design.json", "earlier")]
        return said.err

    return call


@pytest.fixture
def changed(small_job_text: str) -> Callable[[str, str], str]:
    """Replace a part of the small job."""

    def change(old: str, new: str) -> str:
        assert old in small_job_text
        return small_job_text.replace(old, new)

    return change


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "is empty"),
        (b"\n\n   \n", "is empty"),
        (b"[job]\nname = 'caf\xe9'\n", "line 2 is not UTF-8 text: save the file as UTF-8"),
        ("[job]\nname = 'x'\n".encode("utf-16"), "is not UTF-8 text"),
        (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "is not UTF-8 text"),
        (b"PK\x03\x04 a zip", "not valid TOML"),
        (b"{'job': 1}", "not valid TOML"),
        (b"[job]\nname = 'x'\n", "the job has no [[line]]"),
        (b"[site]\nsoil = 'sand'\n", "job: this key is missing"),
        (b"job = 3\n", "job: 3 is no table: write its keys below its heading"),
        (b"[job]\nname = ['a']\n", "job, name: ['a'] is no text: write it in quotes"),
        (b"[job]\nname = ''\n", "job, name: this is empty: write a text"),
    ],
)
def test_what_is_no_job_file(refused: Refused, content: bytes, sentence: str) -> None:
    assert sentence in refused(content)


def test_a_file_too_large_to_be_a_job(refused: Refused) -> None:
    assert "20,000,100 bytes are too many" in refused(b"#" * 20_000_100)


@pytest.mark.parametrize("last", ['name = "Small', '["200 ft", "0', 'opening = "12', 'points = [["95 ft"'])
def test_a_file_cut_short(refused: Refused, small_job_text: str, last: str) -> None:
    cut = small_job_text[: small_job_text.index(last) + len(last)]
    assert refused(cut)


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        (LIMIT, 'spacing_limit = "12"', "fence, spacing_limit: '12' is no length with a unit"),
        (LIMIT, "spacing_limit = 12", "12 has no unit"),
        (LIMIT, 'spacing_limit = "12 kg"', "no length with a unit"),
        (LIMIT, 'spacing_limit = "12 furlongs"', "no length with a unit"),
        (LIMIT, "spacing_limit = nan", "nan has no unit"),
        (LIMIT, 'spacing_limit = "nan ft"', "no length with a unit"),
        (LIMIT, 'spacing_limit = "1e999 ft"', "not a number of this world"),
        (LIMIT, 'spacing_limit = "-12 ft"', "too small"),
        (LIMIT, 'spacing_limit = "12 mm"', "cannot be dug: check its unit"),
        (LIMIT, 'spacing_limt = "12 ft"', "did you mean `spacing_limit`?"),
        ("rails = 4", 'rails = "four"', "fence, rails"),
        ("rails = 4", "rails = 40", "40 is too large: write 12 or less"),
        ("rails = 4", "rails = 12", "overlap"),
        ('auger = "12 in"', 'auger = "12 km"', "too large for this item: check its unit"),
        ('soil = "sand"', 'soil = "snad"', "did you mean 'sand'?"),
        ('soil = "sand"', 'soil = "sand"\nfrost_depth = "1 m"', "not valid TOML"),
        ('crs = "local"', 'crs = "EPSG:99999999"', "no coordinate system that is known"),
        ('crs = "local"', 'crs = "Middle Earth"', "no coordinate system that is known"),
        ('crs = "local"', 'crs = "EPSG:4326"', "is in degrees, no plane"),
        ('kind = "buried water"', 'kind = "buried treasure"', "did you mean"),
        ('line = "paddock"', 'line = "meadow"', 'there is no line "meadow"'),
    ],
)
def test_a_wrong_value_names_its_item(
    refused: Refused, changed: Callable[[str, str], str], old: str, new: str, sentence: str
) -> None:
    assert sentence in refused(changed(old, new))


@pytest.mark.parametrize(
    ("points", "sentence"),
    [
        ("[]", "give at least two points apart"),
        ('[["0 ft", "0 ft"]]', "has no length"),
        ('[["0 ft", "0 ft"], ["0 ft", "0 ft"], ["0 ft", "0 ft"]]', "has no length"),
        ('[["0 ft", "0 ft"], ["200 ft", "0 ft"], ["200 ft", "0 ft"]]', "has no length"),
        ('[["0 ft", "0 ft"], ["1 in", "0 ft"], ["0 ft", "1 in"]]', "has no length"),
        ('[["0 ft", "0 ft"], ["200 ft", "120 ft"], ["200 ft", "0 ft"], ["0 ft", "120 ft"]]',
         "crosses or touches itself near x 100.0 ft, y 60.0 ft"),
        ('[["0 ft", "0 ft"], ["200 ft", "0 ft"], ["100 ft", "0 ft"]]', "crosses or touches itself"),
        ('[["0 ft", "0 ft"], ["nan ft", "0 ft"], ["0 ft", "9 ft"]]', "line 1 \"paddock\", points 2 1"),
        ('[["0 ft", "0 ft"], ["200000 mi", "0 ft"], ["0 ft", "9 ft"]]', "too large for this item: check its unit"),
        ('[["0 ft", "0 ft"], ["20 ft"], ["0 ft", "9 ft"]]', "line 1 \"paddock\", points 2 2"),
        ('[["0 ft", "0 ft", "0 ft"], ["20 ft", "0 ft"]]', "points 1"),
        ('"a long way"', "points"),
        ('[["0 km", "0 km"], ["90000 km", "0 km"], ["90000 km", "90000 km"]]', "more than 200,000 in one job"),
    ],
)  # fmt: skip
def test_a_line_that_cannot_be_fenced(
    refused: Refused, changed: Callable[[str, str], str], points: str, sentence: str
) -> None:
    assert sentence in refused(changed(RING, points))


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        (
            GATE.replace("100 ft", "195 ft"),
            "a post must stand at station 200.0 ft (the line turns 90.0 deg left)",
        ),
        (GATE + GATE.replace("100 ft", "105 ft"), "overlaps gate 2 by"),
        (GATE.replace("12 ft", "300 ft"), "move it or make it shorter"),
        (GATE.replace("100 ft", "9000 ft"), "lies beyond the end of line"),
        (GATE.replace("12 ft", "0 ft"), "must be more than nothing"),
        (GATE.replace('"100 ft"', "nan"), "nan has no unit"),
        ('[[pin]]\nline = "paddock"\nat = "6 ft"\n', "pinned in the job"),
        (
            '[[line]]\nname = "paddock"\npoints = [["0 ft", "9 ft"], ["9 ft", "9 ft"]]\n',
            "two lines are called",
        ),
        (
            '[[gate]]\nname = "a"\nline = "paddock"\nat = "20 ft"\nopening = "12 ft"\n'
            '[[crossing]]\nname = "a"\nline = "paddock"\nat = "60 ft"\nwidth = "12 ft"\n',
            'crossing 1: two openings are called "a"',
        ),
        ('[[line]]\nname = "b"\n', "file"),
        ('[[built]]\nline = "paddock"\nat = "40 ft"\noffset = "30 ft"\n', "check its unit"),
        ('[[obstacle]]\nkind = "tree"\n', "give either points or a file"),
        ('[[obstacle]]\nkind = "tree"\npoints = []\n', "has no points"),
    ],
)
def test_openings_and_wishes_that_cannot_be(
    refused: Refused, small_job_text: str, more: str, sentence: str
) -> None:
    assert sentence in refused(small_job_text.replace("[fence]", more + "[fence]"))


@pytest.mark.parametrize(
    "more",
    [
        '[[line]]\nname = "b"\nfile = "missing.gpx"\n',
        '[[obstacle]]\nkind = "tree"\nfile = "missing.gpx"\n',
        '[catalogue]\nfiles = ["missing.gpx"]\n',
    ],
)
def test_a_file_that_is_not_there_is_named(
    refused: Refused, tmp_path: Path, small_job_text: str, more: str
) -> None:
    said = refused(small_job_text.replace("[fence]", more + "[fence]"), str(tmp_path / "missing.gpx"))
    assert "there is no such file" in said


def test_ground_that_is_not_there(refused: Refused, changed: Callable[[str, str], str]) -> None:
    assert "there is no such file" in refused(
        changed('ground = "flat"', 'ground = "nothing.tif"'), "nothing.tif: site, ground: "
    )


def test_an_endless_fence_takes_no_memory(tmp_path: Path, changed: Callable[[str, str], str]) -> None:
    """Sixteen million posts are refused by their number before anything is laid out, within half a gigabyte."""
    text = changed(RING, '[["0 km", "0 km"], ["9999 km", "0 km"], ["9999 km", "1 km"]]').replace(
        "12 ft", "2 ft"
    )
    (tmp_path / "job.toml").write_text(text.replace('opening = "2 ft"', 'opening = "12 ft"'))
    code = "import resource, sys; resource.setrlimit(resource.RLIMIT_DATA, (1 << 29, 1 << 29));" \
        "from fencewright.cli.main import run; sys.argv[1:] = ['check', 'job.toml']; run()"  # fmt: skip
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert done.returncode == 2, done.stderr
    assert "more than 200,000 in one job" in done.stderr


@pytest.mark.parametrize("content", ["", "[job", "[job]\nname = 'x'\n"])
def test_the_installed_command_refuses_too(tmp_path: Path, content: str) -> None:
    (tmp_path / "job.toml").write_text(content)
    command = str(Path(sys.executable).with_name("fencewright"))
    words = [command, "design", "job.toml", "--out", "out"]
    done = subprocess.run(words, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]
