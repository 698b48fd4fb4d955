"""The year here as a wheel: months and solar terms around it, and an arc for each plant's time.

Model: the year goes once around, clockwise from the first of January at the top; a day's place is
its share of the year's days. An arc narrows to nothing as far before and after a date as the date
is uncertain, so that at the date itself it has half its breadth. Arcs of a role lie beside each
other on tracks, those for the line outermost; a track is shared by arcs that leave room for each
other and for their names. The wheel is as wide as was asked, or as wide as its tracks need.
Shapes: millimetres of paper; angles in degrees, clockwise from the top.
Source: the layout is our own.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from nejime.basis.angles import shorter_way
from nejime.basis.sayings import Saying, Words
from nejime.drawings.lettering import LEAST_PT, MM_PER_PT, width_mm, wrapped
from nejime.drawings.svg import (
    FINE_MM,
    HAIR_MM,
    INK,
    PAPER,
    WASH,
    Disc,
    Lettered,
    Mark,
    Path,
    Picture,
    Spot,
    Text,
    written,
)

Role = Literal["line", "mass", "leaf"]
ROLES: tuple[Role, ...] = ("line", "mass", "leaf")
MOST = 24  # [own] more arcs are no longer told apart
ALL_YEAR_D = 300  # [own] longer times are named below the wheel, as there is no room for a name

WIDE_MM = 150.0  # [own] for a page of paper and a wide screen
NARROW_MM = 100.0  # [own] for a hand-held screen, with numbers for names

# In heights of a letter, all our own choice
TERM_RING = 1.4
MONTH_RING = 1.5
TRACK, NUMBERED_TRACK = 1.35, 0.95
BAR = 0.62
NAME_GAP = 0.35  # before a name
BETWEEN = 0.7  # after it
HALF_CAPITAL = 0.36  # half the height of a capital
LEAST_HOLE = 2.6  # in the middle, where the date stands
AROUND_DATE = 0.6

STEP_DEG = 1.5  # how finely arcs are drawn
PENS: Mapping[Role, tuple[str, str]] = {  # fill and outline, told apart without colour
    "line": (INK, INK),
    "mass": ("#b4b4b4", INK),
    "leaf": (PAPER, INK),
}


@dataclass(frozen=True, slots=True)
class Arc:
    """A plant's time: from one day until another, each give or take `spread_d` days."""

    name: str
    role: Role
    begins: dt.date
    ends: dt.date
    spread_d: float = 0.0


@dataclass(frozen=True, slots=True)
class Tick:
    """A solar term: the day on which it begins, and its name in kanji."""

    day: dt.date
    kanji: str


@dataclass(frozen=True, slots=True)
class Laid:
    """An arc in its place. `start_deg` is where its uncertainty begins, `bar_deg` how far it goes
    from there, `fade_deg` half of each of its narrowing ends, `label_deg` how far its name goes."""

    arc: Arc
    says: str
    radius_mm: float
    start_deg: float
    bar_deg: float
    fade_deg: float
    gap_deg: float
    label_deg: float

    @property
    def label_from_deg(self) -> float:
        """Where its name begins, clockwise."""
        return self.start_deg + self.bar_deg + self.gap_deg

    @property
    def whole_deg(self) -> float:
        """How far it goes with its name."""
        return self.bar_deg + self.gap_deg + self.label_deg


def angle_deg(day: dt.date, year: int) -> float:
    """Where a day stands: its share of the days of the year; below 0 or over 360 outside it."""
    first = dt.date(year, 1, 1)
    return 360.0 * (day - first).days / (dt.date(year + 1, 1, 1) - first).days


def year_wheel(
    year: int,
    arcs: Sequence[Arc],
    ticks: Iterable[Tick],
    words: Words,
    *,
    day: dt.date | None = None,
    numbered: bool = False,
    least_mm: float | None = None,
    text_pt: float = LEAST_PT,
) -> str:
    """The wheel as SVG; with `numbered`, arcs have their places in `arcs`, from 1, for names.

    `day` is marked by a line with its date in the middle. Raises `ValueError` for more than `MOST`
    arcs.
    """
    if len(arcs) > MOST:
        raise ValueError(f"{len(arcs)} arcs: no more than {MOST} can be told apart")
    wanted = least_mm or (NARROW_MM if numbered else WIDE_MM)
    size = text_pt * MM_PER_PT
    hole = _hole_mm(day, words, text_pt)
    laid, wide = laid_out(year, arcs, wanted, hole, text_pt, numbered=numbered)
    centre = (wide / 2, wide / 2)
    rings = _Rings(centre, wide / 2, size)
    marks: list[Mark] = [
        *_months(rings, year, hole, words, text_pt),
        *_terms(rings, year, ticks, text_pt),
    ]
    if day is not None:
        marks += _day(rings, angle_deg(day, year), hole, laid)
    for each in laid:
        marks += _arc_marks(each, rings, text_pt)
    marks += _middle(centre, year, day, words, text_pt)
    below, high = _below(arcs, year, wide, words, text_pt, numbered=numbered)
    title = words.say(Saying("drawings.wheel.title", year=str(year)))
    return written(Picture(wide, high, (*marks, *below), title, _described(arcs, words)))


