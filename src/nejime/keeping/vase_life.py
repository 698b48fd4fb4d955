"""How long cut stems last when they stood in the cold or in the warm: life as a sum of doses.

Model: a cut stem has a vase life at a reference temperature, and uses it up faster the warmer it
stands: `rate(T) = Q10 ** ((T - T_reference) / 10)`. What is left is the whole minus the sum of
rate times days, over the rate of the place where it stands next. Q10 is 3 up to 20 °C; above that
no number is known, so that everything is reckoned twice, with 2 and with 3, and told as a range.
Two limits come on top: the days for which a plant may be stored at all, and the temperature below
which it is damaged, under which it is never said to last longer but not to be stored. On pins in
shallow, warm water the low end of what is known counts.
Shapes: the formulas take floats or arrays. Days may be fractions; what is said is whole days,
because measured lives differ from these by about half a day, and more between one cultivar and
another. A species that gains by cold (stock does) is not known to the model.
Limits: 0 °C, or the temperature below which it is damaged, to 30 °C.
Source: respiration of roses and gypsophila rises threefold from 0 to 10 °C, and the life that is
left falls in proportion to what was respired (celikel2005, celikel2002); heat given off by
carnations from 0 to 50 °C (maxie1973), a mean Q10 of 2.8.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, TypeVar

import numpy as np
import numpy.typing as npt

from nejime.basis.sayings import Saying
from nejime.plants.plant import Fact, Plant

AGEING_Q10 = 3.0  # [celikel2005] between 0 and 10 °C, taken up to 20 °C
WARM_Q10 = (2.0, 3.0)  # [own] above 20 °C; maxie1973 has a mean of 2.8 up to 50 °C
WARM_FROM_C = 20.0  # [own] up to here the Q10 is taken as known
ROOM_C = 20.0  # [practice] where nothing else is said of a vase life
MEASURED_AT_C = {"ichimura2011": 23.0}  # [ichimura2011] the room of its trials
TROPICAL_C = 13.0  # [costa2021] the higher end: tropical plants of which no limit is known

STORED_BELOW_C = 10.0  # [own] colder than a cool room
IN_VASE = "vase_life_d"
Word = Literal["lasts", "over", "stored too long", "do not store"]
Number = TypeVar("Number", float, npt.NDArray[np.float64])


@dataclass(frozen=True, slots=True)
class Spell:
    """So many days in one place, at one temperature, in water or dry."""

    days: float
    at_c: float
    dry: bool = False


@dataclass(frozen=True, slots=True)
class Life:
    """A vase life at its reference temperature; an end that is not known is None."""

    low_d: float | None
    high_d: float | None
    at_c: float = ROOM_C
    source: str = ""
    grade: str = ""


@dataclass(frozen=True, slots=True)
class Left:
    """What is left of a vase life at the temperature at which it stands next, and why.

    `low_d` and `high_d` are days; both 0 where the word is not `lasts`, None where not known.
    """

    word: Word
    low_d: float | None
    high_d: float | None
    says: Saying


def rate(at_c: Number, reference_c: float = ROOM_C, q10: float = AGEING_Q10) -> Number:
    """How many days of life at the reference temperature one day here takes, for one Q10."""
    found: Number = q10 ** ((at_c - reference_c) / 10)
    return found


def ageing(at_c: Number, reference_c: float = ROOM_C, warm_q10: float = AGEING_Q10) -> Number:
    """The same with another Q10 above 20 °C. With 3 it is `rate`."""
    return _since_zero(at_c, warm_q10) / _since_zero(reference_c, warm_q10)


def _since_zero(at_c: Number, warm_q10: float) -> Number:
    """How much faster than at 0 °C, each part of the way by its own Q10."""
    warm_c = (abs(at_c - WARM_FROM_C) + (at_c - WARM_FROM_C)) / 2  # how far above, or 0
    found: Number = AGEING_Q10 ** ((at_c - warm_c) / 10) * warm_q10 ** (warm_c / 10)
    return found


def life_used_d(
    spells: Iterable[Spell], reference_c: float = ROOM_C, warm_q10: float = AGEING_Q10
) -> float:
    """Days of life at the reference temperature that these spells took."""
    return sum(each.days * ageing(each.at_c, reference_c, warm_q10) for each in spells)


def days_left(
    life_d: float,
    spells: Iterable[Spell],
    at_c: float,
    reference_c: float = ROOM_C,
    warm_q10: float = AGEING_Q10,
) -> float:
    """Days that are left at `at_c` of a life of `life_d` days; 0 where it is used up."""
    left = life_d - life_used_d(spells, reference_c, warm_q10)
    return max(0.0, left) / ageing(at_c, reference_c, warm_q10)


def implied_q10(short_d: float, warm_c: float, long_d: float, cool_c: float) -> float:
    """The Q10 that two lives at two temperatures stand for."""
    return float((long_d / short_d) ** (10 / (warm_c - cool_c)))


def vase_life(plant: Plant) -> Life | None:
    """The best that is known of a plant's vase life, with its temperature; None where nothing."""
    fact = plant.fact(IN_VASE)
    if fact is None:
        return None
    at_c = MEASURED_AT_C.get(fact.source, ROOM_C)
    return Life(fact.low, fact.high, at_c, fact.source, fact.grade)


