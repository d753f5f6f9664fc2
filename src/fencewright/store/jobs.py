"""The job store: jobs, their files, and every accepted edit as a revision that is never lost."""

import secrets
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from typing import Any

from sqlalchemy import URL, Connection, Engine, desc, insert, select, update

from fencewright import __version__
from fencewright.edits.changes import Change, changes_between, read_plain
from fencewright.edits.merging import merge_texts
from fencewright.store.database import open_engine, shown_url, store_url
from fencewright.store.faults import spoken_faults
from fencewright.store.migrate import migrate
from fencewright.store.purging import DAY_MS, DELETED_KEPT_DAYS, has_old, purge
from fencewright.store.records import Accepted, Clash, JobRow, Made, Missing, Moved, Revision, State
from fencewright.store.repeats import accepted_before, aside_before
from fencewright.store.rows import (
    add_revision,
    get_blob,
    get_files,
    get_job,
    get_revision,
    get_state,
    job_row,
    now_ms,
    put_blob,
    put_files,
    revision_row,
    set_head,
)
from fencewright.store.schema import JOB_FORMAT, held_window, job, revision

_PROGRAM = f"fencewright {__version__}"


class JobStore:
    """A handle on the store: each method is one transaction, done or not at all."""

    def __init__(self, engine: Engine, where: str) -> None:
        self.engine, self.where = engine, where

    @contextmanager
    def _reading(self) -> Iterator[Connection]:
        with spoken_faults(self.where), self.engine.connect() as connection, connection.begin():
            yield connection

    @contextmanager
    def _writing(self) -> Iterator[Connection]:
        with (
            spoken_faults(self.where),
            self.engine.connect().execution_options(writes=True) as connection,
            connection.begin(),
        ):
            yield connection

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()

    def list_jobs(self, *, deleted: bool = False) -> list[JobRow]:
        """List the jobs, the one changed last first; or those that were deleted."""
        asked = job.c.deleted_ms.is_not(None) if deleted else job.c.deleted_ms.is_(None)
        with self._reading() as connection:
            rows = connection.execute(select(job).where(asked).order_by(desc(job.c.changed_ms), job.c.id))
            return [job_row(row) for row in rows]

    def new_job(
        self, name: str, text: str, files: Mapping[str, bytes] | None = None, *, label: str = "new job",
        window: str = "",
    ) -> State:  # fmt: skip
        """Make a job from its text and files."""
        with self._writing() as connection:
            kept = {path: put_blob(connection, content) for path, content in (files or {}).items()}
            return self._new(connection, name, text, kept, label, window)

    def copy_job(self, id: str, name: str, text: str, *, window: str = "") -> State:  # noqa: A002  # its column
        """Make a job with the present files of another, and the text given."""
        with self._writing() as connection:
            state = get_state(connection, get_job(connection, id))
            label = f'copy of "{state.job.name}"'
            return self._new(connection, name, text, state.files, label, window)

    def _new(
        self, connection: Connection, name: str, text: str, files: Mapping[str, str], label: str, window: str
    ) -> State:
        id, now = secrets.token_hex(8), now_ms()  # noqa: A001  # its column
        connection.execute(
            insert(job).values(
                id=id, name=name[:300], format=JOB_FORMAT, program=_PROGRAM, head=1, latest=0, made_ms=now,
                changed_ms=now,
            )
        )  # fmt: skip
        row = get_job(connection, id)
        values = {"parent": None, "label": label[:300], "window": window[:64]}
        return _kept_state(connection, row, text, files, values, name)

    def state(self, id: str, number: int | None = None) -> State:  # noqa: A002  # its column
        """Give a job as it is, or as it was at a revision."""
        with self._reading() as connection:
            return get_state(connection, get_job(connection, id), number)

    def content(self, digest: str) -> bytes:
        """Give a file by its digest."""
        with self._reading() as connection:
            return get_blob(connection, digest)

    def accept(self, id: str, made: Made) -> Accepted:  # noqa: A002  # its column
        """Accept an edit.

        Parameters
        ----------
        id : str
            The job.
        made : Made
            The revision that the edit was made on, and the whole job after it.

        Returns
        -------
        Accepted
            The state after it. Where another window has changed the job since, the two are merged, and
            `merged_with` tells what others did: a window knows its own edits. The same edit sent again by one
            window is accepted once.

        Raises
        ------
        Clash
            Both changed one thing: the job stays as it is, and this edit is kept aside as a revision.
        Missing
            No such job or revision; a deleted job takes no edit.
        """
        with self._writing() as connection:
            row = _living(connection, id)
            added = {path: put_blob(connection, content) for path, content in made.add.items()}
            values = {"label": made.label[:300], "window": held_window(made.window)}
            if made.base == row.head:
                here = get_files(connection, get_revision(connection, id, row.head).files)
                follows = {**values, "parent": row.head}
                return Accepted(
                    _kept_state(connection, row, made.text, {**here, **added}, follows, made.name)
                )
            base = get_state(connection, row, made.base)
            since = self._between(connection, row, base.revision.number)
            earlier = accepted_before(connection, row, base, made, added, since)
            if earlier is not None:
                before = [one for one in since if one.number < earlier.number]
                return Accepted(get_state(connection, row), _of_others(before, made.window))
            merged = self._merge(connection, row, base, made, (added, values, since))
        if isinstance(merged, Clash):
            raise merged
        return merged

    def _merge(
        self,
        connection: Connection,
        row: JobRow,
        base: State,
        made: Made,
        kept: tuple[dict[str, str], dict[str, Any], list[Revision]],
    ) -> Accepted | Clash:
        """Merge an edit made on an older revision into the present one, or keep it aside."""
        added, values, since = kept
        present = get_state(connection, row)
        merge = merge_texts(base.text, made.text, present.text)
        clashes = merge.clashes + tuple(
            path
            for path, digest in added.items()
            if present.files.get(path, digest) not in (digest, base.files.get(path))
        )
        others = _of_others(since, made.window)
        if merge.text is None or clashes:
            files = {**base.files, **added}
            number = aside_before(connection, row, made, files)
            if number is None:
                aside = {"parent": base.revision.number, "aside": True}
                kept_aside = {**values, **_held(connection, made.text, files), **aside}
                number = add_revision(connection, row, kept_aside)[1].number
            what = (
                f"{_who(since, others)} has changed {', '.join(clashes)} since: "
                f"your edit is kept beside the job as revision {number}; look at both, then make it again"
            )
            return Clash(what, row.head, number, clashes)
        values = {**values, "parent": row.head, "merged": True}
        named = str(read_plain(merge.text).get("job", {}).get("name", made.name))
        state = _kept_state(connection, row, merge.text, {**present.files, **added}, values, named)
        return Accepted(state, others)

    def _between(self, connection: Connection, row: JobRow, base: int) -> list[Revision]:
        """What lies between a revision and the present one, newest last."""
        found: list[Revision] = []
        number: int | None = row.head
        while number is not None and number > base:
            one = get_revision(connection, row.id, number)
            found.append(one)
            number = one.parent
        return found[::-1]

    def undo(self, id: str, base: int) -> State:  # noqa: A002  # its column
        """Go back one revision.

        Raises
        ------
        Moved
            Another window has changed the job since, or there is nothing to undo.
        """
        with self._writing() as connection:
            row = _at(connection, id, base, "undo")
            here = get_revision(connection, id, row.head)
            if here.parent is None:
                raise Moved("there is nothing to undo", row.head)
            connection.execute(
                update(revision)
                .where(revision.c.job == id, revision.c.number == here.parent)
                .values(redo=here.number)
            )
            return _named(connection, row, here.parent)

    def redo(self, id: str, base: int) -> State:  # noqa: A002  # its column
        """Go forward again to where the last undo came from; see `undo`."""
        with self._writing() as connection:
            row = _at(connection, id, base, "redo")
            here = get_revision(connection, id, row.head)
            if here.redo is None:
                raise Moved("there is nothing to redo", row.head)
            return _named(connection, row, here.redo)

    def return_to(self, id: str, base: int, number: int, *, window: str = "") -> State:  # noqa: A002  # its column
        """Bring an earlier revision back, as a new one that can be undone."""
        with self._writing() as connection:
            row = _at(connection, id, base, "go back")
            old = get_revision(connection, id, number)
            values = {"label": f"back to revision {number}", "window": window[:64], "parent": row.head}
            row, made = add_revision(connection, row, {**values, "text": old.text, "files": old.files})
            return _named(connection, row, made.number)

    def name_revision(self, id: str, number: int, name: str) -> Revision:  # noqa: A002  # its column
        """Give a revision a name, or take it away with an empty one."""
        with self._writing() as connection:
            get_job(connection, id)
            get_revision(connection, id, number)
            connection.execute(
                update(revision)
                .where(revision.c.job == id, revision.c.number == number)
                .values(name=name.strip()[:200] or None)
            )
            return get_revision(connection, id, number)

    def history(self, id: str) -> list[Revision]:  # noqa: A002  # its column
        """List every revision of a job, the first one first."""
        with self._reading() as connection:
            get_job(connection, id)
            asked = select(revision).where(revision.c.job == id).order_by(revision.c.number)
            return [revision_row(row) for row in connection.execute(asked)]

    def changes(self, id: str, before: int, after: int) -> tuple[Change, ...]:  # noqa: A002  # its column
        """List what differs between two revisions of a job."""
        with self._reading() as connection:
            row = get_job(connection, id)
            texts = [get_state(connection, row, number).text for number in (before, after)]
        return changes_between(read_plain(texts[0]), read_plain(texts[1]))

    def delete(self, id: str) -> JobRow:  # noqa: A002  # its column
        """Delete a job; `restore` brings it back until `purge_deleted` takes it away."""
        return self._set_deleted(id, now_ms())

    def restore(self, id: str) -> JobRow:  # noqa: A002  # its column
        """Bring a deleted job back."""
        return self._set_deleted(id, None)

    def purge_deleted(self, now: int) -> int:
        """Take jobs away for good that were deleted more than `DELETED_KEPT_DAYS` before `now` (ms since 1970)."""
        before = now - DELETED_KEPT_DAYS * DAY_MS
        with self._reading() as connection:
            if not has_old(connection, before):
                return 0
        with self._writing() as connection:
            return purge(connection, before)

    def _set_deleted(self, id: str, when_ms: int | None) -> JobRow:  # noqa: A002  # its column
        with self._writing() as connection:
            get_job(connection, id, lock=True)
            connection.execute(update(job).where(job.c.id == id).values(deleted_ms=when_ms))
            return get_job(connection, id)


