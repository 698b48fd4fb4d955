"""The cutting strip: rulers at true size with the three lengths marked.

Model: a length is marked as it is said on every paper. A stem longer than the strip is measured in
whole strips and a rest; its mark stands at the rest. Centimetres on one edge, inches on the other.
"""

from __future__ import annotations

from nejime.basis.sayings import Saying, Words
from nejime.basis.units import CM_PER_INCH, as_said_cm
from nejime.drawings import lettering
from nejime.drawings.dimensions import DASHES, WEIGHTS_MM
from nejime.drawings.elevation import stem_saying
from nejime.drawings.labels import Board, Label, label_marks
from nejime.drawings.layout import moved
from nejime.drawings.pages import TITLE_SIZE, TOOL_PT, Page, check_line, paragraph, usable_mm
from nejime.drawings.svg import FINE_MM, HAIR_MM, LINE_MM, Mark, Path, Picture, Text, written
from nejime.forms.stems import Piece, Stem

STRIP_CM = 25.0  # [own] the longest whole number that both pages take
BROAD_MM = 34.0  # [own]
LEFT_MM = 4.0
TOP_MM = 4.0
LABELS_MM = 8.0  # [own] from the strip to the words
NUMBER_PT = 9.0


def folded(cut_cm: float) -> tuple[int, float]:
    """How many whole strips a length takes as it is said, and what is left over."""
    strips, rest_cm = divmod(as_said_cm(cut_cm), STRIP_CM)
    return int(strips), rest_cm


def _mark_cm(stem: Stem) -> float:
    """Where a stem's mark stands on the strip: at its end where whole strips are enough."""
    return folded(stem.said_cm)[1] or STRIP_CM


def cutting_strip(
    piece: Piece, words: Words, *, page: Page = "a4", text_pt: float = TOOL_PT
) -> str:
    """The strip with what the shears need for the three main stems, as SVG for an upright page."""
    wide, high = usable_mm(page)
    marks: list[Mark] = [*_strip(), *_centimetres(), *_inches()]
    right = LEFT_MM + BROAD_MM
    x, column = right + LABELS_MM, wide - right - LABELS_MM
    title = words.say(Saying("drawings.tool.cutting-strip"))
    use = words.say(Saying("drawings.tool.cutting-strip-use", strip_cm=STRIP_CM))
    lines, used = paragraph((x, TOP_MM), title, column, text_pt * TITLE_SIZE, bold=True)
    more, also = paragraph((x, TOP_MM + used + 1.0), use, column, text_pt)
    check, check_mm = check_line((x, 0.0), words, column, text_pt)
    check_top = high - check_mm - 1.0
    board = Board(wide, high)
    board.reserve((0.0, 0.0, right + 6.4, high))
    board.reserve((0.0, 0.0, wide, TOP_MM + used + also + 3.0))
    board.reserve((0.0, check_top - 4.0, wide, high))
    for stem in piece.main:
        marks += _cut_mark(stem)
        board.place(_label(stem, words, text_pt))
    marks += [*lines, *more, *(moved(mark, 0.0, check_top) for mark in check)]
    marks += [mark for placed in board.placed for mark in label_marks(placed)]
    return written(Picture(wide, high, tuple(marks), title, use))


def _y(along_mm: float) -> float:
    return TOP_MM + along_mm


def _strip() -> list[Mark]:
    right, bottom = LEFT_MM + BROAD_MM, _y(STRIP_CM * 10)
    corners = ((LEFT_MM, TOP_MM), (right, TOP_MM), (right, bottom), (LEFT_MM, bottom))
    return [Path(corners, closed=True, width_mm=LINE_MM)]


def _centimetres() -> list[Mark]:
    marks: list[Mark] = []
    for half in range(1, int(STRIP_CM) * 2):
        y = _y(half * 5.0)
        long = 7.0 if half % 10 == 0 else 5.0 if half % 2 == 0 else 2.5
        marks.append(Path(((LEFT_MM, y), (LEFT_MM + long, y)), width_mm=HAIR_MM * 1.5))
        if half % 2 == 0:
            marks.append(_figure(half // 2, LEFT_MM + 8.0, y, "start", half % 10 == 0))
    return marks


def _inches() -> list[Mark]:
    right = LEFT_MM + BROAD_MM
    marks: list[Mark] = []
    quarters = int(STRIP_CM / CM_PER_INCH * 4)
    for quarter in range(1, quarters + 1):
        y = _y(quarter * CM_PER_INCH * 10 / 4)
        long = 7.0 if quarter % 4 == 0 else 4.0 if quarter % 2 == 0 else 2.5
        marks.append(Path(((right, y), (right - long, y)), width_mm=HAIR_MM * 1.5))
        if quarter % 4 == 0:
            marks.append(_figure(quarter // 4, right - 8.0, y, "end", False))
    return marks


def _figure(value: int, x: float, y: float, align: str, bold: bool) -> Text:
    drop = 0.36 * NUMBER_PT * lettering.MM_PER_PT
    return Text((x, y + drop), str(value), NUMBER_PT, align, bold=bold)


def _cut_mark(stem: Stem) -> list[Mark]:
    y = _y(_mark_cm(stem) * 10)
    right = LEFT_MM + BROAD_MM
    dash = tuple(part * 1.4 for part in DASHES[stem.id])
    line = ((LEFT_MM, y), (right + 3.0, y))
    return [Path(line, width_mm=WEIGHTS_MM[stem.id] + 0.1, dash=dash), *_shears(right + 4.0, y)]


def _shears(x: float, y: float) -> list[Mark]:
    """Two short crossing strokes: cut here."""
    return [
        Path(((x - 1.2, y - 0.9), (x + 1.8, y + 0.9)), width_mm=FINE_MM),
        Path(((x - 1.2, y + 0.9), (x + 1.8, y - 0.9)), width_mm=FINE_MM),
    ]


def _label(stem: Stem, words: Words, text_pt: float) -> Label:
    strips, rest = folded(stem.said_cm)
    lines = [
        words.say(stem_saying(stem)),
        words.say(Saying("drawings.mark.length", length_cm=stem.said_cm)),
    ]
    if strips:
        key = "drawings.tool.folds" if rest else "drawings.tool.folds-whole"
        lines.append(words.say(Saying(key, count=strips, rest_cm=rest)))
    anchor = (LEFT_MM + BROAD_MM + 6.2, _y(_mark_cm(stem) * 10))
    return Label(tuple(lines), anchor, text_pt, bold=1, wish=(1.0, 0.0))
