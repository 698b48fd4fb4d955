"""What to buy and cut for a class, why it costs that, and the morning on which it is real."""

from __future__ import annotations

from contextlib import suppress
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.basis.errors import InputError
from nejime.desk import buy, class_words, classes, on_the_day
from nejime.web.answering import beside, shelf_of, show, to, typed, words_of
from nejime.web.paper import paper


def page(request: Request) -> Response:
    """The plan, or how far it is."""
    return show(request, "class-buying.html", **_shown(request))


def found(request: Request) -> Response:
    """What has been found meanwhile: the plan and its reasons, one after another."""
    return show(request, "class-buying-found.html", **_shown(request))


def _shown(request: Request) -> dict[str, Any]:
    shelf, words = shelf_of(request), words_of(request)
    opened = classes.opened(shelf, _id(request))
    made = None
    if not opened.faults:
        made = buy.buys(shelf, opened.kept, request.app.state.day())
    return {"words": words, "made": made, **class_words.about_parts(opened, words)}


def stop(request: Request) -> Response:
    """Takes the best so far."""
    shelf = shelf_of(request)
    buy.stop(shelf, shelf.get(_id(request)), request.app.state.day())
    return to(f"/classes/{_id(request)}/buying")


def anew(request: Request) -> Response:
    """Seeks it once more."""
    shelf = shelf_of(request)
    buy.anew(shelf, shelf.get(_id(request)), request.app.state.day())
    return to(f"/classes/{_id(request)}/buying")


def sheet(request: Request) -> Response:
    """One sheet to print."""
    shelf = shelf_of(request)
    kept = shelf.get(_id(request))
    name = request.path_params["sheet"]
    try:
        return paper(buy.sheet(shelf, kept, name, request.app.state.day()), name)
    except InputError:  # the page says what is wrong
        return to(f"/classes/{kept.id}/buying")


def bought(request: Request) -> Response:
    """It was bought so."""
    shelf = shelf_of(request)
    try:
        on_the_day.keep_bought(shelf, shelf.get(_id(request)))
    except InputError:  # the page says what is wrong
        return to(f"/classes/{_id(request)}/buying")
    return to(f"/classes/{_id(request)}/morning")


def morning(request: Request) -> Response:
    """Count again, and see what changes."""
    return _morning(request)


async def count(request: Request) -> Response:
    """Keeps what was counted and shows what changes."""
    shelf = shelf_of(request)
    on_the_day.count(shelf, shelf.get(_id(request)), typed(await request.form()))
    return to(f"/classes/{_id(request)}/morning#changes")


def _morning(request: Request) -> Response:
    shelf, words = shelf_of(request), words_of(request)
    opened = classes.opened(shelf, _id(request))
    day, trouble = None, None
    try:
        day = None if opened.faults else on_the_day.morning(shelf, opened.kept)
    except InputError as refused:
        trouble = refused
        with suppress(InputError):  # the class itself cannot be planned
            day = on_the_day.planned_only(shelf, opened.kept)
    return show(
        request,
        "class-morning.html",
        422 if trouble else 200,
        words=words,
        day=day,
        typed=on_the_day.typed(shelf, opened.kept),
        wrong=beside(trouble.faults, words) if trouble else {},
        faults=trouble.faults if trouble else (),
        also=range(1, on_the_day.MORE + 1),
        suggestions=class_words.suggestions(),
        **class_words.about_parts(opened, words),
    )


def reprint(request: Request) -> Response:
    """What is not true any more, anew."""
    shelf = shelf_of(request)
    try:
        return paper(on_the_day.reprinted(shelf, shelf.get(_id(request))), "changed-this-morning")
    except InputError:  # the page says what is wrong
        return to(f"/classes/{_id(request)}/morning")


def _id(request: Request) -> int:
    number: int = request.path_params["id"]
    return number


ROUTES = [
    Route("/classes/{id:int}/buying", page),
    Route("/classes/{id:int}/buying/found", found),
    Route("/classes/{id:int}/buying/stop", stop, methods=["POST"]),
    Route("/classes/{id:int}/buying/anew", anew, methods=["POST"]),
    Route("/classes/{id:int}/buying/bought", bought, methods=["POST"]),
    Route("/classes/{id:int}/buying/{sheet}", sheet),
    Route("/classes/{id:int}/morning", morning),
    Route("/classes/{id:int}/morning", count, methods=["POST"]),
    Route("/classes/{id:int}/morning/reprint", reprint),
]
