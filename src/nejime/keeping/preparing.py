"""Everything that is done before a class, worked back from its beginning.

Model: shops are visited in the afternoon, a day before the class or more. Garden branches are cut
on the evening of that day where it stays light until they are, else on its morning. What came from
shops is cut into piles. The stems of one plant are treated together as soon as they are home, and
then rest in water until the car is loaded. Where a plant must rest longer than the day allows,
its day moves back; so does a visit to a shop on a day on which it does not sell. Times are counted
as they pass, even over a change of the clock.
How long it is light: the sun's declination as 23.45 degrees times a sine of the year (from memory),
at a middle latitude, with noon at twelve by the zone's own clock; the half hour of dusk makes up
for what that leaves out.
Source: resting times in `data/conditioning.csv`. The times of day and the minutes that a task takes
are our own and can be replaced (`Habits`).
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from nejime.basis.errors import refuse
from nejime.basis.sayings import Saying
from nejime.keeping.conditioning import LIMP, Step, growth_cm, treatment, treatments
from nejime.plants.table import Plant

Kind = Literal["buy", "cut", "piles", "treat", "hold", "check", "sets", "load", "set-up"]
Origin = Literal["shop", "garden"]

LEAST_TREAT_MIN = 10  # [own] to lay out buckets and a knife for one lot
TREAT_MIN_PER_STEM = 1.0  # [own] stripping and cutting under water
PILE_MIN_PER_STEM = 0.5  # [own] laying a stem to the tape and cutting it
LATITUDE_DEG = 45.0  # [own] between the places where such classes are held
CUT_MIN_PER_STEM = 2.0  # [own] choosing a branch in the garden and cutting it
SET_MIN = 1.0  # [own] counting out one person's stems
KIT_MIN = 3.0  # [own] the same, wrapped with wet ends
CHECK_MIN = 15  # [own] a look at every bucket
RESCUE_MIN = 60  # [practice] the shortest time in which a limp stem may come back
EARLIEST = dt.time(6)  # [own] nobody looks at buckets before
STEP_MIN = 5  # [own] work is planned in steps of five minutes
WEEKDAYS = frozenset(range(7))  # [memory] Monday as 0, as the calendar of Python counts
WATCHED = ("sap-irritant", "thorn", "allergen", "urushiol")  # what hands meet when cutting


@dataclass(frozen=True, slots=True)
class Lot:
    """Stems of one plant from one place. `days_before` is the latest day on which to get them.

    `sells_on` are the weekdays on which the place sells, Monday as 0; none where it always does.
    Raises `ValueError` for a day that is none.
    """

    plant: Plant
    count: int
    origin: Origin = "shop"
    place: str = ""
    days_before: int = 1
    sells_on: frozenset[int] = frozenset()

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
    """One thing to do, when, and for how long. `plant` is an id, empty where all are meant."""

    begins: dt.datetime
    minutes: int
    kind: Kind
    says: Saying
    plant: str = ""
    count: int = 0
    place: str = ""
    steps: tuple[Step, ...] = ()
    cautions: tuple[Saying, ...] = ()

    @property
    def ends(self) -> dt.datetime:
        """When it is done."""
        return later(self.begins, self.minutes)


@dataclass(frozen=True, slots=True)
class _Got:
    """A lot with its tasks up to the moment when it stands in water; the last is its treatment."""

    lot: Lot
    days_before: int
    tasks: tuple[Task, ...]
    treated: Task

    @property
    def ready(self) -> dt.datetime:
        """When it stands in water, together with what was treated with it."""
        return self.treated.ends


def later(moment: dt.datetime, minutes: float) -> dt.datetime:
    """So many minutes later (earlier where negative), in the same zone, as time passes."""
    passed = moment.astimezone(dt.UTC) + dt.timedelta(minutes=minutes)
    return passed.astimezone(moment.tzinfo)


def elapsed_min(start: dt.datetime, end: dt.datetime) -> float:
    """Minutes that pass between two moments, also over a change of the clock."""
    return (end.astimezone(dt.UTC) - start.astimezone(dt.UTC)).total_seconds() / 60


def preparing(
    lots: Sequence[Lot],
    starts: dt.datetime,
    *,
    habits: Habits | None = None,
    closed: Collection[dt.date] = (),
    sets: int = 0,
    wrapped: bool = False,
    piled: Collection[str] = (),
    southern: bool = False,
) -> tuple[Task, ...]:
    """Every task before a class that begins at `starts` (with its time zone), in order of time.

    `closed` are days on which no shop is visited. For so many `sets` one person's stems are counted
    out, `wrapped` where they go home as kits. `piled` are the ids of plants that are cut into
    piles. `southern`: south of the equator, for how long it is light. Raises `InputError` where
    `starts` has no zone.
    """
    if starts.tzinfo is None:
        raise refuse("starts", "keeping.no-zone", "keeping.no-zone-try")
    known = habits or Habits()
    arrives = later(starts, -known.setting_up_min)
    leaves = later(arrives, -known.travel_min - known.loading_min)
    making = _Making(starts, known, frozenset(closed), frozenset(piled), southern)
    got = _in_time(lots, leaves, making)
    tasks = [task for each in got for task in (*each.tasks, _hold(each, leaves))]
    if lots:
        counting = [_sets(sets, wrapped, leaves, _last(got), known)] if sets else []
        tasks += [*counting, _check(leaves, known, counting), _load(leaves, known, lots)]
    tasks.append(Task(arrives, known.setting_up_min, "set-up", Saying("keeping.task.set-up")))
    return tuple(sorted(dict.fromkeys(tasks), key=lambda task: task.begins))


def rest_min(plant: Plant) -> float:
    """The shortest rest in water before a class, in minutes; 0 where nothing is known."""
    hold = treatment(plant).hold
    return (hold.least_min or 0.0) if hold else 0.0


def too_late(tasks: Iterable[Task], now: dt.datetime) -> tuple[Task, ...]:
    """The tasks whose time is already over at `now` (with its zone)."""
    return tuple(task for task in tasks if task.ends.astimezone(dt.UTC) < now.astimezone(dt.UTC))


@dataclass(frozen=True, slots=True)
class _Making:
    """What is the same for all lots of one class."""

    starts: dt.datetime
    habits: Habits
    closed: frozenset[dt.date]
    piled: frozenset[str]
    southern: bool

    def at(self, days_before: int, clock: dt.time) -> dt.datetime:
        """A time of day so many days before the class."""
        date = self.starts.date() - dt.timedelta(days=days_before)
        return dt.datetime.combine(date, clock, self.starts.tzinfo)


def light(day: dt.datetime, *, southern: bool = False) -> tuple[dt.datetime, dt.datetime]:
    """Sunrise and sunset on the day of a moment (with its zone), by the model above."""
    number = day.timetuple().tm_yday
    declination = math.radians(23.45 * math.sin(math.tau * (284 + number) / 365))
    latitude = math.radians(-LATITUDE_DEG if southern else LATITUDE_DEG)
    half_min = math.degrees(math.acos(-math.tan(latitude) * math.tan(declination))) * 4
    noon = dt.datetime.combine(day.date(), dt.time(12), day.tzinfo)
    noon = later(noon, (noon.dst() or dt.timedelta()).total_seconds() / 60)
    return later(noon, -half_min), later(noon, half_min)


def _in_time(lots: Sequence[Lot], leaves: dt.datetime, making: _Making) -> tuple[_Got, ...]:
    """Every lot got so early that it has its rest before it leaves the house."""
    starts, closed = making.starts, making.closed
    days = [_open_day(lot, lot.days_before, starts.date(), closed) for lot in lots]
    while True:
        got = _all_got(lots, days, making)
        short = [elapsed_min(each.ready, leaves) < rest_min(each.lot.plant) for each in got]
        if not any(short):
            return got
        days = [
            _open_day(each.lot, each.days_before + 1, starts.date(), closed)
            if late
            else each.days_before
            for each, late in zip(got, short, strict=True)
        ]


def _open_day(lot: Lot, days: int, day: dt.date, closed: frozenset[dt.date]) -> int:
    """So many days before, or more where the shop is closed then."""
    if lot.origin == "garden":
        return days
    while (date := day - dt.timedelta(days=days)) in closed or not lot.sold_on(date):
        days += 1
    return days


def _all_got(lots: Sequence[Lot], days: Sequence[int], making: _Making) -> tuple[_Got, ...]:
    """Every lot on its day, in the order of `lots`."""
    found: dict[int, _Got] = {}
    for before in sorted(set(days), reverse=True):
        today = {i: lot for i, lot in enumerate(lots) if days[i] == before}
        found |= _day(today, before, making)
    return tuple(found[i] for i in range(len(lots)))


def _day(today: dict[int, Lot], before: int, making: _Making) -> dict[int, _Got]:
    """One day's work, one task after another: the garden before or after the shops."""
    habits = making.habits
    bought = {i: lot for i, lot in today.items() if lot.origin == "shop"}
    grown = {i: lot for i, lot in today.items() if lot.origin == "garden"}
    morning = making.at(before, habits.morning)
    if not before:
        found = _from_shops(bought, before, morning, making)
        return found | _from_garden(grown, before, _free(found, morning), making)
    found = _from_shops(bought, before, making.at(before, habits.shopping), making)
    evening = _free(found, making.at(before, habits.evening))
    late = _from_garden(grown, before, evening, making)
    sunrise, sunset = light(morning, southern=making.southern)
    if all(task.ends <= sunset for each in late.values() for task in each.tasks[:-1]):
        return found | late
    wait = _rounded(max(0.0, elapsed_min(morning, sunrise)))
    early = _from_garden(grown, before, later(morning, wait), making)
    shopping = _free(early, making.at(before, habits.shopping))
    return early | _from_shops(bought, before, shopping, making)


