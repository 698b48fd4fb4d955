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
from nejime.keeping.carrying import Carrying, Stems, carrying
from nejime.keeping.conditioning import treatment
from nejime.keeping.display import DisplayCard, display, lasting_days
from nejime.keeping.preparing import Lot, Task, preparing, too_late
from nejime.lesson.bodies import bodies, wish_of
from nejime.lesson.cautions import ClassCautions, PersonCautions, cautions
from nejime.lesson.going import Going, going
from nejime.lesson.kit import Kit, kit
from nejime.lesson.lesson import Lesson
from nejime.lesson.money import PerHead, per_head
from nejime.lesson.order import Order, order
from nejime.lesson.pieces import Seat, demonstration, seats
from nejime.lesson.room import RoomPlan, room_plan
from nejime.material.buying import Buying, buying
from nejime.material.piles import Piles, piles
from nejime.material.shopping import Shopping, shopping
from nejime.material.shortage import Shortage
from nejime.material.supply import Bunch, GardenBranch
from nejime.material.wanted import RECUT_CM, replacements, stems_wanted
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
) -> LessonPlan:
    """The plan of a class. `known`: the proportions, by name. Raises `InputError`."""
    seated = seats(lesson, known)
    shown = demonstration(lesson, known)
    bought = _bought(lesson, seated, shown)
    cut = piles(bought, by_name=_treated_again(lesson))
    made = _all_made(lesson, seated, bought, progress)
    own = _got(lesson, shown, _plants_of(bought, "", "demonstration"))
    plants = _plants(lesson, bought)
    careful = cautions(lesson, plants, [seat.piece for seat in seated])
    people = tuple(
        _person(lesson, seat, each, care, bought)
        for seat, each, care in zip(seated, made, careful.people, strict=True)
    )
    tasks = _tasks(lesson, bought, cut)
    return LessonPlan(
        lesson=lesson,
        rules=known,
        today=today,
        people=people,
        demonstration=own,
        plants=plants,
        bought=bought,
        piles=cut,
        shopping=shopping(bought, cut),
        tasks=tasks,
        going=going(tasks, [each.shop for each in bought.by_shop], len(lesson.people), today),
        carrying=carrying(_carried(bought)),
        order=order(lesson, shown),
        kit=kit(lesson),
        room=room_plan(lesson),
        money=per_head(bought.total_minor, len(lesson.people)),
        cautions=careful,
        display=_display(lesson, own, plants) if lesson.display_days else None,
        warnings=(*_warnings(lesson, today, tasks), *_out_of_season(lesson, bought)),
    )


def tasks_before(lesson: Lesson, known: Mapping[str, Rule]) -> tuple[Task, ...]:
    """Everything to be done before a class, without planning the rest. Raises `InputError`."""
    bought = _bought(lesson, seats(lesson, known), demonstration(lesson, known))
    return _tasks(lesson, bought, piles(bought, by_name=_treated_again(lesson)))


def _tasks(lesson: Lesson, bought: Buying, cut: Piles) -> tuple[Task, ...]:
    return preparing(
        _lots(bought),
        lesson.starts,
        sets=len(lesson.people),
        wrapped=lesson.take_home,
        piled={pile.plant for pile in cut.piles},
        southern=lesson.southern,
    )


def _bought(lesson: Lesson, seated: Iterable[Seat], shown: Piece) -> Buying:
    """What to buy and cut. Who has no vessel yet is counted with the demonstration's piece."""
    seated = tuple(seated)
    wanted = stems_wanted(
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
    return buying(wanted, lesson.shops, lesson.garden, split=lesson.split_shops)


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


def _treated_again(lesson: Lesson) -> frozenset[str]:
    """Plants that must be treated after every cut: they come to their final length beforehand."""
    names = {name for wish in lesson.wishes for name in wish.choices}
    return frozenset(name for name in names if treatment(plant(name)).repeats)


def _replaced(lesson: Lesson) -> dict[str, int]:
    """How often a stem of each plant is replaced while the demonstration is on display."""
    found = {}
    for wish in lesson.wishes:
        for name in wish.choices:
            fact = lasting_days(plant(name))
            if lesson.display_days and fact is not None and fact.low:
                found[name] = replacements(lesson.display_days, fact.low)
    return found


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
    return tuple(plant(name) for name in dict.fromkeys(order))


def _lots(bought: Buying) -> tuple[Lot, ...]:
    """What comes home from each shop and from the garden, plant by plant."""
    counted: Counter[tuple[str, str, str]] = Counter()
    days = {each.shop.name: frozenset(each.shop.days) for each in bought.by_shop}
    for buy in bought.buys:
        counted[buy.bunch.plant, "shop", buy.bunch.shop] += buy.stems
    for cut in bought.from_garden:
        counted[cut.branch.plant, "garden", cut.branch.name] += cut.count
    return tuple(
        Lot(
            plant(name),
            count,
            "garden" if origin == "garden" else "shop",
            place,
            sells_on=days.get(place, frozenset()) if origin == "shop" else frozenset(),
        )
        for (name, origin, place), count in counted.items()
    )


def _carried(bought: Buying) -> tuple[Stems, ...]:
    """What goes to the class: every stem as it is cut for its pile, and what is left over."""
    counted: Counter[tuple[str, float, float | None]] = Counter()
    for use in bought.uses:
        told_mm = use.wanted.thickness_mm if use.plant == use.wanted.wished else None
        counted[use.plant, use.cut_to_cm, use.from_.thickness_mm or told_mm] += 1
    for rest in bought.left_over:
        counted[rest.bunch.plant, rest.bunch.length_cm, rest.bunch.thickness_mm] += rest.count
    return tuple(
        Stems(plant(name), count, length_cm, thickness_mm)
        for (name, length_cm, thickness_mm), count in counted.items()
    )


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


def _out_of_season(lesson: Lesson, bought: Buying) -> tuple[Saying, ...]:
    """Plants that gardens or shops do not usually have in the month of the class, where known."""
    month = (lesson.starts.month + (6 if lesson.southern else 0) - 1) % 12 + 1
    cut = dict.fromkeys(each.branch.plant for each in bought.from_garden)
    sold = dict.fromkeys(each.bunch.plant for each in bought.buys)
    gardens = [name for name in cut if plant(name).in_garden(month) is False]
    shops = [name for name in sold if plant(name).on_market(lesson.starts.month) is False]
    asked = (("plan.not-in-garden", gardens), ("plan.not-in-shops", shops))
    return tuple(
        Saying(key, plants=tuple(plant(name).english for name in names), count=len(names))
        for key, names in asked
        if names
    )
