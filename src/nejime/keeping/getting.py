"""One day's work before a class: shops, the garden, and preparing what came home.

Model: shops are visited in the afternoon, one after the other. Garden branches are cut on the
evening where it stays light until they are, else on the morning. What came from shops is cut into
piles. The stems of one plant are treated together as soon as they are home.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from nejime.keeping.clock import elapsed_min, later, light
from nejime.keeping.tasks import Habits, Lot, Task, buy, cut, pile, rounded, treat
from nejime.keeping.waiting import Place


@dataclass(frozen=True, slots=True)
class Got:
    """A lot with its tasks up to the moment when it stands in water; the last is its treatment."""

    lot: Lot
    days_before: int
    tasks: tuple[Task, ...]
    treated: Task

    @property
    def ready(self) -> dt.datetime:
        """When it stands in water, together with what was treated with it."""
        return self.treated.ends


@dataclass(frozen=True, slots=True)
class Making:
    """What is the same for all lots of one class."""

    starts: dt.datetime
    habits: Habits
    closed: frozenset[dt.date]
    piled: frozenset[str]
    southern: bool
    places: tuple[Place, ...]

    def at(self, days_before: int, clock: dt.time) -> dt.datetime:
        """A time of day so many days before the class."""
        date = self.starts.date() - dt.timedelta(days=days_before)
        return dt.datetime.combine(date, clock, self.starts.tzinfo)


def open_day(lot: Lot, days: int, making: Making) -> int:
    """So many days before, or more where the shop is closed then."""
    if lot.origin == "garden":
        return days
    class_day = making.starts.date()
    while (date := class_day - dt.timedelta(days=days)) in making.closed or not lot.sold_on(date):
        days += 1
    return days


def all_got(lots: Sequence[Lot], days: Sequence[int], making: Making) -> tuple[Got, ...]:
    """Every lot on its day, in the order of `lots`."""
    found: dict[int, Got] = {}
    for before in sorted(set(days), reverse=True):
        today = {i: lot for i, lot in enumerate(lots) if days[i] == before}
        found |= _day(today, before, making)
    return tuple(found[i] for i in range(len(lots)))


def _day(today: dict[int, Lot], before: int, making: Making) -> dict[int, Got]:
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
    wait = rounded(max(0.0, elapsed_min(morning, sunrise)))
    early = _from_garden(grown, before, later(morning, wait), making)
    shopping = _free(early, making.at(before, habits.shopping))
    return early | _from_shops(bought, before, shopping, making)


def _free(found: dict[int, Got], earliest: dt.datetime) -> dt.datetime:
    """When the work done so far leaves time, not before `earliest`."""
    return max([earliest, *(each.ready for each in found.values())])


def _from_shops(
    bought: dict[int, Lot], before: int, free: dt.datetime, making: Making
) -> dict[int, Got]:
    """The shops one after the other, and then what came from them, plant by plant."""
    trips: dict[str, Task] = {}
    for place in dict.fromkeys(lot.place for lot in bought.values()):
        there = [lot for lot in bought.values() if lot.place == place]
        trips[place] = buy(place, there, free, making.habits)
        free = trips[place].ends
    found: dict[int, Got] = {}
    for alike in _by_plant(bought):
        count = sum(lot.count for lot in alike.values())
        plant = next(iter(alike.values())).plant
        cuts = [pile(plant, count, free)] if plant.id in making.piled else []
        treated = treat(plant, count, cuts[0].ends if cuts else free)
        for i, lot in alike.items():
            found[i] = Got(lot, before, (trips[lot.place], *cuts, treated), treated)
        free = treated.ends
    return found


def _from_garden(
    grown: dict[int, Lot], before: int, free: dt.datetime, making: Making
) -> dict[int, Got]:
    """Plant by plant: the places one after the other, then what was cut there together."""
    found: dict[int, Got] = {}
    for alike in _by_plant(grown):
        cuts = {}
        for i, lot in alike.items():
            cuts[i] = cut(lot, free)
            free = cuts[i].ends
        plant = next(iter(alike.values())).plant
        treated = treat(plant, sum(lot.count for lot in alike.values()), free)
        found |= {i: Got(lot, before, (cuts[i], treated), treated) for i, lot in alike.items()}
        free = treated.ends
    return found


def _by_plant(lots: dict[int, Lot]) -> list[dict[int, Lot]]:
    """The lots of each plant, in the order in which the plants come."""
    ids = dict.fromkeys(lot.plant.id for lot in lots.values())
    return [{i: lot for i, lot in lots.items() if lot.plant.id == each} for each in ids]
