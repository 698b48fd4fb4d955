"""What to choose for a day: all that is in season by its role, and proposals for beginners.

Model: a plant is in season in gardens where its stage on the day is bud, colour showing or open;
where the stage is not known, and where it is there nearly all year, in the months of the plant
table. In shops the months decide. Months of the north are turned by half a year in the south.
First comes the material of the occasion, where more than memory says so, then what has the shortest
season, then what is best cut, then the name.
A proposal names a plant for the line, which is on the first two stems and should tell the season, a
flower for fullness and, where there is one, a leaf; each with a fall-back that shops nearly always
have. What is unlucky is told, never left out; what the law of the region forbids is left out.
Source: months and hazards on the rows of the plant table; the order and the limits are our own.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from nejime.basis.sayings import Saying
from nejime.material.occasions import Held
from nejime.material.unlucky import Advice, advice_on, places_of
from nejime.plants.plant import SHOPS, TEMPERATE_NORTH, Fact, Plant
from nejime.season.bloom import Stage

Role = Literal["line", "mass", "leaf"]
Where = Literal["garden", "shop"]

ROLES: tuple[Role, ...] = ("line", "mass", "leaf")
STEMS: Mapping[Role, tuple[str, ...]] = {  # [practice] which stems a role is mostly on
    "line": ("first", "second"),
    "mass": ("third", "heart"),
    "leaf": ("leaf",),
}
TO_BE_HAD: tuple[Stage, ...] = ("colour showing", "bud", "open")  # [practice] the best to cut first
SEASONAL_MONTHS = 9  # [own] what is to be had for longer is no sign of a season
LONG_MONTHS = 10  # [own] what shops have for so long is a safe fall-back
PROPOSALS = 3  # [own] as many as a person compares
NOT_FOR_BEGINNERS = ("narcissus", "milky-sap")  # [practice] treated again after every cut
GREEN = ("leaf", "grass")
WANTED_KINDS: Mapping[Role, tuple[str, ...]] = {  # [practice] a beginner's branch, flower and leaf
    "line": ("branch", "grass", "berry"),
    "mass": ("flower",),
    "leaf": ("leaf", "grass"),
}
DELICATE = "tropical"  # the treatment of what a cold car spoils: no safe fall-back
BARE_WOOD = ("twisted-willow", "red-stem-dogwood", "birch")  # [practice] wanted without flowers
NOT_IN_BUD = ("flower", "leaf", "grass", "berry")
"""[practice] Kinds of no use one to three weeks ahead: only the buds of branches are forced."""
REMEMBERED = 2000  # [own] ranges of months whose months need not be counted again
MOST_REASONS = 2  # [own] months that are named of a plant with two seasons


@dataclass(frozen=True, slots=True)
class Asked:
    """For which day, place and purpose. `stages` by plant id: missing where not reckoned, None
    where nothing is known of the plant at the place.

    `garden` and `shops` are places of the plant table, `region` a country's code or name.
    """

    day: dt.date
    stages: Mapping[str, Stage | None]
    garden: str = TEMPERATE_NORTH
    shops: str = SHOPS
    region: str = ""
    southern: bool = False
    held: Held | None = None
    purpose: str = ""

    @property
    def month(self) -> int:
        """The month of the plant table that this day's is: half a year on in the south."""
        return (self.day.month + (6 if self.southern else 0) - 1) % 12 + 1


