"""A branch is shorter than its stem: what can be done, and the piece that comes of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from nejime.basis.sayings import Saying, Words
from nejime.desk.arrange import Json, Table, changed, on_table
from nejime.desk.shelf import Shelf
from nejime.forms.arranged import Design
from nejime.forms.shortfall import too_short, ways_out
from nejime.forms.stems import Piece
from nejime.reading.change import read_have
from nejime.reading.design import written
from nejime.reading.typed import vessel_of


def ways(shelf: Shelf, told: Mapping[str, Any], words: Words) -> Json:
    """What can be done with a branch of the length that was typed. Raises `InputError`.

    Each way has its sentence and, where the table can do it, the piece's JSON with it done.
    """
    stem_id, have_cm = read_have(told, words.unit)
    table = on_table(told["tree"])
    if not too_short(table.piece, stem_id, have_cm):
        return {"says": words.say(Saying("web.table.long-enough")), "ways": []}
    at_hand = [(vessel_of(each.content), None) for each in shelf.all("vessel")]
    found = ways_out(table.piece, stem_id, have_cm, at_hand)
    key = "web.table.too-short" if found else "web.table.too-short-no-way"
    return {
        "says": words.say(Saying(key)),
        "ways": [
            {"says": words.say(each.says), "tree": _done(table, each.kind, each.piece)}
            for each in found
        ],
    }


def _done(table: Table, kind: str, piece: Piece) -> Json | None:
    """The JSON of the piece with one way done; None for another vessel, which is chosen below."""
    if kind == "smaller piece":
        return changed(table.tree, {"act": "whole", "size": piece.size})
    if kind == "all three shorter":
        return written(table.tree, replace(table.made, design=_shorter(table, piece)))
    return None


def _shorter(table: Table, piece: Piece) -> Design:
    """The design with every stem in the proportion in which the first became shorter."""
    share = piece.stem("first").length_cm / table.piece.stem("first").length_cm
    first_cm = table.made.aim().stem("first").length_cm
    stems = tuple(
        replace(each, length=share * table.piece.stem(each.id).length_cm / first_cm)
        for each in table.made.design.stems
    )
    return replace(table.made.design, stems=stems)
