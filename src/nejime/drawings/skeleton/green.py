"""Green stems: one flower at the end, a spray, a spike; with leaves along them or from the foot."""

from __future__ import annotations

from nejime.drawings.skeleton.axes import Axis
from nejime.drawings.skeleton.foliage import leaf
from nejime.drawings.skeleton.heads import GOLDEN_DEG, STAGES, head
from nejime.drawings.skeleton.organs import frame
from nejime.drawings.skeleton.stem import FRONT, Stem, node_angles
from nejime.drawings.skeleton.vectors import (
    Z,
    along,
    leaning,
    mixed,
    square_to,
    times,
    towards,
    turned,
)


def leaves_along(stem: Stem, axis: Axis, high: float) -> None:
    """Leaves at the nodes of a stem, smaller to its end."""
    h, chance = stem.habit, stem.chance
    low, high = max(stem.bare, h.leaf_from), min(high, h.leaf_to)
    if not h.leaf or high <= low:
        return
    count = h.leaf_number or max(1, int((high - low) * stem.length_cm / h.node_cm))
    start = chance.between(60, 120) * chance.sign()
    for node in range(count):
        share = low + (high - low) * (node + 0.5) / count
        at, way = axis.at(share)
        size = 1 - (1 - h.least) * (node / max(1, count - 1)) ** 1.3
        for angle in node_angles(h, node, start):
            side = stem.side(way, angle)
            stem.leaf_at(along(at, axis.radius_at(share) * 0.7, side), way, side, size, share)


def foot_leaves(stem: Stem, main: Axis) -> None:
    """Leaves that come from the foot beside the stem: tulip, narcissus, iris."""
    h, chance = stem.habit, stem.chance
    if not h.foot_leaf:
        return
    organ = leaf(h.foot_leaf)
    low = max(0.05, stem.stance.bare * 0.8)
    hand = chance.sign()
    for index in range(h.foot_leaves):
        share = low + 0.045 * index
        at, way = main.at(share)
        hand = -hand
        side = stem.side(way, 90 * hand + chance.between(-40, 40))
        long = leaning(way, side, chance.near(h.fan_deg, 0.3) * (1 + 0.25 * index))
        face = mixed(times(side, -1.0), stem.stance.eye, chance.between(0.35, 0.6))
        size = min(1.25, 0.68 * (1 - 0.16 * index) * stem.length_cm / organ.reach_cm)
        stem.put(organ, frame(at, long, face), size * chance.near(1, 0.1), share, at)


def single(stem: Stem) -> None:
    """One flower at the end of a stem."""
    h = stem.habit
    main = stem.main()
    leaves_along(stem, main, 0.92)
    foot_leaves(stem, main)
    at, way = main.at(1.0)
    # A trumpet is known by its profile: it looks past the viewer.
    aside = h.aside_deg * stem.chance.sign()
    out = towards(way, turned(stem.stance.eye, Z, aside), h.face_deg)
    face = turned(square_to(out, mixed(Z, FRONT, 0.2)), out, stem.chance.between(-14, 14))
    stem.put(head(h.flower, stem.opening), frame(at, out, face), 1.0, 1.0, at)
    if h.bud and stem.chance.share() < h.buds:
        share = stem.chance.between(0.72, 0.82)
        at, way = main.at(share)
        side = stem.side(way, 80 * stem.chance.sign())
        shoot = stem.shoot(at, leaning(way, side, 30), 0.16 * stem.length_cm, 0.12, share)
        stem.bud_at(*shoot.at(1.0), 1.0, share)


def spray(stem: Stem) -> None:
    """Flowers on stalks near the end of a stem, the lowest stalks the longest."""
    h, chance = stem.habit, stem.chance
    main = stem.main()
    leaves_along(stem, main, h.spray_from)
    foot_leaves(stem, main)
    low = max(h.spray_from, stem.bare)
    start = chance.between(0, 360)
    step = 180.0 if h.phyllotaxis == "two-ranked" else GOLDEN_DEG
    for index in range(h.spray_number):
        part = index / h.spray_number
        share = low + (1 - low) * part
        at, way = main.at(share)
        out = leaning(way, stem.side(way, start + index * step), chance.near(h.spray_deg, 0.15))
        long = h.spray_cm * (1 - h.gradient * part) * chance.near(1, 0.15)
        stalk = stem.shoot(at, out, long, max(0.05, main.radius_at(1.0) * 0.7), share)
        _stalk_end(stem, stalk, part, share)
    at, way = main.at(1.0)
    if "flower" in h.end:
        stem.flower_at(at, way, 1.0, 1.0, stem.opening, h.facing)
    elif "bud" in h.end:
        stem.bud_at(at, way, 1.0, 1.0)


def _stalk_end(stem: Stem, stalk: Axis, part: float, share: float) -> None:
    h, chance = stem.habit, stem.chance
    end, way = stalk.at(1.0)
    if h.bud and part >= 1 - stem.shut:
        stem.bud_at(end, way, 1.0, share)
    elif h.flower:
        opening = max(min(2, stem.opening), stem.opening - int(3 * part * h.gradient))
        stem.flower_at(end, way, 1 - 0.15 * part, share, opening, h.facing)
    for _ in range(h.florets):
        at, heading = stalk.at(chance.between(0.35, 0.9))
        side = stem.side(heading, chance.between(0, 360))
        out = leaning(heading, side, chance.between(30, 55))
        tip = along(at, stalk.length_cm * chance.between(0.22, 0.45), out)
        stem.stalk(at, tip, share, 0.025)
        stem.flower_at(tip, out, chance.between(0.7, 0.95), share, stem.opening, h.facing)


def spike(stem: Stem) -> None:
    """Florets along the upper part of a stem, open below, buds at the end."""
    h, chance = stem.habit, stem.chance
    main = stem.main()
    leaves_along(stem, main, h.spray_from)
    foot_leaves(stem, main)
    low = max(h.spray_from, stem.bare)
    count = max(5, int((1 - low) * stem.length_cm / h.node_cm))
    start = chance.between(0, 360)
    for node in range(count):
        part = (node + 0.3) / count
        share = low + (1 - low) * part
        at, way = main.at(share)
        size = 1 - h.gradient * part
        for angle in node_angles(h, node, start):
            deg = chance.near(h.spray_deg, 0.12) * (1 - 0.45 * part)
            out = leaning(way, stem.side(way, angle), deg)
            out = mixed(out, times(stem.stance.up, -1.0), h.droop)
            end = along(at, main.radius_at(share) + h.stalk_cm * size, out)
            if h.stalk_cm > 0.4:
                stem.stalk(at, end, share)
            if h.bud and part >= 1 - stem.shut:
                stem.bud_at(end, out, max(0.4, 1.35 - part), share)
            else:
                opening = max(0, min(STAGES, int(stem.opening * (1.1 - h.gradient * part))))
                stem.flower_at(end, out, size, share, opening, h.facing)
    if h.bud:
        stem.bud_at(*main.at(1.0), 0.6, 1.0)
