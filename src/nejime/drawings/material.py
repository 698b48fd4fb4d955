"""What a stem looks like on paper: as its plant grows, or a small honest outline of its kind.

`material_marks` is the one place where the material is drawn. A stem whose plant is known is drawn
from its skeleton (`ink.drawn`); one whose plant is not yet chosen is an outline of a twig, a
flower, a leaf.

Model: outlines are drawn along the projected curve of the stem. Heads keep their round shape,
turned so that they sit on the stem's end. What is drawn later hides what is behind with white.
Frame: paper millimetres, y down. `side` is +1 or -1, so that a mirrored piece gives a mirrored
drawing, and the teacher's side half a turn.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from nejime.drawings import brush
from nejime.drawings.ink.drawn import growth
from nejime.drawings.scene import Look, Standing
from nejime.drawings.svg import FINE_MM, HAIR_MM, INK, PAPER, WASH, Disc, Mark, Path, Spot, Sprig
from nejime.drawings.views import Projection

FAINT = "#8f8f8f"  # what already stands in a step drawing; 3 : 1 on white


@dataclass(frozen=True, slots=True)
class Tone:
    """How dark a stem is drawn."""

    line: str = INK
    wash: str = WASH


DARK = Tone()
LIGHT = Tone(FAINT, PAPER)

BESIDE_MM = 3.0  # [own] what is farther from a stem's line does not push its label outwards
SCALE_STEP = 1.3  # [own] lines get at most a seventh thicker or finer than meant
LEAST_HEAD_MM = 3.2  # [own] a smaller flower is a blot at arm's length
WOODY_MM = (0.55, 1.5)  # [own] breadth of a branch at its foot on paper, least and most
SOFT_MM = (0.6, 1.2)  # [own] breadth of a green stem on paper, least and most


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What every outline needs: the stem's line on paper, scale, size of the head, side, tone."""

    line: tuple[Spot, ...]
    mm_per_cm: float
    head_mm: float
    thick_mm: float
    side: float
    tone: Tone

    @property
    def long_mm(self) -> float:
        return brush.lengths(self.line)[-1]


@lru_cache(maxsize=512)  # the steps of a piece draw the same stems again and again
def material_marks(
    standing: Standing, look: Look, projection: Projection, tone: Tone = DARK, skip: int = 0
) -> tuple[Mark, ...]:
    """A stem with what it carries, as seen; the first `skip` points of its curve are left out."""
    if look.plant:
        return _grown(standing, projection, tone, skip)
    line = tuple(projection.at(point) for point in standing.curve[skip:])
    seen = projection.view.right
    sheet = _Sheet(
        line,
        projection.mm_per_cm,
        max(LEAST_HEAD_MM, look.head_cm * projection.mm_per_cm),
        look.thickness_mm / 10 * projection.mm_per_cm,
        standing.chirality * (1.0 if seen[0] + seen[1] > 0 else -1.0),
        tone,
    )
    if sheet.long_mm < 0.5:
        return ()
    return tuple(_OUTLINES[look.form](sheet))


def _bucket(mm_per_cm: float) -> float:
    """The scale at which a plant is drawn once, for all scales near it."""
    return float(SCALE_STEP ** round(math.log(mm_per_cm) / math.log(SCALE_STEP)))


def _grown(standing: Standing, projection: Projection, tone: Tone, skip: int) -> tuple[Mark, ...]:
    """A stem whose plant is known, as it grows."""
    scale = _bucket(projection.mm_per_cm)
    drawn = growth(standing, projection.view, scale, skip)
    if drawn is None:
        return ()
    at = projection.at(standing.stem.start)
    return (Sprig(drawn, at, projection.mm_per_cm / scale, tone.line, tone.wash),)


# How far a head reaches beyond the stem's end, over its size.
_BEYOND = {"cup": 1.15, "round": 0.8, "daisy": 0.4, "trumpet": 0.42, "spike": 0.3, "spray": 0.3}


