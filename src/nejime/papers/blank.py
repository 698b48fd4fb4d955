"""The handout of somebody whose vessel nobody knows yet: the reckoner, and room for numbers.

Model: one table in the unit of the class, or one in each unit side by side.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from nejime.basis.sayings import Words
from nejime.forms.rules import MAIN, Size
from nejime.papers import pictures
from nejime.papers.handout import Told, told_data
from nejime.papers.reckoner import how, leans, table
from nejime.papers.sheet import Drawing, Sheet, Stock
from nejime.papers.wording import fixed, word

SIZES_SHOWN: tuple[Size, ...] = ("small", "usual")  # [own] a beginner's, so that it stays legible
LARGE_SIZES: tuple[Size, ...] = ("usual",)  # [own] what two tables in large print have room for


def blank_handout(
    told: Told,
    words: Words,
    stock: Stock,
    *,
    fuller_third: bool = False,
    drawings: Mapping[str, Drawing] | None = None,
) -> Sheet:
    """The blank handout; `told.piece` is a usual piece whose drawings serve as the example.

    `drawings` are those of another blank handout with the same example.
    """
    piece = told.piece
    rule, form_name, tall = piece.rule, piece.form.name, piece.vessel.tall
    units = ("cm", "in") if words.unit == "both" else (words.unit,)
    sizes = LARGE_SIZES if stock.large and len(units) > 1 else SIZES_SHOWN
    data: dict[str, Any] = told_data(told, words) | {
        "blank": fixed(words, "blank"),
        "unknown": word(words, "blank.unknown"),
        "my": word(words, "blank.my"),
        "how": how(rule, words, tall),
        "tables": [
            table(rule, form_name, u, words, tall=tall, fuller_third=fuller_third, sizes=sizes)
            for u in units
        ],
        "labels": [{"kanji": rule.label[stem].kanji} for stem in MAIN],
        "leans": leans(rule, form_name, words, tall),
        "name": told.name or word(words, "blank.name"),
        "standing": [],
        "remarks": [],
        "example": word(words, "blank.example", width_cm=told.piece.vessel.width_cm),
    }
    title = word(words, "blank.title" if told.name else "blank.title-nobody", name=told.name)
    shown = drawings or {
        **pictures.of_steps(told.piece, told.looks, words, stock),
        "measuring": pictures.of_measuring(piece.vessel.shape, words, stock),
    }
    return Sheet(told.file_name, "blank", title, data, shown, rule.name)
