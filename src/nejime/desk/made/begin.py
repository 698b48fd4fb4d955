"""Begin to look at a piece that somebody made: which vessel, and what it was meant to be.

Model: what it was meant to be is a person's piece in a class or a piece of the arranging table; its
vessel is then that piece's, unless another is told. The rim is measured outside: what a vessel
measures inside, with its wall on both sides.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from nejime.basis.errors import InputError, refuse
from nejime.basis.sayings import Saying, Words
from nejime.basis.units import whole_number
from nejime.desk import nudge
from nejime.desk.door import unit_of
from nejime.desk.settings import words_for
from nejime.desk.shelf import Kept, Missing, Shelf
from nejime.drawings.scene import Look
from nejime.forms.stems import Piece
from nejime.forms.vessel import Vessel
from nejime.papers.wording import one_unit, sentence
from nejime.reading.tables import VesselTable
from nejime.reading.typed import raw, vessel_of

KIND = "made"
OF_PLAN, OWN, CUPBOARD = "plan", "own", "cupboard"
SHAPES = ("round", "rectangle", "vase", "bowl")
"""The shapes whose rim can be measured: a circle or a rectangle."""
SAME = 0.02  # [own] wider than deep by less is round
NAME_LETTERS = 120
NOT_OF_VESSEL = ("glaze", "note", "count")
Json = dict[str, Any]
Typed = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Plan:
    """What a piece was meant to be: where it comes from, its name, its stems and material."""

    address: str
    name: str
    piece: Piece
    plants: Mapping[str, str]
    looks: Mapping[str, Look]


@dataclass(frozen=True, slots=True)
class Choices:
    """What can be chosen: groups of plans and the vessels, each as pairs of value and word."""

    plans: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]
    vessels: tuple[tuple[str, str], ...]
    shapes: tuple[tuple[str, str], ...]


def choices(shelf: Shelf, today: dt.date) -> Choices:
    """What a new one can be begun with."""
    words = words_for(shelf)
    groups = [(group, tuple(found)) for group, found in nudge.to_correct(shelf, today) if found]
    cupboard = [(f"{CUPBOARD}-{kept.id}", kept.name) for kept in shelf.all("vessel")]
    return Choices(
        plans=tuple(groups),
        vessels=(
            (OF_PLAN, words.say(Saying("made.vessel-of-plan"))),
            *cupboard,
            (OWN, words.say(Saying("made.vessel-own"))),
        ),
        shapes=tuple((each, words.say(Saying(f"vessel.{each}"))) for each in SHAPES),
    )


def begin(shelf: Shelf, typed: Typed, today: dt.date) -> Kept:
    """A new one without pictures yet. Raises `InputError` by field."""
    words = words_for(shelf)
    plan = plan_at(shelf, typed.get("plan", ""), today)
    vessel, table = _vessel(shelf, typed, plan)
    content: Json = {"vessel": rim_of(vessel), "bowl": table, "views": [], "stems": {}}
    content["holder"] = pins_of(vessel, plan.piece if plan else None)
    if plan is not None:
        content["plan"] = {"from": plan.address, "name": plan.name}
    name = typed.get("name", "").strip()[:NAME_LETTERS] or _name(plan, vessel, words)
    content["name"] = name
    return shelf.add(KIND, name, content)


def _name(plan: Plan | None, vessel: Vessel, words: Words) -> str:
    if plan is not None and plan.name:
        return plan.name[:NAME_LETTERS]
    return sentence(one_unit(words).say(rim_saying(vessel)))


def rim_saying(made: Vessel) -> Saying:
    """A vessel in a few words, as it is measured for pictures: across the outside of its rim."""
    return Saying(
        "made.rim",
        vessel=Saying(f"vessel.{made.shape}"),
        width_cm=made.width_cm + 2 * made.wall_cm,
        height_cm=made.height_cm,
    )


def plan_at(shelf: Shelf, address: str, today: dt.date) -> Plan | None:
    """The plan at an address such as `piece-12` or `person-7-3`; None where none is told.

    Raises `InputError` at `plan`.
    """
    if not address:
        return None
    kind = address.partition("-")[0]
    if kind not in (nudge.PIECE, nudge.PERSON):
        raise refuse("plan", "made.no-plan", "made.no-plan-try")
    try:
        found = nudge.subject(shelf, {"from": address}, today)
    except (Missing, InputError) as trouble:
        raise refuse("plan", "made.no-plan", "made.no-plan-try") from trouble
    return Plan(address, found.name, found.made.piece, found.made.plants, found.looks)


def plan_of(shelf: Shelf, content: Mapping[str, Any], today: dt.date) -> Plan | None:
    """What a kept one was meant to be; None where nothing is told or it is not there any more.

    People and pieces are numbered anew on another machine: the name must be the same too.
    """
    told = content.get("plan")
    if not isinstance(told, dict):
        return None
    try:
        found = plan_at(shelf, str(told.get("from", "")), today)
    except InputError:
        return None
    return found if found is not None and found.name == told.get("name") else None


# The vessel


def _vessel(shelf: Shelf, typed: Typed, plan: Plan | None) -> tuple[Vessel, Json]:
    """The vessel, and its table as it is kept. Raises `InputError`."""
    chosen = typed.get("vessel", "") or (OF_PLAN if plan else OWN)
    if chosen == OF_PLAN:
        if plan is None:
            raise refuse("vessel", "made.no-vessel", "made.no-vessel-try")
        return plan.piece.vessel, table_of(plan.piece.vessel)
    if chosen.startswith(f"{CUPBOARD}-"):
        content = _in_cupboard(shelf, chosen)
        return vessel_of(content), content
    table = raw(VesselTable, typed, unit_of(shelf))
    return _outside(table)


def _in_cupboard(shelf: Shelf, chosen: str) -> Json:
    number = whole_number(chosen.removeprefix(f"{CUPBOARD}-"))
    for kept in shelf.all("vessel"):
        if kept.id == number:
            return {k: v for k, v in kept.content.items() if k not in NOT_OF_VESSEL}
    raise refuse("vessel", "made.no-vessel", "made.no-vessel-try")


def _outside(table: Json) -> tuple[Vessel, Json]:
    """A vessel that was measured across the outside of its rim. Raises `InputError`."""
    outer = vessel_of(table)
    inside = {"width": outer.width_cm - 2 * outer.wall_cm}
    if "depth" in table:
        inside["depth"] = outer.depth_cm - 2 * outer.wall_cm
    told = {**table, **{key: round(value, 3) for key, value in inside.items()}}
    return vessel_of(told), told


def table_of(made: Vessel) -> Json:
    """The table of a vessel as the cupboard would keep it."""
    table: Json = {"shape": made.shape, "width": made.width_cm, "height": made.height_cm}
    if made.depth_cm != made.width_cm:
        table["depth"] = made.depth_cm
    if made.body_cm:
        table["body"] = made.body_cm
    return table


def rim_of(made: Vessel) -> Json:
    """The rim as the measuring asks for it. Raises `InputError` at `vessel` for an oval."""
    wide, deep = (each + 2 * made.wall_cm for each in (made.width_cm, made.depth_cm))
    high = made.height_cm
    if not made.round_plan:
        return {
            "shape": "rectangle",
            "rim_width_cm": round(wide, 2),
            "rim_depth_cm": round(deep, 2),
            "height_cm": round(high, 2),
        }
    if abs(wide - deep) > SAME * wide:
        raise refuse("vessel", "made.oval", "made.oval-try")
    return {
        "shape": "round",
        "rim_diameter_cm": round(wide, 2),
        "height_cm": round(high, 2),
    }


def pins_of(made: Vessel, plan: Piece | None) -> Json:
    """Where stems enter, as planned; of a vase, its mouth; nothing where nobody knows."""
    high = made.height_cm
    if made.tall:
        radius = min(made.width_cm, made.depth_cm) / 2
        return {"x_cm": 0.0, "y_cm": 0.0, "height_cm": round(high, 2), "radius_cm": radius}
    if plan is None or plan.vessel != made:
        return {}
    pins: Json = {"x_cm": round(plan.place.x_cm, 2), "y_cm": round(plan.place.y_cm, 2)}
    pins["height_cm"] = round(plan.stems[0].start.z_cm, 2)
    if plan.holder is not None:
        pins["radius_cm"] = round(plan.holder.width_cm / 2, 2)
    return pins
