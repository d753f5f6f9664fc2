"""Edits that were sent before: their answer was lost, and the window sends them again as they were."""

from collections.abc import Mapping, Sequence

from sqlalchemy import Connection, select

from fencewright.edits.merging import merge_texts
from fencewright.store.records import JobRow, Made, Revision, State
from fencewright.store.rows import digest_of, get_state, revision_row, set_digest
from fencewright.store.schema import held_window, revision


def accepted_before(
    connection: Connection,
    row: JobRow,
    base: State,
    made: Made,
    added: Mapping[str, str],
    since: Sequence[Revision],
) -> Revision | None:
    """Find the revision that an edit became when it was sent before.

    Parameters
    ----------
    connection : Connection
        In a transaction.
    row : JobRow
        The job.
    base : State
        The revision that the edit was made on.
    made : Made
        The edit; one that names no window was never sent before.
    added : mapping of str to str
        Digest of each new file by its path.
    since : sequence of Revision
        What lies between the base and the present revision: an edit that was undone since is not among it.

    Returns
    -------
    Revision or None
        One by the same window that holds what the edit made, or what came of it when it was merged.
    """
    window = held_window(made.window)
    for one in since if window else ():
        if one.window != window:
            continue
        if one.parent == made.base and _holds(one, made.text, {**base.files, **added}):
            return one
        if one.merged and one.parent is not None:
            other = get_state(connection, row, one.parent)
            merge = merge_texts(base.text, made.text, other.text)
            if merge.text is not None and _holds(one, merge.text, {**other.files, **added}):
                return one
    return None


def aside_before(connection: Connection, row: JobRow, made: Made, files: Mapping[str, str]) -> int | None:
    """Find the number of the revision under which an edit that clashes was kept aside when it was sent before."""
    asked = select(revision).where(
        revision.c.job == row.id,
        revision.c.parent == made.base,
        revision.c.window == made.window[:64],
        revision.c.aside.is_(True),
    )
    found = (revision_row(one) for one in connection.execute(asked)) if made.window else ()
    return next((one.number for one in found if _holds(one, made.text, files)), None)


def _holds(one: Revision, text: str, files: Mapping[str, str]) -> bool:
    return one.text == digest_of(text.encode()) and one.files == set_digest(files)
