"""The arranging table: begin a piece, arrange it, and take it to every bowl and to paper."""

from __future__ import annotations

import json
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from nejime.basis.errors import InputError
from nejime.desk import pieces, too_short
from nejime.desk import suggest as suggesting
from nejime.desk.growing import look
from nejime.desk.made.to_table import as_measured
from nejime.desk.print_piece import drawings_of, handout_of
from nejime.web.answering import beside, shelf_of, show, to, typed, words_of
from nejime.web.paper import paper

KEPT_FOR_S = 31_536_000  # [own] a year: a look's address says all that decides it


def tables(request: Request) -> Response:
    """Every piece there is; the way to a new one where there is none."""
    found = pieces.thumbnails(shelf_of(request), words_of(request))
    return show(request, "table-list.html", pieces=found) if found else to("/table/new")


def new(request: Request) -> Response:
    """Three choices: bowl, form, material."""
    return _ask(request, {}, {})


def _ask(request: Request, fields: dict[str, str], wrong: Any, status: int = 200) -> Response:
    words, month = words_of(request), request.app.state.day().month
    return show(
        request,
        "table-new.html",
        status,
        vessels=pieces.vessels_to_choose(shelf_of(request), words),
        forms=pieces.forms_to_choose(words),
        season={role: pieces.in_season(shelf_of(request), month, role) for role in pieces.ROLES},
        every=pieces.all_plants(),
        fields={
            "vessel": "dish",
            "form": "upright",
            **pieces.usual_material(shelf_of(request), month),
            **fields,
        },
        wrong=wrong,
    )


async def begin(request: Request) -> Response:
    """A new piece from what was chosen."""
    fields = typed(await request.form())
    words = words_of(request)
    try:
        month = request.app.state.day().month
        made = await run_in_threadpool(pieces.begin, shelf_of(request), fields, words, month)
    except InputError as trouble:
        wrong = {
            name.removeprefix("vessel."): says
            for name, says in beside(trouble.faults, words).items()
        }
        return _ask(request, fields, wrong, 422)
    return to(f"/table/{made.id}")


def table(request: Request) -> Response:
    """The arranging table with a piece on it."""
    piece_id, words = request.path_params["piece_id"], words_of(request)
    state = pieces.kept(shelf_of(request), piece_id, words)
    return show(
        request,
        "table.html",
        state=state,
        every=pieces.all_plants(),
        snapshots=pieces.side_by_side(shelf_of(request), piece_id, words),
        measured=as_measured(shelf_of(request), piece_id, words),
    )


async def try_change(request: Request) -> Response:
    """What a change would look like, while a hand is still moving."""
    told = await _told(request)
    try:
        return JSONResponse(pieces.try_change(told, words_of(request)))
    except InputError as trouble:
        return _refused(request, trouble)


async def keep_change(request: Request) -> Response:
    """A change, made and kept."""
    told = await _told(request)
    piece_id = request.path_params["piece_id"]
    try:
        answer = await run_in_threadpool(
            pieces.keep_change, shelf_of(request), piece_id, told, words_of(request)
        )
    except InputError as trouble:
        return _refused(request, trouble)
    return JSONResponse(answer, 409 if "conflict" in answer else 200)


async def _told(request: Request) -> dict[str, Any]:
    """What the page sent: an object, or nothing."""
    try:
        told = await request.json()
    except (json.JSONDecodeError, UnicodeDecodeError):
        return {"tree": {}}
    return told if isinstance(told, dict) and isinstance(told.get("tree"), dict) else {"tree": {}}


def _refused(request: Request, trouble: InputError) -> Response:
    return JSONResponse({"wrong": dict(beside(trouble.faults, words_of(request)))}, 422)


def state(request: Request) -> Response:
    """The piece as it is kept now."""
    found = pieces.kept(shelf_of(request), request.path_params["piece_id"], words_of(request))
    return JSONResponse(found)


def back(request: Request) -> Response:
    """One step back."""
    found = pieces.back(shelf_of(request), request.path_params["piece_id"], words_of(request))
    return JSONResponse(found)


def forth(request: Request) -> Response:
    """One step forth."""
    found = pieces.forth(shelf_of(request), request.path_params["piece_id"], words_of(request))
    return JSONResponse(found)


async def name(request: Request) -> Response:
    """Another name for the piece."""
    piece_id, wished = request.path_params["piece_id"], typed(await request.form()).get("name", "")
    if wished.strip():
        shelf_of(request).rename(piece_id, wished.strip()[:120])
    return to(f"/table/{piece_id}")


def copy(request: Request) -> Response:
    """A copy to go on with."""
    made = pieces.copy(shelf_of(request), request.path_params["piece_id"], words_of(request))
    return to(f"/table/{made.id}")


