"""Words that several papers use: fixed texts, lengths, leans, directions, dates.

Model: every text comes from `data/sayings`; here they are chosen and put together.
Frame: bearings and tilts of the house frame; see `basis.angles`.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from typing import Any

from nejime.basis.angles import compass_word
from nejime.basis.sayings import Saying, Words, texts
from nejime.plants.table import plant

LEAN_WORDS = (  # [own] up to which tilt a word is said
    (5.0, "upright"),
    (22.0, "little"),
    (38.0, "quarter"),
    (58.0, "half"),
    (82.0, "low"),
    (94.0, "level"),
    (180.0, "hanging"),
)


def fixed(words: Words, *papers: str) -> dict[str, str]:
    """The texts that a template prints as they stand: `papers.<paper>.fixed.*`."""
    known = texts(words.language)
    found = {}
    for paper in papers:
        start = f"papers.{paper}.fixed."
        found.update({key[len(start) :]: known[key] for key in known if key.startswith(start)})
    return found


def said(words: Words, sayings: Iterable[Saying]) -> list[str]:
    """Sayings as texts, each once."""
    return list(dict.fromkeys(words.say(saying) for saying in sayings))


def word(words: Words, key: str, **quantities: object) -> str:
    """One text of the papers."""
    return words.say(Saying(f"papers.{key}", **quantities))


def lean(tilt_deg: float) -> Saying:
    """How far a stem leans, in words."""
    name = next(name for most, name in LEAN_WORDS if tilt_deg <= most)
    return Saying(f"papers.lean.{name}")


def towards(bearing_deg: float) -> Saying:
    """Where a stem leans, as it is said after "lean it"."""
    return Saying(f"papers.towards.{compass_word(bearing_deg)}")


def direction(bearing_deg: float) -> Saying:
    """Where a stem points, as a heading in a table."""
    return Saying(f"direction.{compass_word(bearing_deg)}")


def short_direction(bearing_deg: float) -> Saying:
    """Where a stem points, in the fewest words."""
    return Saying(f"drawings.direction.{compass_word(bearing_deg)}")


def one_unit(words: Words) -> Words:
    """The same words with lengths in one unit, where there is no room for two."""
    return Words(
        words.language, "in" if words.unit == "in" else "cm", words.currency, words.decimals
    )


def measure(words: Words, value_cm: float) -> dict[str, str]:
    """A length for large numerals: the number, its unit, and the other unit where both are read."""
    centimetres = Words(words.language, "cm").quantity("length_cm", value_cm, bare=True)
    number, _, unit = Words(words.language, "in").quantity("length_cm", value_cm).rpartition(" ")
    if words.unit == "in":
        return {"number": number, "unit": unit, "also": ""}
    also = f"{number} {unit}" if words.unit == "both" else ""
    return {"number": centimetres, "unit": word(words, "unit.cm"), "also": also}


def date(words: Words, day: dt.date, *, short: bool = False) -> str:
    """A date in words."""
    return word(
        words,
        "when.short" if short else "when.date",
        weekday=Saying(f"papers.weekday.{day.weekday()}"),
        day=str(day.day),
        month=Saying(f"papers.month.{day.month}"),
        year=str(day.year),
    )


def dated(saying: Saying, words: Words) -> str:
    """A saying with its dates in words."""
    told = {
        name: date(words, value, short=True) if isinstance(value, dt.date) else value
        for name, value in saying.quantities.items()
    }
    return words.say(Saying(saying.key, **told))


def clock(words: Words, at: dt.time | dt.datetime) -> str:
    """A time of day in words."""
    return word(
        words,
        "when.am" if at.hour < 12 else "when.pm",
        hour=str(at.hour % 12 or 12),
        minute=f"{at.minute:02}",
    )


def sentence(text: str) -> str:
    """The text with a capital at its beginning."""
    return text[:1].upper() + text[1:]


def plant_name(plant_id: str) -> str:
    """A plant's English name as it stands in a list."""
    return plant(plant_id).english


def plant_cell(plant_id: str) -> list[Any]:
    """A plant in a table: its name, and under it kanji and reading where there are any."""
    found = plant(plant_id)
    japanese = " ".join(part for part in (found.kanji or found.kana, found.romaji) if part)
    return [{"strong": found.english}, *([{"quiet": japanese}] if japanese else [])]
