"""The command serve as a person starts it: what it prints, what it answers, how it ends."""

import signal
import socket
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import httpx
import pytest

ROOT = Path(__file__).parents[2]


def start(tmp_path: Path, *words: str) -> tuple[subprocess.Popen[str], str, str]:
    """Start a server; gives its process, the address that it prints, and the line after."""
    command = [sys.executable, "-c", "from fencewright.cli.main import run; run()", "serve", *words]
    command += ["--no-browser", "--store", str(tmp_path / "jobs.sqlite")]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    assert process.stdout is not None
    first, second = process.stdout.readline(), process.stdout.readline()
    return process, first.removeprefix("fencewright serves ").strip(), second


def end(process: subprocess.Popen[str], by: signal.Signals) -> str:
    process.send_signal(by)
    _, said = process.communicate(timeout=30)
    return said


@pytest.mark.parametrize("by", [signal.SIGINT, signal.SIGTERM])
def test_it_serves_until_it_is_stopped_and_says_where(tmp_path: Path, by: signal.Signals) -> None:
    process, address, second = start(tmp_path, str(ROOT / "examples" / "small-paddock" / "job.toml"))
    try:
        assert "#/jobs/" in address
        assert f"Jobs are kept in {tmp_path / 'jobs.sqlite'}" in second
        base = address.split("#")[0]
        jobs = httpx.get(f"{base}api/jobs", timeout=60).json()
        assert [one["name"] for one in jobs] == ["Small paddock"]
        assert address.endswith(jobs[0]["id"])
    finally:
        said = end(process, by)
    assert process.returncode == 0, said
    assert said == ""


def test_a_job_named_twice_is_taken_in_once(tmp_path: Path) -> None:
    for _ in range(2):
        process, address, _ = start(tmp_path, str(ROOT / "examples" / "rolling-pasture" / "job.toml"))
        try:
            jobs = httpx.get(f"{address.split('#')[0]}api/jobs", timeout=60).json()
            state = httpx.get(f"{address.split('#')[0]}api/jobs/{jobs[0]['id']}", timeout=60).json()
        finally:
            end(process, signal.SIGTERM)
    assert len(jobs) == 1
    assert {"corners.csv", "terrain.tif"} <= {file["path"] for file in state["files"]}


def test_beyond_this_machine_it_prints_a_token_and_speaks_of_tls(tmp_path: Path) -> None:
    process, address, _ = start(tmp_path, "--host", "0.0.0.0")
    try:
        assert process.stdout is not None
        assert "TLS" in process.stdout.readline()
        port = address.split("?")[0].rsplit(":", 1)[1].rstrip("/")
        token = address.split("token=")[1].split("#")[0]
        assert len(token) >= 32
        local = f"http://127.0.0.1:{port}/api"
        assert httpx.get(local, timeout=60).json()["error"]["code"] == "token"
        assert httpx.get(local, headers={"Authorization": f"Bearer {token}"}, timeout=60).status_code == 200
    finally:
        end(process, signal.SIGTERM)


def test_a_port_that_is_taken_is_one_sentence(
    cli: Callable[..., tuple[int, str, str]], tmp_path: Path
) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        code, out, err = cli("serve", "--port", port, "--no-browser", "--store", tmp_path / "a.sqlite")
    assert (code, out) == (2, "")
    assert err == (
        f"fencewright: cannot listen on 127.0.0.1 port {port} (Address already in use): "
        "choose another with --port or --host\n"
    )


def test_a_store_that_cannot_be_is_one_sentence(
    cli: Callable[..., tuple[int, str, str]], tmp_path: Path
) -> None:
    (tmp_path / "a.sqlite").write_bytes(b"no database" * 500)
    code, _, err = cli("serve", "--no-browser", "--store", tmp_path / "a.sqlite")
    assert (code, err.count("\n")) == (3, 1)
    assert "the job store is damaged" in err
    code, _, err = cli("serve", "--no-browser", "--store", "mysql://x/y")
    assert (code, err.count("\n")) == (2, 1)


def test_help_stays_quick() -> None:
    """Neither the server nor the store is imported for a command that does not need it."""
    script = (
        "import sys, fencewright.cli.main\n"
        "heavy = {'fastapi', 'uvicorn', 'sqlalchemy', 'alembic', 'tomlkit', 'numpy', 'pydantic'} & set(sys.modules)\n"
        "sys.exit(', '.join(sorted(heavy)) or 0)"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
