"""Daily temperatures out of whatever CSV a weather service gives: means by date, or faults.

Model: the header is the first line under which dates stand. Which column is the date, the mean, the
highest and the lowest of the day is seen from the header's words, the unit from the header, else
from what fits the climate of the place best, else from the numbers themselves; all of it is told,
so that it can be refused. A day's mean is the mean column, else the middle of highest and lowest.
Gaps of a week or less are filled in a straight line, longer ones are left and told.
Shapes: means in °C by civil date.
Source: separators and quotes as in RFC 4180; -9999 and its like for "missing" is common practice.
"""

from __future__ import annotations

import csv
import datetime as dt
import io
import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from nejime.basis.errors import InputError
from nejime.reading.text import read_bytes, refuse_file
from nejime.season.climate import Climate, Floats
from nejime.season.terms import LAST_YEAR

Unit = Literal["c", "f", "tenths"]
Part = Literal["date", "mean", "high", "low"]

UNITS: tuple[Unit, ...] = ("c", "f", "tenths")
MOST_BYTES = 12_000_000  # [own] a hundred years of twenty columns
SEPARATORS = ";\t,"
HEADER_WITHIN = 60  # [own] lines of remarks before a header
GAP_D = 7  # [own] longer gaps are not bridged
MOST_A_DAY = 1.5  # [own] lines for a date: with more the file is one of hours
HOTTEST_DAY_C, COLDEST_DAY_C = 45.0, -75.0  # [memory] no day's mean is beyond
HOT_NUMBER = 50.0  # [own] a number above is no mean in °C
TENTHS_NUMBER = 130.0  # [own] and one above that none in °F either
MISSING = ("", "-", "na", "nan", "null", "none", "m", "x", "--", "n/a", "trace")
MISSING_BEYOND = 900.0  # [practice] -999, 9999, -99.9 times ten and the like
WORDS: Mapping[Part, tuple[str, ...]] = {  # [own] the surest word first
    "date": ("date", "datum", "fecha", "day", "time", "datetime", "valid", "mess_datum"),
    "mean": (
        "tavg", "tmean", "tmk", "tg", "temp_avg", "avg_temp", "temperature_2m_mean", "mean",
        "average", "avg", "media", "mittel", "temp", "temperature", "t",
    ),
    "high": ("tmax", "txk", "tx", "temp_max", "max_temp", "temperature_2m_max", "high", "max"),
    "low": ("tmin", "tnk", "tn", "temp_min", "min_temp", "temperature_2m_min", "low", "min"),
}  # fmt: skip
NOT_TEMPERATURE = re.compile(
    r"rain|precip|wind|snow|humid|press|dew|sun|cloud|flag|attr|qual|station|apparent|soil|wet|feel"
)


@dataclass(frozen=True, slots=True)
class Temperatures:
    """What a file gave. `columns` are the names in its header by what they were taken for.

    `filled` counts days between others that had none; `gaps` are longer ones, first and last day;
    `doubled` counts dates that stood there more than once, of which the last holds.
    """

    days: Mapping[dt.date, float]
    columns: Mapping[Part, str]
    unit: Unit
    unit_from: Literal["told", "header", "climate", "numbers"]
    filled: int
    gaps: tuple[tuple[dt.date, dt.date], ...]
    doubled: int

    @property
    def first(self) -> dt.date:
        """The earliest day."""
        return min(self.days)

    @property
    def last(self) -> dt.date:
        """The latest day."""
        return max(self.days)


@dataclass(frozen=True, slots=True)
class _Table:
    """The rows under the header, each with its line."""

    header: list[str]
    rows: list[tuple[int, list[str]]]
    decimal_comma: bool


