"""Looking after a piece that stays on display: when to pour how much, and what comes out when.

Model: pouring is due before the quick end of the range of `water_loss` lets the water down to
where it should not fall, and at least a day after the last time; what is then poured is reckoned
by the usual rate. A plant comes out after the low end of what is known of it, counted from the day
on which it came in, and the piece at the end of its time. In a room that is warmer than where that
was known it comes out sooner, by the doses of `vase_life` and to the nearest day; a cool one
promises nothing more, as water on pins is little and warm. What is not known has no day.
In the place of a plant comes one of the same kind and first role that shops have in that month,
lasts longer and is not known to us to harm people; the best are those that last to the end.
Shapes: days are calendar days; moments are those of the clock where the piece stands.
Source: `water_loss`, `display` and the plant table.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from nejime.basis.sayings import Saying
from nejime.forms.vessel import Vessel
from nejime.keeping.display import (
    DisplayCard,
    Lasting,
    harms_if_eaten,
    lasting_days,
    minding,
    not_there,
    ring,
    visitors,
)
from nejime.keeping.hazards import names_of
from nejime.keeping.vase_life import MEASURED_AT_C, ROOM_C, WARM_Q10, ageing
from nejime.keeping.water_loss import (
    ROOMS,
    Between,
    Reading,
    Room,
    Standing,
    days_until,
    drinks_ml_d,
    falls_cm_d,
    leafiness,
    level_after,
    lowest_cm,
)
from nejime.plants.plant import Plant
from nejime.plants.table import plants
from nejime.standing.water import poured_ml

Kind = Literal["up", "out", "fill", "down"]
ORDER: tuple[Kind, ...] = ("up", "out", "fill", "down")
"""What is done first on a day."""

LONGEST_LOOK_D = 2  # [practice] water is looked at every second day at least
SLOW_DAYS = 21  # [own] slower than this the fall is not told in days
WORTH_REPLACING_D = 2  # [own] for less than two days nobody buys flowers
STAND_INS = 3  # [own] as many as a person chooses from
NEEDS_FIRE = "milky-sap"  # [own] no flower whose end is seared is put in at a library
GROWS = "grows_after_cutting_cm"


@dataclass(frozen=True, slots=True)
class Shown:
    """Stems of a plant in a piece, and on which day they came in."""

    plant: Plant
    stems: int
    since: dt.date


@dataclass(frozen=True, slots=True)
class OnDisplay:
    """A piece that stays: what was told of it, and when water was poured last.

    `full_cm` is the depth of the water when it is full, `pins_cm` the height of plate and pins
    together, None where there are none.
    """

    vessel: Vessel
    full_cm: float
    pins_cm: float | None
    room: str
    plants: tuple[Shown, ...]
    since: dt.date
    until: dt.date
    filled: dt.datetime
    readings: tuple[Reading, ...] = ()
    contact: str = ""
    poison_line: str = ""
    region: str = ""

    @property
    def water(self) -> Standing:
        """Its water, its room and what drinks."""
        room = ROOMS[self.room]
        leaves = [leafiness(each.plant) * each.stems for each in self.plants]
        drinks = drinks_ml_d(leaves, room)
        return Standing(self.vessel, self.full_cm, room, drinks, self.readings)

    @property
    def lowest_cm(self) -> float:
        """The level at which it is time to pour."""
        return lowest_cm(self.full_cm, self.pins_cm)


@dataclass(frozen=True, slots=True)
class Action:
    """One thing to do, on which day; `plant` is an id, or empty."""

    kind: Kind
    on: dt.date
    says: Saying
    plant: str = ""


@dataclass(frozen=True, slots=True)
class Pouring:
    """The water: in one line, where it stands now, when to pour, and why we think so."""

    line: Saying
    every_d: int
    level_cm: Between
    lowest_cm: float
    falls_cm_d: Between
    lasts_d: Between
    now_ml: float
    why: tuple[Saying, ...]


@dataclass(frozen=True, slots=True)
class Stays:
    """A plant of the piece: until when, what may come in its place, and how well that is known."""

    shown: Shown
    days: int | None
    out_on: dt.date | None
    to_the_end: bool
    says: Saying
    instead: tuple[Plant, ...] = ()
    grows: Saying | None = None
    source: str = ""
    grade: str = ""


@dataclass(frozen=True, slots=True)
class LookingAfter:
    """Everything that a piece on display asks of those around it."""

    actions: tuple[Action, ...]
    pouring: Pouring
    plants: tuple[Stays, ...]
    places: tuple[Saying, ...]


def looking_after(piece: OnDisplay, now: dt.datetime, step_cm: float = 1.0) -> LookingAfter:
    """What a piece asks for from now on. `step_cm`: the fall that is told in days."""
    pouring = _pouring(piece, now, step_cm)
    stays = tuple(sorted((_stays(piece, each) for each in piece.plants), key=_soonest))
    found = [*_outs(stays), *_fills(piece, pouring, now), _down(piece)]
    if now.date() < piece.since:
        found.append(_up(piece))
    found.sort(key=lambda each: (each.on, ORDER.index(each.kind)))
    kinds = tuple(dict.fromkeys(each.shown.plant for each in stays))
    return LookingAfter(tuple(found), pouring, stays, not_there(kinds))


# Water


def _pouring(piece: OnDisplay, now: dt.datetime, step_cm: float) -> Pouring:
    water, lowest = piece.water, piece.lowest_cm
    falls = falls_cm_d(water, piece.full_cm)
    lasts = days_until(water, piece.full_cm, lowest)
    level = level_after(water, piece.full_cm, _days_between(piece.filled, now))
    every = max(1, math.floor(lasts.low))
    return Pouring(
        line=_line(falls.usual, min(every, LONGEST_LOOK_D), step_cm),
        every_d=every,
        level_cm=level,
        lowest_cm=lowest,
        falls_cm_d=falls,
        lasts_d=lasts,
        now_ml=_missing_ml(piece, level.usual),
        why=tuple(_why(piece, falls, lasts, step_cm)),
    )


def _days_between(start: dt.datetime, end: dt.datetime) -> float:
    return max(0.0, (end - start).total_seconds() / 86_400)


def _missing_ml(piece: OnDisplay, level_cm: float) -> float:
    full = poured_ml(piece.vessel, None, piece.full_cm)
    return max(0.0, full - poured_ml(piece.vessel, None, level_cm))


def _line(usual_cm_d: float, look_d: int, step_cm: float) -> Saying:
    """How fast it falls and how often to look, in one line."""
    look = Saying("keeping.looking.look", count=look_d)
    days = round(step_cm / usual_cm_d) if usual_cm_d > 0 else SLOW_DAYS + 1
    if days > SLOW_DAYS:
        return Saying("keeping.looking.slowly", look=look)
    if days < 1:
        return Saying("keeping.looking.quickly", fall_cm=usual_cm_d, look=look)
    return Saying("keeping.looking.falls", fall_cm=step_cm, count=days, look=look)


def _why(piece: OnDisplay, falls: Between, lasts: Between, step_cm: float) -> Iterator[Saying]:
    """Range, model and what it rests on."""
    room = ROOMS[piece.room]
    yield Saying(
        "keeping.looking.range",
        fall_cm=step_cm,
        usual=_days_said(step_cm / falls.usual),
        low=_days_said(step_cm / falls.high),
        high=_days_said(step_cm / falls.low),
    )
    key = "lowest-pins" if piece.pins_cm is not None else "lowest-vase"
    told = {
        "lowest_cm": piece.lowest_cm,
        "low": _days_said(lasts.low),
        "high": _days_said(max(lasts.high, lasts.low + 1)),
    }
    yield Saying(f"keeping.looking.{key}", **told)
    if piece.readings:
        yield Saying("keeping.looking.by-ruler", count=len(piece.readings))
        return
    yield Saying("keeping.looking.model")
    yield _room_said(room)
    yield Saying("keeping.looking.drinks", drinks_ml=round(piece.water.drinks_ml_d, -1))
    yield Saying("keeping.looking.measure")


def _room_said(room: Room) -> Saying:
    return Saying(
        "keeping.looking.room",
        warm=f"{room.temperature_c:g}",
        warm_f=_fahrenheit(room.temperature_c),
        damp=f"{100 * room.humidity:g}",
        from_c=f"{room.from_c:g}",
        from_f=_fahrenheit(room.from_c),
        to_c=f"{room.to_c:g}",
        to_f=_fahrenheit(room.to_c),
        driest=f"{100 * room.driest:g}",
        dampest=f"{100 * room.dampest:g}",
    )


def _fahrenheit(temperature_c: float) -> str:
    return f"{round(temperature_c * 9 / 5 + 32)}"


def _days_said(days: float) -> str:
    """Days to the half below 3, whole above: a range asks for no more."""
    return f"{max(1, round(2 * days)) / 2:g}" if days < 3 else f"{round(days)}"


# Actions


def _fills(piece: OnDisplay, pouring: Pouring, now: dt.datetime) -> Iterator[Action]:
    """Every pouring to come; one that is overdue stands at its day."""
    day = piece.filled.date() + dt.timedelta(days=pouring.every_d)
    first = True
    while day < piece.until:
        at = max(now, _same_hour(piece.filled, day)) if first else _same_hour(piece.filled, day)
        since = piece.filled if first else at - dt.timedelta(days=pouring.every_d)
        level = level_after(piece.water, piece.full_cm, _days_between(since, at)).usual
        yield Action("fill", day, _fill(_missing_ml(piece, level)))
        day, first = max(day, now.date()) + dt.timedelta(days=pouring.every_d), False


def _same_hour(moment: dt.datetime, day: dt.date) -> dt.datetime:
    return dt.datetime.combine(day, moment.time())


def _fill(pour_ml: float) -> Saying:
    rounded = round(pour_ml, -1 if pour_ml < 1000 else -2)
    if rounded <= 0:
        return Saying("keeping.looking.fill-little")
    return Saying("keeping.looking.fill", pour_ml=rounded)


def _up(piece: OnDisplay) -> Action:
    pour = poured_ml(piece.vessel, None, piece.full_cm)
    says = Saying("keeping.looking.up", pour_ml=round(pour, -1 if pour < 1000 else -2))
    return Action("up", piece.since, says)


def _outs(stays: Sequence[Stays]) -> Iterator[Action]:
    for each in stays:
        if each.out_on is not None and not each.to_the_end:
            name, found = each.shown.plant, tuple(plant.english for plant in each.instead)
            key = "keeping.looking.out-instead" if found else "keeping.looking.out"
            says = Saying(key, plant=name.english, instead=found)
            yield Action("out", each.out_on, says, name.id)


def _down(piece: OnDisplay) -> Action:
    return Action("down", piece.until, Saying("keeping.looking.down"))


def in_short(actions: Sequence[Action]) -> tuple[Action, ...]:
    """What is to be done next of everything: of all pourings the first."""
    pourings = [each for each in actions if each.kind == "fill"]
    return tuple(each for each in actions if each not in pourings[1:])


# Plants


def _soonest(each: Stays) -> tuple[dt.date, str]:
    return each.out_on or dt.date.max, each.shown.plant.english


def _stays(piece: OnDisplay, shown: Shown) -> Stays:
    plant, grows = shown.plant, _grows(shown.plant)
    fact = lasting_days(plant)
    if fact is None or fact.low is None:
        says = Saying("keeping.display.look", plant=plant.english)
        return Stays(shown, None, None, False, says, grows=grows)
    days = _days_in(ROOMS[piece.room], fact.low, MEASURED_AT_C.get(fact.source, ROOM_C))
    out_on = shown.since + dt.timedelta(days=days)
    to_the_end = out_on >= piece.until
    pays = (piece.until - out_on).days >= WORTH_REPLACING_D
    key = "keeping.looking.to-the-end" if to_the_end else "keeping.display.out-on"
    return Stays(
        shown=shown,
        days=days,
        out_on=min(out_on, piece.until),
        to_the_end=to_the_end,
        says=Saying(key, plant=plant.english, date=out_on),
        instead=stand_ins(plant, out_on, piece.until, piece.region) if pays else (),
        grows=grows,
        source=fact.source,
        grade=fact.grade,
    )


def _days_in(room: Room, low_d: float, known_at_c: float) -> int:
    """Whole days at the least in a room; at least one."""
    here = min(low_d / ageing(room.temperature_c, known_at_c, q10) for q10 in WARM_Q10)
    return max(1, min(math.floor(low_d), round(here)))


def _grows(plant: Plant) -> Saying | None:
    fact = plant.fact(GROWS)
    if fact is None or fact.middle is None:
        return None
    told = {"plant": plant.english, "low_cm": fact.low, "high_cm": fact.high}
    return Saying("keeping.looking.grows", **told)


def stand_ins(old: Plant, on: dt.date, until: dt.date, region: str = "") -> tuple[Plant, ...]:
    """What may come in the place of a plant on a day, the best first."""
    own, stay_d = _low(old), (until - on).days
    found = [
        each
        for each in plants()
        if each.id != old.id and _is_like(each, old) and _low(each) > own and _may(each, on, region)
    ]
    found.sort(key=lambda each: (_low(each) < stay_d, -_low(each), each.english))
    return tuple(found[:STAND_INS])


def _low(plant: Plant) -> float:
    fact = lasting_days(plant)
    return 0.0 if fact is None or fact.low is None else fact.low


def _is_like(plant: Plant, old: Plant) -> bool:
    return plant.kind == old.kind and bool(old.roles) and old.roles[0] in plant.roles


def _may(plant: Plant, on: dt.date, region: str) -> bool:
    """Whether shops have it in the month, and nothing is known against it in a public room."""
    safe = plant.goes_home and not harms_if_eaten(plant) and plant.treatment != NEEDS_FIRE
    lawful = not any(plant.forbidden_in(name) for name in names_of(region))
    return safe and lawful and plant.on_market(on.month) is True


# The card for colleagues


def card(piece: OnDisplay, found: LookingAfter) -> DisplayCard:
    """The display card of a piece that is looked after."""
    below = piece.vessel.inside_cm - piece.full_cm
    lasting = tuple(
        Lasting(each.shown.plant.id, each.days, each.out_on, each.says, each.source, each.grade)
        for each in found.plants
    )
    from_memory = any(each.grade == "memory" for each in lasting)
    return DisplayCard(
        fill=Saying("keeping.looking.card-fill", below_rim_cm=below),
        pins=Saying("keeping.display.pins") if piece.pins_cm is not None else None,
        lasting=lasting,
        remove=Saying("keeping.display.remove", date=piece.until),
        remove_on=piece.until,
        ring=ring(piece.contact),
        visitors=visitors(piece.pins_cm is not None),
        minding=minding(piece.pins_cm is not None, piece.poison_line),
        grade=Saying("keeping.display.memory") if from_memory else None,
        places=found.places,
        water=found.pouring.line,
    )
