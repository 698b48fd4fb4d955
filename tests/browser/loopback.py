"""A small server on the loopback interface: the static files, a test page, scenes and looks."""

from __future__ import annotations

import json
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from pathlib import Path
from typing import Any

from nejime.drawings.wire import look

STATIC = Path(str(files("nejime"))) / "web" / "static"
PAGE = Path(__file__).parent / "page"
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; connect-src 'self'; "
    "img-src 'self'; base-uri 'none'; form-action 'none'"
)
KINDS = {".html": "text/html", ".css": "text/css", ".js": "text/javascript", ".woff2": "font/woff2"}

Scenes = Mapping[str, Callable[[], Any]]


def answer(path: str, scenes: Scenes) -> tuple[bytes, str] | None:
    """Content and kind of what is asked for."""
    place, _, name = path.lstrip("/").partition("/")
    if place == "":
        return (PAGE / "page.html").read_bytes(), "text/html"
    if place == "scene" and name in scenes:
        return json.dumps(scenes[name]()).encode(), "application/json"
    if place == "look":
        return json.dumps(look(name)).encode(), "application/json"
    folder = {"static": STATIC, "page": PAGE}.get(place)
    file = (folder / name).resolve() if folder else None
    if file and folder and file.is_relative_to(folder.resolve()) and file.is_file():
        return file.read_bytes(), KINDS[file.suffix]
    return None


@contextmanager
def served(scenes: Scenes) -> Iterator[str]:
    """The server's address, while the block lasts."""

    class Handler(BaseHTTPRequestHandler):
        def log_message(self, *_: Any) -> None:
            pass

        def do_GET(self) -> None:
            try:
                found = answer(self.path.partition("?")[0], scenes)
            except KeyError:
                found = None
            self.send_response(200 if found else 404)
            self.send_header("content-type", found[1] if found else "text/plain")
            self.send_header("content-security-policy", POLICY)
            self.end_headers()
            self.wfile.write(found[0] if found else b"")

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_address[1]}"
    finally:
        server.shutdown()
        server.server_close()
        thread.join()