def tip(standing: Standing, projection: Projection) -> tuple[Spot, Spot]:
    """The outermost point of a stem with its head on paper, and the direction in which it lies."""
    end, before = projection.at(standing.curve[-1]), projection.at(standing.curve[-3])
    long = math.dist(end, before)
    if long < 1e-6:
        return end, (0.0, -1.0)
    way = ((end[0] - before[0]) / long, (end[1] - before[1]) / long)
    look = standing.look
    if look.plant:
        return _farthest(standing, projection, end, way), way
    head = max(LEAST_HEAD_MM, look.head_cm * projection.mm_per_cm)
    reach = _BEYOND.get(look.form, 0.0) * head
    return (end[0] + reach * way[0], end[1] + reach * way[1]), way


def _farthest(standing: Standing, projection: Projection, end: Spot, way: Spot) -> Spot:
    """How far a plant reaches beyond its end, along its way."""
    marks = _grown(standing, projection, DARK, 0)
    far = 0.0
    for mark in marks:
        if isinstance(mark, Sprig):
            spots = mark.seen(mark.growth.outlines[0]) - np.asarray(end)
            beside = np.abs(spots @ np.asarray([-way[1], way[0]])) < BESIDE_MM
            ahead = spots[beside] @ np.asarray(way)
            far = max(far, float(ahead.max(initial=0.0)))
    return end[0] + far * way[0], end[1] + far * way[1]


def _within(value: float, limits: tuple[float, float]) -> float:
    return min(max(value, limits[0]), limits[1])


# Branches


def _wood(sheet: _Sheet) -> Path:
    foot = _within(sheet.thick_mm, WOODY_MM)
    return brush.tapered(sheet.line, foot, foot * 0.3, sheet.tone.line, 13)


@dataclass(frozen=True, slots=True)
class _Twig:
    """A side twig: its line and which way it went off (+1 or -1)."""

    line: tuple[Spot, ...]
    side: float


# Where twigs leave the branch, how long they are over its length, and how far they turn off.
_TWIGS = ((0.36, 0.20, 34.0), (0.52, 0.23, 38.0), (0.66, 0.14, 36.0), (0.80, 0.11, 40.0))  # [own]


def _twigs(sheet: _Sheet) -> list[_Twig]:
    found = []
    for number, (share, over, off_deg) in enumerate(_TWIGS):
        side = sheet.side * (1.0 if number % 2 else -1.0)
        start, (dx, dy) = brush.spot_at(sheet.line, share)
        off = math.radians(off_deg) * side
        line = brush.bent(start, math.atan2(dy, dx) + off, over * sheet.long_mm, -0.55 * off)
        found.append(_Twig(tuple(line), side))
    return found


def _twig_marks(sheet: _Sheet, twigs: Sequence[_Twig]) -> list[Mark]:
    foot = _within(sheet.thick_mm, WOODY_MM) * 0.5
    return [brush.tapered(twig.line, foot, foot * 0.4, sheet.tone.line, 6) for twig in twigs]


def _drop(start: Spot, angle: float, long_mm: float, broad_mm: float) -> tuple[Spot, ...]:
    """A drop: a point at its foot, broad beyond the middle, rounded to a point at its end."""
    shape = ((0.0, 0.0), (0.3, 0.36), (0.62, 0.5), (0.88, 0.3), (1.0, 0.0))
    upper = [(along * long_mm, off * broad_mm) for along, off in shape]
    lower = [(along, -off) for along, off in upper[-2:0:-1]]
    turned_x, turned_y = math.cos(angle), math.sin(angle)
    return tuple(
        (start[0] + x * turned_x - y * turned_y, start[1] + x * turned_y + y * turned_x)
        for x, y in upper + lower
    )


_DROP_CORNERS = frozenset((0, 4))


def _bud(start: Spot, angle: float, size_mm: float, tone: Tone) -> Path:
    return Path(
        _drop(start, angle, size_mm * 1.5, size_mm * 0.9),
        curved=True,
        closed=True,
        fill=tone.line,
        stroke=None,
        corners=_DROP_CORNERS,
    )


