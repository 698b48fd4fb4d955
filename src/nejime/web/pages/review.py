"""From memory, unchecked: rows that she can confirm or put her own numbers in."""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.basis.errors import InputError
from nejime.desk import review as desk
from nejime.web.answering import beside, shelf_of, show, to, typed, words_of

BACK = ("word", "shown", "page")
"""What the address says of which rows are shown."""


def page(request: Request) -> Response:
    """The rows that the address asks for."""
    return _shown(request, dict(request.query_params))


async def say(request: Request) -> Response:
    """What was said of one row."""
    told = typed(await request.form())
    try:
        mark = desk.say(shelf_of(request), told, request.app.state.day())
    except InputError as trouble:
        return _shown(request, told, trouble)
    asked = {name: told[name] for name in BACK if told.get(name)}
    done = {"done": mark, "act": told.get("act", "")}
    return to(f"/review?{urlencode({**asked, **done})}")


def _shown(
    request: Request, told: Mapping[str, str], trouble: InputError | None = None
) -> Response:
    words = words_of(request)
    return show(
        request,
        "review.html",
        422 if trouble else 200,
        words=words,
        found=desk.review(shelf_of(request), told, words),
        told=told,
        done=desk.title_of(told.get("done", ""), words),
        wrong=beside(trouble.faults, words) if trouble else {},
    )


ROUTES = [Route("/review", page), Route("/review", say, methods=["POST"])]
