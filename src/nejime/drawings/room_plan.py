"""The room from above, to scale: tables, places, water and bins.

Model: the front is at the upper edge, as people who sit there see it; turned by half a turn it is
at the lower edge, as the teacher sees it. A chair is a small circle with the person's number on the
table before it; a wheelchair place has no chair and says so. No names and no notes are drawn.
Frame: the room's (see `lesson.room`) in; paper millimetres out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from nejime.basis.sayings import Saying, Words
from nejime.drawings import lettering
from nejime.drawings.svg import (
    HAIR_MM,
    INK,
    LINE_MM,
    PAPER,
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
from nejime.lesson.room import Box, Place, RoomPlan, Thing

CHAIR_CM = 20.0  # [own] radius of a chair as drawn
EDGE_MM = 1.0  # [own] free around the room's walls
BELOW_MM = 18.0  # [own] strip under the room for the scale and, below it, the measures
METRE_CM = 100.0
CAP_EM = 0.36  # [own] half the height of a capital over the size: centres a word on its place
COVER_DASH = (2.0, 1.5)
NO_CHAIR_DASH = (1.0, 0.8)
SAID: tuple[Thing, ...] = ("teacher", "water", "bin", "hand-out", "camera")


@dataclass(frozen=True, slots=True)
class _Paper:
    """Where a point of the room lies on paper."""

    plan: RoomPlan
    mm_per_cm: float
    turned: bool

    def at(self, x_cm: float, y_cm: float) -> Spot:
        x = self.plan.width_cm - x_cm if self.turned else x_cm
        y = y_cm if self.turned else self.plan.depth_cm - y_cm
        return EDGE_MM + x * self.mm_per_cm, EDGE_MM + y * self.mm_per_cm

    def corners(self, box: Box) -> tuple[Spot, ...]:
        right, front = box.x_cm + box.width_cm, box.y_cm + box.depth_cm
        return (
            self.at(box.x_cm, box.y_cm),
            self.at(right, box.y_cm),
            self.at(right, front),
            self.at(box.x_cm, front),
        )

    def middle(self, box: Box) -> Spot:
        return self.at(box.x_cm + box.width_cm / 2, box.y_cm + box.depth_cm / 2)


def room_plan(
    plan: RoomPlan,
    words: Words,
    *,
    turned: bool = False,
    width_mm: float = 170.0,
    height_mm: float | None = None,
    text_pt: float = lettering.LEAST_PT,
) -> str:
    """The room as SVG, at most so wide and high; `turned` for the teacher's side."""
    scale = (width_mm - 2 * EDGE_MM) / plan.width_cm
    if height_mm is not None:
        scale = min(scale, (height_mm - 2 * EDGE_MM - BELOW_MM) / plan.depth_cm)
    paper = _Paper(plan, scale, turned)
    picture = Picture(
        width_mm=plan.width_cm * scale + 2 * EDGE_MM,
        height_mm=plan.depth_cm * scale + 2 * EDGE_MM + BELOW_MM,
        marks=tuple(_marks(paper, words, text_pt)),
        title=words.say(Saying("lesson.room.label.title")),
        description=words.say(_description(plan)),
    )
    return written(picture)


def _description(plan: RoomPlan) -> Saying:
    if not plan.places:
        return Saying("lesson.room.label.description-hand-out")
    return Saying(
        "lesson.room.label.description", seats=len(plan.places), tables=len(plan.of("table"))
    )


def _marks(paper: _Paper, words: Words, text_pt: float) -> Iterator[Mark]:
    plan = paper.plan
    walls = Box("table", 0.0, 0.0, plan.width_cm, plan.depth_cm)
    yield Path(paper.corners(walls), closed=True, fill=PAPER, width_mm=LINE_MM)
    if plan.cover:
        yield Path(paper.corners(plan.cover), closed=True, stroke=SOFT, dash=COVER_DASH)
    for place in plan.places:
        yield _chair(paper, place)
    for box in plan.boxes:
        tone = PAPER if box.thing == "table" else WASH
        yield Path(paper.corners(box), closed=True, fill=tone, width_mm=HAIR_MM)
    for place in plan.places:
        yield from _number(paper, place, words, text_pt)
    for thing in SAID:
        yield from _said(paper, plan.of(thing), thing, words, text_pt)
    yield from _below(paper, words, text_pt)


def _chair(paper: _Paper, place: Place) -> Mark:
    return Disc(
        paper.at(place.x_cm, place.y_cm),
        CHAIR_CM * paper.mm_per_cm,
        fill=PAPER if place.chair else None,
        stroke=INK if place.chair else SOFT,
        dash=() if place.chair else NO_CHAIR_DASH,
    )


def _number(paper: _Paper, place: Place, words: Words, text_pt: float) -> Iterator[Mark]:
    """The person's number on the table; under a wheelchair place, that it has no chair."""
    yield _word(paper, place.x_cm, place.table_y_cm, str(place.number), text_pt, bold=True)
    if not place.chair:
        said = words.say(Saying("lesson.room.label.wheelchair"))
        yield _word(paper, place.x_cm, place.y_cm - 2 * CHAIR_CM, said, text_pt)


def _word(
    paper: _Paper, x_cm: float, y_cm: float, said: str, text_pt: float, *, bold: bool = False
) -> Text:
    x, y = paper.at(x_cm, y_cm)
    down = CAP_EM * text_pt * lettering.MM_PER_PT
    return Text((x, y + down), said, text_pt, "middle", bold)


def _said(
    paper: _Paper, boxes: tuple[Box, ...], thing: Thing, words: Words, text_pt: float
) -> Iterator[Mark]:
    """What a thing is: on it where the word fits, else before it; of several, on the first."""
    if not boxes:
        return
    box = boxes[0]
    said = words.say(Saying(f"lesson.room.label.{thing}"))
    wide = lettering.width_mm(said, text_pt)
    x, y = box.x_cm + box.width_cm / 2, box.y_cm + box.depth_cm / 2
    if wide > box.width_cm * paper.mm_per_cm:
        y = box.y_cm + box.depth_cm + lettering.height_mm(1, text_pt) / 2 / paper.mm_per_cm
    yield _word(paper, x, y, said, text_pt)


def _below(paper: _Paper, words: Words, text_pt: float) -> Iterator[Mark]:
    """A line of one metre and the measures of the room; the word for the front at its wall."""
    plan = paper.plan
    front = words.say(Saying("lesson.room.label.front"))
    inset = lettering.height_mm(1, text_pt) / paper.mm_per_cm
    yield _word(paper, plan.width_cm / 2, plan.depth_cm - inset, front, text_pt, bold=True)
    y = 2 * EDGE_MM + plan.depth_cm * paper.mm_per_cm + BELOW_MM / 4
    long = METRE_CM * paper.mm_per_cm
    tick = 1.2
    yield Path(((EDGE_MM, y - tick), (EDGE_MM, y), (EDGE_MM + long, y), (EDGE_MM + long, y - tick)))
    down = y + CAP_EM * text_pt * lettering.MM_PER_PT
    scale = words.say(Saying("lesson.room.label.scale", metres=1))
    yield Text((EDGE_MM + long + 2.0, down), scale, text_pt)
    size = words.say(
        Saying("lesson.room.label.size", width_cm=plan.width_cm, depth_cm=plan.depth_cm)
    )
    next_line = down + lettering.height_mm(1, text_pt) * 1.2
    yield Text((EDGE_MM, next_line), size, text_pt)
