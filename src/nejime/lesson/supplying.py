"""The material of a class: what is wanted, what is bought and cut, and all that follows from it.

Model: one way through. Stems wanted by every piece; what to buy and cut; piles and sets; lists for
the shops; tasks before the class; the last day on which nothing is ordered; buckets and car-loads.
"""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from nejime.forms.rules import Rule
from nejime.forms.stems import Piece
from nejime.keeping.carrying import Carrying, Stems, carrying
from nejime.keeping.conditioning import treatment
from nejime.keeping.display import lasting_days
from nejime.keeping.preparing import Lot, Task, preparing
from nejime.lesson.going import Going, going
from nejime.lesson.lesson import Lesson
from nejime.lesson.pieces import Seat, demonstration, seats
from nejime.material.buying import Buying, buying
from nejime.material.piles import Piles, piles
from nejime.material.programme import Limits
from nejime.material.shopping import Shopping, shopping
from nejime.material.solving import Progress
from nejime.material.wanted import StemWanted, replacements, stems_wanted


@dataclass(frozen=True, slots=True)
class Supplying:
    """What a class wants and how it gets it. `going` and `carrying` are None with nothing to buy,
    nothing to carry."""

    wanted: tuple[StemWanted, ...]
    bought: Buying
    piles: Piles
    shopping: Shopping
    tasks: tuple[Task, ...]
    going: Going | None
    carrying: Carrying | None


def supplying(
    lesson: Lesson,
    known: Mapping[str, Rule],
    today: dt.date,
    *,
    limits: Limits | None = None,
    progress: Progress | None = None,
) -> Supplying:
    """The material of a class. `known`: the proportions, by name. Raises `InputError`."""
    wanted = stems_of(lesson, seats(lesson, known), demonstration(lesson, known))
    bought = buying(
        wanted,
        lesson.shops,
        lesson.garden,
        split=lesson.split_shops,
        limits=limits,
        progress=progress,
    )
    return following(lesson, wanted, bought, today)


def following(
    lesson: Lesson, wanted: tuple[StemWanted, ...], bought: Buying, today: dt.date
) -> Supplying:
    """All that follows from what is bought."""
    cut = piles(bought, by_name=_treated_again(lesson))
    tasks = preparing(
        _lots(lesson, bought),
        lesson.starts,
        sets=len(lesson.people),
        wrapped=lesson.take_home,
        piled={pile.plant for pile in cut.piles},
        southern=lesson.southern,
    )
    shops = [each.shop for each in bought.by_shop]
    return Supplying(
        wanted=wanted,
        bought=bought,
        piles=cut,
        shopping=shopping(bought, cut),
        tasks=tasks,
        going=going(tasks, shops, len(lesson.people), today),
        carrying=carrying(_carried(lesson, bought)),
    )


def stems_of(lesson: Lesson, seated: Iterable[Seat], shown: Piece) -> tuple[StemWanted, ...]:
    """The stems that a class wants. Who has no vessel yet is counted with the piece `shown`."""
    seated = tuple(seated)
    return stems_wanted(
        [(seat.name, seat.piece or shown) for seat in seated],
        lesson.wishes,
        assumed={seat.name for seat in seated if seat.piece is None},
        demonstration=shown,
        demonstrations=lesson.demonstrations,
        replaced=_replaced(lesson),
        spare_percent=lesson.spare_percent,
        sure_percent=lesson.sure_percent,
        treated_again=_treated_again(lesson),
    )


def _treated_again(lesson: Lesson) -> frozenset[str]:
    """Plants that must be treated after every cut: they come to their final length beforehand."""
    names = {name for wish in lesson.wishes for name in wish.choices}
    return frozenset(name for name in names if treatment(lesson.plant(name)).repeats)


def _replaced(lesson: Lesson) -> dict[str, int]:
    """How often a stem of each plant is replaced while the demonstration is on display."""
    found = {}
    for wish in lesson.wishes:
        for name in wish.choices:
            fact = lasting_days(lesson.plant(name))
            if lesson.display_days and fact is not None and fact.low:
                found[name] = replacements(lesson.display_days, fact.low)
    return found


def _lots(lesson: Lesson, bought: Buying) -> tuple[Lot, ...]:
    """What comes home from each shop and from the garden, plant by plant."""
    budded = _in_bud(lesson)
    counted: Counter[tuple[str, str, str]] = Counter()
    days = {each.shop.name: frozenset(each.shop.days) for each in bought.by_shop}
    for buy in bought.buys:
        counted[buy.bunch.plant, "shop", buy.bunch.shop] += buy.stems
    opens: dict[tuple[str, str], dt.date] = {}
    for cut in bought.from_garden:
        if cut.branch.blooms is not None:
            opens[cut.branch.plant, cut.branch.name] = cut.branch.blooms
        counted[cut.branch.plant, "garden", cut.branch.name] += cut.count
    return tuple(
        Lot(
            lesson.plant(name),
            count,
            "garden" if origin == "garden" else "shop",
            place,
            sells_on=days.get(place, frozenset()) if origin == "shop" else frozenset(),
            in_bud=name in budded,
            bloom=opens.get((name, place)) if origin == "garden" else None,
        )
        for (name, origin, place), count in counted.items()
    )


def _in_bud(lesson: Lesson) -> frozenset[str]:
    """The plants that are wished for in bud and never open."""
    told = {flag: {w.plant for w in lesson.wishes if w.in_bud is flag} for flag in (True, False)}
    return frozenset(told[True] - told[False])


def _carried(lesson: Lesson, bought: Buying) -> tuple[Stems, ...]:
    """What goes to the class: every stem as it is cut for its pile, and what is left over."""
    counted: Counter[tuple[str, float, float | None]] = Counter()
    for use in bought.uses:
        told_mm = use.wanted.thickness_mm if use.plant == use.wanted.wished else None
        counted[use.plant, use.cut_to_cm, use.from_.thickness_mm or told_mm] += 1
    for rest in bought.left_over:
        counted[rest.bunch.plant, rest.bunch.length_cm, rest.bunch.thickness_mm] += rest.count
    return tuple(
        Stems(lesson.plant(name), count, length_cm, thickness_mm)
        for (name, length_cm, thickness_mm), count in counted.items()
    )
