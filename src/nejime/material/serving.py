"""Who gets which end of all that is bought and cut.

Model: stems are served in turn, people first and spares last, from ends that are there. Each is
kept to the plants taken most gladly that leave everybody served; one role of a piece gets one plant
if it can, the wished one first. Then, in each kind of end, the longest stem takes the shortest end
that fits, and as many as can be are as long as they are aimed at.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from nejime.material.ends import End, given_out, least_cut_cm, serves, suffice
from nejime.material.matching import NONE, Matching
from nejime.material.wanted import StemWanted

MOST_TURNED = 3000  # [own] with more stems than that, plants are not exchanged stem by stem


@dataclass(frozen=True, slots=True)
class Served:
    """Seekers, single stems wanted, with ends: `matching` says which kind of end each has."""

    seekers: tuple[StemWanted, ...]
    ends: tuple[End, ...]
    matching: Matching


def served(asked: Sequence[StemWanted], counts: Sequence[tuple[End, int]]) -> Served:
    """Everybody served, in turn, from so many ends of each kind."""
    ends = tuple(end for end, _ in counts)
    accepts: dict[StemWanted, tuple[int, ...]] = {}
    for each in dict.fromkeys(asked):
        accepts[each] = tuple(at for at, end in enumerate(ends) if serves(end, each))
    matching = Matching([accepts[each] for each in asked], [count for _, count in counts])
    for seeker in range(len(asked)):
        matching.serve(seeker)
    found = Served(tuple(asked), ends, matching)
    return found if len(asked) > MOST_TURNED else _one_kind(_by_level(found))


def _by_level(full: Served) -> Served:
    """As few as possible with what is taken only if nothing else is to be had, then with what
    will do: stem after stem is kept to better plants, where that leaves everybody served."""
    matching = full.matching
    for most in (1, 0):
        for seeker, each in enumerate(full.seekers):
            accepted = matching.accepts[seeker]
            better = tuple(at for at in accepted if each.level(full.ends[at].plant) <= most)
            if better != accepted:
                matching = matching.narrowed({seeker: better}) or matching
    return replace(full, matching=matching)


def _one_kind(full: Served) -> Served:
    """One plant for each role of a piece, the wished one first, where that leaves all served.

    Where no one plant can serve the whole role, its stems choose one after the other.
    """
    matching = full.matching
    roles: dict[object, list[int]] = {}
    for seeker, each in enumerate(full.seekers):
        if matching.held[seeker] != NONE and len(_plants(full, matching, seeker)) > 1:
            role = (each.who, each.purpose, each.role, each.choices)
            roles.setdefault(role, []).append(seeker)
    for members in roles.values():
        for group in (members, *([seeker] for seeker in members)):
            matching = _of_one_kind(full, matching, group) or matching
    return replace(full, matching=matching)


def _plants(full: Served, matching: Matching, seeker: int) -> frozenset[str]:
    return frozenset(full.ends[at].plant for at in matching.accepts[seeker])


def _of_one_kind(full: Served, matching: Matching, seekers: Sequence[int]) -> Matching | None:
    for plant in full.seekers[seekers[0]].plants:
        narrowed = matching.narrowed(
            {
                seeker: tuple(at for at in matching.accepts[seeker] if full.ends[at].plant == plant)
                for seeker in seekers
            }
        )
        if narrowed is not None:
            return narrowed
    return None


def handed_out(full: Served) -> dict[int, End]:
    """One end for each seeker that is served, by its number, kind of end by kind of end."""
    members: dict[object, list[int]] = defaultdict(list)
    for seeker, at in enumerate(full.matching.held):
        if at != NONE:
            members[_kind(full.ends[at])].append(seeker)
    found: dict[int, End] = {}
    for kind, seekers in members.items():
        pairs = zip(full.ends, full.matching.ends, strict=True)
        ends = [end for end, count in pairs if _kind(end) == kind for _ in range(count)]
        needs_cm = _needs_cm([full.seekers[seeker] for seeker in seekers], ends)
        found |= dict(zip(seekers, given_out(needs_cm, ends), strict=True))
    return dict(sorted(found.items()))


def _kind(end: End) -> object:
    """Ends of a kind serve alike but for their lengths."""
    return end.plant, end.natural, end.taper_mm_cm


def _needs_cm(wanted: Sequence[StemWanted], ends: Sequence[End]) -> list[float]:
    """What length each stem can have: its aim for as many as possible, else its least.

    Raised one kind of stem after the other, in the order in which they are served.
    """
    needs = [least_cut_cm(ends[0], each) or each.least_cm for each in wanted]
    alike: dict[tuple[float, float], list[int]] = defaultdict(list)
    for number, each in enumerate(wanted):
        alike[needs[number], max(needs[number], each.aim_cm)].append(number)
    for (_, aim_cm), numbers in alike.items():
        low, high = 0, len(numbers)
        while low < high:  # fewer that are raised never ask for more, so halving finds the most
            middle = (low + high + 1) // 2
            if suffice(_raised(needs, numbers[:middle], aim_cm), ends):
                low = middle
            else:
                high = middle - 1
        needs = _raised(needs, numbers[:low], aim_cm)
    return needs


def _raised(needs_cm: Sequence[float], numbers: Sequence[int], to_cm: float) -> list[float]:
    raised = list(needs_cm)
    for number in numbers:
        raised[number] = to_cm
    return raised