def _buds(sheet: _Sheet, line: Sequence[Spot], shares: Sequence[float]) -> list[Mark]:
    size = _within(0.14 * sheet.mm_per_cm + 0.45, (0.5, 1.1))
    marks: list[Mark] = []
    for number, share in enumerate(shares):
        spot, (dx, dy) = brush.spot_at(line, share)
        turn = 0.0 if share >= 1.0 else 0.6 * sheet.side * (1 if number % 2 else -1)
        marks.append(_bud(spot, math.atan2(dy, dx) + turn, size, sheet.tone))
    return marks


def _bare_twig(sheet: _Sheet) -> list[Mark]:
    twigs = _twigs(sheet)
    marks: list[Mark] = [*_twig_marks(sheet, twigs), _wood(sheet)]
    marks += _buds(sheet, sheet.line, (0.45, 0.59, 0.73, 0.87, 1.0))
    for twig in twigs:
        marks += _buds(sheet, twig.line, (0.55, 1.0))
    return marks


def _blossom(centre: Spot, radius_mm: float, turn: float, tone: Tone) -> list[Mark]:
    """Five round petals and a few stamens."""
    marks: list[Mark] = []
    for petal in range(5):
        angle = turn + petal * 2 * math.pi / 5
        marks.append(
            Path(
                _drop(centre, angle, radius_mm, radius_mm * 1.05),
                curved=True,
                closed=True,
                fill=PAPER,
                stroke=tone.line,
                width_mm=HAIR_MM * 1.3,
                corners=frozenset((0,)),
            )
        )
    marks.append(Disc(centre, radius_mm * 0.2, fill=tone.line, stroke=None))
    return marks


def _blossom_branch(sheet: _Sheet) -> list[Mark]:
    twigs = _twigs(sheet)
    marks: list[Mark] = [*_twig_marks(sheet, twigs), _wood(sheet)]
    marks += _buds(sheet, sheet.line, (0.94, 1.0))
    radius = _within(sheet.head_mm / 2, (1.3, 2.4))
    for number, share in enumerate((0.42, 0.57, 0.7, 0.79, 0.88)):
        (x, y), (dx, dy) = brush.spot_at(sheet.line, share)
        off = radius * 0.7 * sheet.side * (1 if number % 2 else -1)
        spot = (x - dy * off, y + dx * off)
        marks += _blossom(spot, radius * (1.0 - 0.35 * share), sheet.side * number, sheet.tone)
    for number, twig in enumerate(twigs):
        marks += _buds(sheet, twig.line, (0.8, 1.0))
        spot = brush.spot_at(twig.line, 0.55)[0]
        marks += _blossom(spot, radius * 0.8, sheet.side * (number + 0.5), sheet.tone)
    return marks


def _leaf(start: Spot, angle: float, long_mm: float, broad_mm: float, tone: Tone) -> list[Mark]:
    end = (start[0] + long_mm * 0.93 * math.cos(angle), start[1] + long_mm * 0.93 * math.sin(angle))
    return [
        Path(
            _drop(start, angle, long_mm, broad_mm),
            curved=True,
            closed=True,
            fill=tone.wash,
            stroke=tone.line,
            width_mm=FINE_MM,
            corners=_DROP_CORNERS,
        ),
        Path((start, end), stroke=tone.line, width_mm=HAIR_MM),
    ]


