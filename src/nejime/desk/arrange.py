"""Arrange a piece: change it, see at once what it is like, and keep it.

Model: a piece is kept as JSON (`reading.design`). Every act takes that JSON and gives new JSON with
what there is to see of it, so the server remembers nothing between two moves of a hand.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from nejime.basis.sayings import Saying, Words
from nejime.basis.units import as_said_cm
from nejime.composing.advice import advice
from nejime.composing.checks import findings, shown
from nejime.composing.material import LEAF_BLADE, Material
from nejime.composing.setting import Setting, setting
from nejime.drawings.scene import Look, Scene, scene
from nejime.drawings.skeleton.chance import seed_of
from nejime.drawings.wire import wire
from nejime.forms.arranged import SetStem, holder_to, moved_to, next_id
from nejime.forms.rules import packaged
from nejime.forms.stems import Piece, Stem, stem_name
from nejime.forms.vessel import Vessel
from nejime.lesson.arrangement import Arrangement, Stuff
from nejime.papers.looks import HEAD_CM, look
from nejime.papers.wording import one_unit, plant_name, short_direction
from nejime.plants.table import plant
from nejime.reading.change import (
    AddChange,
    Change,
    HolderChange,
    OneChange,
    StemChange,
    WholeChange,
    read_change,
)
from nejime.reading.design import read_design, written
from nejime.standing.masses import Body
from nejime.standing.remedies import remedies
from nejime.standing.verdict import Verdict, judge, quick_word

KIND = "piece"
MOST_SHOWN = 3  # [own] more at once is no help
USUAL_LEAF = "aspidistra"  # [own] where a leaf is to be added to a piece without any
Tree = Mapping[str, Any]
Json = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Table:
    """A piece as it lies on the table: its JSON, what it means, and its stems as they stand."""

    tree: Tree
    made: Arrangement
    piece: Piece
    bodies: Mapping[str, Body]

    def looks(self) -> dict[str, Look]:
        """How each stem is drawn."""
        return {stem.id: _look(stem, self.made.stuff[stem.id], self.bodies) for stem in self.stems}

    @property
    def stems(self) -> tuple[Stem, ...]:
        """Every stem."""
        return self.piece.stems

    def scene(self) -> Scene:
        """What is where."""
        return scene(self.made.drawn(self.piece), self.looks())

    def setting(self) -> Setting:
        """The piece as the checks of composition see it."""
        return setting(self.piece, self.material())

    def material(self) -> dict[str, Material]:
        """The stems as the checks of composition see them."""
        return {stem.id: self._material(stem) for stem in self.stems}

    def _material(self, stem: Stem) -> Material:
        known, drawn = self.bodies[stem.id], _look(stem, self.made.stuff[stem.id], self.bodies)
        made_of = plant(self.made.stuff[stem.id].plant)
        blade = made_of.kind == "leaf"
        flower = made_of.kind == "flower"
        return Material(
            kind=drawn.kind,
            plant=made_of.id,
            thickness_mm=known.thickness_mm,
            head_cm=HEAD_CM[drawn.form] if flower else 0.0,
            head_g=known.head_g,
            foliage_cm=0.0 if blade else 0.8,
            blade_cm=LEAF_BLADE * stem.length_cm if blade else 0.0,
            droop_deg=self.made.stuff[stem.id].droop_deg,
            blade_width_cm=drawn.head_cm if blade else 0.0,
            woody=made_of.kind == "branch",
        )


def _look(stem: Stem, stuff: Stuff, bodies: Mapping[str, Body]) -> Look:
    drawn = look(stuff.plant, bodies[stem.id].thickness_mm, stem.role, stem.id)
    return replace(
        drawn, seed=stuff.seed, roll_deg=stuff.roll_deg, stage=stuff.stage, off=stuff.off
    )


def on_table(tree: Tree) -> Table:
    """A kept piece on the table. Raises `InputError`."""
    return laid(tree, read_design(tree, packaged()))


def laid(tree: Tree, made: Arrangement) -> Table:
    """An arrangement on the table. Raises `InputError` where its vessel cannot have it."""
    piece = made.piece()
    return Table(tree, made, piece, made.bodies(piece))


def after(tree: Tree, told: Mapping[str, Any] | None, unit: str = "cm") -> Table:
    """The piece after one change, or as it is. Raises `InputError` where it cannot be."""
    if not told:
        return on_table(tree)
    change = read_change(told, unit)
    if isinstance(change, WholeChange):
        return _whole(tree, change)
    made = _apply(read_design(tree, packaged()), change)
    return laid(written(tree, made), made)


def changed(tree: Tree, told: Mapping[str, Any]) -> Json:
    """The piece's JSON after one change. Raises `InputError` where it cannot be."""
    return dict(after(tree, told).tree)


