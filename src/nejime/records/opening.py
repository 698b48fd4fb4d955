"""Opening a store's file: made if it is missing, brought up to date if it is old.

*Saved* means written to the disk: a write-ahead log that is synchronised at every commit. What was
saved outlives the program being killed and the power going off, as far as the disk keeps its word.
Source: SQLite's pages on PRAGMA, on write-ahead logging and on isolation; docs/decisions/0013.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any, Literal

from sqlalchemy import URL, Connection, Engine, create_engine, event, func, select
from sqlalchemy.exc import DatabaseError, OperationalError
from sqlalchemy.pool import NullPool

from nejime.records.schema import REVISION, libraries

BUSY_MS = 5000  # [own] another program's commit takes milliseconds; after this something is wrong
PRAGMAS = {  # the patience first: the others may have to wait
    "busy_timeout": BUSY_MS,
    "journal_mode": "WAL",
    "synchronous": "FULL",
    "fullfsync": "ON",  # what "on the disk" means on macOS; nothing elsewhere
    "foreign_keys": "ON",
    "secure_delete": "ON",  # what is erased is overwritten, not only let go
}
WRITING = "IMMEDIATE"
"""A writer takes its place at the beginning: it cannot be refused halfway (SQLite, "Isolation")."""


class CannotOpen(Exception):
    """A file that cannot be opened as a store; it was not changed.

    `why`: `newer` (a later release wrote it), `not-a-store` (another program's, or no database),
    `unreachable` (the folder or file cannot be made, read or written).
    """

    def __init__(self, path: Path, why: Literal["newer", "not-a-store", "unreachable"]) -> None:
        self.path, self.why = path, why
        super().__init__(f"{path}: {why}")


def open_engine(path: Path) -> tuple[Engine, int]:
    """An engine on an up-to-date file, and the id of its first library. Raises `CannotOpen`."""
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)  # it will hold people's names
        if stamp(path) != REVISION:
            migrate(path)
        engine = engine_on(path, **PRAGMAS)
        with engine.begin() as connection:
            return engine, connection.scalars(select(func.min(libraries.c.id))).one()
    except (OSError, sqlite3.OperationalError, OperationalError) as trouble:
        raise CannotOpen(path, "unreachable") from trouble
    except (sqlite3.DatabaseError, DatabaseError) as trouble:
        raise CannotOpen(path, "not-a-store") from trouble


def stamp(path: Path) -> str | None:
    """The migration at which the file stands; none for a new file. Raises `CannotOpen`."""
    if not path.exists():
        return None
    with closing(sqlite3.connect(path)) as file:
        tables = {name for (name,) in file.execute("SELECT name FROM sqlite_master")}
        if not tables:
            return None
        if "alembic_version" not in tables:
            raise CannotOpen(path, "not-a-store")
        row = file.execute("SELECT version_num FROM alembic_version").fetchone()
    if row is None or not row[0].startswith("nejime_"):
        raise CannotOpen(path, "not-a-store")
    if row[0] > REVISION:
        raise CannotOpen(path, "newer")
    return str(row[0])


def migrate(path: Path, to: str = "head") -> None:
    """Bring a file to a migration, all steps in one transaction: wholly or not at all.

    Foreign keys are not watched meanwhile, because a table is changed by making it anew, but they
    are looked through before the end (SQLite, "Making other kinds of table schema changes").
    """
    from alembic import command  # late: it is slow, and hardly ever needed
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", "nejime.records:migrations")
    engine = engine_on(path, poolclass=NullPool, **PRAGMAS | {"foreign_keys": "OFF"})
    with writing(engine).begin() as connection:
        config.attributes["connection"] = connection
        step = command.downgrade if to == "base" else command.upgrade
        step(config, to)
        if broken := connection.exec_driver_sql("PRAGMA foreign_key_check").all():
            raise RuntimeError(f"a migration left rows without what they belong to: {broken}")
    engine.dispose()


def engine_on(path: Path, poolclass: Any = None, **pragmas: object) -> Engine:
    """An engine whose every connection has the pragmas and begins its transactions itself."""
    engine = create_engine(
        URL.create("sqlite", database=str(path)),
        poolclass=poolclass,
        connect_args={"check_same_thread": False},  # the pool lends it to one thread at a time
    )

    @event.listens_for(engine, "connect")
    def prepare(connection: sqlite3.Connection, _: object) -> None:
        connection.isolation_level = None  # Python would begin late, and not for tables
        for name, value in pragmas.items():
            connection.execute(f"PRAGMA {name} = {value}")

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        how = connection.get_execution_options().get("begin", "DEFERRED")
        connection.exec_driver_sql(f"BEGIN {how}")

    return engine


def writing(engine: Engine) -> Engine:
    """The same engine, for transactions that write."""
    return engine.execution_options(begin=WRITING)
