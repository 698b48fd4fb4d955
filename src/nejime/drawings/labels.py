"""Where the words of a drawing go: never on each other, never out of the picture.

Model: every label is a box. Labels are placed one after the other; each takes, of all places on a
grid, the one that costs least: near its anchor, not on ink, with a leader that crosses nothing. A
place that touches another label is no place. A label for which there is none goes into rows below
the drawing, which grows by their height; so there is always an answer.
Shapes: the grid is (rows, columns) of cells of `CELL_MM`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from nejime.drawings import lettering
from nejime.drawings.coverage import points_along
from nejime.drawings.svg import HAIR_MM, INK, PAPER, Disc, Mark, Path, Spot, Sprig, Text

CELL_MM = 0.5  # [own] finer than any gap that is looked at
EDGE_MM = 0.6  # [own] kept free along the paper's edge
GAP_MM = 0.7  # [own] kept free around a label
NEAR_MM = 1.0  # [own] the distance that a label likes best from its anchor
LEADER_MM = 2.6  # [own] farther than this, a fine line leads to the anchor
INK_COST = 6.0  # [own] a square millimetre of ink under a label weighs as much as 6 mm of way
CROSSING_COST = 2.5  # [own] ink crossed by a leader, a millimetre of it
OVER_LABEL_COST = 400.0  # [own] a leader across another label: only if nothing else is left
FAR_COST = 8.0  # [own] a millimetre away from its line, for a label without a leader
MIDDLE_COST = 0.12  # [own] a millimetre from the label's middle to its anchor
WISH_COST = 4.0  # [own] standing to the side of where it would like to be; twice that opposite
LEADER_STEPS = 14  # [own] samples along a leader
LIKELY = 400  # [own] places for which leaders are looked at


@dataclass(frozen=True, slots=True)
class Label:
    """Words that belong to a place on the drawing.

    `wish` is the direction (x right, y down) in which it would like to stand, or None. `leads`
    says whether a leader may be drawn. The first `bold` lines are bold. `also` are other anchors
    that would do as well.
    """

    lines: tuple[str, ...]
    anchor: Spot
    size_pt: float = lettering.LEAST_PT
    bold: int = 0
    wish: Spot | None = None
    leads: bool = True
    colour: str = INK
    also: tuple[Spot, ...] = ()

    @property
    def width_mm(self) -> float:
        """Width of its box."""
        return max(
            lettering.width_mm(line, self.size_pt, bold=index < self.bold)
            for index, line in enumerate(self.lines)
        )

    @property
    def height_mm(self) -> float:
        """Height of its box."""
        return lettering.height_mm(len(self.lines), self.size_pt)


@dataclass(frozen=True, slots=True)
class Placed:
    """A label in its place; `x_mm`, `y_mm` is the upper left corner of its box."""

    label: Label
    x_mm: float
    y_mm: float

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom."""
        return (
            self.x_mm,
            self.y_mm,
            self.x_mm + self.label.width_mm,
            self.y_mm + self.label.height_mm,
        )


def narrowed(label: Label, most_mm: float) -> Label:
    """The label with lines broken between words, so that it is no wider than the paper."""
    if label.width_mm <= most_mm:
        return label
    lines: list[str] = []
    bold = 0
    for index, line in enumerate(label.lines):
        parts = lettering.wrapped(line, label.size_pt, most_mm, bold=index < label.bold)
        lines += parts
        bold += len(parts) if index < label.bold else 0
    return replace(label, lines=tuple(lines), bold=bold)


class Boxes(NamedTuple):
    """Boxes of one size at many places: their left upper corners, arrays of one shape."""

    x: NDArray[np.float64]
    y: NDArray[np.float64]
    wide: float
    high: float


class Ink(NamedTuple):
    """The ink of a drawing: points along its lines (n, 2), and areas that count as a whole."""

    lines: NDArray[np.float64]
    areas: tuple[NDArray[np.float64], ...]


def inked(marks: Iterable[Mark]) -> Ink:
    """Where a drawing has ink."""
    starts: list[Spot] = []
    stops: list[Spot] = []
    areas: list[NDArray[np.float64]] = []
    grown: list[NDArray[np.float64]] = []
    for mark in marks:
        if isinstance(mark, Path):
            points = mark.points
            starts += points if mark.closed else points[:-1]
            stops += [*points[1:], points[0]] if mark.closed else points[1:]
            if mark.closed and mark.fill is not None and _broad(points):
                areas.append(np.asarray(points, dtype=float))
        elif isinstance(mark, Disc):
            ring = _around(mark)
            starts += ring
            stops += [*ring[1:], ring[0]]
        elif isinstance(mark, Sprig):
            grown.append(mark.seen(mark.growth.covered))
    lines = [points_along(starts, stops, CELL_MM)] if starts else [np.zeros((0, 2))]
    return Ink(np.concatenate([*lines, *grown]), tuple(areas))


