"""The handout: one sheet, both sides, for one person's own vessel.

Front: the vessel, the three lengths, lean and direction in words and in two drawings, what this
vessel does to the piece, and whether it stands. Back: the steps, the supporting stems, cautions,
care at home, the words of the class, and room for a sketch and the corrected numbers.
In large print the same takes two sheets.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from nejime.basis.sayings import Saying, Words
from nejime.forms.stems import Piece, Stem
from nejime.forms.tall import DIP_CM
from nejime.papers import pictures
from nejime.papers.sheet import Drawing, Sheet, Stock
from nejime.papers.wording import (
    direction,
    fixed,
    lean,
    measure,
    one_unit,
    said,
    sentence,
    short_direction,
    towards,
    word,
)

SHALLOW_TERMS = ("suiban", "mizukiri", "mizugiwa", "nejime")
LEAST_STEPS = 6  # [own] two full rows of three
TALL_TERMS = ("kaki", "jumonji", "mizukiri", "nejime")


@dataclass(frozen=True, slots=True)
class Told:
    """What one person is told. `plants` names the material by stem id, in words.

    `standing` is the word of standing and what to do, the word first; `notes` is what was noted
    of the vessel beyond the piece's own remarks. `cautions` are sentences, the gravest first.
    """

    name: str
    piece: Piece
    file_name: str = "handout"
    occasion: str = ""
    standing: tuple[Saying, ...] = ()
    notes: tuple[Saying, ...] = ()
    cautions: tuple[str, ...] = ()
    care: tuple[Saying, ...] = ()
    plants: Mapping[str, str] = field(default_factory=dict)
    looks: pictures.Looks | None = None


def handout(
    told: Told,
    words: Words,
    stock: Stock,
    *,
    drawings: Mapping[str, Drawing] | None = None,
) -> Sheet:
    """The handout of one person; `drawings` are those of a piece that looks the same."""
    shown = drawings or pictures.of_handout(told.piece, told.looks, words, stock)
    title = word(words, "handout.title", name=told.name)
    return Sheet(
        told.file_name, "handout", title, told_data(told, words), shown, told.piece.rule.name
    )


def told_data(told: Told, words: Words) -> dict[str, Any]:
    """Everything that the two sides say."""
    piece = told.piece
    kind = "nageire" if piece.vessel.tall else "moribana"
    return {
        "fixed": fixed(words, "handout"),
        "name": told.name,
        "occasion": told.occasion,
        "about": _about(piece, words),
        "kanji": word(words, f"term.{kind}.kanji"),
        "romaji": word(words, f"term.{kind}.romaji"),
        "vessel": vessel_lines(piece, words),
        "stems": [_row(stem, told.plants, words) for stem in piece.main],
        "supporting": _supporting(piece, told.plants, words),
        "steps": [{"drawing": f"step-{key}", "says": says} for key, says in _steps(piece, words)],
        "front": word(words, f"handout.front-{'vase' if piece.vessel.tall else 'dish'}"),
        "remarks": said(words, (*told.notes, *piece.remarks)),
        "standing": said(words, told.standing),
        "cautions": list(told.cautions),
        "care": said(words, told.care or _care(piece)),
        "terms": terms(TALL_TERMS if piece.vessel.tall else SHALLOW_TERMS, words),
        "example": "",
    }


def _about(piece: Piece, words: Words) -> list[str]:
    keys = (f"form.{piece.form.name}", f"size.{piece.size}", f"opens.{piece.opens}")
    return [word(words, key) for key in keys]


def vessel_lines(piece: Piece, words: Words) -> list[str]:
    """The vessel, its water and its pin holder, a sentence each."""
    vessel, held = piece.vessel, piece.holder
    deep = abs(vessel.depth_cm - vessel.width_cm) > 0.5
    key = f"handout.vessel{'-named' if vessel.name else ''}{'-deep' if deep else ''}"
    lines = [
        word(
            words,
            key,
            name=sentence(vessel.name),
            vessel=Saying(f"vessel.{vessel.shape}"),
            width_cm=vessel.width_cm,
            depth_cm=vessel.depth_cm,
            height_cm=vessel.height_cm,
        )
    ]
    if held is not None:
        where = Saying(f"papers.place.{piece.place.word}")
        lines.append(
            word(
                words,
                "handout.holder-oblong" if held.rectangular else "handout.holder",
                holder_cm=held.width_cm,
                depth_cm=held.depth_cm,
                place=where,
            )
        )
    lines.append(word(words, "handout.water", water_cm=piece.water_cm))
    return lines


def _row(stem: Stem, plants: Mapping[str, str], words: Words) -> dict[str, Any]:
    trim = "" if stem.trim_cm is None else _trim(stem.trim_cm, words)
    assert stem.label is not None
    return {
        "id": stem.id,
        "stem": word(words, f"stem.{stem.id}"),
        "romaji": stem.label.romaji,
        "kanji": stem.label.kanji,
        "plant": plants.get(stem.id, ""),
        "cut": measure(words, stem.said_cm),
        "trim": trim,
        "over": _over(stem, words),
        "lean": sentence(words.say(lean(stem.stands_deg))),
        "degrees": words.quantity("tilt_deg", stem.stands_deg),
        "direction": sentence(words.say(direction(stem.bearing_deg))),
    }


def _trim(trim_cm: tuple[float, float], words: Words) -> str:
    """The range to trim to in a tall vase, in one unit: "trim to 51–53 cm"."""
    one = one_unit(words)
    low, high = (one.quantity("trim_cm", each) for each in trim_cm)
    if low == high:
        return word(words, "handout.trim-one", high=high)
    return word(words, "handout.trim", low=low.rpartition(" ")[0], high=high)


def _over(stem: Stem, words: Words) -> str:
    """What of a stem in a tall vase stands over its mouth, as the drawings show it, in one unit."""
    if stem.trim_cm is None:
        return ""
    return word(one_unit(words), "handout.over", length_cm=stem.length_cm)


def _supporting(piece: Piece, plants: Mapping[str, str], words: Words) -> list[dict[str, Any]]:
    """One line a role: its name, its plant, and each stem's numbers."""
    rows = []
    for role in ("helper", "heart", "leaf"):
        stems = _of_role(piece, role)
        if stems:
            rows.append(
                {
                    "role": word(words, f"role.{role}", count=len(stems)),
                    "plant": ", ".join(
                        dict.fromkeys(plants[s.id] for s in stems if s.id in plants)
                    ),
                    "stems": [_numbers(stem, words) for stem in stems],
                    "brief": [_numbers(stem, words, brief=True) for stem in stems],
                }
            )
    return rows


