"""The season in words: for the page, the wheel of the year and the command line."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from nejime.basis.sayings import Saying, Words
from nejime.desk.season import Season
from nejime.desk.sourced import Sourced, sourced
from nejime.desk.where import Place, city_name
from nejime.drawings.year_wheel import MOST, Arc, Tick, year_wheel
from nejime.material.choosing import ROLES, Choice, Proposal, Role, blossoms, fall_back, roles_of
from nejime.material.occasions import Held
from nejime.material.unlucky import PURPOSES
from nejime.papers.wording import clock, date
from nejime.plants.plant import Plant
from nejime.season.answer import Bloom
from nejime.season.evidence import rules
from nejime.season.terms import ExtraDay, Period, matching, year_of

WHEEL_FIRST = 16  # [own] plants on the wheel; more crowd it
WEEK = dt.timedelta(days=7)
COMING_D = 35  # [own] what comes within five weeks is told, so that a class can be planned on it
OCCASIONS = ("setsubun", "higan-spring", "higan-autumn", "moon-viewing")
"""Extra days that are occasions with material of their own, too."""
AT_CITY_KM = 10.0  # [own] nearer is the town itself


@dataclass(frozen=True, slots=True)
class PeriodWords:
    """A solar term or micro-season in words."""

    kanji: str
    kana: str
    romaji: str
    english: str
    says: str
    """Which it is, and when it began, in which zone."""
    here: str
    """The season that matches in the south; empty in the north."""


@dataclass(frozen=True, slots=True)
class PlantWords:
    """A plant in season in words: what it shows, when, how sure, and why."""

    id: str
    name: str
    kanji: str
    stage: str
    when: str
    year: str
    because: str
    sure: str
    sourced: Sourced | None
    others: tuple[str, ...]
    reasons: tuple[str, ...]
    advice: tuple[str, ...]
    fall_back: str
    goes_home: bool
    unsure: bool


@dataclass(frozen=True, slots=True)
class PickWords:
    """One kind of a proposal in words."""

    role: str
    name: str
    reasons: tuple[str, ...]
    sure: str
    advice: tuple[str, ...]
    fall_back: str


@dataclass(frozen=True, slots=True)
class SeasonWords:
    """The page of a day."""

    says: str
    day: str
    before: str
    after: str
    periods: tuple[PeriodWords, ...]
    zone: str
    where: str
    mild: str
    cold: str
    occasions: tuple[str, ...]
    extra: tuple[str, ...]
    substitute: str
    garden: tuple[tuple[str, tuple[PlantWords, ...]], ...]
    shops: tuple[tuple[str, tuple[PlantWords, ...]], ...]
    coming: tuple[PlantWords, ...]
    proposals: tuple[tuple[PickWords, ...], ...]
    left_out: tuple[str, ...]
    advice: tuple[str, ...]
    wheel: str
    narrow_wheel: str
    on_wheel: tuple[str, ...]


def season_words(of: Season, words: Words) -> SeasonWords:
    """The season for reading."""
    return SeasonWords(
        says=date(words, of.day),
        day=of.day.isoformat(),
        before=(of.day - WEEK).isoformat(),
        after=(of.day + WEEK).isoformat(),
        periods=tuple(_period_words(each, of, words) for each in (of.sekki, of.ko)),
        zone=words.say(Saying("season.zone", zone=_zone_name(of.zone))),
        where=_where_words(of.place, words),
        mild=words.say(Saying("season.mild")) if of.place.site.mild and of.place.told else "",
        cold=words.say(Saying("season.cold")) if of.place.site.cold else "",
        occasions=tuple(_occasion_words(each, of.day, words) for each in (*of.held, *of.soon)),
        extra=tuple(_extra_words(each, words) for each in of.extra if each.name not in OCCASIONS),
        substitute=words.say(of.found.substitute) if of.found.substitute else "",
        garden=_by_role(of.found.garden, of, words),
        shops=_by_role(of.found.shops, of, words),
        coming=_coming(of, words),
        proposals=tuple(_proposal_words(each, of, words) for each in of.proposals),
        left_out=tuple(words.say(each.says) for each in of.found.left_out),
        advice=tuple(words.say(each.says) for each in of.advice if each.here),
        wheel=wheel(of, words),
        narrow_wheel=wheel(of, words, numbered=True),
        on_wheel=tuple(arc.name for arc in wheel_arcs(of)),
    )


def purposes(words: Words) -> tuple[tuple[str, str], ...]:
    """What a piece can be for, the usual first."""
    told = [(each, words.say(Saying(f"season.for.{each}"))) for each in PURPOSES]
    return (("", words.say(Saying("season.for.class"))), *told)


def _zone_name(zone: ZoneInfo) -> str:
    return zone.key.replace("_", " ")


def _period_words(period: Period, of: Season, words: Words) -> PeriodWords:
    name = period.name
    other = matching(name)
    told = Saying(
        f"season.{period.kind}",
        number=str(name.number),
        day=date(words, period.starts.date()),
        time=clock(words, period.starts),
    )
    here = Saying("season.here", kanji=other.kanji, romaji=other.romaji, english=other.english)
    return PeriodWords(
        name.kanji,
        name.kana,
        name.romaji,
        name.english,
        words.say(told),
        words.say(here) if of.southern else "",
    )


def _where_words(where: Place, words: Words) -> str:
    if not where.told:
        return words.say(Saying("season.no-place"))
    site, near = where.site, where.near
    if near is not None:
        key = "season.at-city" if near.distance_km < AT_CITY_KM else "season.near"
        told = {"city": city_name(near.climate), "distance": f"{near.distance_km:,.0f}"}
        return words.say(Saying(key, place=where.name or told["city"], **told))
    key = "season.own-means" if site.climate is not None else "season.no-means"
    place = where.name or f"{site.lat_deg:g}°, {site.lon_deg:g}°"
    return words.say(Saying(key, place=place))


def _occasion_words(held: Held, day: dt.date, words: Words) -> str:
    occasion = held.occasion
    key = "season.occasion-now" if held.first <= day else "season.occasion-soon"
    return words.say(
        Saying(
            key,
            english=occasion.english,
            kanji=occasion.kanji,
            romaji=occasion.romaji,
            day=date(words, held.first, short=True),
        )
    )


def _extra_words(extra: ExtraDay, words: Words) -> str:
    name = words.say(Saying(f"season.extra.{extra.name}"))
    return words.say(Saying("season.extra-day", name=name, day=date(words, extra.day, short=True)))


def _by_role(
    found: Mapping[Role, tuple[Choice, ...]], of: Season, words: Words
) -> tuple[tuple[str, tuple[PlantWords, ...]], ...]:
    return tuple(
        (role, tuple(_choice_words(choice, role, of, words) for choice in found[role]))
        for role in ROLES
    )


def _choice_words(choice: Choice, role: Role, of: Season, words: Words) -> PlantWords:
    made = of.blooms[choice.plant.id] if choice.where == "garden" else None
    return _plant_words(choice.plant, made, of, words, choice, role)


def _plant_words(
    plant: Plant,
    made: Bloom | None,
    of: Season,
    words: Words,
    choice: Choice | None = None,
    role: Role = "line",
) -> PlantWords:
    reasons = tuple(words.say(each) for each in choice.reasons) if choice else ()
    advice = tuple(words.say(each.says) for each in choice.advice if each.here) if choice else ()
    home = choice.goes_home if choice else plant.goes_home
    instead = _instead(choice, role, of)
    if made is None:
        return PlantWords(
            plant.id, plant.english, plant.kanji, "", "", "", "", "", None, (), reasons, advice,
            instead, home, False,
        )  # fmt: skip
    return PlantWords(
        id=plant.id,
        name=plant.english,
        kanji=plant.kanji,
        stage=words.say(Saying(_stage_key(plant, made, of.day))),
        when=_when(made, words),
        year=_year(made, words),
        because=words.say(made.why),
        sure=words.say(Saying(f"season.sure.{made.confidence}")),
        sourced=sourced(made.source, made.grade, words, place=made.place),
        others=tuple(_other(each, words) for each in made.others),
        reasons=reasons,
        advice=advice,
        fall_back=instead,
        goes_home=home,
        unsure=made.confidence == "low",
    )


def _instead(choice: Choice | None, role: Role, of: Season) -> str:
    """What shops nearly always have in place of a garden's plant; empty for those of shops."""
    if choice is None or choice.where != "garden":
        return ""
    safe = fall_back(role, choice, of.found)
    return safe.plant.english if safe else ""


