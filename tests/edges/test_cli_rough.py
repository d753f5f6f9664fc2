"""`fencewright price --rough`: a range on one screen, and one sentence for what is wrong; nothing is written."""

from collections.abc import Callable
from pathlib import Path

import pytest

Cli = Callable[..., tuple[int, str, str]]
CALL = (
    "price",
    "--rough",
    "--length",
    "300 ft",
    "--corners",
    4,
    "--gates",
    1,
    "--strands",
    3,
    "--soil",
    "sand",
)
KNOWN = ("--frost", "36 in", "--gate-width", "12 ft", "--ground", "flat", "--within", "3 %")


@pytest.fixture(autouse=True)
def nothing_is_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def test_a_call_gives_a_range_and_what_would_narrow_it(
    cli: Cli, small_job_path: Path, tmp_path: Path
) -> None:
    code, out, err = cli(*CALL, *KNOWN, "--book", small_job_path.parent / "prices.toml")
    assert (code, err) == (0, "")
    assert "USD (P10 to P90)" in out
    assert "Time for each hole" in out
    assert "a foot" in out
    assert "Have buried services located" in out
    assert list(tmp_path.iterdir()) == []


def test_without_a_book_it_says_so(cli: Cli) -> None:
    code, out, _ = cli(*CALL, *KNOWN)
    assert code == 0
    assert "no money" in out
    assert "Posts:" in out


def test_what_the_book_lacks_is_said(cli: Cli, small_job_path: Path, tmp_path: Path) -> None:
    text = (
        (small_job_path.parent / "prices.toml").read_text("utf-8").replace('"bagged concrete"', '"other bag"')
    )
    (tmp_path / "book.toml").write_text(text, "utf-8")
    code, out, _ = cli(*CALL, *KNOWN, "--book", "book.toml", "--term", "overhead=12 %")
    assert code == 0
    assert "Left out, for want of a price in book.toml:" in out
    assert "bagged concrete 80 lb" in out


def test_metric_is_metric(cli: Cli, small_job_path: Path) -> None:
    book = ("--units", "metric", "--book", small_job_path.parent / "prices.toml")
    code, out, _ = cli(*CALL[:2], "--length", "90 m", *CALL[4:], *KNOWN, *book)
    assert code == 0
    assert "a metre" in out
    assert "90.00 m" in out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("price",), "name a job file"),
        (("price", "job.toml"), "--out"),
        (("price", "--rough"), "needs a length"),
        (("price", "--length", "9 ft"), "add --rough"),
        (("price", "job.toml", "--rough", "--length", "90 ft"), "takes no job"),
        (("price", "--rough", "--length", "90 ft", "--out", "there"), "writes nothing"),
        (("price", "--rough", "--length", "90"), "no length"),
        (("price", "--rough", "--length", "-90 ft"), "above nothing"),
        (("price", "--rough", "--length", "90 ft", "--corners", "77"), "corners"),
        (("price", "--rough", "--length", "90 ft", "--units", "feet"), "us, metric"),
        (("price", "--rough", "--length", "90 ft", "--term", "margin"), "KEY=VALUE"),
        (("price", "--rough", "--length", "90 ft", "--term", "book=x"), "KEY=VALUE"),
        (("price", "--rough", "--length", "90 ft", "--book", "nowhere.toml"), "nowhere.toml"),
    ],
)
def test_what_is_wrong_is_one_sentence(cli: Cli, tmp_path: Path, words: tuple[str, ...], said: str) -> None:
    code, out, err = cli(*words)
    assert (code, out) == (2, "")
    assert said in err
    assert err.count("\n") == 1
    assert list(tmp_path.iterdir()) == []