def _free(found: dict[int, _Got], earliest: dt.datetime) -> dt.datetime:
    """When the work done so far leaves time, not before `earliest`."""
    return max([earliest, *(each.ready for each in found.values())])


def _from_shops(
    bought: dict[int, Lot], before: int, free: dt.datetime, making: _Making
) -> dict[int, _Got]:
    """The shops one after the other, and then what came from them, plant by plant."""
    trips: dict[str, Task] = {}
    for place in dict.fromkeys(lot.place for lot in bought.values()):
        there = [lot for lot in bought.values() if lot.place == place]
        trips[place] = _buy(place, there, free, making.habits)
        free = trips[place].ends
    found: dict[int, _Got] = {}
    for alike in _by_plant(bought):
        count = sum(lot.count for lot in alike.values())
        plant = next(iter(alike.values())).plant
        cut = [_pile(plant, count, free)] if plant.id in making.piled else []
        treat = _treat(plant, count, cut[0].ends if cut else free)
        for i, lot in alike.items():
            found[i] = _Got(lot, before, (trips[lot.place], *cut, treat), treat)
        free = treat.ends
    return found


def _from_garden(
    grown: dict[int, Lot], before: int, free: dt.datetime, making: _Making
) -> dict[int, _Got]:
    """Plant by plant: the places one after the other, then what was cut there together."""
    found: dict[int, _Got] = {}
    for alike in _by_plant(grown):
        cuts = {}
        for i, lot in alike.items():
            cuts[i] = _cut(lot, free)
            free = cuts[i].ends
        plant = next(iter(alike.values())).plant
        treat = _treat(plant, sum(lot.count for lot in alike.values()), free)
        found |= {i: _Got(lot, before, (cuts[i], treat), treat) for i, lot in alike.items()}
        free = treat.ends
    return found


