"""In every bowl: a piece of the arranging table in every vessel of a class, or of the cupboard."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Any

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying, Words
from nejime.basis.units import as_said_cm
from nejime.desk.arrange import Table, laid, on_table, vessel_saying
from nejime.desk.settings import stock_for, words_for
from nejime.desk.shelf import Kept, Shelf
from nejime.drawings.elevation import LENGTHS, NAMES, elevation
from nejime.forms.holder import Holder
from nejime.forms.vessel import Vessel
from nejime.papers.bowls import Bowl, bowls_sheet
from nejime.papers.pdf import print_sheets
from nejime.papers.wording import direction
from nejime.reading.typed import holder_of, vessel_of
from nejime.standing.verdict import judge

TILE_MM = (64.0, 62.0)  # [own] one bowl on the sheet


@dataclass(frozen=True, slots=True)
class InBowl:
    """The piece in one vessel: whose it is, its drawing and numbers, or why it cannot be there."""

    who: str
    vessel: str
    svg: str
    rows: tuple[tuple[str, str, str, str], ...]
    word: str
    says: str
    note: str
    cannot: str
    offer: str


def groups(shelf: Shelf) -> tuple[Kept, ...]:
    """The classes whose vessels can be tried."""
    return shelf.all("class")


def in_every_bowl(
    shelf: Shelf, piece_id: int, class_id: int | None, words: Words
) -> tuple[InBowl, ...]:
    """The piece in every known vessel of a class; of the cupboard where no class is named.

    Raises `Missing`, `InputError`.
    """
    table = on_table(shelf.get(piece_id).content)
    return tuple(
        _in_bowl(table, who, made, held, shelf, words)
        for who, made, held in _vessels(shelf, class_id)
    )


def without_vessel(shelf: Shelf, class_id: int | None) -> tuple[str, ...]:
    """Who of a class has no vessel that is known yet."""
    if class_id is None:
        return ()
    people = shelf.get(class_id).content.get("person", [])
    return tuple(str(each.get("name", "")) for each in people if not each.get("vessel"))


def _vessels(shelf: Shelf, class_id: int | None) -> list[tuple[str, Vessel, Holder | None]]:
    if class_id is None:
        return [(kept.name, vessel_of(kept.content), None) for kept in shelf.all("vessel")]
    tree = shelf.get(class_id).content
    lent = {str(each.get("name")): each for each in tree.get("vessel", [])}
    holders = {str(each.get("name")): each for each in tree.get("holder", [])}
    found = []
    for person in tree.get("person", []):
        told = person.get("vessel")
        told = lent.get(told) if isinstance(told, str) else told
        held = person.get("holder")
        held = holders.get(held) if isinstance(held, str) else held
        if told:
            found.append(_known(person, told, held))
    return [each for each in found if each is not None]


def _known(
    person: dict[str, Any], told: dict[str, Any], held: dict[str, Any] | None
) -> tuple[str, Vessel, Holder | None] | None:
    """Somebody's vessel where it can be read; the class's own page says what is wrong with it."""
    try:
        lying = holder_of(held) if isinstance(held, dict) else None
        return str(person.get("name", "")), vessel_of(told), lying
    except InputError:
        return None


def _in_bowl(
    table: Table, who: str, made: Vessel, held: Holder | None, shelf: Shelf, words: Words
) -> InBowl:
    vessel = words.say(vessel_saying(made))
    try:
        shown = laid(table.tree, table.made.in_vessel(made, held))
    except InputError as trouble:
        says = words.say(trouble.faults[0].says)
        return InBowl(who, vessel, "", (), "", "", "", says, _offer(table, shelf, words))
    verdict = judge(shown.piece, shown.bodies)
    wide, high = TILE_MM
    return InBowl(
        who=who,
        vessel=vessel,
        svg=elevation(
            shown.scene(),
            "front",
            words,
            width_mm=wide,
            height_mm=high,
            shows=frozenset((NAMES, LENGTHS)),
        ),
        rows=tuple(
            (
                f"{stem.label.romaji} {stem.label.kanji}" if stem.label else stem.id,
                words.quantity("cut_cm", as_said_cm(stem.said_cm)),
                f"{stem.stands_deg:.0f}°",
                words.say(direction(stem.bearing_deg)),
            )
            for stem in shown.piece.main
        ),
        word=verdict.word,
        says=words.say(verdict.reason),
        note=words.say(Saying("web.bowls.in-vase")) if made.tall else "",
        cannot="",
        offer="" if verdict.word == "stands" else _offer(table, shelf, words),
    )


def _offer(table: Table, shelf: Shelf, words: Words) -> str:
    """A vessel of the cupboard in which the piece stands; nothing where there is none."""
    for kept in shelf.all("vessel"):
        try:
            found = laid(table.tree, table.made.in_vessel(vessel_of(kept.content), None))
        except InputError:
            continue
        if judge(found.piece, found.bodies, remarks=False).word == "stands":
            return words.say(Saying("web.bowls.offer", name=kept.name))
    return ""


def bowls_pdf(shelf: Shelf, piece_id: int, class_id: int | None, today: dt.date) -> bytes:
    """All of them on paper. Raises `Missing`, `InputError`."""
    words, stock = words_for(shelf), stock_for(shelf, today)
    found = in_every_bowl(shelf, piece_id, class_id, words)
    title = shelf.get(piece_id).name
    sheet = bowls_sheet(title, [Bowl(*_printed(each, words)) for each in found], words)
    return print_sheets([sheet], stock, title).pdf


def _printed(each: InBowl, words: Words) -> tuple[str, str, str, list[str], str]:
    lines = [" · ".join(row) for row in each.rows]
    if each.cannot:
        return each.who, each.vessel, "", [each.cannot], each.offer
    word = words.say(Saying(f"web.table.word.{each.word}"))
    standing = word if each.word == "stands" else f"{word}: {each.says}"
    last = [each.note] if each.note else []
    return each.who, each.vessel, each.svg, [*lines, *last, standing], each.offer
