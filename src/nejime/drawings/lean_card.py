"""The lean card: a fan with the angles of the form, to stand behind a stem.

Model: the card is folded along the line of the table and stands behind the piece; the middle of
the fan is then as high as the feet of the stems. The fan opens to both sides, so that one card
serves a stem that leans left and one that leans right. Each stem has its ray, as it leans in this
vessel, and a band from the least to the most that the form teaches and the rim allows.
"""

from __future__ import annotations

import math

from nejime.basis.sayings import Saying, Words
from nejime.drawings import lettering
from nejime.drawings.dimensions import DASHES, WEIGHTS_MM, arc_points, arrow_head
from nejime.drawings.elevation import stem_saying
from nejime.drawings.labels import Board, Label, label_marks
from nejime.drawings.pages import TOOL_PT, Page, foot_of, usable_mm
from nejime.drawings.svg import (
    FINE_MM,
    HAIR_MM,
    INK,
    SOFT,
    WASH,
    Disc,
    Mark,
    Path,
    Picture,
    Spot,
    Text,
    written,
)
from nejime.forms.leaning import allowed_deg
from nejime.forms.stems import Piece, Stem

TAB_MM = 3.0  # [own] white between the fold and the words
MOST_FOOT_CM = 5.0  # [own] feet higher than this are not reached by a card on the table
RADIUS_MM = 112.0  # [own] as large as the labels leave room for
BAND_MM = 9.0  # [own] breadth of a band
BAND_STEP_MM = 12.0  # [own] from one band to the next
FIGURE_MM = 5.0  # [own] from the arc of degrees to the middle of its figures
FIGURE_STEP_DEG = 10
FREE_DEG = 3.0  # [own] a figure nearer to a ray would lie on it
SIDE_MM = 6.0


def lean_card(piece: Piece, words: Words, *, page: Page = "a4", text_pt: float = TOOL_PT) -> str:
    """The fan of the three main stems at true size, as SVG for a page on its side."""
    wide, high = usable_mm(page, landscape=True)
    title = words.say(Saying("drawings.tool.lean-card"))
    use = words.say(Saying("drawings.tool.lean-card-use"))
    below = foot_of(title, use, words, wide - 2 * SIDE_MM, text_pt, SIDE_MM)
    fold = high - below.height_mm - TAB_MM
    centre, radius = _middle(piece, wide, fold)
    marks = _fan(piece, centre, radius)
    board = Board(wide, fold)
    board.ink_marks(marks)
    for x, y in _figures_at(piece, centre, radius).values():
        half = lettering.height_mm(1, lettering.LEAST_PT) / 2
        board.reserve((x - half, y - half, x + half, y + half))
    for stem in piece.main:
        for side in (-1.0, 1.0):
            board.place(_label(piece, stem, centre, radius, side, words, text_pt))
    marks += [mark for placed in board.placed for mark in label_marks(placed)]
    marks.append(Path(((0.0, fold), (wide, fold)), width_mm=FINE_MM, dash=(4.0, 2.0)))
    marks += below.at(fold + TAB_MM)
    return written(Picture(wide, high, tuple(marks), title, use))


def _middle(piece: Piece, wide: float, fold: float) -> tuple[Spot, float]:
    """The middle of the fan, as high over the fold as the feet over the table, and its radius."""
    foot = piece.main[0].start.z_cm if piece.main else 0.0
    lifted = foot * 10 if foot <= MOST_FOOT_CM else 0.0
    lowest = max((allowed_deg(piece, stem)[1] for stem in piece.main), default=90.0)
    dips = max(0.0, -math.cos(math.radians(lowest)))
    radius = min(RADIUS_MM, (fold - lifted - 8.0) / (1.0 + dips))
    return (wide / 2, fold - max(lifted, radius * dips)), radius


def _on(centre: Spot, radius_mm: float, angle_deg: float) -> Spot:
    angle = math.radians(angle_deg)
    return centre[0] + radius_mm * math.sin(angle), centre[1] - radius_mm * math.cos(angle)


