"""Jobs deleted long ago are taken out for good, with what no other job holds; the clock is handed in."""

import pytest
from sqlalchemy import func, select, text, update

from fencewright.store.jobs import JobStore
from fencewright.store.purging import DAY_MS, DELETED_KEPT_DAYS
from fencewright.store.records import Made, Missing
from fencewright.store.schema import blob, file_set, job, revision

NOW = 1_800_000_000_000
TEXT = '[job]\nname = "Home"\n'


def counts(store: JobStore) -> dict[str, int]:
    with store.engine.connect() as connection:
        return {
            table.name: int(connection.execute(select(func.count()).select_from(table)).scalar() or 0)
            for table in (job, revision, file_set, blob)
        }


def deleted(store: JobStore, id: str, days_ago: float) -> None:  # noqa: A002
    """Delete a job as if so many days ago."""
    store.delete(id)
    with store.engine.begin() as connection:
        when = NOW - round(days_ago * DAY_MS)
        connection.execute(update(job).where(job.c.id == id).values(deleted_ms=when))


def test_only_jobs_deleted_longer_ago_than_thirty_days_go(store: JobStore) -> None:
    kept, recent, old = (store.new_job(name, TEXT).job.id for name in ("Kept", "Recent", "Old"))
    deleted(store, recent, DELETED_KEPT_DAYS - 0.01)
    deleted(store, old, DELETED_KEPT_DAYS + 0.01)
    assert store.purge_deleted(NOW) == 1
    assert [row.id for row in store.list_jobs()] == [kept]
    assert [row.id for row in store.list_jobs(deleted=True)] == [recent]
    with pytest.raises(Missing, match="there is no such job"):
        store.state(old)
    assert store.restore(recent).deleted_ms is None
    assert store.state(recent).text == TEXT
    assert store.purge_deleted(NOW) == 0


def test_what_another_job_holds_stays_and_the_rest_goes(store: JobStore) -> None:
    shared, own = b"<gpx>shared</gpx>", b"<gpx>own</gpx>"
    kept = store.new_job("Kept", TEXT, {"walk.gpx": shared})
    before = counts(store)
    old = store.new_job("Old", TEXT, {"walk.gpx": shared, "other.gpx": own})
    store.accept(old.job.id, Made(1, TEXT + "# more\n", "more", "Old"))
    store.accept(old.job.id, Made(2, TEXT + "# yet more\n", "more", "Old", "one", {"third.gpx": b"x"}))
    store.copy_job(old.job.id, "Copy", TEXT + "# copied\n")
    copy = store.list_jobs()[0].id
    deleted(store, old.job.id, 31)
    assert store.purge_deleted(NOW) == 1
    assert store.content(store.state(copy).files["other.gpx"]) == own  # the copy has the file still
    assert store.state(copy).text == TEXT + "# copied\n"
    deleted(store, copy, 31)
    assert store.purge_deleted(NOW) == 1
    assert counts(store) == before
    assert store.content(store.state(kept.job.id).files["walk.gpx"]) == shared
    assert store.state(kept.job.id).text == TEXT


def test_many_revisions_go_with_their_job(store: JobStore) -> None:
    id = store.new_job("Old", TEXT).job.id  # noqa: A001
    before = counts(store)
    with store._writing() as connection:
        from fencewright.store.rows import add_revision, get_job, put_blob, put_files

        for number in range(1200):  # more than one statement takes
            held = {
                "text": put_blob(connection, f"{TEXT}# {number}".encode()),
                "files": put_files(connection, {}),
            }
            add_revision(
                connection, get_job(connection, id), {"parent": 1, "label": "", "window": "", **held}
            )
    assert counts(store)["blob"] == before["blob"] + 1200
    deleted(store, id, 31)
    assert store.purge_deleted(NOW) == 1
    assert set(counts(store).values()) == {0}


def test_a_job_of_a_newer_version_stays(store: JobStore) -> None:
    id = store.new_job("Old", TEXT).job.id  # noqa: A001
    deleted(store, id, 31)
    with store.engine.begin() as connection:
        connection.execute(text("UPDATE job SET format = 99"))
    assert store.purge_deleted(NOW) == 0
    assert counts(store)["job"] == 1


def test_a_server_that_starts_clears_the_store(store: JobStore, monkeypatch: pytest.MonkeyPatch) -> None:
    from fencewright.server import service

    id = store.new_job("Old", TEXT).job.id  # noqa: A001
    deleted(store, id, 31)
    monkeypatch.setattr(service, "now_ms", lambda: NOW)
    made = service.open_service(store, workers=1)
    made.folders.remove()
    assert counts(store)["job"] == 0
