"""How a stem looks in the browser, by the key that a scene gave it."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from nejime.drawings import wire

REMEMBERED = 400  # [own] the stems of some twenty pieces


@lru_cache(maxsize=REMEMBERED)
def look(key: str) -> dict[str, Any]:
    """A grown stem as numbers. Raises `KeyError`."""
    return wire.look(key)
