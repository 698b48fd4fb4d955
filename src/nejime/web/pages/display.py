"""On display: the pieces that stay, what each asks for next, and what was done to it."""

from __future__ import annotations

import datetime as dt
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.basis.errors import InputError
from nejime.desk import display_acts, display_form, displays
from nejime.desk.things import Both
from nejime.web.answering import beside, shelf_of, show, to, typed, words_of
from nejime.web.paper import paper


def every(request: Request) -> Response:
    """The pieces that stand, and those that were taken away."""
    stand, ended = displays.listed(shelf_of(request), _now(request))
    away = shelf_of(request).removed(displays.KIND)
    return show(request, "displays.html", stand=stand, ended=ended, away=away)


def new(request: Request) -> Response:
    """The fields of a new one."""
    return _form(request, display_form.new_form(shelf_of(request), _now(request).date()))


async def keep(request: Request) -> Response:
    """A new one, or one that is changed."""
    told, number = typed(await request.form()), request.path_params.get("number")
    if told.get("more"):
        return _form(request, display_form.filled(told, number))
    try:
        kept = display_form.keep(shelf_of(request), told, number)
    except InputError as trouble:
        return _form(request, display_form.filled(told, number), trouble)
    if isinstance(kept, Both):
        return show(request, "both_display.html", 409, both=kept, number=number, told=told)
    return to(f"/display/{kept.id}")


def change(request: Request) -> Response:
    """The fields of one."""
    return _form(request, display_form.form(shelf_of(request), _id(request)))


def _form(
    request: Request, form: display_form.DisplayForm, trouble: InputError | None = None
) -> Response:
    words = words_of(request)
    return show(
        request,
        "display_form.html",
        422 if trouble else 200,
        words=words,
        form=form,
        choices=display_form.choices(shelf_of(request)),
        wrong=beside(trouble.faults, words) if trouble else {},
    )


def one(request: Request) -> Response:
    """One piece: what it asks for; its fields, where something in them must be mended."""
    try:
        return _one(request, {})
    except InputError:
        return to(f"/display/{_id(request)}/change")


def _one(request: Request, told: dict[str, str], trouble: InputError | None = None) -> Response:
    words = words_of(request)
    return show(
        request,
        "display.html",
        422 if trouble else 200,
        words=words,
        found=displays.opened(shelf_of(request), _id(request), _now(request)),
        plants=display_form.choices(shelf_of(request)).plants,
        told=told,
        wrong=beside(trouble.faults, words) if trouble else {},
    )


async def done(request: Request) -> Response:
    """Something was done to it."""
    told = typed(await request.form())
    try:
        display_acts.done(shelf_of(request), _id(request), told, _now(request))
    except InputError as trouble:
        return _one(request, told, trouble)
    return to(f"/display/{_id(request)}")


async def ruler(request: Request) -> Response:
    """The water was read on a ruler."""
    told = typed(await request.form())
    try:
        display_acts.read_ruler(shelf_of(request), _id(request), told)
    except InputError as trouble:
        return _one(request, told, trouble)
    return to(f"/display/{_id(request)}#water")


def undo(request: Request) -> Response:
    """Back by one step."""
    return to(f"/display/{display_acts.undone(shelf_of(request), _id(request)).id}")


def redo(request: Request) -> Response:
    """On by one step."""
    return to(f"/display/{display_acts.redone(shelf_of(request), _id(request)).id}")


def put_away(request: Request) -> Response:
    """Off the list."""
    display_acts.put_away(shelf_of(request), _id(request))
    return to("/display")


def bring_back(request: Request) -> Response:
    """On the list again."""
    return to(f"/display/{display_acts.bring_back(shelf_of(request), _id(request)).id}")


def printed(request: Request) -> Response:
    """Card and label."""
    made = display_acts.papers_of(shelf_of(request), _id(request), _now(request))
    return paper(made, "display-card")


def calendar(request: Request) -> Response:
    """What is to be done, for a calendar."""
    name, text = display_acts.calendar_of(shelf_of(request), _id(request), _now(request))
    told = f"attachment; filename*=UTF-8''{quote(name)}"
    headers = {"Content-Disposition": told}
    return Response(text, media_type="text/calendar; charset=utf-8", headers=headers)


def _id(request: Request) -> int:
    number: int = request.path_params["number"]
    return number


def _now(request: Request) -> dt.datetime:
    now: dt.datetime = request.app.state.now()
    return now


ROUTES = [
    Route("/display", every),
    Route("/display/new", new),
    Route("/display/new", keep, methods=["POST"]),
    Route("/display/{number:int}", one),
    Route("/display/{number:int}/change", change),
    Route("/display/{number:int}/change", keep, methods=["POST"]),
    Route("/display/{number:int}/done", done, methods=["POST"]),
    Route("/display/{number:int}/ruler", ruler, methods=["POST"]),
    Route("/display/{number:int}/undo", undo, methods=["POST"]),
    Route("/display/{number:int}/redo", redo, methods=["POST"]),
    Route("/display/{number:int}/away", put_away, methods=["POST"]),
    Route("/display/{number:int}/back", bring_back, methods=["POST"]),
    Route("/display/{number:int}/card.pdf", printed),
    Route("/display/{number:int}/calendar", calendar),
]
