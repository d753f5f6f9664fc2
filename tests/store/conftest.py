"""A job store on each database: SQLite in a file, and PostgreSQL in a private cluster of its own."""

import os
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

import pytest
from tests.store.private_postgresql import WHAT_TO_INSTALL, private_postgresql, server_programs

from fencewright.store.jobs import JobStore, open_store

OPENED = count(1)


@pytest.fixture(scope="session")
def cluster() -> Iterator[str]:
    """Start a private PostgreSQL; gives the URL of its first database."""
    programs = server_programs()
    if programs is None:
        if os.environ.get("CI") or os.environ.get("FENCEWRIGHT_CI"):
            pytest.fail(WHAT_TO_INSTALL)
        pytest.skip(WHAT_TO_INSTALL)
    with private_postgresql(programs) as url:
        yield url


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
