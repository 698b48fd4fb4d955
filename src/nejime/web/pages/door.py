"""A bowl at the door: a shape and two numbers in, its half page out."""

from __future__ import annotations

from datetime import date

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.basis.errors import InputError
from nejime.desk import door
from nejime.web.answering import beside, shelf_of, show, to, typed, words_of
from nejime.web.paper import paper


def page(request: Request) -> Response:
    """The form and, where a bowl was told, its half page."""
    fields = dict(request.query_params)
    try:
        found = door.at_the_door(shelf_of(request), fields, _day(request)) if fields else None
    except InputError as trouble:
        return _shown(request, fields, trouble)
    return _shown(request, fields, answer=found)


def half_page(request: Request) -> Response:
    """The half page to print; back to the form where something is wrong."""
    fields = dict(request.query_params)
    try:
        return paper(door.printed(shelf_of(request), fields, _day(request)), "half-page")
    except InputError as trouble:
        return _shown(request, fields, trouble)


async def keep(request: Request) -> Response:
    """The bowl into the cupboard."""
    fields = typed(await request.form())
    try:
        kept = door.into_cupboard(shelf_of(request), fields)
    except InputError as trouble:
        return _shown(request, fields, trouble)
    return to(f"/cupboard/vessel/{kept.id}")


async def into_class(request: Request) -> Response:
    """The bowl as a person's own in the nearest class."""
    fields = typed(await request.form())
    try:
        kept = door.into_class(shelf_of(request), fields, _day(request))
    except InputError as trouble:
        return _shown(request, fields, trouble)
    return to(f"/classes/{kept.id}" if kept else "/classes")


def _day(request: Request) -> date:
    day: date = request.app.state.day()
    return day


def _shown(
    request: Request,
    fields: dict[str, str],
    trouble: InputError | None = None,
    answer: door.AtTheDoor | None = None,
) -> Response:
    words = words_of(request)
    wrong = beside(trouble.faults, words) if trouble else {}
    return show(
        request,
        "door.html",
        422 if trouble else 200,
        words=words,
        choices=door.choices(shelf_of(request), _day(request)),
        fields={name: fields.get(name, "") for name in door.FIELDS},
        known=door.FIELDS,
        wrong=wrong,
        answer=answer,
        asked=request.url.query,
    )


ROUTES = [
    Route("/door", page),
    Route("/door/half-page.pdf", half_page),
    Route("/door/keep", keep, methods=["POST"]),
    Route("/door/class", into_class, methods=["POST"]),
]
