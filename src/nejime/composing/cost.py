"""What a place for one stem costs, with all others as they are: the checks' measures, made soft.

Model: the measures of `between`, `alone` and `whole`, so that what is searched for and what is
checked cannot differ; each costs from a margin before its limit. To these come two matters of
taste: ends keep apart from the front, and leaves from each other.
Shapes: proposals (c, p) of one stem against the others (c, 1, n); results (c, p).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from nejime.composing import alone, between, whole
from nejime.composing.lines import Array, Blades, Flags, Index, Stems, blades, stems
from nejime.composing.matching import Ends, partners
from nejime.composing.recipes import AtHand
from nejime.composing.seeing import behind_balls, behind_blades
from nejime.composing.setting import Setting

PAIR_COST = {  # [own] weight, margin before the limit
    between.crosses: (4.0, 0.0),
    between.rails: (3.0, 0.35),
    between.front_rails: (3.0, 0.3),
    between.palms: (2.0, 0.3),
    between.level: (2.0, 0.5),
    between.crowded: (2.0, 0.6),
}
SINGLE_COST = {  # [own]
    alone.below_rim: (60.0, 0.006),
    alone.in_water: (60.0, 0.006),
    alone.off_pins: (6.0, 0.05),
    alone.stabs: (3.0, 0.8),
    alone.stares: (3.0, 0.6),
    alone.too_upright: (3.0, 0.1),
}
HEADS_COST, HIDES_COST, HIDES_MARGIN = 0.8, 4.0, 0.15  # [own] a cm too low; a hidden share
EQUAL_COST, EQUAL_MARGIN = 2.0, 0.08  # [own] helper stems of one length
FIRM_COST, FIRM = 8.0, 1.7  # [own] times the weight that tips
PINS_COST, PINS = 14.0, 0.92  # [own] share of the pins to hide
ASIDE_COST, ASIDE = 4.0, 0.76  # [own]
WATER_COST, WATER = 14.0, 0.58  # [own] share of the water to leave open
APART_COST, APART = 1.5, 0.15  # [own] of the first stem: ends from the front
CLUMP_COST, CLUMP = 0.5, 0.06  # [own] of the first stem: middles of leaves
LEAF_TOP_COST, LEAF_TOP = 0.4, 0.22  # [own] a cm over that share of the height
LEAF_RIM_COST, LEAF_RIM = 0.8, 0.93  # [own] a cm lower than the rim where it goes over it
DIFFERENT_COST, DIFFERENT = 30.0, 0.28  # [own] of the first stem; 0.25 is asked for


@dataclass(frozen=True, slots=True)
class Stock:
    """The material at hand as arrays (s,). `leader_cm` (c, s) is in the chain's hand."""

    items: tuple[AtHand, ...]
    leaf: Flags
    half_cm: Array
    head_cm: Array
    head_g: Array
    foliage_cm: Array
    blade_cm: Array
    width_cm: Array
    longest_cm: Array
    heart: Flags
    helper: Flags


def stock(items: tuple[AtHand, ...]) -> Stock:
    """The material at hand as arrays."""
    made = [item.material for item in items]
    return Stock(
        items,
        np.array([item.role == "leaf" for item in items], dtype=bool),
        np.array([each.thickness_mm / 20 for each in made]),
        np.array([each.head_cm / 2 for each in made]),
        np.array([each.head_g for each in made]),
        np.array([each.foliage_cm for each in made]),
        np.array([each.blade_cm for each in made]),
        np.array([each.blade_width_cm for each in made]),
        np.array([item.longest_cm for item in items]),
        np.array([item.role == "heart" for item in items], dtype=bool),
        np.array([item.role == "helper" for item in items], dtype=bool),
    )


