"""Today: what is due, what is in season, and where to go on."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.web.answering import show


def today(request: Request) -> Response:
    """The first page."""
    return show(request, "today.html")


ROUTES = [Route("/", today)]