def _leafy_branch(sheet: _Sheet) -> list[Mark]:
    twigs = _twigs(sheet)[:2]
    marks: list[Mark] = [*_twig_marks(sheet, twigs), _wood(sheet)]
    long_mm = _within(0.13 * sheet.long_mm, (2.5, 7.0))
    lines: list[tuple[tuple[Spot, ...], tuple[float, ...]]] = [
        (sheet.line, (0.45, 0.55, 0.65, 0.74, 0.83, 0.91))
    ]
    lines += [(twig.line, (0.5, 0.8)) for twig in twigs]
    for line, shares in lines:
        for number, share in enumerate(shares):
            spot, (dx, dy) = brush.spot_at(line, share)
            angle = math.atan2(dy, dx) + 0.75 * sheet.side * (1 if number % 2 else -1)
            marks += _leaf(spot, angle, long_mm * (1.1 - 0.4 * share), long_mm * 0.42, sheet.tone)
        end, (dx, dy) = brush.spot_at(line, 1.0)
        marks += _leaf(end, math.atan2(dy, dx), long_mm * 0.7, long_mm * 0.3, sheet.tone)
    return marks


def _needle_branch(sheet: _Sheet) -> list[Mark]:
    twigs = _twigs(sheet)
    marks: list[Mark] = [*_twig_marks(sheet, twigs), _wood(sheet)]
    long_mm = _within(0.09 * sheet.long_mm, (2.0, 4.5))
    for line in (sheet.line, *(twig.line for twig in twigs)):
        low = 0.62 if line is sheet.line else 0.5
        for step in range(5):
            spot, (dx, dy) = brush.spot_at(line, low + (1 - low) * step / 4)
            for off in (-0.85, -0.5, -0.2, 0.2, 0.5, 0.85):
                angle = math.atan2(dy, dx) + off
                end = (spot[0] + long_mm * math.cos(angle), spot[1] + long_mm * math.sin(angle))
                marks.append(Path((spot, end), stroke=sheet.tone.line, width_mm=FINE_MM))
    return marks


def _berry_branch(sheet: _Sheet) -> list[Mark]:
    twigs = _twigs(sheet)
    marks: list[Mark] = [*_twig_marks(sheet, twigs), _wood(sheet)]
    radius = _within(0.35 * sheet.mm_per_cm, (0.6, 1.1))
    for line in (sheet.line, *(twig.line for twig in twigs)):
        for number, share in enumerate((0.55, 0.68, 0.8, 0.9, 1.0)):
            (x, y), (dx, dy) = brush.spot_at(line, share)
            off = radius * 1.2 * sheet.side * (1 if number % 2 else -1) * (share < 1.0)
            spot = (x - dy * off, y + dx * off)
            marks.append(Disc(spot, radius, fill=sheet.tone.line, stroke=PAPER, width_mm=HAIR_MM))
            shine = (spot[0] - radius * 0.3, spot[1] - radius * 0.35)
            marks.append(Disc(shine, radius * 0.22, fill=PAPER, stroke=None))
    return marks


# Flowers on a green stem


def _green(sheet: _Sheet, low: float = 0.0, high: float = 1.0) -> Path:
    broad = _within(sheet.thick_mm, SOFT_MM)
    line = brush.part_of(sheet.line, low, high, 9)
    return brush.ribbon(
        line,
        lambda share: broad * (1.0 - 0.25 * share),
        fill=PAPER,
        stroke=sheet.tone.line,
        width_mm=FINE_MM,
    )


def _end(sheet: _Sheet) -> tuple[Spot, float]:
    """The stem's end and the direction (radians on paper) in which it points."""
    spot, (dx, dy) = brush.spot_at(sheet.line, 1.0)
    return spot, math.atan2(dy, dx)


def _petal(points: Sequence[Spot], tone: Tone, corners: frozenset[int], fill: str = PAPER) -> Path:
    return Path(
        tuple(points),
        curved=True,
        closed=True,
        fill=fill,
        stroke=tone.line,
        width_mm=FINE_MM,
        corners=corners,
    )


def _framed(at: Spot, angle: float, shape: Sequence[Spot]) -> list[Spot]:
    """A shape (along, across) set at a point, its first axis in a direction."""
    c, s = math.cos(angle), math.sin(angle)
    return [(at[0] + a * c - b * s, at[1] + a * s + b * c) for a, b in shape]