def read_temperatures(
    file: str, data: bytes, *, unit: Unit | None = None, climate: Climate | None = None
) -> Temperatures:
    """The daily means of a file. Raises `InputError` that says what is missing, and in which line.

    `unit` is what she says it is in; without it the file and the climate of the place decide.
    """
    table = _table(file, _text(file, data))
    places = _places(file, table.header)
    dates = _dates(file, table, places["date"])
    numbers: dict[str, list[float | None]] = {
        part: [_number(row, place, table.decimal_comma) for _, row in table.rows]
        for part, place in places.items()
        if part != "date"
    }
    raw = [_mean(index, numbers) for index in range(len(dates))]
    told = [(day, value) for day, value in zip(dates, raw, strict=True) if value is not None]
    if not told:
        raise refuse_file(file, "reading.temperatures.none")
    found, found_from = _unit(unit, table.header, places, told, climate)
    days = {day: _celsius(value, found) for day, value in sorted(told)}
    if len(told) > MOST_A_DAY * len(days):
        raise refuse_file(file, "reading.temperatures.hourly")
    _check_range(file, days, found)
    filled, gaps = _bridged(days)
    return Temperatures(
        days=dict(sorted({**days, **filled}.items())),
        columns={part: table.header[place] for part, place in places.items()}
        | _three_columns(table),
        unit=found,
        unit_from=found_from,
        filled=len(filled),
        gaps=gaps,
        doubled=len(told) - len(days),
    )


def _text(file: str, data: bytes) -> str:
    """The text; the older encodings of spreadsheets are read, too: only a degree sign suffers."""
    try:
        return read_bytes(file, data, MOST_BYTES)
    except InputError as trouble:
        if trouble.faults[0].says.key != "reading.file.not-utf8":
            raise
        return read_bytes(file, data.decode("cp1252", "replace").encode(), MOST_BYTES)


def _table(file: str, text: str) -> _Table:
    """The header and what stands under it."""
    lines = text.splitlines()
    for start in range(min(len(lines), HEADER_WITHIN)):
        for mark in sorted(SEPARATORS, key=lambda each: -lines[start].count(each)):
            header = _cells(lines[start], mark)
            under = next((line for line in lines[start + 1 :] if line.strip()), "")
            cells = _cells(under, mark)
            if len(header) < 2 or len(cells) < 2 or _is_date(header):
                continue
            if _is_date(cells) or _three(header) is not None:
                rows = _rows(lines, start + 1, mark, len(header))
                if mark == ",":
                    _check_width(file, rows, len(header))
                return _Table(header, rows, mark != "," and _has_comma(rows))
    raise refuse_file(file, "reading.temperatures.no-dates")


def _cells(line: str, mark: str) -> list[str]:
    try:
        return [cell.strip() for cell in next(csv.reader(io.StringIO(line), delimiter=mark), [])]
    except csv.Error:
        return []


def _rows(lines: Sequence[str], start: int, mark: str, width: int) -> list[tuple[int, list[str]]]:
    found = []
    for number, line in enumerate(lines[start:], start=start + 1):
        cells = _cells(line, mark)
        if any(cells):
            found.append((number, cells + [""] * (width - len(cells))))
    return found


def _check_width(file: str, rows: Sequence[tuple[int, list[str]]], width: int) -> None:
    """Refuse lines in which decimal commas cannot be told from those between the columns."""
    for line, cells in rows:
        if any(cells[width:]):
            raise refuse_file(file, "reading.temperatures.too-wide", line, columns=width)


def _has_comma(rows: Sequence[tuple[int, list[str]]]) -> bool:
    return any(re.fullmatch(r"-?\d+,\d+", cell) for _, cells in rows[:200] for cell in cells)


# Which column is what


def _key(title: str) -> str:
    """A title as it is compared: small, without its unit, its spaces as lines."""
    bare = re.sub(r"[(\[].*?[)\]]", "", title.casefold()).strip()
    return re.sub(r"[\s\-]+", "_", bare).strip("_")