def _stage_key(plant: Plant, made: Bloom, day: dt.date) -> str:
    """Blossom opens; leaves, berries, grasses and bare wood are at their best."""
    kind = "flower" if blossoms(plant) or plant.id in rules() else "other"
    if made.evidence == "all-year":
        return "season.stage.all-year"
    return f"season.stage.{kind}.{made.stage_on(day).replace(' ', '-')}"


def day_month(day: dt.date, words: Words) -> str:
    """A day without its weekday and year."""
    month = Saying(f"papers.month.{day.month}")
    return words.say(Saying("season.day-month", day=str(day.day), month=month))


def _when(made: Bloom, words: Words) -> str:
    if made.evidence == "all-year":
        return ""
    return words.say(
        Saying(
            "season.when",
            begins=day_month(made.begins, words),
            ends=day_month(made.ends, words),
            count=made.spread_d,
        )
    )


def _year(made: Bloom, words: Words) -> str:
    if made.timing is None or made.shift_d is None:
        return ""
    return words.say(Saying(f"season.year.{made.timing}", count=abs(round(made.shift_d))))


def _other(made: Bloom, words: Words) -> str:
    said = Saying(
        "season.other",
        because=words.say(made.why),
        begins=day_month(made.begins, words),
        count=made.spread_d,
    )
    return words.say(said)


