"""In every bowl: the piece in all vessels of a class, or of the cupboard."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.basis.units import whole_number
from nejime.desk.every_bowl import bowls_pdf, groups, in_every_bowl, without_vessel
from nejime.web.answering import shelf_of, show, words_of
from nejime.web.paper import paper


def _of(request: Request) -> int | None:
    """The class that was asked for; the nearest one where nothing was asked."""
    told = request.query_params.get("of")
    if told is None:
        found = groups(shelf_of(request))
        return found[0].id if found else None
    return whole_number(told)


def bowls(request: Request) -> Response:
    """Every vessel with the piece in it."""
    shelf, piece_id, of = shelf_of(request), request.path_params["piece_id"], _of(request)
    return show(
        request,
        "bowls.html",
        piece_id=piece_id,
        name=shelf.get(piece_id).name,
        classes=groups(shelf),
        of=of,
        unknown=without_vessel(shelf, of),
        bowls=in_every_bowl(shelf, piece_id, of, words_of(request)),
    )


def bowls_printed(request: Request) -> Response:
    """The same as PDF."""
    made = bowls_pdf(
        shelf_of(request), request.path_params["piece_id"], _of(request), request.app.state.day()
    )
    return paper(made, "in-every-bowl")


ROUTES = [
    Route("/table/{piece_id:int}/bowls", bowls),
    Route("/table/{piece_id:int}/bowls.pdf", bowls_printed),
]
