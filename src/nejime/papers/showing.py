"""The display card for colleagues: fill to this line, take out on this day, whom to ring."""

from __future__ import annotations

from nejime.basis.sayings import Words
from nejime.keeping.display import DisplayCard
from nejime.papers.sheet import Sheet
from nejime.papers.wording import dated, word


def showing(card: DisplayCard, words: Words, above: str = "") -> Sheet:
    """The card of one piece."""
    data = {
        "above": above,
        "first": [dated(each, words) for each in (card.fill, card.pins) if each],
        "lasting": [dated(each.says, words) for each in card.lasting],
        "remove": dated(card.remove, words),
        "ring": dated(card.ring, words),
        "last": [dated(x, words) for x in (*card.minding, card.visitors, card.grade) if x],
    }
    return Sheet("display-card", "showing", word(words, "display.title"), data)
