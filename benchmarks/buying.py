"""What buying and cutting costs and how long it takes, measured beside the target.

Run: python benchmarks/buying.py

The classes are made up, and so is every price in them: N people with round dishes of 22 to 38 cm;
a branch for each of three main stems (half of the classes want side shoots kept on the first),
two flowers at the heart, two leaves; spares for 95 in a hundred; three shops, two of which ask for
a minimum or a delivery, with some twenty bunches of 5 to 20 in several lengths, branches with side
shoots among them; and N/2 branches (10 to 60) of the garden, each measured by itself.

Two ways in which a careful teacher does it by hand, for the same stems and the same spares:
one stem at a time: the longest stems of each plant take the garden's branches, one each; every
other one is put down at the offer that has the cheapest stem long enough; at the end each offer is
rounded up to bunches, and a shop that asks for more gets more of its cheapest bunch.
one shop: the same within each single shop that has everything; the cheapest of these shops.
"""

from __future__ import annotations

import math
import resource
import statistics
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.vessel import vessel
from nejime.material.again import again
from nejime.material.buying import buying
from nejime.material.programme import Limits, Programme, bought
from nejime.material.supply import Bunch, GardenBranch, Shoot, Shop, StandIn, Wish
from nejime.material.wanted import StemWanted, stems_wanted

SEED = 20270313
BRANCH, OTHER, FLOWER, LEAF = "forsythia", "flowering-quince", "tulip", "aspidistra"
CLASSES = 50


@dataclass(frozen=True, slots=True)
class Made:
    """A class made up."""

    wanted: tuple[StemWanted, ...]
    shops: tuple[Shop, ...]
    garden: tuple[GardenBranch, ...]


