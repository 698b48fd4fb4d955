"""The traditional calendar: 24 solar terms, 72 micro-seasons, extra days and the moon viewing.

Model: a period begins when the Sun's apparent longitude passes a whole number of degrees: every 15
for a solar term (sekki), every 5 for a micro-season (ko). It belongs to the civil date, in the zone
that is said, on which that moment falls; the current one is the latest whose date is not after the
day. Term and micro-season number 1 begin at 315 degrees, the first day of spring.
On the southern half of the Earth the traditional name stays the name of the day; the season that
matches there is the one on the far side of the Sun's path, 180 degrees on.
Frame: longitudes in degrees, 0 at the spring equinox of the north.
Shapes: moments are aware datetimes in the zone asked for; a day is a civil date in that zone.
Source: the moments in `data/sun.csv` and `data/new_moons.csv`, computed from JPL's DE421 by
`workings/solar_calendar.py`; the names are those of the calendar of 1874, the English our own.
"""

from __future__ import annotations

import datetime as dt
from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Literal
from zoneinfo import ZoneInfo

from nejime.basis import tables
from nejime.basis.errors import refuse
from nejime.basis.tables import TableError

Kind = Literal["sekki", "ko"]

SUN, MOONS = "sun.csv", "new_moons.csv"
SUN_COLUMNS = ("begins", "longitude_deg")
NAME_COLUMNS = ("number", "longitude_deg", "kanji", "kana", "romaji", "english")
FIRST_YEAR, LAST_YEAR = 1951, 2050
JAPAN = ZoneInfo("Asia/Tokyo")
STEP_DEG: Mapping[Kind, int] = {"sekki": 15, "ko": 5}  # [hand] 360 in 24 and in 72
AUTUMN_EQUINOX_DEG = 180  # [naoj-reki]
RISSHUN_DEG = 315  # [naoj-reki]
HALF_TURN_DEG = 180  # [hand]
FULL_MOON_DAY = (
    14  # [naoj-reki] the fifteenth day, counted from the day of the new moon as the first
)
EXTRA_DEG: Mapping[str, int] = {  # [naoj-reki] the Sun's longitude at which a day begins
    "doyo-winter": 297,
    "doyo-spring": 27,
    "nyubai": 80,
    "hangesho": 100,
    "doyo-summer": 117,
    "doyo-autumn": 207,
}
HIGAN_DEG: Mapping[str, int] = {"higan-spring": 0, "higan-autumn": 180}  # [naoj-reki]
HIGAN_BEFORE_D = 3  # [naoj-reki] the seven days have the equinox in their middle
SETSUBUN_BEFORE_D = 1  # [naoj-reki] the day before spring begins
AFTER_RISSHUN_D: Mapping[str, int] = {  # [naoj-reki] the day of risshun counts as the first
    "night-88": 87,
    "day-210": 209,
}


@dataclass(frozen=True, slots=True)
class Name:
    """What a stretch of the Sun's path is called."""

    kind: Kind
    number: int
    longitude_deg: int
    kanji: str
    kana: str
    romaji: str
    english: str


@dataclass(frozen=True, slots=True)
class Period:
    """A solar term or micro-season with the moment when it begins."""

    name: Name
    starts: dt.datetime

    @property
    def kind(self) -> Kind:
        """`sekki` or `ko`."""
        return self.name.kind

    @property
    def number(self) -> int:
        """1 is the one that begins at 315 degrees."""
        return self.name.number

    @property
    def day(self) -> dt.date:
        """The civil date to which it belongs, in the zone of `starts`."""
        return self.starts.date()


@dataclass(frozen=True, slots=True)
class ExtraDay:
    """A day outside the 24 and 72 that the calendar marks. `name` is a key."""

    name: str
    day: dt.date


@cache
def names(kind: Kind) -> Mapping[int, Name]:
    """The names by the longitude at which each begins. Raises `TableError`."""
    file = f"{kind}.csv"
    found = {}
    for row, cells in enumerate(tables.read_csv(file, NAME_COLUMNS), start=2):
        degrees, number = int(cells["longitude_deg"]), int(cells["number"])
        if degrees != (RISSHUN_DEG + (number - 1) * STEP_DEG[kind]) % 360 or number != row - 1:
            raise TableError(file, row, "numbers are counted from 1, which is at 315 degrees")
        found[degrees] = Name(
            kind, number, degrees, *(cells[each] for each in ("kanji", "kana", "romaji", "english"))
        )
    return found


@cache
def _moments(kind: Kind) -> tuple[tuple[dt.datetime, ...], tuple[int, ...]]:
    """When each period of a kind begins, in UTC and in order, and at which longitude."""
    at = _passages()
    found = sorted((moment, degrees) for degrees in names(kind) for moment in at[degrees])
    return tuple(moment for moment, _ in found), tuple(degrees for _, degrees in found)


