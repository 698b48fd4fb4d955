"""A correction without a photograph: choose a piece, say what was changed, print the numbers."""

from __future__ import annotations

from datetime import date
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from nejime.basis.errors import InputError
from nejime.desk import door, nudge
from nejime.web.answering import beside, shelf_of, show, words_of
from nejime.web.paper import paper


def page(request: Request) -> Response:
    """The pieces to choose from; with one chosen its stems, and what comes of the correction."""
    fields = dict(request.query_params)
    if not fields.get("from"):
        return _choose(request, fields)
    try:
        subject = nudge.subject(shelf_of(request), fields, _day(request))
    except InputError as trouble:
        return _choose(request, fields, trouble)
    try:
        found = nudge.correct(shelf_of(request), fields, _day(request))
    except InputError as trouble:
        return _stems(request, fields, subject, trouble=trouble)
    return _stems(request, fields, subject, found=found if found.changes else None)


def sheet(request: Request) -> Response:
    """The sheet to print; back to the form where something is wrong."""
    try:
        pdf = nudge.printed(shelf_of(request), dict(request.query_params), _day(request))
    except InputError:
        return page(request)
    return paper(pdf, "correction")


def _day(request: Request) -> date:
    day: date = request.app.state.day()
    return day


def _choose(
    request: Request, fields: dict[str, str], trouble: InputError | None = None
) -> Response:
    words = words_of(request)
    return show(
        request,
        "nudge_choose.html",
        422 if trouble else 200,
        words=words,
        groups=nudge.to_correct(shelf_of(request), _day(request)),
        shapes=door.shape_tiles(words),
        fields={name: fields.get(name, "") for name in door.FIELDS},
        wrong=beside(trouble.faults, words) if trouble else {},
    )


def _stems(
    request: Request,
    fields: dict[str, str],
    subject: nudge.Subject,
    *,
    trouble: InputError | None = None,
    found: nudge.Correction | None = None,
) -> Response:
    words, shelf = words_of(request), shelf_of(request)
    rows = nudge.rows(subject, words)
    shown: dict[str, Any] = {
        "subject": subject,
        "rows": rows,
        "choices": nudge.choices(subject, words, door.unit_of(shelf)),
        "inches": door.unit_of(shelf) == "in",
        "fields": fields,
        "kept": {name: fields.get(name, "") for name in ("from", *door.FIELDS)},
        "wrong": beside(trouble.faults, words) if trouble else {},
        "found": found,
        "asked": request.url.query,
    }
    return show(request, "nudge.html", 422 if trouble else 200, words=words, **shown)


ROUTES = [Route("/nudge", page), Route("/nudge/correction.pdf", sheet)]