@dataclass(frozen=True, slots=True)
class Choice:
    """A plant to be had on the day, in gardens or in shops.

    `months` is how many months of the year it is to be had there, 12 where that is not known.
    `stage` is None where it is not known, and always in shops, which bring material on. `leads`:
    it is the occasion's own by more than memory. `spreads`: it spreads in the region where it does
    not belong.
    """

    plant: Plant
    where: Where
    months: int
    stage: Stage | None
    of_occasion: bool
    leads: bool
    spreads: bool
    reasons: tuple[Saying, ...]
    advice: tuple[Advice, ...]

    @property
    def goes_home(self) -> bool:
        """Whether it may leave with people, unless the teacher decides otherwise."""
        return self.plant.goes_home

    @property
    def for_beginners(self) -> bool:
        """Whether it is proposed for a class of beginners, who take it home."""
        hard = self.plant.treatment in NOT_FOR_BEGINNERS
        return self.goes_home and not hard and (self.of_occasion or not self.spreads)

    @property
    def tells_season(self) -> bool:
        """Whether it is to be had for a part of the year only."""
        return self.months <= SEASONAL_MONTHS

    @property
    def rank(self) -> tuple[bool, int, int, str, bool]:
        """What comes first is the smaller."""
        best = len(TO_BE_HAD) if self.stage is None else TO_BE_HAD.index(self.stage)
        return not self.leads, self.months, best, self.plant.english, self.where == "shop"


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A plant that is not offered, and why."""

    plant: Plant
    says: Saying


@dataclass(frozen=True, slots=True)
class InSeason:
    """All that is to be had: by role, in gardens and in shops; and what was left out.

    `substitute` asks for something local where none of the occasion's plants is to be had, and in
    the south always; None without an occasion, or where its own material is there.
    """

    garden: Mapping[Role, tuple[Choice, ...]]
    shops: Mapping[Role, tuple[Choice, ...]]
    left_out: tuple[LeftOut, ...]
    substitute: Saying | None

    def of(self, role: Role) -> tuple[Choice, ...]:
        """The plants for a role, each once, from where its season is the shorter."""
        found: dict[str, Choice] = {}
        for choice in sorted((*self.garden[role], *self.shops[role]), key=lambda each: each.rank):
            found.setdefault(choice.plant.id, choice)
        return tuple(found.values())


@dataclass(frozen=True, slots=True)
class Pick:
    """One kind of a proposal: for which stems, why, and what shops have in its place.

    `fall_back` is None where the choice itself is what shops nearly always have.
    """

    role: Role
    stems: tuple[str, ...]
    choice: Choice
    reasons: tuple[Saying, ...]
    fall_back: Choice | None


@dataclass(frozen=True, slots=True)
class Proposal:
    """Two or three kinds that go together, the line first."""

    picks: tuple[Pick, ...]

    @property
    def tells_season(self) -> bool:
        """Whether its first two stems tell the season."""
        return self.picks[0].role == "line" and self.picks[0].choice.tells_season


def in_season(asked: Asked, plants: Sequence[Plant]) -> InSeason:
    """What of these plants is to be had on the day."""
    places = places_of(asked.region)
    left = tuple(each for plant in plants if (each := _left_out(plant, places)))
    gone = {each.plant.id for each in left}
    allowed = [plant for plant in plants if plant.id not in gone]
    garden = [found for plant in allowed if (found := _in_garden(plant, asked))]
    shops = [found for plant in allowed if (found := _in_shop(plant, asked))]
    return InSeason(
        _by_role(garden), _by_role(shops), left, _substitute(asked, [*garden, *shops], allowed)
    )


def proposals(asked: Asked, plants: Sequence[Plant], most: int = PROPOSALS) -> tuple[Proposal, ...]:
    """What is proposed of these plants on the day: see `proposed`."""
    return proposed(in_season(asked, plants), most)


def proposed(found: InSeason, most: int = PROPOSALS) -> tuple[Proposal, ...]:
    """Up to so many proposals for beginners, the best first; no two with the same line or flower.

    Empty where nothing for a line, or no flower, is to be had.
    """
    lines, flowers, leaves = (_for_beginners(found.of(role), role) for role in ROLES)
    made: list[Proposal] = []
    used: set[str] = set()
    for line in lines:
        flower = next((e for e in flowers if e.plant.id not in {*used, line.plant.id}), None)
        if flower is None or len(made) == most:
            break
        if line.plant.id in used:
            continue
        taken = {line.plant.id, flower.plant.id}
        used |= taken
        leaf = next((each for each in leaves if each.plant.id not in taken), None)
        chosen: list[tuple[Role, Choice | None]] = [
            ("line", line),
            ("mass", flower),
            ("leaf", leaf),
        ]
        picks = tuple(_pick(role, each, found) for role, each in chosen if each is not None)
        made.append(Proposal(picks))
    return tuple(made)


# One plant


def _left_out(plant: Plant, places: Sequence[str]) -> LeftOut | None:
    place = next((place for place in places if plant.forbidden_in(place)), None)
    if place is None:
        return None
    return LeftOut(plant, Saying("material.choosing.forbidden", plant=plant.english, place=place))


def _in_garden(plant: Plant, asked: Asked) -> Choice | None:
    """By its stage where that was reckoned; what is there all year, and the rest, by its months."""
    here = plant.facts_of("garden_months", asked.garden)
    facts = here or plant.facts_of("garden_months")
    stage = asked.stages.get(plant.id)
    if stage is None and plant.id in asked.stages:
        return None
    if stage is None or len(_months(facts)) > SEASONAL_MONTHS:
        there = _any_holds(here, asked.month)
        return _choice(plant, "garden", here, None, asked) if there else None
    grown = stage in TO_BE_HAD and not (stage == "bud" and plant.kind in NOT_IN_BUD)
    return _choice(plant, "garden", facts, stage, asked) if grown else None


def _in_shop(plant: Plant, asked: Asked) -> Choice | None:
    facts = plant.facts_of("market_months", asked.shops)
    there = _any_holds(facts, asked.month)
    return _choice(plant, "shop", facts, None, asked) if there else None


def _choice(
    plant: Plant, where: Where, facts: tuple[Fact, ...], stage: Stage | None, asked: Asked
) -> Choice:
    occasion = asked.held.occasion if asked.held else None
    of_occasion = occasion is not None and plant.id in occasion.plants
    months = len(_months(facts)) or 12
    places = places_of(asked.region)
    spreading = [
        hazard
        for hazard in plant.hazards
        if hazard.hazard == "invasive" and any(place in hazard.place for place in places)
    ]
    return Choice(
        plant=plant,
        where=where,
        months=months,
        stage=stage,
        of_occasion=of_occasion,
        leads=of_occasion and occasion is not None and occasion.grade != "memory",
        spreads=bool(spreading),
        reasons=(
            *_reasons(plant, where, facts, stage, asked),
            *(hazard.saying for hazard in spreading),
        ),
        advice=advice_on(
            plant.id,
            purpose=asked.purpose,
            occasion=occasion.id if occasion else "",
            places=places,
        ),
    )


def _reasons(
    plant: Plant, where: Where, facts: Sequence[Fact], stage: Stage | None, asked: Asked
) -> Iterator[Saying]:
    """Why a plant is offered, what weighs most first."""
    held = asked.held
    if held is not None and plant.id in held.occasion.plants:
        yield Saying("material.choosing.occasion", occasion=held.occasion.english)
    if stage is not None:
        key = "stage" if blossoms(plant) else "nearly"
        yield Saying(f"material.choosing.{key}.{stage.replace(' ', '-')}")
    whole = tuple(fact for fact in facts if fact.is_whole)
    if len(_months(whole)) == 12:
        yield Saying(f"material.choosing.{where}-all-year")
    elif whole and stage is None:
        spans = tuple(_span(fact, asked) for fact in whole[:MOST_REASONS])
        yield Saying(f"material.choosing.{where}-months", spans=spans)
    if not plant.goes_home:
        yield Saying("material.choosing.not-home")


def _span(fact: Fact, asked: Asked) -> Saying:
    """The months of a fact, in the months of this place."""
    turn = 6 if asked.southern else 0
    ends = (int(each) for each in (fact.low, fact.high) if each is not None)
    low, high = ((each + turn - 1) % 12 + 1 for each in ends)
    first, last = Saying(f"month.{low}"), Saying(f"month.{high}")
    if low == high:
        return Saying("material.choosing.one-month", first=first)
    return Saying("material.choosing.span", first=first, last=last)


@lru_cache(maxsize=REMEMBERED)
def _months(facts: tuple[Fact, ...]) -> frozenset[int]:
    return frozenset(month for month in range(1, 13) if _any_holds(facts, month))


def _any_holds(facts: Sequence[Fact], month: int) -> bool:
    return any(fact.is_whole and fact.holds_in(month) for fact in facts)


def _substitute(asked: Asked, found: Sequence[Choice], allowed: Sequence[Plant]) -> Saying | None:
    if asked.held is None or not (asked.southern or not any(each.of_occasion for each in found)):
        return None
    occasion = asked.held.occasion
    named = (
        *(plant.english for plant in allowed if plant.id in occasion.plants),
        *occasion.words,
    )
    key = "south" if asked.southern else "not-here"
    return Saying(
        f"material.choosing.substitute.{key}", occasion=occasion.english, traditional=named
    )


# By role, and proposed


def blossoms(plant: Plant) -> bool:
    """Whether its time is that of its flowers: a leaf, a berry or bare wood has another best."""
    bloom_branch = plant.stem == "bare-branch" and plant.kind == "branch"
    return plant.kind == "flower" or (bloom_branch and plant.id not in BARE_WOOD)


def roles_of(plant: Plant) -> tuple[Role, ...]:
    """What a plant is chosen for: for the line, for fullness, as leaves at the foot."""
    found: list[Role] = []
    if "line" in plant.roles:
        found.append("line")
    if "mass" in plant.roles or "heart" in plant.roles:
        found.append("mass")
    if "leaf" in plant.roles or ("foot" in plant.roles and plant.kind in GREEN):
        found.append("leaf")
    return tuple(found)


def _by_role(choices: Sequence[Choice]) -> dict[Role, tuple[Choice, ...]]:
    ranked = sorted(choices, key=lambda each: each.rank)
    return {role: tuple(each for each in ranked if role in roles_of(each.plant)) for role in ROLES}


def _for_beginners(choices: Sequence[Choice], role: Role) -> list[Choice]:
    """What a beginner is given for a role, the best first.

    For the line what tells the season comes first; otherwise what is more than a single heart, or
    more than low at the foot.
    """
    wanted = WANTED_KINDS[role]
    fit = [each for each in choices if each.for_beginners]
    if role == "line":
        return sorted(fit, key=lambda each: (not each.tells_season, each.plant.kind not in wanted))
    usual = [each for each in fit if each.plant.kind in wanted]
    return sorted(usual, key=lambda each: role not in each.plant.roles)


def _pick(role: Role, choice: Choice, found: InSeason) -> Pick:
    reasons = choice.reasons
    if role == "line" and choice.tells_season:
        reasons = (*reasons, Saying("material.choosing.first-two"))
    safe = choice.where == "shop" and choice.months >= LONG_MONTHS
    instead = None if safe else fall_back(role, choice, found)
    return Pick(role, STEMS[role], choice, reasons, instead)


def fall_back(role: Role, choice: Choice, found: InSeason) -> Choice | None:
    """What shops nearly always have in its place: the same kind, least advised against, lasting."""
    safe = [
        each
        for each in found.shops[role]
        if each.months >= LONG_MONTHS
        and each.for_beginners
        and each.plant.treatment != DELICATE
        and each.plant.id != choice.plant.id
    ]
    return min(safe, key=lambda each: _safety(each, choice), default=None)


def _safety(each: Choice, choice: Choice) -> tuple[bool, int, int, int, float, str]:
    life = each.plant.fact("vase_life_d", "vase in a room")
    lasts = life.low if life is not None and life.low is not None else 0.0
    other_kind = each.plant.kind != choice.plant.kind
    other_roles = len(set(choice.plant.roles) - set(each.plant.roles))
    return (
        other_kind,
        other_roles,
        len(each.advice),
        -each.months,
        -lasts,
        each.plant.english,
    )
