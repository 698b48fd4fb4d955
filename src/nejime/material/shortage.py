"""Who is short of what, and what would mend it.

Model: a stem that gets no end although everything was bought that could be. The reason is one of
three: nobody has such a plant, none of it is long enough, or all that is long enough is taken.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from nejime.basis.sayings import Saying
from nejime.forms.stems import stem_name
from nejime.material.supply import Bunch, GardenBranch
from nejime.material.wanted import Purpose, StemWanted
from nejime.plants.table import plant


@dataclass(frozen=True, slots=True)
class Shortage:
    """`count` ends that are missing for one stem of one piece, or for the spares of a plant.

    `plants` are those that may be used, the best first; `least_cm` the length that is needed, as
    it stands in the bucket. `mild` is a spare: the class goes on without it.
    """

    who: str
    purpose: Purpose
    stem: str
    plants: tuple[str, ...]
    count: int
    least_cm: float
    says: Saying
    mend: Saying

    @property
    def mild(self) -> bool:
        """Whether it is only a spare."""
        return self.purpose == "spare"


def either(plants: Sequence[str]) -> str | Saying:
    """Plants as a choice in words: "Forsythia", "Forsythia or Plum", "Forsythia, Plum or Pine"."""
    names = [plant(each).english for each in plants]
    if len(names) == 1:
        return names[0]
    return Saying("material.either", first=", ".join(names[:-1]), last=names[-1])


def whose(who: str, assumed: bool) -> str | Saying:
    """A person in words, marked where the vessel is only assumed."""
    return Saying("material.assumed", who=who) if assumed else who


def shortage(wanted: StemWanted, sources: Sequence[Bunch | GardenBranch]) -> Shortage:
    """What is said of `wanted.count` ends that are missing. `sources` is all that could be had."""
    return _shortage(wanted, f"material.short.{wanted.purpose}", _mend(wanted, sources))


def shorter_spare(wanted: StemWanted, has: StemWanted) -> Shortage:
    """What is said where a spare `has` only the length of a shorter stem of its plant."""
    long_cm = math.floor(has.least_cm)
    mend = Saying("material.mend.shorter-spare", stem=stem_name(has.stem), long_cm=long_cm)
    return _shortage(wanted, "material.short.shorter-spare", mend)


def mending(short: Sequence[Shortage]) -> Saying | None:
    """The one purchase that would make everybody complete, if there is a plant that serves all.

    `short` may have spares in it, which are left aside. None where nobody is short, or where no
    one plant may be used for everything that is missing.
    """
    missing = [each for each in short if not each.mild]
    if not missing:
        return None
    shared = [name for name in missing[0].plants if all(name in e.plants for e in missing)]
    if not shared:
        return None
    return Saying(
        "material.mend.one-purchase",
        plants=either(shared),
        count=sum(each.count for each in missing),
        least_cm=math.ceil(max(each.least_cm for each in missing)),
    )


def _shortage(wanted: StemWanted, key: str, mend: Saying) -> Shortage:
    quantities: dict[str, object] = {
        "who": whose(wanted.who, wanted.assumed),
        "stem": stem_name(wanted.stem),
        "plants": either(wanted.plants),
        "least_cm": math.ceil(wanted.least_cm),  # never said shorter than it must be
        "count": wanted.count,
    }
    return Shortage(
        who=wanted.who,
        purpose=wanted.purpose,
        stem=wanted.stem,
        plants=wanted.plants,
        count=wanted.count,
        least_cm=wanted.least_cm,
        says=Saying(key, **quantities),
        mend=mend,
    )


def _mend(wanted: StemWanted, sources: Sequence[Bunch | GardenBranch]) -> Saying:
    usable = [each for each in sources if each.plant in wanted.plants]
    asked: dict[str, object] = {
        "plants": either(wanted.plants),
        "least_cm": math.ceil(wanted.least_cm),
        "count": wanted.count,
    }
    if not usable:
        return Saying("material.mend.none", **asked)
    longest = max(usable, key=lambda each: each.length_cm)
    if longest.length_cm < wanted.least_cm:
        has, long_cm = plant(longest.plant).english, math.floor(longest.length_cm)
        return Saying("material.mend.too-short", **asked, plant=has, longest_cm=long_cm)
    return Saying("material.mend.taken", **asked)
