"""Branches: wood with buds, flowers, leaves, berries or needles at its nodes.

Model: side shoots leave the main axis to both sides, the longest below; every axis is dressed from
node to node; buds prevail towards the end, open flowers below.
"""

from __future__ import annotations

from nejime.drawings.skeleton.axes import Axis
from nejime.drawings.skeleton.foliage import leaf
from nejime.drawings.skeleton.heads import GOLDEN_DEG
from nejime.drawings.skeleton.organs import frame
from nejime.drawings.skeleton.stem import FRONT, USUAL, Stem, node_angles
from nejime.drawings.skeleton.vectors import (
    Vec,
    add,
    along,
    dot,
    leaning,
    mixed,
    square_to,
    times,
    turned,
    unit,
)

SITTING_CM = 0.2  # [own] a flower on less than this sits on the wood
BRANCH_CM = 60.0  # [own] the branch for which the number of shoots is told
CROWN_CM = (7.0, 4.5)  # [own] length of the needled end of a pine's main axis, of its shoots
BUDS_FROM = 0.55  # [own] share of an axis from which leaves have buds beside them
LAST_SHOOT = 0.86  # [own] share of an axis above which nothing branches off


def branch(stem: Stem) -> None:
    """A branch with what it carries at its nodes."""
    main = stem.main()
    grown = [(main, stem.bare, 1.0)]
    for shoot in _shoots(stem, main, _forks(stem), stem.habit.shoot * stem.length_cm):
        grown.append((shoot, 0.15, 0.9))
        twigs = _shoots(stem, shoot, stem.habit.twigs, 0.5 * shoot.length_cm)
        grown += [(twig, 0.2, 0.8) for twig in twigs]
    for axis, low, scale in grown:
        _dress(stem, axis, low, scale)
        _finish(stem, axis)


def tufts(stem: Stem) -> None:
    """Pines: bundles of needles crowd the ends of shoots; the older wood is bare."""
    main = stem.main()
    shoots = _shoots(stem, main, _forks(stem), stem.habit.shoot * stem.length_cm)
    twigs = [
        twig
        for shoot in shoots
        for twig in _shoots(stem, shoot, stem.habit.twigs, 0.5 * shoot.length_cm)
    ]
    for axis in (main, *shoots, *twigs):
        _needles(stem, axis)


def _forks(stem: Stem) -> int:
    """How many side shoots: as the table tells, on a shorter branch fewer."""
    most = stem.habit.shoots
    return min(most, max(1, round(most * (stem.length_cm / BRANCH_CM) ** 0.8))) if most else 0


def _share(axis: Axis, share: float) -> float:
    return share if axis.foot_share < 0 else axis.foot_share


def _shoots(stem: Stem, axis: Axis, count: int, long: float) -> list[Axis]:
    """Side shoots: longest below, to both sides as seen from the good side."""
    h, chance = stem.habit, stem.chance
    low = stem.bare if axis.foot_share < 0 else 0.3
    found = []
    hand = chance.sign()
    for index in range(count):
        share = low + (LAST_SHOOT - low) * (index + chance.between(0.1, 0.7)) / count
        at, way = axis.at(share)
        hand = -hand
        # Off the picture's plane by up to 38°, so that a branch is not a fish bone.
        side = stem.side(way, 90 * hand + chance.between(-38, 38))
        if h.flat:
            side = unit(along(side, -0.8 * dot(side, stem.stance.up), stem.stance.up))
        out = leaning(way, square_to(way, side), chance.near(h.shoot_deg, 0.18))
        reach = long * (1 - 0.5 * share) * chance.near(1, 0.25)
        found.append(stem.shoot(at, out, reach, axis.radius_at(share) * 0.6, _share(axis, share)))
    return found


def _dress(stem: Stem, axis: Axis, low: float, scale: float) -> None:
    """What stands at the nodes of an axis."""
    h, chance = stem.habit, stem.chance
    if h.tufted:
        return
    least = 2 if axis.foot_share < 0 else 1
    count = max(least, int(axis.length_cm * (1 - low) / h.node_cm))
    start = chance.between(0, 360)
    if h.phyllotaxis == "two-ranked":  # the good side shows both ranks
        start = chance.between(60, 120)
    for node in range(count):
        share = low + (0.985 - low) * (node + 0.5 + chance.between(-0.2, 0.2)) / count
        at, way = axis.at(share)
        size = scale * (1 - (1 - h.least) * ((share - low) / (1 - low)) ** 1.5)
        for angle in node_angles(h, node, start):
            side = stem.side(way, angle)
            foot = along(at, axis.radius_at(share) * 0.8, side)
            _at_node(stem, (foot, way, side), size, _share(axis, share), share)


Node = tuple[Vec, Vec, Vec]  # its place, the way of the axis, and the side to which it looks


