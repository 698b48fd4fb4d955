"""Lists of things that are kept: shown, added, changed, copied, put away and brought back.

A page over such a list gives the address below which it lives, its template and its kinds.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Sequence
from typing import Any

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from nejime.basis.errors import InputError
from nejime.desk import things
from nejime.desk.shelf import Kept, Missing, Shelf
from nejime.web.answering import beside, shelf_of, show, to, typed, words_of

Page = Callable[[Request], Awaitable[Response]]


def routes(place: str, kinds: Sequence[str]) -> list[BaseRoute]:
    """The addresses below `/<place>`; the list's template is `<place>.html`."""

    def asked(request: Request) -> tuple[str, int | None]:
        kind = request.path_params["kind"]
        if kind not in kinds:
            raise Missing(kind, 0)
        return kind, request.path_params.get("number")

    async def shelf_page(request: Request) -> Response:
        return all_of(request, place, kinds)

    async def new(request: Request) -> Response:
        kind, _ = asked(request)
        return _form(request, place, things.new_form(shelf_of(request), kind))

    async def one(request: Request) -> Response:
        kind, number = asked(request)
        return _form(request, place, things.form(shelf_of(request), kind, number or 0))

    async def keep(request: Request) -> Response:
        kind, number = asked(request)
        fields = await request.form()
        if fields.get("more"):
            return _form(request, place, things.filled(kind, typed(fields), number))
        return _kept(request, place, kind, number, fields)

    routes: list[BaseRoute] = [
        Route(f"/{place}", shelf_page),
        Route(f"/{place}/{{kind}}/new", new),
        Route(f"/{place}/{{kind}}/new", keep, methods=["POST"]),
        Route(f"/{place}/{{kind}}/{{number:int}}", one),
        Route(f"/{place}/{{kind}}/{{number:int}}", keep, methods=["POST"]),
    ]
    acts: dict[str, Callable[[Shelf, str, int], Kept]] = {
        "copy": things.copy,
        "away": things.put_away,
        "back": things.bring_back,
    }
    for name, act in acts.items():
        routes.append(
            Route(
                f"/{place}/{{kind}}/{{number:int}}/{name}",
                _acting(place, act, asked),
                methods=["POST"],
            )
        )
    return routes


def all_of(
    request: Request, place: str, kinds: Sequence[str], status: int = 200, **more: Any
) -> Response:
    """The page with the lists; `more`: what its template shows besides."""
    shelf = shelf_of(request)
    return show(
        request,
        f"{place}.html",
        status,
        things={kind: things.listed(shelf, kind) for kind in kinds},
        away={kind: things.away(shelf, kind) for kind in kinds},
        **more,
    )


def _acting(
    place: str,
    act: Callable[[Shelf, str, int], Kept],
    asked: Callable[[Request], tuple[str, int | None]],
) -> Page:
    async def page(request: Request) -> Response:
        kind, number = asked(request)
        act(shelf_of(request), kind, number or 0)
        return to(f"/{place}#{kind}")

    return page


def _kept(
    request: Request, place: str, kind: str, number: int | None, fields: FormData
) -> Response:
    told = typed(fields)
    try:
        kept = things.keep(shelf_of(request), kind, told, number)
    except InputError as trouble:
        return _form(request, place, things.filled(kind, told, number), trouble)
    if isinstance(kept, things.Both):
        return show(
            request, "both.html", 409, both=kept, place=place, kind=kind, number=number, told=told
        )
    return to(f"/{place}#{kind}")


def _form(
    request: Request, place: str, form: things.ThingForm, trouble: InputError | None = None
) -> Response:
    words = words_of(request)
    return show(
        request,
        f"thing_{form.kind}.html",
        422 if trouble else 200,
        words=words,
        form=form,
        place=place,
        choices=things.choices(shelf_of(request)),
        wrong=beside(trouble.faults, words) if trouble else {},
    )
