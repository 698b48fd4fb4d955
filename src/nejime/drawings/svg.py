"""Drawings as SVG text: marks in, one string out.

Model: a picture is a list of marks in paper millimetres, y down, painted in order. One user unit
is one millimetre, and the picture's width and height say so. Only presentation attributes are
written, numbers have at most two decimals, and equal marks give equal bytes.
Source: Scalable Vector Graphics (SVG) 1.1; curves through points by the Catmull-Rom rule.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from html import escape

import numpy as np
from numpy.typing import NDArray

from nejime.drawings import lettering
from nejime.drawings.coverage import area_mm2, points_along, points_inside
from nejime.drawings.path_data import GRAIN_MM, grains, path_data

INK = "#1a1a1a"  # lines and words
SOFT = "#6e6e6e"  # what is behind or already stands; 4.5 : 1 and more on white
WASH = "#ececec"  # a tone under a leaf or the water; carries no meaning alone
PAPER = "#ffffff"

HAIR_MM = 0.25 * lettering.MM_PER_PT  # [own] dimension lines
FINE_MM = 0.45 * lettering.MM_PER_PT  # [own] petals, leaves
PLANT_MM = 0.15  # [own] outlines of plants
COVERED_MM = 0.42  # [own] finer than a cell of the labels' grid, at every scale of a sprig
AREA_MM2 = 2.0  # [own] smaller areas are covered by their outlines
LINE_MM = 0.8 * lettering.MM_PER_PT  # [own] the vessel

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Path:
    """A line or an area through points. `curved` draws it smooth, `corners` are kept sharp."""

    points: tuple[Spot, ...]
    curved: bool = False
    closed: bool = False
    fill: str | None = None
    stroke: str | None = INK
    width_mm: float = HAIR_MM
    dash: tuple[float, ...] = ()
    corners: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle."""

    centre: Spot
    radius_mm: float
    fill: str | None = None
    stroke: str | None = INK
    width_mm: float = HAIR_MM
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Text:
    """One line of lettering. `at` is its baseline's start, middle or end."""

    at: Spot
    says: str
    size_pt: float = lettering.LEAST_PT
    align: str = "start"
    bold: bool = False
    colour: str = INK
    turned_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Lettered:
    """A line of lettering that bends: each letter's baseline start, and how it is turned."""

    says: str
    spots: tuple[Spot, ...]
    turned_deg: tuple[float, ...]
    size_pt: float = lettering.LEAST_PT
    bold: bool = False
    colour: str = INK


@dataclass(frozen=True, eq=False)
class Growth:
    """Everything that is seen of a plant, drawn once: shapes in the order of painting.

    Its shapes are at a scale of their own and around the stem's start. Their colours are names
    (`TONES`), so that the same growth is printed dark and light.
    """

    shapes: tuple[Path | Disc, ...]

    @cached_property
    def body(self) -> str:
        """Its shapes as SVG, runs of one pen together; colours still as names in braces."""
        runs = itertools.groupby(self.shapes, key=_pen_key)
        return "".join(_run(list(run)) for _, run in runs)

    @cached_property
    def outlines(self) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Starts and stops of all straight pieces of its outlines."""
        starts: list[Spot] = []
        stops: list[Spot] = []
        for shape in self.shapes:
            points = shape.points if isinstance(shape, Path) else _ring(shape)
            closed = isinstance(shape, Disc) or shape.closed
            starts += points if closed else points[:-1]
            stops += (*points[1:], points[0]) if closed else points[1:]
        return np.asarray(starts, dtype=float), np.asarray(stops, dtype=float)

    @cached_property
    def covered(self) -> NDArray[np.float64]:
        """Points wherever it has ink, close enough for placing labels."""
        areas = [
            points_inside(np.asarray(shape.points, dtype=float), COVERED_MM)
            for shape in self.shapes
            if isinstance(shape, Path) and shape.closed and area_mm2(shape.points) > AREA_MM2
        ]
        return np.concatenate([points_along(*self.outlines, COVERED_MM), *areas])

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom."""
        starts, stops = self.outlines
        low = np.minimum(starts.min(axis=0), stops.min(axis=0))
        high = np.maximum(starts.max(axis=0), stops.max(axis=0))
        return float(low[0]), float(low[1]), float(high[0]), float(high[1])