def _fan(piece: Piece, centre: Spot, radius_mm: float) -> list[Mark]:
    marks: list[Mark] = []
    for number, stem in enumerate(piece.main):
        outer = radius_mm - 2 * FIGURE_MM - number * BAND_STEP_MM
        least, most = allowed_deg(piece, stem)
        for side in (-1.0, 1.0):
            marks.append(_band(centre, outer, side * least, side * most))
    upright = (centre, (centre[0], centre[1] - radius_mm - 3.0))
    level = ((centre[0] - radius_mm - 3.0, centre[1]), (centre[0] + radius_mm + 3.0, centre[1]))
    marks += [
        Path(upright, stroke=SOFT, width_mm=HAIR_MM),
        Path(level, stroke=SOFT, width_mm=HAIR_MM),
    ]
    marks += _degrees(centre, radius_mm)
    marks += _figures(piece, centre, radius_mm)
    for stem in piece.main:
        for side in (-1.0, 1.0):
            end = _on(centre, radius_mm + 2.0, side * stem.stands_deg)
            marks.append(Path((centre, end), width_mm=WEIGHTS_MM[stem.id], dash=DASHES[stem.id]))
            marks.append(arrow_head(centre, end, 3.4))
    marks.append(Disc(centre, 1.3, fill=INK, stroke=None))
    return marks


def _band(centre: Spot, outer_mm: float, from_deg: float, to_deg: float) -> Path:
    outside = arc_points(centre, outer_mm, from_deg, to_deg)
    inside = arc_points(centre, outer_mm - BAND_MM, from_deg, to_deg)
    return Path(
        tuple(outside + inside[::-1]), closed=True, fill=WASH, stroke=SOFT, width_mm=HAIR_MM
    )


def _degrees(centre: Spot, radius_mm: float) -> list[Mark]:
    """A rule of degrees around the fan: short strokes at fives, longer ones at tens."""
    marks: list[Mark] = []
    for angle in range(-90, 91, 5):
        long = 2.4 if angle % 10 == 0 else 1.2
        spots = (_on(centre, radius_mm, angle), _on(centre, radius_mm - long, angle))
        marks.append(Path(spots, stroke=SOFT, width_mm=HAIR_MM))
    arc = arc_points(centre, radius_mm, -90.0, 90.0)
    return [Path(tuple(arc), curved=True, stroke=SOFT, width_mm=HAIR_MM), *marks]


def _figures_at(piece: Piece, centre: Spot, radius_mm: float) -> dict[int, Spot]:
    """Where the tens stand in figures, but for those on a ray: that says its own number."""
    rays = [0.0, 90.0, *(stem.stands_deg for stem in piece.main)]
    return {
        angle: _on(centre, radius_mm - FIGURE_MM, angle)
        for angle in range(-80, 81, FIGURE_STEP_DEG)
        if all(abs(abs(angle) - ray) > FREE_DEG for ray in rays)
    }


def _figures(piece: Piece, centre: Spot, radius_mm: float) -> list[Mark]:
    drop = 0.36 * lettering.LEAST_PT * lettering.MM_PER_PT
    return [
        Text((x, y + drop), str(abs(angle)), lettering.LEAST_PT, "middle")
        for angle, (x, y) in _figures_at(piece, centre, radius_mm).items()
    ]


def _label(
    piece: Piece,
    stem: Stem,
    centre: Spot,
    radius_mm: float,
    side: float,
    words: Words,
    text_pt: float,
) -> Label:
    least, most = allowed_deg(piece, stem)
    anchor = _on(centre, radius_mm + 2.0, side * stem.stands_deg)
    wish = (anchor[0] - centre[0], anchor[1] - centre[1])
    lines = (
        words.say(stem_saying(stem)),
        words.say(
            Saying(
                "drawings.tool.lean",
                lean_deg=stem.stands_deg,
                least_deg=least,
                most_deg=most,
            )
        ),
    )
    return Label(lines, anchor, text_pt, bold=1, wish=wish)
