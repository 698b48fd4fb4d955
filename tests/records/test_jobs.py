"""Long work from the question to the answer."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from nejime.basis.sayings import Saying
from nejime.records import Missing, Store

from .conftest import Clock


def test_a_job_from_question_to_answer(store: Store) -> None:
    asked = store.ask("suggest", {"piece": 3})
    assert (asked.state, asked.progress, asked.answer) == ("waiting", 0.0, None)
    taken = store.take()
    assert taken is not None
    assert (taken.id, taken.state, taken.question) == (asked.id, "running", {"piece": 3})
    assert store.take() is None
    says = Saying("composing.looked-at", count=40, where=(Saying("stem.first"), Saying("stem.sub")))
    assert store.tell(asked.id, 0.25, says) is False
    assert (store.job(asked.id).progress, store.job(asked.id).says) == (0.25, says)
    store.finish(asked.id, {"placements": [[1, 2], [3, 4]]})
    done = store.job(asked.id)
    assert (done.state, done.progress) == ("done", 1.0)
    assert done.answer == {"placements": [[1, 2], [3, 4]]}
    assert done.taken_at is not None
    assert done.ended_at is not None
    assert asked.asked_at < done.taken_at < done.ended_at


def test_papers_come_back_byte_for_byte(store: Store) -> None:
    every_byte = bytes(range(256)) * 4000
    job = store.ask("print", {})
    store.take()
    store.finish(job.id, every_byte)
    assert store.job(job.id).answer == every_byte


def test_the_longest_waiting_is_taken_first(store: Store) -> None:
    asked = [store.ask("print", {"class": number}).id for number in range(3)]
    taken = [store.take() for _ in asked]
    assert [job.id for job in taken if job] == asked


def test_an_equal_question_is_answered_once(store: Store) -> None:
    asked = store.ask("print", {"class": 1, "paper": "a4"})
    assert store.ask("print", {"paper": "a4", "class": 1}) == asked
    store.take()
    assert store.ask("print", {"class": 1, "paper": "a4"}).id == asked.id
    store.finish(asked.id, "here")
    assert store.ask("print", {"class": 1, "paper": "a4"}) == store.job(asked.id)
    assert store.ask("print", {"class": 2, "paper": "a4"}).id != asked.id
    assert store.ask("plan", {"class": 1, "paper": "a4"}).id != asked.id
    fresh = store.ask("print", {"class": 1, "paper": "a4"}, fresh=True)
    assert fresh.id != asked.id
    assert store.ask("print", {"class": 1, "paper": "a4"}) == fresh


def test_a_failed_or_stopped_job_is_asked_anew(store: Store) -> None:
    failed = store.ask("print", {})
    store.take()
    store.fail(failed.id, Saying("papers.no-font"))
    assert store.job(failed.id).state == "failed"
    assert store.job(failed.id).says == Saying("papers.no-font")
    stopped = store.ask("print", {})
    assert stopped.id != failed.id
    store.stop(stopped.id)
    assert store.ask("print", {}).id != stopped.id


def test_a_waiting_job_stops_at_once(store: Store) -> None:
    job = store.ask("print", {})
    assert store.stop(job.id).state == "stopped"
    assert store.take() is None
    assert store.stop(job.id).state == "stopped"


def test_a_running_job_is_asked_to_stop_and_may_give_its_best_so_far(store: Store) -> None:
    job = store.ask("suggest", {})
    store.take()
    assert store.stop(job.id).state == "running"
    assert store.job(job.id).stop_wanted
    assert store.ask("suggest", {}).id != job.id
    assert store.tell(job.id, 0.5) is True
    store.finish(job.id, ["the best so far"])
    ended = store.job(job.id)
    assert (ended.state, ended.answer, ended.progress) == ("stopped", ["the best so far"], 0.5)


def test_what_has_ended_stays_as_it_is(store: Store) -> None:
    job = store.ask("print", {})
    store.take()
    store.finish(job.id, "first")
    ended = store.job(job.id)
    assert store.tell(job.id, 0.1) is True
    store.finish(job.id, "second")
    store.fail(job.id, Saying("papers.no-font"))
    store.stop(job.id)
    assert store.job(job.id) == ended


def test_progress_stays_between_nothing_and_all(store: Store) -> None:
    job = store.ask("print", {})
    store.take()
    for told, kept in ((-0.1, 0.0), (1.0000001, 1.0), (0.4, 0.4)):
        store.tell(job.id, told)
        assert store.job(job.id).progress == kept


def test_no_such_job(store: Store) -> None:
    with pytest.raises(Missing, match="no job 7"):
        store.job(7)
    with pytest.raises(Missing):
        store.tell(7, 0.0)


def test_the_next_worker_takes_over_from_a_dead_one(store: Store) -> None:
    job = store.ask("print", {})
    store.take()
    store.tell(job.id, 0.5)
    assert store.revive() == 1
    assert (store.job(job.id).state, store.job(job.id).progress) == ("waiting", 0.0)
    taken = store.take()
    assert taken is not None
    assert taken.id == job.id


def test_a_worker_that_still_tells_is_left_alone(store: Store, clock: Clock) -> None:
    store.ask("print", {})
    store.take()
    assert store.revive(silent_s=60) == 0
    clock.moment += timedelta(seconds=60)
    assert store.revive(silent_s=60) == 1


def test_a_job_that_was_to_stop_does_not_come_back(store: Store) -> None:
    job = store.ask("print", {})
    store.take()
    store.stop(job.id)
    store.revive()
    assert store.job(job.id).state == "stopped"
    assert store.job(job.id).ended_at is not None


@pytest.mark.source("own", "three workers are given to one job, as docs/decisions/0013 says")
def test_a_job_that_kills_its_workers_is_given_up(store: Store) -> None:
    job = store.ask("print", {})
    for _ in range(3):
        assert store.job(job.id).state == "waiting"
        store.take()
        store.revive(says=Saying("desk.given-up"))
    ended = store.job(job.id)
    assert (ended.state, ended.says) == ("failed", Saying("desk.given-up"))
    assert store.take() is None


@pytest.mark.source("hand", "14:30 in a zone two hours ahead of UTC is 12:30 UTC")
def test_a_clock_in_another_zone_tells_the_same_moments(store: Store, clock: Clock) -> None:
    clock.moment = datetime.fromisoformat("2026-03-01T14:30:00+02:00")
    job = store.ask("print", {})
    store.take()
    store.stop(job.id)
    store.revive()
    ended = store.job(job.id)
    assert ended.asked_at.replace(second=0) == datetime(2026, 3, 1, 12, 30, tzinfo=UTC)
    assert ended.ended_at is not None
    assert ended.ended_at.replace(second=0) == datetime(2026, 3, 1, 12, 30, tzinfo=UTC)


def test_old_answers_are_forgotten_and_waiting_jobs_are_not(store: Store, clock: Clock) -> None:
    old, new, waiting = (store.ask("print", {"class": number}) for number in range(3))
    store.take()
    store.finish(old.id, b"old")
    evening = clock()
    store.take()
    store.finish(new.id, b"new")
    assert store.clear_jobs(evening) == 1
    with pytest.raises(Missing):
        store.job(old.id)
    assert store.job(new.id).answer == b"new"
    assert store.job(waiting.id).state == "waiting"
    assert store.ask("print", {"class": 0}).id > waiting.id
