"""Jobs that were deleted long ago, taken out of the store for good."""

from collections.abc import Iterator, Sequence
from itertools import islice

from sqlalchemy import ColumnElement, Connection, delete, func, select, text

from fencewright.store.schema import JOB_FORMAT, blob, file_set, job, revision

DELETED_KEPT_DAYS = 30
"""So long a deleted job can be brought back."""
DAY_MS = 86_400_000
_AT_ONCE = 500  # digests in one statement; a database takes some thousands


def has_old(connection: Connection, before_ms: int) -> bool:
    """Tell whether there is a job that was deleted before a time (ms since 1970)."""
    return bool(connection.execute(select(func.count()).select_from(job).where(_is_old(before_ms))).scalar())


def purge(connection: Connection, before_ms: int) -> int:
    """Take jobs that were deleted before a time out of the store, with all that no other job holds.

    Parameters
    ----------
    connection : Connection
        In a transaction that writes.
    before_ms : int
        Milliseconds since 1970.

    Returns
    -------
    int
        How many jobs went. Those that a newer version of the program wrote stay: what else they hold is not known here.
    """
    if (
        connection.dialect.name == "postgresql"
    ):  # an edit that is being stored may count on a content that is here
        connection.execute(text("LOCK TABLE blob IN EXCLUSIVE MODE"))
    old = list(connection.execute(select(job.c.id).where(_is_old(before_ms)).with_for_update()).scalars())
    texts: set[str] = set()
    sets: set[str] = set()
    for some in _parts(old):
        held = connection.execute(
            select(revision.c.text, revision.c.files).where(revision.c.job.in_(some)).distinct()
        )
        for row in held:
            texts.add(row.text)
            sets.add(row.files)
        connection.execute(delete(revision).where(revision.c.job.in_(some)))
        connection.execute(delete(job).where(job.c.id.in_(some)))
    files = _drop_sets(connection, sorted(sets))
    _drop_blobs(connection, sorted(texts | files))
    return len(old)


def _is_old(before_ms: int) -> ColumnElement[bool]:
    return (job.c.deleted_ms < before_ms) & (job.c.format <= JOB_FORMAT)


def _drop_sets(connection: Connection, digests: Sequence[str]) -> set[str]:
    """Drop the sets of files that no revision holds any more; gives the digests of their files."""
    files: set[str] = set()
    for some in _parts(digests):
        unheld = set(some) - _among(connection, revision.c.files, some)
        mine = file_set.c.digest.in_(unheld)
        files.update(connection.execute(select(file_set.c.blob).where(mine)).scalars())
        connection.execute(delete(file_set).where(mine))
    return files


def _drop_blobs(connection: Connection, digests: Sequence[str]) -> None:
    """Drop the contents that neither a revision nor a set of files holds any more."""
    for some in _parts(digests):
        held = _among(connection, revision.c.text, some) | _among(connection, file_set.c.blob, some)
        connection.execute(delete(blob).where(blob.c.digest.in_(set(some) - held)))


def _among(connection: Connection, column: ColumnElement[str], digests: Sequence[str]) -> set[str]:
    """Which digests a column holds; one pass over its table."""
    return set(connection.execute(select(column).where(column.in_(digests)).distinct()).scalars())


def _parts(digests: Sequence[str]) -> Iterator[list[str]]:
    rest = iter(digests)
    while some := list(islice(rest, _AT_ONCE)):
        yield some