def _of_others(revisions: Sequence[Revision], window: str) -> tuple[str, ...]:
    """What other windows than this did; whoever names no window may be another."""
    return _labels([one for one in revisions if not window or one.window != held_window(window)])


def _labels(revisions: Sequence[Revision]) -> tuple[str, ...]:
    """What was done, each said once."""
    return tuple(dict.fromkeys(one.label for one in revisions))


def _who(since: Sequence[Revision], others: Sequence[str]) -> str:
    if since and not others:
        return f"this window itself ({'; '.join(_labels(since))})"
    return f"another window ({'; '.join(others) or 'undo'})"


def _held(connection: Connection, text: str, files: Mapping[str, str]) -> dict[str, str]:
    """Keep a text and a set of files; gives their digests."""
    return {"text": put_blob(connection, text.encode()), "files": put_files(connection, files)}


def _kept_state(
    connection: Connection,
    row: JobRow,
    text: str,
    files: Mapping[str, str],
    values: Mapping[str, Any],
    name: str,
) -> State:
    """Make a text and files the present revision of a job of that name: nothing that is known is read again."""
    all_values = {**values, **_held(connection, text, files)}
    row, one = add_revision(connection, row, all_values, name=name[:300])
    return State(row, one, text, dict(sorted(files.items())))