def laid_out(
    year: int,
    arcs: Sequence[Arc],
    least_mm: float,
    hole_mm: float,
    text_pt: float = LEAST_PT,
    *,
    numbered: bool = False,
) -> tuple[tuple[Laid, ...], float]:
    """Every arc in its place, and how wide the wheel is: at least `least_mm`, more where needed."""
    size = text_pt * MM_PER_PT
    pitch = _pitch_mm(text_pt, numbered=numbered)
    wide = least_mm
    while True:
        outer = wide / 2 - (TERM_RING + MONTH_RING) * size - pitch
        found = _packed(year, arcs, outer, hole_mm + pitch / 2, text_pt, numbered=numbered)
        if found is not None:
            return tuple(found), wide
        wide += 2 * pitch


def _packed(
    year: int,
    arcs: Sequence[Arc],
    outer_mm: float,
    inner_mm: float,
    text_pt: float,
    *,
    numbered: bool,
) -> list[Laid] | None:
    """The arcs on tracks from the outside in, role by role; None where the room is too small."""
    pitch = _pitch_mm(text_pt, numbered=numbered)
    found: list[Laid] = []
    radius = outer_mm
    shown = [(number, arc) for number, arc in enumerate(arcs, start=1) if not is_all_year(arc)]
    for role in ROLES:
        left = [(number, arc) for number, arc in shown if arc.role == role]
        left.sort(key=lambda each: (each[1].begins, each[1].ends, each[1].name))
        while left:
            if radius < inner_mm:
                return None
            on_track: list[Laid] = []
            for number, arc in left:
                says = str(number) if numbered else arc.name
                laid = _laid(year, arc, says, radius, text_pt)
                if all(_apart(laid, other, text_pt) for other in on_track):
                    on_track.append(laid)
            if not on_track or any(each.whole_deg > 360 for each in on_track):
                return None
            placed = {id(each.arc) for each in on_track}
            left = [each for each in left if id(each[1]) not in placed]
            found += on_track
            radius -= pitch
    return found


def _pitch_mm(text_pt: float, *, numbered: bool) -> float:
    """From one track to the next: a number has no descenders."""
    return (NUMBERED_TRACK if numbered else TRACK) * text_pt * MM_PER_PT


def _laid(year: int, arc: Arc, says: str, radius_mm: float, text_pt: float) -> Laid:
    per_day = angle_deg(dt.date(year, 1, 2), year)
    begins, ends = angle_deg(arc.begins, year), angle_deg(arc.ends, year) + per_day
    fade = min(arc.spread_d * per_day, (ends - begins) / 2)
    size = text_pt * MM_PER_PT
    return Laid(
        arc=arc,
        says=says,
        radius_mm=radius_mm,
        start_deg=begins - fade,
        bar_deg=ends - begins + 2 * fade,
        fade_deg=fade,
        gap_deg=math.degrees(NAME_GAP * size / radius_mm),
        label_deg=math.degrees(width_mm(says, text_pt) / radius_mm),
    )


def _apart(one: Laid, other: Laid, text_pt: float) -> bool:
    """Whether two arcs with their names leave room between them on their track."""
    between = math.degrees(BETWEEN * text_pt * MM_PER_PT / one.radius_mm)
    after = (other.start_deg - one.start_deg) % 360
    before = (one.start_deg - other.start_deg) % 360
    return after >= one.whole_deg + between and before >= other.whole_deg + between


def is_all_year(arc: Arc) -> bool:
    """Whether it is named below the wheel instead of drawn."""
    return (arc.ends - arc.begins).days + 1 > ALL_YEAR_D


# What is drawn


