"""Reading and writing single rows of the job store, inside a transaction that the caller holds."""

import hashlib
import time
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from sqlalchemy import Connection, Row, insert, select, update

from fencewright.store.records import JobRow, Missing, NewerJob, Revision, State
from fencewright.store.schema import JOB_FORMAT, blob, file_set, job, revision


def now_ms() -> int:
    """Milliseconds since 1970; what a person sees of it is when a job was changed, never in a design."""
    return int(time.time() * 1000)


def digest_of(content: bytes) -> str:
    """SHA-256 of a content."""
    return hashlib.sha256(content).hexdigest()


def set_digest(files: Mapping[str, str]) -> str:
    """Digest of a set of files, each by its path and digest."""
    return digest_of("".join(f"{path}\0{files[path]}\n" for path in sorted(files)).encode())


def put_blob(connection: Connection, content: bytes) -> str:
    """Keep a content once; gives its digest."""
    digest = digest_of(content)
    _put_once(connection, blob, [{"digest": digest, "size": len(content), "content": content}])
    return digest


def put_files(connection: Connection, files: Mapping[str, str]) -> str:
    """Keep a set of files once; gives its digest."""
    digest = set_digest(files)
    rows = [{"digest": digest, "path": path, "blob": files[path]} for path in sorted(files)]
    if rows:
        _put_once(connection, file_set, rows)
    return digest


def _put_once(connection: Connection, table: Any, rows: list[dict[str, Any]]) -> None:
    """Insert rows, leaving those that are there."""
    if connection.dialect.name == "sqlite":
        from sqlalchemy.dialects.sqlite import insert as insert_once

        connection.execute(insert_once(table).on_conflict_do_nothing(), rows)
    else:
        from sqlalchemy.dialects.postgresql import insert as insert_once_there

        connection.execute(insert_once_there(table).on_conflict_do_nothing(), rows)


def get_blob(connection: Connection, digest: str) -> bytes:
    """Give a content by its digest."""
    content = connection.execute(select(blob.c.content).where(blob.c.digest == digest)).scalar()
    if content is None:
        raise Missing("there is no such file in the store")
    return bytes(content)


def get_files(connection: Connection, digest: str) -> dict[str, str]:
    """Give a set of files: the digest of each by its path."""
    rows = connection.execute(select(file_set.c.path, file_set.c.blob).where(file_set.c.digest == digest))
    return dict(sorted((path, one) for path, one in rows))


def get_job(connection: Connection, id: str, *, lock: bool = False) -> JobRow:  # noqa: A002  # its column
    """Give a job, deleted or not; `lock` holds it until the transaction ends."""
    asked = select(job).where(job.c.id == id)
    found = connection.execute(asked.with_for_update() if lock else asked).first()
    if found is None:
        raise Missing("there is no such job: it may have been made in another store")
    if found.format > JOB_FORMAT:
        raise NewerJob(
            f'"{found.name}" was written by a newer fencewright ({found.program}): open it with that version'
        )
    return job_row(found)


def job_row(found: Row[Any]) -> JobRow:
    """Give a row of the table as a record."""
    return JobRow(
        found.id, found.name, found.head, found.latest, found.made_ms, found.changed_ms, found.deleted_ms
    )


def get_revision(connection: Connection, id: str, number: int) -> Revision:  # noqa: A002  # its column
    """Give one revision of a job."""
    found = connection.execute(
        select(revision).where(revision.c.job == id, revision.c.number == number)
    ).first()
    if found is None:
        raise Missing(f"there is no revision {number} of this job")
    return revision_row(found)


def revision_row(found: Row[Any]) -> Revision:
    """Give a row of the table as a record."""
    return Revision(
        found.number, found.parent, found.redo, found.label, found.name or "", found.window, bool(found.aside),
        bool(found.merged), found.text, found.files, found.made_ms,
    )  # fmt: skip


def get_state(connection: Connection, row: JobRow, number: int | None = None) -> State:
    """Give a job at a revision; at its present one where none is named."""
    at = get_revision(connection, row.id, row.head if number is None else number)
    return State(row, at, get_blob(connection, at.text).decode(), get_files(connection, at.files))


def add_revision(
    connection: Connection, row: JobRow, values: Mapping[str, Any], *, name: str | None = None
) -> tuple[JobRow, Revision]:
    """Add a revision to a job; where the job's `name` after it is given, it becomes the present one."""
    number, now = row.latest + 1, now_ms()
    all_values = {"aside": False, "merged": False, **values}
    connection.execute(insert(revision), {**all_values, "job": row.id, "number": number, "made_ms": now})
    changed: dict[str, Any] = {"latest": number}
    if name is not None:
        changed |= {"head": number, "changed_ms": now, "name": name}
    connection.execute(update(job).where(job.c.id == row.id).values(changed))
    return replace(row, **changed), Revision(number=number, redo=None, name="", made_ms=now, **all_values)


def set_head(connection: Connection, row: JobRow, number: int, name: str) -> JobRow:
    """Make a revision the present one, and call the job as its text does."""
    changed: dict[str, Any] = {"head": number, "changed_ms": now_ms(), "name": name}
    connection.execute(update(job).where(job.c.id == row.id).values(changed))
    return replace(row, **changed)
