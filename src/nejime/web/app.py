"""The application: which address is which page."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, time
from typing import Any

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import BaseRoute, Mount
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from nejime.basis.sayings import Saying, Words
from nejime.desk.made.pictures import Pictures
from nejime.desk.shelf import CannotKeep, Missing, Shelf
from nejime.web.answering import HERE, show
from nejime.web.guarding import Guard
from nejime.web.pages import (
    bowls,
    buying,
    class_papers,
    classes,
    cupboard,
    display,
    door,
    made,
    made_card,
    nudge,
    places,
    plants,
    review,
    season,
    settings,
    table,
    talking,
    today,
)

PAGES: tuple[Any, ...] = (
    today,
    table,
    class_papers,
    buying,
    classes,
    bowls,
    door,
    made_card,
    nudge,
    made,
    display,
    cupboard,
    places,
    plants,
    review,
    season,
    settings,
    talking,
)
KEPT_FOR_S = 31_536_000  # [own] a year: the address of a file changes with the version


class Assets(StaticFiles):
    """Our own files; their addresses carry the version, so browsers may keep them."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        """One file."""
        answer = await super().get_response(path, scope)
        answer.headers["Cache-Control"] = f"public, max-age={KEPT_FOR_S}, immutable"
        return answer


def clock() -> time:
    """The time of day on this machine."""
    return datetime.now().time()


def application(
    shelf: Shelf, day: Callable[[], date] = date.today, clock: Callable[[], time] = clock
) -> Starlette:
    """The pages over everything that the teacher keeps; `day` says which day it is, `clock` what
    time."""
    routes: list[BaseRoute] = [Mount("/static", Assets(directory=HERE / "static"))]
    for page in PAGES:
        routes += page.ROUTES
    app = Starlette(
        routes=routes,
        middleware=[Middleware(Guard), Middleware(GZipMiddleware, minimum_size=800)],
        exception_handlers={
            404: _nothing_here,
            Missing: _nothing_here,
            CannotKeep: _not_kept,
        },
    )
    app.state.shelf = shelf
    app.state.day = day
    app.state.pictures = Pictures()
    app.state.now = lambda: datetime.combine(day(), clock())
    return app


def _nothing_here(request: Request, trouble: Exception) -> Response:
    """What stands where there is nothing (any more)."""
    assert isinstance(trouble, HTTPException | Missing)
    return show(request, "nothing.html", 404)


def _not_kept(request: Request, trouble: Exception) -> Response:
    """What stands where the disk is full or gone: without anything that is kept."""
    says = Words().say(Saying("web.not-kept"))
    return PlainTextResponse(says, 503)
