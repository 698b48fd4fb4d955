"""Today: what is due, what is in season, and where to go on."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.desk import today as desk
from nejime.web.answering import shelf_of, show, words_of

KEPT_FOR_S = 86_400  # [own] a day: the picture changes with the version only


def today(request: Request) -> Response:
    """The first page."""
    words = words_of(request)
    found = desk.today(shelf_of(request), request.app.state.now(), words)
    return show(request, "today.html", words=words, today=found)


def picture(request: Request) -> Response:
    """The piece on the first page."""
    headers = {"Cache-Control": f"max-age={KEPT_FOR_S}"}
    return Response(desk.picture(), media_type="image/svg+xml", headers=headers)


ROUTES = [Route("/", today), Route("/today.svg", picture)]
