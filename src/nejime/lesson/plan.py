"""The whole plan of a class: everything that the papers say, computed from what was written down.

Model: one way through. Pieces for every vessel; stems wanted; what to buy and cut; what each stem
is made of; whether it stands and what helps; piles and sets; tasks before; the order, the kit, the
room, the money and the cautions of the class. `today` is an argument: there is no clock here.
"""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from nejime.basis.sayings import Saying
from nejime.forms.holder import Holder
from nejime.forms.rules import MAIN, Rule
from nejime.forms.shortfall import WayOut, too_short, ways_out
from nejime.forms.stems import Piece
from nejime.forms.vessel import Vessel
from nejime.keeping.carrying import Carrying
from nejime.keeping.display import DisplayCard, display
from nejime.keeping.mixing import mixing, stood_alone_min
from nejime.keeping.preparing import Task, too_late
from nejime.lesson.bars import Bars, bars
from nejime.lesson.bodies import bodies, wish_of
from nejime.lesson.cautions import ClassCautions, PersonCautions, cautions
from nejime.lesson.going import Going
from nejime.lesson.kit import Kit, kit
from nejime.lesson.lesson import Lesson
from nejime.lesson.money import PerHead, per_head
from nejime.lesson.order import Order, order
from nejime.lesson.pieces import Seat, demonstration, seats
from nejime.lesson.room import RoomPlan, room_plan
from nejime.lesson.supplying import Supplying, supplying
from nejime.material.buying import Buying
from nejime.material.piles import Piles
from nejime.material.shopping import Shopping
from nejime.material.shortage import Shortage
from nejime.material.supply import Bunch, GardenBranch
from nejime.material.wanted import RECUT_CM
from nejime.plants.plant import Plant
from nejime.plants.table import plant
from nejime.standing.masses import Body
from nejime.standing.remedies import Remedy, remedies
from nejime.standing.verdict import Verdict, judge

Progress = Callable[[int, int], None]
"""Told how many people are done, and of how many."""


@dataclass(frozen=True, slots=True)
class Made:
    """A piece with what its stems are made of, whether it stands, and what helps if it does not.

    `plants` and `bodies` are by stem id; `missing` are stems for which there is nothing to be had:
    they are drawn and judged as if they were of the plant wished for.
    """

    piece: Piece
    plants: Mapping[str, str]
    bodies: Mapping[str, Body]
    verdict: Verdict
    remedies: tuple[Remedy, ...]
    missing: frozenset[str] = frozenset()

    @property
    def had(self) -> frozenset[str]:
        """The plants that the piece really gets, by id."""
        return frozenset(name for stem, name in self.plants.items() if stem not in self.missing)


@dataclass(frozen=True, slots=True)
class PersonPlan:
    """One person's plan; `made` is None while nobody knows the vessel.

    `short_of`: which of their stems cannot be had; `ways_out`: what can be done where the longest
    branch that there is falls short of a main stem.
    """

    seat: Seat
    made: Made | None
    cautions: PersonCautions
    short_of: tuple[Shortage, ...] = ()
    ways_out: tuple[WayOut, ...] = ()

    @property
    def name(self) -> str:
        """The person's name as it was written down."""
        return self.seat.name


@dataclass(frozen=True, slots=True)
class LessonPlan:
    """All that is known of a class once it is planned."""

    lesson: Lesson
    rules: Mapping[str, Rule]
    today: dt.date
    people: tuple[PersonPlan, ...]
    demonstration: Made
    plants: tuple[Plant, ...]
    bought: Buying
    piles: Piles
    shopping: Shopping
    tasks: tuple[Task, ...]
    going: Going | None
    carrying: Carrying | None
    bars: Bars | None
    order: Order
    kit: Kit
    room: RoomPlan
    money: PerHead
    cautions: ClassCautions
    display: DisplayCard | None
    warnings: tuple[Saying, ...]

    @property
    def unknown(self) -> tuple[PersonPlan, ...]:
        """Whose vessel nobody knows yet."""
        return tuple(person for person in self.people if person.made is None)


