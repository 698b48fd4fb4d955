"""Long work: asked for by a page, taken by one worker, told about, stopped, answered.

A job waits, runs, and ends done, failed or stopped. A stopped job may have an answer: the best so
far. Equal questions share a job, so a question must hold everything on which its answer depends.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Literal

from sqlalchemy import Row, Select, and_, case, delete, insert, literal, or_, select, update

from nejime.basis.sayings import Saying
from nejime.records.documents import Missing, Shelf
from nejime.records.schema import Moment, answers, jobs
from nejime.records.writing import (
    Content,
    canonical,
    content_of,
    saying_of,
    text_of,
    text_of_saying,
)

MOST_TAKES = 3  # [own] a job that outlived no worker three times will not outlive the fourth
JobState = Literal["waiting", "running", "done", "failed", "stopped"]


@dataclass(frozen=True, slots=True)
class Job:
    """A piece of long work as it is now. `progress` is from 0 to 1.

    `answer` is whatever `finish` was given, JSON or bytes; none before the end.
    """

    id: int
    library_id: int
    kind: str
    question: dict[str, Any]
    state: JobState
    progress: float
    says: Saying | None
    answer: Any
    stop_wanted: bool
    takes: int
    asked_at: datetime
    taken_at: datetime | None
    told_at: datetime | None
    ended_at: datetime | None


SHOWN = [column for column in jobs.c if column.name != "asked_hash"]


def _wanted() -> Select[Any]:
    found = select(*SHOWN, answers.c.content, answers.c.data)
    return found.join_from(jobs, answers, isouter=True)


def _job(row: Row[Any]) -> Job:
    fields = dict(row._mapping)
    content, data = fields.pop("content"), fields.pop("data")
    fields["answer"] = data if content is None else content_of(content)
    fields["question"] = content_of(fields["question"])
    fields["says"] = saying_of(fields["says"])
    return Job(**fields)


def get(shelf: Shelf, job_id: int) -> Job:
    """A job with its answer, if it has one. Raises `Missing`."""
    chosen = _wanted().where(jobs.c.id == job_id, jobs.c.library_id == shelf.library_id)
    row = shelf.connection.execute(chosen).one_or_none()
    if row is None:
        raise Missing("job", job_id)
    return _job(row)


def ask(shelf: Shelf, kind: str, question: Content, *, fresh: bool) -> Job:
    """The newest job with an equal question that is done or on its way; a new one if `fresh`."""
    asked = hashlib.sha256(canonical([kind, question]).encode()).hexdigest()
    chosen = (
        _wanted()
        .where(
            jobs.c.library_id == shelf.library_id,
            jobs.c.asked_hash == asked,
            jobs.c.state.in_(("waiting", "running", "done")),
            ~jobs.c.stop_wanted,
        )
        .order_by(jobs.c.id.desc())
        .limit(1)
    )
    held = None if fresh else shelf.connection.execute(chosen).one_or_none()
    return _job(held) if held is not None else _add(shelf, kind, question, asked)


def _add(shelf: Shelf, kind: str, question: Content, asked_hash: str) -> Job:
    made = (
        insert(jobs)
        .values(
            library_id=shelf.library_id,
            kind=kind,
            question=text_of(question),
            asked_hash=asked_hash,
            state="waiting",
            progress=0.0,
            stop_wanted=False,
            takes=0,
            asked_at=shelf.now,
        )
        .returning(jobs.c.id)
    )
    return get(shelf, shelf.connection.execute(made).scalar_one())


def stop(shelf: Shelf, job_id: int) -> Job:
    """Stop a waiting job, ask a running one to stop; one that has ended stays as it is."""
    held = get(shelf, job_id)
    if held.state == "waiting":
        _end(shelf, job_id, "stopped", stop_wanted=True)
    elif held.state == "running":
        _set(shelf, job_id, stop_wanted=True)
    return get(shelf, job_id)


def any_waiting(shelf: Shelf) -> bool:
    """Whether there is a job to take."""
    return shelf.connection.scalar(_first_waiting()) is not None


def _first_waiting() -> Select[int]:
    return select(jobs.c.id).where(jobs.c.state == "waiting").order_by(jobs.c.id).limit(1)


def take(shelf: Shelf) -> Job | None:
    """The job that waits longest, of whichever library, now running; none if none waits."""
    id_ = shelf.connection.scalar(_first_waiting())
    if id_ is None:
        return None
    _set(
        shelf,
        id_,
        state="running",
        takes=jobs.c.takes + 1,
        taken_at=shelf.now,
        told_at=shelf.now,
    )
    return _job(shelf.connection.execute(_wanted().where(jobs.c.id == id_)).one())


def tell(shelf: Shelf, job_id: int, progress: float, says: Saying | None) -> bool:
    """Note how far a running job is; whether it shall stop. Raises `Missing`.

    A job that does not run any more, as it was given up, shall stop as well.
    """
    state, stop_wanted = _standing(shelf, job_id)
    if state != "running":
        return True
    within = min(1.0, max(0.0, progress))
    _set(shelf, job_id, progress=within, says=text_of_saying(says), told_at=shelf.now)
    return stop_wanted


def finish(shelf: Shelf, job_id: int, answer: object) -> None:
    """Keep the answer (JSON, or bytes) of a running job; `None` is no answer.

    It is then done, or stopped if that was wanted. A job that does not run is left as it is.
    """
    state, stop_wanted = _standing(shelf, job_id)
    if state != "running":
        return
    if isinstance(answer, bytes):
        shelf.connection.execute(insert(answers).values(job_id=job_id, data=answer))
    elif answer is not None:
        shelf.connection.execute(insert(answers).values(job_id=job_id, content=text_of(answer)))
    if stop_wanted:
        _end(shelf, job_id, "stopped")
    else:
        _end(shelf, job_id, "done", progress=1.0)


def fail(shelf: Shelf, job_id: int, says: Saying) -> None:
    """End a running job that cannot be answered, and say why; one that does not run is left."""
    if _standing(shelf, job_id)[0] == "running":
        _end(shelf, job_id, "failed", says=text_of_saying(says))


def revive(shelf: Shelf, silent: timedelta, says: Saying | None) -> int:
    """Let jobs wait again whose worker has told nothing for so long; how many there were.

    Those that were to stop are stopped. Those that were taken too often fail, with `says`: they
    are what the workers died of.
    """
    lost = and_(jobs.c.state == "running", jobs.c.told_at <= shelf.now - silent)
    hopeless = jobs.c.takes >= MOST_TAKES
    over = or_(jobs.c.stop_wanted, hopeless)
    change = (
        update(jobs)
        .where(lost)
        .values(
            state=case((jobs.c.stop_wanted, "stopped"), (hopeless, "failed"), else_="waiting"),
            ended_at=case((over, literal(shelf.now, Moment)), else_=None),
            says=case((and_(hopeless, ~jobs.c.stop_wanted), text_of_saying(says)), else_=None),
            progress=0.0,
        )
    )
    return shelf.connection.execute(change).rowcount


def clear(shelf: Shelf, before: datetime) -> int:
    """Forget the jobs of this library that ended before a moment, with their answers; how many."""
    old = and_(jobs.c.library_id == shelf.library_id, jobs.c.ended_at < before)
    return shelf.connection.execute(delete(jobs).where(old)).rowcount


def _standing(shelf: Shelf, id_: int) -> tuple[str, bool]:
    row = shelf.connection.execute(
        select(jobs.c.state, jobs.c.stop_wanted).where(jobs.c.id == id_)
    ).one_or_none()
    if row is None:
        raise Missing("job", id_)
    return row.state, row.stop_wanted


def _set(shelf: Shelf, id_: int, **fields: object) -> None:
    shelf.connection.execute(update(jobs).where(jobs.c.id == id_).values(**fields))


def _end(shelf: Shelf, id_: int, state: JobState, **fields: object) -> None:
    _set(shelf, id_, state=state, ended_at=shelf.now, **fields)
