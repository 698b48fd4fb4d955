"""Leaves, needles, buds and berries from their rows in the table.

Model: a simple leaf is one sheet on a stalk; a feathered leaf has leaflets in pairs along its rib
and one at its end; a palm is one sheet with fingers; needles come in bundles of so many; berries
hang in clusters.
Frame: x along the organ, z its upper face.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import Any

from nejime.drawings.skeleton.chance import Chance, seed_of
from nejime.drawings.skeleton.heads import GOLDEN_DEG
from nejime.drawings.skeleton.organs import HERE, Body, Frame, Organ, Part, Thread, frame
from nejime.drawings.skeleton.surface import Blade
from nejime.drawings.skeleton.table import bud_row, leaf_row
from nejime.drawings.skeleton.vectors import Vec, X, Y, Z, along, leaning, times, turned

STALK_CM = 0.08  # [own] thickness of a leaf's stalk
ORIGIN: Vec = (0.0, 0.0, 0.0)


@cache
def leaf(name: str) -> Organ:
    """The leaf of this name."""
    row = leaf_row(name)
    parts = tuple(_KINDS[row.get("kind", "simple")](row, Chance(seed_of("leaf", name))))
    return Organ(name, parts, float(row.get("stalk", 0.0)) + float(row["long"]))


def _blade(row: Mapping[str, Any]) -> Blade:
    return Blade(
        float(row["long"]),
        float(row["wide"]),
        row["shape"],
        float(row.get("curl", 0.0)),
        float(row.get("cup", 0.0)),
        float(row.get("wave", 0.0)),
        int(row.get("fingers", 5)),
        float(row.get("bay", 0.6)),
        float(row.get("spread", 140.0)),
    )


def _simple(row: Mapping[str, Any], _: Chance) -> Iterator[Part]:
    stalk = float(row.get("stalk", 0.0))
    if stalk:
        yield Part(Thread((ORIGIN, (stalk, 0.0, 0.0)), STALK_CM), "dark")
    at = Frame((stalk, 0.0, 0.0), X, Z)
    yield Part(_blade(row), row.get("tissue", "leaf"), at, veins=row.get("veins", "feather"))


def _feathered(row: Mapping[str, Any], chance: Chance) -> Iterator[Part]:
    """Leaflets in pairs and one at the end; `leaflets` is the number of all."""
    pairs = (int(row["leaflets"]) - 1) // 2
    stalk, rib = float(row["stalk"]), float(row["rib"])
    fall = math.radians(float(row.get("fall", 25.0)))

    def at(share: float) -> Vec:
        angle = fall * share / 2
        return (rib * share * math.cos(angle), 0.0, -rib * share * math.sin(angle))

    yield Part(Thread(tuple(at(index / 4) for index in range(5)), STALK_CM), "dark")
    blade, veins = _blade(row), row.get("veins", "rib")
    for pair in range(pairs):
        share = (stalk + (rib - stalk) * pair / pairs) / rib
        small = 1 - 0.25 * abs(2 * pair / max(1, pairs - 1) - 1) if pairs > 1 else 0.9
        for side in (-1.0, 1.0):
            deg = chance.near(float(row.get("leaflet_deg", 58)), 0.08)
            seat = frame(at(share), leaning(X, times(Y, side), deg), Z)
            yield Part(blade, "leaf", seat, small, veins)
    heading = (math.cos(fall), 0.0, -math.sin(fall))
    yield Part(blade, "leaf", frame(at(1.0), heading, Z), 1.1, veins)


def _ternate(row: Mapping[str, Any], _: Chance) -> Iterator[Part]:
    """Three times three leaflets, as of a peony."""
    stalk, rib = float(row["stalk"]), float(row["rib"])
    blade, veins = _blade(row), row.get("veins", "rib")
    fork: Vec = (stalk, 0.0, 0.0)
    yield Part(Thread((ORIGIN, fork), STALK_CM), "dark")
    for side, reach in ((-1.0, 0.8), (1.0, 0.8), (0.0, 1.0)):
        way = leaning(X, times(Y, side), float(row.get("leaflet_deg", 52)) * abs(side))
        end = along(fork, rib * reach, way)
        yield Part(Thread((fork, end), STALK_CM), "dark")
        for turn in (-1.0, 1.0, 0.0):
            out = turned(way, Z, 46.0 * turn)
            foot = along(fork, rib * reach * (0.7 if turn else 1.0), way)
            yield Part(blade, "leaf", frame(foot, out, Z), 1.0 - 0.2 * abs(turn), veins)


def _needles(row: Mapping[str, Any], chance: Chance) -> Iterator[Part]:
    """One bundle: so many needles from one point."""
    count, long = int(row["needles"]), float(row["long"])
    for index in range(count):
        side = turned(Y, X, index * 360 / count)
        way = leaning(X, side, float(row["apart"]))
        end = times(way, chance.near(long, 0.08))
        yield Part(Thread((ORIGIN, end), float(row["wide"])), "dark")


def _scales(row: Mapping[str, Any], chance: Chance) -> Iterator[Part]:
    """A flat spray of small overlapping scales, as of a cypress: forked lines."""
    long = float(row["long"])
    yield Part(Thread((ORIGIN, (long, 0.0, -0.08 * long)), 0.22), "dark")
    for index in range(1, 8):
        share = index / 8
        foot: Vec = (long * share, 0.0, -0.08 * long * share)
        for side in (-1.0, 1.0):
            reach = long * 0.42 * math.sin(math.pi * (0.15 + 0.8 * share)) * chance.near(1, 0.1)
            tip = along(along(foot, reach * 0.75, X), reach * 0.66 * side, Y)
            yield Part(Thread((foot, tip), 0.18), "dark")


_KINDS: dict[str, Callable[[Mapping[str, Any], Chance], Iterator[Part]]] = {
    "simple": _simple,
    "feathered": _feathered,
    "ternate": _ternate,
    "needles": _needles,
    "scales": _scales,
}


@cache
def bud(name: str) -> Organ:
    """The bud, catkin or cluster of berries of this name."""
    row = bud_row(name)
    parts = tuple(_bud_parts(row, Chance(seed_of("bud", name))))
    reach = float(row["long"]) + float(row.get("stalk", 0.0))
    return Organ(f"{name}-bud", parts, reach, "bud")


def _bud_parts(row: Mapping[str, Any], chance: Chance) -> Iterator[Part]:
    long, wide = float(row["long"]), float(row["wide"])
    body = Body(long, wide, float(row.get("point", 0.0)), row.get("mark", ""))
    stalk, cluster = float(row.get("stalk", 0.0)), int(row.get("cluster", 1))
    for index in range(cluster):
        lean = float(row.get("spread", 50.0)) * math.sqrt(index / cluster)
        way = leaning(X, turned(Y, X, index * GOLDEN_DEG), lean)
        reach = stalk * (chance.near(1.0, 0.25) if cluster > 1 else 1.0)
        if stalk:
            yield Part(Thread((ORIGIN, times(way, reach)), 0.05), "dark")
        yield Part(body, row.get("tissue", "petal"), frame(times(way, reach), way, Z))
    if "scale" in row:  # the dark cap under a catkin, the calyx under a bud
        yield Part(Body(long * float(row["scale"]), wide * 0.9, 0.3), "dark", HERE)