@cache
def _passages() -> Mapping[int, tuple[dt.datetime, ...]]:
    """Every moment at which the Sun passes a longitude, by the longitude."""
    found: dict[int, list[dt.datetime]] = {}
    for cells in tables.read_csv(SUN, SUN_COLUMNS):
        moment = dt.datetime.fromisoformat(cells["begins"])
        found.setdefault(int(cells["longitude_deg"]), []).append(moment)
    return {degrees: tuple(moments) for degrees, moments in found.items()}


@cache
def _new_moons() -> tuple[dt.date, ...]:
    """The days of the new moons, in Japan."""
    rows = tables.read_csv(MOONS, ("new_moon",))
    moons = (dt.datetime.fromisoformat(cells["new_moon"]) for cells in rows)
    return tuple(moon.astimezone(JAPAN).date() for moon in moons)


def check_day(day: dt.date) -> None:
    """Refuse a day outside the shipped calendar. Raises `InputError`."""
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise refuse(
            "on",
            "season.no-calendar",
            "season.no-calendar-try",
            year=str(day.year),
            first=str(FIRST_YEAR),
            last=str(LAST_YEAR),
        )


def current(day: dt.date, kind: Kind, zone: dt.tzinfo = JAPAN) -> Period:
    """The period that a day belongs to, in a zone. Raises `InputError` outside 1951 to 2050."""
    check_day(day)
    moments, _ = _moments(kind)
    tomorrow = dt.datetime.combine(day + dt.timedelta(days=1), dt.time(), zone)
    return _period(kind, bisect_right(moments, tomorrow - _TICK) - 1, zone)


_TICK = dt.timedelta(microseconds=1)  # midnight belongs to the day that begins


def following(period: Period) -> Period:
    """The next one of its kind, in the same zone."""
    moments, _ = _moments(period.kind)
    zone = period.starts.tzinfo or JAPAN
    return _period(period.kind, bisect_right(moments, period.starts), zone)


def _period(kind: Kind, place: int, zone: dt.tzinfo) -> Period:
    moments, degrees = _moments(kind)
    return Period(names(kind)[degrees[place]], moments[place].astimezone(zone))


def year_of(kind: Kind, year: int, zone: dt.tzinfo = JAPAN) -> tuple[Period, ...]:
    """The periods that begin in a civil year, in order. Raises `InputError` outside the table."""
    check_day(dt.date(year, 1, 1))
    moments, _ = _moments(kind)
    begun = [_period(kind, place, zone) for place in range(len(moments))]
    return tuple(period for period in begun if period.starts.year == year)


def matching(name: Name) -> Name:
    """The season on the other half of the Earth while this one is named here."""
    return names(name.kind)[(name.longitude_deg + HALF_TURN_DEG) % 360]


@lru_cache(maxsize=2048)
def passage(degrees: int, year: int, zone: dt.tzinfo = JAPAN) -> dt.datetime:
    """When the Sun passes a longitude in a civil year.

    Raises `InputError` outside the table, `KeyError` for a longitude that is not in it.
    """
    check_day(dt.date(year, 1, 1))
    moments = (moment.astimezone(zone) for moment in _passages()[degrees])
    return next(moment for moment in moments if moment.year == year)


def longitude_deg(moment: dt.datetime) -> float:
    """The Sun's longitude at a moment, between the passages next to it.

    Raises `InputError` outside 1951 to 2050.
    """
    check_day(moment.date())
    moments, degrees = _moments("ko")
    place = bisect_right(moments, moment) - 1
    passed = (moment - moments[place]) / (moments[place + 1] - moments[place])
    return (degrees[place] + passed * STEP_DEG["ko"]) % 360


def extra_days(year: int, zone: dt.tzinfo = JAPAN) -> tuple[ExtraDay, ...]:
    """The extra days of a civil year, in order. Raises `InputError` outside 1951 to 2050."""
    risshun = passage(RISSHUN_DEG, year, zone).date()
    found = {name: passage(degrees, year, zone).date() for name, degrees in EXTRA_DEG.items()}
    found["setsubun"] = risshun - dt.timedelta(days=SETSUBUN_BEFORE_D)
    for name, degrees in HIGAN_DEG.items():
        found[name] = passage(degrees, year, zone).date() - dt.timedelta(days=HIGAN_BEFORE_D)
    for name, days in AFTER_RISSHUN_D.items():
        found[name] = risshun + dt.timedelta(days=days)
    found["moon-viewing"] = moon_viewing(year)
    return tuple(ExtraDay(name, day) for name, day in sorted(found.items(), key=lambda of: of[1]))


def moon_viewing(year: int) -> dt.date:
    """The night of the autumn moon, by Japan's date.

    The fifteenth day, counted from the day of the last new moon not after the autumn equinox.
    Raises `InputError` outside 1951 to 2050.
    """
    equinox = passage(AUTUMN_EQUINOX_DEG, year).date()
    days = _new_moons()
    return days[bisect_right(days, equinox) - 1] + dt.timedelta(days=FULL_MOON_DAY)
