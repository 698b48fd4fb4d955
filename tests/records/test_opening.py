"""Files that are missing, old, new, foreign or out of reach; and how a file is kept."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import Engine

from nejime.records import CannotKeep, CannotOpen, Store, open_store
from nejime.records.opening import BUSY_MS, open_engine, writing


def test_folder_file_and_library_are_made(path: Path) -> None:
    with open_store(str(path)) as store:
        assert store.library_name == ""
    assert path.is_file()


@pytest.mark.source(
    "hand",
    "SQLite, PRAGMA synchronous: FULL is 2, and with it a commit to the write-ahead log is "
    "durable; PRAGMA foreign_keys: on is 1, off by default; PRAGMA fullfsync: on is 1",
)
@pytest.mark.parametrize(
    ("pragma", "value"),
    [
        ("journal_mode", "wal"),
        ("synchronous", 2),
        ("foreign_keys", 1),
        ("fullfsync", 1),
        ("busy_timeout", BUSY_MS),
    ],
)
def test_every_connection_keeps_what_it_commits(path: Path, pragma: str, value: object) -> None:
    engine, _ = open_engine(path)
    with engine.connect() as one, engine.connect() as two, writing(engine).connect() as three:
        for connection in (one, two, three):
            assert connection.exec_driver_sql(f"PRAGMA {pragma}").scalar_one() == value
    engine.dispose()


@pytest.fixture
def engine(path: Path) -> Engine:
    return open_engine(path)[0]


@pytest.mark.source(
    "hand", "SQLite, BEGIN IMMEDIATE: a write begins at once, others may read and not write"
)
def test_a_writer_has_its_place_from_the_beginning(engine: Engine, path: Path) -> None:
    with (
        writing(engine).begin(),
        closing(sqlite3.connect(path, timeout=0)) as other,
    ):
        assert other.execute("SELECT count(*) FROM libraries").fetchone() == (1,)
        with pytest.raises(sqlite3.OperationalError, match="locked"):
            other.execute("INSERT INTO libraries (name) VALUES ('other')")
    engine.dispose()


def test_a_reader_holds_nobody_up(engine: Engine, path: Path) -> None:
    with engine.begin() as reader, closing(sqlite3.connect(path, timeout=0)) as other:
        assert reader.exec_driver_sql("SELECT count(*) FROM libraries").scalar_one() == 1
        other.execute("INSERT INTO libraries (name) VALUES ('other')")
        other.commit()
        assert reader.exec_driver_sql("SELECT count(*) FROM libraries").scalar_one() == 1
    engine.dispose()


def test_what_cannot_be_kept_is_said(store: Store, path: Path) -> None:
    piece = store.add("piece", "a", {})
    with closing(sqlite3.connect(path)) as other:
        other.execute("DROP TABLE versions")
    with pytest.raises(CannotKeep, match="versions"):
        store.save(piece.id, {"x": 1}, base=1)


def test_a_full_disk_loses_nothing_that_was_saved(store: Store, path: Path) -> None:
    piece = store.add("piece", "a", {"x": 1})
    with store._reading() as shelf:  # the nearest to a full disk that SQLite offers
        shelf.connection.exec_driver_sql("PRAGMA max_page_count = 1")
    with pytest.raises(CannotKeep, match="full"):
        store.save(piece.id, {"x": "." * 1_000_000}, base=1)
    assert store.get(piece.id) == piece


@pytest.mark.parametrize("put", [Path.unlink, lambda path: path.write_bytes(b"?" * 5000)])
def test_a_file_that_was_taken_away_or_spoilt_is_said(
    store: Store, path: Path, put: Callable[[Path], object]
) -> None:
    piece = store.add("piece", "a", {})
    store.close()
    put(path)
    with pytest.raises(CannotKeep):
        store.get(piece.id)


@pytest.mark.parametrize(
    "content", [b"Quince, forsythia, three tulips. " * 99, b"SQLite format 3\0 but no more"]
)
def test_a_file_of_another_kind_is_refused_and_left_as_it_was(
    tmp_path: Path, content: bytes
) -> None:
    path = tmp_path / "list.txt"
    path.write_bytes(content)
    with pytest.raises(CannotOpen) as refused:
        open_store(path)
    assert refused.value.why == "not-a-store"
    assert path.read_bytes() == content


@pytest.mark.parametrize(
    "tables",
    [
        "CREATE TABLE addresses (name)",
        "CREATE TABLE alembic_version (version_num)",
        "CREATE TABLE alembic_version (version_num); INSERT INTO alembic_version VALUES ('ab12')",
    ],
)
def test_another_programs_database_is_refused_and_left_as_it_was(
    tmp_path: Path, tables: str
) -> None:
    path = tmp_path / "other.sqlite"
    with closing(sqlite3.connect(path)) as other:
        other.executescript(tables)
    content = path.read_bytes()
    with pytest.raises(CannotOpen) as refused:
        open_store(path)
    assert refused.value.why == "not-a-store"
    assert path.read_bytes() == content


def test_a_file_of_a_later_release_is_refused(store: Store, path: Path) -> None:
    store.close()
    with closing(sqlite3.connect(path)) as file:
        file.execute("UPDATE alembic_version SET version_num = 'nejime_9999'")
        file.commit()
    with pytest.raises(CannotOpen) as refused:
        open_store(path)
    assert refused.value.why == "newer"


def test_a_folder_is_no_file_and_a_file_no_folder(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    for place in (tmp_path, tmp_path / "file" / "kept.sqlite"):
        with pytest.raises(CannotOpen) as refused:
            open_store(place)
        assert refused.value.why == "unreachable"


def test_an_empty_file_becomes_a_store(tmp_path: Path) -> None:
    path = tmp_path / "kept.sqlite"
    path.touch()
    with open_store(path) as store:
        assert store.all("piece") == ()


OPENS = """
import sys
from nejime.records import open_store
with open_store(sys.argv[1]):
    print(*sorted({"alembic", "sqlalchemy.orm"} & set(sys.modules)))
"""


def test_only_an_old_or_new_file_waits_for_the_migrations(path: Path) -> None:
    said = [
        subprocess.run(
            [sys.executable, "-c", OPENS, str(path)], check=True, capture_output=True, text=True
        ).stdout.split()
        for _ in range(2)
    ]
    assert "alembic" in said[0]
    assert said[1] == []
