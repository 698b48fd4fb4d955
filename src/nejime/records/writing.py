"""How contents and sayings are written down: as JSON (RFC 8259).

Numbers that JSON does not have (infinite, not a number) are refused with `ValueError`. Letters
beyond ASCII are escaped, so that half a character, which a browser's field can cut off, survives.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from nejime.basis.sayings import Saying

Content = Mapping[str, Any]
"""A JSON object: text, numbers, true, false, null, lists and objects, as deep as wanted."""


def text_of(content: object) -> str:
    """The content as JSON, its keys in the order in which they were given."""
    return json.dumps(content, allow_nan=False, separators=(",", ":"))


def canonical(content: object) -> str:
    """The same text for equal contents: JSON's objects have no order, and 1 is not true."""
    return json.dumps(content, allow_nan=False, separators=(",", ":"), sort_keys=True)


def content_of(text: str) -> Any:
    """What was written."""
    return json.loads(text)


def text_of_saying(saying: Saying | None) -> str | None:
    """A saying as JSON, the sayings within it included."""
    return None if saying is None else text_of(_plain(saying))


def saying_of(text: str | None) -> Saying | None:
    """The saying that was written; lists in it come back as tuples."""
    return None if text is None else _said(json.loads(text))


def _plain(value: object) -> object:
    if isinstance(value, Saying):
        quantities = {name: _plain(each) for name, each in value.quantities.items()}
        return {"key": value.key, "quantities": quantities}
    if isinstance(value, tuple | list):
        return [_plain(each) for each in value]
    if value is None or isinstance(value, str | int | float):
        return value
    raise TypeError(f"a saying cannot be kept with {value!r} in it")


def _said(value: Any) -> Any:
    if isinstance(value, dict):
        quantities = {name: _said(each) for name, each in value["quantities"].items()}
        return Saying(value["key"], **quantities)
    if isinstance(value, list):
        return tuple(_said(each) for each in value)
    return value
