"""Tables of the job store; `migrations` makes them, and a test compares the two."""

from typing import Any

from sqlalchemy import (
    BigInteger,
    Boolean,
    Column,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    TypeDecorator,
)

JOB_FORMAT = 1
"""Format of the jobs that this version writes."""

_LONGEST_WINDOW = 64

metadata = MetaData()


def held(text: str) -> str:
    """Give a text as every database can hold it: PostgreSQL has no zero character."""
    return text.replace("\0", "\ufffd")


def held_window(window: str) -> str:
    """Give the name of a window as a revision holds it."""
    return held(window[:_LONGEST_WINDOW])


class Words(TypeDecorator[str]):
    """Text that is kept, and looked for, as `held` gives it."""

    impl = String
    cache_ok = True

    def process_bind_param(self, value: str | None, dialect: Any) -> str | None:
        """Give what is written, or looked for."""
        return held(value) if value else value


blob = Table(
    "blob",
    metadata,
    Column("digest", String(64), primary_key=True),
    Column("size", BigInteger, nullable=False),
    Column("content", LargeBinary, nullable=False),
)
file_set = Table(
    "file_set",
    metadata,
    Column("digest", String(64), primary_key=True),
    Column("path", Words(300), primary_key=True),
    Column("blob", String(64), ForeignKey("blob.digest"), nullable=False),
)
job = Table(
    "job",
    metadata,
    Column("id", Words(32), primary_key=True),
    Column("name", Words(300), nullable=False),
    Column("format", Integer, nullable=False),
    Column("program", String(40), nullable=False),
    Column("head", Integer, nullable=False),
    Column("latest", Integer, nullable=False),
    Column("made_ms", BigInteger, nullable=False),
    Column("changed_ms", BigInteger, nullable=False),
    Column("deleted_ms", BigInteger, nullable=True),
)
revision = Table(
    "revision",
    metadata,
    Column("job", Words(32), ForeignKey("job.id"), primary_key=True),
    Column("number", Integer, primary_key=True),
    Column("parent", Integer, nullable=True),
    Column("redo", Integer, nullable=True),
    Column("label", Words(300), nullable=False),
    Column("name", Words(200), nullable=True),
    Column("window", Words(_LONGEST_WINDOW), nullable=False),
    Column("aside", Boolean, nullable=False),
    Column("merged", Boolean, nullable=False),
    Column("text", String(64), ForeignKey("blob.digest"), nullable=False),
    Column("files", String(64), nullable=False),
    Column("made_ms", BigInteger, nullable=False),
)
Index("job_by_change", job.c.changed_ms)
