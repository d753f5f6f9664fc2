"""Which database a name means, and each fault of it in one sentence."""

import os
import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import text

from fencewright.findings import InputError
from fencewright.store.database import data_folder, shown_url, store_url
from fencewright.store.faults import StoreFault
from fencewright.store.jobs import open_store
from fencewright.store.records import Made

TEXT = '[job]\nname = "Home"\n'


def test_without_a_name_jobs_are_kept_in_the_users_data_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setenv("XDG_DATA_HOME", "/somewhere/data")
    assert data_folder() == Path("/somewhere/data/fencewright")
    assert shown_url(store_url(None)) == "/somewhere/data/fencewright/jobs.sqlite"


def test_a_password_is_never_shown() -> None:
    url = store_url("postgresql+psycopg://ann:secret@db/jobs")
    assert shown_url(url) == "postgresql+psycopg://ann:***@db/jobs"


@pytest.mark.parametrize("name", ["mysql://x/y", "://", "nonsense+x://"])
def test_a_name_of_no_store_is_refused(name: str) -> None:
    with pytest.raises(InputError, match="store"):
        open_store(name)


def test_sqlite_keeps_what_it_accepted_through_a_power_cut(tmp_path: Path) -> None:
    store = open_store(str(tmp_path / "a.sqlite"))
    with store.engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA journal_mode").scalar() == "wal"
        assert connection.exec_driver_sql("PRAGMA synchronous").scalar() == 2  # FULL
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1


def test_a_damaged_database_is_one_sentence(tmp_path: Path) -> None:
    path = tmp_path / "a.sqlite"
    path.write_bytes(b"this is no database at all, but long enough to be looked at" * 40)
    with pytest.raises(StoreFault, match="the job store is damaged: put back a copy") as told:
        open_store(str(path))
    assert told.value.code == "damaged-store"
    assert path.read_bytes().startswith(b"this is no database")


def test_a_database_damaged_in_the_middle_is_one_sentence(tmp_path: Path) -> None:
    path = tmp_path / "a.sqlite"
    store = open_store(str(path))
    id = store.new_job("Home", TEXT + "# " + "x" * 60_000).job.id  # noqa: A001
    with store.engine.connect() as connection:
        connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")
    store.close()
    content = bytearray(path.read_bytes())
    content[4096:] = os.urandom(len(content) - 4096)
    path.write_bytes(bytes(content))
    with pytest.raises(StoreFault, match="the job store is damaged"):
        open_store(str(path)).state(id)


def test_a_full_disk_is_one_sentence_and_the_last_state_stays(tmp_path: Path) -> None:
    store = open_store(str(tmp_path / "a.sqlite"))
    id = store.new_job("Home", TEXT).job.id  # noqa: A001
    from sqlalchemy import event

    def small(connection: sqlite3.Connection, record: object) -> None:
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count = {pages + 4}")

    event.listen(store.engine, "connect", small)
    with pytest.raises(StoreFault, match="the disk is full: the last accepted edit is kept") as told:
        store.accept(id, Made(1, TEXT + "# " + "x" * 200_000, "long", "Home"))
    assert told.value.code == "disk-full"
    event.remove(store.engine, "connect", small)
    assert store.state(id).text == TEXT
    assert store.accept(id, Made(1, TEXT + "# more\n", "more", "Home")).state.revision.number == 2


def test_a_folder_that_cannot_be_made_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(StoreFault, match="cannot be used"):
        open_store(str(tmp_path / "file" / "jobs.sqlite"))


def test_a_server_that_is_not_there_is_one_sentence() -> None:
    with pytest.raises(StoreFault, match="the job store cannot be used") as told:
        open_store("postgresql+psycopg://nobody@127.0.0.1:9/jobs?connect_timeout=2")
    assert "\n" not in str(told.value)


def test_a_second_program_waits_its_turn_and_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("fencewright.store.database._WAIT_MS", 50)
    path = str(tmp_path / "a.sqlite")
    store = open_store(path)
    id = store.new_job("Home", TEXT).job.id  # noqa: A001
    other = open_store(path)
    with other.engine.connect().execution_options(writes=True) as connection, connection.begin():
        connection.execute(text("UPDATE job SET name = name"))
        with pytest.raises(StoreFault, match="another program holds the job store") as told:
            store.accept(id, Made(1, TEXT + "# more\n", "more", "Home"))
    assert told.value.code == "busy-store"
