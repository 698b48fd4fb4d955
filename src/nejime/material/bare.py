"""Bare wood: cross-bars, splints and foot pieces, cut from sticks as few or as cheap as can be.

A bare piece has no end of its own to keep, so here, and here alone, a stick gives as many pieces as
fit: the classical problem of cutting stock.
Sets: sticks i of one length and price each; patterns p, the ways to cut one stick.
Variables: how many sticks are cut in a pattern, x[p], whole; pieces missing of each length.
Constraints: of each length as many pieces as are wanted, or they are missing; no more sticks of a
kind than there are.
Objective: fewest pieces missing, then least money.
Method: all patterns to which nothing can be added, while they are few; else patterns are made as
they are wanted, by the prices that the relaxed problem puts on each length (a knapsack), and the
whole-number problem is solved over those. It is called best only where the relaxed problem, rounded
up, proves it.
Shapes: lengths are whole millimetres. What a cut costs is added to every piece, once.
Source: Gilmore and Gomory (1961, 1963).
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from nejime.material.solving import Model, Solution, solve

MOST_PATTERNS = 20_000  # [own] more are not written out
WITHIN = 1e-6  # [own] a relaxed objective is rounded up beyond this

Pattern = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Stick:
    """Sticks of one length: what one costs, and how many there are, None for as many as wanted."""

    length_mm: int
    price: int = 1
    most: int | None = None


@dataclass(frozen=True, slots=True)
class CutStick:
    """`count` sticks cut alike: so many pieces of each length wanted; `rest_mm` is left of each."""

    stick: Stick
    pieces: Pattern
    count: int
    rest_mm: int


@dataclass(frozen=True, slots=True)
class BarePlan:
    """How sticks are cut. `missing` counts pieces of each length wanted that cannot be had.

    `proven`: no plan misses fewer, and none that misses as few costs less. `relaxed`: what it would
    cost if sticks could be bought in parts.
    """

    cuts: tuple[CutStick, ...]
    price: int
    proven: bool
    relaxed: float
    missing: Pattern

    @property
    def sticks(self) -> int:
        """How many sticks are cut."""
        return sum(cut.count for cut in self.cuts)


def patterns(stick_mm: int, pieces_mm: Sequence[int], wanted: Sequence[int]) -> Iterator[Pattern]:
    """The ways to cut a stick to which no piece that is wanted can be added."""
    order = sorted(range(len(pieces_mm)), key=lambda piece: -pieces_mm[piece])
    counts = [0] * len(pieces_mm)

    def cut(place: int, left_mm: int) -> Iterator[Pattern]:
        if place == len(order):
            if all(counts[piece] == wanted[piece] or pieces_mm[piece] > left_mm for piece in order):
                yield tuple(counts)
            return
        piece = order[place]
        for count in range(min(wanted[piece], left_mm // pieces_mm[piece]), -1, -1):
            counts[piece] = count
            yield from cut(place + 1, left_mm - count * pieces_mm[piece])
        counts[piece] = 0

    return cut(0, stick_mm)


def bare_plan(
    pieces_mm: Sequence[int],
    wanted: Sequence[int],
    sticks: Sequence[Stick],
    cut_mm: int = 0,
    most_s: float = math.inf,
) -> BarePlan:
    """How to cut so many pieces of each length from sticks, for the least money.

    After `most_s` seconds the best plan so far is taken; where there is none yet, nothing is cut.
    """
    long_mm = [piece + cut_mm for piece in pieces_mm]
    every = _written_out(long_mm, wanted, sticks)
    columns = _as_wanted(long_mm, wanted, sticks) if every is None else every
    loose, _ = _solved(columns, wanted, sticks, whole=False)
    sure = math.ceil(loose.objective - WITHIN)
    relaxed = sum(
        sticks[at].price * part for (at, _), part in zip(columns, loose.values, strict=False)
    )
    begin = _rounded(columns, loose, long_mm, wanted, sticks)
    columns = list(dict.fromkeys((*columns, *begin)))
    start = [begin.get(column, 0) for column in columns] if begin else None
    solved, _ = _solved(columns, wanted, sticks, enough=float(sure), most_s=most_s, start=start)
    nothing = (*(0 for _ in columns), *wanted)
    values = [round(each) for each in solved.values or nothing]
    missing = tuple(values[len(columns) :])
    found = [
        CutStick(sticks[at], pattern, number, sticks[at].length_mm - _used(pattern, long_mm))
        for (at, pattern), number in zip(columns, values, strict=False)
        if number
    ]
    price = sum(cut.count * cut.stick.price for cut in found)
    solved_out = every is not None and solved.state == "best"
    reached = price + _missing_price(wanted, sticks) * sum(missing) <= sure
    return BarePlan(tuple(found), price, solved_out or reached, relaxed, missing)


def _missing_price(wanted: Sequence[int], sticks: Sequence[Stick]) -> int:
    """More than all the sticks that a plan can use: it never cuts more than one for each piece."""
    return 1 + sum(wanted) * max((stick.price for stick in sticks), default=0)


def _used(pattern: Pattern, pieces_mm: Sequence[int]) -> int:
    return sum(count * length for count, length in zip(pattern, pieces_mm, strict=True))


Column = tuple[int, Pattern]


def _written_out(
    pieces_mm: Sequence[int], wanted: Sequence[int], sticks: Sequence[Stick]
) -> list[Column] | None:
    """Every pattern of every stick; None where they are too many."""
    found: list[Column] = []
    for at, stick in enumerate(sticks):
        for pattern in patterns(stick.length_mm, pieces_mm, wanted):
            if any(pattern):
                found.append((at, pattern))
            if len(found) > MOST_PATTERNS:
                return None
    return found


def _solved(
    columns: Sequence[Column],
    wanted: Sequence[int],
    sticks: Sequence[Stick],
    *,
    whole: bool = True,
    enough: float = -math.inf,
    most_s: float = math.inf,
    start: Sequence[int] | None = None,
) -> tuple[Solution, list[int]]:
    """The best numbers of sticks cut in these patterns, and the pieces missing after them."""
    model = Model()
    numbers = [model.column(whole=whole) for _ in columns]
    missing = [model.column(high=count, whole=False) for count in wanted]
    for piece, count in enumerate(wanted):
        weights: dict[int, float] = {missing[piece]: 1.0}
        for number, (_, pattern) in zip(numbers, columns, strict=True):
            if pattern[piece]:
                weights[number] = float(pattern[piece])
        model.row(weights, low=count)
    for at, stick in enumerate(sticks):
        if stick.most is not None:
            own = [number for number, (of, _) in zip(numbers, columns, strict=True) if of == at]
            model.row(dict.fromkeys(own, 1.0), high=stick.most)
    costs = {n: float(sticks[at].price) for n, (at, _) in zip(numbers, columns, strict=True)}
    costs |= dict.fromkeys(missing, float(_missing_price(wanted, sticks)))
    begin = dict(enumerate(map(float, (*start, *(0 for _ in missing))))) if start else None
    solved = solve(model, costs, steps=1.0, enough=enough, most_s=most_s, start=begin)
    return solved, numbers


def _rounded(
    columns: Sequence[Column],
    loose: Solution,
    pieces_mm: Sequence[int],
    wanted: Sequence[int],
    sticks: Sequence[Stick],
) -> Counter[Column]:
    """A plan to begin from: the relaxed one rounded down, and the rest into the first stick that
    has room, the longest piece first. Empty where sticks are limited or too short."""
    longest = max(range(len(sticks)), key=lambda at: sticks[at].length_mm, default=None)
    if longest is None or any(stick.most is not None for stick in sticks):
        return Counter()
    stick_mm = sticks[longest].length_mm
    if max(pieces_mm, default=0) > stick_mm:
        return Counter()
    found: Counter[Column] = Counter()
    left = list(wanted)
    for column, value in zip(columns, loose.values, strict=False):
        number = math.floor(value + WITHIN)
        if number:
            found[column] = number
            left = [max(0, a - number * b) for a, b in zip(left, column[1], strict=True)]
    rest: list[tuple[int, list[int]]] = []
    for piece in sorted(range(len(left)), key=lambda each: -pieces_mm[each]):
        for _ in range(left[piece]):
            at = next((n for n, (room, _) in enumerate(rest) if room >= pieces_mm[piece]), None)
            if at is None:
                at = len(rest)
                rest.append((stick_mm, [0] * len(left)))
            room, counts = rest[at]
            counts[piece] += 1
            rest[at] = (room - pieces_mm[piece], counts)
    found.update((longest, tuple(counts)) for _, counts in rest)
    return found


def _as_wanted(
    pieces_mm: Sequence[int], wanted: Sequence[int], sticks: Sequence[Stick]
) -> list[Column]:
    """Patterns made as they are wanted, until no other would make the relaxed problem cheaper."""
    columns: dict[Column, None] = {}
    for at, stick in enumerate(sticks):
        for piece, length in enumerate(pieces_mm):
            if length <= stick.length_mm:
                count = min(wanted[piece], stick.length_mm // length)
                columns[at, tuple(count if p == piece else 0 for p in range(len(wanted)))] = None
    while True:
        solved, _ = _solved(list(columns), wanted, sticks, whole=False)
        before = len(columns)
        for at, stick in enumerate(sticks):
            limit = 0.0
            if stick.most is not None:
                rows = [n for n, each in enumerate(sticks) if each.most is not None]
                limit = solved.prices[len(wanted) + rows.index(at)]
            worth, pattern = _knapsack(
                stick.length_mm, pieces_mm, wanted, solved.prices[: len(wanted)]
            )
            if worth + limit > stick.price + WITHIN:
                columns[at, pattern] = None
        if len(columns) == before:
            return list(columns)


def _knapsack(
    stick_mm: int, pieces_mm: Sequence[int], wanted: Sequence[int], prices: Sequence[float]
) -> tuple[float, Pattern]:
    """The pattern that is worth most, and what it is worth."""
    worth = np.zeros(stick_mm + 1)
    taken: list[tuple[int, int, np.ndarray[tuple[int], np.dtype[np.bool_]]]] = []
    for piece, (length, count, price) in enumerate(zip(pieces_mm, wanted, prices, strict=True)):
        left, step = min(count, stick_mm // length), 1
        while left > 0 and price > 0:
            some = min(step, left)
            left, step = left - some, step * 2
            longer = some * length
            if longer > stick_mm:
                break
            better = worth[:-longer] + some * price
            here = np.zeros(stick_mm + 1, dtype=bool)
            here[longer:] = better > worth[longer:] + WITHIN**2
            worth[longer:] = np.where(here[longer:], better, worth[longer:])
            taken.append((piece, some, here))
    counts, left = [0] * len(pieces_mm), stick_mm
    for piece, some, here in reversed(taken):
        if here[left]:
            counts[piece] += some
            left -= some * pieces_mm[piece]
    return float(worth[stick_mm]), tuple(counts)