def plan_lesson(
    lesson: Lesson,
    known: Mapping[str, Rule],
    today: dt.date,
    progress: Progress | None = None,
    supplied: Supplying | None = None,
) -> LessonPlan:
    """The plan of a class. `known`: the proportions, by name. Raises `InputError`.

    `supplied` is its material where that is known already.
    """
    seated = seats(lesson, known)
    shown = demonstration(lesson, known)
    supplied = supplied or supplying(lesson, known, today)
    bought = supplied.bought
    made = _all_made(lesson, seated, bought, progress)
    own = _got(lesson, shown, _plants_of(bought, "", "demonstration"))
    plants = _plants(lesson, bought)
    careful = cautions(lesson, plants, [seat.piece for seat in seated])
    people = tuple(
        _person(lesson, seat, each, care, bought)
        for seat, each, care in zip(seated, made, careful.people, strict=True)
    )
    return LessonPlan(
        lesson=lesson,
        rules=known,
        today=today,
        people=people,
        demonstration=own,
        plants=plants,
        bought=bought,
        piles=supplied.piles,
        shopping=supplied.shopping,
        tasks=supplied.tasks,
        going=supplied.going,
        carrying=supplied.carrying,
        bars=bars([*_made_by_name(people), ("", own.piece, own.bodies)], bought),
        order=order(lesson, shown),
        kit=kit(lesson),
        room=room_plan(lesson),
        money=per_head(bought.total_minor, len(lesson.people)),
        cautions=careful,
        display=_display(lesson, own, plants) if lesson.display_days else None,
        warnings=(
            *_warnings(lesson, today, supplied.tasks),
            *_mixed(lesson, today, supplied.tasks, plants),
            *_out_of_season(lesson, bought),
        ),
    )


def _made_by_name(
    people: Iterable[PersonPlan],
) -> list[tuple[str, Piece, Mapping[str, Body]]]:
    return [(each.name, each.made.piece, each.made.bodies) for each in people if each.made]


def _person(
    lesson: Lesson, seat: Seat, made: Made | None, care: PersonCautions, bought: Buying
) -> PersonPlan:
    short = tuple(each for each in bought.short_of if each.who == seat.name and not each.mild)
    ways = [way for each in short for way in _ways_out(lesson, seat, each)]
    return PersonPlan(seat, made, care, short, tuple(ways))


def _ways_out(lesson: Lesson, seat: Seat, short: Shortage) -> tuple[WayOut, ...]:
    """What can be done with the longest branch that there is, where it is too short."""
    if seat.piece is None or short.stem not in MAIN:
        return ()
    sources: list[Bunch | GardenBranch] = [*lesson.garden]
    sources += [bunch for shop in lesson.shops for bunch in shop.bunches]
    usable = [each.length_cm for each in sources if each.plant in short.plants]
    have_cm = max(usable, default=0.0) - RECUT_CM
    if have_cm <= 0 or not too_short(seat.piece, short.stem, have_cm):
        return ()
    to_lend = [(vessel, None) for vessel in _free_to_lend(lesson)]
    return ways_out(seat.piece, short.stem, have_cm, to_lend)


def _free_to_lend(lesson: Lesson) -> tuple[Vessel, ...]:
    """The vessels of ours that nobody has yet."""
    out = Counter(person.vessel for person in lesson.people if person.lent)
    return tuple(vessel for vessel, count in lesson.lend.vessels if count > out[vessel])


def _plants_of(bought: Buying, who: str, purpose: str) -> dict[str, str]:
    """The plant that each stem of a piece really gets, by stem id."""
    return {
        use.wanted.stem: use.plant
        for use in bought.uses
        if use.wanted.who == who and use.wanted.purpose == purpose
    }


def _all_made(
    lesson: Lesson, seated: tuple[Seat, ...], bought: Buying, progress: Progress | None
) -> list[Made | None]:
    """Everybody's piece judged; equal pieces of equal material only once."""
    known: dict[object, Made] = {}
    found: list[Made | None] = []
    for number, seat in enumerate(seated, start=1):
        if seat.piece is None:
            found.append(None)
        else:
            used = _plants_of(bought, seat.name, "person")
            key = (_alike(seat.piece), tuple(sorted(used.items())))
            if key not in known:
                known[key] = _got(lesson, seat.piece, used)
            found.append(replace(known[key], piece=seat.piece))
        if progress is not None:
            progress(number, len(seated))
    return found


