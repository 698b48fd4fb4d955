"""The marker card that lies beside the bowl while it is photographed, to print."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.desk.made import card
from nejime.web.answering import shelf_of
from nejime.web.paper import paper


def printed(request: Request) -> Response:
    """The card."""
    return paper(card.printed(shelf_of(request), request.app.state.day()), "marker-card")


ROUTES = [Route("/made/card.pdf", printed)]
