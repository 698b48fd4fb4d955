"""A piece on display: the card for colleagues, and the label for those who look.

The card says: fill to this line, take out on this day, where not to put it, whom to ring.
"""

from __future__ import annotations

from collections.abc import Sequence

from nejime.basis.sayings import Words
from nejime.keeping.display import DisplayCard
from nejime.papers.sheet import Sheet
from nejime.papers.wording import dated, plant_cell, word
from nejime.plants.plant import Plant


def showing(card: DisplayCard, words: Words, above: str = "") -> Sheet:
    """The card of one piece."""
    data = {
        "above": above,
        "first": [dated(each, words) for each in (card.fill, card.water, card.pins) if each],
        "lasting": [dated(each.says, words) for each in card.lasting],
        "remove": dated(card.remove, words),
        "ring": dated(card.ring, words),
        "places": [dated(each, words) for each in card.places],
        "last": [dated(x, words) for x in (*card.minding, card.visitors, card.grade) if x],
    }
    return Sheet("display-card", "showing", word(words, "display.title"), data)


def label(name: str, plants: Sequence[Plant], contact: str, words: Words) -> Sheet:
    """The label beside a piece: what it is called, what stands in it, whom to ask."""
    data = {
        "above": word(words, "display.label-above"),
        "name": name,
        "plants": [plant_cell(each.id) for each in plants],
        "touch": word(words, "display.label-touch"),
        "ask": word(words, "display.label-ask", contact=contact) if contact else "",
    }
    return Sheet("display-label", "label", word(words, "display.label-title"), data)