def _alike(planned: Piece) -> object:
    """What pieces have in common that stand alike: all but the vessel's name."""
    unnamed = replace(planned.vessel, name="")
    return unnamed, planned.holder, planned.rule.name, planned.form.name, planned.stems


def _got(lesson: Lesson, planned: Piece, used: Mapping[str, str]) -> Made:
    """A piece judged with the plants that its stems get, and which stems get none."""
    made = judged(lesson, planned, used)
    if not lesson.shops and not lesson.garden:  # nothing was looked for yet
        return made
    return replace(made, missing=frozenset(made.plants) - frozenset(used))


def judged(lesson: Lesson, planned: Piece, used: Mapping[str, str]) -> Made:
    """A piece with its material, judged; `used`: plants of stems that are not the wished ones."""
    told = bodies(lesson, planned, used)
    verdict = judge(planned, told)
    helps: tuple[Remedy, ...] = ()
    if verdict.word != "stands":
        helps = remedies(planned, told, at_hand=_at_hand(lesson), verdict=verdict)
    wished = {stem: wish.plant for stem, wish in wish_of(lesson, planned).items()}
    return Made(planned, wished | dict(used), told, verdict, helps)


def _at_hand(lesson: Lesson) -> tuple[Vessel | Holder, ...]:
    vessels = [each for each, _ in lesson.lend.vessels]
    return (*vessels, *(each for each, _ in lesson.lend.holders))


def _plants(lesson: Lesson, bought: Buying) -> tuple[Plant, ...]:
    """Every plant that is used, and those wished for but not to be had, in the order of wishes."""
    used = {use.plant for use in bought.uses}
    wished = [name for wish in lesson.wishes for name in wish.choices]
    order = [name for name in wished if name in used]
    order += [wish.plant for wish in lesson.wishes]
    return tuple(lesson.plant(name) for name in dict.fromkeys(order))


def _display(lesson: Lesson, own: Made, plants: tuple[Plant, ...]) -> DisplayCard:
    """The card of the demonstration: of the class's plants those that are in it."""
    shown = own.piece
    return display(
        [each for each in plants if each.id in own.had],
        lesson.starts.date(),
        lesson.display_days,
        below_rim_cm=shown.vessel.inside_cm - shown.water_cm,
        on_pins=shown.holder is not None,
        contact=lesson.contact,
        poison_line=lesson.poison_line,
    )


def _warnings(lesson: Lesson, today: dt.date, tasks: tuple[Task, ...]) -> tuple[Saying, ...]:
    """What is no fault but should be known before anything is bought."""
    if lesson.starts.date() < today:
        return (Saying("plan.in-the-past", day=lesson.starts.date().isoformat()),)
    now = dt.datetime.combine(today, dt.time(0), lesson.starts.tzinfo)
    late = too_late(tasks, now)
    return (Saying("plan.too-late", tasks=tuple(task.says for task in late)),) if late else ()


def _mixed(
    lesson: Lesson, today: dt.date, tasks: tuple[Task, ...], plants: tuple[Plant, ...]
) -> tuple[Saying, ...]:
    """Narcissus for which there is no time to stand alone before it comes to the others."""
    if lesson.starts.date() < today:
        return ()
    now = dt.datetime.combine(today, dt.time(0), lesson.starts.tzinfo)
    stood = stood_alone_min(tasks, now)
    return mixing([each for each in plants if each.id in stood], stood)


def _out_of_season(lesson: Lesson, bought: Buying) -> tuple[Saying, ...]:
    """Plants that gardens or shops do not usually have in the month of the class, where known."""
    month = (lesson.starts.month + (6 if lesson.southern else 0) - 1) % 12 + 1
    cut = dict.fromkeys(each.branch.plant for each in bought.from_garden)
    sold = dict.fromkeys(each.bunch.plant for each in bought.buys)
    gardens = [name for name in cut if lesson.plant(name).in_garden(month) is False]
    shops = [name for name in sold if lesson.plant(name).on_market(lesson.starts.month) is False]
    asked = (("plan.not-in-garden", gardens), ("plan.not-in-shops", shops))
    return tuple(
        Saying(key, plants=tuple(plant(name).english for name in names), count=len(names))
        for key, names in asked
        if names
    )