def _blade_beside(sheet: _Sheet) -> list[Mark]:
    """One long leaf that comes from the lower stem and bends away."""
    start, (dx, dy) = brush.spot_at(sheet.line, 0.2)
    turn = 0.35 * sheet.side
    line = brush.bent(start, math.atan2(dy, dx) + turn * 0.3, 0.6 * sheet.long_mm, turn)
    broad = _within(0.09 * sheet.long_mm, (0.9, 3.0))
    leaf = brush.ribbon(
        line,
        lambda share: broad * max(0.02, math.sin(math.pi * (0.12 + 0.88 * share)) ** 0.8),
        fill=sheet.tone.wash,
        stroke=sheet.tone.line,
    )
    return [leaf, Path(tuple(line), curved=True, stroke=sheet.tone.line, width_mm=HAIR_MM)]


def _cup(sheet: _Sheet) -> list[Mark]:
    at, angle = _end(sheet)
    high, half = sheet.head_mm * 1.15, sheet.head_mm * 0.46
    side = sheet.side
    back = (
        (0.1, -0.55),
        (0.55, -0.8),
        (1.0, -0.28),
        (0.9, 0.0),
        (1.0, 0.3),
        (0.55, 0.8),
        (0.1, 0.5),
    )
    left = ((0.0, 0.0), (0.2, -0.75), (0.6, -1.0), (0.98, -0.62), (0.6, -0.05), (0.2, 0.15))
    right = tuple((a, -b) for a, b in left)
    front = ((0.0, 0.0), (0.22, -0.5), (0.58, -0.62), (0.9, 0.0), (0.58, 0.62), (0.22, 0.5))

    def petal(shape: Sequence[Spot], corner: int) -> Path:
        sized = [(a * high, b * half * side) for a, b in shape]
        return _petal(_framed(at, angle, sized), sheet.tone, frozenset((0, corner)))

    return [
        *_blade_beside(sheet),
        _green(sheet),
        petal(back, 3),
        petal(left, 3),
        petal(right, 3),
        petal(front, 3),
    ]


def _rosette(
    sheet: _Sheet, petals: int, petal_of_head: float, broad: float, squash: float, tip: bool
) -> list[Mark]:
    """Petals around the stem's end, seen a little from the side."""
    at, angle = _end(sheet)
    marks: list[Mark] = []
    order = sorted(range(petals), key=lambda n: (-math.cos(2 * math.pi * n / petals), n))
    for number in order:
        around = 2 * math.pi * number / petals
        far = petal_of_head * sheet.head_mm / 2
        shape = ((0.0, 0.0), (0.35, 0.38), (0.72, 0.5), (0.95, 0.26), (1.0, 0.0))
        if not tip:
            shape = ((0.0, 0.0), (0.35, 0.36), (0.75, 0.5), (0.96, 0.34), (1.0, 0.0))
        upper = [(a * far, b * far * broad) for a, b in shape]
        flat = upper + [(a, -b) for a, b in upper[-2:0:-1]]
        c, s = math.cos(around), math.sin(around)
        round_ = [((a * c - b * s) * squash, (a * s + b * c) * sheet.side) for a, b in flat]
        corners = frozenset((0, 4)) if tip else frozenset((0,))
        marks.append(_petal(_framed(at, angle, round_), sheet.tone, corners))
    return marks


def _squashed(at: Spot, angle: float, radius_mm: float, squash: float) -> list[Spot]:
    ring = [(math.cos(n * math.pi / 5), math.sin(n * math.pi / 5)) for n in range(10)]
    return _framed(at, angle, [(a * radius_mm * squash, b * radius_mm) for a, b in ring])


def _daisy(sheet: _Sheet) -> list[Mark]:
    at, angle = _end(sheet)
    heart = _petal(
        _squashed(at, angle, sheet.head_mm * 0.17, 0.8), sheet.tone, frozenset(), sheet.tone.wash
    )
    return [_green(sheet), *_rosette(sheet, 13, 1.0, 0.5, 0.72, False), heart]


