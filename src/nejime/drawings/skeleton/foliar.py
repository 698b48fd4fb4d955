"""Leaves and grasses used alone: a fan of blades, a leaf on its stalk, a frond, a plume, a cane."""

from __future__ import annotations

import math

from nejime.drawings.skeleton.axes import Axis, falling
from nejime.drawings.skeleton.foliage import bud, leaf
from nejime.drawings.skeleton.green import leaves_along
from nejime.drawings.skeleton.heads import GOLDEN_DEG
from nejime.drawings.skeleton.organs import Organ, frame
from nejime.drawings.skeleton.stem import FRONT, Stem
from nejime.drawings.skeleton.surface import Blade
from nejime.drawings.skeleton.vectors import (
    Vec,
    add,
    along,
    cross,
    leaning,
    minus,
    mixed,
    square_to,
    times,
    turned,
    unit,
)

PLUME_FOR_CM = 75.0  # [own] the stem for which a plume's length is told
FROND_FOR_CM = 40.0  # [own] the frond for which a leaflet's length is told


def _set_blade(stem: Stem, organ: Organ, foot: Vec, end: Vec, face: Vec) -> None:
    """A leaf from its foot to its end, whatever its curl."""
    gap = minus(end, foot)
    heading = unit(gap)
    form = organ.parts[-1].form
    curl = form.curl_deg if isinstance(form, Blade) else 0.0
    half = math.radians(curl / 2)
    chord = math.sin(half) / half if half else 1.0
    face = square_to(heading, face)
    lifted = turned(heading, cross(heading, face), curl / 2)
    scale = math.dist(foot, end) / (organ.reach_cm * chord)
    stem.put(organ, frame(foot, lifted, face), scale, 1.0, (0.0, 0.0, 0.0))


def blades(stem: Stem) -> None:
    """A fan of leaves from one foot; the first ends where the stem ends."""
    h, chance = stem.habit, stem.chance
    stem.main()
    stem.axes.clear()
    organ = leaf(h.leaf)
    hand = chance.sign()
    for index in range(h.leaf_number or 3):
        rank = (index + 1) // 2
        hand = -hand
        lean = math.radians(h.fan_deg * rank * chance.near(1, 0.25))
        way: Vec = (math.sin(lean) * hand, 0.05 * rank * hand, math.cos(lean))
        long = (1 - 0.14 * rank * chance.near(1, 0.3)) * stem.length_cm
        at: Vec = (0.25 * rank * hand, 0.15 * rank, 0.0)
        face = mixed(FRONT, (hand, 0.0, 0.0), chance.between(0.2, 0.75))
        end = along(at, long, way) if index else (0.0, 0.0, stem.length_cm)
        _set_blade(stem, organ, at, end, face)


def one_leaf(stem: Stem) -> None:
    """One leaf on its stalk: the blade shows its upper face, its end is the stem's end."""
    h = stem.habit
    main = stem.main()
    share = 1 - h.blade_share
    at, _ = main.at(share)
    kept = tuple(main.at(share * index / 8)[0] for index in range(9))
    foot = main.radii_cm[0]
    radii = tuple(foot * (1 - 0.4 * index / 8) for index in range(9))
    stem.axes[0] = Axis(kept, radii, h.woody)
    end: Vec = (0.0, 0.0, stem.length_cm)
    heading = unit(minus(end, at))
    face = square_to(heading, mixed(FRONT, stem.stance.up, 0.3))
    face = turned(face, heading, stem.chance.between(-24, 24))
    _set_blade(stem, leaf(h.leaf), at, end, face)


def frond(stem: Stem) -> None:
    """Leaflets in pairs along a rib that arches, all in one plane."""
    h, chance = stem.habit, stem.chance
    main = stem.main()
    organ = leaf(h.leaf)
    low = max(h.bare, min(stem.stance.bare, 0.5))
    for index in range(h.leaf_number):
        part = (index + 0.5) / h.leaf_number
        share = low + (0.97 - low) * part
        at, way = main.at(share)
        size = min(1.0, 0.62 + 1.5 * part) * (1 - part) ** 0.8 + 0.05
        size *= stem.length_cm / FROND_FOR_CM
        for hand in (-1.0, 1.0):
            side = unit(along(stem.side(way, 90 * hand), 0.25, FRONT))
            out = leaning(way, square_to(way, side), h.leaf_deg - 18 * part)
            face = turned(square_to(out, FRONT), out, chance.between(-16, 16))
            stem.put(organ, frame(at, out, face), size * chance.near(1, 0.06), share, at)
    at, way = main.at(0.97)
    stem.put(organ, frame(at, way, FRONT), 0.12 * stem.length_cm / FROND_FOR_CM, 1.0, at)


def plume(stem: Stem) -> None:
    """A grass in flower: hair-fine branches that fall to one side."""
    h, chance = stem.habit, stem.chance
    main = stem.main()
    leaves_along(stem, main, h.spray_from)
    hand: Vec = (chance.sign(), 0.0, 0.0)
    goal = mixed(hand, times(stem.stance.up, -1.0), 0.35)
    low = h.spray_from
    for index in range(h.spray_number):
        part = index / h.spray_number
        at, way = main.at(low + (1 - low) * part * 0.9)
        side = square_to(way, add(stem.side(way, index * GOLDEN_DEG), times(hand, 0.9)))
        out = leaning(way, side, chance.between(8, 22))
        long = h.spray_cm * (1 - 0.35 * part) * chance.near(1, 0.15)
        points = falling(at, out, long * stem.length_cm / PLUME_FOR_CM, goal, h.spray_deg)
        axis = Axis(points, (0.035,) * len(points), True, low)
        stem.axes.append(axis)
        for each in range(h.florets):
            place, heading = axis.at(0.15 + 0.85 * (each + 0.5) / h.florets)
            off = leaning(heading, stem.side(heading, each * GOLDEN_DEG), 26)
            seat = frame(place, off, stem.stance.eye)
            stem.put(bud(h.bud), seat, chance.near(1, 0.25), low, place)


def cane(stem: Stem) -> None:
    """A bare stalk, with a head or a tassel at its end where it has one."""
    h = stem.habit
    main = stem.main()
    leaves_along(stem, main, 0.95)
    if h.bud:
        stem.bud_at(*main.at(h.spray_from), 1.0, 1.0)
