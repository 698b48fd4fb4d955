"""The tasks before a class: what each is, how long it takes, and what is said of it.

Source: the minutes and times of day are our own and can be replaced (`Habits`); steps of preparing
in `data/conditioning.csv`; stages and places: `waiting`.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from nejime.basis.sayings import Saying
from nejime.keeping.clock import elapsed_min, later
from nejime.keeping.conditioning import LIMP, Step, growth_cm, treatment, treatments
from nejime.keeping.opening import openings
from nejime.keeping.vase_life import chill_c
from nejime.keeping.waiting import PlaceName, Stay, Wait, buckets_for
from nejime.plants.table import Plant

Kind = Literal["buy", "cut", "piles", "treat", "hold", "move", "check", "sets", "load", "set-up"]
Origin = Literal["shop", "garden"]

LEAST_TREAT_MIN = 10  # [own] to lay out buckets and a knife for one lot
TREAT_MIN_PER_STEM = 1.0  # [own] stripping and cutting under water
PILE_MIN_PER_STEM = 0.5  # [own] laying a stem to the tape and cutting it
CUT_MIN_PER_STEM = 2.0  # [own] choosing a branch in the garden and cutting it
SET_MIN = 1.0  # [own] counting out one person's stems
KIT_MIN = 3.0  # [own] the same, wrapped with wet ends
CHECK_MIN = 15  # [own] a look at every bucket
RESCUE_MIN = 60  # [practice] the shortest time in which a limp stem may come back
EARLIEST = dt.time(6)  # [own] nobody looks at buckets before
STEP_MIN = 5  # [own] work is planned in steps of five minutes
WEEKDAYS = frozenset(range(7))  # [memory] Monday as 0, as the calendar of Python counts
WATCHED = ("sap-irritant", "thorn", "allergen", "urushiol")  # what hands meet when cutting
LONG_MIN = 30 * 60  # [own] over one night the water may stay
UNSURE = ("memory", "practice")  # grades of hours that nobody measured
MOVE_MIN = 5  # [own] carrying a bucket to another room, and a look at the buds


@dataclass(frozen=True, slots=True)
class Lot:
    """Stems of one plant from one place. `days_before` is the latest day on which to get them.

    `sells_on` are the weekdays on which the place sells, Monday as 0; none where it always does.
    `in_bud`: it is to be in bud in class, not open. `bloom` is the usual day on which it flowers
    outdoors; where that is told, a garden branch of a plant that can be forced is cut so early that
    it is in flower on the day. `cut_on` is a day on which it must be cut, whatever else holds.
    Raises `ValueError` for a day that is none.
    """

    plant: Plant
    count: int
    origin: Origin = "shop"
    place: str = ""
    days_before: int = 1
    sells_on: frozenset[int] = frozenset()
    in_bud: bool = False
    bloom: dt.date | None = None
    cut_on: dt.date | None = None

    def __post_init__(self) -> None:
        if not self.sells_on <= WEEKDAYS:
            raise ValueError("weekdays are counted from 0, Monday, to 6, Sunday")

    def sold_on(self, day: dt.date) -> bool:
        """Whether its place sells on the weekday of a date."""
        return not self.sells_on or day.weekday() in self.sells_on


@dataclass(frozen=True, slots=True)
class Habits:
    """When and how fast a teacher works."""

    shopping: dt.time = dt.time(15)  # [own]
    evening: dt.time = dt.time(18)  # [own]
    morning: dt.time = dt.time(7)  # [own]
    buying_min: int = 60  # [own] a shop, and the way home
    loading_min: int = 30  # [own]
    travel_min: int = 30  # [own]
    setting_up_min: int = 60  # [own] tables, water and places laid before people come


@dataclass(frozen=True, slots=True)
class Task:
    """One thing to do, when, and for how long. `plant` is an id, empty where all are meant.

    `notes` are what to look for and what to reach. `stays` are the places in which stems wait and
    from when to when, and `buckets` how many they fill there; of a task `hold` alone.
    """

    begins: dt.datetime
    minutes: int
    kind: Kind
    says: Saying
    plant: str = ""
    count: int = 0
    place: str = ""
    steps: tuple[Step, ...] = ()
    cautions: tuple[Saying, ...] = ()
    notes: tuple[Saying, ...] = ()
    stays: tuple[Stay, ...] = ()
    buckets: int = 0

    @property
    def ends(self) -> dt.datetime:
        """When it is done."""
        return later(self.begins, self.minutes)


def rounded(minutes: float) -> int:
    """Minutes up to the next step of work."""
    return math.ceil(minutes / STEP_MIN) * STEP_MIN


def named(lots: Iterable[Lot]) -> tuple[Saying, ...]:
    """What is got, plant by plant."""
    return tuple(stems(lot.plant, lot.count) for lot in lots)


def stems(plant: Plant, count: int) -> Saying:
    """So many stems of a plant."""
    return Saying("keeping.lot", count=count, plant=plant.english)


def buy(place: str, lots: Sequence[Lot], begins: dt.datetime, habits: Habits) -> Task:
    """One visit to a shop."""
    key = "keeping.task.buy-at" if place else "keeping.task.buy"
    says = Saying(key, place=place, what=named(lots))
    count = sum(lot.count for lot in lots)
    return Task(begins, habits.buying_min, "buy", says, count=count, place=place)


def cut(lot: Lot, begins: dt.datetime) -> Task:
    """Cutting one lot in the garden."""
    key = "keeping.task.cut-at" if lot.place else "keeping.task.cut"
    says = Saying(key, place=lot.place, what=named([lot]))
    minutes = rounded(LEAST_TREAT_MIN + CUT_MIN_PER_STEM * lot.count)
    cautions = (Saying("keeping.caution.cut"), *for_hands(lot.plant, "not-foraged"))
    return Task(begins, minutes, "cut", says, lot.plant.id, lot.count, lot.place, cautions=cautions)


def pile(plant: Plant, count: int, begins: dt.datetime) -> Task:
    """Cutting what was bought of a plant into piles."""
    minutes = rounded(PILE_MIN_PER_STEM * count)
    says = Saying("keeping.task.piles", what=(stems(plant, count),))
    return Task(begins, minutes, "piles", says, plant.id, count, cautions=for_hands(plant))


def treat(plant: Plant, count: int, begins: dt.datetime) -> Task:
    """Preparing a plant; stems that may not be cut again come to their final length first."""
    known = treatment(plant)
    key = "keeping.task.treat-final" if known.repeats else "keeping.task.treat"
    minutes = rounded(max(LEAST_TREAT_MIN, TREAT_MIN_PER_STEM * count))
    steps = known.phase("prepare")
    fire = (Saying("keeping.caution.fire"),) if known.needs_fire else ()
    known_of = (says for step in steps for says in (step.do_not, step.evidence) if says)
    return Task(
        begins,
        minutes,
        "treat",
        Saying(key, what=(stems(plant, count),)),
        plant.id,
        count,
        steps=steps,
        cautions=tuple(dict.fromkeys((*for_hands(plant), *fire, *known_of))),
    )


def hold(
    plant: Plant,
    count: int,
    ready: dt.datetime,
    leaves: dt.datetime,
    stays: tuple[Stay, ...],
    wait: Wait | None = None,
    other: dt.date | None = None,
) -> tuple[Task, ...]:
    """The rest in water and the moves within it, one plant's stems of one day.

    `other` is a day on which it would have to be bought, where `wait` does not reach its aim.
    """
    steps = treatment(plant).phase("hold")
    first = stays[0].place
    says = Saying("keeping.task.hold", what=(stems(plant, count),), where=first.says)
    rest = Task(
        ready,
        int(elapsed_min(ready, leaves)),
        "hold",
        says,
        plant.id,
        count,
        steps=steps,
        cautions=(*_minding(plant, first.name, steps, wait), *_water(ready, leaves)),
        notes=_aim(wait, other) if wait else (),
        stays=stays,
        buckets=buckets_for(plant, count),
    )
    return (rest, *(_move(plant, count, *pair) for pair in pairwise(stays)))


def _move(plant: Plant, count: int, was: Stay, stay: Stay) -> Task:
    """From one place to another, with a look at the buds."""
    says = Saying(
        "keeping.task.move",
        what=(stems(plant, count),),
        was=was.place.says,
        where=stay.place.says,
    )
    notes = (Saying("keeping.wait.look"),)
    return Task(stay.begins, MOVE_MIN, "move", says, plant.id, count, notes=notes)


def _aim(wait: Wait, other: dt.date | None) -> tuple[Saying, ...]:
    """How it should look in class, or that it will not."""
    told = {"plant": wait.plant.english}
    key = f"keeping.wait.{wait.word.replace(' ', '-')}"
    if wait.word in ("open", "bud"):
        return (Saying(key),)
    if other is None:
        return (Saying(key, **told),)
    return (Saying(key, **told), Saying("keeping.wait.another-day", day=other))


def _minding(
    plant: Plant, where: PlaceName, steps: Iterable[Step], wait: Wait | None
) -> Iterator[Saying]:
    """What the place, the plant and the way of waiting ask to be minded."""
    if chill_c(plant) is not None:
        yield Saying("keeping.caution.warm")
    else:
        yield Saying(f"keeping.caution.in-{where}")
    if growth := growth_cm(plant):
        yield Saying("keeping.caution.grows", low_cm=growth[0], high_cm=growth[1])
    known = openings().get(plant.id)
    if known is not None and known.dry is False:
        yield Saying("keeping.caution.never-dry")
    if known is not None and known.food is not None:
        yield Saying(f"keeping.caution.{'' if known.food else 'no-'}flower-food")
    for step in steps:
        yield from (each for each in (step.do_not, step.evidence) if each)
    if wait is not None and wait.stage.takes.grade in UNSURE:
        yield Saying("keeping.caution.hours-from-memory")


def _water(ready: dt.datetime, leaves: dt.datetime) -> tuple[Saying, ...]:
    """Fresh water, where it stands for longer than a day."""
    long = elapsed_min(ready, leaves) > LONG_MIN
    return (Saying("keeping.caution.fresh-water"),) if long else ()


def _look(wait: Wait) -> Saying:
    return Saying("keeping.wait.look-for", plant=wait.plant.english, stage=wait.stage.says)


def looked_for(waits: Iterable[Wait]) -> tuple[Saying, ...]:
    """The stage in which each plant is bought or cut."""
    return tuple(dict.fromkeys(_look(each) for each in waits))


def check(leaves: dt.datetime, habits: Habits, counting: Sequence[Task]) -> Task:
    """A look at every bucket while a limp stem can still be helped; at a human hour."""
    busy = [task.begins for task in counting if task.begins.date() == leaves.date()]
    begins = later(min([later(leaves, -RESCUE_MIN), *busy]), -CHECK_MIN)
    if begins.time() < EARLIEST or begins.date() != leaves.date():
        eve = leaves.date() - dt.timedelta(days=1)
        begins = dt.datetime.combine(eve, habits.evening, leaves.tzinfo)
    return Task(
        begins, CHECK_MIN, "check", Saying("keeping.task.check"), steps=treatments()[LIMP].steps
    )


def sets_out(
    sets: int, wrapped: bool, leaves: dt.datetime, ready: dt.datetime, habits: Habits
) -> Task:
    """Everybody's stems counted out: in the morning, or the evening before where they are many."""
    minutes = rounded(sets * (KIT_MIN if wrapped else SET_MIN))
    begins = later(leaves, -minutes)
    if begins.time() < EARLIEST or begins.date() != leaves.date():
        eve = leaves.date() - dt.timedelta(days=1)
        evening = dt.datetime.combine(eve, habits.evening, leaves.tzinfo)
        begins = later(evening, max(0.0, elapsed_min(evening, ready)))
    key = "keeping.task.sets-wrapped" if wrapped else "keeping.task.sets"
    cautions = (Saying("keeping.caution.sets"),)
    return Task(begins, minutes, "sets", Saying(key, count=sets), count=sets, cautions=cautions)


def load(leaves: dt.datetime, habits: Habits, lots: Sequence[Lot]) -> Task:
    """Loading the car."""
    says = Saying("keeping.task.load", travel_min=habits.travel_min)
    count = sum(lot.count for lot in lots)
    cautions = (Saying("keeping.caution.load"),)
    return Task(leaves, habits.loading_min, "load", says, count=count, cautions=cautions)


def for_hands(plant: Plant, *more: str) -> tuple[Saying, ...]:
    """What hands should know before they touch it."""
    return tuple(dict.fromkeys(h.saying for h in plant.hazards if h.hazard in (*WATCHED, *more)))
