"""The pages over an empty shelf of their own; `at_work` does what they asked of the worker."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from nejime.desk.shelf import Shelf, open_shelf
from nejime.desk.working import work_once
from nejime.web.app import application

TODAY = dt.date(2027, 2, 20)  # three weeks before the class of the examples


@pytest.fixture
def shelf(tmp_path: Path) -> Iterator[Shelf]:
    """Everything that is kept: nothing yet."""
    with open_shelf(tmp_path) as opened:
        yield opened


@pytest.fixture
def client(shelf: Shelf) -> Iterator[TestClient]:
    """A browser without JavaScript, on the same machine."""
    with TestClient(application(shelf, lambda: TODAY)) as browser:
        yield browser


@pytest.fixture
def at_work(shelf: Shelf) -> Callable[[], int]:
    """Does all the long work that waits; how many things it was."""

    def work() -> int:
        done = 0
        while work_once(shelf):
            done += 1
        return done

    return work
