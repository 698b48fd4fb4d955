"""What is said to a camera: everything that is shown, in words that need no picture.

Model: each step has a line that names the stem, its length, its lean and its side, and the view in
which it is filmed: over the shoulder for cutting and fixing, from above for places, from the front
for judging a line. Directions are always the viewer's; the picture is never mirrored.
Source: saying all that is shown serves people who do not see it (`w3c-g226`); films over the
shoulder help to build a thing faster and more exactly (`fiorella2017`). Which view for which step
is our own choice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from nejime.basis.angles import compass_word
from nejime.basis.sayings import Saying
from nejime.forms.stems import Piece, Stem, stem_name

Shot = Literal["front", "above", "shoulder"]
PART_OF = {"helper": "make-helpers", "heart": "make-heart", "leaf": "make-leaves"}


@dataclass(frozen=True, slots=True)
class Spoken:
    """One line, the view in which it is filmed, and the part of the order that it belongs to."""

    part: str
    shot: Shot
    says: Saying

    @property
    def view(self) -> Saying:
        """The view in words."""
        return Saying(f"lesson.shot.{self.shot}")


def spoken(piece: Piece) -> tuple[Spoken, ...]:
    """Every line for the making of a piece, in the order in which it is made."""
    return tuple(_lines(piece))


def _lines(piece: Piece) -> Iterator[Spoken]:
    if piece.holder is None:
        yield Spoken("make-holder", "above", Saying("lesson.spoken.vase"))
    else:
        where = Saying(f"lesson.spoken.place.{piece.place.word.replace(' ', '-')}")
        says = Saying("lesson.spoken.holder", where=where, water_cm=piece.water_cm)
        yield Spoken("make-holder", "above", says)
    for stem in piece.stems:
        part = PART_OF.get(stem.role, f"make-{stem.id}")
        name = stem_name(stem.id)
        yield Spoken(part, "shoulder", Saying("lesson.spoken.cut", stem=name, cut_cm=stem.cut_cm))
        yield Spoken(part, "front", _lean(stem, name))


def _lean(stem: Stem, name: Saying) -> Saying:
    return Saying(
        "lesson.spoken.lean",
        stem=name,
        tilt_deg=stem.stands_deg,
        direction=Saying(f"direction.{compass_word(stem.bearing_deg)}"),
        height_cm=stem.height_cm,
    )
