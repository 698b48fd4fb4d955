"""The marker card at true size: four square markers, what to do with them, and a check line.

Model: a marker is a dark square on which its light cells are painted, along its rows and along its
columns, so that no seam is left between them. Words keep a cell's width away from every marker.
Frame: millimetres from the card's top left corner, y down.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from nejime.basis.sayings import Saying, Words
from nejime.drawings import lettering
from nejime.drawings.pages import TITLE_SIZE, TOOL_PT, check_line, paragraph
from nejime.drawings.svg import INK, PAPER, Mark, Path, Picture, Spot, written

GAP_MM = 3.0  # [own] from one paragraph to the next


@dataclass(frozen=True, slots=True)
class Markers:
    """What is printed: the card's size, the markers' sides and top left corners by number, and
    their cells as rows of 0, dark, and 1, light."""

    card_mm: tuple[float, float]
    side_mm: float
    top_left_mm: Mapping[int, Spot]
    cells: Mapping[int, Sequence[str]]

    @property
    def free_mm(self) -> tuple[float, float]:
        """From where to where nothing stands between left and right markers, but for a cell."""
        lefts = sorted({x for x, _ in self.top_left_mm.values()})
        cell = self.cell_mm(next(iter(self.cells)))
        return lefts[0] + self.side_mm + cell, lefts[-1] - cell

    def cell_mm(self, marker: int) -> float:
        """The side of a cell."""
        return self.side_mm / len(self.cells[marker])


def marker_card(markers: Markers, words: Words, text_pt: float = TOOL_PT) -> str:
    """The card as SVG."""
    wide, high = markers.card_mm
    left, right = markers.free_mm
    title = words.say(Saying("drawings.marker-card.title"))
    lay, both, mirrored = (
        words.say(Saying(f"drawings.marker-card.{key}")) for key in ("lay", "both", "mirrored")
    )
    marks = [mark for marker in markers.top_left_mm for mark in _marker(markers, marker)]
    top = min(y for _, y in markers.top_left_mm.values())
    heading, used = paragraph((left, top), title, right - left, text_pt * TITLE_SIZE, bold=True)
    upper, _ = paragraph((left, top + used + GAP_MM), lay, right - left, text_pt)
    line = (left, high / 2.0 - lettering.height_mm(1, text_pt) / 2.0)
    check, below = check_line(line, words, wide - left - top, text_pt)
    after = line[1] + below + 3.0 * GAP_MM
    lower, used = paragraph((left, after), both, right - left, text_pt)
    last, _ = paragraph((left, after + used + GAP_MM), mirrored, right - left, text_pt)
    marks += [*heading, *upper, *check, *lower, *last]
    says = words.say(Saying("drawings.marker-card.says"))
    return written(Picture(wide, high, tuple(marks), title, says))


def _marker(markers: Markers, marker: int) -> list[Mark]:
    """The dark square, and its light cells."""
    x, y = markers.top_left_mm[marker]
    rows = markers.cells[marker]
    columns = ["".join(column) for column in zip(*rows, strict=True)]
    cell = markers.cell_mm(marker)
    painted: list[Mark] = [_box(x, y, x + markers.side_mm, y + markers.side_mm, INK)]
    for number, row in enumerate(rows):
        for start, stop in _runs(row):
            box = (start, number, stop, number + 1)
            painted.append(_box(*_placed(box, x, y, cell), PAPER))
    for number, column in enumerate(columns):
        for start, stop in _runs(column):
            box = (number, start, number + 1, stop)
            painted.append(_box(*_placed(box, x, y, cell), PAPER))
    return painted


def _placed(
    box: tuple[int, int, int, int], x: float, y: float, cell_mm: float
) -> tuple[float, float, float, float]:
    left, top, right, low = (each * cell_mm for each in box)
    return x + left, y + top, x + right, y + low


def _runs(cells: str) -> list[tuple[int, int]]:
    """Where light cells stand beside each other: the first, and the one after the last."""
    edges = [number for number in range(1, len(cells)) if cells[number] != cells[number - 1]]
    return list(zip(edges[::2], edges[1::2], strict=True))


def _box(left: float, top: float, right: float, low: float, fill: str) -> Path:
    corners = ((left, top), (right, top), (right, low), (left, low))
    return Path(corners, closed=True, fill=fill, stroke=None)
