"""Look at the work: a piece that somebody made, photographed, marked, measured and talked about."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

from starlette.background import BackgroundTask
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from nejime.basis.errors import InputError
from nejime.desk.made import answer as answering
from nejime.desk.made import becoming, listing, marks, views
from nejime.desk.made import begin as beginning
from nejime.desk.made.pictures import Pictures
from nejime.web.answering import beside, shelf_of, show, to, typed, words_of
from nejime.web.paper import paper

MOST_JSON = 1_000_000  # [own] marks are a few kilobytes


def every(request: Request) -> Response:
    """What was looked at so far."""
    shelf = shelf_of(request)
    away = shelf.removed(beginning.KIND)
    return show(request, "made-list.html", found=listing.listed(shelf, _day(request)), away=away)


def new(request: Request) -> Response:
    """Two questions: which vessel, and what it was meant to be."""
    return _ask(request, dict(request.query_params))


async def begin(request: Request) -> Response:
    """A new one."""
    told = typed(await request.form())
    try:
        kept = await run_in_threadpool(beginning.begin, shelf_of(request), told, _day(request))
    except InputError as trouble:
        return _ask(request, told, trouble)
    return to(f"/made/{kept.id}")


def _ask(request: Request, fields: dict[str, str], trouble: InputError | None = None) -> Response:
    words = words_of(request)
    return show(
        request,
        "made-new.html",
        422 if trouble else 200,
        words=words,
        fields=fields,
        choices=beginning.choices(shelf_of(request), _day(request)),
        wrong=beside(trouble.faults, words) if trouble else {},
    )


def page(request: Request) -> Response:
    """One piece: its pictures, its marks, what comes of them."""
    shown = show(request, "made.html", state=marks.state(*_about(request), _day(request)))
    shown.background = BackgroundTask(answering.get_ready)
    return shown


def state(request: Request) -> Response:
    """The marks as they are kept now."""
    return JSONResponse(marks.state(*_about(request), _day(request)))


async def keep(request: Request) -> Response:
    """All marks, kept."""
    told = await _told(request)
    return await _act(request, marks.keep, *_about(request), told, _day(request))


async def back(request: Request) -> Response:
    """One step back."""
    return await _act(request, marks.back, *_about(request), _day(request))


async def forth(request: Request) -> Response:
    """One step forth."""
    return await _act(request, marks.forth, *_about(request), _day(request))


async def choose(request: Request) -> Response:
    """A picture for a view, as it was taken."""
    data = await _picture(request)
    if data is None:
        return JSONResponse({"wrong": {"picture": words_of(request).say(views.HEAVY)}}, 413)
    about = (*_about(request), request.path_params["at"])
    return await _act(request, views.choose, *about, data, _day(request))


async def _picture(request: Request) -> bytes | None:
    """What is sent, as long as it is no larger than a picture may be; None where it is."""
    parts, size = [], 0
    async for part in request.stream():
        size += len(part)
        if size > views.MOST_BYTES:
            return None
        parts.append(part)
    return b"".join(parts)


def picture(request: Request) -> Response:
    """The picture of a view as it is marked."""
    name = request.query_params.get("as", "")
    jpeg = views.picture(*_about(request), request.path_params["at"], name)
    return Response(jpeg, media_type="image/jpeg")


async def crop(request: Request) -> Response:
    """Only a part of the picture from now on."""
    told, at = await _told(request), request.path_params["at"]
    return await _act(request, views.crop, *_about(request), at, told, _day(request))


async def turn(request: Request) -> Response:
    """The picture turned by a quarter."""
    at = request.path_params["at"]
    return await _act(request, views.turn, *_about(request), at, _day(request))


async def drop(request: Request) -> Response:
    """A picture and its marks taken away."""
    at = request.path_params["at"]
    return await _act(request, views.drop, *_about(request), at, _day(request))


async def snap(request: Request) -> Response:
    """Marks of the rim, moved to the edge as a suggestion."""
    return await _act(request, views.snap, *_about(request), request.path_params["at"])


async def keep_pictures(request: Request) -> Response:
    """The pictures are kept too, or wiped again."""
    told = await _told(request)
    about = (*_about(request), _day(request))
    return await _act(request, views.keep_pictures, *about, kept=bool(told.get("kept")))


async def answer(request: Request) -> Response:
    """What comes of the marks."""
    about = (shelf_of(request), request.path_params["number"], _day(request))
    return await _act(request, answering.answer, *about)


def remake(request: Request) -> Response:
    """The remake sheet; where nothing can be measured (any more), the marks."""
    number = request.path_params["number"]
    try:
        pdf = answering.remake_pdf(shelf_of(request), number, _day(request))
    except InputError:
        return to(f"/made/{number}")
    return paper(pdf, "remake")


async def _act(request: Request, act: Any, *told: Any, **more: Any) -> Response:
    """What an act gives, as the page's script reads it."""
    try:
        found = await run_in_threadpool(act, *told, **more)
    except InputError as trouble:
        return JSONResponse({"wrong": dict(beside(trouble.faults, words_of(request)))}, 422)
    return JSONResponse(found, 409 if "conflict" in found else 200)


