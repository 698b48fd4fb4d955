"""How fast a piece is looked at and places for the next stems are found, beside the targets.

Run: python benchmarks/composing.py

Looking: 15 lines and 7 leaves in a 30 by 6 dish, made ready and checked, without remedies, as at
every step of a drag; the median of 200 runs and the 95th of a hundred. Advice: the same piece, with
its three remedies, as on release. Suggesting: three placements with a flower at the heart and four
leaves; one run each.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from dataclasses import replace

from nejime.basis.angles import Point
from nejime.composing.advice import advice
from nejime.composing.checks import findings
from nejime.composing.material import Material, usual_leaf
from nejime.composing.moves import set_stem
from nejime.composing.recipes import AtHand
from nejime.composing.setting import setting
from nejime.composing.suggesting import suggest
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.stems import Piece
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel

RUNS = 200
BRANCH = Material("branch", "quince", "pink", 7.0, foliage_cm=0.8, woody=True)
TULIP = Material("flower", "tulip", "white", 5.0, 4.0, 8.0, 0.8)
ANEMONE = Material("flower", "anemone", "violet", 6.0, 6.0, 12.0, 0.8)


def dish() -> Piece:
    """Three main stems in a dish."""
    return piece(vessel("round", 30, 6), packaged()["width-plus-height"], "upright")


def full() -> Piece:
    """15 lines and 7 leaves: what a lesson has places for, and others beside them."""
    made = with_supporting(dish(), helpers=6, hearts=3, leaves=5)
    more = []
    for like, new in (("sub-1", "sub-7"), ("sub-2", "sub-8"), ("sub-3", "sub-9")):
        more.append(replace(made.stem(like), id=new))
    for like, new in (("leaf-1", "leaf-6"), ("leaf-2", "leaf-7")):
        more.append(replace(made.stem(like), id=new))
    turned = [
        set_stem(
            made,
            stem,
            0.8 * stem.length_cm,
            stem.stands_deg + 6.0,
            stem.bearing_deg + 25.0,
            Point(stem.start.x_cm + 0.6, stem.start.y_cm - 0.6, stem.start.z_cm),
        )
        for stem in more
    ]
    return replace(made, stems=(*made.stems, *turned))


def milliseconds(work: Callable[[], object]) -> list[float]:
    """Times of some runs, after one that is not counted, the shortest first."""
    work()
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        work()
        times.append(1000 * (time.perf_counter() - start))
    return sorted(times)


def looking() -> None:
    """Prints how long a look takes, and the advice."""
    made = full()
    lines = sum(stem.role != "leaf" for stem in made.stems)
    times = milliseconds(lambda: findings(setting(made)))
    half, late = statistics.median(times), times[int(0.95 * RUNS)]
    print(
        f"findings, {lines} lines and {len(made.stems) - lines} leaves  {half:7.2f} ms, target 4 ms"
    )
    print(f"  95th of a hundred               {late:7.2f} ms")
    start = time.perf_counter()
    told = advice(setting(made))
    took = 1000 * (time.perf_counter() - start)
    mended = sum(each.remedy is not None for each in told)
    print(f"advice, {len(told)} shown, {mended} with a remedy  {took:7.0f} ms, no target")


def at_hand(helpers: int) -> list[AtHand]:
    """Branches and tulips in turn, an anemone, four leaves."""
    lines = [AtHand("helper", (BRANCH, TULIP)[at % 2], 45.0) for at in range(helpers)]
    leaves = [AtHand("leaf", usual_leaf(14.0), 20.0)] * 4
    return [*lines, AtHand("heart", ANEMONE, 30.0), *leaves]


def suggesting() -> None:
    """Prints how long three placements take, and what a check still says of them."""
    for helpers, target in ((6, 2), (11, 5)):
        start = time.perf_counter()
        found = suggest(dish(), at_hand(helpers)).suggestions
        took = time.perf_counter() - start
        left = sum(not each.quiet for made in found for each in made.findings)
        print(
            f"suggestions, {helpers:2d} helper stems      {took:7.2f} s, target {target} s; "
            f"{len(found)} found, {left} findings left in them"
        )


if __name__ == "__main__":
    looking()
    suggesting()