def _whole(tree: Tree, change: WholeChange) -> Table:
    given = change.model_dump(exclude_none=True, exclude={"act", "water"})
    told = {**tree, **given}
    if change.water is not None:
        told["water_cm"] = change.water
    if change.vessel is not None:
        told.pop("water_cm", None)
        if change.holder is None:
            told.pop("holder", None)
    made = read_design(told, packaged())
    return laid(written(told, made), made)


def _apply(made: Arrangement, change: Change) -> Arrangement:
    if isinstance(change, StemChange):
        return _stem(made, change)
    if isinstance(change, HolderChange):
        design = holder_to(made.design, made.aim(), change.x, change.y)
        return replace(made, design=design)
    if isinstance(change, AddChange):
        return _added(made, change)
    assert isinstance(change, OneChange)
    return _taken(made, change) if change.act == "take" else _back(made, change.id)


def _stem(made: Arrangement, change: StemChange) -> Arrangement:
    design = moved_to(
        made.design,
        made.aim(),
        change.id,
        length_cm=change.length,
        tilt_deg=change.lean,
        bearing_deg=change.direction,
        foot_cm=change.foot,
        bow_cm=change.bow,
    )
    stuff = made.stuff[change.id]
    if change.plant is not None and change.plant != stuff.plant:
        stuff = Stuff(change.plant, seed_of(change.plant, change.id))
    if change.lean is not None or change.length is not None:
        stuff = replace(stuff, droop_deg=0.0)
    if change.off is not None:
        stuff = replace(stuff, off=change.off)
    if change.roll is not None:
        stuff = replace(stuff, roll_deg=change.roll)
    if change.open is not None:
        stuff = replace(stuff, stage=change.open)
    if change.thickness is not None:
        stuff = replace(stuff, thickness_mm=change.thickness)
    if change.another:
        stuff = replace(stuff, seed=seed_of(stuff.plant, f"{change.id}/{stuff.seed}"))
    return replace(made, design=design, stuff={**made.stuff, change.id: stuff})


def _added(made: Arrangement, change: AddChange) -> Arrangement:
    stem_id = next_id(made.design, change.role)
    stems = (*made.design.stems, SetStem(stem_id, change.role))
    stuff = Stuff(change.plant, seed_of(change.plant, stem_id))
    return replace(
        made, design=replace(made.design, stems=stems), stuff={**made.stuff, stem_id: stuff}
    )


def _taken(made: Arrangement, change: OneChange) -> Arrangement:
    stems = tuple(s for s in made.design.stems if s.id != change.id or s.role == "main")
    return replace(made, design=replace(made.design, stems=stems))


def _back(made: Arrangement, stem_id: str) -> Arrangement:
    was = made.design.stem(stem_id)
    return replace(made, design=made.design.with_stem(SetStem(was.id, was.role)))


# What there is to see


def glance(table: Table, words: Words) -> Json:
    """What a hand that is still moving needs to see: where all is, the numbers, a word."""
    word, reason = quick_word(table.piece, table.bodies)
    found = shown(findings(table.setting()), MOST_SHOWN)
    return {
        **_picture(table, words),
        "standing": {"word": word, "says": words.say(reason), "stems": []},
        "findings": [
            {"says": words.say(each.says), "stems": list(each.who), "fault": each.fault}
            for each in found
        ],
    }


def sight(table: Table, words: Words) -> Json:
    """All there is to see of a piece at rest, with what would help."""
    verdict = judge(table.piece, table.bodies)
    helps = () if verdict.word == "stands" else remedies(table.piece, table.bodies, verdict=verdict)
    return {
        **_picture(table, words),
        "standing": {
            "word": verdict.word,
            "says": words.say(verdict.reason),
            "stems": _pulling(verdict),
            "remarks": [words.say(each) for each in (*verdict.remarks, *table.piece.remarks)],
            "helps": [
                {"says": words.say(each.says), "tree": taken_over(table, each.piece)}
                for each in helps[:MOST_SHOWN]
            ],
        },
        "findings": [
            {
                "says": words.say(each.finding.says),
                "stems": list(each.finding.who),
                "fault": each.finding.fault,
                "help": None
                if each.remedy is None
                else {
                    "says": words.say(each.remedy.says),
                    "tree": taken_over(table, each.remedy.piece, each.remedy.material),
                },
            }
            for each in advice(table.setting(), most=MOST_SHOWN)
        ],
    }


def _pulling(verdict: Verdict) -> list[str]:
    """The stem beside which the reason stands: the one that weighs most, where it matters."""
    if verdict.word == "stands":
        return []
    limp = [stem.id for stem in verdict.stems if not stem.holds_itself]
    if limp:
        return limp
    return [max(verdict.stems, key=lambda stem: stem.reach_cm).id]


