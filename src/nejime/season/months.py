"""Bloom by months of the plant table, and by the length of the day.

Model: the months of a plant hold for a reference place. In spring, their first and last days are
turned into sums of warmth there and looked up here, and what begins in late winter moves with
March; in autumn they are moved by four days a degree,
earlier towards the pole; in high summer and winter they stay. In the south they are half a year
later. A plant that waits for short days blooms so many weeks after the first day that is short
enough at this latitude.
Limits: months are wide, and what is told of them is for ordering, not for dating.
Source: on each fact of the plant table; Hopkins (1938) reversed for autumn.
"""

from __future__ import annotations

import calendar
import datetime as dt
from collections.abc import Iterator
from dataclasses import replace

from nejime.plants.plant import CENTRAL_JAPAN, TEMPERATE_NORTH, Fact
from nejime.plants.table import Plant
from nejime.season import evidence
from nejime.season.answer import EIGHT_OF_TEN, Bloom, Measured, Site
from nejime.season.climate import Climate, Floats
from nejime.season.daylight import short_enough
from nejime.season.elsewhere import HOPKINS_D_DEG_NORTH, YEAR_OF_SUMS, climate_of
from nejime.season.thermal import Season, threshold_on
from nejime.season.warmth import OPEN_D, reach, usual_sums

WINDOW_ERROR_D = 12.0  # [own] half a month, which a month leaves out at each end
ALL_YEAR_MONTHS = 10  # [own] what is there for so long has no season
SPRING = range(3, 7)  # [own] months of the north whose first days are decided by warmth
LATE_WINTER = range(1, 3)  # [own] and these move with March
AUTUMN = range(8, 12)  # [own] months of the north that come earlier towards the pole
NEAREST = 4  # [own] stretches of months that are moved, to find the nearest
MOST_AUTUMN_D = 30.0  # [own] no month is moved further
TENDER_C = 2.0  # [own] the coldest month: Tokyo's is near 5, and its gardens grow what is tender
TROPIC_DEG = 23.44  # [memory] between the tropics months of temperate places say nothing
WEEK_D = 7
REFERENCE = {CENTRAL_JAPAN: ("Tokyo", "JP"), TEMPERATE_NORTH: ("New York City", "US")}
"""[own] the shipped climates that stand for the places of the plant table."""


def facts_of(plant: Plant, site: Site) -> tuple[Fact, ...]:
    """The months of a plant that are used at a site: those of its part of the world, or others.

    What is told for the mild winters of central Japan alone is told for no harder ones.
    """
    here = plant.facts_of("garden_months", site.months_of)
    if here:
        return here
    hard = site.climate is not None and site.climate.coldest_c < TENDER_C
    if hard and site.months_of == TEMPERATE_NORTH:
        return ()
    other = ({CENTRAL_JAPAN, TEMPERATE_NORTH} - {site.months_of}).pop()
    return plant.facts_of("garden_months", other)


def open_d(plant: Plant, site: Site) -> int:
    """How many days it is open: a branch of blossom its ten, everything else its months."""
    if plant.id in evidence.rules():
        return OPEN_D if evidence.rules()[plant.id].rule == "warmth" else 4 * WEEK_D
    months = [_length(fact) for fact in facts_of(plant, site)]
    return min(months, default=1) * 30  # [hand] days of a month


def _length(fact: Fact) -> int:
    low, high = _months(fact)
    return (high - low) % 12 + 1


def _months(fact: Fact) -> tuple[int, int]:
    """The first and the last month; the table's loader lets no open range pass."""
    assert fact.low is not None
    assert fact.high is not None
    return int(fact.low), int(fact.high)


def by_months(plant: Plant, site: Site, day: dt.date, known: Measured) -> list[Bloom]:
    """The stretch of its months nearest to a day; nothing where none are known, or in the tropics.

    What is there all year is so everywhere.
    """
    facts = facts_of(plant, site)
    if any(_length(fact) >= ALL_YEAR_MONTHS for fact in facts):
        return [_all_year(plant.id, facts[0], day)]
    if abs(site.lat_deg) < TROPIC_DEG:
        return []
    plain = [
        (_plain(plant.id, fact, site, year), fact)
        for fact in facts
        for year in (day.year - 1, day.year, day.year + 1)
    ]
    plain.sort(key=lambda each: each[0].outside_d(day))
    found = [each for told, fact in plain[:NEAREST] for each in _moved(told, fact, site, known)]
    return sorted(found, key=lambda each: each.outside_d(day))[:1]