def _at_node(stem: Stem, node: Node, size: float, share: float, on_axis: float) -> None:
    h, chance = stem.habit, stem.chance
    foot, way, side = node
    if h.leaf and h.leaf_from <= on_axis <= h.leaf_to and chance.share() < h.leaves:
        stem.leaf_at(foot, way, side, size, share)
    if h.flower and h.flowers[1] and chance.share() < h.bloom:
        _cluster(stem, node, size, share, on_axis)
    elif h.bud and not h.flower and chance.share() < h.buds:
        stem.bud_at(foot, unit(add(way, times(side, 0.7))), size, share)
    elif h.bud and h.leaf and on_axis > BUDS_FROM and chance.share() < h.buds:
        stem.bud_at(foot, unit(add(way, times(side, 0.8))), size, share)
    elif h.bud and h.flower and not h.leaf and chance.share() < 0.5:
        stem.bud_at(foot, unit(add(way, times(side, 0.5))), size * 0.75, share)


def _cluster(stem: Stem, node: Node, size: float, share: float, on_axis: float) -> None:
    """The flowers and buds of one node; buds prevail towards the end of the branch."""
    h, chance = stem.habit, stem.chance
    foot, way, side = node
    if h.spurs and chance.share() < h.spurs:
        tip = along(foot, chance.between(0.5, 1.3), unit(add(times(way, 0.35), side)))
        stem.axes.append(Axis((foot, tip), (0.14, 0.12), True, share))
        foot = tip
    count = int(chance.between(h.flowers[0], h.flowers[1] + 0.999))
    shut = stem.shut + 0.55 * (on_axis - 0.6) * min(1.0, stem.opening / USUAL)
    for each in range(count):
        fan = (each - (count - 1) / 2) * 46 + chance.between(-18, 18)
        out = unit(add(times(way, chance.between(0.1, 0.7)), turned(side, way, fan)))
        if h.droop:
            out = mixed(out, times(stem.stance.up, -1.0), min(1.0, h.droop * chance.near(0.8, 0.3)))
        end = along(foot, chance.near(h.stalk_cm, 0.3), out)
        if h.stalk_cm > SITTING_CM:
            stem.stalk(foot, end, share)
        if h.bud and chance.share() < shut:
            stem.bud_at(end, out, size * chance.between(0.75, 1.1), share)
        else:
            opening = max(min(2, stem.opening), stem.opening - int(chance.between(0, 3)))
            facing = min(0.85, h.facing * chance.between(0.35, 1.35))
            stem.flower_at(end, out, size, share, opening, facing)


def _finish(stem: Stem, axis: Axis) -> None:
    """What ends an axis: a tuft of leaves, a flower, a leaf, a bud."""
    h = stem.habit
    at, way = axis.at(1.0)
    share = _share(axis, 1.0)
    if h.tufted:
        _leaf_tuft(stem, at, way, share)
    ends = h.end.split()
    main = axis.foot_share < 0
    if "flower" in ends and (main or stem.chance.share() < h.bloom):
        hanging = mixed(way, times(stem.stance.up, -1.0), h.droop)
        stem.flower_at(at, hanging, 1.0, share, stem.opening, h.facing)
    elif "leaf" in ends:
        stem.leaf_at(at, way, stem.side(way, 0), 0.75, share, 12.0)
    elif "bud" in ends:
        stem.bud_at(at, way, 0.9, share)


def _leaf_tuft(stem: Stem, at: Vec, way: Vec, share: float) -> None:
    """Leaves crowded at the end of a shoot, like a plate where the plant grows in tiers."""
    h = stem.habit
    axis = mixed(way, stem.stance.up, 0.6) if h.flat else way
    start = stem.chance.between(0, 360)
    for index in range(h.tufted):
        side = turned(square_to(axis, FRONT), axis, start + 360 * index / h.tufted)
        odd = index % 2
        stem.leaf_at(at, axis, side, 1.0 if odd else 0.8, share, h.leaf_deg * (1.0 if odd else 0.8))


def _needles(stem: Stem, axis: Axis) -> None:
    h, chance = stem.habit, stem.chance
    share = _share(axis, 1.0)
    most = CROWN_CM[axis.foot_share >= 0]
    span = min(axis.length_cm * 0.75, most)
    low = 1 - span / axis.length_cm
    start = chance.between(0, 360)
    count = max(h.tufted // 2, round(h.tufted * span / most))
    for index in range(count):
        part = (index + 0.5) / count
        at, way = axis.at(low + (1 - low) * part)
        side = stem.side(way, start + index * GOLDEN_DEG)
        side = square_to(way, add(side, times(stem.stance.up, 0.55)))
        out = leaning(way, side, chance.near(66 - 46 * part**1.5, 0.15))
        size = chance.near(1.0, 0.12) * (0.86 + 0.14 * part)
        stem.put(leaf(h.leaf), frame(at, out, side), size, share, at)
    if "bud" in h.end:
        at, way = axis.at(1.0)
        stem.bud_at(at, mixed(way, stem.stance.up, 0.3), 1.0, share)
