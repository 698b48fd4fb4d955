"""Cutting as piles, and which pile gives which stem; branch by branch where that is better.

Model: all stems of a plant are cut to at most three lengths and laid on piles; everybody takes
theirs from a pile and cuts once more, to their own length, under water. A pile is as long as the
longest stem wanted from it. There are as few piles as possible with nobody cutting off more than
`MOST_OFF_CM`, else three with the least cut off together. Where the branches are too few or too
short to give whole piles, that plant is cut branch by branch, each for its owner.
Source: sorting into long, middle and short: common practice. The longest piece comes first from
the shortest branch that gives it (see `ends.given_out`).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from nejime.basis.sayings import Saying
from nejime.material.buying import Buying, Use
from nejime.material.ends import End, Source, given_out, suffice
from nejime.material.shortage import whose
from nejime.material.supply import GardenBranch
from nejime.material.wanted import Purpose
from nejime.plants.table import plant

MOST_PILES = 3  # [practice] long, middle, short
MOST_OFF_CM = 10.0  # [own] a hand's breadth: what a beginner cuts off without thinking

PileName = Literal["only", "long", "middle", "short"]
NAMES: dict[int, tuple[PileName, ...]] = {  # [own]
    1: ("only",),
    2: ("long", "short"),
    3: ("long", "middle", "short"),
}


@dataclass(frozen=True, slots=True)
class From:
    """So many ends that are equal."""

    end: End
    count: int

    @property
    def source(self) -> Source:
        """Where they come from."""
        return self.end.source

    @property
    def says(self) -> Saying:
        """Which part of a branch they are, in words: "the side shoot at 45 cm"."""
        return part_says(self.end)


def part_says(end: End) -> Saying:
    """Which part of its branch an end is, in words."""
    if not end.source.shoots:
        return Saying("material.part.whole")
    shoots = sorted(end.source.shoots, key=lambda shoot: shoot.at_cm)
    if end.part == 0:
        if end.natural or end.length_cm == end.source.length_cm:
            return Saying("material.part.branch")
        return Saying("material.part.above", at_cm=end.source.length_cm - end.length_cm)
    shoot = shoots[end.part - 1]
    with_wood = end.length_cm > shoot.length_cm
    key = "material.part.shoot-and-wood" if with_wood else "material.part.shoot"
    return Saying(key, at_cm=shoot.at_cm)


@dataclass(frozen=True, slots=True)
class Pile:
    """`count` stems of a plant, all cut to `length_cm`; `spares` of them are nobody's.

    `from_` says what they are cut from. `with_shoots`: they keep their side shoots, and lie apart
    from those of the plant that need not.
    """

    plant: str
    name: PileName
    length_cm: float
    count: int
    spares: int
    from_: tuple[From, ...]
    with_shoots: bool = False

    @property
    def says(self) -> Saying:
        """The pile in words: "long Forsythia"."""
        said = Saying(f"material.pile.{self.name}", plant=plant(self.plant).english)
        return Saying("material.pile.with-shoots", pile=said) if self.with_shoots else said


@dataclass(frozen=True, slots=True)
class OneCut:
    """One branch cut for one stem: what it is cut from, to what length, for whom."""

    use: Use

    @property
    def cut_to_cm(self) -> float:
        """The length to cut it to."""
        return self.use.cut_to_cm

    @property
    def says(self) -> Saying:
        """What is taken, in words: "Forsythia cut to 54 cm"."""
        english = plant(self.use.plant).english
        return Saying("material.pile.cut", plant=english, cut_cm=self.cut_to_cm)

    @property
    def part(self) -> Saying:
        """Which part of its branch it is."""
        return part_says(self.use.end)


@dataclass(frozen=True, slots=True)
class Take:
    """What one set takes from one pile, and for which stems."""

    pile: Pile
    stems: tuple[str, ...]

    @property
    def count(self) -> int:
        """How many."""
        return len(self.stems)

    @property
    def says(self) -> Saying:
        """What is taken, in words: "3 short Tulip"."""
        return Saying("material.pile.take", count=self.count, pile=self.pile.says)


@dataclass(frozen=True, slots=True)
class OneSet:
    """One person's material: what it takes from the piles, and what is cut for it by name.

    `who` is empty for the demonstration, the second set for the film and the display.
    """

    who: str
    purpose: Purpose
    takes: tuple[Take, ...]
    cuts: tuple[OneCut, ...]
    assumed: bool

    @property
    def title(self) -> Saying:
        """Whose set it is."""
        return Saying(f"material.set.{self.purpose}", who=whose(self.who, self.assumed))

    @property
    def says(self) -> Saying:
        """The set in words: "Ada: 1 long Forsythia, 1 middle Forsythia and 3 short Tulip"."""
        what = (*(take.says for take in self.takes), *(cut.says for cut in self.cuts))
        return Saying("material.set.holds", title=self.title, what=what)


@dataclass(frozen=True, slots=True)
class Piles:
    """How to cut: the piles, the longest first in each plant, and what is cut by name instead."""

    piles: tuple[Pile, ...]
    by_name: tuple[OneCut, ...]
    sets: tuple[OneSet, ...]

    def of(self, plant: str) -> tuple[Pile, ...]:
        """The piles of a plant, the longest first."""
        return tuple(pile for pile in self.piles if pile.plant == plant)


def piles(bought: Buying, by_name: Collection[str] = ()) -> Piles:
    """Everything that is bought and cut, as piles and sets.

    `by_name`: plants that are cut for their owners at once, such as those that must be treated
    again after every cut. So are stems of which the thickness matters.
    """
    found: dict[int, Pile] = {}
    uses = bought.uses
    alike: dict[object, list[int]] = {}
    for number, use in enumerate(uses):
        if use.plant not in by_name and not use.wanted.has_window:
            alike.setdefault(_alike(use, uses), []).append(number)
    for own in alike.values():
        found |= _of_plant(uses[own[0]].plant, own, uses)
    cut = [use for number, use in enumerate(uses) if number not in found]
    return Piles(
        piles=tuple(dict.fromkeys(sorted(found.values(), key=_plant_then_length))),
        by_name=tuple(OneCut(use) for use in sorted(cut, key=_source_then_length)),
        sets=_sets(uses, found),
    )


def branch_by_branch(bought: Buying) -> tuple[OneCut, ...]:
    """Every branch with what it is cut to and for whom, source by source, the longest first."""
    return tuple(OneCut(use) for use in sorted(bought.uses, key=_source_then_length))


def _plant_then_length(pile: Pile) -> tuple[str, float]:
    return pile.plant, -pile.length_cm


def _source_then_length(use: Use) -> tuple[str, str, int, float]:
    where = use.from_.name if isinstance(use.from_, GardenBranch) else use.from_.shop
    return use.plant, where, use.branch if use.from_.shoots else 0, -use.cut_to_cm


def _alike(use: Use, uses: Sequence[Use]) -> object:
    """Stems of a plant that may lie on the same piles, and change their ends with each other."""
    apart = use.wanted.with_shoots and any(
        not other.end.natural for other in uses if other.plant == use.plant
    )
    return use.plant, apart


def _of_plant(name: str, numbers: Sequence[int], uses: Sequence[Use]) -> dict[int, Pile]:
    """The pile of each use of a plant; empty where no whole piles can be cut."""
    ordered = sorted(numbers, key=lambda number: -uses[number].cut_to_cm)
    needs_cm = [uses[number].cut_to_cm for number in ordered]
    ends = [uses[number].end for number in ordered]
    starts = _starts(needs_cm, ends)
    if starts is None:
        return {}
    lengths_cm = _pile_lengths_cm(needs_cm, starts)
    given = given_out(lengths_cm, ends)
    apart = uses[numbers[0]].wanted.with_shoots and bool(uses[numbers[0]].from_.shoots)
    found: dict[int, Pile] = {}
    spans = _spans(starts, len(ordered))
    for pile_name, (start, stop) in zip(NAMES[len(starts)], spans, strict=True):
        members = ordered[start:stop]
        spares = sum(uses[number].wanted.purpose == "spare" for number in members)
        from_ = tuple(From(end, count) for end, count in Counter(given[start:stop]).items())
        pile = Pile(name, pile_name, lengths_cm[start], len(members), spares, from_, apart)
        found |= dict.fromkeys(members, pile)
    return found


def _starts(needs_cm: Sequence[float], ends: Sequence[End]) -> tuple[int, ...] | None:
    """Where each pile begins among needs that fall in length; None where no piles can be cut."""
    falls = [at for at in range(1, len(needs_cm)) if needs_cm[at] < needs_cm[at - 1]]
    best = None
    for more in range(min(MOST_PILES, len(falls) + 1)):
        starts = ((0, *others) for others in combinations(falls, more))
        least_first = sorted((_off_cm(needs_cm, each), each) for each in starts)
        found = next(
            (each for each in least_first if suffice(_pile_lengths_cm(needs_cm, each[1]), ends)),
            None,
        )
        if found is not None:
            (_, most_off_cm), best = found
            if most_off_cm <= MOST_OFF_CM:
                break
    return best


def _spans(starts: Sequence[int], count: int) -> Iterator[tuple[int, int]]:
    return zip(starts, (*starts[1:], count), strict=True)


def _pile_lengths_cm(needs_cm: Sequence[float], starts: Sequence[int]) -> list[float]:
    """The length that each need's pile is cut to: that of the longest need in it."""
    spans = _spans(starts, len(needs_cm))
    return [needs_cm[start] for start, stop in spans for _ in range(start, stop)]


