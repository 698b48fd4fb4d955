"""A store in an empty folder, with a clock that the test moves."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from nejime.records import Store, open_store


class Clock:
    """Every look at it is a second later."""

    def __init__(self) -> None:
        self.moment = datetime(2026, 3, 1, 9, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.moment += timedelta(seconds=1)
        return self.moment


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "a folder" / "kept.sqlite"


@pytest.fixture
def store(path: Path, clock: Clock) -> Iterator[Store]:
    with open_store(path, clock) as opened:
        yield opened
