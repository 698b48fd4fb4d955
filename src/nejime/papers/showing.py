"""The display card for colleagues: fill to this line, take out on this day, whom to ring."""

from __future__ import annotations

import datetime as dt

from nejime.basis.sayings import Saying, Words
from nejime.keeping.display import DisplayCard
from nejime.papers.sheet import Sheet
from nejime.papers.wording import date, word


def showing(card: DisplayCard, words: Words, above: str = "") -> Sheet:
    """The card of one piece."""
    data = {
        "above": above,
        "first": [_say(each, words) for each in (card.fill, card.pins) if each],
        "lasting": [_say(each.says, words) for each in card.lasting],
        "remove": _say(card.remove, words),
        "ring": _say(card.ring, words),
        "last": [_say(x, words) for x in (*card.minding, card.visitors, card.grade) if x],
    }
    return Sheet("display-card", "showing", word(words, "display.title"), data)


def _say(saying: Saying, words: Words) -> str:
    """The saying with its dates in words."""
    dated = {
        name: date(words, value, short=True) if isinstance(value, dt.date) else value
        for name, value in saying.quantities.items()
    }
    return words.say(Saying(saying.key, **dated))
