"""A JSON text into its values; what is not JSON is refused with its line, a key told twice too."""

from __future__ import annotations

import json
from typing import Any

from nejime.reading.fields import shown
from nejime.reading.text import refuse_file


def read_json(file: str, text: str) -> Any:
    """The values of a JSON text. Raises `InputError`."""
    twice: list[str] = []

    def once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        found = dict(pairs)
        if len(found) < len(pairs):
            twice.extend(key for key, _ in pairs if sum(key == each for each, _ in pairs) > 1)
        return found

    try:
        tree = json.loads(text, object_pairs_hook=once)
    except json.JSONDecodeError as trouble:
        raise refuse_file(
            file, "reading.json.unreadable", trouble.lineno, trouble=shown(trouble.msg)
        ) from trouble
    except (RecursionError, ValueError) as trouble:
        raise refuse_file(file, "reading.json.unreadable", None, trouble="") from trouble
    if twice:
        raise refuse_file(file, "reading.json.twice", None, name=shown(twice[0]))
    return tree
