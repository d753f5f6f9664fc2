"""Tables of the job store; `migrations` makes them, and a test compares the two."""

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
)

JOB_FORMAT = 1
"""Format of the jobs that this version writes."""

metadata = MetaData()

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
    Column("path", String(300), primary_key=True),
    Column("blob", String(64), ForeignKey("blob.digest"), nullable=False),
)
job = Table(
    "job",
    metadata,
    Column("id", String(32), primary_key=True),
    Column("name", String(300), nullable=False),
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
    Column("job", String(32), ForeignKey("job.id"), primary_key=True),
    Column("number", Integer, primary_key=True),
    Column("parent", Integer, nullable=True),
    Column("redo", Integer, nullable=True),
    Column("label", String(300), nullable=False),
    Column("name", String(200), nullable=True),
    Column("window", String(64), nullable=False),
    Column("aside", Boolean, nullable=False),
    Column("merged", Boolean, nullable=False),
    Column("text", String(64), ForeignKey("blob.digest"), nullable=False),
    Column("files", String(64), nullable=False),
    Column("made_ms", BigInteger, nullable=False),
)
Index("job_by_change", job.c.changed_ms)
