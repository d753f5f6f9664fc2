"""Faults of the job store, each in one sentence."""

import errno
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DatabaseError, DBAPIError, OperationalError, SQLAlchemyError

from fencewright.findings import InternalFault

_FULL = ("disk is full", "no space left", "disk full", "could not extend file")
_DAMAGED = ("malformed", "not a database", "disk i/o error", "corrupt", "invalid page")
_BUSY = ("database is locked", "lock timeout", "deadlock")


class StoreFault(InternalFault):
    """A fault of the store: one sentence, and a short `code` for the page."""

    def __init__(self, sentence: str, code: str) -> None:
        self.code = code
        super().__init__(sentence)


@contextmanager
def spoken_faults(where: str) -> Iterator[None]:
    """Turn what a database or disk throws into one sentence.

    Raises
    ------
    StoreFault
        `disk-full`, `damaged-store`, `busy-store` or `no-store`; nothing that was accepted earlier is lost.
    """
    try:
        yield
    except SQLAlchemyError as error:
        raise _spoken(where, error) from error
    except OSError as error:
        if error.errno in (errno.ENOSPC, errno.EDQUOT):
            raise full_disk(where) from error
        raise StoreFault(f"{where}: it cannot be used ({error.strerror or error})", "no-store") from error


def full_disk(where: str) -> StoreFault:
    """Give the sentence for a full disk."""
    return StoreFault(
        f"{where}: the disk is full: the last accepted edit is kept; make room, then do it again", "disk-full"
    )


def _spoken(where: str, error: SQLAlchemyError) -> StoreFault:
    said = str(error.orig) if isinstance(error, DBAPIError) else str(error)
    low = said.lower()
    if any(words in low for words in _FULL):
        return full_disk(where)
    if any(words in low for words in _DAMAGED):
        return StoreFault(
            f"{where}: the job store is damaged: put back a copy of it, or name another with --store; "
            "jobs taken away earlier can be imported again",
            "damaged-store",
        )
    if any(words in low for words in _BUSY):
        return StoreFault(
            f"{where}: another program holds the job store: the last accepted edit is kept; try again",
            "busy-store",
        )
    if isinstance(error, OperationalError | DatabaseError):
        first = said.strip().splitlines()[0] if said.strip() else type(error).__name__
        return StoreFault(f"{where}: the job store cannot be used ({first})", "no-store")
    return StoreFault(f"{where}: the job store cannot be used ({type(error).__name__})", "no-store")
