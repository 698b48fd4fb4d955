"""The remake sheet of a piece that was measured, as PDF."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

from nejime.basis.sayings import Saying, Words
from nejime.desk.arrange import on_table
from nejime.desk.made.changes import OVER_DEG, turning_side
from nejime.desk.made.numbers import StemSaid, step_cm
from nejime.desk.made.piece import Chosen, made_piece
from nejime.desk.made.says import Told, growing_cm, of_the_whole, told
from nejime.desk.settings import stock_for, words_for
from nejime.desk.shelf import Shelf
from nejime.drawings.behind import Before
from nejime.forms.stems import Piece
from nejime.keeping.hazards import plant_cautions
from nejime.papers.cautions import of
from nejime.papers.pdf import print_sheets
from nejime.papers.pictures import Looks
from nejime.papers.remake import Remake, Was, remake
from nejime.papers.sheet import Sheet, Stock
from nejime.papers.wording import plant_name
from nejime.photo.answer import Measured
from nejime.photo.comparing import Comparison, compared
from nejime.photo.differences import StemCompared, known_line
from nejime.photo.in_common import Scale
from nejime.plants.table import plant

Do = Sequence[str]


def remake_sheet(
    shelf: Shelf,
    name: str,
    found: Measured,
    content: Mapping[str, Any],
    today: dt.date,
    *,
    plan: Piece | None = None,
    plants: Mapping[str, str] | None = None,
    looks: Looks | None = None,
) -> bytes:
    """The sheet of a measured piece. `content`: what is kept of it; `plan` with its `plants` by
    stem id and the `looks` of its stems. Raises `InputError`."""
    words, stock = words_for(shelf), stock_for(shelf, today)
    sheet = remake_paper(name, found, content, words, stock, plan, plants or {}, looks)
    return print_sheets([sheet], stock, sheet.title).pdf


def remake_paper(
    name: str,
    found: Measured,
    content: Mapping[str, Any],
    words: Words,
    stock: Stock,
    plan: Piece | None,
    plants: Mapping[str, str],
    looks: Looks | None,
) -> Sheet:
    """The same before it is printed. Raises `InputError`."""
    if plan is None:
        return remake(_as_it_is(name, found, content, plants, words), words, stock)
    beside = compared(found, plan, growing_cm(plants))
    return remake(_beside(name, beside, words, plants, looks), words, stock)


def _beside(
    name: str,
    beside: Comparison,
    words: Words,
    plants: Mapping[str, str],
    looks: Looks | None,
) -> Remake:
    """The plan, and behind it the piece as it stood."""
    saying = told(beside, words)
    return Remake(
        name=name,
        piece=beside.plan,
        before=[
            Before(each.id, line.foot_cm, line.end_cm)
            for each in beside.measured.stems
            if (line := known_line(each)) is not None
        ],
        was=_was(saying, beside, words),
        good=saying.good[:1],
        change=of_the_whole(beside, words),
        unsure=saying.unsure,
        cautions=_cautions(plants, words),
        plants=_names(plants),
        looks=looks,
    )


def _as_it_is(
    name: str,
    found: Measured,
    content: Mapping[str, Any],
    plants: Mapping[str, str],
    words: Words,
) -> Remake:
    """The piece itself, as it was measured."""
    made = made_piece(found, content, Chosen(plants))
    table = on_table(made.tree)
    saying = told(found, words)
    rows = {made.became[each.id]: each for each in saying.rows if each.id in made.became}
    known = {
        made.became[each]: plant_id for each, plant_id in plants.items() if each in made.became
    }
    return Remake(
        name=name,
        piece=table.piece,
        was={each: _numbers(row) for each, row in rows.items()},
        planned=False,
        unsure=(*saying.unsure, *(words.say(each) for each in made.told)),
        cautions=_cautions(known, words),
        plants=_names(known),
        looks=table.looks() if known else None,
    )


def _names(plants: Mapping[str, str]) -> dict[str, str]:
    return {stem: plant_name(each) for stem, each in plants.items()}


def _cautions(plants: Mapping[str, str], words: Words) -> tuple[str, ...]:
    kinds = [plant(each) for each in dict.fromkeys(plants.values())]
    return tuple(of(plant_cautions(kinds, goes_home=True), words))


# How each stem was, and what to do with it


def _was(saying: Told, beside: Comparison, words: Words) -> dict[str, Was]:
    compared_ = {each.id: each for each in beside.stems}
    return {
        row.id: _numbers(row, _what_to_do(compared_[row.id], beside, words))
        for row in saying.rows
        if row.id in compared_
    }


def _numbers(row: StemSaid, do: Do = ()) -> Was:
    return Was(row.lean, row.direction, row.length, do)


def _what_to_do(each: StemCompared, beside: Comparison, words: Words) -> list[str]:
    """What to do with one stem, a short sentence each."""
    said = [*_with_length(each, beside.scale, words), *_with_line(each)]
    if not said:
        known = each.lean is not None or each.in_picture is not None
        said = [Saying("papers.remake.do.keep" if known else "papers.remake.do.look")]
    return [words.say(one) for one in said]


def _with_length(each: StemCompared, scale: Scale | None, words: Words) -> list[Saying]:
    """What to do with a length; of a piece that is smaller on the whole, what to do next time."""
    if each.length is None or not (each.length.off or scale):
        return []
    by_cm = step_cm(each.length.made.value, each.aim.length_cm, words)
    short = "longer" if scale is None else "next-time"
    return [Saying(f"papers.remake.do.{'cut' if by_cm > 0 else short}", by_cm=abs(by_cm))]


def _with_line(each: StemCompared) -> list[Saying]:
    said = []
    turn = each.direction if each.direction is not None and each.direction.off else None
    lean = each.lean if each.lean is not None else each.in_picture
    if turn is not None and abs(turn.by) > OVER_DEG:
        return [Saying("papers.remake.do.over")]
    if lean is not None and lean.off:
        by_deg = abs(abs(round(lean.made.value)) - abs(round(lean.aim)))
        way = "lower" if abs(lean.made.value) < abs(lean.aim) else "raise"
        if lean.made.value * lean.aim < 0.0:
            return [Saying("papers.remake.do.over")]
        said.append(Saying(f"papers.remake.do.{way}", by_deg=by_deg))
    if turn is not None:
        side = turning_side(turn.aim + turn.by, turn.aim)
        said.append(Saying("papers.remake.do.turn", by_deg=abs(turn.by), side=side))
    return said
