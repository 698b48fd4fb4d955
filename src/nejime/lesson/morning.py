"""The morning of a class: what is really there, who is ill, and what that changes for whom.

Model: the piles of the plan are counted again. What is there is handed out anew (`material.again`)
to those who come, in the vessels that they have now; and the new is laid beside the plan.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from nejime.basis.sayings import Saying
from nejime.forms.rules import Rule
from nejime.forms.stems import stem_name
from nejime.lesson.lesson import Lesson
from nejime.lesson.pieces import demonstration, seats
from nejime.lesson.supplying import Supplying, following, stems_of
from nejime.material.again import again
from nejime.material.buying import Use
from nejime.material.supply import GardenBranch
from nejime.material.wanted import Purpose, StemWanted
from nejime.plants.table import plant

Key = tuple[Purpose, str, str]
SAME_CM = 0.5  # [own] a handout with a smaller difference stays true


@dataclass(frozen=True, slots=True)
class Stock:
    """One pile of the plan, or stems cut for their owners, or left over: to be counted again."""

    says: Saying
    plant: str
    length_cm: float
    planned: int


@dataclass(frozen=True, slots=True)
class Changed:
    """What changes for one person or for the demonstration; `missing` where a stem cannot be had.

    `reprint`: their handout is not true any more.
    """

    who: str
    purpose: Purpose
    says: tuple[Saying, ...]
    missing: bool
    reprint: bool


def stock(planned: Supplying) -> tuple[Stock, ...]:
    """Everything that the plan has on its piles, in the order of the piles."""
    found = [
        Stock(pile.says, pile.plant, pile.length_cm, pile.count) for pile in planned.piles.piles
    ]
    by_name: dict[tuple[str, float], int] = {}
    for cut in planned.piles.by_name:
        key = cut.use.plant, cut.cut_to_cm
        by_name[key] = by_name.get(key, 0) + 1
    found += [
        Stock(Saying("material.pile.named", plant=plant(name).english), name, length_cm, count)
        for (name, length_cm), count in by_name.items()
    ]
    found += [
        Stock(
            Saying("material.pile.left", plant=plant(each.bunch.plant).english),
            each.bunch.plant,
            each.bunch.length_cm,
            each.count,
        )
        for each in planned.bought.left_over
    ]
    return tuple(found)


def on_the_morning(
    lesson: Lesson,
    known: Mapping[str, Rule],
    planned: Supplying,
    there: Sequence[GardenBranch],
    today: dt.date,
    ill: Collection[str] = (),
) -> tuple[Lesson, Supplying]:
    """The class as it is this morning, and its material.

    `there` begins with the piles of `stock(planned)`, with the counts and lengths of now; anything
    else that is at hand comes after them. Raises `InputError`.
    """
    coming = tuple(person for person in lesson.people if person.name not in ill)
    now = replace(
        lesson,
        people=coming,
        shops=(),
        garden=tuple(there),
        spare_percent=None,
        sure_percent=0,
        split_shops=False,
    )
    wanted = stems_of(now, seats(now, known), demonstration(now, known))
    places = _places(planned)

    def place(each: StemWanted) -> int | None:
        return places.get((each.purpose, each.who, each.stem))

    # Every pile has a name of its own, so that equal ones stay two.
    named = [replace(each, name=str(number)) for number, each in enumerate(there, start=1)]
    return now, following(now, wanted, again(wanted, named, place), today)


def _places(planned: Supplying) -> dict[Key, int]:
    """The pile, by its place in `stock`, from which each stem of the plan is taken."""
    piles = planned.piles.piles
    found: dict[Key, int] = {}
    for one in planned.piles.sets:
        for take in one.takes:
            for stem in take.stems:
                found[one.purpose, one.who, stem] = piles.index(take.pile)
    keys = dict.fromkeys((cut.use.plant, cut.cut_to_cm) for cut in planned.piles.by_name)
    rows = {key: len(piles) + number for number, key in enumerate(keys)}
    for cut in planned.piles.by_name:
        wanted = cut.use.wanted
        found[wanted.purpose, wanted.who, wanted.stem] = rows[cut.use.plant, cut.cut_to_cm]
    return found


def changed(planned: Supplying, now: Supplying, rows: Sequence[Stock]) -> tuple[Changed, ...]:
    """What the morning changes, piece by piece. `rows`: what is there, in its order."""
    before = {_key(use.wanted): use for use in planned.bought.uses}
    after = {_key(use.wanted): use for use in now.bought.uses}
    aims_cm = {_key(each): each.aim_cm for each in planned.wanted}
    places = _places(planned)
    found = []
    for piece in dict.fromkeys((each.purpose, each.who) for each in now.wanted):
        own = [each for each in now.wanted if (each.purpose, each.who) == piece]
        short = [each.says for each in now.bought.short_of if (each.purpose, each.who) == piece]
        says, differs = [], bool(short)
        for each in own:
            key, use = _key(each), after.get(_key(each))
            if use is not None and _row(use) != places.get(key):
                says.append(_said(each, rows[_row(use)], before.get(key)))
            same_plant = use is not None and key in before and before[key].plant == use.plant
            same_length = key in aims_cm and abs(aims_cm[key] - each.aim_cm) < SAME_CM
            differs |= not (same_plant and same_length)
        if says or differs:
            purpose, who = piece
            found.append(Changed(who, purpose, (*short, *says), bool(short), differs))
    return tuple(found)


def _row(use: Use) -> int:
    """The place, in what is there, from which a stem comes."""
    return int(use.from_.name) - 1 if isinstance(use.from_, GardenBranch) else -1


def _said(wanted: StemWanted, row: Stock, old: Use | None) -> Saying:
    what = {"stem": stem_name(wanted.stem), "pile": row.says}
    if old is None:
        return Saying("material.morning.new", **what)
    if old.plant == row.plant:
        return Saying("material.morning.other-pile", **what)
    return Saying("material.morning.instead", **what, plant=plant(old.plant).english)


def _key(wanted: StemWanted) -> Key:
    return wanted.purpose, wanted.who, wanted.stem


def gone(planned: Supplying, now: Supplying) -> Iterator[str]:
    """Who was planned for and does not come."""
    here = {each.who for each in now.wanted}
    for who in dict.fromkeys(e.who for e in planned.wanted if e.purpose == "person"):
        if who not in here:
            yield who
