"""Moments with their zone; tables that the migrations make and the tables that the code knows."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta, timezone
from importlib.resources import files
from pathlib import Path

import pytest
from alembic import op
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import Column, MetaData, Table, create_engine, insert, select
from sqlalchemy.exc import IntegrityError, StatementError

from nejime.records.opening import engine_on, migrate, open_engine, stamp, writing
from nejime.records.schema import REVISION, Moment, jobs, metadata, versions

MOMENTS = Table("moments", MetaData(), Column("at", Moment))


def kept(moment: datetime | None) -> datetime | None:
    """A moment after a way through a database."""
    engine = create_engine("sqlite://")
    MOMENTS.metadata.create_all(engine)
    with engine.begin() as connection:
        connection.execute(insert(MOMENTS).values(at=moment))
        back = connection.execute(select(MOMENTS.c.at)).scalar_one()
    engine.dispose()
    return back


@pytest.mark.source(
    "hand", "RFC 3339, section 4.2: 1996-12-19T16:39:57-08:00 is 1996-12-20T00:39:57Z"
)
def test_a_moment_is_kept_in_utc() -> None:
    back = kept(datetime.fromisoformat("1996-12-19T16:39:57-08:00"))
    assert back is not None
    assert back.isoformat() == "1996-12-20T00:39:57+00:00"


zones = st.integers(-23 * 60, 23 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))


@given(st.datetimes(datetime(1900, 1, 2), datetime(2200, 1, 1), timezones=zones))
def test_every_moment_comes_back_as_the_same_moment(moment: datetime) -> None:
    back = kept(moment)
    assert back == moment
    assert back.tzinfo is UTC


def test_no_moment_stays_none() -> None:
    assert kept(None) is None


def test_a_moment_without_a_zone_is_refused() -> None:
    with pytest.raises(StatementError, match="needs its zone"):
        kept(datetime(2026, 3, 1, 9, 0))


def tables_of(path: Path) -> dict[str, str]:
    """How each table and index of a file is made, in SQL."""
    with closing(sqlite3.connect(path)) as file:
        rows = file.execute("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL").fetchall()
    return {name: " ".join(sql.split()) for name, sql in rows if name != "alembic_version"}


def test_the_migrations_make_the_tables_that_the_code_knows(tmp_path: Path) -> None:
    migrate(tmp_path / "migrated.sqlite")
    engine = engine_on(tmp_path / "made.sqlite")
    metadata.create_all(engine)
    engine.dispose()
    assert tables_of(tmp_path / "migrated.sqlite") == tables_of(tmp_path / "made.sqlite")


def test_a_new_migration_would_be_empty(path: Path) -> None:
    engine, _ = open_engine(path)
    with engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), metadata) == []
    engine.dispose()


def test_a_table_that_no_migration_makes_would_be_found(path: Path) -> None:
    more = MetaData()
    for table in metadata.sorted_tables:
        table.to_metadata(more)
    Table("forgotten", more, Column("at", Moment))
    engine, _ = open_engine(path)
    with engine.connect() as connection:
        assert len(compare_metadata(MigrationContext.configure(connection), more)) == 1
    engine.dispose()


def test_the_newest_migration_is_the_one_that_the_code_expects(path: Path) -> None:
    script = ScriptDirectory(str(files("nejime.records") / "migrations"))
    assert script.get_current_head() == REVISION
    in_order = [step.revision for step in script.walk_revisions()]
    assert in_order == sorted(in_order, reverse=True)  # `stamp` tells newer from older by name
    open_engine(path)[0].dispose()
    assert stamp(path) == REVISION


def test_down_to_nothing_and_up_again(tmp_path: Path) -> None:
    path = tmp_path / "kept.sqlite"
    migrate(path)
    full = tables_of(path)
    migrate(path, to="base")
    assert set(tables_of(path)) <= {"sqlite_sequence"}
    migrate(path)
    assert tables_of(path) == full


def test_a_migration_that_fails_leaves_the_file_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise OSError("the lights went out")

    path = tmp_path / "kept.sqlite"
    monkeypatch.setattr(op, "create_index", broken)
    with pytest.raises(OSError, match="lights"):
        migrate(path)
    assert tables_of(path) == {}
    monkeypatch.undo()
    migrate(path)
    assert "documents" in tables_of(path)


@pytest.mark.parametrize(
    "change",
    [
        versions.insert().values(
            document_id=99, number=1, content="{}", at=datetime(2026, 3, 1, tzinfo=UTC)
        ),
        jobs.insert().values(
            library_id=1,
            kind="print",
            question="{}",
            asked_hash="",
            state="asleep",
            progress=0,
            stop_wanted=False,
            takes=0,
            asked_at=datetime(2026, 3, 1, tzinfo=UTC),
        ),
    ],
    ids=["a version of nothing", "a state that is none"],
)
def test_the_file_itself_refuses_what_makes_no_sense(path: Path, change: object) -> None:
    engine, _ = open_engine(path)
    with (
        pytest.raises(IntegrityError, match="constraint failed"),
        writing(engine).begin() as connection,
    ):
        connection.execute(change)
    engine.dispose()