class Cost:
    """The cost of places for a setting of main stems and a stock; `far_from` are the ends of
    earlier suggestions, from which a new one keeps away."""

    def __init__(self, here: Setting, have: Stock, far_from: tuple[Ends, ...]) -> None:
        self.here = here
        self.have = have
        self.far_from = far_from
        self.targets: list[Array] = []
        self.main_g = np.array([each.head_g for each in here.made_of])
        self.pins = here.holder_seen + here.holder_aside
        self.main_covers = np.any(whole.water_band(here, here.stems), axis=0)
        self.main_covers |= whole.over_pins(here)
        self.main_hides = [self._balls(here.stems, q, eye).any(axis=-2) for eye, q in self.pins]
        self.start_z = here.piece.vessel.base_cm + (
            here.piece.holder.foot_height_cm if here.piece.holder else 0.0
        )

    @staticmethod
    def _balls(bundle: Stems, points: Array, eye: Array) -> Flags:
        return behind_balls(points, eye, bundle.end_cm, bundle.head_cm)

    def start_cm(self, x: Array) -> Array:
        """Where stems with numbers (…, 6) start: (…, 3)."""
        flat = x[..., 3:5] * np.array(self.here.holder_half_cm) + self.here.middle_cm
        return np.concatenate([flat, np.full((*flat.shape[:-1], 1), self.start_z)], axis=-1)

    def length_cm(self, x: Array, at: Index, leader_cm: Array) -> Array:
        """How long stems are: a share of the one they follow, or blade and stalk."""
        leaf = self.have.leaf[at]
        return np.asarray(np.where(leaf, x[..., 0] + self.have.blade_cm[at], x[..., 0] * leader_cm))

    def lines(self, x: Array, at: Index, leader_cm: Array) -> Stems:
        """Stems with numbers (…, n, 6) of the items `at` (n,)."""
        length = self.length_cm(x, at, leader_cm)
        zero = np.zeros_like(length)
        return stems(
            self.start_cm(x),
            length,
            x[..., 1],
            x[..., 2],
            bow_cm=zero,
            half_cm=zero + self.have.half_cm[at],
            head_cm=zero + self.have.head_cm[at],
            foliage_cm=zero + self.have.foliage_cm[at],
        )

    def leaves(self, x: Array, at: Index) -> Blades:
        """Leaves with numbers (…, m, 6) of the items `at` (m,)."""
        return blades(
            self.start_cm(x),
            x[..., 0] + self.have.blade_cm[at],
            x[..., 1],
            x[..., 2],
            droop_deg=x[..., 5],
            blade_cm=self.have.blade_cm[at],
            width_cm=self.have.width_cm[at],
        )

    def of(self, k: int, proposals: Array, others: Array, leader_cm: Array) -> Array:
        """Costs (c, p) of proposals (c, p, 6) for item k; `others` (c, s, 6) is what stands."""
        items = np.arange(len(self.have.items))
        lines = items[~self.have.leaf & (items != k)]
        leaves = items[self.have.leaf & (items != k)]
        rest = self.lines(others[:, None, lines], lines, leader_cm[:, None, lines])
        mine = proposals[:, :, None, :]
        at = np.array([k])
        blades_rest = self.leaves(others[:, None, leaves], leaves)
        if self.have.leaf[k]:
            return self._leaf(self.leaves(mine, at), rest, blades_rest)
        one = self.lines(mine, at, leader_cm[:, None, [k]])
        return self._line(k, one, rest, lines, blades_rest, mine, others, leader_cm)

    def _line(
        self,
        k: int,
        one: Stems,
        rest: Stems,
        lines: Index,
        leaf: Blades,
        mine: Array,
        others: Array,
        leader_cm: Array,
    ) -> Array:
        here = self.here
        all_others = joined(here.stems, rest)
        cost = np.zeros(one.length_cm.shape[:-1])
        for pair, (weight, margin) in PAIR_COST.items():
            cost += weight * _soft(pair(here, one, all_others), margin)
        for single, (weight, margin) in SINGLE_COST.items():
            cost += weight * _soft(single(here, one), margin)
        low = alone.low_heart if self.have.heart[k] else alone.low_head
        if self.have.head_cm[k] > 0:
            cost += HEADS_COST * _soft(low(here, one), 0.2)
            for a, b in ((one, all_others), (all_others, one)):
                cost += HIDES_COST * _soft(between.hides(here, a, b), HIDES_MARGIN)
        if self.have.helper[k]:
            cost += self._equal(k, mine, others, leader_cm)
        apart = np.linalg.norm((one.end_cm - all_others.end_cm)[..., [0, 2]], axis=-1)
        cost += APART_COST * _soft(1.0 - apart / (APART * here.main_cm), 0.0)
        cost += self._firm(k, one, rest, lines)
        cost += self._open_water(one, None, rest, leaf)
        if self.have.head_cm[k] > 0:
            cost += self._hidden_pins(one, None, rest, leaf)
        return cost + self._like_before(k, one, rest, lines)

    def _equal(self, k: int, mine: Array, others: Array, leader_cm: Array) -> Array:
        same = self.have.helper[None, :] & (leader_cm == leader_cm[:, [k]])
        same[:, k] = False
        off = np.abs(mine[..., 0] - others[:, None, :, 0])
        short = _relu(1.0 + EQUAL_MARGIN - off / 0.05) * same[:, None, :]
        return np.asarray(EQUAL_COST * short.sum(axis=-1))

    def _firm(self, k: int, one: Stems, rest: Stems, lines: Index) -> Array:
        here = self.here
        parts = [
            whole.load(here, here.stems, self.main_g),
            whole.load(here, rest, self.have.head_g[lines]),
            whole.load(here, one, self.have.head_g[[k]]),
        ]
        g = parts[0].g + parts[1].g + parts[2].g
        moment = parts[0].moment_g_cm + parts[1].moment_g_cm + parts[2].moment_g_cm
        factor = whole.tips(here, type(parts[0])(np.asarray(g), np.asarray(moment)))
        return np.asarray(FIRM_COST * _relu(FIRM / np.maximum(factor, 1e-3) - 1.0))

    def _leaf(self, one: Blades, rest: Stems, others: Blades) -> Array:
        here = self.here
        cost = 60.0 * _soft(alone.blade_in_water(here, one), 0.008)
        apart = np.linalg.norm(one.middle_cm - others.middle_cm, axis=-1)
        cost += CLUMP_COST * _soft(1.0 - apart / (CLUMP * here.main_cm), 0.0)
        tip = one.middle_cm + 0.9 * one.half_long_cm[..., None] * one.along
        top = np.maximum(tip[..., 2], one.middle_cm[..., 2])
        cost += LEAF_TOP_COST * _soft(top - here.water_z_cm - LEAF_TOP * here.high_cm, 0.0)
        for part in (tip, one.middle_cm):
            at = part[..., :2] / np.array(here.half_cm)
            over = np.hypot(at[..., 0], at[..., 1]) > LEAF_RIM
            cost += LEAF_RIM_COST * _soft(
                np.where(over, here.rim_cm + 0.3 - part[..., 2], -1.0), 0.0
            )
        cost += self._open_water(None, one, rest, others)
        return cost + self._hidden_pins(None, one, rest, others)

    def _hidden_pins(
        self, line: Stems | None, leaf: Blades | None, rest: Stems, others: Blades
    ) -> Array:
        shares = []
        for (eye, points), by_main in zip(self.pins, self.main_hides, strict=True):
            hidden = by_main | self._balls(rest, points, eye).any(axis=-2)
            hidden = hidden | behind_blades(points, eye, others).any(axis=-2)
            mine = self._mine(line, leaf, points, eye)
            shares.append(np.mean(hidden | mine[..., 0, :], axis=-1))
        four = len(self.here.holder_seen)
        worst = np.min(np.stack(shares[:four]), axis=0)
        # The mean shows the way where the worst eye does not move.
        mean = np.mean(np.stack(shares[:four]), axis=0)
        aside = np.min(np.stack(shares[four:]), axis=0)
        return np.asarray(
            PINS_COST * (_relu(PINS - worst) + 0.3 * _relu(PINS - mean))
            + ASIDE_COST * _relu(ASIDE - aside)
        )

    def _mine(self, line: Stems | None, leaf: Blades | None, points: Array, eye: Array) -> Flags:
        """What the proposed stem or leaf hides: (c, p, 1, q)."""
        if leaf is not None:
            return behind_blades(points, eye, leaf)
        return self._balls(line, points, eye) if line is not None else np.zeros(1, dtype=bool)

    def _open_water(
        self, line: Stems | None, leaf: Blades | None, rest: Stems, others: Blades
    ) -> Array:
        here = self.here
        points = here.water_points
        covered = self.main_covers | whole.share_hidden(points, here.eye, rest, others)
        covered = covered | np.any(whole.water_band(here, rest), axis=-2)
        mine = self._mine(line, leaf, points, here.eye)
        if line is not None:
            mine = mine | whole.water_band(here, line)
        water = 1.0 - np.mean(covered | mine[..., 0, :], axis=-1)
        return np.asarray(WATER_COST * _relu(WATER - water))

    def pair_up(self, state: Array, leader_cm: Array) -> None:
        """Pairs every end of every chain (c, s, 6) anew with an end of each earlier suggestion."""
        at = np.flatnonzero(~self.have.leaf)
        ends = self.lines(state[:, at], at, leader_cm[:, at]).end_cm
        self.targets = []
        for far in self.far_from:
            target = np.zeros((len(state), len(self.have.items), 3))
            for kind in dict.fromkeys(far.kind):
                mine = np.flatnonzero([self.have.items[k].material.plant == kind for k in at])
                theirs = far.at_cm[far.of(kind)]
                for chain in range(len(state)):
                    way = np.linalg.norm(ends[chain, mine][:, None] - theirs, axis=-1)
                    target[chain, at[mine]] = theirs[partners(way)]
            self.targets.append(target)

    def _like_before(self, k: int, one: Stems, rest: Stems, lines: Index) -> Array:
        """What is missing to a clear difference from the earlier suggestions, paired as last."""
        cost = np.zeros(one.length_cm.shape[:-1])
        count = 1 + len(lines)
        for target in self.targets:
            mine = np.linalg.norm(one.end_cm[..., 0, :] - target[:, None, k], axis=-1)
            others = np.linalg.norm(rest.end_cm - target[:, None, lines], axis=-1).sum(axis=-1)
            cost += DIFFERENT_COST * _relu(DIFFERENT - (mine + others) / count / self.here.main_cm)
        return cost


def joined(one: Stems, other: Stems) -> Stems:
    """The main stems before the others of each chain."""
    lead = other.length_cm.shape[:-1]
    extra = (1, 0, 0, 0, 0, 0, 0, 0, 1, 2, 1, 1, 1)
    return Stems(
        *(
            np.concatenate([np.broadcast_to(a, lead + a.shape), b], axis=-1 - e)
            for a, b, e in zip(one, other, extra, strict=True)
        )
    )


def _relu(value: Array) -> Array:
    return np.asarray(np.maximum(value, 0.0))


def _soft(excess: Array, margin: float) -> Array:
    """What oversteps a limit less a margin, added up over the others."""
    return np.asarray(np.sum(_relu(excess + margin), axis=-1))