@dataclass(frozen=True, slots=True)
class _Rings:
    """The middle, the outermost radius, and the rings within it."""

    centre: Spot
    radius_mm: float
    size_mm: float

    @property
    def terms_mm(self) -> float:
        """Inner edge of the ring of solar terms."""
        return self.radius_mm - TERM_RING * self.size_mm

    @property
    def months_mm(self) -> float:
        """Inner edge of the ring of months."""
        return self.terms_mm - MONTH_RING * self.size_mm

    def at(self, angle: float, radius_mm: float) -> Spot:
        """A place on paper."""
        turn = math.radians(angle)
        x, y = self.centre
        return x + radius_mm * math.sin(turn), y - radius_mm * math.cos(turn)

    def spoke(self, angle: float, inner: float, outer: float) -> tuple[Spot, Spot]:
        """A line towards the middle."""
        return self.at(angle, inner), self.at(angle, outer)

    def lettered(self, says: str, middle_deg: float, radius_mm: float, text_pt: float) -> Lettered:
        """Lettering along a circle, its capitals' middles on it; upright also below the middle."""
        under = 90.0 < middle_deg % 360 < 270.0
        half_capital = HALF_CAPITAL * text_pt * MM_PER_PT
        baseline = radius_mm + (half_capital if under else -half_capital)
        way = -1.0 if under else 1.0
        widths = [width_mm(letter, text_pt) for letter in says]
        angle = middle_deg - way * math.degrees(sum(widths) / 2 / radius_mm)
        spots, turns = [], []
        for width in widths:
            share = math.degrees(width / radius_mm)
            middle = angle + way * share / 2
            turned = middle + (180.0 if under else 0.0)
            x, y = self.at(middle, baseline)
            along = math.radians(turned)
            spots.append((x - width / 2 * math.cos(along), y - width / 2 * math.sin(along)))
            turns.append(shorter_way(turned))
            angle += way * share
        return Lettered(says, tuple(spots), tuple(turns), text_pt)


def _months(
    rings: _Rings, year: int, hole_mm: float, words: Words, text_pt: float
) -> Iterable[Mark]:
    starts = [angle_deg(dt.date(year, month, 1), year) for month in range(1, 13)]
    for start in starts:
        yield Path(rings.spoke(start, hole_mm, rings.months_mm), stroke=WASH, width_mm=FINE_MM)
    for radius in (rings.terms_mm, rings.months_mm):
        yield Disc(rings.centre, radius, width_mm=HAIR_MM)
    middle = (rings.terms_mm + rings.months_mm) / 2
    for month, start in enumerate(starts, start=1):
        after = starts[month] if month < 12 else 360.0
        yield Path(rings.spoke(start, rings.months_mm, rings.terms_mm), width_mm=HAIR_MM)
        name = words.say(Saying(f"month.{month}"))
        if width_mm(name, text_pt) > math.radians(after - start) * middle - rings.size_mm / 2:
            name = words.say(Saying(f"drawings.wheel.month.{month}"))
        yield rings.lettered(name, (start + after) / 2, middle, text_pt)


def _terms(rings: _Rings, year: int, ticks: Iterable[Tick], text_pt: float) -> Iterable[Mark]:
    for tick in ticks:
        angle = angle_deg(tick.day, year)
        inner, outer = rings.terms_mm, rings.terms_mm + 0.28 * rings.size_mm
        yield Path(rings.spoke(angle, inner, outer), width_mm=FINE_MM)
        yield rings.lettered(tick.kanji, angle, outer + 0.62 * rings.size_mm, text_pt)


def _arc_marks(laid: Laid, rings: _Rings, text_pt: float) -> Iterable[Mark]:
    fill, stroke = PENS[laid.arc.role]
    yield Path(tuple(bar(laid, rings)), closed=True, fill=fill, stroke=stroke, width_mm=2 * HAIR_MM)
    middle = laid.label_from_deg + laid.label_deg / 2
    yield rings.lettered(laid.says, middle, laid.radius_mm, text_pt)


def bar(laid: Laid, rings: _Rings) -> list[Spot]:
    """The outline of an arc: full in its middle, narrowing to nothing at its ends."""
    half = BAR * rings.size_mm / 2
    steps = max(8, math.ceil(laid.bar_deg / STEP_DEG))
    turns = [laid.bar_deg * step / steps for step in range(steps + 1)]
    narrow = 2 * laid.fade_deg
    turns = sorted({*turns, narrow, laid.bar_deg - narrow})
    sides = []
    for way in (1, -1):
        side = [
            rings.at(laid.start_deg + turn, laid.radius_mm + way * half * _breadth(turn, laid))
            for turn in turns
        ]
        sides.append(side)
    return [*sides[0], *reversed(sides[1])]


def _breadth(turn_deg: float, laid: Laid) -> float:
    """The share of its full breadth that an arc has so far from its start."""
    from_end = min(turn_deg, laid.bar_deg - turn_deg)
    if laid.fade_deg == 0:
        return 1.0
    return max(0.0, min(1.0, from_end / (2 * laid.fade_deg)))


