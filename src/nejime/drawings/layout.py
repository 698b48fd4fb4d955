"""Fits a drawing and its labels onto paper of a given width.

Model: the drawing is made as large as the paper allows and its labels are placed. Where a label
would have to stand on ink, the drawing is made a little smaller and all is tried again; the first
try without ink under a label is taken, else the best.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from nejime.drawings import lettering
from nejime.drawings.labels import (
    NEAR_MM,
    Board,
    Ink,
    Label,
    Placed,
    inked,
    label_marks,
    rows_below,
)
from nejime.drawings.svg import Disc, Lettered, Mark, Path, Picture, Sprig, Text

PAD_MM = 1.5  # [own] white around a drawing
SMALLER = 0.93  # [own] one step of making it smaller
STEPS = 9  # [own] it ends at about half its size
PATIENCE = 2  # [own] after so many steps without improvement it is left
FLATTEST = 0.55  # [own] height over width, at least: room for words above a low piece
SHIFTS = (0.5, 0.15, 0.85)  # [own] shares of the spare width left of the drawing
SPARE_MM = 5.0  # [own] with less spare width it stays in the middle
TALLEST = 1.3  # [own] height over width of the paper, at most
# What is weighed, all in square millimetres of ink under labels:
STEP_COST = 1.2  # [own] one step smaller
CROSSED_COST = 1.2  # [own] a millimetre of ink crossed by a leader
LEADER_COST = 0.12  # [own] a millimetre of leader
UNPLACED_COST = 1000.0  # [own] a label that found no place


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing before its labels are placed: what is painted, and what is to be said where."""

    marks: tuple[Mark, ...]
    labels: tuple[Label, ...] = ()


Box = tuple[float, float, float, float]


def moved(mark: Mark, dx: float, dy: float) -> Mark:
    """The mark somewhere else."""
    if isinstance(mark, Path):
        return replace(mark, points=tuple((x + dx, y + dy) for x, y in mark.points))
    if isinstance(mark, Disc):
        return replace(mark, centre=(mark.centre[0] + dx, mark.centre[1] + dy))
    if isinstance(mark, Lettered):
        return replace(mark, spots=tuple((x + dx, y + dy) for x, y in mark.spots))
    return replace(mark, at=(mark.at[0] + dx, mark.at[1] + dy))


def bounds(marks: Iterable[Mark]) -> Box:
    """Left, top, right and bottom of what is drawn."""
    xs: list[float] = []
    ys: list[float] = []
    for mark in marks:
        if isinstance(mark, Path):
            xs += [x for x, _ in mark.points]
            ys += [y for _, y in mark.points]
        elif isinstance(mark, Disc):
            (x, y), r = mark.centre, mark.radius_mm
            xs += [x - r, x + r]
            ys += [y - r, y + r]
        elif isinstance(mark, Sprig):
            left, top, right, bottom = mark.box
            xs += [left, right]
            ys += [top, bottom]
    return min(xs), min(ys), max(xs), max(ys)


@dataclass(frozen=True, slots=True)
class Sheet:
    """Paper for one drawing. `height_mm` None lets the drawing decide."""

    width_mm: float
    height_mm: float | None = None
    text_pt: float = lettering.LEAST_PT


@dataclass(frozen=True, slots=True)
class _Try:
    size: tuple[float, float]
    figure: Figure
    step: tuple[float, float]
    placed: tuple[Placed, ...]
    left: tuple[Label, ...]
    cost: float


Draw = Callable[[float], Figure]  # a figure at a scale in paper mm per cm, its origin anywhere


@dataclass(frozen=True, slots=True)
class Subject:
    """Something to be drawn, and what is said of it to those who cannot see it."""

    draw: Draw
    title: str
    description: str


def fitted(subject: Subject, sheet: Sheet) -> Picture:
    """The picture of one subject, as large as its labels allow."""
    return fitted_together([subject], sheet)[0]


def fitted_together(subjects: Sequence[Subject], sheet: Sheet) -> tuple[Picture, ...]:
    """Pictures of several subjects at one scale, the largest at which all are well labelled.

    All fill the same frame, so that the first tells how large it can be.
    """
    scale = largest_scale(subjects[0].draw, sheet)
    best: list[_Try] = []
    least, worse = math.inf, 0
    for step in range(STEPS):
        if STEP_COST * step >= least or worse == PATIENCE:
            break
        worse += 1
        figures = [subject.draw(scale * SMALLER**step) for subject in subjects]
        inks = [inked(figure.marks) for figure in figures]
        for shift in SHIFTS if _spare_mm(figures[0], sheet) > SPARE_MM else SHIFTS[:1]:
            tries = [
                _tried(figure, ink, sheet, shift) for figure, ink in zip(figures, inks, strict=True)
            ]
            cost = sum(tried.cost for tried in tries) / len(tries) + STEP_COST * step
            if cost < least:
                best, least, worse = tries, cost, 0
    return tuple(
        _finished(tried, subject.title, subject.description)
        for tried, subject in zip(best, subjects, strict=True)
    )


