"""Reads back what a drawing says: its size, its lettering as boxes, its lines."""

from __future__ import annotations

from typing import NamedTuple
from xml.etree import ElementTree

from nejime.drawings import lettering

SVG = "{http://www.w3.org/2000/svg}"


class Box(NamedTuple):
    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: Box) -> bool:
        return (
            self.left < other.right - 1e-6
            and other.left < self.right - 1e-6
            and self.top < other.bottom - 1e-6
            and other.top < self.bottom - 1e-6
        )


def tree(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def size(svg: str) -> tuple[float, float]:
    _, _, wide, high = map(float, tree(svg).attrib["viewBox"].split())
    return wide, high


def lines(svg: str) -> list[tuple[str, Box]]:
    """Every line of lettering with its box: from the height of capitals to the baseline and under.

    Ascenders reach 0.76 of the size above the baseline, descenders 0.22 below it.
    """
    found = []
    for text in tree(svg).iter(f"{SVG}text"):
        mm = float(text.attrib["font-size"])
        bold = text.attrib.get("font-weight") == "700"
        wide = lettering.width_mm(text.text or "", mm / lettering.MM_PER_PT, bold=bold)
        x, y = float(text.attrib["x"]), float(text.attrib["y"])
        anchor = text.attrib.get("text-anchor", "start")
        left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
        found.append((text.text or "", Box(left, y - 0.76 * mm, left + wide, y + 0.22 * mm)))
    return found


def clashes(svg: str) -> list[str]:
    """What is wrong with the lettering: lines on each other, lines out of the picture."""
    wide, high = size(svg)
    every = lines(svg)
    wrong = [
        f"{one!r} lies on {other!r}"
        for index, (one, box) in enumerate(every)
        for other, against in every[index + 1 :]
        if box.overlaps(against)
    ]
    for text, box in every:
        if box.left < 0 or box.top < 0 or box.right > wide or box.bottom > high:
            wrong.append(f"{text!r} runs out of the picture")
    return wrong
