"""The papers of a class: asked for, waited for, opened, printed, taken along."""

from __future__ import annotations

from pathlib import PurePosixPath
from typing import Any
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.desk import class_papers, class_words, classes
from nejime.web.answering import shelf_of, show, to, words_of
from nejime.web.paper import paper

KINDS = {".svg": "image/svg+xml", ".ics": "text/calendar; charset=utf-8"}
AT_WORK = ("waiting", "running")


def every(request: Request) -> Response:
    """What there is, by what it is for; how far it is while it is being made."""
    return show(request, "class-papers.html", **_shown(request))


def progress(request: Request) -> Response:
    """How far it is; where it is done, the whole page again."""
    shown = _shown(request)
    answer = show(request, "class-papers-progress.html", **shown)
    if not shown["at_work"]:
        answer.headers["HX-Refresh"] = "true"
    return answer


def _shown(request: Request) -> dict[str, Any]:
    words, shelf = words_of(request), shelf_of(request)
    found = classes.opened(shelf, _id(request))
    made = class_papers.papers(shelf, found.kept, words)
    return {
        "words": words,
        "made": made,
        "at_work": made.state in AT_WORK,
        "address": lambda file: f"/classes/{found.kept.id}/papers/{quote(file)}",
        **class_words.about_parts(found, words),
    }


def ask(request: Request) -> Response:
    """Asks for the papers."""
    class_papers.ask(shelf_of(request), _id(request), request.app.state.day())
    return to(f"/classes/{_id(request)}/papers")


def stop(request: Request) -> Response:
    """Stops the making."""
    class_papers.stop(shelf_of(request), _id(request))
    return to(f"/classes/{_id(request)}/papers")


def one(request: Request) -> Response:
    """One paper, to be looked at and printed."""
    file = PurePosixPath(request.path_params["file"])
    content = class_papers.paper(shelf_of(request), _id(request), str(file))
    if file.suffix == ".pdf":
        return paper(content, file.stem)
    return Response(content, media_type=KINDS.get(file.suffix, "application/json"))


def together(request: Request) -> Response:
    """All of them in one packed file."""
    kept = shelf_of(request).get(_id(request))
    name = PurePosixPath(classes.class_file(kept)[0]).stem
    told = f"attachment; filename*=UTF-8''{quote(name)}.zip"
    packed = class_papers.all_papers(shelf_of(request), kept.id)
    return Response(packed, media_type="application/zip", headers={"Content-Disposition": told})


def _id(request: Request) -> int:
    number: int = request.path_params["id"]
    return number


ROUTES = [
    Route("/classes/{id:int}/papers", every),
    Route("/classes/{id:int}/papers", ask, methods=["POST"]),
    Route("/classes/{id:int}/papers/progress", progress),
    Route("/classes/{id:int}/papers/stop", stop, methods=["POST"]),
    Route("/classes/{id:int}/papers/all", together),
    Route("/classes/{id:int}/papers/{file:path}", one),
]
