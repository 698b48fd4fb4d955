"""The remake sheet: one page from which a piece that was photographed is made again.

Beside a plan: the plan drawn with its numbers, the piece as it stood thin and dashed behind it, and
for every stem how it was, how it should be and what to do. Without a plan: the piece itself, with
the length, lean, direction and foot of every stem.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from nejime.basis.angles import bearing
from nejime.basis.sayings import Saying, Words
from nejime.drawings.behind import Before, above_before, front_before
from nejime.drawings.scene import scene
from nejime.forms.stems import Piece, Stem, stem_name
from nejime.papers import pictures
from nejime.papers.handout import vessel_lines
from nejime.papers.sheet import Drawing, Sheet, Stock
from nejime.papers.wording import (
    direction,
    fixed,
    said,
    sentence,
    short_direction,
    word,
)

VIEWS_MM = {"A4": 100.0, "Letter": 86.0}  # [own] height of both drawings, at most
LARGE_VIEWS_MM = {"A4": (112.0, 84.0), "Letter": (100.0, 76.0)}  # [own] one above the other
MIDDLE_CM = 0.7  # [own] a foot so near to it stands in the middle of the pin holder
PLUMB_DEG = 3.0  # [own] a stem that leans less has no direction
CAUTIONS = ("pins", "scissors", "holder-home")
VASE_CAUTIONS = ("scissors",)


@dataclass(frozen=True, slots=True)
class Was:
    """One stem as it stood: its numbers as they are said, each with its ±, and what to do with it,
    a sentence each; nothing where it was not measured."""

    lean: str = ""
    direction: str = ""
    length: str = ""
    do: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class Remake:
    """What the sheet is about. `piece` is what is to be made. `before`: lines of the piece as it
    stood, from foot to end, where there is a plan; `was`: its stems by id, `more` the ± of a piece
    without a plan. `good` and `change` are sentences."""

    name: str
    piece: Piece
    before: Sequence[Before] = ()
    was: Mapping[str, Was] = field(default_factory=dict)
    planned: bool = True
    good: Sequence[str] = ()
    change: Sequence[str] = ()
    unsure: Sequence[str] = ()
    cautions: Sequence[str] = ()
    plants: Mapping[str, str] = field(default_factory=dict)
    looks: pictures.Looks | None = None


def remake(told: Remake, words: Words, stock: Stock) -> Sheet:
    """The sheet of one person's piece."""
    kind = "planned" if told.planned else "as-it-is"
    data = {
        "fixed": fixed(words, "remake"),
        "above": word(words, f"remake.above-{kind}"),
        "planned": told.planned,
        "front": word(words, f"handout.front-{'vase' if told.piece.vessel.tall else 'dish'}"),
        "dashed": word(words, "remake.dashed") if told.before else "",
        "good": list(told.good),
        "change": list(told.change),
        "unsure": list(told.unsure),
        "vessel": vessel_lines(told.piece, words),
        "stems": [_row(stem, told, words) for stem in _shown(told)],
        "supporting": _supporting(told, words),
        "length-note": word(words, f"remake.length-{'pins' if told.piece.holder else 'vase'}"),
        "cautions": _cautions(told, words),
    }
    title = (
        word(words, "remake.title", name=told.name) if told.name else word(words, "remake.alone")
    )
    return Sheet(
        "remake",
        "remake",
        title,
        data,
        _drawings(told, words, stock),
        told.piece.rule.name if told.planned else "",
    )


def _cautions(told: Remake, words: Words) -> list[str]:
    keys = CAUTIONS if told.piece.holder else VASE_CAUTIONS
    usual = said(words, (Saying(f"lesson.caution.{key}") for key in keys))
    return list(dict.fromkeys([*usual, *told.cautions]))


def _drawings(told: Remake, words: Words, stock: Stock) -> dict[str, Drawing]:
    shown = scene(told.piece, told.looks)
    wide, text_pt = pictures.inner_width_mm(stock), pictures.lettering_pt(stock)
    if stock.large:
        (front_mm, above_mm), (front_wide, above_wide) = LARGE_VIEWS_MM[stock.paper], (wide, wide)
    else:
        front_mm = above_mm = VIEWS_MM[stock.paper]
        front_wide = pictures.FRONT_SHARE * wide
        above_wide = (1 - pictures.FRONT_SHARE) * wide - pictures.BESIDE_MM
    front = front_before(
        shown, told.before, words, width_mm=front_wide, height_mm=front_mm, text_pt=text_pt
    )
    above = above_before(
        shown, told.before, words, width_mm=above_wide, height_mm=above_mm, text_pt=text_pt
    )
    return {"front": pictures.drawn(front), "plan": pictures.drawn(above)}


# The table


def _shown(told: Remake) -> list[Stem]:
    """The stems that have a row: the main ones, and whatever was measured."""
    return [stem for stem in told.piece.stems if stem.role == "main" or stem.id in told.was]


def _row(stem: Stem, told: Remake, words: Words) -> dict[str, Any]:
    was = told.was.get(stem.id, Was())
    measured = bool(was.lean or was.length)
    return {
        "stem": sentence(words.say(stem_name(stem.id))),
        "kanji": stem.label.kanji if stem.label else "",
        "plant": told.plants.get(stem.id, ""),
        "was": [each for each in (was.length, _leaning(was, words), was.direction) if each]
        if measured
        else [word(words, "remake.not-measured")],
        "length": was.length or words.quantity("length_cm", stem.length_cm),
        "lean": was.lean or words.quantity("tilt_deg", stem.stands_deg),
        "direction": was.direction or words.say(_pointing(stem)),
        "should": [
            words.quantity("length_cm", stem.length_cm),
            word(words, "remake.leaning", lean=words.quantity("tilt_deg", stem.stands_deg)),
            words.say(_pointing(stem)),
        ],
        "foot": _foot(stem, told.piece, words),
        "do": list(was.do),
    }


def _leaning(was: Was, words: Words) -> str:
    if not was.lean:
        return ""
    return word(words, "remake.leaning" if was.direction else "remake.lean-only", lean=was.lean)


def _pointing(stem: Stem) -> Saying:
    if stem.stands_deg < PLUMB_DEG:
        return Saying("papers.remake.upright")
    return direction(stem.bearing_deg)


def _foot(stem: Stem, piece: Piece, words: Words) -> str:
    """Where on the pins a stem goes: how far from the middle of the pin holder, and which way."""
    if piece.holder is None:
        at = direction(bearing(*stem.start[:2]))
        return word(words, "remake.foot-vase", direction=at, cut_cm=stem.said_cm)
    x, y = stem.start.x_cm - piece.place.x_cm, stem.start.y_cm - piece.place.y_cm
    if math.hypot(x, y) < MIDDLE_CM:
        return word(words, "remake.foot-middle")
    return word(
        words,
        "remake.foot",
        step_cm=math.hypot(x, y),
        direction=short_direction(bearing(x, y)),
    )


def _supporting(told: Remake, words: Words) -> list[str]:
    """The plan's other stems, one line each role."""
    shown = {stem.id for stem in _shown(told)}
    lines = []
    for role in ("helper", "heart", "leaf"):
        stems = [s for s in told.piece.stems if s.role == role and s.id not in shown]
        if not stems:
            continue
        numbers = [
            word(
                words,
                "handout.supporting",
                cut_cm=stem.said_cm,
                tilt_deg=stem.stands_deg,
                direction=short_direction(stem.bearing_deg),
                over="",
            )
            for stem in stems
        ]
        name = word(words, f"role.{role}", count=len(stems))
        lines.append(word(words, "remake.supporting", role=name, stems=" · ".join(numbers)))
    return lines
