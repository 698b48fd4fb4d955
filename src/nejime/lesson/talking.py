"""What a teacher may say before hands begin: five thoughts, each one that she can change.

Model: the season's word and where it comes from; what the material is doing now; why this form; how
to look at it; a thought to take home. The word is that of the solar term and of the five days in it
to which the day belongs. What a plant is doing is told where its stage is known and otherwise asked
of the class. The thought to take home follows the first plant of which something is known.
Source: where the calendar's words come from is from memory; all else is our own, hers to change.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from nejime.basis.sayings import Saying
from nejime.material.choosing import blossoms
from nejime.plants.plant import Plant
from nejime.season.bloom import Stage
from nejime.season.terms import Period, matching

PARTS = ("word", "material", "why", "look", "home")
HOME: Mapping[Stage | None, str] = {  # [own] which thought follows which stage
    "not yet": "waiting",
    "bud": "waiting",
    "colour showing": "waiting",
    "open": "open",
    "past": "change",
    None: "change",
}
ROUND = "all-round"


@dataclass(frozen=True, slots=True)
class Seen:
    """A plant that is used, and its stage in gardens here; None where that is not known.

    `lasting`: it is there all year, whatever its stage.
    """

    plant: Plant
    stage: Stage | None
    lasting: bool = False


@dataclass(frozen=True, slots=True)
class Talk:
    """The five thoughts."""

    word: Saying
    material: Saying
    why: Saying
    look: Saying
    home: Saying

    @property
    def parts(self) -> tuple[tuple[str, Saying], ...]:
        """Each by its name, in the order in which they are said."""
        return tuple((name, getattr(self, name)) for name in PARTS)


def talk(
    sekki: Period, ko: Period, seen: Sequence[Seen], form: str | None, *, southern: bool = False
) -> Talk:
    """What may be said on the day of these periods, of these plants and this form."""
    return Talk(
        word=_word(sekki, ko, southern=southern),
        material=_material(seen),
        why=Saying(f"lesson.talking.why.{form or 'own'}"),
        look=Saying(f"lesson.talking.look.{'round' if form == ROUND else 'front'}"),
        home=Saying(f"lesson.talking.home.{_home(seen)}"),
    )


def _word(sekki: Period, ko: Period, *, southern: bool) -> Saying:
    told = {
        "kanji": sekki.name.kanji,
        "romaji": sekki.name.romaji,
        "english": sekki.name.english,
        "days": ko.name.english,
        "days_kanji": ko.name.kanji,
    }
    if southern:
        there = matching(sekki.name)
        return Saying("lesson.talking.word.south", **told, matching=there.english)
    return Saying("lesson.talking.word.north", **told)


def _material(seen: Sequence[Seen]) -> Saying:
    if not seen:
        return Saying("lesson.talking.material.nothing")
    known = tuple(_now(each, each.stage) for each in seen if each.stage and not each.lasting)
    lasting = tuple(
        Saying("lesson.talking.now.lasting", plant=e.plant.english) for e in seen if e.lasting
    )
    asked = tuple(each.plant.english for each in seen if not each.stage and not each.lasting)
    if not known:
        named = tuple(each.plant.english for each in seen)
        return Saying("lesson.talking.material.ask", plants=named)
    now = (*known, *lasting)
    if not asked:
        return Saying("lesson.talking.material.now", now=now)
    return Saying("lesson.talking.material.both", now=now, plants=asked)


def _now(seen: Seen, stage: Stage) -> Saying:
    key = "now" if blossoms(seen.plant) else "nearly"
    return Saying(f"lesson.talking.{key}.{stage.replace(' ', '-')}", plant=seen.plant.english)


def _home(seen: Sequence[Seen]) -> str:
    known = (each.stage for each in seen if each.stage is not None and not each.lasting)
    return HOME[next(known, None)]
