"""How fast the water of a piece falls, and when it is time to pour.

Model: what a still, open surface gives off is the larger of two terms, one for damp air that rises
and one for air that lies still; a rim above the water keeps a layer of air through which the
vapour must pass, in series. Stems drink in proportion to how dry the air is and to their leaves.
Both together make the level fall; the area at each level comes from the vessel's shape.
The answer is a range. Its slow end is half of the usual: water cools as it gives off. Its quick
end is the formula of the engineers for moving air, without the shelter of a rim, and 2.3 times the
drinking: published formulas differ up to fourfold. A ruler laid in once puts the room's own rate
in the place of the model's, and the range gets as narrow as a ruler allows.
The water is as warm as the room. The pin holder and the stems take up no area.
Frame: levels are counted from the floor inside.
Source: Shah (2014) for the surface, its two constants from memory and checked against values of
its table; ASHRAE's form of Carrier's formula (Shah 2011) for the quick end; drinking grows with
the deficit of the air by Doi et al. (2000), how much is from memory.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from nejime.forms.holder import WATER_COVER_CM
from nejime.forms.vessel import Vessel
from nejime.keeping import moist_air as air
from nejime.plants.plant import Plant
from nejime.standing.water import LOW_SHARE

RISING = 35.0  # [memory] Shah's constant for damp air that rises, kg/m²h
LYING = 5e-5  # [memory] Shah's constant for air that lies still, kg/m²h per Pa
STILL_M_S = 0.1  # [practice] movement of the air in a room without a draught
DIFFUSION_M2_S = 2.4e-5  # [memory] of water vapour in air at room temperature
DRINKS_ML_D_KPA = 10.0  # [memory] a leafy stem of 40 cm, a day, for each kPa the air is short of
SLOW, QUICK = 0.5, 2.3  # [own] the ends of the range over the usual; ASHRAE is 2.3 times Shah
RULER_CM = 0.05  # [own] a ruler is read to half a millimetre
DAY_TO_DAY = 0.3  # [own] how much one day differs from another in the same room
SLICES = 24  # [own] of the fall; the rate changes smoothly
LEAST_CM_D = 1e-4  # [own] water that falls more slowly stands still
LONGEST_D = 3650.0  # [own] nobody waits longer

DRINKING = {  # [own] over a leafy stem, by the kind of stem
    "bare-branch": 0.3,
    "leafy-branch": 1.0,
    "firm-stem": 1.0,
    "soft-stem": 0.6,
    "leaf-stalk": 0.5,
}


@dataclass(frozen=True, slots=True)
class Room:
    """The air of a room: what is reckoned with, and between what it may lie."""

    temperature_c: float
    humidity: float
    from_c: float
    to_c: float
    driest: float
    dampest: float


ROOMS = {  # [own] what can be known of a room without instruments
    "cool": Room(15.0, 0.55, 12.0, 17.0, 0.45, 0.65),
    "usual": Room(20.0, 0.50, 18.0, 22.0, 0.40, 0.60),
    "heated": Room(21.0, 0.30, 19.0, 23.0, 0.20, 0.40),
    "hot": Room(28.0, 0.50, 25.0, 31.0, 0.40, 0.60),
}


@dataclass(frozen=True, slots=True)
class Between:
    """A number that is not known exactly: its least, its usual and its most."""

    low: float
    usual: float
    high: float


@dataclass(frozen=True, slots=True)
class Reading:
    """How far water that stood at a level fell in some hours, read with a ruler."""

    hours: float
    fell_cm: float


@dataclass(frozen=True, slots=True)
class Standing:
    """Water in a vessel in a room, with what drinks from it.

    `full_cm` is the level to which it is filled, where every reading begins.
    """

    vessel: Vessel
    full_cm: float
    room: Room
    drinks_ml_d: float = 0.0
    readings: tuple[Reading, ...] = ()


# The surface


def open_surface(water_c: float, air_c: float, humidity: float) -> float:
    """What a still, open surface gives off, kg/m²h (Shah 2014): the larger of two terms."""
    rises = air.dry_air_kg_m3(air_c, humidity) - air.dry_air_kg_m3(water_c, 1.0)
    short_of = air.kg_vapour_per_kg(water_c, 1.0) - air.kg_vapour_per_kg(air_c, humidity)
    rising = RISING * air.dry_air_kg_m3(water_c, 1.0) * math.cbrt(max(0.0, rises)) * short_of
    lying = LYING * 1000.0 * _pull_kpa(water_c, air_c, humidity)
    return max(0.0, rising, lying)


def moved_air(water_c: float, air_c: float, humidity: float, wind_m_s: float = STILL_M_S) -> float:
    """What it gives off where the air moves, kg/m²h: Carrier's formula as ASHRAE has it."""
    kg_s_m2 = (
        max(0.0, _pull_kpa(water_c, air_c, humidity))
        * (0.089 + 0.0782 * wind_m_s)
        / air.latent_kj_kg(water_c)
    )
    return kg_s_m2 * 3600.0


def _pull_kpa(water_c: float, air_c: float, humidity: float) -> float:
    return air.saturation_kpa(water_c) - air.vapour_kpa(air_c, humidity)


