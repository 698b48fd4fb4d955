"""Kit and room: what lies where, what is sharp and counted out and in, how the room is set."""

from __future__ import annotations

from nejime.basis.sayings import Words
from nejime.lesson.kit import PLACES, Item, Kit, Where
from nejime.lesson.room import RoomPlan
from nejime.papers import pictures, sections
from nejime.papers.sections import Cell, Section, blank, quiet, strong
from nejime.papers.sheet import Sheet, Stock
from nejime.papers.wording import fixed, said, word

BLANK_MM = 20.0  # [own] room for a count written by hand


def kit_room(
    found: Kit, words: Words, stock: Stock, above: str = "", room: RoomPlan | None = None
) -> Sheet:
    """The kit of one class and its room, drawn as people see it who face the front."""
    say = fixed(words, "kit")
    drawings = {} if room is None else {"room": pictures.of_room(room, words, stock)}
    listed = [
        *(_place(found, place, words) for place in PLACES),
        _sharps(found, words, say),
        *(sections.drawn(word(words, "kit.room"), name) for name in drawings),
        sections.text("", said(words, room.remarks) if room else []),
    ]
    title = word(words, "kit.title")
    return sections.sheet("kit-and-room", title, above, listed, drawings=drawings)


def _place(found: Kit, place: Where, words: Words) -> Section:
    items = [_item(item, words) for item in found.at(place)]
    return sections.ticks(word(words, f"kit.place.{place}"), items, across=2)


def _item(item: Item, words: Words) -> Cell:
    line = f"{item.count} × {words.say(item.says)}"
    return [line, quiet(word(words, "kit.each", each=str(item.each)))] if item.each > 1 else [line]


def _sharps(found: Kit, words: Words, say: dict[str, str]) -> Section:
    columns = [
        (say["what"], "1fr"),
        (f">{say['out']}", "auto"),
        (say["counted-out"], "auto"),
        (f">{say['in']}", "auto"),
        (say["counted-in"], "auto"),
    ]
    rows: list[list[Cell]] = [
        [words.say(item.says), f"{item.count}", blank(BLANK_MM), f"{item.back}", blank(BLANK_MM)]
        for item in found.sharps
    ]
    if rows:
        rows.append(
            [
                strong(word(words, "kit.sum")),
                strong(f"{found.sharps_out}"),
                blank(BLANK_MM),
                strong(f"{found.sharps_in}"),
                blank(BLANK_MM),
            ]
        )
    return sections.table(
        word(words, "kit.sharps"), columns, rows, says=word(words, "kit.say-sharps")
    )
