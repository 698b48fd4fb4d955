"""A plant as arranging material: its names, its facts, and what it can do to people and pets.

Model: a fact is a range with a unit, a source and a grade; what is not known has no row. The same
thing may be known from several sources and for several places, so a plant holds facts, not values.
Nothing here ever says that a plant is harmless: a plant without a hazard is one of which none is
known to us.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from nejime.basis.sayings import Saying
from nejime.basis.sources import GRADES

KINDS = ("branch", "flower", "leaf", "grass", "berry")
ROLES = ("line", "mass", "heart", "leaf", "foot")
STEMS = ("bare-branch", "leafy-branch", "firm-stem", "soft-stem", "leaf-stalk")
TREATMENTS = (
    "woody",
    "soft",
    "hollow",
    "milky-sap",
    "wilting",
    "break-under-water",
    "hydrangea",
    "narcissus",
    "bulb",
    "leaf",
    "evergreen",
    "grass",
    "tropical",
)
"""Keys of the conditioning rules."""

UNIT_OF: Mapping[str, str] = {
    "garden_months": "month",
    "market_months": "month",
    "stem_length_cm": "cm",
    "thickness_mm": "mm",
    "head_g": "g",
    "fresh_mass_factor": "1",
    "vase_life_d": "d",
    "store_c": "c",
    "store_d": "d",
    "chill_below_c": "c",
    "display_on_pins_d": "d",
    "grows_after_cutting_cm": "cm",
}
"""What can be known of a plant, and the unit it is written in."""

HAZARDS = (
    "cat-fatal",
    "toxic-eaten",
    "urushiol",
    "vase-water",
    "sap-irritant",
    "allergen",
    "thorn",
    "pollen",
    "invasive",
    "not-foraged",
)
"""The gravest first."""
TO_WHOM = ("people", "pets", "cats", "skin")

TEMPERATE_NORTH = "temperate north (USDA zones 6-7)"
CENTRAL_JAPAN = "central Japan"
SHOPS = "shops, North America and Europe"
SHOPS_JAPAN = "shops, Japan"

TEACHER = "teacher"
"""Source and grade of what a teacher confirmed: only what she keeps has it, no table of ours."""

GRAVE = "plants.hazard.grave"
FORBIDDEN = "plants.hazard.invasive-forbidden"
NOT_FOR_HOMES = ("cat-fatal", "urushiol")  # [own] with whatever can stop a heart (`GRAVE`)


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing known of a plant: a range, open on a side where `low` or `high` is None.

    Months run from `low` to `high`, both included, and over the turn of the year where `low` is
    the larger. `place` says where, or under what conditions, the fact holds.
    """

    what: str
    low: float | None
    high: float | None
    unit: str
    source: str
    place: str
    grade: str

    @property
    def is_whole(self) -> bool:
        """Whether both ends of the range are known."""
        return self.low is not None and self.high is not None

    @property
    def middle(self) -> float | None:
        """The middle of the range; None where an end of it is not known."""
        return None if self.low is None or self.high is None else (self.low + self.high) / 2

    def holds_in(self, month: int) -> bool:
        """Whether a month, 1 to 12, lies in a range of months."""
        if self.unit != "month" or self.low is None or self.high is None:
            raise ValueError(f"{self.what} is not a range of months")
        if self.low <= self.high:
            return self.low <= month <= self.high
        return month >= self.low or month <= self.high


@dataclass(frozen=True, slots=True)
class Hazard:
    """What a plant can do, to whom, and, where it is not so everywhere, in which place."""

    hazard: str
    to: str
    says: str
    source: str
    place: str
    grade: str

    @property
    def saying(self) -> Saying:
        """The caution as a sentence."""
        return Saying(self.says, place=self.place) if self.place else Saying(self.says)


@dataclass(frozen=True, slots=True)
class Plant:
    """A species or kind of arranging material.

    `pieces_per_stem` is how many usable stems one bought stem gives, normally one. Empty text
    means that there is no such name in use.
    """

    id: str
    scientific: str
    english: str
    kanji: str
    kana: str
    romaji: str
    kind: str
    roles: tuple[str, ...]
    stem: str
    treatment: str
    pieces_per_stem: int
    aliases: tuple[str, ...]
    facts: tuple[Fact, ...]
    hazards: tuple[Hazard, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """Every name, the surest first."""
        own = (self.id, self.english, self.scientific, self.kanji, self.kana, self.romaji)
        return tuple(name for name in (*own, *self.aliases) if name)

    def facts_of(self, what: str, place: str | None = None) -> tuple[Fact, ...]:
        """All that is known of one thing, ranges with both ends first, then the best grade first.

        With a `place`, only what holds there. Raises `ValueError` for a thing not in `UNIT_OF`.
        """
        if what not in UNIT_OF:
            raise ValueError(f"nothing called {what!r} is known of plants")
        found = (fact for fact in self.facts if fact.what == what and place in (None, fact.place))
        return tuple(sorted(found, key=lambda fact: (not fact.is_whole, GRADES.index(fact.grade))))

    def fact(self, what: str, place: str | None = None) -> Fact | None:
        """The first of `facts_of`; None where nothing is known."""
        return next(iter(self.facts_of(what, place)), None)

    def in_garden(self, month: int, place: str = TEMPERATE_NORTH) -> bool | None:
        """Whether it is at its use in a garden there; None where that is not known."""
        return _in_any(self.facts_of("garden_months", place), month)

    def on_market(self, month: int, place: str = SHOPS) -> bool | None:
        """Whether shops there usually have it; None where that is not known."""
        return _in_any(self.facts_of("market_months", place), month)

    @property
    def goes_home(self) -> bool:
        """Whether it may leave with people, unless the teacher decides otherwise."""
        return not any(
            hazard.hazard in NOT_FOR_HOMES or hazard.says == GRAVE for hazard in self.hazards
        )

    def forbidden_in(self, place: str) -> bool:
        """Whether the law of a country forbids to keep or carry it. False means: not known."""
        return any(hazard.says == FORBIDDEN and hazard.place == place for hazard in self.hazards)


def _in_any(ranges: Iterable[Fact], month: int) -> bool | None:
    held = [fact.holds_in(month) for fact in ranges]
    return any(held) if held else None
