"""Where a flower waits, and for how many hours, so that it is open on the day.

Model: from the moment when it stands in water until two hours before the class a flower stands in
one place, or first in a cooler and then in a warmer one; it is moved in the morning or in the
evening. Of all such ways, and of the stages in which it may be bought, that one is taken which
brings it nearest to the middle of the days that it needs (`opening`), that would still do at the
cool end of its places, and that asks for fewer moves. A fridge is no place for what is damaged
there, for longer than a plant may be stored, for more buckets than it holds, or for the last hours.
What is wanted in bud stands where it opens least.
Places are what a teacher can tell: a fridge, a cool room, a warm room, each a range.
Shapes: doses in days at 20 °C, as a range from the cool to the warm end of the places.
Source: what each plant needs: `data/opening.csv`; cold: the plant table. The places, the hours of
moving and what a bucket holds are our own and can be replaced.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from nejime.basis.sayings import Saying
from nejime.keeping.carrying import Stems
from nejime.keeping.clock import elapsed_d, later
from nejime.keeping.opening import Opening, Stage, fresh_d, opening, state
from nejime.keeping.vase_life import STORED_BELOW_C, Spell, chill_c, storage_d
from nejime.plants.plant import Plant

PlaceName = Literal["fridge", "cool-room", "light-room", "warm-room"]
Word = Literal["open", "bud", "not yet", "past", "will not open"]
WORDS: tuple[Word, ...] = ("open", "bud", "not yet", "past", "will not open")

READY_MIN = 120  # [own] so long before the class it is open
LIGHTS_ON = dt.time(8)  # [bieleski2000] lilies: two hours after lights-on, taken as six
MOVE_COSTS = 0.25  # [own] of the days a flower needs: a move saves no less
COLD_COSTS = 0.5  # [own] the same for a fridge where a flower is wanted in bud
MOST_DAYS = 21  # [own] nobody buys flowers for a class earlier
LENGTH_CM = 60.0  # [own] of a stem as it waits, where it is not cut for its pile yet


@dataclass(frozen=True, slots=True)
class Place:
    """A place to wait in: how cold and how warm it may be, and how many buckets it holds."""

    name: PlaceName
    low_c: float
    high_c: float
    buckets: int | None = None

    @property
    def at_c(self) -> float:
        """The middle of its range."""
        return (self.low_c + self.high_c) / 2

    @property
    def stores(self) -> bool:
        """Whether standing there is storage."""
        return self.at_c < STORED_BELOW_C

    @property
    def says(self) -> Saying:
        """Where it is, and about how warm."""
        return Saying(f"keeping.place.{self.name}", at_c=self.at_c)


FRIDGE = Place("fridge", 2.0, 6.0, buckets=1)  # [own] one bucket in a household fridge
COOL_ROOM = Place("cool-room", 10.0, 14.0)  # [own] a cellar, a north room without heating
WARM_ROOM = Place("warm-room", 18.0, 22.0)  # [own] where people live
LIGHT_ROOM = Place("light-room", 15.6, 18.3)  # [iowastate1998] 60 to 65 °F, where branches open
PLACES = (FRIDGE, COOL_ROOM, WARM_ROOM)
ENDS: tuple[Callable[[Place], float], ...] = (
    lambda place: place.low_c,
    lambda place: place.at_c,
    lambda place: place.high_c,
)


@dataclass(frozen=True, slots=True)
class Stay:
    """A place from one moment to another."""

    place: Place
    begins: dt.datetime
    ends: dt.datetime

    @property
    def days(self) -> float:
        """How long, in days of 24 hours."""
        return elapsed_d(self.begins, self.ends)


@dataclass(frozen=True, slots=True)
class Wait:
    """How a lot of one plant waits for the class, from which stage, and how it looks then.

    `dose` is how far it comes at the cool end, in the middle and at the warm end of its places, in
    days at 20 °C or, where the stage is by mornings, in whole mornings. `buckets` in each place.
    """

    plant: Plant
    stage: Stage
    stays: tuple[Stay, ...]
    word: Word
    dose: tuple[float, float, float]
    buckets: int
    in_bud: bool = False

    @property
    def moves(self) -> tuple[Stay, ...]:
        """The stays that begin with a move."""
        return self.stays[1:]

    @property
    def sure(self) -> bool:
        """Whether the word also holds at the cool and at the warm end of the places."""
        if self.word == "bud":
            return self.dose[2] < self.stage.takes.low
        ends = (state(self.plant, self.stage, each) for each in (self.dose[0], self.dose[2]))
        return all(each == self.word for each in ends)


def open_at(starts: dt.datetime) -> dt.datetime:
    """When everything is to be open, for a class at `starts`."""
    return later(starts, -READY_MIN)


def buckets_for(plant: Plant, count: int) -> int:
    """How many buckets so many stems fill as they wait."""
    return math.ceil(count / Stems(plant, max(count, 1), LENGTH_CM).per_bucket)


def allowed(plant: Plant, place: Place, buckets: int = 0) -> bool:
    """Whether a plant may wait in a place at all."""
    limit = chill_c(plant)
    if limit is not None and place.low_c < limit:
        return False
    if place.buckets is not None and buckets > place.buckets:
        return False
    if not place.stores:
        return True
    told, store = opening(plant), plant.fact("store_c")
    if store is None or store.low is None or place.low_c < store.low:
        return False
    # Between the cold that spoils and the cold that only stops it nothing is known.
    stops, spoils = (told.stops_c, told.spoils_c) if told else (None, None)
    return spoils is None or place.low_c >= (spoils if stops is None else stops)


def resting_place(plant: Plant, places: Sequence[Place] = PLACES) -> Place:
    """Where a plant rests that has nothing to open: the coolest room that does not harm it."""
    rooms = [each for each in places if not each.stores] or list(places)
    fit = [each for each in rooms if allowed(plant, each)]
    return min(fit, key=lambda each: each.at_c) if fit else max(rooms, key=lambda p: p.at_c)


def waiting(
    plant: Plant,
    count: int,
    ready: dt.datetime,
    by: dt.datetime,
    *,
    moving: Sequence[dt.time],
    places: Sequence[Place] = PLACES,
    in_bud: bool = False,
) -> Wait | None:
    """The best way to wait from `ready` to be open `by` then; None without a known stage.

    `moving` are the times of day at which stems may be moved. `in_bud`: it is to stay closed.
    """
    known = opening(plant)
    if known is None:
        return None
    target = max(by, ready)
    buckets = buckets_for(plant, count)
    fit = [each for each in places if allowed(plant, each, buckets)]
    fit = fit or [resting_place(plant, places)]
    ways = [
        _wait(known, plant, stage, stays, buckets, in_bud)
        for stays in _ways(plant, fit, ready, target, moving, in_bud)
        for stage in known.stages
    ]
    return min(ways, key=_cost)


def another_day(
    wait: Wait,
    by: dt.datetime,
    *,
    moving: Sequence[dt.time],
    places: Sequence[Place] = PLACES,
    count: int = 1,
) -> dt.date | None:
    """The nearest other day on which it would have to be bought to be open; None if there is none.

    It stands in water at the same time of day.
    """
    ready = wait.stays[0].begins
    away = (day for near in range(1, MOST_DAYS + 1) for day in (-near, near))
    for day in away:
        at = ready + dt.timedelta(days=day)
        if at > by:
            continue
        other = waiting(wait.plant, count, at, by, moving=moving, places=places)
        if other is not None and other.word == "open":
            return at.date()
    return None


def _ways(
    plant: Plant,
    places: Sequence[Place],
    ready: dt.datetime,
    target: dt.datetime,
    moving: Sequence[dt.time],
    in_bud: bool,
) -> list[tuple[Stay, ...]]:
    """Every way to wait: one place, or a cooler and then a warmer one."""
    store = storage_d(plant)
    most_d = math.inf if store is None or store.low is None else store.low
    ordered = sorted(places, key=lambda each: each.at_c)
    rooms = [each for each in ordered if not each.stores] or ordered
    found: list[tuple[Stay, ...]] = [
        (Stay(place, ready, target),) for place in (ordered if in_bud else rooms)
    ]
    if not in_bud:
        found += [
            (Stay(one, ready, at), Stay(two, at, target))
            for at in _moments(ready, target, moving)
            for one in ordered
            for two in rooms
            if two.at_c > one.at_c
        ]
    kept = [way for way in found if all(s.days <= most_d for s in way if s.place.stores)]
    return kept or [(Stay(rooms[-1], ready, target),)]


def _moments(
    begins: dt.datetime, ends: dt.datetime, clocks: Sequence[dt.time]
) -> list[dt.datetime]:
    """The times of day that come between two moments."""
    days = (ends.date() - begins.date()).days
    found = [
        dt.datetime.combine(begins.date() + dt.timedelta(days=day), clock, begins.tzinfo)
        for day in range(days + 1)
        for clock in clocks
    ]
    return sorted(at for at in found if elapsed_d(begins, at) > 0 and elapsed_d(at, ends) > 0)


def _mornings(begins: dt.datetime, ends: dt.datetime) -> list[dt.datetime]:
    """The mornings between two moments, the last moment included."""
    return _moments(begins, later(ends, 1), (LIGHTS_ON,))


def _wait(
    known: Opening,
    plant: Plant,
    stage: Stage,
    stays: tuple[Stay, ...],
    buckets: int,
    in_bud: bool,
) -> Wait:
    low, middle, high = (
        _dose(known, stage, [(stay, at_c(stay.place)) for stay in stays]) for at_c in ENDS
    )
    word: Word = state(plant, stage, middle)
    shut = not any(known.rate(stay.place.at_c) for stay in stays)
    if known.spoilt(Spell(stay.days, stay.place.low_c) for stay in stays):
        word = "will not open"
    elif word == "not yet":
        word = "bud" if in_bud else "will not open" if shut else "not yet"
    return Wait(plant, stage, stays, word, (low, middle, high), buckets, in_bud)


def _dose(known: Opening, stage: Stage, stays: Sequence[tuple[Stay, float]]) -> float:
    """How far it comes: days, or whole mornings."""
    if not stage.by_mornings:
        return sum(stay.days * known.rate(at_c) for stay, at_c in stays)
    counted = sum(len(_mornings(stay.begins, stay.ends)) * known.rate(at_c) for stay, at_c in stays)
    return float(math.floor(counted + 1e-9))


def _cost(wait: Wait) -> tuple[float, ...]:
    """What is worse counts more: the word, whether it is sure, how far off, and moves."""
    takes, middle = wait.stage.takes, wait.dose[1]
    if wait.in_bud:
        off = middle / max(takes.low, 1e-9) + COLD_COSTS * any(
            stay.place.stores for stay in wait.stays
        )
        return (wait.word != "bud", not wait.sure, off)
    width = max(takes.high - takes.low, fresh_d(wait.plant))
    off = abs(middle - wait.stage.aim) / width + MOVE_COSTS * len(wait.moves)
    return (WORDS.index(wait.word), not wait.sure, off)


def needed(stays: Sequence[tuple[Stay, int]]) -> dict[Place, int]:
    """How many buckets each place holds at the most at one time; `stays` with their buckets.

    Coolest first. A place of which less is left for one lot than for another is one place.
    """
    found: dict[Place, int] = {}
    whole = {stay.place.name: replace(stay.place, buckets=None) for stay, _ in stays}
    for name, place in sorted(whole.items(), key=lambda each: each[1].at_c):
        here = [(stay, count) for stay, count in stays if stay.place.name == name]
        found[place] = max(
            sum(count for stay, count in here if stay.begins <= at.begins < stay.ends)
            for at, _ in here
        )
    return found
