"""The store: every act of the teacher on what she keeps is one transaction here.

Safe for many threads of one process and for several processes on one file; a new process opens the
store itself. When a method returns, what it did is on the disk.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import TracebackType
from typing import Self

from sqlalchemy import Engine, select, update
from sqlalchemy.exc import DatabaseError

from nejime.basis.sayings import Saying
from nejime.records import documents, jobs
from nejime.records.documents import Conflict, Document, Missing, Shelf, Version
from nejime.records.jobs import Job
from nejime.records.opening import open_engine, writing
from nejime.records.schema import libraries
from nejime.records.writing import Content

Clock = Callable[[], datetime]
BEYOND = 2**63  # [hand] the first whole number for which a row of the file has no room


class CannotKeep(Exception):
    """Neither written nor read: the disk is full or gone, or another program holds the file."""


def utc_now() -> datetime:
    """The moment, with its zone."""
    return datetime.now(UTC)


def open_store(path: Path | str, now: Clock = utc_now) -> Store:
    """Open the store in this file; file, folder and first library are made if missing.

    `now` must give moments with a zone. Raises `CannotOpen`.
    """
    engine, library_id = open_engine(Path(path))
    return Store(engine, now, library_id)


class Store:
    """All that is kept for one library. Close it, or use it in a `with` statement."""

    def __init__(self, engine: Engine, now: Clock, library_id: int) -> None:
        self._reader = engine
        self._writer = writing(engine)
        self._now = now
        self.library_id = library_id

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        trouble: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file."""
        self._reader.dispose()

    @property
    def file(self) -> str:
        """The file in which everything is."""
        return self._reader.url.database or ""

    @contextmanager
    def _shelf(self, engine: Engine) -> Iterator[Shelf]:
        try:
            with engine.begin() as connection:
                yield Shelf(connection, self.library_id, self._now())
        except (DatabaseError, sqlite3.Error) as trouble:  # the latter while connecting
            raise CannotKeep(str(getattr(trouble, "orig", trouble))) from trouble
        except OverflowError as trouble:  # a number in an address, too large for any document
            raise Missing("document", BEYOND) from trouble

    def _reading(self) -> AbstractContextManager[Shelf]:
        return self._shelf(self._reader)

    def _writing(self) -> AbstractContextManager[Shelf]:
        return self._shelf(self._writer)

    # Libraries

    @property
    def library_name(self) -> str:
        """What the library is called; empty until it is named."""
        with self._reading() as shelf:
            named = select(libraries.c.name).where(libraries.c.id == self.library_id)
            name: str = shelf.connection.scalars(named).one()
            return name

    def name_library(self, name: str) -> None:
        """Give the library a name."""
        with self._writing() as shelf:
            named = update(libraries).where(libraries.c.id == self.library_id)
            shelf.connection.execute(named.values(name=name))

    # Documents

    def add(self, kind: str, name: str, content: Content) -> Document:
        """A new document, its content being version 1."""
        with self._writing() as shelf:
            return documents.add(shelf, kind, name, content)

    def only(self, kind: str, name: str, content: Content) -> Document:
        """The document of a kind of which there is one (settings), made so if there is none."""
        with self._writing() as shelf:
            return documents.only(shelf, kind, name, content)

    def get(self, document_id: int) -> Document:
        """A document, removed or not. Raises `Missing`."""
        with self._reading() as shelf:
            return documents.get(shelf, document_id)

    def all(self, kind: str) -> tuple[Document, ...]:
        """The documents of a kind that are not removed, the last changed first."""
        with self._reading() as shelf:
            return documents.listed(shelf, kind, removed=False)

    def removed(self, kind: str) -> tuple[Document, ...]:
        """The removed documents of a kind, which `restore` puts back, the last changed first."""
        with self._reading() as shelf:
            return documents.listed(shelf, kind, removed=True)

    def save(
        self, document_id: int, content: Content, base: int, name: str | None = None
    ) -> Document | Conflict:
        """A new version made from version `base`; a `Conflict` if that is no longer current.

        Content equal to the current one makes no version and is never in conflict, so that a save
        whose answer was lost can be sent again. Raises `Missing`.
        """
        with self._writing() as shelf:
            return documents.save(shelf, document_id, content, base, name)

    def undo(self, document_id: int) -> Document:
        """Back to where the current version came from, if anywhere. Raises `Missing`."""
        with self._writing() as shelf:
            return documents.undo(shelf, document_id)

    def redo(self, document_id: int) -> Document:
        """On to the newest version made from this one, if any. Raises `Missing`."""
        with self._writing() as shelf:
            return documents.redo(shelf, document_id)

    def go_to(self, document_id: int, version: int) -> Document:
        """To any version that the document ever had. Raises `Missing`."""
        with self._writing() as shelf:
            return documents.go_to(shelf, document_id, version)

    def versions(self, document_id: int) -> tuple[Version, ...]:
        """All versions of a document, the newest first. Raises `Missing`."""
        with self._reading() as shelf:
            return documents.history(shelf, document_id)

    def rename(self, document_id: int, name: str) -> Document:
        """Another name, which makes no version. Raises `Missing`."""
        with self._writing() as shelf:
            return documents.rename(shelf, document_id, name)

    def copy(self, document_id: int, name: str) -> Document:
        """A new document with the current content of this one. Raises `Missing`."""
        with self._writing() as shelf:
            return documents.copy(shelf, document_id, name)

    def remove(self, document_id: int) -> Document:
        """Take a document off the lists; it is kept. Raises `Missing`."""
        with self._writing() as shelf:
            return documents.put_away(shelf, document_id, removed=True)

    def restore(self, document_id: int) -> Document:
        """Put a removed document back. Raises `Missing`."""
        with self._writing() as shelf:
            return documents.put_away(shelf, document_id, removed=False)

    def erase(self, document_id: int) -> None:
        """Wipe a document and all it ever was; nothing brings it back. Raises `Missing`."""
        with self._writing() as shelf:
            documents.erase(shelf, document_id)

    # Jobs, as a page sees them

    def ask(self, kind: str, question: Content, *, fresh: bool = False) -> Job:
        """A job for this question: one that is done or on its way, or else (or if `fresh`) new.

        The question must hold everything on which the answer depends, the program's version too.
        """
        with self._writing() as shelf:
            return jobs.ask(shelf, kind, question, fresh=fresh)

    def job(self, job_id: int) -> Job:
        """A job with its answer, if it has one. Raises `Missing`."""
        with self._reading() as shelf:
            return jobs.get(shelf, job_id)

    def stop(self, job_id: int) -> Job:
        """Stop a waiting job at once, ask a running one to stop. Raises `Missing`."""
        with self._writing() as shelf:
            return jobs.stop(shelf, job_id)

    def clear_jobs(self, before: datetime) -> int:
        """Forget the jobs that ended before a moment, with their answers; how many there were."""
        with self._writing() as shelf:
            return jobs.clear(shelf, before)

    # Jobs, as the worker sees them: those of every library

    def take(self) -> Job | None:
        """The job that waits longest, now running, for this worker alone; none if none waits."""
        with self._reading() as shelf:
            if not jobs.any_waiting(shelf):  # a worker asks often, and must not hold up a save
                return None
        with self._writing() as shelf:
            return jobs.take(shelf)

    def tell(self, job_id: int, progress: float, says: Saying | None = None) -> bool:
        """Note how far a job is, 0 to 1; whether it shall stop. Raises `Missing`."""
        with self._writing() as shelf:
            return jobs.tell(shelf, job_id, progress, says)

    def finish(self, job_id: int, answer: object) -> None:
        """Keep the answer: JSON, bytes, or `None`. The job is done, or stopped if that was wanted.

        Raises `Missing`.
        """
        with self._writing() as shelf:
            jobs.finish(shelf, job_id, answer)

    def fail(self, job_id: int, says: Saying) -> None:
        """End a job that cannot be answered, and say why. Raises `Missing`."""
        with self._writing() as shelf:
            jobs.fail(shelf, job_id, says)

    def revive(self, silent_s: float = 0.0, says: Saying | None = None) -> int:
        """Let jobs wait again whose worker told nothing for so many seconds; how many there were.

        A worker calls it when it begins. A job taken three times already fails, with `says`.
        """
        with self._writing() as shelf:
            return jobs.revive(shelf, timedelta(seconds=silent_s), says)