def _places(file: str, header: Sequence[str]) -> dict[Part, int]:
    keys = [_key(title) for title in header]
    found: dict[Part, int] = {}
    for part in ("date", "high", "low", "mean"):
        place = _place(part, keys, set(found.values()))
        if place is not None:
            found[part] = place
    if "date" not in found:
        found["date"] = (_three(header) or (0, 0, 0))[0]
    if "mean" not in found and not {"high", "low"} <= set(found):
        raise refuse_file(file, "reading.temperatures.no-column", columns=", ".join(header)[:200])
    return found


def _place(part: Part, keys: Sequence[str], taken: set[int]) -> int | None:
    """The column of a part: one that is called so, else one in whose name such a word stands."""
    free = [
        (place, key)
        for place, key in enumerate(keys)
        if place not in taken and (part == "date" or not NOT_TEMPERATURE.search(key))
    ]
    for word in WORDS[part]:
        for place, key in free:
            if key == word:
                return place
    if part == "date":
        return None
    for word in WORDS[part]:
        for place, key in free:
            if word in key.split("_") or (len(word) > 2 and word in key):
                return place
    return None


def _three(header: Sequence[str]) -> tuple[int, int, int] | None:
    """The columns of year, month and day, where a date is in three."""
    keys = [_key(title) for title in header]
    names = (("year", "yr", "jahr"), ("month", "mo", "mon", "monat"), ("day", "dy", "tag"))
    places = [next((keys.index(name) for name in each if name in keys), None) for each in names]
    year, month, day = places
    return None if year is None or month is None or day is None else (year, month, day)


def _three_columns(table: _Table) -> dict[Part, str]:
    three = _three(table.header)
    return {"date": ", ".join(table.header[place] for place in three)} if three else {}


# Dates


def _is_date(cells: Sequence[str]) -> bool:
    return any(_parts(cell) is not None for cell in cells)


def _parts(cell: str) -> tuple[int, int, int] | None:
    """Three numbers that may be a date; the year first where it comes first."""
    whole = re.fullmatch(r"(\d{4})(\d\d)(\d\d)", cell)
    apart = re.match(r"(\d{1,4})[-/.](\d{1,2})[-/.](\d{1,4})(?:[T ].*)?$", cell)
    found = whole or apart
    if found is None:
        return None
    one, two, three = (int(each) for each in found.groups())
    return (one, two, three) if (one > 31) != (three > 31) else None


def _dates(file: str, table: _Table, place: int) -> list[dt.date]:
    """The date of every row. Raises `InputError` with the line of the first that is none."""
    three = _three(table.header)
    told = []
    for line, row in table.rows:
        parts = _from_three(row, three) if three else _parts(row[place])
        typed = "-".join(row[each] for each in three or (place,))[:40]
        if parts is None:
            raise refuse_file(file, "reading.temperatures.no-date", line, typed=typed)
        told.append((line, parts, typed))
    month_first = _month_first(parts for _, parts, _ in told)
    return [_date(file, line, parts, month_first, typed) for line, parts, typed in told]


def _from_three(row: Sequence[str], three: tuple[int, int, int]) -> tuple[int, int, int] | None:
    try:
        year, month, day = (int(float(row[place])) for place in three)
    except (ValueError, OverflowError):  # the latter of "inf"
        return None
    return (year, month, day) if 31 < year <= dt.MAXYEAR else None


def _month_first(parts: Iterator[tuple[int, int, int]]) -> bool:
    """Whether dates that end with the year begin with the month.

    A first number above 12 is a day. Where neither tells, days pass faster than months.
    """
    ending = [(one, two) for one, two, three in parts if three > 31]
    if any(one > 12 for one, _ in ending):
        return False
    if any(two > 12 for _, two in ending):
        return True
    changes = [(a[0] != b[0], a[1] != b[1]) for a, b in pairwise(ending)]
    return sum(second for _, second in changes) > sum(first for first, _ in changes)