def _numbers(stem: Stem, words: Words, *, brief: bool = False) -> str:
    """A supporting stem's numbers; of one in a vase also what stands over the mouth."""
    return word(
        words,
        "handout.supporting-vase" if stem.trim_cm and not brief else "handout.supporting",
        cut_cm=stem.said_cm,
        over=_over(stem, words),
        tilt_deg=stem.stands_deg,
        direction=short_direction(stem.bearing_deg),
    )


def _steps(piece: Piece, words: Words) -> list[tuple[str, str]]:
    """The steps in order: key of the drawing, and what is said of it."""
    tall = piece.vessel.tall
    steps = [
        (
            "holder",
            word(
                words,
                "handout.step.holder-vase" if tall else "handout.step.holder",
                place=Saying(f"papers.place.{piece.place.word}"),
                water_cm=piece.water_cm,
                bar_cm=DIP_CM,
            ),
        )
    ]
    for stem in piece.main:
        key = f"vase-{stem.id}" if tall else stem.id
        if stem.stands_deg <= 2.0:
            key = "upright-stem"
        says = word(
            words,
            f"handout.step.{key}",
            stem=Saying(f"stem.{stem.id}"),
            lean=lean(stem.stands_deg),
            towards=towards(stem.bearing_deg),
        )
        steps.append((stem.id, says))
    roles = [role for role in ("helper", "heart", "leaf") if _of_role(piece, role)]
    if roles[-2:] == ["heart", "leaf"]:
        roles[-2:] = ["heart-leaf"]
    vase = "-vase" if tall else ""
    covers = {role: f"{role}{vase}" if role.endswith("leaf") else role for role in roles}
    steps += [(r.split("-")[-1], word(words, f"handout.step.{covers[r]}")) for r in roles]
    if len(steps) < LEAST_STEPS:
        steps.append(("look", word(words, "handout.step.look")))
    return steps


def _of_role(piece: Piece, role: str) -> tuple[Stem, ...]:
    return tuple(stem for stem in piece.stems if stem.role == role)


def _care(piece: Piece) -> tuple[Saying, ...]:
    water = "water-vase" if piece.vessel.tall else "water"
    return tuple(Saying(f"papers.care.{key}") for key in (water, "cut", "place"))


def terms(names: tuple[str, ...], words: Words) -> list[dict[str, str]]:
    """Words of the trade with their kanji and what they mean."""
    parts = ("kanji", "romaji", "means")
    return [{part: word(words, f"term.{name}.{part}") for part in parts} for name in names]
