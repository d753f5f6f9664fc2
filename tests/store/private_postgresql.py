"""A private PostgreSQL for tests and measurements: a cluster in a folder of its own, reached by a socket alone."""

import contextlib
import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

# A path without the system's folders hides it.
AS_USER = shutil.which("runuser", path=f"{os.environ.get('PATH', '')}:/usr/sbin:/sbin") or "runuser"
WHAT_TO_INSTALL = (
    "PostgreSQL's server programs are missing: install Debian's package `postgresql` (apt-get install postgresql), "
    "or set FENCEWRIGHT_POSTGRESQL_BIN to the folder that holds initdb"
)


def server_programs() -> Path | None:
    """Find the folder of initdb and pg_ctl, newest version last."""
    stated = os.environ.get("FENCEWRIGHT_POSTGRESQL_BIN")
    if stated:
        return Path(stated)
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    on_path = shutil.which("initdb")
    return found[-1].parent if found else (Path(on_path).parent if on_path else None)


@contextlib.contextmanager
def private_postgresql(programs: Path, *, is_safe: bool = False) -> Iterator[str]:
    """Start a server; gives the URL of its first database, and takes all of it away in the end.

    `programs` the folder of `server_programs`; `is_safe` it writes to the disk as a builder's server would, as what is
    measured must; tests do without.
    """
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
    options = f"-k {home} -c listen_addresses='' -c max_connections=200 -c fsync={'on' if is_safe else 'off'}"
    run(str(programs / "pg_ctl"), "-D", str(data), "-o", options, "-l", str(home / "log"), "-w", "start")
    try:
        yield f"postgresql+psycopg://{user}@/postgres?host={home}"
    finally:
        run(str(programs / "pg_ctl"), "-D", str(data), "-m", "immediate", "stop")
        shutil.rmtree(home, ignore_errors=True)