def _living(connection: Connection, id: str) -> JobRow:  # noqa: A002  # its column
    row = get_job(connection, id, lock=True)
    if row.deleted_ms is not None:
        raise Missing(f'"{row.name}" was deleted: restore it first')
    return row


def _at(connection: Connection, id: str, base: int, what: str) -> JobRow:  # noqa: A002  # its column
    row = _living(connection, id)
    if row.head != base:
        raise Moved(f"another window has changed the job since: look at it, then {what} again", row.head)
    return row


def _named(connection: Connection, row: JobRow, number: int) -> State:
    """Make a revision the present one, the job called as its text says."""
    state = get_state(connection, row, number)
    name = str(read_plain(state.text).get("job", {}).get("name", row.name))
    return replace(state, job=set_head(connection, row, number, name[:300]))


def open_store(wanted: str | URL | None = None) -> JobStore:
    """Open the job store, and bring its database to the newest schema.

    Parameters
    ----------
    wanted : str or URL, optional
        `postgresql+psycopg://user@host/name`, `sqlite:///path`, or a SQLite file's name; left out: a file in
        the user's data folder.

    Raises
    ------
    InputError
        No such kind of store, or its driver is missing.
    StoreFault
        It cannot be reached, is damaged, or a newer version made it.
    """
    url = wanted if isinstance(wanted, URL) else store_url(wanted)
    engine, where = open_engine(url), shown_url(url)
    try:
        with (
            spoken_faults(where),
            engine.connect().execution_options(writes=True) as connection,
            connection.begin(),
        ):
            migrate(connection, where)
    except BaseException:
        engine.dispose()
        raise
    return JobStore(engine, where)
