"""Classes: the list, and one class with its parts."""

from __future__ import annotations

from typing import Any
from urllib.parse import quote

from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying
from nejime.desk import class_beginning, class_words, classes, left_over, remembering
from nejime.web.answering import beside, shelf_of, show, to, typed, words_of

MOST_FIELDS = 40_000  # [own] four hundred people with everything that can be said of one


def every(request: Request) -> Response:
    """The list of classes."""
    return _list(request)


def _list(request: Request, status: int = 200, **more: Any) -> Response:
    ahead, over = classes.classes(shelf_of(request), request.app.state.day())
    words = words_of(request)
    shown = {"faults": (), "file_name": "", "file_text": "", **more}
    return show(
        request,
        "classes.html",
        status,
        ahead=ahead,
        over=over,
        away=shelf_of(request).removed(classes.KIND),
        day=lambda each: class_words.day_words(each.day, words),
        words=words,
        **shown,
    )


def begin(request: Request) -> Response:
    """A new class."""
    called = words_of(request).say(Saying("web.classes.first-title"))
    kept = class_beginning.begin_class(shelf_of(request), request.app.state.day(), called)
    return to(f"/classes/{kept.id}/when")


async def bring_in(request: Request) -> Response:
    """A class from its file, or what is wrong in the file and its text to be mended."""
    async with request.form() as form:
        file = form.get("file")
        name, data = str(form.get("file_name", "")), str(form.get("file_text", "")).encode()
        if isinstance(file, UploadFile) and file.filename:
            name, data = file.filename, await file.read()
    try:
        kept = classes.bring_in(shelf_of(request), name, data)
    except InputError as trouble:
        text = data.decode("utf-8", "replace")
        return _list(request, 422, faults=trouble.faults, file_name=name, file_text=text)
    return to(f"/classes/{kept.id}")


def one(request: Request) -> Response:
    """One class: what there is in each part, what is missing, and the ways on."""
    words = words_of(request)
    found = classes.opened(shelf_of(request), _id(request))
    return show(
        request,
        "class.html",
        words=words,
        about=class_words.summary(found, words),
        **class_words.about_parts(found, words),
    )


def part(request: Request) -> Response:
    """The form of one part."""
    name, words, shelf = _part(request), words_of(request), shelf_of(request)
    found = classes.opened(shelf, _id(request))
    faults = found.wrong_in(name)
    return show(
        request,
        f"class-{name}.html",
        words=words,
        part=name,
        faults=faults,
        fields=found.fields,
        wrong=beside(faults, words),
        many=found.many,
        kept_now="kept" in request.query_params,
        later=request.query_params.get("later", ""),
        key_words=lambda key: class_words.key_words(key, words),
        choices=class_words.choices(words),
        inches=words.unit == "in",
        suggestions=class_words.suggestions(),
        ours={table: classes.ours(shelf, found.kept, table) for table in ("vessel", "holder")},
        cupboard=classes.not_yet(shelf, found.kept, "vessel", "holder"),
        places=classes.not_yet(shelf, found.kept, "shop", "garden"),
        before=left_over.class_before(shelf, found.kept) if name == "supplies" else None,
        **class_words.about_parts(found, words),
    )


async def fill_in(request: Request) -> Response:
    """Keeps what was typed; shows both where somebody else changed the same."""
    fields = typed(await request.form(max_fields=MOST_FIELDS))
    name, act = _part(request), fields.get("do", "")
    done, later = remembering.fill_in(
        shelf_of(request), _id(request), name, int(fields.get("base", 0)), fields, act
    )
    if isinstance(done, classes.Clash):
        return _clash(request, name, done)
    told = "" if later is None else f"&later={'yes' if later else 'no'}"
    return to(f"/classes/{done.id}/{name}?kept{told}{_after(act)}")


def _after(act: str) -> str:
    """Where the page is shown after an act."""
    word, _, place = act.partition(" ")
    stays = word in ("up", "down", "remember")
    return f"#{quote(place, safe='')}" if stays else "#rows" if word else ""


def _clash(request: Request, name: str, clash: classes.Clash) -> Response:
    words = words_of(request)
    both = {**clash.typed, **{place: theirs for place, theirs, _ in clash.differing if theirs}}
    return show(
        request,
        "class-clash.html",
        409,
        words=words,
        clash=clash,
        part=name,
        where=lambda place: class_words.place_words(place, both, words),
    )


def undo(request: Request) -> Response:
    """Back by one change."""
    return to(f"/classes/{classes.undone(shelf_of(request), _id(request)).id}")


def redo(request: Request) -> Response:
    """On by one change."""
    return to(f"/classes/{classes.redone(shelf_of(request), _id(request)).id}")


def copy(request: Request) -> Response:
    """The same class once more."""
    return to(f"/classes/{classes.copied(shelf_of(request), _id(request)).id}/when")


def put_away(request: Request) -> Response:
    """Off the list."""
    shelf_of(request).remove(_id(request))
    return to("/classes")


def put_back(request: Request) -> Response:
    """On the list again."""
    return to(f"/classes/{shelf_of(request).restore(_id(request)).id}")


def file(request: Request) -> Response:
    """The class file."""
    name, text = classes.class_file(shelf_of(request).get(_id(request)))
    told = f"attachment; filename*=UTF-8''{quote(name)}"
    return Response(text, media_type="application/toml", headers={"Content-Disposition": told})


def _part(request: Request) -> str:
    name: str = request.path_params["part"]
    if name not in classes.PARTS:
        raise HTTPException(404)
    return name


def _id(request: Request) -> int:
    number: int = request.path_params["id"]
    return number


ROUTES = [
    Route("/classes", every),
    Route("/classes", begin, methods=["POST"]),
    Route("/classes/bring-in", bring_in, methods=["POST"]),
    Route("/classes/{id:int}", one),
    Route("/classes/{id:int}/file", file),
    Route("/classes/{id:int}/undo", undo, methods=["POST"]),
    Route("/classes/{id:int}/redo", redo, methods=["POST"]),
    Route("/classes/{id:int}/copy", copy, methods=["POST"]),
    Route("/classes/{id:int}/put-away", put_away, methods=["POST"]),
    Route("/classes/{id:int}/put-back", put_back, methods=["POST"]),
    Route("/classes/{id:int}/{part}", part),
    Route("/classes/{id:int}/{part}", fill_in, methods=["POST"]),
]
