"""What stands on the pages of a class: choices, what fields are called, and what there is."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any
from urllib.parse import quote

from nejime.basis.errors import Fault
from nejime.basis.sayings import Saying, Words, texts
from nejime.desk.classes import PARTS, Opened, part_of
from nejime.desk.taught import day_of, known_rules
from nejime.forms.rules import FORMS, SIZES
from nejime.forms.vessel import SHAPES, WARE_DENSITY_G_CM3
from nejime.lesson.lesson import NOTES
from nejime.material.supply import HOWS, MATERIAL_ROLES, WHENCES
from nejime.papers.wording import date
from nejime.plants.table import plants
from nejime.reading.class_fields import place
from nejime.reading.when import zone_names
from nejime.standing.masses import THICKNESS_MM

Choices = list[tuple[str, str]]
CHOSEN: Mapping[str, tuple[str, ...]] = {
    "form": FORMS,
    "size": SIZES,
    "opens": ("right", "left"),
    "shape": SHAPES,
    "ware": tuple(WARE_DENSITY_G_CM3),
    "walls": ("straight", "curved"),
    "floor": ("hard", "carpet"),
    "units": ("cm", "in", "both"),
    "paper": ("A4", "Letter"),
    "for": MATERIAL_ROLES,
    "how": HOWS,
    "from": WHENCES,
    "please_note": NOTES,
}


def choices(words: Words) -> dict[str, Choices]:
    """What can be chosen for each key: pairs of value and word."""
    found = {
        key: [(each, words.say(Saying(f"class.choice.{key}.{_plain(each)}"))) for each in values]
        for key, values in CHOSEN.items()
    }
    found["proportions"] = [(name, rule.title) for name, rule in known_rules().items()]
    return found


def _plain(value: str) -> str:
    return value.lower().replace(" ", "-")


def suggestions() -> dict[str, list[str]]:
    """What is offered while somebody types: plants by their English names, zones, thicknesses."""
    return {
        "plant": sorted(each.english for each in plants()),
        "zone": [each for each in zone_names() if "/" in each and not each.startswith("Etc/")],
        "thickness": [each.replace("-", " ") for each in THICKNESS_MM],
    }


def key_words(key: str, words: Words) -> str:
    """What the field of a key is called."""
    return words.say(Saying(f"class.key.{key}"))


def place_words(name: str, fields: Mapping[str, str], words: Words) -> str:
    """What a place of the tree is called: "Ada: width", "material 2: plant"."""
    path = place(name) or ()
    parts: list[str] = []
    at = ""
    for step in path:
        if isinstance(step, int):
            at = f"{at}[{step + 1}]"
            parts[-1] = _called(at, parts[-1], step + 1, fields, words)
        else:
            at = f"{at}.{step}" if at else step
            parts.append(step)
    keys = parts[1:] if path and path[0] in ("class", "room") and len(parts) > 1 else parts
    return ": ".join(_word(each, words) for each in keys)


def _called(at: str, key: str, number: int, fields: Mapping[str, str], words: Words) -> str:
    """A thing in a list: by its name or plant, else by its number."""
    named = fields.get(f"{at}.name") or fields.get(f"{at}.plant")
    return named or words.say(Saying("class.numbered", what=_word(key, words), number=str(number)))


def _word(key: str, words: Words) -> str:
    saying = f"class.key.{key}"
    return words.say(Saying(saying)) if saying in texts(words.language) else key


def about_parts(found: Opened, words: Words) -> dict[str, Any]:
    """What every page of a class shows: its parts, and how faults are named and reached."""
    return {
        "found": found,
        "kept": found.kept,
        "parts": {name: len(found.wrong_in(name)) for name in PARTS},
        "where": lambda name: place_words(name, found.fields, words),
        "link": lambda fault: f"/classes/{found.kept.id}/{_address(fault)}",
    }


def _address(fault: Fault) -> str:
    """The part's page, at the field of a fault."""
    return f"{part_of(fault)}#{quote(fault.field, safe='')}"


def summary(found: Opened, words: Words) -> dict[str, str]:
    """What there is in each part, in a line."""
    tree = found.kept.content
    told = {
        "when": _when(found, words),
        "people": _people(tree, words),
        "vessels": _list(tree, words, "vessels", "vessel", "holder"),
        "material": _material(tree, words),
        "supplies": _list(tree, words, "supplies", "shop", "garden"),
        "room": words.say(Saying(f"class.about.room-{_floor(tree)}")),
    }
    return {part: text[:1].upper() + text[1:] for part, text in told.items()}


def day_words(day: dt.date | None, words: Words) -> str:
    """A day as it is said; empty where there is none."""
    return date(words, day) if day else ""


def _when(found: Opened, words: Words) -> str:
    told = found.kept.content.get("class", {})
    parts = [
        day_words(day_of(found.kept), words),
        str(told.get("start", "")),
        told.get("place", ""),
    ]
    return ", ".join(part for part in parts if part)


def _people(tree: Mapping[str, Any], words: Words) -> str:
    people = tree.get("person", [])
    unknown = tuple(str(each.get("name", "")) for each in people if not each.get("vessel"))
    key = "class.about.people-all" if not unknown else "class.about.people"
    if not people:
        return words.say(Saying("class.about.nobody"))
    text = words.say(Saying("class.about.come", count=len(people)))
    return f"{text} {words.say(Saying(key, names=unknown, count=len(unknown) or 2))}"


def _list(tree: Mapping[str, Any], words: Words, part: str, *tables: str) -> str:
    named = [
        str(each.get("name") or each.get("plant") or "")
        for table in tables
        for each in tree.get(table, [])
    ]
    names = tuple(dict.fromkeys(each for each in named if each))
    empty = Saying(f"class.about.no-{part}")
    return words.say(Saying("class.about.list", names=names) if names else empty)


def _material(tree: Mapping[str, Any], words: Words) -> str:
    names = tuple(dict.fromkeys(str(each.get("plant", "")) for each in tree.get("material", [])))
    if not any(names):
        return words.say(Saying("class.about.no-material"))
    return words.say(Saying("class.about.list", names=names))


def _floor(tree: Mapping[str, Any]) -> str:
    return "carpet" if tree.get("room", {}).get("floor") == "carpet" else "hard"
