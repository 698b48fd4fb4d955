"""The pages as they are opened: a server on the loopback interface, its worker, and a browser."""

from __future__ import annotations

import contextlib
import datetime as dt
import shutil
import socket
import threading
import time
import warnings
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
import uvicorn

with warnings.catch_warnings():  # of a library below it
    warnings.simplefilter("ignore")
    from playwright.sync_api import Browser, Page, sync_playwright

from nejime.desk.demo import lay_out
from nejime.desk.shelf import Shelf, open_shelf
from nejime.desk.working import work_once
from nejime.web.app import application

TODAY = dt.date(2027, 2, 20)
WAIT_S = 20.0


@dataclass
class Opened:
    """The pages of a shelf: their address, and what is kept."""

    address: str
    shelf: Shelf


@contextlib.contextmanager
def opened(folder: Path, *, demo: bool) -> Iterator[Opened]:
    """The pages over a folder, answered and worked for until the end."""
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    with open_shelf(folder) as shelf:
        if demo:
            lay_out(shelf, TODAY)
        config = uvicorn.Config(
            application(shelf, lambda: TODAY), log_level="critical", lifespan="off", ws="none"
        )
        server = uvicorn.Server(config)
        answering = threading.Thread(target=server.run, args=([listening],))
        ended = threading.Event()
        working = threading.Thread(target=_work, args=(shelf, ended))
        answering.start()
        working.start()
        until = time.monotonic() + WAIT_S
        while not server.started and time.monotonic() < until:
            time.sleep(0.02)
        try:
            yield Opened(f"http://127.0.0.1:{listening.getsockname()[1]}", shelf)
        finally:
            ended.set()
            server.should_exit = True
            answering.join()
            working.join()
            listening.close()


def _work(shelf: Shelf, ended: threading.Event) -> None:
    while not ended.wait(0.05):
        work_once(shelf)


@pytest.fixture
def pages(tmp_path: Path) -> Iterator[Opened]:
    """The pages with nothing kept yet."""
    with opened(tmp_path, demo=False) as found:
        yield found


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Opened]:
    """The pages with the invented class laid out; for tests that change nothing."""
    with opened(tmp_path_factory.mktemp("demo"), demo=True) as found:
        yield found


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """One browser for all."""
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=program, args=["--no-sandbox"])
        yield found
        found.close()


@pytest.fixture
def tab(chromium: Browser) -> Iterator[Page]:
    """A page of a desk's size; what its scripts complain of fails the test."""
    context = chromium.new_context(viewport={"width": 1280, "height": 860})
    found = context.new_page()
    faults: list[str] = []
    found.on("pageerror", lambda fault: faults.append(str(fault)))
    found.on("console", lambda said: faults.append(said.text) if said.type == "error" else None)
    yield found
    context.close()
    assert [each for each in faults if "40" not in each and "422" not in each] == []
