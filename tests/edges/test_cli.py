"""The commands new, check, design and demo: exit codes, help, what is printed and what is written."""

import json
import subprocess
import sys
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

import pytest

Cli = Callable[..., tuple[int, str, str]]
COMMANDS = ("new", "check", "design", "demo")


@pytest.fixture
def small(tmp_path: Path, small_job_text: str) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(small_job_text)
    return path


@pytest.fixture
def stopped(small: Path) -> Path:
    """Give a job whose line posts are too short: a design with a stop."""
    small.write_text(small.read_text() + '\n[posts]\nline_lengths = ["7 ft"]\n')
    return small


def test_version(cli: Cli) -> None:
    assert cli("--version") == (0, f"fencewright {version('fencewright')}\n", "")


def test_help_teaches(cli: Cli) -> None:
    code, out, _ = cli("--help")
    assert code == 0
    for word in (*COMMANDS, "fencewright new paddock", "Exit codes: 0 may be built", "--install-completion"):
        assert word in out


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize("flag", ["--help", "-h"])
def test_help_of_each_command(cli: Cli, command: str, flag: str) -> None:
    code, out, err = cli(command, flag)
    assert (code, err) == (0, "")
    assert f"fencewright {command}" in out


def test_new_then_check_then_design(cli: Cli, tmp_path: Path) -> None:
    folder = tmp_path / "paddock"
    code, out, _ = cli("new", folder)
    assert code == 0
    assert f"fencewright check {folder / 'job.toml'}" in out
    assert sorted(path.name for path in folder.iterdir()) == ["job.schema.json", "job.toml"]
    assert json.loads((folder / "job.schema.json").read_text())["title"] == "JobFile"
    assert cli("check", folder / "job.toml")[0] == 0
    code, out, _ = cli("design", folder / "job.toml", "--out", folder / "fence")
    assert code == 0
    assert "Posts:" in out
    assert (folder / "fence" / "manifest.json").is_file()


def test_new_keeps_a_job_that_is_there(cli: Cli, tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text("mine")
    code, _, err = cli("new", tmp_path)
    assert code == 2
    assert "there is a job already" in err
    assert (tmp_path / "job.toml").read_text() == "mine"


def test_check_writes_nothing(cli: Cli, small: Path) -> None:
    code, out, _ = cli("check", small)
    assert code == 0
    assert "CAUTION assumed-temperatures" in out
    assert list(small.parent.iterdir()) == [small]


def test_a_design_that_may_be_built(cli: Cli, small: Path, tmp_path: Path) -> None:
    code, out, err = cli("design", small, "--out", tmp_path / "out")
    assert code == 0
    assert all(line.endswith(" done") for line in err.splitlines())  # progress, where the run takes long
    assert "2 gate, 3 corner, 49 line" in out
    assert "in 4 pulls, from 4 rolls with 0 splices" in out
    assert "NOT TO BE BUILT" not in out
    assert json.loads((tmp_path / "out" / "manifest.json").read_text())["may_be_built"] is True


def test_a_design_that_may_not_is_written_and_marked(cli: Cli, stopped: Path, tmp_path: Path) -> None:
    assert cli("check", stopped)[0] == 1
    code, out, _ = cli("design", stopped, "--out", tmp_path / "out")
    assert code == 1
    assert out.index("STOP") < out.index("CAUTION")
    assert "NOT TO BE BUILT" in out
    assert json.loads((tmp_path / "out" / "manifest.json").read_text())["may_be_built"] is False


@pytest.mark.parametrize(
    "words",
    [("check", "nowhere.toml"), ("design", "nowhere.toml", "--out", "out"), ("check", "."), ("paint",), ("check",),
     ("design", "job.toml"), ("--frobnicate",)],
)  # fmt: skip
def test_what_cannot_be_run_is_2_and_writes_nothing(
    cli: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    monkeypatch.chdir(tmp_path)
    code, out, err = cli(*words)
    assert code == 2
    assert out == ""
    assert "Traceback" not in err
    assert not list(tmp_path.iterdir())


def test_a_folder_for_results_that_is_a_file(cli: Cli, small: Path, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("mine")
    code, _, err = cli("design", small, "--out", tmp_path / "out")
    assert code == 2
    assert "is a file" in err
    assert (tmp_path / "out").read_text() == "mine"


def test_a_fault_of_the_disk_is_3(
    cli: Cli, small: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.replace", full)
    monkeypatch.setattr("pathlib.Path.replace", full)
    code, _, err = cli("design", small, "--out", tmp_path / "out")
    assert code == 3
    said = [line for line in err.splitlines() if not line.endswith(" done")]
    assert len(said) == 1
    assert "the disk is full: earlier results stand" in said[0]


def test_a_fault_of_the_program_is_3_in_one_sentence(
    cli: Cli, small: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(_: object) -> None:
        raise ZeroDivisionError("nought")

    monkeypatch.setattr("fencewright.pipeline.stages.lay_out", broken)
    code, _, err = cli("check", small)
    assert code == 3
    assert err.startswith("fencewright: a fault of the program (ZeroDivisionError: nought)")
    assert err.count("\n") == 1


def test_the_demo_runs_and_may_be_built(cli: Cli, tmp_path: Path) -> None:
    code, out, _ = cli("demo", "--out", tmp_path / "demo")
    assert code == 0
    assert f"Written to {tmp_path / 'demo'}/" in out
    assert (tmp_path / "demo" / "plan.svg").is_file()


def test_the_installed_command(small: Path) -> None:
    command = Path(sys.executable).with_name("fencewright")
    done = subprocess.run([command, "check", small], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    done = subprocess.run(
        [command, "check", small.with_name("no.toml")], capture_output=True, text=True, check=False
    )
    assert done.returncode == 2
    assert done.stderr.startswith("fencewright: ")


def test_the_public_names() -> None:
    import fencewright

    assert set(fencewright.__all__) >= {"design", "read_job", "write_design"}
    assert all(callable(getattr(fencewright, name)) for name in fencewright.__all__)
    with pytest.raises(AttributeError, match="no attribute 'desing'"):
        fencewright.desing  # noqa: B018  # the look-up is the test
