"""What is in season here on a day: the calendar, what blooms and how sure that is, what to choose.

Page, command and paper show the same answer (`season_on`).
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from zoneinfo import ZoneInfo

from nejime.basis.errors import refuse
from nejime.basis.sayings import Words
from nejime.desk.known_plants import known_plants
from nejime.desk.seen import seen
from nejime.desk.settings import settings
from nejime.desk.shelf import Shelf
from nejime.desk.where import (
    TOO_FAR_KM,
    Place,
    city_name,
    find_city,
    measured,
    no_place,
    place,
    place_of,
)
from nejime.material.choosing import (
    ROLES,
    Asked,
    Choice,
    InSeason,
    Proposal,
    Role,
    fall_back,
    in_season,
    proposed,
    roles_of,
)
from nejime.material.occasions import Held, held_on, soon
from nejime.material.unlucky import PURPOSES, Advice, advice_on, places_of
from nejime.plants.plant import CENTRAL_JAPAN, SHOPS, SHOPS_JAPAN, Plant
from nejime.plants.table import plants
from nejime.reading.when import zone_names
from nejime.season.answer import Bloom, Measured, Stage
from nejime.season.bloom import bloom
from nejime.season.terms import (
    FIRST_YEAR,
    JAPAN,
    LAST_YEAR,
    ExtraDay,
    Period,
    check_day,
    current,
    extra_days,
    following,
    matching,
)

SOON_D = 21  # [own] how far ahead an occasion is told


@dataclass(frozen=True, slots=True)
class Season:
    """Everything that there is to say of a day at a place.

    `blooms` has every plant of the table by its id, None where nothing is known of it there.
    """

    day: dt.date
    zone: ZoneInfo
    place: Place
    sekki: Period
    ko: Period
    plants: tuple[Plant, ...]
    blooms: Mapping[str, Bloom | None]
    held: tuple[Held, ...]
    soon: tuple[Held, ...]
    extra: tuple[ExtraDay, ...]
    found: InSeason
    proposals: tuple[Proposal, ...]
    advice: tuple[Advice, ...]
    purpose: str = ""

    @property
    def southern(self) -> bool:
        """Whether seasons are those of the south."""
        return self.place.site.southern

    def stage(self, plant: str) -> Stage | None:
        """What a plant shows on the day; None where nothing is known."""
        made = self.blooms[plant]
        return None if made is None else made.stage_on(self.day)


def season_on(
    day: dt.date,
    where: Place,
    zone: ZoneInfo = JAPAN,
    *,
    known: Sequence[Plant] | None = None,
    notes: Mapping[str, tuple[dt.date, ...]] | None = None,
    temperatures: Measured | None = None,
    region: str = "",
    purpose: str = "",
) -> Season:
    """The season of a day at a place. Raises `InputError` outside 1951 to 2050."""
    check_day(day)
    of = tuple(known or plants())
    blooms = {
        each.id: bloom(
            each,
            where.site,
            day,
            seen=(notes or {}).get(each.id, ()),
            measured=temperatures,
        )
        for each in of
    }
    held = held_on(day, zone)
    asked = Asked(
        day,
        {name: None if made is None else made.stage_on(day) for name, made in blooms.items()},
        where.site.months_of,
        SHOPS_JAPAN if where.site.months_of == CENTRAL_JAPAN else SHOPS,
        region,
        where.site.southern,
        held[0] if held else None,
        purpose,
    )
    found = in_season(asked, of)
    return Season(
        day,
        zone,
        where,
        current(day, "sekki", zone),
        current(day, "ko", zone),
        of,
        blooms,
        held,
        soon(day, zone, SOON_D) if day.year < LAST_YEAR else (),
        _extra_days(day, zone),
        found,
        proposed(found),
        advice_on(
            "",
            purpose=purpose,
            occasion=held[0].occasion.id if held else "",
            places=places_of(region),
        ),
        purpose,
    )


def _extra_days(day: dt.date, zone: ZoneInfo) -> tuple[ExtraDay, ...]:
    """The calendar's extra days from a day on, as long as the next are told."""
    years = [year for year in (day.year, day.year + 1) if year <= LAST_YEAR]
    found = (each for year in years for each in extra_days(year, zone))
    return tuple(each for each in found if 0 <= (each.day - day).days <= SOON_D)


def here(shelf: Shelf, day: dt.date, *, purpose: str = "") -> Season:
    """The season at the place that she told. Raises `InputError` outside 1951 to 2050."""
    return season_on(
        day,
        place(shelf),
        known=known_plants(shelf),
        notes=seen(shelf),
        temperatures=measured(shelf),
        region=settings(shelf)["region"],
        purpose=purpose,
    )


def in_gardens(of: Season) -> tuple[tuple[int, Plant], ...]:
    """What gardens have that day, each plant once with how many months, the shortest first."""
    return _each_once(of.found.garden)


def in_shops(of: Season) -> tuple[tuple[int, Plant], ...]:
    """What shops have that day, in the same way."""
    return _each_once(of.found.shops)


def _each_once(of: Mapping[Role, tuple[Choice, ...]]) -> tuple[tuple[int, Plant], ...]:
    found = {choice.plant.id: choice for role in ROLES for choice in of[role]}
    ranked = sorted(found.values(), key=lambda choice: choice.rank)
    return tuple((choice.months, choice.plant) for choice in ranked)


