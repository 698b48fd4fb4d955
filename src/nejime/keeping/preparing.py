"""Everything that is done before a class, worked back from its beginning.

Model: every lot is got on the day before the class, or earlier: where a plant must rest longer in
water than the day allows, where its flowers would not be open yet, where a branch is forced, and
where a shop does not sell. Then it waits in water until the car is loaded, in the places that bring
it to open on the day (`waiting`). What lasts anyhow is fetched with the flowers that must be
fetched earlier from the same shop, so that there is one way less. Times are counted as they pass,
even over a change of the clock.
Source: resting times in `data/conditioning.csv`, opening in `data/opening.csv`, forcing in
`data/forcing.csv`. The times of day and the minutes that a task takes are our own and can be
replaced (`Habits`).
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from nejime.basis.errors import refuse
from nejime.basis.sayings import Saying
from nejime.keeping.clock import elapsed_min, later, light
from nejime.keeping.conditioning import treatment
from nejime.keeping.forcing import Forcing, forcing, usual_bloom
from nejime.keeping.getting import Got, Making, all_got, open_day
from nejime.keeping.tasks import Habits, Lot, Task, check, hold, load, looked_for, sets_out
from nejime.keeping.waiting import (
    LIGHT_ROOM,
    MOST_DAYS,
    PLACES,
    Place,
    Stay,
    Wait,
    another_day,
    needed,
    open_at,
    resting_place,
    waiting,
)
from nejime.plants.table import Plant

__all__ = [
    "Habits",
    "Lot",
    "Task",
    "buckets_needed",
    "elapsed_min",
    "later",
    "light",
    "preparing",
    "rest_min",
    "too_late",
]


@dataclass(frozen=True, slots=True)
class _Rest:
    """Where the stems of one plant wait; how they open, and how they are forced, where known."""

    stays: tuple[Stay, ...]
    wait: Wait | None = None


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
    places: Sequence[Place] = PLACES,
) -> tuple[Task, ...]:
    """Every task before a class that begins at `starts` (with its time zone), in order of time.

    `closed` are days on which no shop is visited. For so many `sets` one person's stems are counted
    out, `wrapped` where they go home as kits. `piled` are the ids of plants that are cut into
    piles. `southern`: south of the equator, for how long it is light and when it is spring.
    `places` are where stems can wait. Raises `InputError` where `starts` has no zone.
    """
    if starts.tzinfo is None:
        raise refuse("starts", "keeping.no-zone", "keeping.no-zone-try")
    known = habits or Habits()
    arrives = later(starts, -known.setting_up_min)
    leaves = later(arrives, -known.travel_min - known.loading_min)
    making = Making(starts, known, frozenset(closed), frozenset(piled), southern, tuple(places))
    every = [batch for lot in lots for batch in _batches(lot, making)]
    got = _together(_in_time(every, leaves, making), leaves, making)
    rests = _rests(got, leaves, making)
    tasks = [*_noted(got, rests, making), *_waited(got, rests, leaves, making)]
    if lots:
        counting = [sets_out(sets, wrapped, leaves, _last(got), known)] if sets else []
        tasks += [*counting, check(leaves, known, counting), load(leaves, known, lots)]
    tasks.append(Task(arrives, known.setting_up_min, "set-up", Saying("keeping.task.set-up")))
    return tuple(sorted(dict.fromkeys(tasks), key=lambda task: task.begins))


def rest_min(plant: Plant) -> float:
    """The shortest rest in water before a class, in minutes; 0 where nothing is known."""
    hold = treatment(plant).hold
    return (hold.least_min or 0.0) if hold else 0.0


def too_late(tasks: Iterable[Task], now: dt.datetime) -> tuple[Task, ...]:
    """The tasks whose time is already over at `now` (with its zone)."""
    return tuple(task for task in tasks if task.ends.astimezone(dt.UTC) < now.astimezone(dt.UTC))


def buckets_needed(tasks: Iterable[Task]) -> dict[Place, int]:
    """How many buckets stand in each place at the most at one time."""
    return needed([(stay, task.buckets) for task in tasks for stay in task.stays])


def _in_time(lots: Sequence[Lot], leaves: dt.datetime, making: Making) -> tuple[Got, ...]:
    """Every lot got so early that it has its rest, and is open, before it leaves the house."""
    days = [open_day(lot, _days_before(lot, making), making) for lot in lots]
    while True:
        got = all_got(lots, days, making)
        rests = _rests(got, leaves, making)
        late = [_too_short(each, rests[each.treated], leaves) for each in got]
        if not any(late):
            return got
        days = [
            open_day(each.lot, each.days_before + 1, making) if short else each.days_before
            for each, short in zip(got, late, strict=True)
        ]


def _batches(lot: Lot, making: Making) -> list[Lot]:
    """The lot as it is; where it is forced, the two batches, one of which will be right."""
    found = _forced(lot, making)
    if found is None:
        return [lot]
    return [replace(lot, cut_on=day) for day in (found.cut_on, found.other_on) if day is not None]


def _days_before(lot: Lot, making: Making) -> int:
    """The latest day that was told, or that on which a branch must be cut."""
    if lot.cut_on is None:
        return lot.days_before
    return (making.starts.date() - lot.cut_on).days


def _too_short(got: Got, rest: _Rest, leaves: dt.datetime) -> bool:
    """Whether it must be got earlier."""
    if elapsed_min(got.ready, leaves) < rest_min(got.lot.plant):
        return True
    shut = rest.wait is not None and rest.wait.word == "not yet"
    return shut and got.days_before < MOST_DAYS


def _together(got: tuple[Got, ...], leaves: dt.datetime, making: Making) -> tuple[Got, ...]:
    """One visit to a shop less, where all that is left for a later one lasts anyhow."""
    for later_ones in _later_visits(got):
        place = later_ones[0].lot.place
        before = min(
            each.days_before
            for each in got
            if _bought_at(each, place) and each.days_before > later_ones[0].days_before
        )
        days = [before if each in later_ones else each.days_before for each in got]
        tried = all_got([each.lot for each in got], days, making)
        waits = (rest.wait for rest in _rests(tried, leaves, making).values())
        if all(wait is None or wait.word in ("open", "bud") for wait in waits):
            got = tried
    return got


def _bought_at(got: Got, place: str) -> bool:
    return got.lot.origin == "shop" and got.lot.place == place


def _later_visits(got: Sequence[Got]) -> Iterator[list[Got]]:
    """Visits to a shop that was visited earlier, for nothing that has to be as fresh as a flower,
    and only where the same day was meant for all."""
    for place in dict.fromkeys(each.lot.place for each in got if each.lot.place):
        there = [each for each in got if _bought_at(each, place)]
        if len({each.lot.days_before for each in there}) > 1:
            continue
        for before in sorted({each.days_before for each in there}, reverse=True)[1:]:
            visit = [each for each in there if each.days_before == before]
            if all(each.lot.plant.kind != "flower" for each in visit):
                yield visit


def _forcing(lot: Lot, making: Making) -> Forcing | None:
    """How a garden branch would be forced; None where it flowers outdoors, or nothing is known."""
    if lot.origin != "garden":
        return None
    found = forcing(lot.plant, making.starts.date(), bloom=lot.bloom, southern=making.southern)
    return None if found is None or found.word in ("outdoors", "over") else found


def _forced(lot: Lot, making: Making) -> Forcing | None:
    """How it is forced, where somebody told when it flowers outdoors and it can be."""
    found = None if lot.bloom is None or lot.in_bud else _forcing(lot, making)
    return found if found is not None and found.word == "cut" else None


def _rests(got: Sequence[Got], leaves: dt.datetime, making: Making) -> dict[Task, _Rest]:
    """Where everything waits; what one lot takes of a small fridge, the next cannot have."""
    found: dict[Task, _Rest] = {}
    free = making.places
    for each in got:
        if each.treated not in found:
            alike = [other.lot for other in got if other.treated == each.treated]
            rest = _rest(alike, each.treated, leaves, replace(making, places=free))
            found[each.treated] = rest
            if rest.wait is not None:
                free = tuple(_left(place, rest.wait) for place in free)
    return found


def _rest(lots: Sequence[Lot], treated: Task, leaves: dt.datetime, making: Making) -> _Rest:
    plant, ready = lots[0].plant, treated.ends
    if any(_forced(lot, making) for lot in lots):
        return _Rest((Stay(LIGHT_ROOM, ready, leaves),))
    bare = all(_forcing(lot, making) for lot in lots)
    wait = None
    if not bare:
        wait = waiting(
            plant,
            treated.count,
            ready,
            min(open_at(making.starts), leaves),
            moving=(making.habits.morning, making.habits.evening),
            places=making.places,
            in_bud=all(lot.in_bud for lot in lots),
        )
    if wait is None:
        return _Rest((Stay(resting_place(plant, making.places), ready, leaves),))
    return _Rest((*wait.stays[:-1], replace(wait.stays[-1], ends=leaves)), wait)


def _left(place: Place, wait: Wait) -> Place:
    """A place with what is left of it."""
    if place.buckets is None or all(stay.place.name != place.name for stay in wait.stays):
        return place
    return replace(place, buckets=place.buckets - wait.buckets)


def _noted(got: Sequence[Got], rests: Mapping[Task, _Rest], making: Making) -> Iterator[Task]:
    """Every task up to the treatment; on the first of each lot, what to look for."""
    notes: dict[Task, list[Saying]] = {}
    doubts: dict[Task, list[Saying]] = {}
    told: set[Task] = set()
    for each in got:
        wait, first = rests[each.treated].wait, each.tasks[0]
        of_first, doubt = notes.setdefault(first, []), doubts.setdefault(first, [])
        found = None if wait or each.lot.in_bud else _forcing(each.lot, making)
        if wait is not None:
            of_first += looked_for([wait])
        elif found is not None and each.treated not in told:  # once for all places of a plant
            of_first += _how_forced(each.lot, found)
            doubt.append(_doubt(each.lot, found, making))
        told.add(each.treated)
    for each in got:
        first = each.tasks[0]
        said = dict.fromkeys(notes[first])
        yield replace(first, notes=tuple(said), cautions=(*first.cautions, *doubts[first]))
        yield from each.tasks[1:]


def _how_forced(lot: Lot, found: Forcing) -> Iterator[Saying]:
    """That a garden branch is forced; or that it is bare, and what would have to be done."""
    if lot.bloom is None and found.word == "cut":
        key = found.says.key.replace(".cut", ".instead")
        yield Saying(key, **found.says.quantities)
        return
    if found.word != "cut":
        yield Saying("keeping.forcing.bare", plant=lot.plant.english)
    yield found.says


def _doubt(lot: Lot, found: Forcing, making: Making) -> Saying:
    """How well that is known."""
    day = usual_bloom(lot.plant, making.starts.year, southern=making.southern)
    if not found.assumed or day is None:
        return Saying("keeping.forcing.derived")
    month = Saying(f"papers.month.{day.month}")
    return Saying("keeping.forcing.derived-assumed", day=str(day.day), month=month)


def _waited(
    got: Sequence[Got], rests: Mapping[Task, _Rest], leaves: dt.datetime, making: Making
) -> Iterator[Task]:
    """The rests in water with their moves."""
    for each in got:
        rest, plant, count = rests[each.treated], each.lot.plant, each.treated.count
        yield from hold(
            plant, count, each.ready, leaves, rest.stays, rest.wait, _other(rest.wait, making)
        )


def _other(wait: Wait | None, making: Making) -> dt.date | None:
    """A day on which it would have to be bought, where it does not reach its aim."""
    if wait is None or wait.word in ("open", "bud"):
        return None
    return another_day(
        wait,
        open_at(making.starts),
        moving=(making.habits.morning, making.habits.evening),
        places=making.places,
    )


def _last(got: Iterable[Got]) -> dt.datetime:
    """When the last stem stands in water."""
    return max((each.ready for each in got), key=lambda ready: ready.astimezone(dt.UTC))