@dataclass(frozen=True, slots=True)
class Sprig:
    """A growth in its place on paper, at a scale, in a tone."""

    growth: Growth
    at: Spot
    scale: float
    line: str = INK
    wash: str = WASH

    def seen(self, spots: NDArray[np.float64]) -> NDArray[np.float64]:
        """Where points of the growth lie on paper."""
        found: NDArray[np.float64] = spots * self.scale + np.asarray(self.at)
        return found

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom on paper."""
        (x, y), k = self.at, self.scale
        left, top, right, bottom = self.growth.box
        return left * k + x, top * k + y, right * k + x, bottom * k + y


Mark = Path | Disc | Text | Lettered | Sprig


@dataclass(frozen=True, slots=True)
class Picture:
    """What is drawn and how large the paper is."""

    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]
    title: str
    description: str


def written(picture: Picture) -> str:
    """The picture as an SVG document."""
    wide, high = number(picture.width_mm), number(picture.height_mm)
    body = "\n".join(_mark(mark) for mark in picture.marks)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 0 {wide} {high}" role="img" fill="none" '
        f'stroke-linecap="round" stroke-linejoin="round">\n'
        f"<title>{escape(picture.title)}</title>\n<desc>{escape(picture.description)}</desc>\n"
        f"{body}\n</svg>\n"
    )


def number(value: float) -> str:
    """A number with at most two decimals."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _attributes(pairs: Iterable[tuple[str, str | None]]) -> str:
    return "".join(f' {name}="{value}"' for name, value in pairs if value is not None)


def _pen(mark: Path | Disc) -> list[tuple[str, str | None]]:
    pairs: list[tuple[str, str | None]] = [("fill", mark.fill)]
    if mark.stroke is not None:
        pairs += [("stroke", mark.stroke), ("stroke-width", number(max(mark.width_mm, 0.05)))]
        if mark.dash:
            pairs.append(("stroke-dasharray", " ".join(number(part) for part in mark.dash)))
    return pairs


def _mark(mark: Mark) -> str:
    if isinstance(mark, Path):
        line = outline(mark.points, mark.curved, mark.closed, mark.corners)
        return f'<path d="{line}"{_attributes(_pen(mark))}/>'
    if isinstance(mark, Disc):
        x, y = mark.centre
        place = [("cx", number(x)), ("cy", number(y)), ("r", number(mark.radius_mm))]
        return f"<circle{_attributes([*place, *_pen(mark)])}/>"
    if isinstance(mark, Sprig):
        return _sprig(mark)
    if isinstance(mark, Lettered):
        return _lettered(mark)
    return _text(mark)


# Plants


LINE, WASHED, WHITE = "{line}", "{wash}", "{paper}"
TONES = (LINE, WASHED, WHITE)


def _sprig(mark: Sprig) -> str:
    (x, y), k = mark.at, mark.scale
    body = mark.growth.body
    for name, colour in zip(TONES, (mark.line, mark.wash, PAPER), strict=True):
        body = body.replace(name, colour)
    size = f"translate({number(x)} {number(y)}) scale({k * GRAIN_MM:.5f})"
    pen = f'fill="{PAPER}" stroke="{mark.line}" stroke-width="{_grained(PLANT_MM)}"'
    return f'<g transform="{size}" {pen}>{body}</g>'


def _pen_key(shape: Path | Disc) -> tuple[str | None, str | None, float]:
    return _area(shape), shape.stroke, round(shape.width_mm, 2)


def _area(shape: Path | Disc) -> str | None:
    """How a shape is filled: white where nothing else is said, as a straight line has no area."""
    straight = isinstance(shape, Path) and len(shape.points) == 2
    return WHITE if straight else shape.fill


def _run(shapes: Sequence[Path | Disc]) -> str:
    """Shapes of one pen; lines without an area become one path."""
    pen = _attributes(_own_pen(shapes[0]))
    paths = [shape for shape in shapes if isinstance(shape, Path) and not shape.closed]
    if len(paths) == len(shapes):
        return f'<path d="{"".join(_data(path) for path in paths)}"{pen}/>'
    if len(shapes) == 1:
        return f"{_bare(shapes[0])[:-2]}{pen}/>"
    if not pen:
        return "".join(_bare(shape) for shape in shapes)
    return f"<g{pen}>{''.join(_bare(shape) for shape in shapes)}</g>"


def _own_pen(shape: Path | Disc) -> list[tuple[str, str | None]]:
    """What differs from the pen of the whole plant: a line of `PLANT_MM`, white inside."""
    area = _area(shape)
    pairs = [("fill", None if area == WHITE else area or "none")]
    if shape.stroke is None:
        return [*pairs, ("stroke", "none")]
    wide = _grained(shape.width_mm)
    return [
        *pairs,
        ("stroke", None if shape.stroke == LINE else shape.stroke),
        ("stroke-width", None if wide == _grained(PLANT_MM) else wide),
    ]


