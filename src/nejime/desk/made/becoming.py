"""Her sample becomes the class's piece: each stem as it was measured is confirmed, then it stands
on the arranging table, and from there in every bowl."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from nejime.basis.sayings import Saying, Words
from nejime.desk.known_plants import known_plants
from nejime.desk.made.answer import measured_of, names_of
from nejime.desk.made.begin import Plan
from nejime.desk.made.marks import one
from nejime.desk.made.numbers import StemSaid, stem_said
from nejime.desk.made.piece import ROLES, Chosen
from nejime.desk.made.to_table import Proposal, chosen_of, proposal, to_table
from nejime.desk.settings import settings, words_for
from nejime.desk.shelf import Kept, Shelf
from nejime.forms.rules import FORMS, MAIN
from nejime.forms.stems import stem_name
from nejime.photo.answer import Measured

OPENS = ("right", "left")
Typed = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class StemToConfirm:
    """One stem: its numbers with their ±, and what it will be."""

    id: str
    name: str
    said: StemSaid
    role: str
    plant: str


@dataclass(frozen=True, slots=True)
class Becoming:
    """Everything on the page that asks; choices are pairs of value and word."""

    kept: Kept
    stems: Sequence[StemToConfirm]
    left_out: Sequence[str]
    told: Sequence[str]
    form: str
    opens: str
    roles: Sequence[tuple[str, str]]
    forms: Sequence[tuple[str, str]]
    sides: Sequence[tuple[str, str]]
    plants: Sequence[tuple[str, str]]


def becoming(shelf: Shelf, number: int, typed: Typed, today: dt.date) -> Becoming:
    """What the piece would be on the arranging table. Raises `Missing`, `InputError`."""
    kept, words = one(shelf, number), words_for(shelf)
    found, plan = measured_of(shelf, kept, today)
    made = proposal(found, kept.content, _chosen(shelf, found, plan, {}), words)
    names = names_of(kept.content, found, words)
    return Becoming(
        kept=kept,
        stems=_stems(found, made, names, typed, words),
        left_out=[names[each.id] for each in found.stems if each.line is None],
        told=made.told,
        form=typed.get("form", made.form),
        opens=typed.get("opens", made.opens),
        roles=_roles(words),
        forms=[(each, words.say(Saying(f"papers.form.{each}"))) for each in FORMS],
        sides=[(each, words.say(Saying(f"web.table.{each}"))) for each in OPENS],
        plants=sorted(((p.id, p.english) for p in known_plants(shelf)), key=lambda pair: pair[1]),
    )


def become(shelf: Shelf, number: int, typed: Typed, today: dt.date) -> Kept:
    """The piece, laid on the arranging table. Raises `Missing`, `InputError` by field."""
    kept = one(shelf, number)
    found, plan = measured_of(shelf, kept, today)
    return to_table(shelf, kept, found, _chosen(shelf, found, plan, typed), typed.get("name", ""))


def _chosen(shelf: Shelf, found: Measured, plan: Plan | None, typed: Typed) -> Chosen:
    ids = [each.id for each in found.stems if each.line is not None]
    plants = plan.plants if plan else {}
    return chosen_of(typed, ids, plants, settings(shelf)["proportions"])


def _stems(
    found: Measured, made: Proposal, names: Mapping[str, str], typed: Typed, words: Words
) -> list[StemToConfirm]:
    return [
        StemToConfirm(
            id=each.id,
            name=names[each.id],
            said=stem_said(found.stem(each.id), None, words),
            role=typed.get(f"role-{each.id}", each.role),
            plant=typed.get(f"plant-{each.id}", each.plant),
        )
        for each in made.stems
    ]


def _roles(words: Words) -> list[tuple[str, Any]]:
    main = [(each, words.say(stem_name(each))) for each in MAIN]
    return [*main, *((each, words.say(Saying(f"web.table.role.{each}"))) for each in ROLES)]