def chill_c(plant: Plant) -> float | None:
    """Below which temperature a plant is damaged; None where no such limit is known."""
    fact = plant.fact("chill_below_c")
    if fact is not None:
        return fact.low if fact.high is None else fact.high
    return TROPICAL_C if plant.treatment == "tropical" else None


def storage_d(plant: Plant) -> Fact | None:
    """For how many days it may be stored in the cold; None where that is not known."""
    return plant.fact("store_d")


def left(
    plant: Plant, spells: Iterable[Spell], at_c: float = ROOM_C, *, on_pins: bool = False
) -> Left:
    """How long a plant still lasts at `at_c` after these spells.

    What stands below `STORED_BELOW_C` is stored: where it stands so now, the smaller of life and
    storage counts. `on_pins`: it stands in shallow, warm water.
    """
    stood, name = tuple(spells), plant.english
    limit_c = chill_c(plant)
    if limit_c is not None and any(each.at_c < limit_c for each in (*stood, Spell(0.0, at_c))):
        says = Saying("keeping.left.do-not-store", plant=name, limit_c=limit_c)
        return Left("do not store", 0.0, 0.0, says)
    cap = storage_d(plant)
    stored = sum(each.days for each in stood if each.at_c < STORED_BELOW_C)
    if cap is not None and cap.high is not None and stored > cap.high:
        says = Saying("keeping.left.stored", plant=name, count=math.floor(cap.high))
        return Left("stored too long", 0.0, 0.0, says)
    known = vase_life(plant)
    if known is None:
        return Left("lasts", None, None, Saying("keeping.left.not-known", plant=name))
    # Nothing is promised where the low end is not known.
    low = min(_of_either(known.low_d or 0.0, known.at_c, stood, at_c))
    high = None if known.high_d is None else max(_of_either(known.high_d, known.at_c, stood, at_c))
    if cap is not None and at_c < STORED_BELOW_C:
        low = _smaller(low, cap.low, stored)
        high = None if high is None else _smaller(high, cap.high, stored)
    return _told(name, low, low if on_pins else high)


def _of_either(
    life_d: float, reference_c: float, stood: tuple[Spell, ...], at_c: float
) -> list[float]:
    """What is left with the one and with the other Q10 above 20 °C."""
    return [days_left(life_d, stood, at_c, reference_c, q10) for q10 in WARM_Q10]


def _smaller(days: float, cap_d: float | None, stored: float) -> float:
    """No more than what is left of the time for which it may be stored."""
    return days if cap_d is None else min(days, max(0.0, cap_d - stored))


def _told(name: str, low: float, high: float | None) -> Left:
    """Whole days: what is left at the least is cut off, what at the most is rounded."""
    least = math.floor(low)
    if high is None:
        key = "keeping.left.at-least" if least else "keeping.left.not-known"
        return Left("lasts", low, None, Saying(key, plant=name, count=least))
    most = max(least, round(high))
    if not most:
        return Left("over", 0.0, 0.0, Saying("keeping.left.over", plant=name))
    if least == most:
        return Left("lasts", low, high, Saying("keeping.left.about", plant=name, count=most))
    says = Saying("keeping.left.days", plant=name, low=str(least), high=str(most))
    return Left("lasts", low, high, says)
