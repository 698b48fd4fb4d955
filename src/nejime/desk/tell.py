"""Results as lines of text, for a terminal."""

from __future__ import annotations

import unicodedata

from nejime.basis.angles import compass_word
from nejime.basis.sayings import Saying, Words
from nejime.forms.shortfall import WayOut
from nejime.forms.stems import Piece, Stem, stem_name

LITRES_FROM_ML = 500.0  # [own] less is poured from a cup and told in millilitres


def columns(rows: list[list[str]]) -> list[str]:
    """Rows as aligned columns; a kanji takes two places."""
    wide = [max(_places(row[number]) for row in rows) for number in range(len(rows[0]))]
    return [
        "  ".join(
            cell + " " * (width - _places(cell)) for cell, width in zip(row, wide, strict=True)
        ).rstrip()
        for row in rows
    ]


def _places(text: str) -> int:
    return sum(2 if unicodedata.east_asian_width(each) in "WF" else 1 for each in text)


def piece_text(piece: Piece, words: Words) -> str:
    """A piece as a teacher would note it down."""
    head = Saying(
        "cli.piece",
        vessel=piece.vessel.name or Saying(f"vessel.{piece.vessel.shape}"),
        width_cm=piece.vessel.width_cm,
        height_cm=piece.vessel.height_cm,
        form=piece.form.name,
        size=piece.size,
        opens=piece.opens,
    )
    lines = [
        words.say(head)[:1].upper() + words.say(head)[1:],
        words.say(Saying("cli.proportions", rule=piece.rule.title, base_cm=piece.base_cm)),
        "",
        *columns([_head(piece, words), *(_row(stem, words) for stem in piece.stems)]),
        "",
        words.say(_holder(piece)),
        words.say(_water(piece)),
        *(words.say(remark) for remark in piece.remarks),
    ]
    return "\n".join(lines)


def _head(piece: Piece, words: Words) -> list[str]:
    height = "cli.head-height-mouth" if piece.vessel.tall else "cli.head-height-pins"
    keys = ("cli.head-stem", "cli.head-cut", "cli.head-lean", "cli.head-direction", height)
    return [words.say(Saying(key)) for key in keys]


def _row(stem: Stem, words: Words) -> list[str]:
    name = words.say(stem_name(stem.id))
    if stem.label is not None:
        name = f"{name}, {stem.label.romaji} {stem.label.kanji}"
    cut = Saying("cli.cut", cut_cm=stem.cut_cm)
    if stem.trim_cm is not None:
        low, high = (words.quantity("trim_cm", each) for each in stem.trim_cm)
        key = "cli.cut-trim-one" if low == high else "cli.cut-trim"
        cut = Saying(key, cut_cm=stem.cut_cm, low=low, high=high)
    return [
        name,
        words.say(cut),
        words.quantity("lean_deg", stem.stands_deg),
        words.say(Saying(f"direction.{compass_word(stem.bearing_deg)}")),
        words.quantity("height_cm", stem.height_cm),
    ]


def _water(piece: Piece) -> Saying:
    pour_ml = piece.vessel.volume_ml(piece.water_cm)
    if pour_ml < LITRES_FROM_ML:
        pour_ml = max(10.0, round(pour_ml, -1))
        return Saying("cli.water-little", water_cm=piece.water_cm, pour_ml=pour_ml)
    return Saying("cli.water", water_cm=piece.water_cm, pour_l=pour_ml / 1000)


def _holder(piece: Piece) -> Saying:
    held, place = piece.holder, piece.place
    if held is None:
        return Saying("cli.no-holder")
    if place.word == "middle":
        return Saying("cli.holder", holder_cm=held.width_cm, place=Saying("place.middle"))
    return Saying(
        "cli.holder-off",
        holder_cm=held.width_cm,
        place=Saying(f"place.{place.word.replace(' ', '-')}"),
        across_cm=abs(place.x_cm),
        side=Saying("direction.left" if place.x_cm < 0 else "direction.right"),
        along_cm=abs(place.y_cm),
        end=Saying("place.front" if place.y_cm < 0 else "place.back"),
    )


def ways_text(ways: tuple[WayOut, ...], words: Words) -> str:
    """What can be done with a branch that is too short."""
    if not ways:
        return words.say(Saying("cli.long-enough"))
    lines = [words.say(Saying("cli.too-short"))]
    return "\n".join([*lines, *(f"- {words.say(way.says)}" for way in ways)])
