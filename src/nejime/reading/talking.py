"""The plants of which somebody wants to speak, and what she wants to say, as it was typed.

Model: plants are any of their names, with commas or new lines between them.
"""

from __future__ import annotations

import re

from nejime.basis.errors import Fault, InputError, refuse
from nejime.basis.sayings import Saying
from nejime.plants import table
from nejime.plants.table import Plant
from nejime.reading.plants import found_by_name, meant

MOST_LETTERS = 2000  # [own] of one part of what is said: about a page


def plants(typed: str) -> tuple[Plant, ...]:
    """The plants, each once. Raises `InputError` at `plants` that names every unknown word."""
    asked = [word.strip() for word in re.split(r"[,;、，\n]", typed) if word.strip()]
    found = {word: found_by_name(word) for word in asked}
    faults = [
        Fault(
            "plants",
            Saying("reading.talking.no-plant", word=word),
            Saying("reading.talking.no-plant-try", meant=meant(table.nearest(word))),
        )
        for word, known in found.items()
        if known is None
    ]
    if faults:
        raise InputError(faults)
    return tuple(dict.fromkeys(each for each in found.values() if each is not None))


def said(name: str, typed: str) -> str:
    """A part as she wrote it, line ends as ours. Raises `InputError` at its name if too long."""
    text = "\n".join(line.rstrip() for line in typed.strip().splitlines())
    if len(text) > MOST_LETTERS:
        key = "reading.talking.too-long"
        raise refuse(name, key, f"{key}-try", most=str(MOST_LETTERS))
    return text