def _trumpet(sheet: _Sheet) -> list[Mark]:
    at, angle = _end(sheet)
    tone = sheet.tone
    outer = _squashed(at, angle, sheet.head_mm * 0.24, 0.85)
    inner = _squashed(at, angle, sheet.head_mm * 0.14, 0.85)
    return [
        *_blade_beside(sheet),
        _green(sheet),
        *_rosette(sheet, 6, 1.0, 0.85, 0.8, True),
        _petal(outer, tone, frozenset()),
        _petal(inner, tone, frozenset(), tone.wash),
    ]


def _round(sheet: _Sheet) -> list[Mark]:
    """Many petals folded around a heart: rose, peony, ranunculus."""
    at, angle = _end(sheet)
    half = sheet.head_mm / 2
    middle = (at[0] + half * 0.55 * math.cos(angle), at[1] + half * 0.55 * math.sin(angle))
    marks: list[Mark] = [_green(sheet)]
    marks += _leaf_pair(sheet)
    for radius, petals, turn in ((1.0, 5, 0.3), (0.72, 4, 1.0), (0.45, 3, 0.2)):
        for number in range(petals):
            around = sheet.side * (turn + number * 2 * math.pi / petals)
            reach = radius * half
            spot = (
                middle[0] + reach * 0.45 * math.cos(angle + around),
                middle[1] + reach * 0.45 * math.sin(angle + around),
            )
            marks.append(
                _petal(_squashed(spot, angle + around, reach * 0.62, 0.85), sheet.tone, frozenset())
            )
    marks.append(_petal(_squashed(middle, angle, half * 0.16, 1.0), sheet.tone, frozenset()))
    return marks


def _leaf_pair(sheet: _Sheet) -> list[Mark]:
    spot, (dx, dy) = brush.spot_at(sheet.line, 0.62)
    long_mm = _within(0.16 * sheet.long_mm, (2.0, 5.0))
    along = math.atan2(dy, dx)
    marks: list[Mark] = []
    for off in (-0.8 * sheet.side, 0.8 * sheet.side):
        marks += _leaf(spot, along + off, long_mm, long_mm * 0.5, sheet.tone)
    return marks


def _spike(sheet: _Sheet) -> list[Mark]:
    marks: list[Mark] = [_green(sheet)]
    size = _within(sheet.head_mm * 0.35, (1.4, 4.0))
    for step in range(11):
        share = 1.0 - 0.045 * (10 - step)
        spot, (dx, dy) = brush.spot_at(sheet.line, share)
        small = size * (1.15 - 0.07 * step)
        off = sheet.side * (0.9 if step % 2 else -0.9) * (step < 10)
        shape = _drop(spot, math.atan2(dy, dx) + off, small, small * 0.7)
        marks.append(_petal(shape, sheet.tone, frozenset((0,))))
    return marks


def _spray(sheet: _Sheet) -> list[Mark]:
    marks: list[Mark] = [_green(sheet)]
    heads: list[Spot] = [_end(sheet)[0]]
    for number, share in enumerate((0.55, 0.64, 0.72, 0.8, 0.88)):
        start, (dx, dy) = brush.spot_at(sheet.line, share)
        off = sheet.side * (0.6 if number % 2 else -0.6)
        reach = sheet.long_mm * (1.0 - share) * 0.75
        twig = brush.bent(start, math.atan2(dy, dx) + off, reach, -off * 0.6)
        marks.append(Path(tuple(twig), curved=True, stroke=sheet.tone.line, width_mm=FINE_MM))
        heads.append(twig[-1])
    radius = _within(sheet.head_mm * 0.25, (0.9, 2.2))
    for number, head in enumerate(heads):
        marks += _blossom(head, radius, sheet.side * number * 0.7, sheet.tone)
    return marks


# Leaves


