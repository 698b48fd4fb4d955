"""Tools at true size: the lean card, the bowl mat and the cutting strip, each with its check line.

Model: people whose pieces look the same share a page; their names stand at its foot.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from nejime.basis.sayings import Words
from nejime.drawings.bowl_mat import bowl_mat_sheets
from nejime.drawings.cutting_strip import cutting_strip
from nejime.drawings.lean_card import lean_card
from nejime.drawings.pages import TOOL_PT, Page
from nejime.drawings.scene import drawing_key
from nejime.forms.stems import Piece
from nejime.papers.pictures import LARGE_LETTERING_PT, drawn
from nejime.papers.sheet import Drawing, Sheet, Stock
from nejime.papers.wording import word

Named = tuple[str, Piece]
PAGES: dict[str, Page] = {"A4": "a4", "Letter": "letter"}
MOST_NAMES = 4  # [own] more than this are not written at the foot of a page


def lean_cards(pieces: Iterable[Named], words: Words, stock: Stock) -> Sheet:
    """A fan with the form's leans, to stand behind a stem."""
    return _tool("lean-cards", _one(lean_card), pieces, words, stock)


def bowl_mats(pieces: Iterable[Named], words: Words, stock: Stock) -> Sheet:
    """A mat whose rays come out around the bowl in the three directions."""
    return _tool("bowl-mats", bowl_mat_sheets, pieces, words, stock)


def cutting_strips(pieces: Iterable[Named], words: Words, stock: Stock) -> Sheet:
    """A strip to hold beside a stem, with a mark for each cut."""
    return _tool("cutting-strips", _one(cutting_strip), pieces, words, stock)


def _one(draw: Callable[..., str]) -> Callable[..., tuple[str, ...]]:
    """A tool of one page as a tool of several."""
    return lambda *given, **named: (draw(*given, **named),)


def _tool(
    name: str,
    draw: Callable[..., tuple[str, ...]],
    pieces: Iterable[Named],
    words: Words,
    stock: Stock,
) -> Sheet:
    text_pt = LARGE_LETTERING_PT if stock.large else TOOL_PT
    alike: dict[str, tuple[Piece, list[str]]] = {}
    for who, piece in pieces:
        alike.setdefault(drawing_key(piece, None), (piece, []))[1].append(who)
    shared: dict[str, list[str]] = {}
    for piece, people in alike.values():
        for svg in draw(piece, words, page=PAGES[stock.paper], text_pt=text_pt):
            shared.setdefault(svg, []).extend(people)
    rules = {piece.rule.name for piece, _ in alike.values()}
    drawings: dict[str, Drawing] = {}
    names: dict[str, str] = {}
    for number, (svg, people) in enumerate(shared.items(), start=1):
        key = f"page-{number:02}"
        drawings[key] = drawn(svg)
        names[key] = "" if len(people) > MOST_NAMES else ", ".join(filter(None, people))
    title = word(words, f"tool.{name}")
    return Sheet(name, "true_size", title, names, drawings, rules.pop() if len(rules) == 1 else "")
