"""A piece of the arranging table, from the JSON in which it is kept, and back.

Model: `vessel` and `holder` are as in a class file; everything else is what the table itself
writes. What does not fit is refused with its place, like any file.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import Field

from nejime.basis.errors import InputError, refuse
from nejime.drawings.tints import SEASONS
from nejime.drawings.wire import GLAZES
from nejime.forms.arranged import Design, SetStem
from nejime.forms.holder import fits
from nejime.forms.piece import rule_of_name
from nejime.forms.rules import MAIN, Rule
from nejime.forms.stems import Role
from nejime.lesson.arrangement import OPEN, Arrangement, Stuff
from nejime.reading.checking import Sheet
from nejime.reading.fields import Table, one_of
from nejime.reading.tables import FormName, OpensTo, PlantId, SizeName, VesselTable, Yes
from nejime.reading.vessels import made_vessel, read_holder

ROLES: tuple[Role, ...] = ("main", "helper", "heart", "leaf")
MOST_STEMS = 60  # [own] more do not go on any pin holder
LARGEST_SEED = 2**53  # [own]

Share = Annotated[float, Field(ge=-1.0, le=1.0, allow_inf_nan=False)]
OwnLine = Annotated[tuple[Annotated[float, Field(ge=-0.6, le=0.6)], ...], Field(max_length=15)]
Degrees = Annotated[float, Field(ge=-360.0, le=360.0, allow_inf_nan=False)]


class StemTable(Table):
    """One stem of a design, with what it is made of."""

    id: Annotated[str, Field(pattern=r"^(first|second|third|(sub|heart|leaf)-[1-9][0-9]?)$")]
    role: Annotated[Role, one_of(ROLES)]
    plant: PlantId
    seed: Annotated[int, Field(ge=0, le=LARGEST_SEED)] = 0
    thickness_mm: Annotated[float, Field(ge=1.0, le=60.0, allow_inf_nan=False)] | None = None
    roll_deg: Degrees = 0.0
    stage: Annotated[float, Field(ge=0.0, le=1.0)] = OPEN
    droop_deg: Annotated[float, Field(ge=-90.0, le=90.0, allow_inf_nan=False)] = 0.0
    off: OwnLine = ()
    length: Annotated[float, Field(ge=0.01, le=5.0, allow_inf_nan=False)] | None = None
    tilt_deg: Annotated[float, Field(ge=0.0, le=180.0, allow_inf_nan=False)] | None = None
    bearing_deg: Degrees | None = None
    foot: tuple[Share, Share] | None = None
    bow: Annotated[float, Field(ge=-0.5, le=0.5, allow_inf_nan=False)] | None = None
    leader: Annotated[str, one_of(MAIN)] | None = None


class DesignTable(Table):
    """A design; vessel, pin holder and stems are checked by themselves."""

    vessel: object
    holder: object = None
    glaze: Annotated[str, one_of(GLAZES)] = GLAZES[0]
    form: FormName = "upright"
    proportions: str = ""
    size: SizeName = "usual"
    season: Annotated[str, one_of(SEASONS)] = "spring"
    opens: OpensTo = "right"
    fuller_third: Yes = False
    place: tuple[Share, Share] | None = None
    water_cm: Annotated[float, Field(gt=0.0, le=100.0)] | None = None
    stems: object


def read_design(tree: Mapping[str, Any], known: Mapping[str, Rule]) -> Arrangement:
    """The arrangement that a kept piece describes. Raises `InputError` with every fault."""
    found = Sheet("", tree, {})
    table = found.checked(DesignTable, dict(tree), ())
    vessel = held = None
    stems: list[StemTable] = []
    if table is not None:
        made = found.checked(VesselTable, table.vessel, ("vessel",))
        vessel = made_vessel(found, made, ("vessel",)) if made is not None else None
        held = read_holder(found, table.holder, ("holder",)) if table.holder else None
        stems = [each for _, each in found.all("stems", StemTable)]
    if found.faults or table is None or vessel is None:
        raise InputError(found.in_order())
    _check(stems)
    kind = "tall" if vessel.tall else "shallow"
    return Arrangement(
        design=Design(
            form=table.form,
            size=table.size,
            opens=table.opens,
            fuller_third=table.fuller_third,
            place=table.place,
            water_cm=table.water_cm,
            stems=tuple(_set(each) for each in stems),
        ),
        vessel=vessel,
        held=held if held is not None and not vessel.tall and fits(held, vessel) else None,
        rule=rule_of_name(table.proportions, table.form, kind, known),
        stuff={each.id: _stuff(each) for each in stems},
        glaze=table.glaze,
        season=table.season,
    )


def _check(stems: list[StemTable]) -> None:
    ids = [each.id for each in stems]
    if ids[: len(MAIN)] != list(MAIN) or len(set(ids)) != len(ids) or len(ids) > MOST_STEMS:
        raise refuse("stems", "reading.design-stems", "reading.design-stems-try")


def _set(table: StemTable) -> SetStem:
    return SetStem(
        table.id,
        table.role,
        table.length,
        table.tilt_deg,
        table.bearing_deg,
        table.foot,
        table.bow,
        table.leader,
    )


def _stuff(table: StemTable) -> Stuff:
    return Stuff(
        table.plant,
        table.seed,
        table.thickness_mm,
        table.roll_deg,
        table.stage,
        table.droop_deg,
        table.off,
    )


def written_stem(chosen: SetStem, stuff: Stuff) -> dict[str, Any]:
    """One stem as it is kept: what is None or usual is left out."""
    told: dict[str, Any] = {"id": chosen.id, "role": chosen.role, "plant": stuff.plant}
    told["seed"] = stuff.seed
    for key in ("length", "tilt_deg", "bearing_deg", "bow"):
        value = getattr(chosen, key)
        if value is not None:
            told[key] = round(value, 4)
    if chosen.leader is not None:
        told["leader"] = chosen.leader
    if chosen.foot is not None:
        told["foot"] = [round(each, 4) for each in chosen.foot]
    if stuff.thickness_mm is not None:
        told["thickness_mm"] = stuff.thickness_mm
    if stuff.roll_deg:
        told["roll_deg"] = round(stuff.roll_deg, 1)
    if stuff.off:
        told["off"] = [round(each, 3) for each in stuff.off]
    if stuff.droop_deg:
        told["droop_deg"] = round(stuff.droop_deg, 1)
    if stuff.stage != OPEN:
        told["stage"] = round(stuff.stage, 3)
    return told


def written(tree: Mapping[str, Any], made: Arrangement) -> dict[str, Any]:
    """The kept piece with the design and material of an arrangement; its vessel as it was typed."""
    design = made.design
    return {
        **{key: tree[key] for key in ("vessel", "holder") if tree.get(key)},
        "glaze": made.glaze,
        "form": design.form,
        "proportions": tree.get("proportions", ""),
        "size": design.size,
        "season": made.season,
        "opens": design.opens,
        **({"fuller_third": True} if design.fuller_third else {}),
        **({"place": [round(each, 4) for each in design.place]} if design.place else {}),
        **({"water_cm": design.water_cm} if design.water_cm else {}),
        "stems": [written_stem(each, made.stuff[each.id]) for each in design.stems],
    }
