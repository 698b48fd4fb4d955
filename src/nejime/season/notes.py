"""Bloom by the teacher's own notes: "I saw it open on …".

Model: a note of this very season says it all. Notes of other years are turned, for spring branches,
into the sum of warmth that had come together on their days, and the mean of the last few is looked
up in this year; where that cannot be, the mean of their dates is told.
Source: how far off this is with one note and with three was measured on the cherry at Kyoto and its
daily temperatures, every note of 1991 to 2021 tried on all others (tests/published/test_kyoto.py).
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from nejime.season import evidence
from nejime.season.answer import Bloom, Measured, Site
from nejime.season.thermal import season, starts, sums
from nejime.season.warmth import reach

ERROR_D = {1: 2.88, 3: 2.41}  # [jma-kyoto] by how many notes, where temperatures were measured
BARE_ERROR_D = {1: 4.90, 3: 4.00}  # [jma-kyoto] the same date as before
SEEN_ERROR_D = 1.0  # [own] it may have opened on the day before
LAST_NOTES = 5  # [own] gardens change: older notes count no more
THIS_SEASON_D = 120  # [own] a note so old is no news of the season in which the class is
SPRING_D = 180  # [own] half a year after the start it is no blossom of spring
HALF_YEAR_D = 183


def by_notes(
    plant: str,
    site: Site,
    day: dt.date,
    seen: Sequence[dt.date],
    known: Measured,
    open_d: int,
) -> list[Bloom]:
    """What her notes say of the bloom nearest to a day; nothing without any.

    `open_d` is how many days such a plant stays open.
    """
    noted = sorted(set(seen))[-LAST_NOTES:]
    if not noted:
        return []
    now = [note for note in noted if 0 <= (day - note).days <= THIS_SEASON_D]
    if now:
        return [_seen(plant, now, open_d)]
    return [
        _by_sums(plant, site, day, noted, known, open_d) or _by_dates(plant, day, noted, open_d)
    ]


def _seen(plant: str, now: Sequence[dt.date], open_d: int) -> Bloom:
    began = next(note for note in now if (now[-1] - note).days <= open_d)
    ends = began + dt.timedelta(days=open_d)
    return Bloom(plant, began, ends, SEEN_ERROR_D, "seen", "teacher", "practice", count=1)


def _by_sums(
    plant: str,
    site: Site,
    day: dt.date,
    noted: Sequence[dt.date],
    known: Measured,
    open_d: int,
) -> Bloom | None:
    """By the sum of warmth on her days; None where that is not this plant's rule, or unknown."""
    rule = evidence.rules().get(plant)
    if rule is None or rule.rule != "warmth" or site.climate is None:
        return None
    found = [_sum_on(note, site, known) for note in noted]
    if any(days > SPRING_D for _, days, _ in found):
        return None
    threshold = sum(total for total, _, _ in found) / len(found)
    made = reach(plant, site, day, threshold, known, open_d=open_d)
    if made is None:
        return None
    whole = all(measured for _, _, measured in found)
    error = math.hypot(_by_count(ERROR_D if whole else BARE_ERROR_D, len(noted)), made.error_d)
    return _told(made, error, len(noted))


def _by_dates(plant: str, day: dt.date, noted: Sequence[dt.date], open_d: int) -> Bloom:
    begins = same_date(noted, day)
    ends = begins + dt.timedelta(days=open_d)
    error = _by_count(BARE_ERROR_D, len(noted))
    return _told(Bloom(plant, begins, ends, error, "own-record", "", ""), error, len(noted))


def _told(made: Bloom, error: float, count: int) -> Bloom:
    return replace(
        made,
        error_d=error,
        evidence="own-record",
        source="teacher",
        grade="practice",
        count=count,
    )


def _by_count(errors: Mapping[int, float], count: int) -> float:
    return errors[3] if count >= 3 else errors[1]


def _sum_on(note: dt.date, site: Site, known: Measured) -> tuple[float, int, bool]:
    """The sum of warmth on a noted day, how many days it took, and whether all were measured."""
    assert site.climate is not None
    first = starts(note.year, site.southern)
    if first > note:
        first = starts(note.year - 1, site.southern)
    days = (note - first).days + 1
    of = season(site.climate, first, known, days)
    return float(sums(of)[-1]), days, of.measured == days


def same_date(noted: Sequence[dt.date], day: dt.date) -> dt.date:
    """The mean date in the year of notes of several years, as near to a day as it comes."""
    offsets = [_turned_d(noted[0], note) for note in noted]
    middle = noted[0] + dt.timedelta(days=round(sum(offsets) / len(offsets)))
    turns = [in_year(middle, day.year + step) for step in (-1, 0, 1)]
    return min(turns, key=lambda turn: abs((turn - day).days))


def _turned_d(first: dt.date, note: dt.date) -> int:
    """How many days later in the year a note is than the first, at most half a year either way."""
    turns = [(in_year(note, first.year + step) - first).days for step in (-1, 0, 1)]
    return min(turns, key=abs)


def in_year(day: dt.date, year: int) -> dt.date:
    """The same day of another year; the leap day is the day before where there is none."""
    return dt.date(year, day.month, min(day.day, 28) if day.month == 2 else day.day)
