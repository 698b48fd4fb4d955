"""Change the settings: units, paper, place, proportions that are taught."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from nejime.basis.sayings import Words
from nejime.basis.units import whole_number
from nejime.desk.review import left
from nejime.desk.settings import KIND, USUAL, kept_settings, settings, words_for
from nejime.desk.shelf import Conflict, Kept, Shelf
from nejime.desk.taught import known_rules
from nejime.desk.things import Both
from nejime.drawings.elevation import elevation
from nejime.drawings.scene import scene
from nejime.forms.piece import piece
from nejime.forms.rules import DEFAULT_RULE, FORMS, SIZES, Size
from nejime.forms.vessel import vessel
from nejime.reading import typed as read
from nejime.reading.when import zone_names

FIELDS = tuple(USUAL)
NAME = "settings"
USUAL_OF_KIND = {  # [own] in which proportions are shown
    "shallow": vessel("round", 28.0, 6.0),
    "tall": vessel("vase", 9.0, 24.0),
}
PICTURE_MM = 34.0  # [own]
Typed = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class SettingsForm:
    """The fields of the settings, and the version they come from; None where nothing is kept."""

    fields: Mapping[str, str]
    version: int | None


@dataclass(frozen=True, slots=True)
class SettingsChoices:
    """What can be chosen: proportions with title and picture, and what is said of each."""

    proportions: Sequence[tuple[str, str, str]]
    remarks: Sequence[tuple[str, str]]
    zones: Sequence[str]
    file: str
    left: int
    """Rows from memory that nobody has looked over."""


def form(shelf: Shelf) -> SettingsForm:
    """The settings as they stand."""
    kept = kept_settings(shelf)
    return SettingsForm(read.field_texts(settings(shelf)), kept.version if kept else None)


def filled(typed: Typed) -> SettingsForm:
    """The fields as somebody left them, to be shown again."""
    base = typed.get("base", "")
    return SettingsForm(typed, whole_number(base))


def choices(shelf: Shelf) -> SettingsChoices:
    """What can be chosen; other traditions only where they are wanted."""
    words, chosen = words_for(shelf), settings(shelf)
    shown = [
        rule
        for name, rule in sorted(known_rules().items(), key=lambda each: each[0] != DEFAULT_RULE)
        if chosen["traditions"] or name in (DEFAULT_RULE, chosen["proportions"])
    ]
    return SettingsChoices(
        proportions=[(rule.name, rule.title, _picture(rule.name, words.unit)) for rule in shown],
        remarks=[(rule.title, rule.remark) for rule in shown if rule.remark],
        zones=zone_names(),
        file=shelf.file,
        left=left(shelf),
    )


@lru_cache(maxsize=32)
def _picture(name: str, unit: Any) -> str:
    """The usual piece of some proportions in a usual vessel, without words."""
    rule = known_rules()[name]
    form_name, kind = min(rule.forms, key=lambda each: (FORMS.index(each[0]), each[1]))
    factor = rule.forms[form_name, kind].factor
    size: Size = "usual" if "usual" in factor else next(each for each in SIZES if each in factor)
    made = piece(USUAL_OF_KIND[kind], rule, form_name, size=size)
    return elevation(
        scene(made),
        "front",
        Words(unit=unit),
        width_mm=PICTURE_MM,
        height_mm=PICTURE_MM,
        shows=frozenset(),
    )


def keep(shelf: Shelf, typed: Typed) -> Kept | Both:
    """Keep what was typed, from the version `base`. Raises `InputError` by field."""
    blank = {key: "" for key, usual in USUAL.items() if isinstance(usual, str)}
    content = {**blank, **read.settings(typed, tuple(known_rules()))}
    kept = kept_settings(shelf)
    if kept is None:
        return shelf.only(KIND, NAME, content)
    saved = shelf.save(kept.id, content, filled(typed).version or 0)
    if not isinstance(saved, Conflict):
        return saved
    theirs, ours = read.field_texts(saved.theirs.content), read.field_texts(content)
    different = [key for key in FIELDS if theirs.get(key, "") != ours.get(key, "")]
    return Both(saved.theirs, [(key, theirs.get(key, ""), ours.get(key, "")) for key in different])
