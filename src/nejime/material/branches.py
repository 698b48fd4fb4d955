"""A branch as it is: the ways to cut it, and the ends that each way gives.

Model: a branch is a line with side shoots. It is cut in one of two manners. *Natural*: its upper
part stays as it grew; only side shoots on its lowest third, or on what is cut off below, are taken
as stems of their own. *Stripped*: at each side shoot either the branch or the shoot keeps the wood
below, and what loses it is cut off there; so a fork gives two stems in two ways. What falls short
of a useful length is not counted, and a way that another one beats end for end is dropped.
Shapes: a way to cut is a tuple of ends, its first the one that reaches the cut end of the branch.
Source: one end, one stem: common practice. The shares and limits below are our own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations

from nejime.material.ends import End, Source
from nejime.material.supply import Shoot

Way = tuple[End, ...]

KEPT_SHARE = 2 / 3  # [own] the upper part of a stem on which side shoots stay
LEAST_END_CM = 8.0  # [own] what is shorter is thrown away
MOST_FORKS = 8  # [own] of more side shoots only the longest are thought of as keeping wood


def ways(source: Source) -> tuple[Way, ...]:
    """The ways to cut one branch or stem of a source; the whole one, uncut, first."""
    whole: Way = (End(source, source.length_cm),)
    found = [whole, *_natural(source), *(way for way in _stripped(source) if way)]
    return tuple(_undominated(found))


def _natural(source: Source) -> Iterator[Way]:
    """The lowest shoots taken, one after the other: the main stem may keep none of them."""
    taken: list[End] = []
    for part, shoot in _shoots(source):
        least_cm = source.length_cm - shoot.at_cm  # from the end down to this shoot
        main_cm = min(source.length_cm, least_cm / KEPT_SHARE)
        if shoot.length_cm >= LEAST_END_CM:
            taken.append(End(source, shoot.length_cm, part, natural=False))
        if taken:
            yield (End(source, main_cm), *taken)


def _stripped(source: Source) -> Iterator[Way]:
    """Every choice of the shoots that keep the wood below them."""
    every = list(_shoots(source))
    longest = sorted(every, key=lambda each: -each[1].length_cm)[:MOST_FORKS]
    forks = sorted(longest, key=lambda each: each[1].at_cm)
    for count in range(len(forks) + 1):
        for keeping in combinations(forks, count):
            yield tuple(_ends(source, every, keeping))


def _ends(
    source: Source, every: Iterable[tuple[int, Shoot]], keeping: tuple[tuple[int, Shoot], ...]
) -> Iterator[End]:
    """The ends where each shoot in `keeping` (from the cut end upwards) has the wood below it."""
    down_to = {part: below for (part, _), below in zip(keeping, _below(keeping), strict=True)}
    lengths = {0: source.length_cm - (keeping[-1][1].at_cm if keeping else 0.0)}
    for part, shoot in every:
        lengths[part] = shoot.length_cm + shoot.at_cm - down_to.get(part, shoot.at_cm)
    first = keeping[0][0] if keeping else 0
    order = sorted(lengths, key=lambda part: (part != first, part))
    for part in order:
        if lengths[part] >= LEAST_END_CM:
            yield End(source, lengths[part], part, natural=False)


def _below(keeping: tuple[tuple[int, Shoot], ...]) -> list[float]:
    """How far down each of these shoots keeps the wood: to the next of them, or to the cut end."""
    return [0.0, *(shoot.at_cm for _, shoot in keeping[:-1])][: len(keeping)]


def _shoots(source: Source) -> Iterator[tuple[int, Shoot]]:
    """The side shoots with their numbers, from the cut end upwards."""
    return enumerate(sorted(source.shoots, key=lambda shoot: shoot.at_cm), start=1)


def _undominated(found: Iterable[Way]) -> list[Way]:
    kept: list[Way] = []
    for way in found:
        if not any(_beats(other, way) for other in kept):
            kept = [other for other in kept if not _beats(way, other)]
            kept.append(way)
    return kept


def _beats(one: Way, other: Way) -> bool:
    """Whether a way gives for every end of another one at least as good a one."""
    return all(
        len(mine := _lengths(one, natural)) >= len(theirs := _lengths(other, natural))
        and all(a >= b for a, b in zip(mine, theirs, strict=False))
        for natural in (True, False)
    )


def _lengths(way: Way, natural: bool) -> list[float]:
    """The lengths of the natural ends alone, or of all, the longest first."""
    return sorted((end.length_cm for end in way if end.natural or not natural), reverse=True)