def _coming(of: Season, words: Words) -> tuple[PlantWords, ...]:
    """What is not to be had yet but will be soon, the nearest first."""
    there = {choice.plant.id for role in ROLES for choice in of.found.garden[role]}
    soon_ = [
        (made.begins, plant, made)
        for plant in of.plants
        if (made := of.blooms[plant.id]) is not None
        and plant.id not in there
        and 0 < (made.begins - of.day).days <= COMING_D
    ]
    soon_.sort(key=lambda each: (each[0], each[1].english))
    return tuple(_plant_words(plant, made, of, words) for _, plant, made in soon_)


def _proposal_words(proposal: Proposal, of: Season, words: Words) -> tuple[PickWords, ...]:
    return tuple(
        PickWords(
            words.say(Saying(f"season.role.{pick.role}")),
            pick.choice.plant.english,
            tuple(words.say(each) for each in pick.reasons),
            _how_sure(pick.choice, of, words),
            tuple(words.say(each.says) for each in pick.choice.advice if each.here),
            pick.fall_back.plant.english if pick.fall_back else "",
        )
        for pick in proposal.picks
    )


def _how_sure(choice: Choice, of: Season, words: Words) -> str:
    """How far a garden's date may be off, where that is far."""
    made = of.blooms[choice.plant.id] if choice.where == "garden" else None
    if made is None or made.confidence != "low" or made.evidence == "all-year":
        return ""
    return words.say(Saying("season.give-or-take", count=made.spread_d))


# The wheel of the year


def wheel(of: Season, words: Words, *, numbered: bool = False) -> str:
    """The year here: the plants of the day first, then those with the shortest seasons."""
    ticks = tuple(
        Tick(period.starts.date(), period.name.kanji) for period in year_of("sekki", of.day.year)
    )
    return year_wheel(of.day.year, wheel_arcs(of), ticks, words, day=of.day, numbered=numbered)


def wheel_arcs(of: Season, most: int = WHEEL_FIRST) -> tuple[Arc, ...]:
    """Some of each role, those first whose season is nearest to the day."""
    found: list[Arc] = []
    for role in ROLES:
        timed = [
            (made.outside_d(of.day), (made.ends - made.begins).days, plant, made)
            for plant in of.plants
            if role in roles_of(plant)[:1]
            and (made := of.blooms[plant.id]) is not None
            and made.evidence != "all-year"
        ]
        timed.sort(key=lambda each: (each[0], each[1], each[2].english))
        found += [
            Arc(plant.english, role, made.begins, made.ends, float(made.spread_d))
            for _, _, plant, made in timed[: max(1, most // len(ROLES))]
        ]
    return tuple(found[:MOST])


def season_text(of: Season, words: Words) -> str:
    """The season for the command line."""
    told = season_words(of, words)
    lines = [told.says, told.where, told.zone, ""]
    for period in told.periods:
        lines.append(f"{period.kanji} {period.romaji} · {period.english}. {period.says}")
        lines += [f"  {period.here}"] if period.here else []
    lines += [*told.occasions]
    lines += [each for each in (told.mild, told.cold) if each]
    for title, groups in (("season.garden", told.garden), ("season.shops", told.shops)):
        lines += ["", words.say(Saying(title))]
        for role, found in groups:
            if found:
                lines.append(f"  {words.say(Saying(f'season.role.{role}'))}:")
                lines += [f"    {_line(each)}" for each in found]
    return "\n".join(lines)


def _line(each: PlantWords) -> str:
    parts = [part for part in (each.stage, each.when, each.year, each.sure) if part]
    return f"{each.name}: {'; '.join(parts)}" if parts else each.name