def _off_cm(needs_cm: Sequence[float], starts: Sequence[int]) -> tuple[float, float]:
    """What is cut off again: in all (the needs themselves apart), and the most from one stem."""
    spans = list(_spans(starts, len(needs_cm)))
    return (
        sum((stop - start) * needs_cm[start] for start, stop in spans),
        max(needs_cm[start] - needs_cm[stop - 1] for start, stop in spans),
    )


def _sets(uses: Sequence[Use], found: dict[int, Pile]) -> tuple[OneSet, ...]:
    """One set a piece, in the order of the stems wanted; spares are in no set."""
    members: dict[tuple[Purpose, str], list[int]] = {}
    for number, use in enumerate(uses):
        if use.wanted.purpose != "spare":
            members.setdefault((use.wanted.purpose, use.wanted.who), []).append(number)
    return tuple(
        OneSet(
            who=who,
            purpose=purpose,
            takes=_takes(numbers, uses, found),
            cuts=tuple(OneCut(uses[number]) for number in numbers if number not in found),
            assumed=any(uses[number].wanted.assumed for number in numbers),
        )
        for (purpose, who), numbers in members.items()
    )


def _takes(numbers: Iterable[int], uses: Sequence[Use], found: dict[int, Pile]) -> tuple[Take, ...]:
    """What is taken, the plants in the order of the stems, the longest pile of each first."""
    taken: dict[Pile, list[str]] = {}
    for number in numbers:
        if number in found:
            taken.setdefault(found[number], []).append(uses[number].wanted.stem)
    plants = [pile.plant for pile in taken]
    order = sorted(taken, key=lambda pile: (plants.index(pile.plant), -pile.length_cm))
    return tuple(Take(pile, tuple(taken[pile])) for pile in order)
