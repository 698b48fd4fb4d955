"""The talking card: one page in large letters, held in the hand while she speaks."""

from __future__ import annotations

from collections.abc import Sequence

from nejime.basis.sayings import Words
from nejime.papers.sheet import Sheet
from nejime.papers.wording import word


def talking(above: str, kanji: str, parts: Sequence[tuple[str, str]], words: Words) -> Sheet:
    """The card: a line above the title, kanji beside it, and what is said, part by part.

    A part without words is left out.
    """
    told = [
        {
            "title": word(words, f"talking.{name}"),
            "says": [line for line in says.splitlines() if line],
        }
        for name, says in parts
        if says.strip()
    ]
    data = {"above": above, "kanji": kanji, "parts": told}
    return Sheet("talking", "talking", word(words, "talking.title"), data)
