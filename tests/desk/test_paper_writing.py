"""Papers from a job file: the same bytes each time, bad input refused before anything is written."""

import subprocess
import sys
from pathlib import Path

import pytest

from fencewright.desk.paper_writing import paper_outputs
from fencewright.desk.reading import read_job
from fencewright.desk.running import design
from fencewright.findings import InputError

START = '\n[programme]\nstart = "2026-04-06"\n'
HASH = (
    "import sys, hashlib, pathlib; from fencewright.desk.whole import papers_of, run_whole;"
    " quiet = lambda _: None; files = papers_of(run_whole(pathlib.Path(sys.argv[1]), quiet), quiet);"
    " print({name: hashlib.sha256(content).hexdigest() for name, content in files.items()})"
)


def test_two_processes_give_the_same_bytes(tmp_path: Path, small_job_text: str) -> None:
    book = (Path(__file__).parents[2] / "examples/small-paddock/prices.toml").read_text()
    (tmp_path / "prices.toml").write_text(book)
    job = job_with(tmp_path, small_job_text, START)
    told = [
        subprocess.run(
            [sys.executable, "-c", HASH, str(job)],
            check=True, capture_output=True, text=True, env={"PYTHONHASHSEED": seed, "TZ": zone},
        ).stdout
        for seed, zone in (("1", "UTC"), ("2", "Asia/Tokyo"))
    ]  # fmt: skip
    for name in ("quote.pdf", "field-pack.pdf", "hand-over.pdf", "upkeep.ics"):
        assert name in told[0]
    assert told[0] == told[1]


def job_with(tmp_path: Path, text: str, more: str) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(text + more)
    return path


def test_a_huge_logo_is_refused_unread(tmp_path: Path, small_job_text: str) -> None:
    with (tmp_path / "logo.png").open("wb") as file:
        file.truncate(50_000_000)
    job = job_with(tmp_path, small_job_text, '\n[paper]\nlogo = "logo.png"\n')
    with pytest.raises(InputError, match=r"50\.0 MB are too much for a logo"):
        read_job(job)


def test_a_logo_that_is_not_there(tmp_path: Path, small_job_text: str) -> None:
    job = job_with(tmp_path, small_job_text, '\n[paper]\nlogo = "none.png"\n')
    with pytest.raises(InputError, match=r"none\.png.*no such file"):
        read_job(job)


def test_a_logo_that_cannot_be_drawn_is_named(tmp_path: Path, small_job_text: str) -> None:
    (tmp_path / "logo.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg" width="-5" height="3"/>')
    job = job_with(tmp_path, small_job_text, '\n[paper]\nlogo = "logo.svg"\n')
    with pytest.raises(InputError, match=r"logo\.svg"):
        paper_outputs(design(read_job(job)))


@pytest.mark.parametrize("line", ["plan_scale = 0", 'size = "a3"', "contacts = 3", "colour = 1"])
def test_a_bad_paper_table_is_one_sentence(tmp_path: Path, small_job_text: str, line: str) -> None:
    job = job_with(tmp_path, small_job_text, f"\n[paper]\n{line}\n")
    with pytest.raises(InputError, match="paper") as error:
        read_job(job)
    assert "\n" not in str(error.value)
