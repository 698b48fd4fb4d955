"""Which drawings go on which paper, how large, and what they are called for those who listen."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from nejime.basis.sayings import Words
from nejime.forms.stems import Piece
from nejime.papers.sheet import Drawing, Stock

Looks = Mapping[str, Any]


def of_handout(
    piece: Piece,
    looks: Looks | None,
    steps: list[tuple[str, str]],
    words: Words,
    stock: Stock,
) -> dict[str, Drawing]:
    """The vessel, the piece from the front and from above, and one drawing a step."""
    return {}
