"""`fencewright price`: what is written, what is printed, and one sentence for what is wrong."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from fencewright.store.files import check_manifest

Cli = Callable[..., tuple[int, str, str]]


@pytest.fixture
def job(tmp_path: Path, small_job_path: Path) -> Path:
    """A copy of the small paddock with its price book."""
    for name in ("job.toml", "prices.toml"):
        shutil.copy(small_job_path.parent / name, tmp_path / name)
    return tmp_path / "job.toml"


def changed(path: Path, before: str, after: str) -> None:
    text = path.read_text("utf-8")
    assert before in text
    path.write_text(text.replace(before, after), "utf-8")


def test_it_writes_the_price_and_prints_its_total(cli: Cli, job: Path) -> None:
    code, out, _ = cli("price", job, "--out", job.parent / "out")
    assert code == 0
    record = json.loads((job.parent / "out" / "price.json").read_text())
    assert f"{record['total']:,.2f} USD" in out
    assert "a foot" in out
    assert "Yearly cost over 25 years" in out
    assert check_manifest(job.parent / "out") == []


def test_the_yearly_cost_is_of_a_metre_on_metric_sheets(cli: Cli, job: Path) -> None:
    changed(job, 'sheets = "us"', 'sheets = "metric"')
    yearly = cli("price", job, "--out", job.parent / "out")[1].split("Yearly cost", 1)[1].splitlines()[0]
    assert yearly.endswith(" a metre")


def test_the_price_lies_beside_the_design(cli: Cli, job: Path) -> None:
    out = job.parent / "out"
    cli("design", job, "--out", out)
    assert cli("price", job, "--out", out)[0] == 0
    names = {path.name for path in out.iterdir()}
    assert {"design.json", "price.json", "price.csv", "manifest.json"} <= names
    assert check_manifest(out) == []
    design, price = (json.loads((out / name).read_text()) for name in ("design.json", "price.json"))
    assert price["design_digest"] == design["digest"]


def test_a_design_that_is_not_to_be_built_is_priced_with_exit_code_1(cli: Cli, job: Path) -> None:
    changed(job, 'line_depth = "30 in"', 'line_depth = "90 in"')
    code, out, _ = cli("price", job, "--out", job.parent / "out")
    assert code == 1
    assert "NOT TO BE BUILT" in out
    assert (job.parent / "out" / "price.json").is_file()


def test_without_a_price_book_it_says_so_and_gives_quantities(cli: Cli, job: Path) -> None:
    changed(job, 'book = "prices.toml"', "")
    code, out, _ = cli("price", job, "--out", job.parent / "out")
    assert code == 0
    assert "price-book-missing" in out
    assert "Nothing is priced" in out
    assert "line-bracket" in (job.parent / "out" / "price.csv").read_text()


@pytest.mark.parametrize(
    ("file", "before", "after", "words"),
    [
        ("prices.toml", "price = 17.40", 'price = "ask"', "no price"),
        ("prices.toml", 'size = "4.5 in x 8 ft"', 'size = "4.5 in x 7 ft"', "two prices"),
        ("prices.toml", '"USD"', '"DOLLAR"', "no currency"),
        ("prices.toml", "currency", "[currency", "not valid TOML"),
        ("job.toml", 'margin = "15 %"', 'margin = "-15 %"', "margin"),
        ("job.toml", 'margin = "15 %"', 'currency = "XX"', "no currency"),
        ("job.toml", 'margin = "15 %"', 'currency = "EUR"', "make them one"),
        ("job.toml", "prices.toml", "none.toml", "no such file"),
        ("job.toml", "prices.toml", "job.toml", "no key `job`"),
        ("job.toml", "prices.toml", ".", "folder"),
    ],
)
def test_what_is_wrong_is_one_sentence_and_nothing_is_written(
    cli: Cli, job: Path, file: str, before: str, after: str, words: str
) -> None:
    changed(job.parent / file, before, after)
    code, out, err = cli("price", job, "--out", job.parent / "out")
    assert code == 2
    assert out == ""
    assert words in err
    assert len(err.strip().splitlines()) == 1
    assert "Traceback" not in err
    assert not (job.parent / "out").exists()


def test_alternatives_stand_side_by_side(cli: Cli, job: Path) -> None:
    job.write_text(
        job.read_text() + '[[alternative]]\nname = "three rails"\n[alternative.fence]\nrails = 3\n'
    )
    code, out, _ = cli("price", job, "--out", job.parent / "out")
    assert code == 0
    row = next(line for line in out.splitlines() if "three rails" in line)
    assert "-" in row  # it costs less
