"""The season: what is in bloom here on a day, how sure that is, and where "here" is."""

from __future__ import annotations

from typing import Any

from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.basis.errors import InputError
from nejime.desk import season, season_words, seen, where
from nejime.desk.shelf import Conflict
from nejime.web.answering import beside, shelf_of, show, to, typed, words_of


def day(request: Request) -> Response:
    """The season of a day: `on`, else today."""
    return _shown(request)


def _shown(request: Request, trouble: InputError | None = None, **told: Any) -> Response:
    words, shelf, today = words_of(request), shelf_of(request), request.app.state.day()
    asked = told.get("typed", {}).get("back", "") or request.query_params.get("on", "")
    faults = [] if trouble is None else list(trouble.faults)
    try:
        purpose = season.purpose_of(request.query_params.get("for", ""))
        found = season.here(shelf, season.day_of(asked, today), purpose=purpose)
    except InputError as wrong:
        faults += wrong.faults
        found = season.here(shelf, season.nearest_day(today))
    return show(
        request,
        "season.html",
        422 if faults else 200,
        words=words,
        season=season_words.season_words(found, words),
        on=asked,
        purpose=found.purpose,
        purposes=season_words.purposes(words),
        notes=seen.notes(shelf, words),
        today=today.isoformat(),
        wrong=beside(faults, words),
        typed=told.get("typed", {}),
        noted=request.query_params.get("noted", ""),
    )


async def note(request: Request) -> Response:
    """Keeps that a plant was seen open."""
    told = typed(await request.form())
    try:
        kept = seen.note(shelf_of(request), told, request.app.state.day())
    except InputError as trouble:
        return _shown(request, trouble, typed=told)
    return to(f"/season?on={told.get('back', '')}&noted={kept.id}#notes")


async def take_back(request: Request) -> Response:
    """Takes a note back."""
    told = typed(await request.form())
    seen.take_back(shelf_of(request), request.path_params["number"])
    return to(f"/season?on={told.get('back', '')}#notes")


def place(request: Request) -> Response:
    """Where her plants grow."""
    return _place(request)


def _place(
    request: Request,
    trouble: InputError | None = None,
    told: dict[str, str] | None = None,
    brought: where.BroughtIn | None = None,
    **more: Any,
) -> Response:
    words, shelf = words_of(request), shelf_of(request)
    form = where.form(shelf, words) if told is None else where.filled(shelf, told, words)
    return show(
        request,
        "season-place.html",
        more.get("status", 422 if trouble else 200),
        words=words,
        form=form,
        wrong=beside(trouble.faults, words) if trouble else {},
        brought=brought,
        changed=more.get("changed", False),
        file_name=more.get("file_name", ""),
    )


async def keep_place(request: Request) -> Response:
    """Keeps where her plants grow."""
    told = typed(await request.form())
    try:
        kept = where.keep(shelf_of(request), told)
    except InputError as trouble:
        return _place(request, trouble, told)
    if isinstance(kept, Conflict):
        told["base"] = str(kept.theirs.version)
        return _place(request, None, told, status=409, changed=True)
    return to("/season")


async def bring_in(request: Request) -> Response:
    """Takes daily temperatures out of a file, and says what was taken for what."""
    async with request.form() as form:
        file, unit = form.get("file"), str(form.get("unit", ""))
        name = file.filename or "" if isinstance(file, UploadFile) else ""
        data = await file.read() if isinstance(file, UploadFile) else b""
    words, shelf = words_of(request), shelf_of(request)
    try:
        brought = where.bring_in(shelf, name, data, words, unit)
    except InputError as trouble:
        return _place(request, trouble, file_name=name)
    return _place(request, None, None, brought)


def forget(request: Request) -> Response:
    """Takes the place or the temperatures away."""
    where.forget(shelf_of(request), request.path_params["what"])
    return to("/season/place")


ROUTES = [
    Route("/season", day),
    Route("/season/seen", note, methods=["POST"]),
    Route("/season/seen/{number:int}/back", take_back, methods=["POST"]),
    Route("/season/place", place),
    Route("/season/place", keep_place, methods=["POST"]),
    Route("/season/place/temperatures", bring_in, methods=["POST"]),
    Route("/season/place/forget/{what}", forget, methods=["POST"]),
]
