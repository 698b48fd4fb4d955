"""Piles and sets: to what lengths the material is cut, and who takes what."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from nejime.basis.sayings import Saying, Words
from nejime.forms.stems import stem_name
from nejime.material.piles import OneCut, OneSet, Pile, Piles, Take
from nejime.papers import sections
from nejime.papers.sections import TICK, Cell, Section, strong
from nejime.papers.sheet import Sheet
from nejime.papers.wording import fixed, plant_cell, plant_name, word


def cutting(made: Piles, words: Words, above: str = "") -> Sheet:
    """How the material of one class is cut, and the sets that come of it."""
    say = fixed(words, "piles")
    listed = [
        _piles(made.piles, words, say),
        _by_name(made.by_name, words, say),
        _sets(made.sets, words, say),
    ]
    return sections.sheet("piles-and-sets", word(words, "piles.title"), above, listed)


def _piles(piles: Sequence[Pile], words: Words, say: dict[str, str]) -> Section:
    columns = [
        ("", "auto"),
        (say["plant"], "1.5fr"),
        (say["pile"], "1fr"),
        (say["cut"], "1fr"),
        (f">{say['count']}", "auto"),
        (f">{say['spare']}", "auto"),
    ]
    firsts = {pile.plant: pile for pile in reversed(piles)}
    rows: list[list[Cell]] = [
        [
            TICK,
            plant_cell(pile.plant) if pile is firsts[pile.plant] else plant_name(pile.plant),
            word(words, f"piles.{pile.name}"),
            strong(words.quantity("cut_cm", pile.length_cm)),
            str(pile.count),
            str(pile.spares),
        ]
        for pile in piles
    ]
    return sections.table(
        word(words, "piles.piles"), columns, rows, says=word(words, "piles.say-piles")
    )


def _by_name(cuts: Sequence[OneCut], words: Words, say: dict[str, str]) -> Section:
    columns = [("", "auto"), (say["plant"], "1.5fr"), (say["cut"], "auto"), (say["to"], "2fr")]
    rows = [
        [
            TICK,
            plant_name(cut.use.plant),
            strong(words.quantity("cut_cm", cut.cut_to_cm)),
            [*filter(None, [cut.use.wanted.who]), words.say(stem_name(cut.use.wanted.stem))],
        ]
        for cut in cuts
    ]
    return sections.table(
        word(words, "piles.by-name"), columns, rows, says=word(words, "piles.say-by-name")
    )


def _sets(sets: Sequence[OneSet], words: Words, say: dict[str, str]) -> Section:
    columns = [("", "auto"), (say["who"], "1fr"), (say["holds"], "2fr")]
    alike: dict[str, list[str]] = {}
    for each in sets:
        holds = words.quantity("holds", (*_said(each.takes), *_said(each.cuts))) or "–"
        alike.setdefault(holds, []).append(words.say(each.title))
    rows = [[TICK, _whose(names, words), holds] for holds, names in alike.items()]
    return sections.table(word(words, "piles.sets"), columns, rows)


def _whose(names: Sequence[str], words: Words) -> Cell:
    """Who gets a set like this: equal sets stand in one row, with their number."""
    if len(names) == 1:
        return strong(names[0])
    many = word(words, "piles.alike", count=len(names))
    return [strong(many), words.together(list(names))]


def _said(parts: Iterable[Take] | Iterable[OneCut]) -> list[Saying]:
    return [part.says for part in parts]
