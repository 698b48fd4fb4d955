"""A piece that was measured becomes one of the arranging table, and from there the class's piece.

Model: the three main stems are those that are called so; else the longest three. Their form is the
one whose leans and directions are nearest. Every measured stem stands where it was measured, as far
as a piece of the table can have it there; what cannot be is told.
Frame: the house frame; the first picture was taken from the front.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from nejime.basis.angles import line
from nejime.basis.errors import InputError, refuse
from nejime.basis.sayings import Saying
from nejime.desk.arrange import on_table
from nejime.desk.pieces import USUAL_BY_MONTH
from nejime.drawings.skeleton.chance import seed_of
from nejime.forms.arranged import Design, SetStem, aimed, holder_to, moved_to
from nejime.forms.holder import Holder, fits
from nejime.forms.piece import rule_of_name
from nejime.forms.rules import DEFAULT_RULE, FORMS, MAIN, Rule, packaged
from nejime.forms.stems import Opens, Piece, Role, Stem, stem_name
from nejime.forms.vessel import Vessel
from nejime.lesson.arrangement import Arrangement, Stuff
from nejime.photo.answer import Line, Measured, MeasuredStem
from nejime.photo.asked import Rim
from nejime.plants.table import plant
from nejime.reading.design import written
from nejime.reading.typed import holder_of, vessel_of

ROLES: tuple[Role, ...] = ("helper", "heart", "leaf")
KIND_OF_ROLE: Mapping[str, Role] = {"flower": "heart", "berry": "heart", "leaf": "leaf"}
OF_ID: Mapping[str, Role] = {"sub": "helper", "heart": "heart", "leaf": "leaf"}
LEAST_DEG, LEAST_CM = 1.0, 0.5  # [own] what stands so near stands where it was measured
Json = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Chosen:
    """What is said of a measured piece: its plants and roles by stem id, and its form and side
    where they are not to be the nearest."""

    plants: Mapping[str, str] = field(default_factory=dict)
    roles: Mapping[str, str] = field(default_factory=dict)
    form: str = ""
    opens: str = ""
    proportions: str = DEFAULT_RULE


@dataclass(frozen=True, slots=True)
class MadePiece:
    """A measured piece on the arranging table: its JSON; `became`: which of its stems each marked
    one is; `told`: what cannot stand there as it was measured."""

    tree: Json
    became: Mapping[str, str]
    told: tuple[Saying, ...]


def as_design(
    found: Measured, content: Mapping[str, Any], plants: Mapping[str, str] | None = None
) -> Json:
    """The JSON of a piece of the arranging table. `content`: what is kept of the one that was
    made, with the table of its vessel as `bowl`; `plants` by stem id. Raises `InputError`."""
    return made_piece(found, content, Chosen(plants or {})).tree


def made_piece(found: Measured, content: Mapping[str, Any], chosen: Chosen) -> MadePiece:
    """A measured piece as one of the arranging table. Raises `InputError`."""
    known = {each.id: each for each in found.stems if each.line is not None}
    if not known:
        raise refuse("stems", "made.piece.no-lines", "made.piece.no-lines-try")
    table = dict(content.get("bowl") or vessel_table(found.rim))
    vessel = vessel_of(table)
    held = _holder(content, vessel)
    roles = _roles(known, content, chosen)
    rule, design = _nearest(known, roles, vessel, held, chosen)
    made = Arrangement(
        design=_set(design, known, roles, content, (vessel, held, rule)),
        vessel=vessel,
        held=holder_of(held) if held else None,
        rule=rule,
        stuff=_stuff(known, roles, content, chosen),
    )
    told = {"vessel": table, "proportions": rule.name, **({"holder": held} if held else {})}
    tree = written(told, made)
    became = {each: piece_id for each, (piece_id, _) in roles.items() if each in known}
    return MadePiece(tree, became, tuple(_otherwise(found, tree, became)))


def vessel_table(rim: Rim) -> Json:
    """The table of a vessel of which only the rim is known, measured outside."""
    tall = rim.height_cm > max(rim.width_cm, rim.depth_cm)
    shape = "vase" if tall else rim.shape
    outer = vessel_of({"shape": shape, "width": rim.width_cm, "height": rim.height_cm})
    table: Json = {"shape": shape, "width": round(rim.width_cm - 2 * outer.wall_cm, 2)}
    if rim.shape == "rectangle":
        table["depth"] = round(rim.depth_cm - 2 * outer.wall_cm, 2)
    return {**table, "height": rim.height_cm}


def _holder(content: Mapping[str, Any], vessel: Vessel) -> Json | None:
    """The pin holder where its size is known and it lies flat."""
    radius = (content.get("holder") or {}).get("radius_cm")
    if vessel.tall or not isinstance(radius, int | float):
        return None
    table = {"diameter": round(2.0 * radius, 2)}
    return table if fits(holder_of(table), vessel) else None


# Which stem is which


def _roles(
    known: Mapping[str, MeasuredStem], content: Mapping[str, Any], chosen: Chosen
) -> dict[str, tuple[str, Role]]:
    """The id and role in the piece of every marked stem, the main ones first."""
    main = _main(known, chosen)
    found: dict[str, tuple[str, Role]] = {
        made: (piece_id, "main") for made, piece_id in main.items()
    }
    counts = dict.fromkeys(OF_ID, 0)
    for made in known:
        if made in found:
            continue
        role = _role(made, content, chosen)
        start = next(key for key, each in OF_ID.items() if each == role)
        counts[start] += 1
        found[made] = (f"{start}-{counts[start]}", role)
    return found


def _main(known: Mapping[str, MeasuredStem], chosen: Chosen) -> dict[str, str]:
    """Which marked stems are the first, the second and the third."""
    named = {each: chosen.roles.get(each, each) for each in known}
    found = {each: name for each, name in named.items() if name in MAIN}
    if found:
        return dict(sorted(found.items(), key=lambda pair: MAIN.index(pair[1])))
    free = [each for each in known if not _is_small(each, chosen)]
    longest = sorted(free, key=lambda each: -known_at(known[each]).length_cm.value)
    return dict(zip(longest, MAIN, strict=False))


def _is_small(made: str, chosen: Chosen) -> bool:
    """Whether a stem was called a helper, a flower at the heart or a leaf."""
    return chosen.roles.get(made, "") in ROLES or made.partition("-")[0] in OF_ID


def _role(made: str, content: Mapping[str, Any], chosen: Chosen) -> Role:
    told = chosen.roles.get(made, "")
    for role in ROLES:
        if told == role:
            return role
    start = made.partition("-")[0]
    if start in OF_ID:
        return OF_ID[start]
    return KIND_OF_ROLE.get(plant(_plant(made, "helper", content, chosen)).kind, "helper")


def _plant(made: str, role: str, content: Mapping[str, Any], chosen: Chosen) -> str:
    """What a stem is: as told, as kept, else the usual of its role."""
    kept = (content.get("stems") or {}).get(made) or {}
    usual = {"leaf": "leaf", "heart": "heart"}.get(role, "line")
    return chosen.plants.get(made) or kept.get("plant") or USUAL_BY_MONTH[usual][0]


def _stuff(
    known: Mapping[str, MeasuredStem],
    roles: Mapping[str, tuple[str, Role]],
    content: Mapping[str, Any],
    chosen: Chosen,
) -> dict[str, Stuff]:
    found = {}
    for made, (piece_id, role) in roles.items():
        plant_id = _plant(made, role, content, chosen)
        found[piece_id] = Stuff(plant_id, seed_of(plant_id, piece_id))
    like = next(iter(found.values())).plant
    for piece_id in MAIN:
        plant_id = chosen.plants.get(piece_id) or like
        found.setdefault(piece_id, Stuff(plant_id, seed_of(plant_id, piece_id)))
    return found


# The nearest form, and the design


def _nearest(
    known: Mapping[str, MeasuredStem],
    roles: Mapping[str, tuple[str, Role]],
    vessel: Vessel,
    held: Json | None,
    chosen: Chosen,
) -> tuple[Rule, Design]:
    """The proportions, and the form, size and side whose stems are nearest. Raises `InputError`."""
    kind = "tall" if vessel.tall else "shallow"
    lying = holder_of(held) if held else None
    main = {piece_id: known[made] for made, (piece_id, role) in roles.items() if role == "main"}
    best: tuple[float, Rule, Design] | None = None
    trouble: InputError | None = None
    for form in [chosen.form] if chosen.form else FORMS:
        try:
            rule = rule_of_name(chosen.proportions, form, kind, packaged())
        except InputError as found:
            trouble = found
            continue
        for opens in _sides(chosen):
            design = Design(form=form, opens=opens)
            try:
                planned = aimed(design, vessel, lying, rule)
            except InputError as found:
                trouble = found
                continue
            cost = sum(_unlike(known_at(each), planned.stem(name)) for name, each in main.items())
            if best is None or cost < best[0]:
                best = (cost, rule, replace(design, size=_size(main, planned)))
    if best is None:
        assert trouble is not None
        raise trouble
    return best[1], best[2]


def _sides(chosen: Chosen) -> tuple[Opens, ...]:
    sides: tuple[Opens, ...] = ("right", "left")
    return tuple(each for each in sides if chosen.opens in ("", each))


def _unlike(made: Line, aim: Stem) -> float:
    """How unlike two directions are: the squared distance of their unit vectors."""
    one = line(made.tilt_deg.value, made.bearing_deg.value)
    return math.dist(one, line(aim.stands_deg, aim.bearing_deg)) ** 2


def _size(main: Mapping[str, MeasuredStem], planned: Piece) -> Any:
    """The size whose first stem is nearest in length, by its share."""
    if "first" not in main:
        return planned.size
    long_cm = known_at(main["first"]).length_cm.value
    factor = planned.form.factor
    usual_cm = planned.stems[0].length_cm / factor[planned.size]
    return min(factor, key=lambda size: abs(math.log(factor[size] * usual_cm / long_cm)))


def _set(
    design: Design,
    known: Mapping[str, MeasuredStem],
    roles: Mapping[str, tuple[str, Role]],
    content: Mapping[str, Any],
    where: tuple[Vessel, Json | None, Rule],
) -> Design:
    """The design with every measured stem where it was measured."""
    vessel, held, rule = where
    lying: Holder | None = holder_of(held) if held else None
    more = tuple(SetStem(name, role) for name, role in roles.values() if role != "main")
    planned = aimed(design, vessel, lying, rule)
    found = replace(design, stems=(*design.stems, *more))
    found = holder_to(found, planned, *_middle(known, content))
    for made, (piece_id, _) in roles.items():
        each = known[made]
        at = known_at(each)
        found = moved_to(
            found,
            planned,
            piece_id,
            length_cm=at.length_cm.value,
            tilt_deg=at.tilt_deg.value,
            bearing_deg=at.bearing_deg.value,
            foot_cm=(at.foot_cm.x_cm, at.foot_cm.y_cm),
            bow_cm=_bow_cm(each),
        )
    return found


def known_at(each: MeasuredStem) -> Line:
    """Where a stem is that is known to be somewhere."""
    assert each.line is not None
    return each.line


def _bow_cm(each: MeasuredStem) -> float | None:
    """A bow that surely is one; else the stem bows as its form has it."""
    if each.bow is None or each.bow.low <= 0.0:
        return None
    return each.bow.value * known_at(each).length_cm.value


def _middle(known: Mapping[str, MeasuredStem], content: Mapping[str, Any]) -> tuple[float, float]:
    """Where the pin holder lies: as told, else in the middle of all feet."""
    told = content.get("holder") or {}
    x, y = told.get("x_cm"), told.get("y_cm")
    feet = [known_at(each).foot_cm for each in known.values()]
    mean = [sum(foot[axis] for foot in feet) / len(feet) for axis in (0, 1)]
    return (
        float(x) if isinstance(x, int | float) else mean[0],
        float(y) if isinstance(y, int | float) else mean[1],
    )


# What stands otherwise than it was measured


def _otherwise(found: Measured, tree: Json, became: Mapping[str, str]) -> list[Saying]:
    """What of the measured piece cannot stand so on the arranging table."""
    piece = on_table(tree).piece
    said = []
    for made, piece_id in became.items():
        said += _of_stem(known_at(found.stem(made)), piece.stem(piece_id), piece)
    missing = [each for each in MAIN if each not in became.values()]
    said += [Saying("made.piece.as-the-form", stem=stem_name(each)) for each in missing]
    return said


def _of_stem(made: Line, stem: Stem, piece: Piece) -> list[Saying]:
    said, name = [], stem_name(stem.id)
    if abs(stem.length_cm - made.length_cm.value) > max(LEAST_CM, made.length_cm.half):
        said.append(
            Saying(
                "made.piece.length",
                stem=name,
                made_cm=made.length_cm.value,
                length_cm=stem.length_cm,
            )
        )
    if abs(stem.stands_deg - made.tilt_deg.value) > max(LEAST_DEG, made.tilt_deg.half):
        said.append(
            Saying(
                "made.piece.lean",
                stem=name,
                made_deg=made.tilt_deg.value,
                tilt_deg=stem.stands_deg,
            )
        )
    step = math.dist(stem.start[:2], made.foot_cm[:2])
    if piece.holder is not None and step > max(LEAST_CM, made.length_cm.half):
        said.append(Saying("made.piece.foot", stem=name, step_cm=step))
    return said