class Board:
    """The paper while labels are placed: where there is ink, and where labels already are."""

    def __init__(self, width_mm: float, height_mm: float) -> None:
        self.width_mm, self.height_mm = width_mm, height_mm
        shape = (math.ceil(height_mm / CELL_MM) + 1, math.ceil(width_mm / CELL_MM) + 1)
        self.ink: NDArray[np.float64] = np.zeros(shape)
        self.taken: NDArray[np.float64] = np.zeros(shape)
        self._ink_sums: NDArray[np.float64] | None = None
        self._taken_sums: NDArray[np.float64] | None = None
        self.placed: list[Placed] = []
        self.on_ink_mm2 = 0.0
        self.leader_mm = 0.0
        self.crossed_mm = 0.0

    def ink_marks(self, marks: Iterable[Mark]) -> None:
        """Everything that is drawn counts as ink; areas with a tone or white count as a whole."""
        self.ink_up(inked(marks))

    def ink_up(self, ink: Ink, dx: float = 0.0, dy: float = 0.0) -> None:
        """The ink of a drawing, moved."""
        step = np.array((dx, dy))
        for corners in ink.areas:
            self._fill(corners + step)
        if len(ink.lines):
            rows, columns = self._cells(ink.lines + step)
            self.ink[rows, columns] = 1.0
        self._ink_sums = None

    def ink_line(self, points: Sequence[Spot]) -> None:
        """A line that labels should keep clear of."""
        rows, columns = self._cells(points_along(points[:-1], points[1:], CELL_MM))
        self.ink[rows, columns] = 1.0
        self._ink_sums = None

    def _cells(self, spots: NDArray[np.float64]) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        columns = np.floor(spots[:, 0] / CELL_MM).astype(np.intp)
        rows = np.floor(spots[:, 1] / CELL_MM).astype(np.intp)
        high, wide = self.ink.shape
        inside = (rows >= 0) & (rows < high) & (columns >= 0) & (columns < wide)
        return rows[inside], columns[inside]

    def _fill(self, corners: NDArray[np.float64]) -> None:
        """Ink in every cell whose middle lies in the polygon (even-odd rule, row by row)."""
        nexts = np.roll(corners, -1, axis=0)
        high, wide = self.ink.shape
        low = max(0, int(corners[:, 1].min() / CELL_MM))
        for row in range(low, min(high, int(corners[:, 1].max() / CELL_MM) + 1)):
            y = (row + 0.5) * CELL_MM
            crossing = (corners[:, 1] <= y) != (nexts[:, 1] <= y)
            if not crossing.any():
                continue
            a, b = corners[crossing], nexts[crossing]
            xs = np.sort(a[:, 0] + (y - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0]))
            for start, stop in zip(xs[::2], xs[1::2], strict=False):
                left = max(0, round(start / CELL_MM))
                self.ink[row, left : max(left, min(wide, round(stop / CELL_MM)))] = 1.0

    def reserve(self, box: tuple[float, float, float, float]) -> None:
        """A box in which no label may stand."""
        left, top, right, bottom = box
        self.taken[
            max(0, math.floor(top / CELL_MM)) : math.ceil(bottom / CELL_MM) + 1,
            max(0, math.floor(left / CELL_MM)) : math.ceil(right / CELL_MM) + 1,
        ] = 1.0
        self._taken_sums = None

    def _ink_in(self, boxes: Boxes) -> NDArray[np.float64]:
        """Ink in each box. The table of sums is kept until something is drawn."""
        if self._ink_sums is None:
            self._ink_sums = _sums(self.ink)
        return _box_sums(self._ink_sums, boxes)

    def _taken_in(self, boxes: Boxes) -> NDArray[np.float64]:
        if self._taken_sums is None:
            self._taken_sums = _sums(self.taken)
        return _box_sums(self._taken_sums, boxes)

    def place(self, label: Label) -> Placed | None:
        """Put a label where it costs least; None where no place is free."""
        label = narrowed(label, self.width_mm - 2 * EDGE_MM)
        found = [
            best
            for anchor in (label.anchor, *label.also)
            if (best := self._best(replace(label, anchor=anchor, also=())))
        ]
        if not found:
            return None
        _, ink_mm2, placed = min(found, key=lambda best: best[0])
        left, top, right, bottom = placed.box
        self.reserve((left - GAP_MM, top - GAP_MM, right + GAP_MM, bottom + GAP_MM))
        leader = leader_of(placed)
        if leader:
            self.leader_mm += math.dist(*leader)
            self.crossed_mm += self._crossed_mm(leader)
            self.ink_line(leader)
        self.placed.append(placed)
        self.on_ink_mm2 += ink_mm2
        return placed

    def _crossed_mm(self, leader: tuple[Spot, Spot]) -> float:
        """How much ink a leader crosses, its first millimetre left out."""
        rows, columns = self._cells(
            points_along(leader[:1], leader[1:], CELL_MM)[int(1.0 / CELL_MM) :]
        )
        return float(self.ink[rows, columns].sum()) * CELL_MM

    def free_place(self, wide: float, high: float, near: Spot) -> Spot | None:
        """The upper left corner of a box without ink or label, nearest to a point; or None."""
        columns = np.arange(EDGE_MM, self.width_mm - EDGE_MM - wide + 1e-9, 2 * CELL_MM)
        rows = np.arange(EDGE_MM, self.height_mm - EDGE_MM - high + 1e-9, 2 * CELL_MM)
        if not len(columns) or not len(rows):
            return None
        x, y = np.meshgrid(columns, rows)
        boxes = Boxes(x, y, wide, high)
        full = self._ink_in(boxes) + self._taken_in(boxes)
        way = np.hypot(x + wide / 2 - near[0], y + high / 2 - near[1])
        way[full > 0] = math.inf
        best = int(np.argmin(way))
        if not math.isfinite(way.flat[best]):
            return None
        return float(x.flat[best]), float(y.flat[best])

    def _best(self, label: Label) -> tuple[float, float, Placed] | None:
        """What the best place costs, the ink under it, and the label there."""
        wide, high = label.width_mm, label.height_mm
        columns = np.arange(EDGE_MM, self.width_mm - EDGE_MM - wide + 1e-9, 2 * CELL_MM)
        rows = np.arange(EDGE_MM, self.height_mm - EDGE_MM - high + 1e-9, 2 * CELL_MM)
        if not len(columns) or not len(rows):
            return None
        x, y = (axis.ravel() for axis in np.meshgrid(columns, rows))
        boxes = Boxes(x, y, wide, high)
        taken = self._taken_in(boxes)
        ink = self._ink_in(boxes) * CELL_MM**2
        cost = _place_cost(label, x, y) + INK_COST * ink
        cost[taken > 0] = math.inf
        # A leader only ever adds to the cost, and is looked at for the likeliest places.
        likely = np.argsort(cost, kind="stable")[:LIKELY]
        whole = cost[likely] + self._leader_cost(label, x[likely], y[likely])
        rank = int(np.argmin(whole))
        if not math.isfinite(whole[rank]):
            return None
        best = likely[rank]
        return float(whole[rank]), float(ink[best]), Placed(label, float(x[best]), float(y[best]))

    def _leader_cost(
        self, label: Label, x: NDArray[np.float64], y: NDArray[np.float64]
    ) -> NDArray[np.float64]:
        """What leaders to boxes at these corners cross: ink, and other labels."""
        ax, ay = label.anchor
        near_x = np.clip(ax, x, x + label.width_mm)
        near_y = np.clip(ay, y, y + label.height_mm)
        way = np.hypot(near_x - ax, near_y - ay)
        share = np.arange(1, LEADER_STEPS)[:, None] / LEADER_STEPS
        row = np.clip((ay + share * (near_y - ay)) / CELL_MM, 0, self.ink.shape[0] - 1)
        col = np.clip((ax + share * (near_x - ax)) / CELL_MM, 0, self.ink.shape[1] - 1)
        cells = row.astype(np.intp), col.astype(np.intp)
        # The first stretch of a leader lies on the thing itself.
        crossed = CROSSING_COST * way * self.ink[cells] * (way * share > 1.0)
        covered = OVER_LABEL_COST * self.taken[cells] * (way > LEADER_MM)
        cost: NDArray[np.float64] = (crossed + covered).sum(axis=0) / LEADER_STEPS
        return cost


