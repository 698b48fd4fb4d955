"""A JSON text into its values; what is not JSON is refused with its line."""

from __future__ import annotations

import json
from typing import Any

from nejime.reading.fields import shown
from nejime.reading.text import refuse_file


def read_json(file: str, text: str) -> Any:
    """The values of a JSON text. Raises `InputError`."""
    try:
        return json.loads(text)
    except json.JSONDecodeError as trouble:
        raise refuse_file(
            file, "reading.json.unreadable", trouble.lineno, trouble=shown(trouble.msg)
        ) from trouble
    except (RecursionError, ValueError) as trouble:
        raise refuse_file(file, "reading.json.unreadable", None, trouble="") from trouble