def _blade(sheet: _Sheet, low: float, breadth: Callable[[float], float]) -> list[Mark]:
    """A blade along the stem's line from a share of its length, with its midrib."""
    line = brush.part_of(sheet.line, low, 1.0, 11)
    tone = sheet.tone
    return [
        brush.ribbon(line, breadth, count=11, fill=tone.wash, stroke=tone.line),
        Path(tuple(line), curved=True, stroke=tone.line, width_mm=HAIR_MM),
    ]


def _broad_leaf(sheet: _Sheet) -> list[Mark]:
    broad = min(sheet.head_mm, 0.42 * sheet.long_mm + 2.0)
    tone = sheet.tone

    def breadth(share: float) -> float:
        return float(max(0.05, broad * math.sin(math.pi * share**0.8) ** 0.75))

    stalk = brush.part_of(sheet.line, 0.0, 0.42, 5)
    marks: list[Mark] = [brush.tapered(stalk, 0.6, 0.4, tone.line, 5)]
    marks += _blade(sheet, 0.38, breadth)
    blade = brush.part_of(sheet.line, 0.38, 1.0, 11)
    for share in (0.22, 0.36, 0.5, 0.64):
        (x, y), (dx, dy) = brush.spot_at(blade, share)
        half = breadth(share + 0.12) * 0.4
        for side in (-1.0, 1.0):
            end = (x + dx * half * 1.1 - dy * half * side, y + dy * half * 1.1 + dx * half * side)
            marks.append(Path(((x, y), end), stroke=tone.line, width_mm=HAIR_MM * 0.8))
    return marks


def _strap_leaf(sheet: _Sheet) -> list[Mark]:
    broad = min(max(1.0, sheet.head_mm * 0.35), 3.5)
    return _blade(
        sheet, 0.0, lambda share: max(0.05, broad * (0.55 + 0.45 * share) * (1 - share**5))
    )


def _frond(sheet: _Sheet) -> list[Mark]:
    tone = sheet.tone
    marks: list[Mark] = []
    broad = max(3.0, sheet.head_mm)
    pairs = int(_within(sheet.long_mm / 1.3, (5.0, 14.0)))
    for step in range(pairs):
        part = step / (pairs - 1)
        spot, (dx, dy) = brush.spot_at(sheet.line, 0.25 + 0.74 * part)
        reach = broad / 2 * math.sin(math.pi * (0.18 + 0.8 * part)) ** 0.8
        for side in (-1.0, 1.0):
            angle = math.atan2(dy, dx) + side * 1.05
            leaflet = _drop(spot, angle, reach, max(0.5, reach * 0.3))
            marks.append(_petal(leaflet, tone, _DROP_CORNERS, tone.wash))
    marks.append(brush.tapered(sheet.line, 0.5, 0.2, tone.line))
    return marks


def _grass(sheet: _Sheet) -> list[Mark]:
    tone = sheet.tone
    start, (dx, dy) = brush.spot_at(sheet.line, 0.0)
    angle = math.atan2(dy, dx)
    marks: list[Mark] = []
    for off, over, turn in ((-0.16, 0.7, -0.5), (0.12, 0.85, 0.45), (0.26, 0.55, 0.8)):
        line = brush.bent(start, angle + off * sheet.side, over * sheet.long_mm, turn * sheet.side)
        marks.append(brush.tapered(line, 0.6, 0.15, tone.line))
    marks.append(brush.tapered(sheet.line, 0.7, 0.15, tone.line))
    return marks


_OUTLINES: dict[str, Callable[[_Sheet], list[Mark]]] = {
    "bare-twig": _bare_twig,
    "blossom-branch": _blossom_branch,
    "leafy-branch": _leafy_branch,
    "needle-branch": _needle_branch,
    "berry-branch": _berry_branch,
    "cup": _cup,
    "daisy": _daisy,
    "trumpet": _trumpet,
    "round": _round,
    "spike": _spike,
    "spray": _spray,
    "broad-leaf": _broad_leaf,
    "strap-leaf": _strap_leaf,
    "frond": _frond,
    "grass": _grass,
}