def day_of(text: str, today: dt.date) -> dt.date:
    """The day that is asked for; today where nothing is. Raises `InputError` at `on`."""
    try:
        return dt.date.fromisoformat(text.strip()) if text.strip() else today
    except ValueError as trouble:
        told = {"typed": text.strip()[:40]}
        raise refuse("on", "season.no-date", "season.no-date-try", **told) from trouble


def purpose_of(word: str) -> str:
    """What a piece is for; nothing particular where that is not known."""
    return word if word in PURPOSES else ""


def nearest_day(day: dt.date) -> dt.date:
    """A day, or the nearest that the calendar has."""
    return max(dt.date(FIRST_YEAR, 1, 1), min(dt.date(LAST_YEAR, 12, 31), day))


def place_asked(city: str | None, lat: float | None, lon: float | None, zone: str) -> Place:
    """The place of a command: a city, coordinates, or none. Raises `InputError`."""
    if city:
        if lat is not None or lon is not None:
            raise refuse("--place", "season.two-places", "season.two-places-try")
        found = find_city(city, "--place")
        told = {"lat": found.lat_deg, "lon": found.lon_deg, "name": city_name(found)}
        return place_of({**told, "climate": "city"})
    if lat is None and lon is None:
        return no_place(zone)
    if lat is None or lon is None:
        raise refuse("--lat" if lat is None else "--lon", "season.both", "season.both-try")
    near = place_of({"lat": lat, "lon": lon, "climate": "city"})
    assert near.near is not None
    if near.near.distance_km > TOO_FAR_KM:
        return place_of({"lat": lat, "lon": lon, "climate": "none"})
    return near


def zone_asked(name: str) -> ZoneInfo:
    """The zone of a command. Raises `InputError`."""
    if name not in zone_names():
        raise refuse("--zone", "season.no-zone", "season.no-zone-try", typed=name[:60])
    return ZoneInfo(name)


# The answer as values, for --json


def season_answer(of: Season, words: Words) -> dict[str, Any]:
    """The season as plain values."""
    shops = {choice.plant.id for role in ROLES for choice in of.found.shops[role]}
    garden = {choice.plant.id: (role, choice) for role in ROLES for choice in of.found.garden[role]}
    safe = {name: fall_back(role, choice, of.found) for name, (role, choice) in garden.items()}
    return {
        "on": of.day.isoformat(),
        "zone": of.zone.key,
        "place": _place_answer(of.place),
        "sekki": _period_answer(of.sekki, southern=of.southern),
        "ko": _period_answer(of.ko, southern=of.southern),
        "occasions": [
            {
                "id": held.occasion.id,
                "english": held.occasion.english,
                "kanji": held.occasion.kanji,
                "first": held.first.isoformat(),
                "last": held.last.isoformat(),
            }
            for held in (*of.held, *of.soon)
        ],
        "extra_days": [{"id": each.name, "day": each.day.isoformat()} for each in of.extra],
        "proposals": [_proposal_answer(each) for each in of.proposals],
        "plants": [
            _plant_answer(each, of, words)
            | {
                "in_garden": each.id in garden,
                "in_shops": each.id in shops,
                "fall_back": instead.plant.id if (instead := safe.get(each.id)) else None,
            }
            for each in of.plants
        ],
    }


def _proposal_answer(proposal: Proposal) -> list[dict[str, Any]]:
    return [
        {
            "role": pick.role,
            "plant": pick.choice.plant.id,
            "fall_back": pick.fall_back.plant.id if pick.fall_back else None,
        }
        for pick in proposal.picks
    ]


def _place_answer(where: Place) -> dict[str, Any] | None:
    if not where.told:
        return None
    near, site = where.near, where.site
    return {
        "name": where.name,
        "lat": site.lat_deg,
        "lon": site.lon_deg,
        "climate_of": city_name(near.climate) if near else None,
        "climate_distance_km": round(near.distance_km, 1) if near else None,
        "mild_winter": site.mild,
    }


def _period_answer(period: Period, *, southern: bool) -> dict[str, Any]:
    name = period.name
    found: dict[str, Any] = {
        "number": name.number,
        "kanji": name.kanji,
        "reading": name.romaji,
        "kana": name.kana,
        "english": name.english,
        "starts": period.starts.isoformat(),
        "next_starts": following(period).starts.isoformat(),
    }
    if southern:
        other = matching(name)
        found["here"] = {
            "number": other.number,
            "kanji": other.kanji,
            "reading": other.romaji,
            "english": other.english,
        }
    return found


def _plant_answer(plant: Plant, of: Season, words: Words) -> dict[str, Any]:
    made = of.blooms[plant.id]
    return {
        "id": plant.id,
        "english": plant.english,
        "kanji": plant.kanji,
        "kind": plant.kind,
        "roles": list(roles_of(plant)),
        "bloom": None if made is None else _bloom_answer(made, of.day, words),
    }


def _bloom_answer(made: Bloom, day: dt.date, words: Words) -> dict[str, Any]:
    return {
        "stage": made.stage_on(day),
        "begins": made.begins.isoformat(),
        "ends": made.ends.isoformat(),
        "spread_d": made.spread_d,
        "evidence": made.evidence,
        "because": words.say(made.why),
        "confidence": made.confidence,
        "this_year": made.timing,
        "shift_d": made.shift_d,
        "source": made.source,
        "grade": made.grade,
        "others": [
            {
                "begins": other.begins.isoformat(),
                "ends": other.ends.isoformat(),
                "spread_d": other.spread_d,
                "evidence": other.evidence,
            }
            for other in made.others
        ],
    }