def _place_cost(
    label: Label, x: NDArray[np.float64], y: NDArray[np.float64]
) -> NDArray[np.float64]:
    """How well boxes with these upper left corners lie to the label's anchor."""
    ax, ay = label.anchor
    wide, high = label.width_mm, label.height_mm
    way = np.hypot(np.clip(ax, x, x + wide) - ax, np.clip(ay, y, y + high) - ay)
    off_x, off_y = x + wide / 2 - ax, y + high / 2 - ay
    from_middle = np.hypot(off_x, off_y)
    cost: NDArray[np.float64] = np.abs(way - NEAR_MM) + MIDDLE_COST * from_middle
    if not label.leads:
        # A number without a leader is lost away from its line.
        cost += FAR_COST * np.maximum(0.0, way - LEADER_MM)
    if label.wish is not None:
        size = math.hypot(*label.wish) or 1.0
        along = (off_x * label.wish[0] + off_y * label.wish[1]) / size
        cost += WISH_COST * (1.0 - along / np.maximum(from_middle, 0.5))
    return cost


def _broad(points: Sequence[Spot]) -> bool:
    """Whether an area has an inside that its outline does not already cover."""
    twice, around = 0.0, 0.0
    for (x, y), (x2, y2) in zip(points, (*points[1:], points[0]), strict=True):
        twice += x * y2 - x2 * y
        around += math.hypot(x2 - x, y2 - y)
    return abs(twice) / 2 > CELL_MM * around


