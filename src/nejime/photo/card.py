"""The marker card: four square markers in the corners of a small sheet, so that a picture can be
measured better.

Model: an A5 sheet on its side. A marker is a black square of six by six cells whose outermost are
black; the four by four inside tell which it is.
Frame: the card's own, in centimetres: its middle is the origin, x goes to the right as it is
read, y up the page.
Source: open dictionary of four by four cells, numbers 0 to 3 [bradski2000]; ISO 216 for A5.
"""

from __future__ import annotations

from collections.abc import Mapping

CARD_MM = (210.0, 148.0)
SIDE_MM = 40.0  # [own] found down to a seventh of its size, and leaves room for words
CELLS = 6
TOP_LEFT_MM: Mapping[int, tuple[float, float]] = {
    0: (12.0, 12.0),
    1: (158.0, 12.0),
    2: (158.0, 96.0),
    3: (12.0, 96.0),
}
"""Where each marker's own top left corner is, from the card's top left corner, y down."""

PATTERNS: Mapping[int, tuple[str, str, str, str]] = {  # [bradski2000] 1 is white
    0: ("1011", "0101", "0011", "0010"),
    1: ("0000", "1111", "1001", "1010"),
    2: ("0011", "0011", "0010", "1101"),
    3: ("1001", "1001", "0100", "0110"),
}

Spot = tuple[float, float]
Corners = tuple[Spot, Spot, Spot, Spot]


def corner_points_cm(marker: int) -> Corners:
    """A marker's corners: top left, top right, bottom right, bottom left. Raises `KeyError`."""
    left, top = TOP_LEFT_MM[marker]
    right, low = left + SIDE_MM, top + SIDE_MM
    return _own(left, top), _own(right, top), _own(right, low), _own(left, low)


def _own(x_mm: float, y_mm: float) -> Spot:
    """A point from the card's top left corner in its own frame."""
    return (x_mm - CARD_MM[0] / 2.0) / 10.0, (CARD_MM[1] / 2.0 - y_mm) / 10.0


def rows_of(marker: int) -> tuple[str, ...]:
    """A marker's rows from the top, 0 a dark cell, 1 a light one. Raises `KeyError`."""
    edge = "0" * CELLS
    return edge, *(f"0{inside}0" for inside in PATTERNS[marker]), edge