async def _told(request: Request) -> dict[str, Any]:
    """What the page sent: an object, or nothing."""
    sent = bytearray()
    async for part in request.stream():
        sent += part
        if len(sent) > MOST_JSON:
            return {}
    try:
        told = json.loads(bytes(sent))
    except (ValueError, RecursionError):
        return {}
    return told if isinstance(told, dict) else {}


async def name(request: Request) -> Response:
    """Another name."""
    number = request.path_params["number"]
    listing.rename(shelf_of(request), number, typed(await request.form()).get("name", ""))
    return to(f"/made/{number}")


def put_away(request: Request) -> Response:
    """Off the list."""
    views.put_away(shelf_of(request), request.path_params["number"])
    return to("/made")


def bring_back(request: Request) -> Response:
    """On the list again."""
    kept = views.bring_back(shelf_of(request), request.path_params["number"])
    return to(f"/made/{kept.id}")


def piece(request: Request) -> Response:
    """Each stem as it was measured, to be confirmed."""
    return _confirm(request, {})


async def become(request: Request) -> Response:
    """The piece goes to the arranging table."""
    told, number = typed(await request.form()), request.path_params["number"]
    about = (shelf_of(request), number, told, _day(request))
    try:
        kept = await run_in_threadpool(becoming.become, *about)
    except InputError as trouble:
        return await run_in_threadpool(_confirm, request, told, trouble)
    return to(f"/table/{kept.id}")


def _confirm(request: Request, told: dict[str, str], trouble: InputError | None = None) -> Response:
    """Where nothing can be measured (any more), the marks."""
    words, number = words_of(request), request.path_params["number"]
    try:
        found = becoming.becoming(shelf_of(request), number, told, _day(request))
    except InputError:
        return to(f"/made/{number}")
    return show(
        request,
        "made-piece.html",
        422 if trouble else 200,
        words=words,
        found=found,
        fields=told,
        wrong=beside(trouble.faults, words) if trouble else {},
    )


def _about(request: Request) -> tuple[Any, Pictures, int]:
    return shelf_of(request), request.app.state.pictures, request.path_params["number"]


def _day(request: Request) -> date:
    day: date = request.app.state.day()
    return day


ROUTES = [
    Route("/made", every),
    Route("/made/new", new),
    Route("/made/new", begin, methods=["POST"]),
    Route("/made/{number:int}", page),
    Route("/made/{number:int}/state", state),
    Route("/made/{number:int}/keep", keep, methods=["POST"]),
    Route("/made/{number:int}/back", back, methods=["POST"]),
    Route("/made/{number:int}/forth", forth, methods=["POST"]),
    Route("/made/{number:int}/answer", answer),
    Route("/made/{number:int}/remake.pdf", remake),
    Route("/made/{number:int}/picture/{at:int}", picture),
    Route("/made/{number:int}/picture/{at:int}", choose, methods=["POST"]),
    Route("/made/{number:int}/picture/{at:int}/crop", crop, methods=["POST"]),
    Route("/made/{number:int}/picture/{at:int}/turn", turn, methods=["POST"]),
    Route("/made/{number:int}/picture/{at:int}/drop", drop, methods=["POST"]),
    Route("/made/{number:int}/picture/{at:int}/snap", snap, methods=["POST"]),
    Route("/made/{number:int}/pictures", keep_pictures, methods=["POST"]),
    Route("/made/{number:int}/piece", piece),
    Route("/made/{number:int}/piece", become, methods=["POST"]),
    Route("/made/{number:int}/name", name, methods=["POST"]),
    Route("/made/{number:int}/away", put_away, methods=["POST"]),
    Route("/made/{number:int}/back-on-list", bring_back, methods=["POST"]),
]