def taken_over(
    table: Table, piece: Piece, material: Mapping[str, Material] | None = None
) -> Json | None:
    """The JSON with the stems of a changed piece of the same vessel; None where that is not all.

    `material`: of stems that are new, or leaves that bend otherwise.
    """
    if piece.vessel != table.piece.vessel or piece.holder != table.piece.holder:
        return None
    made, aim = table.made, table.made.aim()
    design = made.design
    if piece.place != table.piece.place:
        design = holder_to(design, aim, piece.place.x_cm, piece.place.y_cm)
    if piece.water_cm != table.piece.water_cm:
        design = replace(design, water_cm=piece.water_cm)
    were = {stem.id: stem for stem in table.stems}
    stuff = {stem.id: _stuff_of(table, stem, (material or {}).get(stem.id)) for stem in piece.stems}
    chosen = {each.id: each for each in design.stems}
    stems = tuple(
        replace(chosen.get(each.id, SetStem(each.id, each.role)), leader=each.leader)
        for each in piece.stems
    )
    design = replace(design, stems=stems)
    for stem in piece.stems:
        if stem != were.get(stem.id):
            design = moved_to(
                design,
                aim,
                stem.id,
                length_cm=stem.length_cm,
                tilt_deg=stem.tilt_deg,
                bearing_deg=stem.bearing_deg,
                foot_cm=stem.start[:2],
                bow_cm=stem.bow_cm or None,
            )
    return written(table.tree, replace(made, design=design, stuff=stuff))


def _stuff_of(table: Table, stem: Stem, told: Material | None) -> Stuff:
    """What a stem of a changed piece is made of: what it was; a new one, as its likes."""
    was = table.made.stuff.get(stem.id)
    if was is None:
        alike = [table.made.stuff[each.id].plant for each in table.stems if each.role == stem.role]
        plant_id = (told and told.plant) or (alike[-1] if alike else USUAL_LEAF)
        was = Stuff(plant_id, seed_of(plant_id, stem.id))
    if told is None or stem.role != "leaf":
        return was
    return replace(was, droop_deg=told.droop_deg)


def _picture(table: Table, words: Words) -> Json:
    """Where all is, and the numbers in her units."""
    piece = table.piece
    aim, shown = table.made.aim(), table.scene()
    return {
        "tree": dict(table.tree),
        "wire": wire(shown, glaze=table.made.glaze, season=table.made.season),
        "stems": [
            _row(table, stem, drawn.stem, words)
            for stem, drawn in zip(piece.stems, shown.stems, strict=True)
        ],
        "ghost": [
            {"id": stem.id, "from": list(stem.start), "to": list(stem.end)} for stem in aim.main
        ],
        "vessel": words.say(vessel_saying(piece.vessel)),
        "holder": _holder(piece, words),
        "water": words.say(Saying("web.table.water", water_cm=piece.water_cm)),
        "tall": piece.vessel.tall,
    }


def _row(table: Table, stem: Stem, drawn: Stem, words: Words) -> Json:
    """One stem's numbers, to be read and to be typed over; `drawn` is it as the picture has it."""
    stuff = table.made.stuff[stem.id]
    chosen = table.made.design.stem(stem.id)
    return {
        "id": stem.id,
        "role": stem.role,
        "name": words.say(stem_name(stem.id)),
        "label": f"{stem.label.romaji} {stem.label.kanji}" if stem.label else "",
        "plant": stuff.plant,
        "plant_name": plant_name(stuff.plant),
        "length": one_unit(words).quantity("length_cm", as_said_cm(stem.length_cm)),
        "cut": words.quantity("cut_cm", as_said_cm(stem.said_cm)),
        "lean": f"{stem.stands_deg:.0f}°",
        "direction": words.say(short_direction(stem.bearing_deg)),
        "length_cm": round(stem.length_cm, 2),
        "lean_deg": round(stem.stands_deg, 1),
        "asked_deg": round(stem.tilt_deg, 1),
        "bearing_deg": round(stem.bearing_deg, 1),
        "height": words.quantity("height_cm", stem.height_cm),
        "start": [round(each, 2) for each in stem.start],
        "end": [round(each, 2) for each in drawn.end],
        "roll_deg": stuff.roll_deg,
        "stage": stuff.stage,
        "moved": chosen.moved,
        "lifted": stem.tilt_deg - stem.stands_deg > 1.0,
    }


def vessel_saying(made: Vessel) -> Saying:
    """A vessel in a few words: what it is, its width and height."""
    return Saying(
        "web.table.vessel",
        vessel=Saying(f"vessel.{made.shape}"),
        width_cm=made.width_cm,
        height_cm=made.height_cm,
    )


def _holder(piece: Piece, words: Words) -> Json | None:
    if piece.holder is None:
        return None
    says = Saying(
        "web.table.holder",
        holder_cm=piece.holder.width_cm,
        place=Saying(f"papers.place.{piece.place.word}"),
    )
    return {
        "says": words.say(says),
        "x_cm": round(piece.place.x_cm, 2),
        "y_cm": round(piece.place.y_cm, 2),
    }