def _room(figure: Figure) -> Box:
    """What a figure covers, with the places beside dimension lines where their numbers belong."""
    left, top, right, bottom = bounds(figure.marks)
    for label in figure.labels:
        if label.leads or label.wish is None:
            continue
        (x, y), (along, down) = label.anchor, label.wish
        wide, high = label.width_mm, label.height_mm
        left = min(left, x - wide / 2 - 0.4 if not along else x + min(along, 0) * (wide + NEAR_MM))
        right = max(
            right, x + wide / 2 + 0.4 if not along else x + max(along, 0) * (wide + NEAR_MM)
        )
        bottom = max(bottom, y + max(down, 0) * (high + NEAR_MM))
        top = min(top, y + min(down, 0) * (high + NEAR_MM))
    return left, top, right, bottom


def largest_scale(draw: Draw, sheet: Sheet) -> float:
    """The scale at which a figure just fills the paper."""
    tallest = sheet.height_mm or TALLEST * sheet.width_mm
    scale = 1.0
    for _ in range(3):  # heads and lines have least sizes on paper: not quite proportional
        left, top, right, bottom = _room(draw(scale))
        over = max(
            (right - left) / (sheet.width_mm - 2 * PAD_MM),
            (bottom - top) / (tallest - 2 * PAD_MM),
        )
        scale /= over
    return scale


def _spare_mm(figure: Figure, sheet: Sheet) -> float:
    left, _, right, _ = _room(figure)
    return sheet.width_mm - 2 * PAD_MM - (right - left)


def _tried(figure: Figure, ink: Ink, sheet: Sheet, shift: float) -> _Try:
    left, top, _, bottom = _room(figure)
    line = lettering.height_mm(1, sheet.text_pt)
    height = sheet.height_mm or max(bottom - top + 2 * PAD_MM + line, FLATTEST * sheet.width_mm)
    dx = PAD_MM - left + shift * _spare_mm(figure, sheet)
    dy = height - PAD_MM - bottom if sheet.height_mm is None else (height - bottom - top) / 2
    labels = [_moved_label(label, dx, dy) for label in figure.labels]
    board = Board(sheet.width_mm, height)
    board.ink_up(ink, dx, dy)
    unplaced = tuple(label for label in labels if board.place(label) is None)
    cost = (
        board.on_ink_mm2
        + CROSSED_COST * board.crossed_mm
        + LEADER_COST * board.leader_mm
        + UNPLACED_COST * len(unplaced)
    )
    return _Try((sheet.width_mm, height), figure, (dx, dy), tuple(board.placed), unplaced, cost)


def _moved_label(label: Label, dx: float, dy: float) -> Label:
    (x, y), also = label.anchor, label.also
    return replace(
        label, anchor=(x + dx, y + dy), also=tuple((ax + dx, ay + dy) for ax, ay in also)
    )


def _finished(tried: _Try, title: str, description: str) -> Picture:
    """The picture, grown by rows below for labels that found no place."""
    wide, high = tried.size
    below, more = rows_below(tried.left, wide, high) if tried.left else ((), 0.0)
    # A label in the rows below stands alone, without a leader.
    alone = [Placed(replace(each.label, leads=False), each.x_mm, each.y_mm) for each in below]
    words = [mark for each in (*tried.placed, *alone) for mark in label_marks(each)]
    marks = tuple(moved(mark, *tried.step) for mark in tried.figure.marks)
    return Picture(wide, high + more, (*marks, *words), title, description)


def text_boxes(marks: Iterable[Mark]) -> list[Box]:
    """Box of every line of lettering in a picture, from its own size and alignment."""
    found = []
    for mark in marks:
        if isinstance(mark, Text) and not mark.turned_deg:
            wide = lettering.width_mm(mark.says, mark.size_pt, bold=mark.bold)
            size = mark.size_pt * lettering.MM_PER_PT
            x, y = mark.at
            start = x - {"start": 0.0, "middle": wide / 2, "end": wide}[mark.align]
            found.append((start, y - 0.76 * size, start + wide, y + 0.24 * size))
    return found
