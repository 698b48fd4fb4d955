"""Look up plants: by any word, or all of them; with what is known, from where and how surely."""

from __future__ import annotations

from typing import Any

from nejime.basis.errors import refuse
from nejime.basis.sayings import Saying, Words
from nejime.desk.plant_words import japanese, range_said
from nejime.desk.tell import columns
from nejime.plants.plant import UNIT_OF, Fact, Plant
from nejime.plants.table import find, nearest, plants


def look_up_plants(word: str | None = None) -> tuple[Plant, ...]:
    """The plants that a word finds, the best match first; all without one.

    Raises `InputError` with the nearest names where it finds none.
    """
    if word is None:
        return plants()
    found = find(word)
    if not found:
        near = nearest(word)
        raise refuse(
            "plant",
            "plants.unknown",
            "plants.unknown-try" if near else "plants.unknown-no-choice",
            word=word,
            choices=", ".join(each.english for each in near),
        )
    return found


def plant_answer(plant: Plant, words: Words) -> dict[str, Any]:
    """A plant with all that is known of it."""
    return {
        "id": plant.id,
        "scientific": plant.scientific,
        "english": plant.english,
        "kanji": plant.kanji,
        "kana": plant.kana,
        "romaji": plant.romaji,
        "kind": plant.kind,
        "roles": list(plant.roles),
        "stem": plant.stem,
        "treatment": plant.treatment,
        "facts": [
            {
                "what": fact.what,
                "low": fact.low,
                "high": fact.high,
                "unit": fact.unit,
                "source": fact.source,
                "place": fact.place,
                "grade": fact.grade,
            }
            for fact in plant.facts
        ],
        "hazards": [
            {
                "hazard": each.hazard,
                "to": each.to,
                "says": words.say(each.saying),
                "source": each.source,
                "grade": each.grade,
            }
            for each in plant.hazards
        ],
    }


def plants_text(found: tuple[Plant, ...], words: Words, *, whole: bool) -> str:
    """A list of plants, or each with all that is known of it."""
    if whole:
        return "\n\n".join(_whole(plant, words) for plant in found)
    rows = [[plant.english, japanese(plant), plant.scientific] for plant in found]
    return "\n".join(columns(rows))


def _whole(plant: Plant, words: Words) -> str:
    names = "  ".join(part for part in (plant.kanji, plant.kana, plant.romaji) if part)
    roles = tuple(Saying(f"plants.role.{role}") for role in plant.roles)
    lines = [
        f"{plant.english}  {names}",
        f"  {plant.scientific}; {words.quantity('roles', roles)}",
        *(f"  {line}" for line in columns([_fact(fact, words) for fact in _known(plant)])),
    ]
    cautions = [words.say(each.saying) for each in plant.hazards]
    lines += [f"  ! {each}" for each in cautions or [words.say(Saying("plants.hazard.not-known"))]]
    return "\n".join(lines)


def _known(plant: Plant) -> list[Fact]:
    return sorted(plant.facts, key=lambda fact: list(UNIT_OF).index(fact.what))


def _fact(fact: Fact, words: Words) -> list[str]:
    return [
        words.say(Saying(f"plants.what.{fact.what}")),
        range_said(fact.low, fact.high, fact.unit, words),
        fact.place,
        words.say(Saying(f"plants.grade.{fact.grade}")),
    ]
