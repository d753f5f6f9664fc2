"""The command paper: what it writes, and its exit codes."""

from collections.abc import Callable
from pathlib import Path

Cli = Callable[..., tuple[int, str, str]]
JOB = """
[job]
name = "Lane end"
[site]
frost_depth = "36 in"
soil = "sand"
[[line]]
name = "lane"
points = [["0 ft", "0 ft"], ["90 ft", "0 ft"]]
"""


def test_paper_writes_the_field_pack(cli: Cli, small_job_path: Path, tmp_path: Path) -> None:
    code, out, _ = cli("paper", small_job_path, "--out", tmp_path / "papers")
    assert code == 0
    assert "field-pack.pdf" in out
    assert (tmp_path / "papers" / "field-pack.pdf").read_bytes().startswith(b"%PDF-")


def test_a_design_not_to_be_built_is_printed_and_says_so(cli: Cli, tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(JOB + '\n[posts]\nline_lengths = ["7 ft"]\n')
    code, out, _ = cli("paper", job, "--out", tmp_path / "papers")
    assert code == 1
    assert "NOT TO BE BUILT" in out
    assert (tmp_path / "papers" / "field-pack.pdf").is_file()


def test_bad_input_writes_nothing(cli: Cli, tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    (tmp_path / "logo.png").write_bytes(b"no picture")
    job.write_text(JOB + '\n[paper]\nlogo = "logo.png"\n')
    code, _, err = cli("paper", job, "--out", tmp_path / "papers")
    assert code == 2
    assert "not a picture" in err
    assert not (tmp_path / "papers").exists()
