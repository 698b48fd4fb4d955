"""To say at the beginning of a class: five thoughts, hers to change and to print."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.basis.errors import InputError
from nejime.desk import talking
from nejime.web.answering import beside, shelf_of, show, to, typed, words_of
from nejime.web.paper import paper

PLACE = "/season/talk"


def page(request: Request) -> Response:
    """The card of a class or a day."""
    told = dict(request.query_params)
    try:
        return _shown(request, talking.card(shelf_of(request), told, _day(request)))
    except InputError as trouble:
        return _wrong(request, told, trouble)


async def keep(request: Request) -> Response:
    """Her words kept, and printed if she wants; or back to what is proposed."""
    told = typed(await request.form())
    act = talking.as_proposed if told.get("then") == "again" else talking.keep
    try:
        made = act(shelf_of(request), told, _day(request))
    except InputError as trouble:
        return _wrong(request, told, trouble)
    if made.clash:
        return _shown(request, made, status=409)
    asked = urlencode(made.address)
    if told.get("then") == "print":
        return to(f"{PLACE}.pdf?{asked}")
    return to(f"{PLACE}?{asked}")


def printed(request: Request) -> Response:
    """The card to print."""
    told = dict(request.query_params)
    try:
        return paper(talking.printed(shelf_of(request), told, _day(request)), "to-say")
    except InputError as trouble:
        return _wrong(request, told, trouble)


def _day(request: Request) -> date:
    day: date = request.app.state.day()
    return day


def _wrong(request: Request, told: Mapping[str, str], trouble: InputError) -> Response:
    made = talking.as_typed(shelf_of(request), told, _day(request), trouble)
    return _shown(request, made, trouble, status=422)


def _shown(
    request: Request, made: talking.Card, trouble: InputError | None = None, status: int = 200
) -> Response:
    words = words_of(request)
    return show(
        request,
        "talking.html",
        status,
        words=words,
        card=made,
        asked=urlencode(made.address),
        wrong=beside(trouble.faults, words) if trouble else {},
    )


ROUTES = [
    Route(PLACE, page),
    Route(PLACE, keep, methods=["POST"]),
    Route(f"{PLACE}.pdf", printed),
]
