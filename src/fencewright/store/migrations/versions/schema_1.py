"""Schema 1: jobs, their revisions, and the files that they hold by digest."""

import sqlalchemy as sa
from alembic import op

revision = "1"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "blob",
        sa.Column("digest", sa.String(64), primary_key=True),
        sa.Column("size", sa.BigInteger, nullable=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "file_set",
        sa.Column("digest", sa.String(64), primary_key=True),
        sa.Column("path", sa.String(300), primary_key=True),
        sa.Column("blob", sa.String(64), sa.ForeignKey("blob.digest"), nullable=False),
    )
    op.create_table(
        "job",
        sa.Column("id", sa.String(32), primary_key=True),
        sa.Column("name", sa.String(300), nullable=False),
        sa.Column("format", sa.Integer, nullable=False),
        sa.Column("program", sa.String(40), nullable=False),
        sa.Column("head", sa.Integer, nullable=False),
        sa.Column("latest", sa.Integer, nullable=False),
        sa.Column("made_ms", sa.BigInteger, nullable=False),
        sa.Column("changed_ms", sa.BigInteger, nullable=False),
        sa.Column("deleted_ms", sa.BigInteger, nullable=True),
    )
    op.create_index("job_by_change", "job", ["changed_ms"])
    op.create_table(
        "revision",
        sa.Column("job", sa.String(32), sa.ForeignKey("job.id"), primary_key=True),
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("parent", sa.Integer, nullable=True),
        sa.Column("redo", sa.Integer, nullable=True),
        sa.Column("label", sa.String(300), nullable=False),
        sa.Column("name", sa.String(200), nullable=True),
        sa.Column("window", sa.String(64), nullable=False),
        sa.Column("aside", sa.Boolean, nullable=False),
        sa.Column("merged", sa.Boolean, nullable=False),
        sa.Column("text", sa.String(64), sa.ForeignKey("blob.digest"), nullable=False),
        sa.Column("files", sa.String(64), nullable=False),
        sa.Column("made_ms", sa.BigInteger, nullable=False),
    )