def _by_plant(lots: dict[int, Lot]) -> list[dict[int, Lot]]:
    """The lots of each plant, in the order in which the plants come."""
    ids = dict.fromkeys(lot.plant.id for lot in lots.values())
    return [{i: lot for i, lot in lots.items() if lot.plant.id == each} for each in ids]


def _rounded(minutes: float) -> int:
    return math.ceil(minutes / STEP_MIN) * STEP_MIN


def _named(lots: Iterable[Lot]) -> tuple[Saying, ...]:
    return tuple(_stems(lot.plant, lot.count) for lot in lots)


def _stems(plant: Plant, count: int) -> Saying:
    return Saying("keeping.lot", count=count, plant=plant.english)


def _buy(place: str, lots: Sequence[Lot], begins: dt.datetime, habits: Habits) -> Task:
    key = "keeping.task.buy-at" if place else "keeping.task.buy"
    says = Saying(key, place=place, what=_named(lots))
    count = sum(lot.count for lot in lots)
    return Task(begins, habits.buying_min, "buy", says, count=count, place=place)


def _cut(lot: Lot, begins: dt.datetime) -> Task:
    key = "keeping.task.cut-at" if lot.place else "keeping.task.cut"
    says = Saying(key, place=lot.place, what=_named([lot]))
    minutes = _rounded(LEAST_TREAT_MIN + CUT_MIN_PER_STEM * lot.count)
    cautions = (Saying("keeping.caution.cut"), *_for_hands(lot.plant, "not-foraged"))
    return Task(begins, minutes, "cut", says, lot.plant.id, lot.count, lot.place, cautions=cautions)