def put_away(request: Request) -> Response:
    """The piece off the list."""
    shelf_of(request).remove(request.path_params["piece_id"])
    return to("/table")


def snapshot(request: Request) -> Response:
    """A snapshot of the piece as it is."""
    piece_id = request.path_params["piece_id"]
    pieces.set_aside(shelf_of(request), piece_id, words_of(request))
    return to(f"/table/{piece_id}#snapshots")


async def take_snapshot(request: Request) -> Response:
    """The piece becomes what a snapshot holds, or the snapshot is put away."""
    piece_id, snapshot_id = request.path_params["piece_id"], request.path_params["snapshot_id"]
    if typed(await request.form()).get("act") == "away":
        shelf_of(request).remove(snapshot_id)
        return to(f"/table/{piece_id}#snapshots")
    pieces.take_snapshot(shelf_of(request), piece_id, snapshot_id)
    return to(f"/table/{piece_id}")


def grown(request: Request) -> Response:
    """How a stem looks; the key says all, so a browser may keep it."""
    try:
        answer = look(request.path_params["key"])
    except KeyError:
        return JSONResponse({}, 404)
    kept_for = {"Cache-Control": f"private, max-age={KEPT_FOR_S}, immutable"}
    return JSONResponse(answer, headers=kept_for)


def printed(request: Request) -> Response:
    """The piece's handout."""
    made = handout_of(shelf_of(request), request.path_params["piece_id"], request.app.state.day())
    return paper(made, "handout")


def drawings(request: Request) -> Response:
    """The piece drawn with its numbers, as on paper."""
    piece_id, words = request.path_params["piece_id"], words_of(request)
    found = drawings_of(shelf_of(request), piece_id, words)
    return show(request, "table-drawings.html", drawings=found, piece_id=piece_id)


async def short(request: Request) -> Response:
    """What can be done with a branch that is too short."""
    told = await _told(request)
    try:
        return JSONResponse(too_short.ways(shelf_of(request), told, words_of(request)))
    except InputError as trouble:
        return _refused(request, trouble)


async def suggest(request: Request) -> Response:
    """Asks where the next stems could go; the answer comes as a job."""
    told = await _told(request)
    try:
        number = await run_in_threadpool(suggesting.ask, shelf_of(request), told["tree"])
    except InputError as trouble:
        return _refused(request, trouble)
    return JSONResponse({"job": number})


def suggested(request: Request) -> Response:
    """How far the answer is."""
    return JSONResponse(suggesting.state(shelf_of(request), request.path_params["job_id"]))


def stop_suggesting(request: Request) -> Response:
    """No more: what was found so far is the answer."""
    shelf_of(request).stop(request.path_params["job_id"])
    return JSONResponse({})


async def liked(request: Request) -> Response:
    """Remembers whether a suggestion was kept; it orders the next ones."""
    told = await request.json()
    try:
        suggesting.like(shelf_of(request), told["plan"], liked=bool(told["liked"]))
    except (KeyError, TypeError, ValueError):
        return JSONResponse({}, 422)
    return JSONResponse({})


ROUTES = [
    Route("/table/{piece_id:int}/suggest", suggest, methods=["POST"]),
    Route("/table/suggested/{job_id:int}", suggested),
    Route("/table/suggested/{job_id:int}/stop", stop_suggesting, methods=["POST"]),
    Route("/table/liked", liked, methods=["POST"]),
    Route("/table", tables),
    Route("/table/new", new),
    Route("/table/new", begin, methods=["POST"]),
    Route("/table/try", try_change, methods=["POST"]),
    Route("/table/short", short, methods=["POST"]),
    Route("/table/look/{key}", grown),
    Route("/table/{piece_id:int}", table),
    Route("/table/{piece_id:int}/state", state),
    Route("/table/{piece_id:int}/keep", keep_change, methods=["POST"]),
    Route("/table/{piece_id:int}/back", back, methods=["POST"]),
    Route("/table/{piece_id:int}/forth", forth, methods=["POST"]),
    Route("/table/{piece_id:int}/name", name, methods=["POST"]),
    Route("/table/{piece_id:int}/copy", copy, methods=["POST"]),
    Route("/table/{piece_id:int}/away", put_away, methods=["POST"]),
    Route("/table/{piece_id:int}/snapshot", snapshot, methods=["POST"]),
    Route("/table/{piece_id:int}/snapshot/{snapshot_id:int}", take_snapshot, methods=["POST"]),
    Route("/table/{piece_id:int}/handout.pdf", printed),
    Route("/table/{piece_id:int}/drawings", drawings),
]