def _grained(length_mm: float) -> str:
    return number(length_mm / GRAIN_MM)


def _bare(shape: Path | Disc) -> str:
    if isinstance(shape, Path):
        return f'<path d="{_data(shape)}"/>'
    x, y, r = (grains(each) for each in (*shape.centre, shape.radius_mm))
    return f'<circle cx="{x}" cy="{y}" r="{max(1, r)}"/>'


def _data(path: Path) -> str:
    return path_data(path.points, path.curved, path.closed, path.corners)


def _ring(disc: Disc) -> tuple[Spot, ...]:
    (x, y), r = disc.centre, disc.radius_mm
    turns = [2 * math.pi * step / 6 for step in range(6)]
    return tuple((x + r * math.cos(turn), y + r * math.sin(turn)) for turn in turns)


def _text(mark: Text) -> str:
    x, y = number(mark.at[0]), number(mark.at[1])
    turned = f"rotate({number(mark.turned_deg)} {x} {y})" if mark.turned_deg else None
    size = number(mark.size_pt * lettering.MM_PER_PT)
    pairs = [
        ("x", x),
        ("y", y),
        ("font-family", lettering.FONT),
        ("font-size", size),
        ("font-weight", "700" if mark.bold else None),
        ("text-anchor", None if mark.align == "start" else mark.align),
        ("fill", mark.colour),
        ("transform", turned),
    ]
    return f"<text{_attributes(pairs)}>{escape(mark.says)}</text>"


def _lettered(mark: Lettered) -> str:
    pairs = [
        ("x", " ".join(number(x) for x, _ in mark.spots)),
        ("y", " ".join(number(y) for _, y in mark.spots)),
        ("rotate", " ".join(number(turn) for turn in mark.turned_deg)),
        ("font-family", lettering.FONT),
        ("font-size", number(mark.size_pt * lettering.MM_PER_PT)),
        ("font-weight", "700" if mark.bold else None),
        ("fill", mark.colour),
    ]
    return f"<text{_attributes(pairs)}>{escape(mark.says)}</text>"


class _Pen:
    """Writes a path in steps of a hundredth of a millimetre, so that rounding never adds up."""

    def __init__(self, start: Spot) -> None:
        self.x, self.y = self._at(start)
        self.parts = [f"M{self._n(self.x)} {self._n(self.y)}"]

    @staticmethod
    def _at(spot: Spot) -> tuple[int, int]:
        return round(spot[0] * 100), round(spot[1] * 100)

    @staticmethod
    def _n(hundredths: int) -> str:
        return number(hundredths / 100)

    def go(self, letter: str, spots: Sequence[Spot]) -> None:
        steps = [self._at(spot) for spot in spots]
        if all(step == (self.x, self.y) for step in steps):
            return
        text = " ".join(f"{self._n(x - self.x)} {self._n(y - self.y)}" for x, y in steps)
        self.parts.append(letter + text.replace(" -", "-"))
        self.x, self.y = steps[-1]


def outline(
    points: Sequence[Spot],
    curved: bool,
    closed: bool,
    corners: frozenset[int] = frozenset(),
) -> str:
    """The `d` of a path through the points, straight or smooth."""
    pen = _Pen(points[0])
    if curved and len(points) > 2:
        for piece in _smooth(points, closed, corners):
            pen.go("c", piece)
    else:
        for spot in points[1:]:
            pen.go("l", [spot])
    return "".join(pen.parts) + ("z" if closed else "")


def _smooth(
    points: Sequence[Spot], closed: bool, corners: frozenset[int]
) -> Iterable[tuple[Spot, Spot, Spot]]:
    """Bézier pieces through the points; the direction at a point is that between its neighbours."""
    count = len(points)
    last = count if closed else count - 1
    for index in range(last):
        here, there = points[index], points[(index + 1) % count]
        before = points[index - 1] if (closed or index) else here
        after = points[(index + 2) % count] if (closed or index + 2 < count) else there
        if index in corners:
            before = here
        if (index + 1) % count in corners:
            after = there
        out = (here[0] + (there[0] - before[0]) / 6, here[1] + (there[1] - before[1]) / 6)
        back = (there[0] - (after[0] - here[0]) / 6, there[1] - (after[1] - here[1]) / 6)
        yield out, back, there