def _pile(plant: Plant, count: int, begins: dt.datetime) -> Task:
    """Cutting what was bought of a plant into piles."""
    minutes = _rounded(PILE_MIN_PER_STEM * count)
    says = Saying("keeping.task.piles", what=(_stems(plant, count),))
    return Task(begins, minutes, "piles", says, plant.id, count, cautions=_for_hands(plant))


def _treat(plant: Plant, count: int, begins: dt.datetime) -> Task:
    """Preparing a plant; stems that may not be cut again come to their final length first."""
    known = treatment(plant)
    key = "keeping.task.treat-final" if known.repeats else "keeping.task.treat"
    minutes = _rounded(max(LEAST_TREAT_MIN, TREAT_MIN_PER_STEM * count))
    steps = known.phase("prepare")
    fire = (Saying("keeping.caution.fire"),) if known.needs_fire else ()
    known_of = (says for step in steps for says in (step.do_not, step.evidence) if says)
    return Task(
        begins,
        minutes,
        "treat",
        Saying(key, what=(_stems(plant, count),)),
        plant.id,
        count,
        steps=steps,
        cautions=tuple(dict.fromkeys((*_for_hands(plant), *fire, *known_of))),
    )


def _hold(got: _Got, leaves: dt.datetime) -> Task:
    plant = got.lot.plant
    steps = treatment(plant).phase("hold")
    rest = int(elapsed_min(got.ready, leaves))
    warm = plant.fact("chill_below_c") is not None or plant.treatment == "tropical"
    cautions = [Saying("keeping.caution.warm" if warm else "keeping.caution.cool")]
    if growth := growth_cm(plant):
        cautions.append(Saying("keeping.caution.grows", low_cm=growth[0], high_cm=growth[1]))
    cautions += [says for step in steps for says in (step.do_not, step.evidence) if says]
    count = got.treated.count
    says = Saying("keeping.task.hold", what=(_stems(plant, count),))
    return Task(
        got.ready,
        rest,
        "hold",
        says,
        plant.id,
        count,
        steps=steps,
        cautions=tuple(cautions),
    )


def _last(got: Iterable[_Got]) -> dt.datetime:
    """When the last stem stands in water."""
    return max((each.ready for each in got), key=lambda ready: ready.astimezone(dt.UTC))


def _check(leaves: dt.datetime, habits: Habits, counting: Sequence[Task]) -> Task:
    """A look at every bucket while a limp stem can still be helped; at a human hour."""
    busy = [task.begins for task in counting if task.begins.date() == leaves.date()]
    begins = later(min([later(leaves, -RESCUE_MIN), *busy]), -CHECK_MIN)
    if begins.time() < EARLIEST or begins.date() != leaves.date():
        eve = leaves.date() - dt.timedelta(days=1)
        begins = dt.datetime.combine(eve, habits.evening, leaves.tzinfo)
    return Task(
        begins, CHECK_MIN, "check", Saying("keeping.task.check"), steps=treatments()[LIMP].steps
    )


def _sets(
    sets: int, wrapped: bool, leaves: dt.datetime, ready: dt.datetime, habits: Habits
) -> Task:
    """Everybody's stems counted out: in the morning, or the evening before where they are many."""
    minutes = _rounded(sets * (KIT_MIN if wrapped else SET_MIN))
    begins = later(leaves, -minutes)
    if begins.time() < EARLIEST or begins.date() != leaves.date():
        eve = leaves.date() - dt.timedelta(days=1)
        evening = dt.datetime.combine(eve, habits.evening, leaves.tzinfo)
        begins = later(evening, max(0.0, elapsed_min(evening, ready)))
    key = "keeping.task.sets-wrapped" if wrapped else "keeping.task.sets"
    cautions = (Saying("keeping.caution.sets"),)
    return Task(begins, minutes, "sets", Saying(key, count=sets), count=sets, cautions=cautions)


def _load(leaves: dt.datetime, habits: Habits, lots: Sequence[Lot]) -> Task:
    says = Saying("keeping.task.load", travel_min=habits.travel_min)
    count = sum(lot.count for lot in lots)
    cautions = (Saying("keeping.caution.load"),)
    return Task(leaves, habits.loading_min, "load", says, count=count, cautions=cautions)


def _for_hands(plant: Plant, *more: str) -> tuple[Saying, ...]:
    """What hands should know before they touch it."""
    return tuple(dict.fromkeys(h.saying for h in plant.hazards if h.hazard in (*WATCHED, *more)))
