"""Where the teacher's plants grow: the place, its usual year, and this year's temperatures.

Kept once for everything: `where`, with a place and, for its climate, the nearest of the shipped
cities, twelve means of her own, or neither; and `temperatures`, the days that she brought in.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from nejime.basis.errors import InputError, refuse
from nejime.basis.sayings import Saying, Words
from nejime.basis.units import whole_number
from nejime.desk.settings import settings
from nejime.desk.shelf import Conflict, Kept, Shelf
from nejime.papers.wording import date
from nejime.plants.names import folded
from nejime.reading.temperatures import UNITS, Temperatures, Unit, read_temperatures
from nejime.reading.when import is_southern
from nejime.reading.where import read_where
from nejime.season.answer import Site
from nejime.season.climate import MONTHS, Climate, Near, cities, distance_km, nearest

WHERE, TEMPERATURES = "where", "temperatures"
Typed = Mapping[str, str]
TOO_FAR_KM = 500.0  # [own] the climate of a city so far away says nothing here
NO_PLACE_LAT_DEG = 40.7  # [own] that of the months' reference: they stay as they are
SAME_PLACE_KM = 100.0  # [own] what was seen or measured further away says nothing here
OLDEST_D = 366 * 45  # [own] so many days are kept: more would say nothing new


@dataclass(frozen=True, slots=True)
class Place:
    """The place for which is reckoned. `told` says whether she told it, or the months' own holds.

    `near` is the city whose climate is used, None where it is her own or none.
    """

    site: Site
    told: bool
    name: str
    near: Near | None


@dataclass(frozen=True, slots=True)
class BroughtIn:
    """What was read from a file of temperatures, in words: every guess, every gap."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WhereForm:
    """The fields, the version they come from, and the nearest cities with their distances."""

    fields: Typed
    version: int | None
    near: tuple[str, ...]
    months: tuple[str, ...]
    cities: tuple[str, ...]
    days: str
    """What temperatures are kept, in words; empty without any."""


def place(shelf: Shelf) -> Place:
    """Where the plants grow, as far as she told it."""
    kept = _kept(shelf, WHERE)
    return no_place(settings(shelf)["zone"]) if kept is None else place_of(kept.content)


def no_place(zone: str) -> Place:
    """Where nothing was told: months hold as they stand, half a year later in southern zones."""
    lat = -NO_PLACE_LAT_DEG if is_southern(zone) else NO_PLACE_LAT_DEG
    return Place(Site(lat, 0.0), False, "", None)


def place_of(content: Mapping[str, Any]) -> Place:
    """The place of what was kept."""
    lat, lon = float(content["lat"]), float(content["lon"])
    choice, height = content.get("climate", "city"), content.get("height_m")
    near = nearest(lat, lon, 1)[0] if choice == "city" else None
    climate = near.climate if near is not None else None
    if choice == "own":
        climate = Climate("", lat, tuple(content["means_c"]), lon)
    name = str(content.get("name", ""))
    return Place(Site(lat, lon, climate, height), True, name, near)


def stamp(shelf: Shelf) -> Mapping[str, float]:
    """Where something is seen or measured now, to be kept with it; nothing before she told it."""
    kept = _kept(shelf, WHERE)
    return {} if kept is None else {"at_lat": kept.content["lat"], "at_lon": kept.content["lon"]}


def is_from_here(shelf: Shelf, content: Mapping[str, Any]) -> bool:
    """Whether what was kept was seen or measured here; yes where either place is not known."""
    here, there = stamped(stamp(shelf)), stamped(content)
    return here is None or there is None or distance_km(*here, *there) <= SAME_PLACE_KM


def stamped(content: Mapping[str, Any]) -> tuple[float, float] | None:
    """Latitude and longitude of where something was seen or measured; None where not kept."""
    if "at_lat" not in content:
        return None
    return float(content["at_lat"]), float(content["at_lon"])


