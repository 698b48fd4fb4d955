"""The marker card: a small sheet that lies beside the bowl while it is photographed."""

from __future__ import annotations

from nejime.basis.sayings import Words
from nejime.drawings import marker_card as drawing
from nejime.papers.pictures import drawn
from nejime.papers.sheet import Sheet
from nejime.papers.wording import word
from nejime.photo.card import CARD_MM, PATTERNS, SIDE_MM, TOP_LEFT_MM, rows_of


def marker_card(words: Words) -> Sheet:
    """The card: it is the same on every stock, as the markers' size is what counts."""
    cells = {marker: rows_of(marker) for marker in PATTERNS}
    svg = drawing.marker_card(drawing.Markers(CARD_MM, SIDE_MM, TOP_LEFT_MM, cells), words)
    title = word(words, "marker-card.title")
    return Sheet("marker-card", "marker_card", title, {}, {"card": drawn(svg)})