def _around(disc: Disc) -> list[Spot]:
    (x, y), r = disc.centre, disc.radius_mm
    count = max(6, int(r * 6))
    angles = [2 * math.pi * step / count for step in range(count)]
    return [(x + r * math.cos(angle), y + r * math.sin(angle)) for angle in angles]


def _sums(grid: NDArray[np.float64]) -> NDArray[np.float64]:
    """The table of sums of a grid, with a row and a column of zeros before it."""
    sums = np.zeros((grid.shape[0] + 1, grid.shape[1] + 1))
    sums[1:, 1:] = grid.cumsum(axis=0).cumsum(axis=1)
    return sums


def _box_sums(sums: NDArray[np.float64], boxes: Boxes) -> NDArray[np.float64]:
    """How much of a grid lies in each box, from its table of sums."""
    last_row, last_column = sums.shape[0] - 1, sums.shape[1] - 1
    left = np.floor(boxes.x / CELL_MM).astype(np.intp)
    top = np.floor(boxes.y / CELL_MM).astype(np.intp)
    right = np.minimum(np.ceil((boxes.x + boxes.wide) / CELL_MM).astype(np.intp) + 1, last_column)
    bottom = np.minimum(np.ceil((boxes.y + boxes.high) / CELL_MM).astype(np.intp) + 1, last_row)
    found: NDArray[np.float64] = (
        sums[bottom, right] - sums[top, right] - sums[bottom, left] + sums[top, left]
    )
    return found


def leader_of(placed: Placed) -> tuple[Spot, Spot] | None:
    """The fine line from a label to its anchor; None where the label stands close by."""
    if not placed.label.leads:
        return None
    ax, ay = placed.label.anchor
    left, top, right, bottom = placed.box
    near = (min(max(ax, left), right), min(max(ay, top + 0.6), bottom - 0.6))
    way = math.dist(near, (ax, ay))
    if way < LEADER_MM:
        return None
    gap = 0.6 / way
    start = (ax + gap * (near[0] - ax), ay + gap * (near[1] - ay))
    stop = (near[0] + gap * (ax - near[0]), near[1] + gap * (ay - near[1]))
    return start, stop


def label_marks(placed: Placed) -> tuple[Mark, ...]:
    """The lettering of a label with white behind it, and its leader."""
    label = placed.label
    left, top, right, bottom = placed.box
    marks: list[Mark] = []
    leader = leader_of(placed)
    if leader:
        marks.append(Path(leader, stroke=label.colour, width_mm=HAIR_MM))
    trim = 0.16 * label.size_pt * lettering.MM_PER_PT
    corners = ((left, top + trim), (right, top + trim), (right, bottom - trim / 2))
    marks.append(Path((*corners, (left, bottom - trim / 2)), closed=True, fill=PAPER, stroke=None))
    to_anchor = label.anchor[0]
    align, x = "start", left
    if to_anchor > right:
        align, x = "end", right
    elif left + 1.0 < to_anchor < right - 1.0:
        align, x = "middle", (left + right) / 2
    size = label.size_pt * lettering.MM_PER_PT
    for number, line in enumerate(label.lines):
        baseline = top + (number * lettering.LINE_EM + lettering.RISE_EM + 0.1) * size
        marks.append(
            Text(
                (x, baseline),
                line,
                label.size_pt,
                align,
                bold=number < label.bold,
                colour=label.colour,
            )
        )
    return tuple(marks)


def rows_below(
    labels: Sequence[Label], width_mm: float, top_mm: float
) -> tuple[tuple[Placed, ...], float]:
    """Labels in rows under a drawing, and the height that they need."""
    placed: list[Placed] = []
    x, y, row = EDGE_MM, top_mm + GAP_MM, 0.0
    for each in labels:
        label = narrowed(each, width_mm - 2 * EDGE_MM)
        if x > EDGE_MM and x + label.width_mm > width_mm - EDGE_MM:
            x, y, row = EDGE_MM, y + row + GAP_MM, 0.0
        placed.append(Placed(label, x, y))
        x += label.width_mm + 3 * GAP_MM
        row = max(row, label.height_mm)
    return tuple(placed), y + row + GAP_MM - top_mm
