"""What a test wants to know of a PDF: sizes of letters, lengths of lines, tags.

Source: PDF 1.7 (ISO 32000-1): 8.3 coordinate systems, 8.5 paths, 9.4 text, 14.6 to 14.8 tags.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import pikepdf

MM_PER_PT = 25.4 / 72
Matrix = tuple[float, float, float, float, float, float]
SAME: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


def opened(data: bytes) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(data))


def times(one: Matrix, other: Matrix) -> Matrix:
    a, b, c, d, e, f = one
    p, q, r, s, t, u = other
    return (
        a * p + b * r,
        a * q + b * s,
        c * p + d * r,
        c * q + d * s,
        e * p + f * r + t,
        e * q + f * s + u,
    )


def at(point: tuple[float, float], matrix: Matrix) -> tuple[float, float]:
    a, b, c, d, e, f = matrix
    x, y = point
    return a * x + c * y + e, b * x + d * y + f


@dataclass(frozen=True)
class Letters:
    """A run of text: its size as printed, in points, and whether it belongs to a drawing."""

    size_pt: float
    in_drawing: bool


@dataclass(frozen=True)
class Stroke:
    """A straight stroke, in millimetres."""

    long_mm: float
    level: bool


def _figures(pdf: pikepdf.Pdf) -> set[tuple[int, int]]:
    """(page, marked content) of everything that is tagged as a figure."""
    pages = {page.objgen: number for number, page in enumerate(pdf.pages)}
    found: set[tuple[int, int]] = set()

    def walk(node: pikepdf.Object, page: int, inside: bool) -> None:
        if isinstance(node, pikepdf.Array):
            for kid in node:
                walk(kid, page, inside)
            return
        if isinstance(node, int):
            if inside:
                found.add((page, int(node)))
            return
        if "/Pg" in node:
            page = pages[node.Pg.objgen]
        if node.get("/Type") == "/MCR":
            if inside:
                found.add((page, int(node.MCID)))
            return
        inside = inside or node.get("/S") == "/Figure"
        if "/K" in node:
            walk(node.K, page, inside)

    walk(pdf.Root.StructTreeRoot.K, 0, False)
    return found


def tags(pdf: pikepdf.Pdf) -> Iterator[pikepdf.Object]:
    """Every element of the structure."""

    def walk(node: pikepdf.Object) -> Iterator[pikepdf.Object]:
        if isinstance(node, pikepdf.Array):
            for kid in node:
                yield from walk(kid)
        elif isinstance(node, pikepdf.Dictionary):
            if "/S" in node:
                yield node
            if "/K" in node:
                yield from walk(node.K)

    yield from walk(pdf.Root.StructTreeRoot.K)


def letters(pdf: pikepdf.Pdf) -> list[Letters]:
    """Every run of text of every page."""
    figures = _figures(pdf)
    found: list[Letters] = []
    for number, page in enumerate(pdf.pages):
        for kind, value in _drawn(page):
            if kind == "text":
                size, mcid = value
                found.append(Letters(size, (number, mcid) in figures))
    return found


def strokes(page: pikepdf.Page) -> list[Stroke]:
    """Every straight line of a page."""
    return [value for kind, value in _drawn(page) if kind == "stroke"]


def _drawn(page: pikepdf.Page) -> Iterator[tuple[str, object]]:
    yield from _content(page, page.get("/Resources", pikepdf.Dictionary()), SAME, -1)


def _content(
    stream: pikepdf.Page | pikepdf.Object,
    resources: pikepdf.Object,
    start: Matrix,
    marked: int,
) -> Iterator[tuple[str, object]]:
    reader = _Reader(resources, start, marked)
    for operands, operator in pikepdf.parse_content_stream(stream):
        act = reader.acts.get(str(operator))
        if act is not None:
            yield from act(operands) or ()


class _Reader:
    """Follows a content stream: the matrix, the size of text, the pen, the marked content."""

    def __init__(self, resources: pikepdf.Object, start: Matrix, marked: int) -> None:
        self.resources, self.matrix, self.marks = resources, start, [marked]
        self.kept: list[tuple[Matrix, float]] = []
        self.text, self.size, self.pen = SAME, 0.0, (0.0, 0.0)
        self.acts = {
            "q": lambda _: self.kept.append((self.matrix, self.size)),
            "Q": self._back,
            "cm": self._turn,
            "BMC": lambda _: self.marks.append(self.marks[-1]),
            "BDC": self._mark,
            "EMC": lambda _: self.marks.pop() and None,
            "BT": self._text,
            "Tf": self._font,
            "Tm": self._text,
            "Tj": self._show,
            "TJ": self._show,
            "m": self._move,
            "l": self._line,
            "Do": self._form,
        }

    def _back(self, _: object) -> None:
        self.matrix, self.size = self.kept.pop()

    def _turn(self, operands: list[object]) -> None:
        self.matrix = times(_matrix(operands), self.matrix)

    def _mark(self, operands: list[object]) -> None:
        about = operands[1]
        mcid = self.marks[-1]
        if isinstance(about, pikepdf.Dictionary):
            mcid = int(about.get("/MCID", mcid))
        self.marks.append(mcid)

    def _text(self, operands: list[object]) -> None:
        self.text = _matrix(operands) if operands else SAME

    def _font(self, operands: list[object]) -> None:
        self.size = float(operands[1])

    def _show(self, _: object) -> Iterator[tuple[str, object]]:
        a, b, c, d, _, _ = times(self.text, self.matrix)
        yield "text", (self.size * math.sqrt(abs(a * d - b * c)), self.marks[-1])

    def _spot(self, operands: list[object]) -> tuple[float, float]:
        return at((float(operands[0]), float(operands[1])), self.matrix)

    def _move(self, operands: list[object]) -> None:
        self.pen = self._spot(operands)

    def _line(self, operands: list[object]) -> Iterator[tuple[str, object]]:
        end = self._spot(operands)
        long_mm = math.dist(self.pen, end) * MM_PER_PT
        yield "stroke", Stroke(long_mm, abs(self.pen[1] - end[1]) < 0.01)
        self.pen = end

    def _form(self, operands: list[object]) -> Iterator[tuple[str, object]]:
        drawn = self.resources.XObject[str(operands[0])]
        if drawn.get("/Subtype") == "/Form":
            inner = _matrix(drawn.get("/Matrix", SAME))
            within = drawn.get("/Resources", self.resources)
            yield from _content(drawn, within, times(inner, self.matrix), self.marks[-1])


def _matrix(numbers: Iterable[object]) -> Matrix:
    a, b, c, d, e, f = (float(number) for number in numbers)
    return a, b, c, d, e, f
