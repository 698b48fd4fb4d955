"""Plants: the list, one plant with all that is known of it, and its picture."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.desk import what_is_known
from nejime.web.answering import shelf_of, show, words_of

KEPT_FOR_S = 86_400  # [own] a day: the picture changes with the version only


def listed(request: Request) -> Response:
    """The plants that a word finds, or all of them."""
    found = what_is_known.listed(shelf_of(request), request.query_params.get("word", ""))
    return show(request, "plants.html", found=found)


def one(request: Request) -> Response:
    """What is known of one plant."""
    words = words_of(request)
    found = what_is_known.plant_page(shelf_of(request), request.path_params["plant"], words)
    return show(request, "plant.html", words=words, found=found)


def picture(request: Request) -> Response:
    """One stem of a plant, drawn."""
    headers = {"Cache-Control": f"max-age={KEPT_FOR_S}"}
    svg = what_is_known.picture(request.path_params["plant"])
    return Response(svg, media_type="image/svg+xml", headers=headers)


ROUTES = [
    Route("/plants", listed),
    Route("/plants/{plant}.svg", picture),
    Route("/plants/{plant}", one),
]