def measured(shelf: Shelf) -> Mapping[dt.date, float]:
    """The days whose temperatures she brought in for this place."""
    kept = _kept(shelf, TEMPERATURES)
    if kept is None or not is_from_here(shelf, kept.content):
        return {}
    return days_of(kept.content)


def days_of(content: Mapping[str, Any]) -> Mapping[dt.date, float]:
    """The days of what was kept."""
    first = dt.date.fromisoformat(content["first"])
    numbered: Iterable[tuple[int, float | None]] = enumerate(content["means_c"])
    return {first + dt.timedelta(days=n): mean for n, mean in numbered if mean is not None}


def form(shelf: Shelf, words: Words) -> WhereForm:
    """The fields as they stand."""
    kept = _kept(shelf, WHERE)
    fields = {} if kept is None else _fields(kept.content)
    return _form(shelf, fields, kept.version if kept else None, words)


def filled(shelf: Shelf, typed: Typed, words: Words) -> WhereForm:
    """The fields as somebody left them, to be shown again."""
    return _form(shelf, typed, whole_number(typed.get("base", "")), words)


def _form(shelf: Shelf, fields: Typed, version: int | None, words: Words) -> WhereForm:
    return WhereForm(
        fields=fields,
        version=version,
        near=tuple(_near_words(each, words) for each in _near(fields)),
        months=tuple(words.say(Saying(f"papers.month.{n}")) for n in range(1, len(MONTHS) + 1)),
        cities=city_names(),
        days=_kept_days(shelf, words),
    )


def _near(fields: Typed) -> tuple[Near, ...]:
    try:
        return nearest(float(fields.get("lat", "")), float(fields.get("lon", "")))
    except (ValueError, InputError):
        return ()


def _near_words(near: Near, words: Words) -> str:
    return words.say(
        Saying(
            "season.near-city",
            city=city_name(near.climate),
            distance=f"{near.distance_km:,.0f}",
        )
    )


def _kept_days(shelf: Shelf, words: Words) -> str:
    days = measured(shelf)
    if not days:
        return ""
    return words.say(
        Saying("season.kept-days", first=date(words, min(days)), last=date(words, max(days)))
    )


def _fields(content: Mapping[str, Any]) -> dict[str, str]:
    found = {key: f"{content[key]}" for key in ("lat", "lon", "climate", "name") if key in content}
    if content.get("height_m") is not None:
        found["height"] = f"{content['height_m']:g} m"
    for number, mean in enumerate(content.get("means_c", ()), start=1):
        found[f"mean-{number}"] = f"{mean:g}"
    return found


def keep(shelf: Shelf, typed: Typed) -> Kept | Conflict:
    """Keep where she is. Raises `InputError` by field."""
    kept = _kept(shelf, WHERE)
    content = content_of(typed if kept is None else _moved(typed, _fields(kept.content)))
    if kept is None:
        return shelf.only(WHERE, WHERE, content)
    base = whole_number(typed.get("base", ""))
    return shelf.save(kept.id, content, kept.version if base is None else base)


def _moved(typed: Typed, before: Typed) -> Typed:
    """Name and height belong to the place before where another city is chosen and they stand."""
    if not typed.get("city", "").strip():
        return typed
    stays = [key for key in ("name", "height") if typed.get(key, "") == before.get(key)]
    return {key: text for key, text in typed.items() if key not in stays}


def content_of(typed: Typed) -> dict[str, Any]:
    """A place as it is kept, from a city's name or from coordinates. Raises `InputError`."""
    city = typed.get("city", "").strip()
    told = dict(typed)
    if city:
        found = find_city(city, "city")
        told |= {"lat": f"{found.lat_deg}", "lon": f"{found.lon_deg}"}
        told["name"] = told.get("name", "").strip() or city_name(found)
        told |= {"climate": "city"} if told.get("climate") != "own" else {}
    content = read_where(told)
    if content["climate"] == "city":
        near = nearest(content["lat"], content["lon"], 1)[0]
        if near.distance_km > TOO_FAR_KM:
            raise _too_far(near)
    return content