def _date(
    file: str, line: int, parts: tuple[int, int, int], month_first: bool, typed: str
) -> dt.date:
    one, two, three = parts
    year, month, day = (one, two, three) if one > 31 else (three, two, one)
    if one <= 31 and month_first:
        month, day = day, month
    try:
        found = dt.date(year, month, day)
    except ValueError:
        found = dt.date.max
    if found.year > LAST_YEAR:
        raise refuse_file(file, "reading.temperatures.no-date", line, typed=typed)
    return found


# Numbers


def _number(row: Sequence[str], place: int, decimal_comma: bool) -> float | None:
    cell = row[place].replace("\N{MINUS SIGN}", "-")
    if decimal_comma or re.fullmatch(r"-?\d+,\d+", cell):
        cell = cell.replace(",", ".")
    if cell.casefold() in MISSING:
        return None
    try:
        value = float(cell)
    except ValueError:
        return None
    return value if math.isfinite(value) and abs(value) < MISSING_BEYOND else None


def _mean(index: int, numbers: Mapping[str, Sequence[float | None]]) -> float | None:
    mean = numbers["mean"][index] if "mean" in numbers else None
    if mean is not None:
        return mean
    high, low = (numbers[part][index] if part in numbers else None for part in ("high", "low"))
    return None if high is None or low is None else (high + low) / 2


def _unit(
    told: Unit | None,
    header: Sequence[str],
    places: Mapping[Part, int],
    days: Sequence[tuple[dt.date, float]],
    climate: Climate | None,
) -> tuple[Unit, Literal["told", "header", "climate", "numbers"]]:
    if told is not None:
        return told, "told"
    titles = " ".join(header[place].casefold() for part, place in places.items() if part != "date")
    if re.search(r"°\s*f|\(f\)|_f\b|fahrenheit|deg_?f", titles):
        return "f", "header"
    if re.search(r"°\s*c|\(c\)|_c\b|celsius|deg_?c", titles):
        return "c", "header"
    most = max(abs(value) for _, value in days)
    if most > TENTHS_NUMBER:
        return "tenths", "numbers"
    if climate is None:
        return ("f" if most > HOT_NUMBER else "c"), "numbers"
    usual = climate.usual_c([day for day, _ in days])
    fahrenheit = _off(days, usual, "f") < _off(days, usual, "c")
    return ("f" if fahrenheit else "c"), "climate"


def _off(days: Sequence[tuple[dt.date, float]], usual: Floats, unit: Unit) -> float:
    """How far the days are from the usual, all together, if they are in a unit."""
    pairs = zip(days, usual, strict=True)
    return float(sum(abs(_celsius(value, unit) - there) for (_, value), there in pairs))


def _celsius(value: float, unit: Unit) -> float:
    if unit == "f":
        return (value - 32.0) / 1.8  # [hand]
    return value / 10 if unit == "tenths" else value


def _check_range(file: str, days: Mapping[dt.date, float], unit: Unit) -> None:
    for day, mean in days.items():
        if not COLDEST_DAY_C <= mean <= HOTTEST_DAY_C:
            key = "reading.temperatures.beyond"
            raise refuse_file(file, key, day=day.isoformat(), mean=f"{mean:.0f}", unit=unit)


def _bridged(
    days: Mapping[dt.date, float],
) -> tuple[dict[dt.date, float], tuple[tuple[dt.date, dt.date], ...]]:
    """Short gaps in a straight line, and the longer ones, first and last day."""
    filled: dict[dt.date, float] = {}
    gaps = []
    dates = list(days)
    one = dt.timedelta(days=1)
    for before, after in pairwise(dates):
        missing = (after - before).days - 1
        if missing > GAP_D:
            gaps.append((before + one, after - one))
            continue
        step = (days[after] - days[before]) / (missing + 1)
        for number in range(1, missing + 1):
            filled[before + number * one] = days[before] + number * step
    return filled, tuple(gaps)
