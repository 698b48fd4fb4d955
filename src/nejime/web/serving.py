"""Open the pages: a server on this machine alone, one worker for long work, and a browser.

Whoever opens it twice is led to the one that is open already: two servers over one file would be
safe, but two windows are a nuisance.
"""

from __future__ import annotations

import contextlib
import http.client
import multiprocessing
import socket
import threading
import webbrowser
from collections.abc import Callable, Iterator
from pathlib import Path

import uvicorn

from nejime.basis.errors import refuse
from nejime.desk.shelf import is_empty, open_shelf
from nejime.desk.working import work
from nejime.web.app import application
from nejime.web.guarding import OURS

HOST = "127.0.0.1"
USUAL_PORT = 8642  # [own] any free one above 1024
NEXT_PORTS = 20  # [own] so many are tried where the usual one is taken
ANSWERS_WITHIN_S = 0.5  # [own] a server on the same machine


class _Server(uvicorn.Server):
    """A server that tells when it answers."""

    def __init__(self, config: uvicorn.Config, ready: Callable[[], None]) -> None:
        super().__init__(config)
        self._ready = ready

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Starts, then tells."""
        await super().startup(sockets)
        self._ready()


def serve(
    folder: Path,
    *,
    port: int | None = None,
    browser: bool = True,
    demo: bool = False,
    tell: Callable[[str], None] = lambda address: None,
) -> None:
    """Answers until it is stopped. `tell` is told the address when it answers.

    With `demo`, or where nothing is kept yet, the invented class and its piece are laid out.
    Raises `InputError` where the port is taken.
    """
    open_already = None if port else _open_already()
    if open_already is not None:
        tell(open_already)
        if browser:
            webbrowser.open(open_already)
        return
    listening = _listening(port)
    address = f"http://{HOST}:{listening.getsockname()[1]}/"

    def ready() -> None:
        tell(address)
        if browser:
            threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()

    shelf = open_shelf(folder)
    with shelf, _worker(folder):
        if demo or is_empty(shelf):
            from nejime.desk.demo import lay_out

            lay_out(shelf)
        config = uvicorn.Config(
            application(shelf), log_level="warning", access_log=False, lifespan="off", ws="none"
        )
        _Server(config, ready).run([listening])


def _listening(port: int | None) -> socket.socket:
    """A socket on the port asked for, or on the first free one."""
    wished = (port,) if port else range(USUAL_PORT, USUAL_PORT + NEXT_PORTS)
    for each in wished:
        listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind((HOST, each))
        except OSError:
            listening.close()
            continue
        return listening
    raise refuse("--port", "web.port-taken", "web.port-taken-try", port=str(wished[0]))


def _open_already() -> str | None:
    """The address of ours that answers at the usual port; None where none does."""
    asked = http.client.HTTPConnection(HOST, USUAL_PORT, timeout=ANSWERS_WITHIN_S)
    try:
        asked.request("HEAD", "/settings")
        ours = asked.getresponse().getheader(OURS[0]) == OURS[1]
    except (OSError, http.client.HTTPException):
        return None
    finally:
        asked.close()
    return f"http://{HOST}:{USUAL_PORT}/" if ours else None


@contextlib.contextmanager
def _worker(folder: Path) -> Iterator[None]:
    """The process that does long work, for as long as the pages are open."""
    process = multiprocessing.get_context("spawn").Process(
        target=work, args=(str(folder),), daemon=True
    )
    process.start()
    try:
        yield
    finally:
        process.terminate()
        process.join(5)
