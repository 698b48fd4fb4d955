"""Drawings as SVG text: marks in, one string out.

Model: a picture is a list of marks in paper millimetres, y down, painted in order. One user unit
is one millimetre, and the picture's width and height say so. Only presentation attributes are
written, numbers have at most two decimals, and equal marks give equal bytes.
Source: Scalable Vector Graphics (SVG) 1.1; curves through points by the Catmull-Rom rule.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape

from nejime.drawings import lettering

INK = "#1a1a1a"  # lines and words
SOFT = "#6e6e6e"  # what is behind or already stands; 4.5 : 1 and more on white
WASH = "#ececec"  # a tone under a leaf or the water; carries no meaning alone
PAPER = "#ffffff"

HAIR_MM = 0.25 * lettering.MM_PER_PT  # [own] dimension lines
FINE_MM = 0.45 * lettering.MM_PER_PT  # [own] petals, leaves
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


Mark = Path | Disc | Text


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
    return _text(mark)


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
