"""Settings: what holds on every page and paper; everything out and in as one file."""

from __future__ import annotations

from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.basis.errors import InputError
from nejime.desk import carry, setting
from nejime.desk.things import Both
from nejime.web.answering import beside, shelf_of, show, to, typed, words_of


async def page(request: Request) -> Response:
    """The settings as they stand."""
    done = request.query_params.get("done", "")
    return _shown(request, setting.form(shelf_of(request)), done=done)


async def keep(request: Request) -> Response:
    """The settings as they were typed."""
    told = typed(await request.form())
    try:
        kept = setting.keep(shelf_of(request), told)
    except InputError as trouble:
        return _shown(request, setting.filled(told), trouble)
    if isinstance(kept, Both):
        return show(request, "both_settings.html", 409, both=kept, told=told)
    return to("/settings?done=kept")


def save_all(request: Request) -> Response:
    """Everything as one file."""
    return Response(
        carry.everything(shelf_of(request)),
        media_type="application/json",
        headers={"Content-Disposition": 'attachment; filename="nejime.json"'},
    )


async def bring_in(request: Request) -> Response:
    """What a saved file holds, added to what is here."""
    async with request.form() as form:
        upload = form.get("file")
        data = await upload.read() if isinstance(upload, UploadFile) else b""
    try:
        found = carry.bring_in(shelf_of(request), data)
    except InputError as trouble:
        return _shown(request, setting.form(shelf_of(request)), trouble)
    return _shown(request, setting.form(shelf_of(request)), brought=found)


def _shown(
    request: Request,
    form: setting.SettingsForm,
    trouble: InputError | None = None,
    *,
    done: str = "",
    brought: carry.BroughtIn | None = None,
) -> Response:
    words = words_of(request)
    return show(
        request,
        "settings.html",
        422 if trouble else 200,
        words=words,
        form=form,
        choices=setting.choices(shelf_of(request)),
        wrong=beside(trouble.faults, words) if trouble else {},
        done=done,
        brought=brought,
    )


ROUTES = [
    Route("/settings", page),
    Route("/settings", keep, methods=["POST"]),
    Route("/settings/everything.json", save_all),
    Route("/settings/bring-in", bring_in, methods=["POST"]),
]
