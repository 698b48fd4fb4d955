"""The tables of a store, and moments that are never without their zone.

Model: whatever the teacher keeps is a *document*; its *versions* form a tree by their parents, and
the document points at one of them. Long work is a *job*; its *answer* is apart, because papers are
large. Everything belongs to a library.

The tables are made by the migrations; a test holds both to the same.
Source: docs/decisions/0013.
"""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Column,
    DateTime,
    Dialect,
    Float,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
)
from sqlalchemy.types import TypeDecorator

REVISION = "nejime_0001"
"""The newest migration: a file stamped with it is opened without looking for any."""


class Moment(TypeDecorator[datetime]):
    """A point in time with its zone; kept in UTC, because SQLite keeps no zone.

    Raises `ValueError` (inside SQLAlchemy's `StatementError`) for a time without a zone.
    """

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """What is written."""
        if value is None:
            return None
        if value.utcoffset() is None:
            raise ValueError(f"a moment needs its zone: {value!r}")
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """What is read: SQLite gives no zone, PostgreSQL that of the connection."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "pk": "pk_%(table_name)s",
    }
)

libraries = Table(
    "libraries",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", String, nullable=False),
)

documents = Table(
    "documents",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("library_id", ForeignKey("libraries.id"), nullable=False),
    Column("kind", String, nullable=False),
    Column("name", String, nullable=False),
    # The current version. Not a foreign key: the two tables would have to be filled at once.
    Column("version", Integer, nullable=False),
    Column("changed_at", Moment, nullable=False),
    Column("removed_at", Moment),
    Index(None, "library_id", "kind", "changed_at"),
    sqlite_autoincrement=True,  # an id is never given twice
)

versions = Table(
    "versions",
    metadata,
    Column("document_id", ForeignKey("documents.id"), primary_key=True),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("parent", Integer),
    Column("content", Text, nullable=False),
    Column("at", Moment, nullable=False),
    ForeignKeyConstraint(["document_id", "parent"], ["versions.document_id", "versions.number"]),
    CheckConstraint("parent < number", name="older_parent"),
    Index(None, "document_id", "parent"),
)

jobs = Table(
    "jobs",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("library_id", ForeignKey("libraries.id"), nullable=False),
    Column("kind", String, nullable=False),
    Column("question", Text, nullable=False),
    Column("asked_hash", String, nullable=False),
    Column("state", String, nullable=False),
    Column("progress", Float, nullable=False),
    Column("says", Text),
    Column("stop_wanted", Boolean, nullable=False),
    Column("takes", Integer, nullable=False),
    Column("asked_at", Moment, nullable=False),
    Column("taken_at", Moment),
    Column("told_at", Moment),
    Column("ended_at", Moment),
    CheckConstraint(
        "state IN ('waiting', 'running', 'done', 'failed', 'stopped')", name="known_state"
    ),
    CheckConstraint("progress BETWEEN 0 AND 1", name="progress"),
    Index(None, "state"),
    Index(None, "library_id", "asked_hash"),
    sqlite_autoincrement=True,
)

answers = Table(
    "answers",
    metadata,
    Column("job_id", ForeignKey("jobs.id", ondelete="CASCADE"), primary_key=True),
    Column("content", Text),
    Column("data", LargeBinary),
    CheckConstraint("(content IS NULL) <> (data IS NULL)", name="one_of_both"),
)
