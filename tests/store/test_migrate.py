"""A store of every released schema is brought to the newest, whole; a newer one is refused in a sentence."""

import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import create_engine, make_url, text

from fencewright.store.faults import StoreFault
from fencewright.store.jobs import JobStore, open_store
from fencewright.store.migrate import NEWEST, RELEASED, schema_of
from fencewright.store.records import Made
from fencewright.store.schema import metadata

FROZEN = Path(__file__).parents[1] / "data"


def load(url: str, schema: str) -> None:
    """Fill an empty database from the frozen copy of a released schema."""
    kind = make_url(url).get_backend_name()
    script = (FROZEN / f"store-schema-{schema}" / f"{kind}.sql").read_text("utf-8")
    if kind == "sqlite":
        connection = sqlite3.connect(str(make_url(url).database))
        connection.executescript(script)
        connection.close()
        return
    engine = create_engine(url)
    with engine.begin() as there:
        there.exec_driver_sql(script.replace("%", "%%"))
    engine.dispose()


@pytest.mark.parametrize("schema", RELEASED)
def test_a_store_of_a_released_schema_opens_with_all_that_it_held(
    new_url: Callable[[], str], schema: str
) -> None:
    url = new_url()
    load(url, schema)
    store = open_store(url)
    with store.engine.connect() as connection:
        assert schema_of(connection) == NEWEST
        assert compare_metadata(MigrationContext.configure(connection), metadata) == []
    id = store.list_jobs()[0].id  # noqa: A001
    assert (id, store.list_jobs()[0].name) == ("00112233445566ff", "Home")
    assert [(one.number, one.parent, one.name) for one in store.history(id)] == [
        (1, None, ""),
        (2, 1, "as agreed"),
        (3, 2, ""),
    ]
    assert "rails = 3" in store.state(id).text
    assert "rails = 5" in store.redo(id, 2).text
    assert store.content(store.state(id).files["walk.gpx"]) == b"<gpx/>"
    assert (
        store.accept(id, Made(3, store.state(id).text + "# more\n", "more", "Home")).state.revision.number
        == 4
    )
    store.close()


def test_there_is_a_frozen_copy_of_every_released_schema() -> None:
    assert RELEASED[-1] == NEWEST
    for schema in RELEASED:
        assert (FROZEN / f"store-schema-{schema}" / "sqlite.sql").is_file()
        assert (FROZEN / f"store-schema-{schema}" / "postgresql.sql").is_file()


def test_the_steps_make_what_the_program_reads(store: JobStore) -> None:
    with store.engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), metadata) == []


def test_a_store_of_a_newer_version_is_refused(store: JobStore, url: str) -> None:
    with store.engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '99'"))
    with pytest.raises(StoreFault, match="a newer fencewright made this job store") as refused:
        open_store(url)
    assert refused.value.code == "newer-store"
