"""Long work, done by a process of its own: what was asked waits in a table until it is taken.

An act is told the shelf, its question, and whom to tell how far it is; telling returns whether it
should stop. Its answer is JSON or bytes. What goes wrong is kept with the job, for its page.
"""

from __future__ import annotations

import logging
import multiprocessing
import time
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying
from nejime.desk.shelf import Shelf, open_shelf

WAIT_S = 0.1  # [own] between two looks whether something was asked

Tell = Callable[[float, Saying | None], bool]
"""Told the share done and what is being done; returns whether to stop."""
Act = Callable[[Shelf, Mapping[str, Any], Tell], Mapping[str, Any] | bytes | None]


def acts() -> Mapping[str, Act]:
    """What can be asked, by the kind of job."""
    from nejime.desk import buy, class_papers, suggest

    return {suggest.JOB: suggest.act, class_papers.JOB: class_papers.act, buy.JOB: buy.act}


def work(folder: str) -> None:
    """Does what is asked, one thing after the other, for as long as its parent lives."""
    parent = multiprocessing.parent_process()
    with open_shelf(Path(folder)) as shelf:
        shelf.revive()
        while parent is None or parent.is_alive():
            try:
                if not work_once(shelf):
                    time.sleep(WAIT_S)
            except Exception:  # what broke is kept with its job; the next ones must not wait for it
                logging.getLogger(__name__).exception("a job broke")


def work_once(shelf: Shelf) -> bool:
    """Does the first thing that waits; whether there was one."""
    job = shelf.take()
    if job is None:
        return False

    def tell(share: float, says: Saying | None = None) -> bool:
        return shelf.tell(job.id, share, says)

    try:
        shelf.finish(job.id, acts()[job.kind](shelf, job.question, tell))
    except InputError as trouble:
        shelf.fail(job.id, trouble.faults[0].says)
    except Exception:
        shelf.fail(job.id, Saying("desk.job-broke"))
        raise
    return True
