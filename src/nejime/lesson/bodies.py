"""What every stem of a piece is made of, for its weight: the plant's facts under what was typed.

Source: the plant table; where it says nothing, `standing.masses` knows what is usual.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from nejime.forms.stems import Piece, Stem
from nejime.lesson.lesson import Lesson
from nejime.material.supply import Wish
from nejime.plants.plant import Plant
from nejime.standing.masses import FLOWER_HEAD_G, Body, Kind, usual_body


def role_of(stem: Stem) -> str:
    """The role under which a class file asks for a stem's material."""
    return stem.id if stem.role == "main" else stem.role


def wish_of(lesson: Lesson, piece: Piece) -> dict[str, Wish]:
    """The wish that each stem of a piece fulfils, by stem id: the places of a role in turn."""
    found: dict[str, Wish] = {}
    for role in dict.fromkeys(role_of(stem) for stem in piece.stems):
        places = [stem.id for stem in piece.stems if role_of(stem) == role]
        wished = [wish for wish in lesson.wishes if wish.role == role for _ in range(wish.each)]
        found.update(zip(places, wished, strict=False))
    return found


def bodies(lesson: Lesson, piece: Piece, used: Mapping[str, str] | None = None) -> dict[str, Body]:
    """What each stem is made of, by stem id.

    `used`: the plant that each stem really gets, by stem id, where it is not the wished one.
    """
    wishes = wish_of(lesson, piece)
    return {
        stem.id: body(
            stem, wishes[stem.id], lesson.plant((used or {}).get(stem.id, wishes[stem.id].plant))
        )
        for stem in piece.stems
        if stem.id in wishes
    }


def body(stem: Stem, wish: Wish, made_of: Plant) -> Body:
    """One stem of a plant: what was typed, else the plant's facts, else what is usual."""
    usual = usual_body(stem)
    kind = cast("Kind", made_of.stem)
    same = made_of.id == wish.plant
    thickness = wish.thickness_mm if same else None
    return Body(
        kind=kind,
        thickness_mm=thickness or _middle(made_of, "thickness_mm") or usual.thickness_mm,
        head_g=_middle(made_of, "head_g") or _usual_head_g(made_of),
        weighed_g=wish.weighed_g if same else None,
        stage="bud" if wish.in_bud else "open",
    )


def _middle(made_of: Plant, what: str) -> float | None:
    fact = made_of.fact(what)
    return fact.middle if fact else None


def _usual_head_g(made_of: Plant) -> float:
    return FLOWER_HEAD_G if made_of.kind == "flower" else 0.0
