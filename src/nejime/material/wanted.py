"""Stems wanted: what every person, the demonstration, the display and the spares ask for.

Model: each stem of a piece wants one end of a plant, because a piece keeps its natural end (bud,
flower, leaf): one end gives at most one stem, however long it is, and a flower as bought has one
head. The length wanted is what the shears need plus what the cuts after it take away.
Source: one end, one stem: common practice. Tolerance of lengths: `forms.rules`.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from nejime.forms.stems import Piece, Stem
from nejime.forms.supporting import MOST, with_supporting
from nejime.material.supply import FAILS_PERCENT, HOWS, MaterialRole, Wish

ONE_CUT_CM = 2.5  # [own] an inch: the middle of what a cut under water takes off
RECUT_CM = 2 * ONE_CUT_CM  # [own] the cut when it is prepared, and the cut in class
RECUT_AGAIN_CM = RECUT_CM + ONE_CUT_CM  # [own] where a stem is treated and cut once more

Purpose = Literal["person", "demonstration", "filming", "display", "spare"]
PURPOSES: tuple[Purpose, ...] = ("person", "demonstration", "filming", "display", "spare")
Gladly = Literal["wished", "as good", "will do", "only if nothing else"]
GLADLY: tuple[Gladly, ...] = ("wished", *HOWS)


@dataclass(frozen=True, slots=True)
class Choice:
    """A plant that may be used for a stem, and how gladly."""

    plant: str
    gladly: Gladly

    @property
    def level(self) -> int:
        """0 for what is wished or as good, 1 for what will do, 2 for only if nothing else."""
        return max(0, GLADLY.index(self.gladly) - 1)


@dataclass(frozen=True, slots=True)
class StemWanted:
    """`count` ends wanted for one stem of one piece.

    `who` is a person's name, empty where `purpose` is not a person. `choices` are the plants that
    may be used, the best first. `least_cm`, `aim_cm` and `most_cm` are lengths of material as it is
    bought or cut and laid on its pile, `RECUT_CM` included; a longer end serves too, it is cut
    down. `assumed` marks a person whose vessel is not known yet. Of side shoots, thickness and what
    fails: see `Wish`.
    """

    who: str
    purpose: Purpose
    stem: str
    role: MaterialRole
    choices: tuple[Choice, ...]
    least_cm: float
    aim_cm: float
    most_cm: float
    thickness_mm: float | None = None
    count: int = 1
    assumed: bool = False
    with_shoots: bool = False
    thinnest_mm: float | None = None
    thickest_mm: float | None = None
    fails_percent: float = FAILS_PERCENT

    @property
    def has_window(self) -> bool:
        """Whether its thickness where it is cut is bounded."""
        return self.thinnest_mm is not None or self.thickest_mm is not None

    @property
    def plants(self) -> tuple[str, ...]:
        """The plants that may be used, the best first."""
        return tuple(choice.plant for choice in self.choices)

    @property
    def wished(self) -> str:
        """The plant that was wished for."""
        return self.choices[0].plant

    def level(self, plant: str) -> int:
        """How gladly a plant is taken (see `Choice.level`). Raises `ValueError` for another."""
        return self.choices[self.plants.index(plant)].level


def choices(wish: Wish) -> tuple[Choice, ...]:
    """The plants that may be used for a wish, the best first, each once."""
    rest = sorted(wish.stand_ins, key=lambda each: HOWS.index(each.how))
    found = {wish.plant: Choice(wish.plant, "wished")}
    for each in rest:
        found.setdefault(each.plant, Choice(each.plant, each.how))
    return tuple(found.values())


def stems_wanted(
    pieces: Sequence[tuple[str, Piece]],
    wishes: Sequence[Wish],
    *,
    assumed: Collection[str] = (),
    demonstration: Piece | None = None,
    demonstrations: int = 1,
    replaced: Mapping[str, int] | None = None,
    spare_percent: int = 0,
    treated_again: Collection[str] = (),
) -> tuple[StemWanted, ...]:
    """Every stem that a class wants, people first, in the order in which they are served.

    `pieces`: each person's name and piece; for a person whose vessel is not known, the piece in a
    usual vessel, with the name in `assumed`. `demonstrations`: how many times the teacher makes
    the piece `demonstration`, the second time for the film. `replaced`: how many times each stem
    of a plant is replaced in the one piece that stays on display; see `replacements`.
    `treated_again`: plants that are treated after every cut, which takes more of their length.
    """
    wanted = [
        replace(each, who=who, assumed=who in assumed)
        for who, piece in pieces
        for each in _of_piece(piece, wishes, treated_again)
    ]
    if demonstration is not None:
        shown = _of_piece(demonstration, wishes, treated_again)
        for number in range(demonstrations):
            purpose: Purpose = "filming" if number else "demonstration"
            wanted += [replace(each, purpose=purpose) for each in shown]
        wanted += _replacements(shown, replaced or {})
    return (*wanted, *spares(wanted, spare_percent))


def replacements(display_days: int, lasts_days: float) -> int:
    """How often a stem that lasts `lasts_days` is replaced in a piece shown for `display_days`.

    Hand calculation: 5 days of a flower that lasts 3 take 2 flowers, so 1 replacement.
    """
    return max(0, math.ceil(display_days / lasts_days) - 1)


def _of_piece(
    piece: Piece, wishes: Sequence[Wish], treated_again: Collection[str]
) -> list[StemWanted]:
    """What the wishes make of one piece. The places of a role go to its wishes in turn."""
    whole = _complete(piece, wishes)
    free = {wish.role: _places(whole, wish.role) for wish in wishes}
    found = []
    for wish in wishes:
        places = free[wish.role]
        own, free[wish.role] = places[: wish.each], places[wish.each :]
        counts = [(stem, 1) for stem in own]
        if len(own) < wish.each:
            # More stems than places: they are bought at the role's longest, and placed by eye.
            longest = max(_places(whole, wish.role), key=lambda stem: stem.cut_cm)
            counts.append((longest, wish.each - len(own)))
        found += [_stem_wanted(stem, wish, count, treated_again) for stem, count in counts]
    return found


def _complete(piece: Piece, wishes: Iterable[Wish]) -> Piece:
    """The piece with places for supporting stems that are wished for and that it lacks."""
    have = {stem.role for stem in piece.stems}
    asked = {"helper": 0, "heart": 0, "leaf": 0}
    for wish in wishes:
        if wish.role in asked and wish.role not in have:
            asked[wish.role] = min(asked[wish.role] + wish.each, MOST[wish.role])
    return with_supporting(
        piece, helpers=asked["helper"], hearts=asked["heart"], leaves=asked["leaf"]
    )


def _places(piece: Piece, role: MaterialRole) -> tuple[Stem, ...]:
    return tuple(
        stem for stem in piece.stems if role == (stem.id if stem.role == "main" else stem.role)
    )


def _stem_wanted(stem: Stem, wish: Wish, count: int, treated_again: Collection[str]) -> StemWanted:
    again = any(choice.plant in treated_again for choice in choices(wish))
    besides = stem.cut_cm - stem.length_cm + (RECUT_AGAIN_CM if again else RECUT_CM)
    return StemWanted(
        who="",
        purpose="person",
        stem=stem.id,
        role=wish.role,
        choices=choices(wish),
        least_cm=stem.length.least + besides,
        aim_cm=stem.length.aim + besides,
        most_cm=stem.length.most + besides,
        thickness_mm=wish.thickness_mm,
        count=count,
        with_shoots=wish.with_shoots,
        thinnest_mm=wish.thinnest_mm,
        thickest_mm=wish.thickest_mm,
        fails_percent=wish.fails_percent,
    )


def _replacements(shown: Iterable[StemWanted], replaced: Mapping[str, int]) -> list[StemWanted]:
    return [
        replace(each, purpose="display", count=each.count * replaced[each.wished])
        for each in shown
        if replaced.get(each.wished, 0) > 0
    ]


def spares(wanted: Sequence[StemWanted], percent: int) -> tuple[StemWanted, ...]:
    """Spares, pooled by the plant wished for, at its longest stem: a long spare can be cut down.

    `percent` of the plant's stems, rounded up where more than one piece wants the plant (so at
    least one), and down where a single piece does.
    """
    found = []
    for plant in dict.fromkeys(each.wished for each in wanted):
        family = [each for each in wanted if each.wished == plant]
        share = percent * sum(each.count for each in family)
        several = len({(each.who, each.purpose) for each in family}) > 1
        count = -(-share // 100) if several else share // 100
        if count > 0:
            longest = max(family, key=lambda each: each.aim_cm)
            found.append(replace(longest, who="", purpose="spare", count=count, assumed=False))
    return tuple(found)
