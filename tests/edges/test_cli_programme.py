"""The command programme: exit codes, what is printed and written, and one sentence for each bad table."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

Cli = Callable[..., tuple[int, str, str]]
GOOD = '[programme]\nstart = "2026-04-06"\nprivate_services = "none"\ncountry = "US"\n'


@pytest.fixture
def job(tmp_path: Path, small_job_text: str) -> Callable[[str], Path]:
    """Write the small job with a `[programme]` table."""

    def write(table: str) -> Path:
        path = tmp_path / "job.toml"
        path.write_text(small_job_text + table)
        return path

    return write


def test_a_programme_that_may_start(cli: Cli, job: Callable[[str], Path], tmp_path: Path) -> None:
    code, out, _ = cli("programme", job(GOOD), "--out", tmp_path / "out")
    assert code == 0
    assert "hand-over on 2026-04-2" in out
    assert "NOT TO START" not in out
    listed = {row["name"] for row in json.loads((tmp_path / "out" / "manifest.json").read_text())["files"]}
    assert {"programme.json", "programme.csv", "programme.svg", "programme.ics", "deliveries.csv"} <= listed


def test_it_joins_its_design(cli: Cli, job: Callable[[str], Path], tmp_path: Path) -> None:
    path = job(GOOD)
    assert cli("design", path, "--out", tmp_path / "out")[0] == 0
    assert cli("programme", path, "--out", tmp_path / "out")[0] == 0
    record = json.loads((tmp_path / "out" / "programme.json").read_text())
    assert record["design_digest"] == json.loads((tmp_path / "out" / "design.json").read_text())["digest"]


def test_unanswered_services_are_1_and_written(cli: Cli, job: Callable[[str], Path], tmp_path: Path) -> None:
    path = job('[programme]\nstart = "2026-04-06"\n')
    code, out, _ = cli("programme", path, "--out", tmp_path / "out")
    assert code == 1
    assert "STOP    private-services" in out
    assert "NOT TO START: mend the stops of the programme first." in out
    assert (tmp_path / "out" / "programme.json").is_file()
    assert cli("design", path, "--out", tmp_path / "fence")[0] == 0


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ("work_days = []", "no day of the week is a working day"),
        ('country = "ZZ"\nstart = "2026-04-06"', "no holidays are known of country 'ZZ'"),
        ('start = "soon"', "'soon' is no date"),
        ("crew = 0", "0 is too small: write 1 or more"),
        ('country = "US"\nsubdivision = "QQ"\nstart = "2026-04-06"', "has no subdivision 'QQ'"),
        ('hours = "8 feet"', "is no time with a unit"),
    ],
)
def test_bad_input_is_one_sentence_and_writes_nothing(
    cli: Cli, job: Callable[[str], Path], tmp_path: Path, table: str, words: str
) -> None:
    code, out, err = cli("programme", job(f"[programme]\n{table}\n"), "--out", tmp_path / "out")
    assert code == 2
    assert out == ""
    said = [line for line in err.splitlines() if not line.endswith(" done")]
    assert len(said) == 1
    assert words in said[0]
    assert "job.toml" in said[0]
    assert not (tmp_path / "out").exists()
