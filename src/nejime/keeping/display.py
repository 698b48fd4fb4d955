"""What colleagues need to know of a piece that stays on display: the display card.

Model: a piece on pins stands in little, warm water, so the low end of what is known of a plant
counts: days on pins where those are known, else the vase life. Where nothing is known, no day is
named. The card says for how long at the most, and when each flower comes out before that.
Shapes: days are calendar days, the day of the class is day 0.
Source: the plant table; days from memory are told as such.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass

from nejime.basis.sayings import Saying
from nejime.plants.plant import Fact
from nejime.plants.table import Plant

ON_PINS = "display_on_pins_d"
IN_VASE = "vase_life_d"


@dataclass(frozen=True, slots=True)
class Lasting:
    """How long a plant lasts on display: whole days at the least, and how well that is known."""

    plant: str
    days: int | None
    out_on: dt.date | None
    says: Saying
    source: str = ""
    grade: str = ""


@dataclass(frozen=True, slots=True)
class DisplayCard:
    """The lines of a display card."""

    fill: Saying
    pins: Saying | None
    lasting: tuple[Lasting, ...]
    remove: Saying
    remove_on: dt.date
    ring: Saying
    visitors: Saying
    minding: tuple[Saying, ...]
    grade: Saying | None
    places: tuple[Saying, ...] = ()
    water: Saying | None = None


def lasting_days(plant: Plant) -> Fact | None:
    """The best fact on how long it lasts on pins: one on pins, else one in a vase, else None."""
    known = [
        fact for what in (ON_PINS, IN_VASE) for fact in plant.facts_of(what) if fact.low is not None
    ]
    return known[0] if known else None


def display(
    plants: Sequence[Plant],
    from_day: dt.date,
    days: int,
    *,
    below_rim_cm: float | None = None,
    on_pins: bool = True,
    contact: str = "",
    poison_line: str = "",
) -> DisplayCard:
    """The card of a piece that stays for `days` days from `from_day`.

    `below_rim_cm` is how far under the rim the water stands; None where the vessel is not known.
    """
    remove_on = from_day + dt.timedelta(days=days)
    lasting = tuple(_lasting(plant, from_day, remove_on) for plant in plants)
    fill = (
        Saying("keeping.display.fill-blank")
        if below_rim_cm is None
        else Saying("keeping.display.fill", below_rim_cm=below_rim_cm)
    )
    from_memory = any(each.grade == "memory" for each in lasting)
    return DisplayCard(
        fill=fill,
        pins=Saying("keeping.display.pins") if on_pins else None,
        lasting=lasting,
        remove=Saying("keeping.display.remove", date=remove_on),
        remove_on=remove_on,
        ring=ring(contact),
        minding=minding(on_pins, poison_line),
        visitors=visitors(on_pins),
        grade=Saying("keeping.display.memory") if from_memory else None,
        places=not_there(plants),
    )


def ring(contact: str) -> Saying:
    """Whom to ring; room to write where nobody is known."""
    if contact:
        return Saying("keeping.display.ring", contact=contact)
    return Saying("keeping.display.ring-blank")


def visitors(on_pins: bool) -> Saying:
    """What those who look are asked."""
    return Saying(f"keeping.display.do-not-touch{'' if on_pins else '-plain'}")


def not_there(plants: Sequence[Plant]) -> tuple[Saying, ...]:
    """Where a piece of these plants should not stand."""
    within_reach = [each for each in plants if each.kind == "berry" or harms_if_eaten(each)]
    found = [Saying("keeping.display.not-hot"), Saying("keeping.display.not-over-books")]
    if within_reach:
        names = tuple(each.english for each in within_reach)
        found.append(Saying("keeping.display.not-in-reach", plants=names))
    return tuple(found)


def harms_if_eaten(plant: Plant) -> bool:
    """Whether it is known to harm people who eat of it. False means: nothing known."""
    return any(each.hazard == "toxic-eaten" and each.to == "people" for each in plant.hazards)


def minding(on_pins: bool, poison_line: str) -> tuple[Saying, ...]:
    """What whoever looks after the piece must beware of."""
    keys = ["water", *(["lead"] if on_pins else [])]
    found = [Saying(f"keeping.display.{key}") for key in keys]
    if poison_line:
        found.append(Saying("keeping.display.eaten", line=poison_line))
    return tuple(found)


def _lasting(plant: Plant, from_day: dt.date, remove_on: dt.date) -> Lasting:
    fact = lasting_days(plant)
    if fact is None or fact.low is None:
        return Lasting(plant.id, None, None, Saying("keeping.display.look", plant=plant.english))
    days = math.floor(fact.low)
    out_on = min(from_day + dt.timedelta(days=days), remove_on)
    key = "keeping.looking.to-the-end" if out_on == remove_on else "keeping.display.out-on"
    says = Saying(key, plant=plant.english, date=out_on)
    return Lasting(plant.id, days, out_on, says, fact.source, fact.grade)
