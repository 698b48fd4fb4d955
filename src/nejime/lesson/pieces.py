"""Everybody's piece: the class's form in each person's own vessel.

Model: a person has a vessel of their own, one that is lent, or none that anybody knows yet. Who has
none gets no piece; material is planned for them as for the demonstration. Pin holders to lend go
to the smallest floors first, each the widest that still lies flat.
Source: common practice; where nothing is listed the widest usual holder that lies flat is assumed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying
from nejime.forms.holder import Holder, fits
from nejime.forms.piece import piece, rule_for
from nejime.forms.rules import Rule
from nejime.forms.stems import Piece
from nejime.forms.supporting import MOST, with_supporting
from nejime.forms.vessel import Vessel, vessel
from nejime.forms.waterline import bare_stem_cm
from nejime.lesson.lesson import Lesson, Person

USUAL_DISH = vessel("round", 30, 6)  # [practice]
"""The ordinary practice dish; common practice."""


@dataclass(frozen=True, slots=True)
class Seat:
    """A person with a number, their piece where the vessel is known, and what to know of it.

    `holder_found` is False where nothing listed lies flat in the vessel, so that a usual pin holder
    was assumed.
    """

    number: int
    person: Person
    piece: Piece | None
    holder_found: bool = True
    remarks: tuple[Saying, ...] = ()

    @property
    def name(self) -> str:
        """The person's name as it was written down."""
        return self.person.name


def rule_of(lesson: Lesson, form: str, tall: bool, known: Mapping[str, Rule]) -> Rule:
    """The proportions for a form: the lesson's own, else the usual ones that have the form.

    Raises `InputError`.
    """
    if lesson.rule is not None:
        return known[lesson.rule]
    return rule_for(form, dict(known), "tall" if tall else "shallow")


def supported(planned: Piece, lesson: Lesson) -> Piece:
    """The piece with the supporting stems that the lesson asks for."""
    counts = Counter[str]()
    for wish in lesson.wishes:
        counts[wish.role] += wish.each
    asked = {role: min(counts[role], most) for role, most in MOST.items()}
    return with_supporting(
        planned, helpers=asked["helper"], hearts=asked["heart"], leaves=asked["leaf"]
    )


def piece_for(
    lesson: Lesson,
    known: Mapping[str, Rule],
    made: Vessel,
    held: Holder | None,
    person: Person | None = None,
) -> Piece:
    """The class's piece in a vessel, with a person's own form, size and opening where they differ.

    Raises `InputError`.
    """
    form = (person and person.form) or lesson.form or "upright"
    planned = piece(
        made,
        rule_of(lesson, form, made.tall, known),
        form,
        size=(person and person.size) or lesson.size,
        opens=(person and person.opens) or lesson.opens,
        held=held,
        fuller_third=lesson.fuller_third,
        season=lesson.season if lesson.holder_by_season else None,
    )
    return supported(planned, lesson)


def demonstration(lesson: Lesson, known: Mapping[str, Rule]) -> Piece:
    """The teacher's own piece: in her vessel, else in the vessel that most people have."""
    own = lesson.demonstration or _most_common(lesson.people) or USUAL_DISH
    free = [held for held, count in lesson.lend.holders for _ in range(count)]
    return piece_for(lesson, known, own, _widest(free, own))


def _most_common(people: Sequence[Person]) -> Vessel | None:
    counted = Counter(person.vessel for person in people if person.vessel is not None)
    return counted.most_common(1)[0][0] if counted else None


def _widest(free: Sequence[Holder], made: Vessel) -> Holder | None:
    """The widest of these that lies flat on the vessel's floor; None for a tall vase."""
    lying = [held for held in free if not made.tall and fits(held, made)]
    return max(lying, key=lambda held: held.mass.g, default=None)


def seats(lesson: Lesson, known: Mapping[str, Rule]) -> tuple[Seat, ...]:
    """Everybody in the order of the list. Raises `InputError` with every fault, by person."""
    holders = _holders(lesson)
    found, faults = [], []
    for number, person in enumerate(lesson.people, start=1):
        if person.vessel is None:
            found.append(Seat(number, person, None))
            continue
        held = holders.get(number)
        try:
            made = piece_for(lesson, known, person.vessel, held, person)
        except InputError as trouble:
            at = f"person[{number}]"
            faults += [replace(each, field=f"{at}.{each.field}") for each in trouble.faults]
            continue
        lacking = held is None and not person.vessel.tall and bool(lesson.lend.holders)
        found.append(Seat(number, person, made, not lacking, _remarks(lesson, made, lacking)))
    if faults:
        raise InputError(faults)
    return tuple(found)


def _remarks(lesson: Lesson, made: Piece, lacking: bool) -> tuple[Saying, ...]:
    said = []
    if lacking and made.holder is not None:
        said.append(Saying("plan.no-holder-left", holder_cm=made.holder.width_cm))
    bare = bare_stem_cm(lesson.season) if made.vessel.tall else None
    if bare is not None:
        said.append(Saying("plan.bare-stems", bare_cm=bare))
    return tuple(said)


def _holders(lesson: Lesson) -> dict[int, Holder]:
    """Pin holders by seat: a person's own, then those to lend, the smallest floor first."""
    free = [held for held, count in lesson.lend.holders for _ in range(count)]
    given: dict[int, Holder] = {}
    waiting = []
    for number, person in enumerate(lesson.people, start=1):
        if person.holder is not None:
            given[number] = person.holder
            if person.holder in free:
                free.remove(person.holder)
        elif person.vessel is not None and not person.vessel.tall:
            waiting.append(
                (min(person.vessel.floor_width_cm, person.vessel.floor_depth_cm), number)
            )
    for _, number in sorted(waiting):
        made = lesson.people[number - 1].vessel
        held = _widest(free, made) if made is not None else None
        if held is not None:
            free.remove(held)
            given[number] = held
    return given
