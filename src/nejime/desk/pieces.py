"""Begin a piece from three choices, keep it, go back and forth, name it, copy it, set it aside."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from nejime.basis.sayings import Saying, Words
from nejime.desk.arrange import KIND, Json, Tree, after, changed, glance, on_table, sight
from nejime.desk.known_plants import known_plants
from nejime.desk.settings import settings
from nejime.desk.shelf import Conflict, Kept, Shelf
from nejime.desk.small_picture import small_picture
from nejime.desk.suggest import settled
from nejime.drawings.elevation import elevation
from nejime.drawings.icons import vessel_icon
from nejime.drawings.skeleton.chance import seed_of
from nejime.drawings.wire import GLAZES
from nejime.forms.rules import FORMS, MAIN, packaged
from nejime.forms.vessel import Vessel
from nejime.lesson.lesson import season_of
from nejime.papers.wording import plant_name
from nejime.plants.table import plants
from nejime.reading.typed import value_of, vessel_of

USUAL_VESSELS: Mapping[str, Mapping[str, Any]] = {  # [own] where the cupboard is empty
    "dish": {"shape": "round", "width": 30, "height": 6},
    "oblong": {"shape": "rectangle", "width": 36, "depth": 24, "height": 6},
    "bowl": {"shape": "bowl", "width": 18, "height": 8},
    "vase": {"shape": "vase", "width": 11, "height": 26},
}
OF_VESSEL = ("shape", "width", "depth", "height")
ROLES = ("line", "heart", "leaf")
KINDS_OF: Mapping[str, tuple[str, ...]] = {  # [practice] what a line, a heart, a foot is made of
    "line": ("branch", "grass", "berry", "flower"),
    "heart": ("flower", "berry", "branch"),
    "leaf": ("leaf", "branch"),
}
USUAL_BY_MONTH: Mapping[str, tuple[str, ...]] = {  # [own] the first of these in season
    "line": ("forsythia", "cherry", "enkianthus", "maple", "winterberry", "pine"),
    "heart": ("tulip", "ranunculus", "lily", "gerbera", "spray-chrysanthemum", "chrysanthemum"),
    "leaf": ("aspidistra",),
}
LEAVES = 3  # [practice] an odd number of leaves at the foot
SNAPSHOT = "snapshot"


@dataclass(frozen=True, slots=True)
class Choice:
    """Something to choose: its key, its word, and a picture as SVG or nothing."""

    key: str
    word: str
    svg: str = ""


def vessels_to_choose(shelf: Shelf, words: Words) -> tuple[Choice, ...]:
    """The vessels of the cupboard, and the usual ones."""
    own = [
        Choice(f"cupboard-{kept.id}", kept.name, _icon(vessel_of(kept.content), words))
        for kept in shelf.all("vessel")
    ]
    usual = [
        Choice(key, words.say(Saying(f"web.table.new.{key}")), _icon(vessel_of(told), words))
        for key, told in USUAL_VESSELS.items()
    ]
    return (*own, *usual)


def _icon(made: Vessel, words: Words) -> str:
    return vessel_icon(made, words, width_mm=34.0, height_mm=22.0)


def forms_to_choose(words: Words) -> tuple[Choice, ...]:
    """The forms, each drawn in the usual dish or vase."""
    rule = packaged()["width-plus-height"]
    return tuple(
        Choice(form, words.say(Saying(f"papers.form.{form}")), _form_picture(form, words))
        for form in FORMS
        if rule.form(form, "shallow") or rule.form(form, "tall")
    )


def _form_picture(form: str, words: Words) -> str:
    kind = "dish" if packaged()["width-plus-height"].form(form, "shallow") else "vase"
    tree = {"vessel": USUAL_VESSELS[kind], "form": form, "stems": _stems({"line": "pussy-willow"})}
    return elevation(
        on_table(tree).scene(), "front", words, width_mm=40, height_mm=34, shows=frozenset()
    )


def in_season(shelf: Shelf, month: int, role: str) -> tuple[tuple[str, str], ...]:
    """Plants for a role that a garden or a shop has in a month, by name: id and name.

    Months only: the weather of the year is not known here.
    """
    found = [
        each
        for each in known_plants(shelf)
        if each.kind in KINDS_OF[role]
        and (each.in_garden(month) or each.on_market(month))
        and (role != "heart" or "heart" in each.roles or "mass" in each.roles)
    ]
    return tuple(sorted(((each.id, each.english) for each in found), key=lambda pair: pair[1]))


def usual_material(shelf: Shelf, month: int) -> dict[str, str]:
    """What is offered first for each role in a month."""
    found = {}
    for role, wished in USUAL_BY_MONTH.items():
        there = {plant_id for plant_id, _ in in_season(shelf, month, role)}
        found[role] = next((each for each in wished if each in there), wished[-1])
    return found


def all_plants() -> tuple[tuple[str, str], ...]:
    """Every plant that we know, by name."""
    return tuple(sorted(((each.id, each.english) for each in plants()), key=lambda pair: pair[1]))


def begin(shelf: Shelf, fields: Mapping[str, str], words: Words, month: int = 4) -> Kept:
    """A new piece from a vessel, a form and material, flowers and leaves already in their places.

    Raises `InputError`.
    """
    chosen = fields.get("vessel", "dish")
    told, glaze = _vessel(shelf, chosen, fields, words.unit)
    tree: Json = {
        "vessel": told,
        "glaze": glaze,
        "form": fields.get("form", "upright"),
        "season": season_of(month),
        "proportions": settings(shelf)["proportions"],
        "stems": _stems(fields),
    }
    made = settled(changed(tree, {"act": "whole"}))
    name = fields.get("name", "").strip() or _name(made, words)
    return shelf.add(KIND, name, made)


def _name(tree: Tree, words: Words) -> str:
    """What a piece is called until she names it: its material and its form."""
    plant_names = dict.fromkeys(plant_name(each["plant"]) for each in tree["stems"])
    form = words.say(Saying(f"papers.form.{tree['form']}"))
    return words.say(Saying("web.table.new.name", plants=tuple(list(plant_names)[:2]), form=form))


def _vessel(shelf: Shelf, chosen: str, fields: Mapping[str, str], unit: str) -> tuple[Json, str]:
    """The vessel as it is kept, and its glaze."""
    if chosen.startswith("cupboard-"):
        content = shelf.get(int(chosen.removeprefix("cupboard-"))).content
        known = {key: value for key, value in content.items() if key not in NOT_OF_VESSEL}
        return known, content.get("glaze", GLAZES[0])
    if chosen == "own":
        given = {key: fields[key] for key in OF_VESSEL if fields.get(key, "").strip()}
        return {key: value_of(key, text, unit) for key, text in given.items()}, GLAZES[0]
    return dict(USUAL_VESSELS.get(chosen, USUAL_VESSELS["dish"])), GLAZES[0]


NOT_OF_VESSEL = ("glaze", "note", "count")


def _stems(fields: Mapping[str, str]) -> list[Json]:
    """Three main stems, a flower or two at the heart, and leaves over the pins."""
    line = fields.get("line") or "forsythia"
    third = fields.get("third") or line
    stems: list[Json] = [
        {"id": stem, "role": "main", "plant": third if stem == "third" else line} for stem in MAIN
    ]
    if fields.get("heart"):
        stems += [{"id": f"heart-{n}", "role": "heart", "plant": fields["heart"]} for n in (1, 2)]
    if fields.get("leaf"):
        numbers = range(1, LEAVES + 1)
        stems += [{"id": f"leaf-{n}", "role": "leaf", "plant": fields["leaf"]} for n in numbers]
    for stem in stems:
        stem["seed"] = seed_of(stem["plant"], stem["id"])
    return stems


def kept(shelf: Shelf, piece_id: int, words: Words) -> Json:
    """A piece as it is now, with all there is to see. Raises `Missing`, `InputError`."""
    return _state(shelf.get(piece_id), words)


def _state(found: Kept, words: Words) -> Json:
    return {
        **sight(on_table(found.content), words),
        "id": found.id,
        "name": found.name,
        "version": found.version,
        "can_undo": found.can_undo,
        "can_redo": found.can_redo,
    }


def try_change(told: Mapping[str, Any], words: Words) -> Json:
    """What a change would look like, while a hand is still moving: nothing is kept."""
    return glance(after(told["tree"], told.get("change"), words.unit), words)


def keep_change(shelf: Shelf, piece_id: int, told: Mapping[str, Any], words: Words) -> Json:
    """A change made and kept. `base` is the version that it was made from; where somebody else
    changed the piece since, nothing is kept and both are told. Raises `Missing`, `InputError`."""
    table = after(told["tree"], told.get("change"), words.unit)
    found = shelf.save(piece_id, dict(table.tree), int(told["base"]))
    if isinstance(found, Conflict):
        return {"conflict": _state(found.theirs, words), "mine": sight(table, words)}
    return _state(found, words)


def back(shelf: Shelf, piece_id: int, words: Words) -> Json:
    """One step back. Raises `Missing`."""
    return _state(shelf.undo(piece_id), words)


def forth(shelf: Shelf, piece_id: int, words: Words) -> Json:
    """One step forth. Raises `Missing`."""
    return _state(shelf.redo(piece_id), words)


@dataclass(frozen=True, slots=True)
class Thumbnail:
    """A piece or a snapshot in a list."""

    id: int
    name: str
    svg: str
    changed_at: str


def thumbnails(shelf: Shelf, words: Words) -> tuple[Thumbnail, ...]:
    """Every piece, the last changed first, drawn small."""
    return tuple(_thumbnail(each, each.content, words) for each in shelf.all(KIND))


def _thumbnail(each: Kept, tree: Tree, words: Words) -> Thumbnail:
    return Thumbnail(each.id, each.name, small_picture(tree, words), each.changed_at.isoformat())


def set_aside(shelf: Shelf, piece_id: int, words: Words) -> Kept:
    """A snapshot of a piece as it is now, to look at beside others."""
    found = shelf.get(piece_id)
    number = 1 + len(snapshots_of(shelf, piece_id))
    name = words.say(Saying("web.table.snapshot", number=number))
    return shelf.add(SNAPSHOT, name, {"piece": piece_id, "tree": found.content})


def snapshots_of(shelf: Shelf, piece_id: int) -> tuple[Kept, ...]:
    """The snapshots of a piece, the oldest first."""
    return tuple(
        each for each in reversed(shelf.all(SNAPSHOT)) if each.content.get("piece") == piece_id
    )


def side_by_side(shelf: Shelf, piece_id: int, words: Words) -> tuple[Thumbnail, ...]:
    """The snapshots of a piece, drawn to look at beside each other."""
    return tuple(
        _thumbnail(each, each.content["tree"], words) for each in snapshots_of(shelf, piece_id)
    )


def take_snapshot(shelf: Shelf, piece_id: int, snapshot_id: int) -> Kept | Conflict:
    """The piece becomes what a snapshot holds; going back is one undo away."""
    tree = shelf.get(snapshot_id).content["tree"]
    return shelf.save(piece_id, tree, shelf.get(piece_id).version)


def copy(shelf: Shelf, piece_id: int, words: Words) -> Kept:
    """A copy of a piece, under a name that says so."""
    was = shelf.get(piece_id)
    return shelf.copy(piece_id, words.say(Saying("web.table.copy-of", name=was.name)))