def made_up(people: int, chance: Random, branches: int | None = None) -> Made:
    """A class of so many people."""
    rule = packaged()["width-plus-height"]
    pieces = []
    for number in range(people):
        width_cm, height_cm = chance.uniform(22, 38), chance.uniform(4.5, 8)
        dish = vessel("round", width_cm=round(width_cm, 1), height_cm=round(height_cm, 1))
        size = chance.choice(["small", "usual", "usual"])
        pieces.append((f"P{number}", piece(dish, rule, "upright", size=size)))
    with_shoots = chance.random() < 0.5
    instead = (StandIn(OTHER, "as good"),)
    wishes = [
        Wish("first", BRANCH, with_shoots=with_shoots, stand_ins=instead),
        Wish("second", BRANCH, stand_ins=instead),
        Wish("third", BRANCH, stand_ins=instead),
        Wish("heart", FLOWER, each=2),
        Wish("leaf", LEAF, each=2),
    ]
    wanted = stems_wanted(pieces, wishes, demonstration=pieces[0][1], sure_percent=95)
    count = min(60, max(10, people // 2)) if branches is None else branches
    garden = tuple(
        GardenBranch(BRANCH, length, shoots=_shoots(length, chance), name=f"branch {number}")
        for number, length in enumerate(round(chance.uniform(55, 130), 1) for _ in range(count))
    )
    return Made(wanted, _shops(chance), garden)


def _shoots(length_cm: float, chance: Random) -> tuple[Shoot, ...]:
    return tuple(
        Shoot(round(share * length_cm, 1), round(chance.uniform(12, 40), 1))
        for share in sorted(chance.uniform(0.25, 0.8) for _ in range(chance.randint(0, 3)))
    )


def _shops(chance: Random) -> tuple[Shop, ...]:
    """Three shops. A longer stem costs more; each shop has its own level, by chance."""

    def price(length_cm: float, stems: int, level: float) -> int:
        small = 1.15 if stems <= 5 else 1.0
        return round(stems * (15 + 1.1 * length_cm) * level * small * chance.uniform(0.9, 1.1))

    found = []
    for name, level, minimum, delivery in (
        ("market", 0.85, 2500, 0),
        ("wholesale", 0.8, 4000, 600),
        ("corner shop", 1.2, 0, 0),
    ):
        bunches = []
        for plant, lengths, sizes in (
            (BRANCH, (60, 80, 100, 130), (5, 10)),
            (OTHER, (80, 110), (5,)),
            (FLOWER, (35, 45, 55), (10, 20)),
            (LEAF, (50, 70), (10,)),
        ):
            for length_cm in lengths:
                stems = chance.choice(sizes)
                shoots = ()
                if plant in (BRANCH, OTHER) and length_cm >= 100:
                    shoots = (Shoot(0.35 * length_cm, 30.0), Shoot(0.6 * length_cm, 22.0))
                each = price(length_cm, stems, level)
                bunches.append(Bunch(name, plant, stems, each, float(length_cm), shoots=shoots))
        found.append(Shop(name, tuple(bunches), minimum, delivery))
    return tuple(found)


def by_hand(made: Made, shops: Sequence[Shop]) -> int:
    """What one stem at a time costs in these shops; -1 where they have not everything."""
    stems = [each for each in made.wanted for _ in range(each.count)]
    stems.sort(key=lambda each: -each.least_cm)
    garden = sorted(made.garden, key=lambda each: each.length_cm)
    counts: Counter[Bunch] = Counter()
    for each in stems:
        own = next(
            (
                branch
                for branch in garden
                if branch.plant in each.plants and branch.length_cm >= each.least_cm
            ),
            None,
        )
        if own is not None:
            garden.remove(own)
            continue
        offers = [
            bunch
            for shop in shops
            for bunch in shop.bunches
            if bunch.plant in each.plants and bunch.length_cm >= each.least_cm
        ]
        if not offers:
            return -1
        counts[min(offers, key=lambda bunch: bunch.price_minor / bunch.stems)] += 1
    total = 0
    for shop in shops:
        spent = sum(-(-counts[b] // b.stems) * b.price_minor for b in shop.bunches)
        if spent:
            cheapest = min(b.price_minor for b in shop.bunches)
            missing = max(0, shop.minimum_minor - spent)
            total += spent + math.ceil(missing / cheapest) * cheapest + shop.delivery_minor
    return total


def line(name: str, measured: str, target: str) -> None:
    """One line of the table."""
    print(f"{name:<52} {measured:<44} {target}", flush=True)


def one_class(people: int, seconds: float, gap: float, target: str) -> None:
    """How long and how near for one class."""
    made = made_up(people, Random(SEED))
    began = time.perf_counter()
    found = bought(made.wanted, made.shops, made.garden, limits=Limits(seconds, 5.0, gap))
    took = time.perf_counter() - began
    price = sum(b.price_minor * n for b, n in found.bunches)
    used = {b.shop for b, _ in found.bunches}
    price += sum(s.delivery_minor for s in made.shops if s.name in used)
    off = 100 * (price - found.bound_minor) / price if price else 0.0
    rows, columns = Programme(made.wanted, made.shops, made.garden).model.size
    stems = sum(each.count for each in made.wanted)
    said = f"{took:.2f} s, {off:.2f} % over the bound, {rows} x {columns}, {stems} stems"
    line(f"{people} people", said, target)


def season() -> None:
    """Some 1,500 groups of stems wanted, in a process of its own for the memory."""
    chance = Random(SEED)
    wanted: list[StemWanted] = []
    for _ in range(12):
        wanted += made_up(40, chance).wanted
    groups = len(dict.fromkeys(replace(each, count=1) for each in wanted))
    made = made_up(12, chance, branches=60)
    began = time.perf_counter()
    found = bought(wanted, made.shops, made.garden, limits=Limits(60.0, 5.0, 0.005))
    took = time.perf_counter() - began
    price = sum(b.price_minor * n for b, n in found.bunches) + sum(
        s.delivery_minor for s in made.shops if s.name in {b.shop for b, _ in found.bunches}
    )
    off = 100 * (price - found.bound_minor) / price
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    stems = sum(each.count for each in wanted)
    said = f"{took:.1f} s, {off:.2f} %, {peak_mb:.0f} MB, {stems} stems"
    line(f"a season: {groups} groups of stems wanted", said, "60 s, 0.5 %, 400 MB")


def money() -> None:
    """The saving against two ways by hand, over classes of 6 to 30 people."""
    chance = Random(SEED)
    savings: dict[str, list[float]] = {"one stem at a time": [], "one shop": []}
    for _ in range(CLASSES):
        made = made_up(chance.randint(6, 30), chance)
        least = buying(made.wanted, made.shops, made.garden).total_minor
        single = [by_hand(made, [shop]) for shop in made.shops]
        ways = {
            "one stem at a time": by_hand(made, made.shops),
            "one shop": min(each for each in single if each >= 0),
        }
        for way, price in ways.items():
            savings[way].append(100 * (price - least) / price if price else 0.0)
    for way, found in savings.items():
        tenths = statistics.quantiles(found, n=10)
        said = (
            f"{statistics.mean(found):.1f} % saved "
            f"(median {statistics.median(found):.1f}, {tenths[0]:.1f} to {tenths[-1]:.1f})"
        )
        line(f"against {way}, {CLASSES} classes", said, "prices invented")


def morning() -> None:
    """Twenty-four people: some stems broke, two are ill; and solved as if nothing were planned."""
    made = made_up(24, Random(SEED))
    plan = buying(made.wanted, made.shops, made.garden)
    counted = Counter((use.plant, round(use.length_cm, 1)) for use in plan.uses)
    stems = [
        GardenBranch(plant, length, max(0, number - (number > 8)), name=str(at))
        for at, ((plant, length), number) in enumerate(counted.items(), start=1)
    ]
    coming = [each for each in made.wanted if each.who not in ("P1", "P2")]
    began = time.perf_counter()
    again(coming, stems, lambda _: None)
    line("the morning, 24 people", f"{time.perf_counter() - began:.3f} s", "1 s")
    began = time.perf_counter()
    buying(coming, (), stems)
    line("the same, solved from the beginning", f"{time.perf_counter() - began:.3f} s", "1 s")


def main() -> None:
    """Everything, one after the other."""
    line("", "measured", "target")
    one_class(12, 60.0, 0.0, "proven")
    one_class(24, 20.0, 0.005, "0.5 % in 20 s")
    one_class(40, 20.0, 0.005, "0.5 % in 20 s")
    subprocess.run([sys.executable, __file__, "season"], check=True)
    morning()
    money()


if __name__ == "__main__":
    season() if sys.argv[1:] == ["season"] else main()
