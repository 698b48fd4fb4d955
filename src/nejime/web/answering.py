"""How every page is shown: its template, the words on it, and what went wrong beside its field."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from nejime import __version__
from nejime.basis.errors import Fault
from nejime.basis.sayings import Saying, Words
from nejime.desk.settings import words_for
from nejime.desk.shelf import Shelf

HERE = Path(__file__).parent
NAVIGATION = (  # path, key of the word
    ("/", "nav.today"),
    ("/season", "nav.season"),
    ("/table", "nav.table"),
    ("/door", "nav.door"),
    ("/nudge", "nav.nudge"),
    ("/made", "nav.made"),
    ("/classes", "nav.classes"),
    ("/display", "nav.display"),
    ("/cupboard", "nav.cupboard"),
    ("/places", "nav.places"),
    ("/plants", "nav.plants"),
    ("/settings", "nav.settings"),
)


@lru_cache(maxsize=1)
def templates() -> Environment:
    """The templates; a name that nobody set is an error, and all text is escaped."""
    return Environment(
        loader=FileSystemLoader(HERE / "templates"),
        autoescape=select_autoescape(default=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def shelf_of(request: Request) -> Shelf:
    """Everything that the teacher keeps."""
    shelf: Shelf = request.app.state.shelf
    return shelf


def words_of(request: Request) -> Words:
    """The reader's language and units."""
    return words_for(shelf_of(request))


def show(request: Request, template: str, /, status: int = 200, **shown: Any) -> Response:
    """A page. In its template `say(key, …)` is the text of `web.<key>`, `tell(saying)` any saying,
    `asset(name)` the address of a file of ours."""
    words = shown.pop("words", None) or words_of(request)
    text = (
        templates()
        .get_template(template)
        .render(
            say=lambda key, **told: words.say(Saying(f"web.{key}", **told)),
            tell=words.say,
            quantity=words.quantity,
            asset=asset,
            here=request.url.path,
            navigation=NAVIGATION,
            version=__version__,
            **shown,
        )
    )
    return HTMLResponse(text, status)


def asset(name: str) -> str:
    """The address of a file in `static`, anew with each version."""
    return f"/static/{name}?v={__version__}"


def to(path: str) -> Response:
    """On to another page after something was done."""
    return RedirectResponse(path, 303)


def typed(form: FormData) -> dict[str, str]:
    """What stands in the fields of a form, as it was typed."""
    return {name: str(value) for name, value in form.items()}


def beside(faults: Iterable[Fault], words: Words) -> Mapping[str, str]:
    """For each field that is wrong, where, what and what to do. The first fault counts."""
    found: dict[str, str] = {}
    for fault in faults:
        says = words.say(fault.says)
        if fault.try_instead is not None:
            says = f"{says} {words.say(fault.try_instead)}"
        if fault.line is not None:
            says = f"{words.say(Saying('web.places.at', line=fault.line))}: {says}"
        found.setdefault(fault.field, says)
    return found