def _all_year(plant: str, fact: Fact, day: dt.date) -> Bloom:
    first, last = dt.date(day.year, 1, 1), dt.date(day.year, 12, 31)
    return Bloom(plant, first, last, 0.0, "all-year", fact.source, fact.grade, fact.place)


def _plain(plant: str, fact: Fact, site: Site, year: int) -> Bloom:
    """The months that begin in a year, as they stand; half a year later in the south."""
    low, _ = _months(fact)
    turned = 6 if site.southern else 0
    first_month = (low - 1 + turned) % 12 + 1
    begins = dt.date(year, first_month, 1)
    ends = _last_day(begins, _length(fact))
    return Bloom(plant, begins, ends, WINDOW_ERROR_D, "window", fact.source, fact.grade, fact.place)


def _moved(told: Bloom, fact: Fact, site: Site, known: Measured) -> Iterator[Bloom]:
    """The months moved to the site; nothing where they never come there."""
    low, high = _months(fact)
    reference = climate_of(*REFERENCE[fact.place])
    if low in SPRING and high in range(low, 9) and site.climate is not None:
        assert reference is not None
        yield from _by_warmth(told, (low, high), reference, site, known)
    elif low in LATE_WINTER and high >= low and site.climate is not None:
        assert reference is not None
        yield from _after_winter(told, reference, site, known)
    elif low in AUTUMN and reference is not None:
        late = HOPKINS_D_DEG_NORTH * (abs(reference.lat_deg) - abs(site.lat_deg))
        days = dt.timedelta(days=round(max(-MOST_AUTUMN_D, min(MOST_AUTUMN_D, late))))
        yield replace(told, begins=told.begins + days, ends=told.ends + days)
    else:
        yield told


def _last_day(begins: dt.date, months: int) -> dt.date:
    count = begins.month - 1 + months - 1
    year, month = begins.year + count // 12, count % 12 + 1
    return dt.date(year, month, calendar.monthrange(year, month)[1])


def _by_warmth(
    told: Bloom, months: tuple[int, int], reference: Climate, site: Site, known: Measured
) -> Iterator[Bloom]:
    """The months begin and end where their sums of warmth, found at the reference, are reached.

    They never last longer than there: a cool summer brings the last sum so late that no flower is
    left.
    """
    usual, total = usual_sums(reference, YEAR_OF_SUMS)
    low, high = months
    first = _reached(told, told.begins, dt.date(YEAR_OF_SUMS, low, 1), usual, total, site, known)
    end = _last_day(dt.date(YEAR_OF_SUMS, high, 1), 1)
    last = _reached(told, told.ends, end, usual, total, site, known)
    if first is not None:
        ends = told.ends if last is None else last.begins
        ends = min(ends, first.begins + (told.ends - told.begins))
        ends = max(ends, first.begins)
        yield replace(told, begins=first.begins, ends=ends, shift_d=first.shift_d)


def _after_winter(told: Bloom, reference: Climate, site: Site, known: Measured) -> Iterator[Bloom]:
    """The months come later by as much as March does, by its warmth."""
    march = dt.date(told.begins.year, 9 if site.southern else 3, 1)
    usual, total = usual_sums(reference, YEAR_OF_SUMS)
    there = dt.date(YEAR_OF_SUMS, 3, 1)
    first = _reached(told, march, there, usual, total, site, known)
    if first is not None:
        days = first.begins - march
        yield replace(told, begins=told.begins + days, ends=told.ends + days)


def _reached(
    told: Bloom,
    near: dt.date,
    there: dt.date,
    usual: Season,
    total: Floats,
    site: Site,
    known: Measured,
) -> Bloom | None:
    """When the warmth that a date has at the reference is there at the site."""
    threshold = threshold_on(usual, total, there)
    return None if threshold is None else reach(told.plant, site, near, threshold, known)


def by_day_length(plant: str, site: Site, day: dt.date) -> list[Bloom]:
    """The bloom after the first short day; nothing for other plants, or without such a day."""
    rule = evidence.rules().get(plant)
    if rule is None or rule.rule != "day-length":
        return []
    found = []
    for year in (day.year - 1, day.year, day.year + 1):
        short = short_enough(site.lat_deg, year, rule.critical_h)
        if short is not None:
            weeks = sum(rule.weeks) / 2
            begins = short + dt.timedelta(days=round(weeks * WEEK_D))
            ends = begins + dt.timedelta(days=4 * WEEK_D)
            error = (rule.weeks[1] - rule.weeks[0]) / 2 * WEEK_D / EIGHT_OF_TEN
            told = Bloom(plant, begins, ends, error, "day-length", rule.source, rule.grade)
            found.append(replace(told, place=rule.place))
    return sorted(found, key=lambda each: each.outside_d(day))[:1]
