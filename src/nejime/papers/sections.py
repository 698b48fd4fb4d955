"""A paper made of sections: tables to tick off, lists, sentences. Most of a teacher's papers are.

A cell is text, or a mapping with one of: `strong`, `quiet` (text set so), `blank` (a line of so
many millimetres to write on), `tick` (an empty box). Several in one cell are a list, one line each.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from nejime.papers.sheet import Drawing, Sheet

Cell = str | Mapping[str, Any] | Sequence[Any]
Section = dict[str, Any]
TICK: Mapping[str, Any] = {"tick": True}


def strong(text: str) -> Cell:
    """Text that is found first."""
    return {"strong": text}


def quiet(text: str) -> Cell:
    """Text that is read last."""
    return {"quiet": text}


def blank(width_mm: float) -> Cell:
    """A line to write on."""
    return {"blank": width_mm}


def table(
    title: str,
    columns: Iterable[tuple[str, str]],
    rows: Iterable[Sequence[Cell]],
    *,
    says: str = "",
    after: str = "",
) -> Section:
    """A table: `columns` are heads with widths, `auto` or shares such as `2fr`.

    A head that begins with `>` is of a column of numbers and stands at its right.
    """
    return {
        "kind": "table",
        "title": title,
        "says": says,
        "after": after,
        "columns": [
            {"head": head.removeprefix(">"), "width": width, "number": head.startswith(">")}
            for head, width in columns
        ],
        "rows": [[_cell(cell) for cell in row] for row in rows],
    }


def ticks(title: str, items: Iterable[Cell], *, says: str = "", across: int = 1) -> Section:
    """Lines to tick off, in `across` columns."""
    listed = [_cell(item) for item in items]
    return {"kind": "ticks", "title": title, "says": says, "items": listed, "across": across}


def points(title: str, items: Iterable[Cell], *, says: str = "") -> Section:
    """A list."""
    return {"kind": "points", "title": title, "says": says, "items": [_cell(x) for x in items]}


def text(title: str, items: Iterable[str]) -> Section:
    """Sentences, a paragraph each."""
    return {"kind": "text", "title": title, "items": list(items)}


def drawn(title: str, name: str) -> Section:
    """A drawing of the sheet, on a new page with what follows."""
    return {"kind": "drawing", "title": title, "drawing": name, "new_page": True}


def _cell(cell: Cell) -> Any:
    return [cell] if isinstance(cell, str | Mapping) else list(cell)


def sheet(
    name: str,
    title: str,
    above: str,
    sections: Iterable[Section],
    *,
    drawings: Mapping[str, Drawing] | None = None,
    rule: str = "",
) -> Sheet:
    """A paper of these sections; those that hold nothing are left out."""
    kept = [each for each in sections if any(each.get(k) for k in ("rows", "items", "drawing"))]
    data = {"above": above, "sections": kept}
    return Sheet(name, "sections", title, data, drawings or {}, rule)
