"""Libraries, documents with their versions, jobs with their answers; and the first library."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "nejime_0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make every table, and a library without a name."""
    libraries = op.create_table(
        "libraries",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_libraries"),
    )
    op.bulk_insert(libraries, [{"name": ""}])
    make_documents()
    make_versions()
    make_jobs()
    make_answers()


def make_documents() -> None:
    """What the teacher keeps."""
    op.create_table(
        "documents",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("library_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("changed_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("removed_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_documents"),
        sa.ForeignKeyConstraint(["library_id"], ["libraries.id"], name="fk_documents_library_id"),
        sqlite_autoincrement=True,
    )
    op.create_index(
        "ix_documents_library_id_kind_changed_at", "documents", ["library_id", "kind", "changed_at"]
    )


def make_versions() -> None:
    """All that a document ever was."""
    op.create_table(
        "versions",
        sa.Column("document_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False, autoincrement=False),
        sa.Column("parent", sa.Integer(), nullable=True),
        sa.Column("content", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("document_id", "number", name="pk_versions"),
        sa.ForeignKeyConstraint(
            ["document_id", "parent"],
            ["versions.document_id", "versions.number"],
            name="fk_versions_document_id_parent",
        ),
        sa.CheckConstraint("parent < number", name=op.f("ck_versions_older_parent")),
        sa.ForeignKeyConstraint(["document_id"], ["documents.id"], name="fk_versions_document_id"),
    )
    op.create_index("ix_versions_document_id_parent", "versions", ["document_id", "parent"])


def make_jobs() -> None:
    """Long work."""
    op.create_table(
        "jobs",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("library_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("question", sa.Text(), nullable=False),
        sa.Column("asked_hash", sa.String(), nullable=False),
        sa.Column("state", sa.String(), nullable=False),
        sa.Column("progress", sa.Float(), nullable=False),
        sa.Column("says", sa.Text(), nullable=True),
        sa.Column("stop_wanted", sa.Boolean(), nullable=False),
        sa.Column("takes", sa.Integer(), nullable=False),
        sa.Column("asked_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("taken_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("told_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_jobs"),
        sa.CheckConstraint(
            "state IN ('waiting', 'running', 'done', 'failed', 'stopped')",
            name=op.f("ck_jobs_known_state"),
        ),
        sa.CheckConstraint("progress BETWEEN 0 AND 1", name=op.f("ck_jobs_progress")),
        sa.ForeignKeyConstraint(["library_id"], ["libraries.id"], name="fk_jobs_library_id"),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_jobs_state", "jobs", ["state"])
    op.create_index("ix_jobs_library_id_asked_hash", "jobs", ["library_id", "asked_hash"])


def make_answers() -> None:
    """What came of long work."""
    op.create_table(
        "answers",
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("content", sa.Text(), nullable=True),
        sa.Column("data", sa.LargeBinary(), nullable=True),
        sa.PrimaryKeyConstraint("job_id", name="pk_answers"),
        sa.CheckConstraint(
            "(content IS NULL) <> (data IS NULL)", name=op.f("ck_answers_one_of_both")
        ),
        sa.ForeignKeyConstraint(
            ["job_id"], ["jobs.id"], name="fk_answers_job_id", ondelete="CASCADE"
        ),
    )


def downgrade() -> None:
    """Back to an empty file; the contents are gone."""
    for table in ("answers", "jobs", "versions", "documents", "libraries"):
        op.drop_table(table)
