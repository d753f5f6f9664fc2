"""A job store on each database: SQLite in a file, and PostgreSQL in a private cluster of its own."""

import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

import pytest

from fencewright.store.jobs import JobStore, open_store

# A path without the system's folders hides it.
AS_USER = shutil.which("runuser", path=f"{os.environ.get('PATH', '')}:/usr/sbin:/sbin") or "runuser"
WHAT_TO_INSTALL = (
    "PostgreSQL's server programs are missing: install Debian's package `postgresql` (apt-get install postgresql), "
    "or set FENCEWRIGHT_POSTGRESQL_BIN to the folder that holds initdb"
)
OPENED = count(1)


def server_programs() -> Path | None:
    """Find the folder of initdb and pg_ctl, newest version last."""
    stated = os.environ.get("FENCEWRIGHT_POSTGRESQL_BIN")
    if stated:
        return Path(stated)
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    on_path = shutil.which("initdb")
    return found[-1].parent if found else (Path(on_path).parent if on_path else None)


@pytest.fixture(scope="session")
def cluster() -> Iterator[str]:
    """Start a private PostgreSQL on a socket in a folder of its own; gives the URL of its first database."""
    programs = server_programs()
    if programs is None:
        if os.environ.get("CI") or os.environ.get("FENCEWRIGHT_CI"):
            pytest.fail(WHAT_TO_INSTALL)
        pytest.skip(WHAT_TO_INSTALL)
    home = Path(tempfile.mkdtemp(prefix="fencewright-postgresql-", dir="/tmp"))
    as_user: list[str] = []
    user = pwd.getpwuid(os.getuid()).pw_name
    if os.getuid() == 0:  # the server refuses to run as root
        user = "postgres"
        as_user = [AS_USER, "-u", user, "--"]
        shutil.chown(home, user)
    data = home / "data"

    def run(*words: str) -> None:
        made = subprocess.run(
            [*as_user, *words], cwd=home, capture_output=True, text=True, timeout=120, check=False
        )
        assert made.returncode == 0, made.stdout + made.stderr

    run(str(programs / "initdb"), "-D", str(data), "-A", "trust", "-U", user, "-E", "UTF8", "--no-sync")
    options = f"-k {home} -c listen_addresses='' -c max_connections=200 -c fsync=off"
    run(str(programs / "pg_ctl"), "-D", str(data), "-o", options, "-l", str(home / "log"), "-w", "start")
    try:
        yield f"postgresql+psycopg://{user}@/postgres?host={home}"
    finally:
        run(str(programs / "pg_ctl"), "-D", str(data), "-m", "immediate", "stop")
        shutil.rmtree(home, ignore_errors=True)


@pytest.fixture(params=["sqlite", "postgresql"])
def new_url(request: pytest.FixtureRequest, tmp_path: Path) -> Callable[[], str]:
    """Give a function that makes an empty database and gives its URL, of each kind in turn."""
    if request.param == "sqlite":
        return lambda: f"sqlite:///{tmp_path / f'jobs-{next(OPENED)}.sqlite'}"
    first: str = request.getfixturevalue("cluster")

    def made() -> str:
        import psycopg

        name = f"jobs_{os.getpid()}_{next(OPENED)}"
        with psycopg.connect(first.replace("+psycopg", ""), autocommit=True) as connection:
            connection.execute(f"CREATE DATABASE {name}")
        return first.replace("/postgres?", f"/{name}?")

    return made


@pytest.fixture
def url(new_url: Callable[[], str]) -> str:
    """URL of an empty database."""
    return new_url()


@pytest.fixture
def store(url: str) -> Iterator[JobStore]:
    """Open a store on an empty database."""
    opened = open_store(url)
    yield opened
    opened.close()
