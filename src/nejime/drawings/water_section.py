"""A vessel cut through the middle: how high its water stands, and how far it may fall.

Model: to scale, from the front. Of a wide vessel only the part at the right-hand wall is shown, so
that a centimetre is large enough to be read; a ruler stands in it on the floor. Lines lead to what
is said of a level: full, now, and when it is time to pour. A dot beside the ruler is a day of the
usual fall from full.
Frame: paper millimetres, y down; levels in centimetres from the floor inside.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from nejime.basis.sayings import Saying, Words
from nejime.basis.units import CM_PER_INCH
from nejime.drawings.scene import VesselShape, vessel_shape
from nejime.drawings.svg import (
    FINE_MM,
    HAIR_MM,
    INK,
    PAPER,
    SOFT,
    Disc,
    Mark,
    Path,
    Picture,
    Spot,
    Text,
    written,
)
from nejime.forms.vessel import Vessel

WATER = "#dcebf0"  # [own] pale, so that the pins are seen in it; the lines carry the meaning
CLAY = "#b9b1a3"  # [own] what is cut through
STEEL = "#f4efe0"  # [own] the ruler

WIDE_MM = 104.0  # [own]
VESSEL_MM = 58.0  # [own] the vessel's share of the width; the rest is for words
HIGH_MM = 46.0  # [own] as high as the vessel is drawn
MOST_MM_PER_CM = 10.0  # [own] larger than life is no help
PAD_MM = 3.0
RULER_MM = 6.5  # [own] as wide as a small ruler looks beside it
OVER_RIM_CM = 0.6  # [own] the ruler stands out of the vessel
STEP_CM = 0.2  # [own] outlines are followed in such steps
WORDS_PT = 11.0  # [own] so that a telephone shows them
APART_MM = 5.5  # [own] from one line of words to the next
DASH = (1.2, 0.9)
PIN_APART_MM = 1.7  # [own] drawn so; real ones stand closer
HOLDER_CM = 6.0  # [own] a usual pin holder, where its size is not known
PLATE = 0.35  # [own] the plate's share of its height
MOST_DOTS = 21  # [own] days


@dataclass(frozen=True, slots=True)
class Levels:
    """Levels of the water: full, now, when to pour, and after each day of the usual fall."""

    full_cm: float
    now_cm: float
    lowest_cm: float
    pins_cm: float | None = None
    daily_cm: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class _Cut:
    """What is shown of a vessel, and where it lies on paper."""

    vessel: Vessel
    shape: VesselShape
    mm_per_cm: float
    left_cm: float
    """Left of this the vessel is not shown."""
    top_mm: float

    @property
    def whole(self) -> bool:
        return self.left_cm <= -self.shape.widest[0]

    @property
    def floor_cm(self) -> float:
        return self.vessel.base_cm

    @property
    def right_mm(self) -> float:
        return self.at(self.shape.widest[0], 0.0)[0]

    def at(self, x_cm: float, z_cm: float) -> Spot:
        """A point: so far to the right of the middle, so high above the table."""
        shown_cm = max(x_cm, self.left_cm) - max(self.left_cm, -self.shape.widest[0])
        return PAD_MM + self.mm_per_cm * shown_cm, self.top_mm + self.mm_per_cm * (
            self.shape.rim.z_cm - z_cm
        )

    def level(self, x_cm: float, level_cm: float) -> Spot:
        """A point at a level of the water."""
        return self.at(x_cm, self.floor_cm + level_cm)

    def half(self, level_cm: float) -> float:
        """Half the width inside at a level."""
        return self.vessel.half_at(level_cm)[0]


def water_section(vessel: Vessel, levels: Levels, words: Words) -> str:
    """The section as SVG."""
    cut = _cut(vessel)
    marks: list[Mark] = [
        *_water(cut, levels.now_cm),
        *_clay(cut),
        *(_pins(cut, levels.pins_cm) if levels.pins_cm else ()),
        *_lines(cut, levels),
        *_ruler(cut, levels, words),
        *_said(cut, levels, words),
    ]
    told = {"now_cm": levels.now_cm, "full_cm": levels.full_cm, "lowest_cm": levels.lowest_cm}
    high = cut.at(0.0, 0.0)[1] + PAD_MM
    return written(
        Picture(
            WIDE_MM,
            high,
            tuple(marks),
            words.say(Saying("drawings.title.water")),
            words.say(Saying("drawings.describes.water", **told)),
        )
    )


def _cut(vessel: Vessel) -> _Cut:
    shape = vessel_shape(vessel)
    widest = shape.widest[0]
    scale = min(HIGH_MM / shape.rim.z_cm, MOST_MM_PER_CM)
    shown_cm = (VESSEL_MM - PAD_MM) / scale
    left = -widest if 2 * widest <= shown_cm else widest - shown_cm
    return _Cut(vessel, shape, scale, left, PAD_MM + OVER_RIM_CM * scale)


def _heights(from_cm: float, to_cm: float) -> list[float]:
    steps = max(1, math.ceil((to_cm - from_cm) / STEP_CM))
    return [from_cm + (to_cm - from_cm) * step / steps for step in range(steps + 1)]


def _water(cut: _Cut, level_cm: float) -> list[Mark]:
    if level_cm <= 0.0:
        return []
    right = [cut.level(cut.half(each), each) for each in _heights(0.0, level_cm)]
    left = [cut.level(-cut.half(each), each) for each in _heights(0.0, level_cm)]
    return [Path((*right, *left[::-1]), closed=True, fill=WATER, stroke=None)]


def _clay(cut: _Cut) -> list[Mark]:
    """Wall and floor, cut through, and the table."""
    inner = [(cut.half(each), cut.floor_cm + each) for each in _heights(0.0, cut.vessel.inside_cm)]
    outer = [(ring.half_x_cm, ring.z_cm) for ring in cut.shape.outside]
    right = [*outer, *inner[::-1]]
    outline = [*right, *((-x, z) for x, z in right[::-1])]
    marks: list[Mark] = [
        Path(tuple(cut.at(x, z) for x, z in outline), closed=True, fill=CLAY, width_mm=FINE_MM)
    ]
    if not cut.whole:
        marks.append(_break(cut))
    table = cut.at(0.0, 0.0)[1]
    marks.append(Path(((PAD_MM, table), (cut.right_mm + 3.0, table)), width_mm=FINE_MM))
    return marks


def _break(cut: _Cut) -> Mark:
    """A wavy line: to its left the vessel goes on."""
    low, high = cut.at(cut.left_cm, 0.0), cut.at(cut.left_cm, cut.shape.rim.z_cm)
    count = 9
    spots = [
        (
            low[0] + (0.7 if step % 2 else -0.7),
            low[1] + (high[1] - low[1]) * step / (count - 1),
        )
        for step in range(count)
    ]
    return Path(tuple(spots), curved=True, stroke=PAPER, width_mm=1.8)


def _pins(cut: _Cut, pins_cm: float) -> Iterable[Mark]:
    """The pin holder on the floor: its plate and pins; in a part of a vessel a part of it."""
    wide = min(HOLDER_CM, 1.6 * cut.half(0.0))
    left, right = (-wide / 2, wide / 2)
    if not cut.whole:
        left, right = cut.left_cm, cut.left_cm + 0.42 * (cut.half(0.0) - cut.left_cm)
    plate = PLATE * pins_cm
    corners = [(left, 0.0), (left, plate), (right, plate), (right, 0.0)]
    yield Path(tuple(cut.level(x, z) for x, z in corners), closed=True, fill=SOFT, width_mm=HAIR_MM)
    start, end = cut.level(left, plate), cut.level(right, pins_cm)
    count = max(3, int((end[0] - start[0]) / PIN_APART_MM))
    for number in range(count):
        x = start[0] + (number + 0.5) * (end[0] - start[0]) / count
        yield Path(((x, start[1]), (x, end[1])), width_mm=FINE_MM)


def _lines(cut: _Cut, levels: Levels) -> Iterable[Mark]:
    """The three levels across the water."""
    for level, now in ((levels.full_cm, False), (levels.lowest_cm, False), (levels.now_cm, True)):
        half = cut.half(level)
        yield Path(
            (cut.level(-half, level), cut.level(half, level)),
            stroke=INK if now else SOFT,
            width_mm=FINE_MM if now else HAIR_MM,
            dash=() if now else DASH,
        )


# The ruler


def _ruler_left(cut: _Cut) -> float:
    """Inside at the wall, or outside of a mouth that is too narrow for it."""
    room = min(cut.half(0.0), cut.vessel.width_cm / 2)
    inside = cut.level(room, 0.0)[0] - RULER_MM - 2.5
    return inside if inside > cut.level(-room, 0.0)[0] + 2.0 else cut.right_mm + 2.0


def _ruler(cut: _Cut, levels: Levels, words: Words) -> Iterable[Mark]:
    left = _ruler_left(cut)
    right = left + RULER_MM
    low, high = cut.level(0.0, 0.0)[1], cut.at(0.0, cut.shape.rim.z_cm + OVER_RIM_CM)[1]
    corners = ((left, low), (left, high), (right, high), (right, low))
    yield Path(corners, closed=True, fill=STEEL, width_mm=HAIR_MM)
    unit_cm = CM_PER_INCH if words.unit == "in" else 1.0
    parts = 4 if words.unit == "in" else 2
    if unit_cm * cut.mm_per_cm < APART_MM:  # a tall vase
        parts, unit_cm = 5, 5 * unit_cm
    count = int((low - high) / (unit_cm * cut.mm_per_cm) * parts)
    for number in range(1, count + 1):
        y = low - number * unit_cm / parts * cut.mm_per_cm
        whole = number % parts == 0
        yield Path(((left, y), (left + (2.2 if whole else 1.2), y)), width_mm=HAIR_MM)
        if whole and y - high > 2.5:
            per = 5 if parts == 5 else 1
            yield Text((left + 2.7, y + 1.1), str(number // parts * per))
    for level in levels.daily_cm[:MOST_DOTS]:
        yield Disc((right + 1.2, cut.level(0.0, level)[1]), 0.45, fill=INK, stroke=None)


# What is said


def _said(cut: _Cut, levels: Levels, words: Words) -> Iterable[Mark]:
    """Words beside the levels, the highest above, with a line to each."""
    keys = ("full", "now", "pour")
    at = (levels.full_cm, levels.now_cm, levels.lowest_cm)
    order = sorted(zip(at, keys, strict=True), key=lambda each: (-each[0], keys.index(each[1])))
    x = max(cut.right_mm, _ruler_left(cut) + RULER_MM) + 4.5
    ys = _spread([cut.level(0.0, level)[1] for level, _ in order])
    for (level, key), y in zip(order, ys, strict=True):
        start = cut.level(cut.half(level), level)
        bold = key == "now"
        yield Path((start, (x - 3.5, y), (x - 1.0, y)), stroke=SOFT, width_mm=HAIR_MM)
        says = words.say(Saying(f"drawings.mark.water-{key}", level_cm=level))
        yield Text((x, y + 1.3), says, WORDS_PT, bold=bold)


def _spread(wished: Sequence[float]) -> list[float]:
    """Heights that are far enough apart, as near to those wished for as can be."""
    found: list[float] = []
    for each in wished:
        found.append(max(each, found[-1] + APART_MM) if found else each)
    over = sum(after - before for after, before in zip(found, wished, strict=True)) / len(found)
    return [each - over for each in found]
