"""Piles and sets: to what lengths the material is cut, and who takes what."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from nejime.basis.sayings import Saying, Words
from nejime.forms.stems import stem_name
from nejime.lesson.bars import Bars
from nejime.material.ends import Source
from nejime.material.piles import OneCut, OneSet, Pile, Piles, Take
from nejime.material.supply import GardenBranch
from nejime.papers import sections
from nejime.papers.sections import TICK, Cell, Section, quiet, strong
from nejime.papers.sheet import Sheet
from nejime.papers.wording import fixed, plant_cell, plant_name, said, word


def cutting(made: Piles, words: Words, above: str = "", *, bare: Bars | None = None) -> Sheet:
    """How the material of one class is cut, and the sets that come of it.

    `bare`: the cross-bars that come from what is left.
    """
    say = fixed(words, "piles")
    listed = [
        _piles(made.piles, words, say),
        _forks(made.piles, words, say),
        _by_name(made.by_name, words, say),
        _sets(made.sets, words, say),
        sections.points(word(words, "piles.bars"), _bars(bare, words)),
    ]
    return sections.sheet("piles-and-sets", word(words, "piles.title"), above, listed)


def _bars(bare: Bars | None, words: Words) -> list[str]:
    """The cross-bars; the demonstration's has no name of its own."""
    if bare is None:
        return []
    own = word(words, "piles.own")
    named = tuple(tuple(name or own for name in names) for names in bare.whose)
    return said(words, replace(bare, whose=named).says)


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
            [word(words, f"piles.{pile.name}"), *_with_shoots(pile, words)],
            strong(words.quantity("cut_cm", pile.length_cm)),
            str(pile.count),
            str(pile.spares),
        ]
        for pile in piles
    ]
    return sections.table(
        word(words, "piles.piles"), columns, rows, says=word(words, "piles.say-piles")
    )


def _with_shoots(pile: Pile, words: Words) -> list[Cell]:
    return [quiet(word(words, "piles.with-shoots"))] if pile.with_shoots else []


def _forks(piles: Sequence[Pile], words: Words, say: dict[str, str]) -> Section:
    """Which part of a branch with side shoots goes to which pile."""
    columns = [
        ("", "auto"),
        (say["branch"], "1.3fr"),
        (say["part"], "1.6fr"),
        (say["pile"], "1fr"),
        (say["cut"], "auto"),
        (f">{say['count']}", "auto"),
    ]
    parts = [(each, pile) for pile in piles for each in pile.from_ if each.source.shoots]
    parts.sort(key=lambda pair: (pair[1].plant, _whence(pair[0].source), pair[0].end.part))
    rows: list[list[Cell]] = [
        [
            TICK,
            [plant_name(pile.plant), quiet(_whence(each.source))],
            words.say(each.says),
            [word(words, f"piles.{pile.name}"), *_with_shoots(pile, words)],
            strong(words.quantity("cut_cm", pile.length_cm)),
            str(each.count),
        ]
        for each, pile in parts
    ]
    return sections.table(
        word(words, "piles.forks"), columns, rows, says=word(words, "piles.say-forks")
    )


def _whence(source: Source) -> str:
    return source.name if isinstance(source, GardenBranch) else source.shop


def by_branch(cuts: Sequence[OneCut], words: Words, above: str = "") -> Sheet:
    """Every branch and stem, one after the other: what it is cut to, and for whom."""
    say = fixed(words, "piles")
    columns = [
        ("", "auto"),
        (say["branch"], "1.4fr"),
        (say["part"], "1.5fr"),
        (say["cut"], "auto"),
        (say["to"], "1.8fr"),
    ]
    rows: list[list[Cell]] = []
    for cut in cuts:
        use = cut.use
        place = word(words, "piles.number", place=_whence(use.from_) or "–", number=str(use.branch))
        wanted = use.wanted
        whose: Cell = say["spare-one"]
        if wanted.purpose != "spare":
            title = Saying(f"material.set.{wanted.purpose}", who=wanted.who)
            whose = [words.say(title), words.say(stem_name(wanted.stem))]
        rows.append(
            [
                TICK,
                [plant_name(use.plant), quiet(place)],
                words.say(cut.part),
                strong(words.quantity("cut_cm", cut.cut_to_cm)),
                whose,
            ]
        )
    table = sections.table("", columns, rows, says=word(words, "piles.say-by-branch"))
    return sections.sheet("branch-by-branch", word(words, "piles.by-branch"), above, [table])


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
