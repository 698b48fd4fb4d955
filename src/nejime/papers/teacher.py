"""The teacher's sheet: from her side, every piece at a glance, the unusual ones and what to do."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from nejime.basis.sayings import Saying, Words
from nejime.drawings.scene import drawing_key
from nejime.forms.stems import Piece
from nejime.lesson.plan import Made, PersonPlan
from nejime.papers import looks as of_plants
from nejime.papers import pictures, sections
from nejime.papers.sections import Section, strong
from nejime.papers.sheet import Drawing, Sheet, Stock
from nejime.papers.wording import fixed, one_unit, said, word

AS_USUAL = ("forms.rim-lifts", "forms.measure-used")  # [own] true of most bowls, no cause to act
NO_VESSEL = "no-vessel"
MOST_NAMES = 4  # [own] more names than this are not written on one card
MOST_REMEDIES = 2  # [own] more than this is not read while teaching


def teacher_sheet(
    people: Sequence[PersonPlan],
    words: Words,
    stock: Stock,
    above: str = "",
    demonstration: Made | None = None,
) -> Sheet:
    """Everybody's piece as a small drawing with its numbers, hers too, then what is unusual."""
    drawings: dict[str, Drawing] = {}
    drawn: dict[str, str] = {}
    alike: dict[tuple[str, int], list[PersonPlan]] = {}
    for person in people:
        key, alone = NO_VESSEL, 0
        if person.made is not None:
            piece, looks = person.made.piece, looks_of(person.made)
            own = f"seat-{person.seat.number:02}"
            key = drawn.setdefault(drawing_key(piece, looks), own)
            if key == own:
                drawings[key] = pictures.of_seat(piece, looks, words, stock)
            alone = person.seat.number if _matters(person, words) else 0
        alike.setdefault((key, alone), []).append(person)
    cards = [_card(group, key, words) for (key, _), group in alike.items()]
    if demonstration is not None:
        piece, looks = demonstration.piece, looks_of(demonstration)
        key = drawn.setdefault(drawing_key(piece, looks), "demonstration")
        if key not in drawings:
            drawings[key] = pictures.of_seat(piece, looks, words, stock)
        cards.insert(0, _card_of("", word(words, "tool.demonstration"), demonstration, key, words))
    data: dict[str, Any] = {
        "above": above,
        "fixed": fixed(words, "teacher"),
        "cards": cards,
        "unusual": _unusual(people, words),
    }
    return Sheet("teachers-sheet", "teacher", word(words, "teacher.title"), data, drawings)


def _card(group: Sequence[PersonPlan], key: str, words: Words) -> dict[str, Any]:
    """A card for people whose pieces are alike and of whom there is nothing else to know."""
    person = group[0]
    names = [each.name for each in group]
    many = word(words, "teacher.alike", count=len(names))
    name = many if len(names) > MOST_NAMES else words.together(names)
    seats = _seats([each.seat.number for each in group])
    card = _card_of(seats, name, person.made, key, words)
    return card | {"unusual": bool(_matters(person, words))}


def _card_of(number: str, name: str, made: Made | None, key: str, words: Words) -> dict[str, Any]:
    """What a card shows of one piece."""
    piece = made.piece if made else None
    return {
        "number": number,
        "name": name,
        "drawing": key,
        "vessel": vessel_in_short(piece, words) if piece else word(words, "teacher.no-vessel"),
        "lengths": _lengths(piece, words) if piece else "",
        "standing": standing_in_short(made, words),
        "unusual": made is not None and made.verdict.word != "stands",
        "labels": "".join(stem.label.kanji for stem in piece.main if stem.label) if piece else "",
    }


def _seats(numbers: Sequence[int]) -> str:
    """Seat numbers in short: 1–30, or 4, 9, 11."""
    if len(numbers) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1:
        return f"{numbers[0]}–{numbers[-1]}"
    return ", ".join(map(str, numbers))


def vessel_in_short(piece: Piece, words: Words) -> str:
    """Shape and numbers in the fewest words."""
    vessel, one = piece.vessel, one_unit(words)
    deep = abs(vessel.depth_cm - vessel.width_cm) > 0.5
    return word(
        one,
        "teacher.vessel-deep" if deep else "teacher.vessel",
        vessel=Saying(f"vessel.{vessel.shape}"),
        width_cm=vessel.width_cm,
        depth_cm=vessel.depth_cm,
        height_cm=vessel.height_cm,
    )


def _lengths(piece: Piece, words: Words) -> str:
    numbers = [one_unit(words).quantity("cut_cm", stem.said_cm) for stem in piece.main]
    short = [number.rpartition(" ")[0] for number in numbers[:-1]]
    return " · ".join([*short, numbers[-1]])


def standing_in_short(made: Made | None, words: Words) -> str:
    """The word of standing, where there is a verdict."""
    if made is None:
        return ""
    return word(words, f"teacher.standing.{made.verdict.word}")


def _matters(person: PersonPlan, words: Words) -> list[str]:
    """What is unusual with one person's piece, and what to do."""
    lines: list[str] = []
    made = person.made
    if made is None:
        lines.append(word(words, "teacher.unknown"))
    else:
        if made.verdict.word != "stands":
            lines.append(words.say(made.verdict.reason))
            lines += said(words, (each.says for each in made.remedies[:MOST_REMEDIES]))
        lines += said(words, (each for each in made.piece.remarks if each.key not in AS_USUAL))
    for short in person.short_of:
        lines += said(words, (short.says, short.mend))
    lines += said(words, (way.says for way in person.ways_out))
    lines += said(words, (*person.seat.remarks, *person.cautions.notes))
    lines += [f"{words.say(o.says)} {words.say(o.try_instead)}" for o in person.cautions.objections]
    if person.seat.person.remark:
        lines.append(person.seat.person.remark)
    return list(dict.fromkeys(lines))


def _unusual(people: Sequence[PersonPlan], words: Words) -> Section:
    say = fixed(words, "teacher")
    rows = [
        [strong(str(person.seat.number)), strong(person.name), lines]
        for person in people
        if (lines := _matters(person, words))
    ]
    columns = [("", "auto"), (say["who"], "1fr"), (say["do"], "3fr")]
    return sections.table(word(words, "teacher.unusual"), columns, rows)


def looks_of(made: Made) -> pictures.Looks:
    """How the stems of a piece are drawn."""
    roles = {stem.id: stem.role for stem in made.piece.stems}
    return of_plants.looks(made.plants, made.bodies, roles)
