"""The database behind the job store: SQLite in the user's data folder, or PostgreSQL by a URL."""

import os
import sys
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, NoSuchModuleError
from sqlalchemy.pool import NullPool

from fencewright.findings import InputError
from fencewright.store.faults import spoken_faults

_WAIT_MS = 20_000
_KINDS = ("sqlite", "postgresql")


def data_folder() -> Path:
    """Where the user's jobs are kept when nothing else is said."""
    if sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA") or str(Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        base = str(Path.home() / "Library" / "Application Support")
    else:
        base = os.environ.get("XDG_DATA_HOME") or str(Path.home() / ".local" / "share")
    return Path(base) / "fencewright"


def store_url(wanted: str | None) -> URL:
    """Read the URL of a store: that given, a path of a SQLite file, or the user's own.

    Raises
    ------
    InputError
        It is no URL of SQLite or PostgreSQL.
    """
    if not wanted:
        return URL.create("sqlite", database=str(data_folder() / "jobs.sqlite"))
    if "://" not in wanted:
        return URL.create("sqlite", database=wanted)
    try:
        url = make_url(wanted)
    except ArgumentError as error:
        raise InputError(
            "this is no store: write --store postgresql+psycopg://user@host/name or a file's name"
        ) from error
    if url.get_backend_name() not in _KINDS:
        raise InputError(
            f"a store is SQLite or PostgreSQL, not {url.get_backend_name()}: "
            "write --store postgresql+psycopg://user@host/name or a file's name"
        )
    return url


def shown_url(url: URL) -> str:
    """How a store is called in messages: its file, or its URL without the password."""
    if url.get_backend_name() == "sqlite":
        return str(url.database or "a store in memory")
    return url.render_as_string(hide_password=True)


def open_engine(url: URL) -> Engine:
    """Open the database.

    Raises
    ------
    InputError
        Its driver is not installed.
    StoreFault
        Its folder cannot be made.
    """
    if url.get_backend_name() == "sqlite":
        with spoken_faults(shown_url(url)):
            if url.database and url.database != ":memory:":
                Path(url.database).parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        engine = create_engine(url, poolclass=NullPool, connect_args={"timeout": _WAIT_MS / 1000})
        _tune_sqlite(engine)
        return engine
    try:
        return create_engine(url, pool_size=8, max_overflow=8, pool_pre_ping=True)
    except (ModuleNotFoundError, NoSuchModuleError) as error:
        raise InputError(
            "PostgreSQL needs its driver: pip install 'fencewright[postgresql]', and write postgresql+psycopg://"
        ) from error


def _tune_sqlite(engine: Engine) -> None:
    """Make SQLite keep what it accepted through a kill or a power cut, and let writers wait for one another."""

    @event.listens_for(engine, "connect")
    def _connected(connection: Any, record: Any) -> None:
        connection.isolation_level = None  # transactions are begun below, not guessed by the driver
        cursor = connection.cursor()
        cursor.execute(f"PRAGMA busy_timeout = {_WAIT_MS}")
        cursor.execute("PRAGMA journal_mode = WAL")
        cursor.execute("PRAGMA synchronous = FULL")
        cursor.execute("PRAGMA foreign_keys = ON")
        cursor.close()

    @event.listens_for(engine, "begin")
    def _begun(connection: Any) -> None:
        writes = connection.get_execution_options().get("writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
