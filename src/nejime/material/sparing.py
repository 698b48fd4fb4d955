"""How many spares a kind of stem needs, and at which lengths.

Model: every stem, a spare too, fails on its own with the same chance: it breaks, does not drink or
opens badly. Everybody is complete when what is sound can be cut to what is wanted. A longer stem
can be cut down for a shorter want and never the other way, so with classes of length from the
longest to the shortest this holds when, for every class, the sound stems of it and of all longer
ones are as many as are wanted there: the failures so far never outnumber the spares so far.
Two things follow. All spares at the longest length are the surest, and fail together: so the fewest
that suffice are those for all stems pooled (`enough`). And a spare moved to a shorter class never
raises the chance: so the fewest spares that must be the longest, then the next, are found by
halving.
Left out: failures that come together (one bad bunch, a hot car). Those are met by buying the same
kind in two shops, not by spares.
Shapes: counts are whole; `fails` and `sure` are shares from 0 up to, but not, 1.
Source: binomial distribution; the sum over prefixes is exact.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from itertools import count

import numpy as np
from numpy.typing import NDArray

Chances = NDArray[np.float64]

ROUNDING = 1e-12  # [own] one stem of which 5 % fail is 95 % sure, however the sum is rounded


def chance(stems: int, wanted: int, fails: float) -> float:
    """The chance that at least `wanted` of `stems` are sound."""
    if stems < wanted:
        return 0.0
    return min(1.0, float(_failing(stems, fails, stems - wanted).sum()))


def enough(wanted: int, fails: float, sure: float) -> int:
    """The fewest stems of which at least `wanted` are sound with the chance `sure`.

    Raises `ValueError` where no number of stems is enough.
    """
    _checked(fails, sure)

    def suffices(spare: int) -> bool:
        return chance(wanted + spare, wanted, fails) >= sure - ROUNDING

    most = next(2**power for power in count() if suffices(2**power))
    return wanted + bisect_left(range(most), True, key=suffices)


def nested_chance(wanted: Sequence[int], spare: Sequence[int], fails: float) -> float:
    """The chance that everybody is complete, with so many spares in each class of length.

    `wanted` and `spare` are by class, the longest first.
    """
    left = np.ones(1)
    for each, more in zip(wanted, spare, strict=True):
        left = _after(left, each, more, fails)
    return min(1.0, float(left.sum()))


def spare_counts(wanted: Sequence[int], fails: float, sure: float) -> tuple[int, ...]:
    """How many spares in each class of length, the longest first, so that all are complete.

    The fewest in all; and of these the fewest of the longest class, then of the next, and so on,
    since a shorter stem is cheaper and easier to find. Raises `ValueError` where no number of
    spares is enough.
    """
    free = enough(sum(wanted), fails, sure) - sum(wanted)
    left, behind = np.ones(1), sum(wanted)
    found: list[int] = []
    for each in wanted[:-1]:
        behind -= each
        here = _fewest(left, each, behind, free, fails, sure)
        left = _after(left, each, here, fails)
        free -= here
        found.append(here)
    return (*found, free) if wanted else ()


def shared(sure: float, kinds: int) -> float:
    """The chance that each of several kinds of stem gets, so that all of them together have `sure`.

    The kinds fail apart from each other, so their chances are multiplied.
    """
    return sure ** (1 / kinds) if kinds else sure


def worth_keeping(
    stems: int, fails: float, price_minor: float, missing_minor: float, left_minor: float = 0.0
) -> int:
    """How many spares pay for themselves, where a missing stem costs `missing_minor`.

    A spare costs `price_minor`, and is still worth `left_minor` when it is not used. Spares are
    bought until failures among `stems` are covered with the chance
    (missing - price) / (missing - left), at which one more costs as much as it saves on average.
    That a spare fails too is left out. Source: the newsvendor rule. Raises `ValueError` where what
    is left over is worth as much as it costs.
    """
    if left_minor >= price_minor:
        raise ValueError("a spare that is not used must be worth less than it costs")
    if missing_minor <= price_minor:
        return 0
    covered = (missing_minor - price_minor) / (missing_minor - left_minor)
    chances = np.cumsum(_failing(stems, fails, stems))
    return int(np.searchsorted(chances, covered - ROUNDING))


def _checked(fails: float, sure: float) -> None:
    if not 0 <= fails < 1 or not 0 <= sure <= 1 or (sure == 1 and fails > 0):
        raise ValueError(f"no number of stems of which {fails:%} fail is {sure:%} sure")


def _failing(stems: int, fails: float, most: int) -> Chances:
    """The chances that exactly 0, 1, … `most` of `stems` fail.

    Each is the one before it times (n - k + 1) / k · p / (1 - p), added up in logarithms so that
    thousands of stems neither overflow nor vanish.
    """
    found = np.zeros(most + 1)
    if fails == 0:
        found[0] = 1.0
        return found
    k = np.arange(1, min(most, stems) + 1)
    steps = np.log((stems - k + 1) / k) + math.log(fails) - math.log1p(-fails)
    found[: len(k) + 1] = np.exp(stems * math.log1p(-fails) + np.cumsum([0.0, *steps]))
    return found


def _after(left: Chances, wanted: int, spare: int, fails: float) -> Chances:
    """The chances of 0, 1, … stems left over after one more class; what fell short is gone.

    `left` is the same before it. Left over after it: what was left, and `spare`, less failures.
    """
    most = len(left) - 1 + spare
    failing = _failing(wanted + spare, fails, most)
    met: Chances = np.convolve(left, failing[::-1])[len(left) - 1 :]
    return met


def _fewest(left: Chances, wanted: int, behind: int, free: int, fails: float, sure: float) -> int:
    """The fewest spares of this class, where the next class gets all others that are `free`."""

    def suffices(here: int) -> bool:
        after, rest = _after(left, wanted, here, fails), free - here
        covered = np.cumsum(_failing(behind + rest, fails, len(after) - 1 + rest))[rest:]
        return float(after @ covered) >= sure - ROUNDING

    return bisect_left(range(free), True, key=suffices)