def _day(rings: _Rings, angle: float, hole_mm: float, laid: Sequence[Laid]) -> Iterable[Mark]:
    """The line of a day, with a gap wherever it would run through a name."""
    clear = 0.55 * rings.size_mm
    gaps = sorted(
        (each.radius_mm - clear, each.radius_mm + clear)
        for each in laid
        if (angle - each.label_from_deg + 2) % 360 <= each.label_deg + 4
    )
    start = hole_mm
    for inner, outer in [*gaps, (rings.radius_mm, rings.radius_mm)]:
        stop = min(inner, rings.months_mm)
        if stop > start:
            yield Path(rings.spoke(angle, start, stop), width_mm=3 * FINE_MM)
        start = max(start, outer)
    tip = rings.at(angle, rings.months_mm)
    sides = [rings.at(angle + way * 1.6, rings.months_mm - 0.8 * rings.size_mm) for way in (-1, 1)]
    yield Path((tip, *sides), closed=True, fill=INK, stroke=None)


def _date_lines(day: dt.date | None, year: int, words: Words) -> list[str]:
    if day is None:
        return [str(year)]
    dated = Saying("drawings.wheel.day", day=str(day.day), month=Saying(f"month.{day.month}"))
    return [words.say(dated), str(day.year)]


def _hole_mm(day: dt.date | None, words: Words, text_pt: float) -> float:
    lines = _date_lines(day, 2000, words)
    widest = max(width_mm(line, text_pt, bold=True) for line in lines)
    return max(widest / 2 + AROUND_DATE * text_pt * MM_PER_PT, LEAST_HOLE * text_pt * MM_PER_PT)


def _middle(
    centre: Spot, year: int, day: dt.date | None, words: Words, text_pt: float
) -> Iterable[Mark]:
    lines = _date_lines(day, year, words)
    size = text_pt * MM_PER_PT
    first = centre[1] + HALF_CAPITAL * size - (len(lines) - 1) * 0.65 * size
    for number, line in enumerate(lines):
        spot = (centre[0], first + number * 1.3 * size)
        yield Text(spot, line, text_pt, "middle", bold=number == 0)


def _below(
    arcs: Sequence[Arc],
    year: int,
    wide: float,
    words: Words,
    text_pt: float,
    *,
    numbered: bool,
) -> tuple[list[Mark], float]:
    """What stands under the wheel: which bar is which role, and what is there all year."""
    size = text_pt * MM_PER_PT
    y = wide + 1.2 * size
    marks: list[Mark] = []
    x = 0.0
    for role in [each for each in ROLES if any(arc.role == each for arc in arcs)]:
        says = words.say(Saying(f"drawings.wheel.role.{role}"))
        needs = 2.5 * size + width_mm(says, text_pt)
        if x and x + needs > wide:
            x, y = 0.0, y + 1.4 * size
        marks += _swatch(x, y, role, size)
        marks.append(Text((x + 2.3 * size, y), says, text_pt))
        x += needs + size
    sentences = []
    if any(arc.spread_d for arc in arcs if not is_all_year(arc)):
        sentences.append(Saying("drawings.wheel.narrows"))
    names = [
        str(number) if numbered else arc.name
        for number, arc in enumerate(arcs, start=1)
        if is_all_year(arc)
    ]
    if names:
        sentences.append(Saying("drawings.wheel.all-year", names=tuple(names)))
    for sentence in sentences:
        for line in wrapped(words.say(sentence), text_pt, wide):
            y += 1.4 * size
            marks.append(Text((0.0, y), line, text_pt))
    return marks, y + 0.5 * size


def _swatch(x: float, y: float, role: Role, size: float) -> Iterable[Mark]:
    fill, stroke = PENS[role]
    top, foot = y - 0.66 * size, y - 0.66 * size + BAR * size
    corners = ((x + 0.1, top), (x + 2 * size, top), (x + 2 * size, foot), (x + 0.1, foot))
    yield Path(corners, closed=True, fill=fill, stroke=stroke, width_mm=2 * HAIR_MM)


def _described(arcs: Sequence[Arc], words: Words) -> str:
    """Everything that the arcs tell, for somebody who cannot see them."""
    return " ".join(words.say(_told(arc)) for arc in arcs)


def _told(arc: Arc) -> Saying:
    if is_all_year(arc):
        return Saying("drawings.wheel.arc-all-year", name=arc.name)
    first, last = (
        Saying("drawings.wheel.day", day=str(day.day), month=Saying(f"month.{day.month}"))
        for day in (arc.begins, arc.ends)
    )
    return Saying(
        "drawings.wheel.arc",
        name=arc.name,
        first=first,
        last=last,
        days=str(round(arc.spread_d)),
        role=Saying(f"drawings.wheel.role.{arc.role}"),
    )