def _too_far(near: Near) -> InputError:
    told = {"city": city_name(near.climate), "distance": f"{near.distance_km:,.0f}"}
    return refuse("climate", "season.too-far", "season.too-far-try", **told)


def forget(shelf: Shelf, what: str) -> None:
    """Take away the place or the temperatures; they can be had again from what is kept."""
    kept = _kept(shelf, what)
    if kept is not None:
        shelf.remove(kept.id)


def bring_in(shelf: Shelf, file: str, data: bytes, words: Words, unit: str = "") -> BroughtIn:
    """Keep the daily temperatures of a file, beside those that are here. Raises `InputError`."""
    if not file:
        raise refuse("file", "season.no-file", "season.no-file-try")
    told: Unit | None = next((each for each in UNITS if each == unit), None)
    found = read_temperatures(file, data, unit=told, climate=place(shelf).site.climate)
    days = dict(sorted({**measured(shelf), **found.days}.items()))
    last, read = max(days), len(days)
    days = {day: mean for day, mean in days.items() if (last - day).days < OLDEST_D}
    first, older = min(days), read - len(days)
    means = [days.get(first + dt.timedelta(days=n)) for n in range((last - first).days + 1)]
    rounded = [None if mean is None else round(mean, 1) for mean in means]
    content = {"first": first.isoformat(), "means_c": rounded, **stamp(shelf)}
    kept = _kept(shelf, TEMPERATURES)
    if kept is None:
        shelf.only(TEMPERATURES, TEMPERATURES, content)
    else:
        shelf.save(kept.id, content, kept.version)
    return BroughtIn(_told(found, words) + _left(older, first, words))


def _left(older: int, first: dt.date, words: Words) -> tuple[str, ...]:
    """That older days are not kept, where there were any."""
    said = Saying("season.read.older", count=older, first=date(words, first))
    return (words.say(said),) if older else ()


def _told(found: Temperatures, words: Words) -> tuple[str, ...]:
    """What was taken for what, and what was missing."""
    parts = tuple(
        Saying(f"season.read.{part}", column=column) for part, column in found.columns.items()
    )
    lines = [
        Saying(
            "season.read.days",
            count=len(found.days),
            first=date(words, found.first),
            last=date(words, found.last),
        ),
        Saying("season.read.columns", parts=parts),
        Saying(f"season.read.unit-{found.unit}-{found.unit_from}"),
    ]
    if found.filled:
        lines.append(Saying("season.read.filled", count=found.filled))
    if found.gaps:
        first, last = found.gaps[-1]
        lines.append(
            Saying(
                "season.read.gaps",
                count=len(found.gaps),
                first=date(words, first),
                last=date(words, last),
            )
        )
    if found.doubled:
        lines.append(Saying("season.read.doubled", count=found.doubled))
    return tuple(words.say(each) for each in lines)


def _kept(shelf: Shelf, kind: str) -> Kept | None:
    found = shelf.all(kind)
    return found[0] if found else None


# Cities


def city_name(climate: Climate) -> str:
    """A city with its country's code."""
    return f"{climate.name}, {climate.country}" if climate.country else climate.name


@lru_cache(maxsize=1)
def city_names() -> tuple[str, ...]:
    """Every shipped city."""
    return tuple(sorted({city_name(each) for each in cities()}))


def find_city(word: str, field: str) -> Climate:
    """The city of a name, with or without its country. Raises `InputError` with what is near."""
    asked = folded(word)
    exact = [each for each in cities() if asked in (folded(each.name), folded(city_name(each)))]
    if len(exact) == 1:
        return exact[0]
    if exact:
        choices = ", ".join(sorted({city_name(each) for each in exact}))
        told = {"typed": word, "choices": choices}
        raise refuse(field, "season.two-cities", "season.two-cities-try", **told)
    begins = sorted(each for each in city_names() if folded(each).startswith(asked[:3]))
    key = "season.no-city-try" if begins else "season.no-city-else"
    raise refuse(field, "season.no-city", key, typed=word, choices=", ".join(begins[:6]))