def under_a_rim(open_kg_m2_h: float, rim_cm: float, short_of_kg_m3: float) -> float:
    """What is left of it under a rim, kg/m²h: surface and still air in series.

    `short_of_kg_m3` is the vapour at the surface less that in the room.
    """
    if open_kg_m2_h <= 0.0 or short_of_kg_m3 <= 0.0:
        return 0.0
    lets_through = DIFFUSION_M2_S * short_of_kg_m3 * 3600.0 * 100.0
    return 1.0 / (1.0 / open_kg_m2_h + max(0.0, rim_cm) / lets_through)


def cm_a_day(kg_m2_h: float) -> float:
    """A kilogram of water on a square metre is a millimetre."""
    return kg_m2_h * 24.0 / 10.0


# Drinking


def drinks_ml_d(leafiness: Iterable[float], room: Room) -> float:
    """What stems drink in a day; `leafiness` of each over a leafy stem of 40 cm."""
    short_of = air.deficit_kpa(room.temperature_c, room.humidity)
    return DRINKS_ML_D_KPA * short_of * sum(leafiness)


def leafiness(plant: Plant) -> float:
    """How much one of its stems drinks over a leafy stem."""
    return DRINKING[plant.stem]


# Falling


def falls_cm_d(water: Standing, level_cm: float) -> Between:
    """How far the water falls in a day while it stands at a level."""
    usual = _modelled_cm_d(water, level_cm)
    if water.readings:
        scale = rescaled(water)
        return Between(usual * scale.low, usual * scale.usual, usual * scale.high)
    room = water.room
    moved = moved_air(room.temperature_c, room.temperature_c, room.humidity)
    return Between(SLOW * usual, usual, cm_a_day(moved) + QUICK * _drunk_cm_d(water, level_cm))


def _modelled_cm_d(water: Standing, level_cm: float) -> float:
    room, warm = water.room, water.room.temperature_c
    short_of = air.vapour_kg_m3(warm, 1.0) - air.vapour_kg_m3(warm, room.humidity)
    given = under_a_rim(
        open_surface(warm, warm, room.humidity), water.vessel.inside_cm - level_cm, short_of
    )
    return cm_a_day(given) + _drunk_cm_d(water, level_cm)


def _drunk_cm_d(water: Standing, level_cm: float) -> float:
    area = water.vessel.area_cm2(level_cm)
    return water.drinks_ml_d / area if area > 0.0 else 0.0


def rescaled(water: Standing) -> Between:
    """What was read over what the model says, with how far readings can be trusted.

    The more was read, the narrower; never wider than without a reading.
    """
    read_cm = sum(each.fell_cm for each in water.readings)
    hours = sum(each.hours for each in water.readings)
    says_cm = _modelled_cm_d(water, water.full_cm) * hours / 24.0
    usual = read_cm / max(says_cm, LEAST_CM_D)
    at_ruler = RULER_CM * math.sqrt(2 * len(water.readings)) / read_cm
    spread = 1.0 + math.hypot(at_ruler, DAY_TO_DAY / math.sqrt(len(water.readings)))
    return Between(usual * max(SLOW, 1.0 / spread), usual, usual * min(QUICK, spread))


def days_until(water: Standing, from_cm: float, to_cm: float) -> Between:
    """In how many days the water falls from a level to another; `low` is the soonest."""
    levels = _levels(from_cm, to_cm)
    soonest, usual, latest = (_days(water, levels, end) for end in ("high", "usual", "low"))
    return Between(soonest, usual, latest)


def _levels(from_cm: float, to_cm: float) -> list[float]:
    return [from_cm + (to_cm - from_cm) * step / SLICES for step in range(SLICES + 1)]


def _days(water: Standing, levels: Sequence[float], end: str) -> float:
    """Days to pass through levels that fall, each slice at the rate of its middle."""
    days = 0.0
    for high, low in pairwise(levels):
        rate: float = getattr(falls_cm_d(water, (high + low) / 2), end)
        days += max(0.0, high - low) / max(rate, LEAST_CM_D)
    return min(days, LONGEST_D)


def level_after(water: Standing, from_cm: float, days: float) -> Between:
    """Where the water stands after some days; `low` is the lowest. It never falls below 0."""
    lowest, usual, highest = (_level(water, from_cm, days, end) for end in ("high", "usual", "low"))
    return Between(lowest, usual, highest)


def _level(water: Standing, from_cm: float, days: float, end: str) -> float:
    levels = _levels(from_cm, 0.0)
    left = days
    for high, low in pairwise(levels):
        rate: float = max(getattr(falls_cm_d(water, (high + low) / 2), end), LEAST_CM_D)
        if (high - low) / rate >= left:
            return high - left * rate
        left -= (high - low) / rate
    return 0.0


def lowest_cm(full_cm: float, pins_cm: float | None) -> float:
    """The level at which it is time to pour: little over the pins or, without any, a third gone.

    Where the water covers the pins by less than it should, that is at once: their points.
    """
    if pins_cm is None:
        return LOW_SHARE * full_cm
    covered = pins_cm + WATER_COVER_CM
    return covered if covered < full_cm else pins_cm
