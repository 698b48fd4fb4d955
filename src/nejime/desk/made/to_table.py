"""A measured piece is confirmed and laid on the arranging table, from where it goes into any bowl.

Model: what it would become is shown first, stem by stem. The kept one remembers which piece it
became, and every number with the ends of its interval, so that the table can say "as measured".
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from nejime.basis.angles import apart
from nejime.basis.errors import InputError, refuse
from nejime.basis.sayings import Words
from nejime.desk.arrange import on_table
from nejime.desk.made.numbers import StemSaid, numbers_said
from nejime.desk.made.piece import LEAST_CM, LEAST_DEG, ROLES, Chosen, Json, known_at, made_piece
from nejime.desk.shelf import Kept, Shelf
from nejime.forms.rules import DEFAULT_RULE, FORMS, MAIN
from nejime.forms.stems import Piece, stem_name
from nejime.photo.answer import Interval, Measured
from nejime.plants.table import plant

MADE, PIECE = "made", "piece"


@dataclass(frozen=True, slots=True)
class Choice:
    """One stem to confirm: its id, the role and plant that it would have."""

    id: str
    became: str
    role: str
    plant: str


@dataclass(frozen=True, slots=True)
class Proposal:
    """What a measured piece would become, to be confirmed: its form and side as keys, its stems,
    and what cannot stand as it was measured."""

    form: str
    opens: str
    stems: tuple[Choice, ...]
    told: tuple[str, ...]


def proposal(found: Measured, content: Mapping[str, Any], chosen: Chosen, words: Words) -> Proposal:
    """What a measured piece would become. Raises `InputError`."""
    made = made_piece(found, content, chosen)
    stems = {each["id"]: each for each in made.tree["stems"]}
    return Proposal(
        form=made.tree["form"],
        opens=made.tree["opens"],
        stems=tuple(
            Choice(
                each,
                piece_id,
                piece_id if piece_id in MAIN else stems[piece_id]["role"],
                stems[piece_id]["plant"],
            )
            for each, piece_id in made.became.items()
        ),
        told=tuple(words.say(each) for each in made.told),
    )


def chosen_of(
    fields: Mapping[str, str],
    ids: Sequence[str],
    plants: Mapping[str, str] | None = None,
    proportions: str = DEFAULT_RULE,
) -> Chosen:
    """What was typed: `plant-ID` and `role-ID` of each stem, `form`, `opens`. `plants`: of those
    of which nothing was typed. Raises `InputError` at a plant or role that is none."""
    told = {each: fields.get(f"plant-{each}", "").strip() for each in ids}
    for each, name in told.items():
        if name:
            _check_plant(f"plant-{each}", name)
    roles = {each: fields.get(f"role-{each}", "") for each in ids}
    roles = {each: role for each, role in roles.items() if role in (*MAIN, *ROLES)}
    twice = [each for each in MAIN if list(roles.values()).count(each) > 1]
    if twice:
        at = next(each for each in reversed(list(roles)) if roles[each] == twice[0])
        who = stem_name(twice[0])
        raise refuse(f"role-{at}", "made.piece.twice", "made.piece.twice-try", stem=who)
    form, opens = fields.get("form", ""), fields.get("opens", "")
    return Chosen(
        plants={**(plants or {}), **{each: name for each, name in told.items() if name}},
        roles=roles,
        form=form if form in FORMS else "",
        opens=opens if opens in ("right", "left") else "",
        proportions=proportions,
    )


def _check_plant(at: str, name: str) -> None:
    """Raises `InputError` at a field where a plant is none."""
    try:
        plant(name)
    except InputError as trouble:
        raise InputError(replace(each, field=at) for each in trouble.faults) from None


def to_table(shelf: Shelf, kept: Kept, found: Measured, chosen: Chosen, name: str = "") -> Kept:
    """A kept one that was measured becomes a piece of the arranging table; the kept one then knows
    which. Raises `InputError`."""
    made = made_piece(found, kept.content, chosen)
    piece = shelf.add(PIECE, name.strip() or kept.name, made.tree)
    link = {"id": piece.id, "name": piece.name, "stems": _numbers(found, made.became)}
    shelf.save(kept.id, {**kept.content, "piece": link}, kept.version)
    return piece


def _numbers(found: Measured, became: Mapping[str, str]) -> Json:
    """Every number with the ends of its interval, by the piece's stem ids."""
    numbers = {}
    for made, piece_id in became.items():
        at = known_at(found.stem(made))
        numbers[piece_id] = {
            "from": made,
            "tilt_deg": _three(at.tilt_deg),
            "bearing_deg": _three(at.bearing_deg),
            "length_cm": _three(at.length_cm),
        }
    return numbers


def _three(interval: Any) -> list[float]:
    return [round(each, 2) for each in (interval.value, interval.low, interval.high)]


@dataclass(frozen=True, slots=True)
class AsMeasured:
    """What a piece of the arranging table was measured from: the kept one, each stem's numbers
    with their ±, and the names of stems that were moved since."""

    kept: Kept
    stems: tuple[StemSaid, ...]
    moved: tuple[str, ...]


def as_measured(shelf: Shelf, piece_id: int, words: Words) -> AsMeasured | None:
    """What a piece was measured from, if it was. Raises `Missing`, `InputError`."""
    piece = shelf.get(piece_id)
    kept = measured_of_piece(shelf, piece)
    if kept is None:
        return None
    link = kept.content["piece"]
    now = on_table(piece.content).piece
    return AsMeasured(
        kept,
        tuple(_row(name, told, words) for name, told in link["stems"].items()),
        tuple(words.say(stem_name(each)) for each in turned_since(link, now)),
    )


def _row(name: str, told: Mapping[str, Any], words: Words) -> StemSaid:
    tilt, way, length = (Interval(*told[key]) for key in ("tilt_deg", "bearing_deg", "length_cm"))
    return numbers_said(name, tilt, way, length, words)


def measured_of_piece(shelf: Shelf, piece: Kept) -> Kept | None:
    """The kept one that became a piece of the arranging table, if one did.

    Pieces are numbered anew on another machine: it must have the stems, too.
    """
    for kept in shelf.all(MADE):
        link = kept.content.get("piece")
        if isinstance(link, Mapping) and link.get("id") == piece.id:
            ids = {each.get("id") for each in piece.content.get("stems", [])}
            if set(link.get("stems", {})) <= ids:
                return kept
    return None


def turned_since(link: Mapping[str, Any], piece: Piece) -> tuple[str, ...]:
    """Which stems of a piece no longer stand within the intervals that were measured."""
    moved = []
    for stem in piece.stems:
        told = link.get("stems", {}).get(stem.id)
        if told is None:
            continue
        tilt, way, long = told["tilt_deg"], told["bearing_deg"], told["length_cm"]
        half = (way[2] - way[1]) / 2.0
        inside = (
            tilt[1] - LEAST_DEG <= stem.stands_deg <= tilt[2] + LEAST_DEG
            and apart(stem.bearing_deg, way[0]) <= half + LEAST_DEG
            and long[1] - LEAST_CM <= stem.length_cm <= long[2] + LEAST_CM
        )
        if not inside:
            moved.append(stem.id)
    return tuple(moved)
