"""What to buy and how to cut it, as a whole-number programme.

Sets: offers o of shops s; garden branches; the ways g to cut each of them (`branches.ways`); pools
p of ends of one kind (plant, natural or stripped, taper); in each pool the lengths t that occur;
wants j, stems that the same ends serve, taken together.
Variables: bunches b[o], whether a shop is used z[s] and an offer taken a[o]; branches cut in a way
y[o,g]; ends passed on from a longer length to the next shorter one, flow[p,t]; ends of a length
given to a want, w[p,t,j]; stems that get none, short[j].
Constraints: no more branches cut than there are; in each pool, at each length, no more passed on
and given than cut and received; each want gets its stems or is short of them; an offer not taken or
at least its least and at most its most; a shop not used or at least its minimum spent.
Objective: one aim after another, each kept while the next is sought: fewest stems missing (people,
then the demonstration, the film, the display, the spares), fewest that only do if nothing else is
to be had, fewest that will do, fewest plants bought in one shop alone where two were asked for,
least money, least wood brought home.
Since lengths are nested, an end that serves a want serves every shorter one of its pool: so a want
needs to be tied only to the shortest length that serves it, and wants tied alike are one. The
programme is as large as there are different lengths on offer, not as there are people. `flow`,
`w` and `short` come out whole by themselves once the rest is.
Source: transportation with nested lengths and fixed charges, our own formulation.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce

from nejime.material.branches import Way, ways
from nejime.material.ends import End, Source, least_cut_cm
from nejime.material.solving import Model, Progress, solve
from nejime.material.supply import Bunch, GardenBranch, Shop
from nejime.material.wanted import PURPOSES, StemWanted

SHOP_TRIP_CM = 100.0  # [own] at equal money, a trip to one more shop is worth a metre of wood
CUT_CM = 1.0  # [own] at equal wood, a branch is not cut up for nothing
MOST_SHARE = 2 / 3  # [own] of what is bought of a plant, from one shop, where it is split
WITHIN = 1e-3  # [own] how far a number of stems may be from a whole one

Pool = tuple[str, bool, float | None]
Costs = Mapping[int, float]


@dataclass(frozen=True, slots=True)
class Limits:
    """How long a plan is sought: seconds for money and for wood, and a share of the money that
    does not matter."""

    money_s: float = 20.0
    wood_s: float = 3.0
    gap: float = 0.0


@dataclass(frozen=True, slots=True)
class Bought:
    """How many bunches of each offer, and how the branches of each source are cut.

    `ways` counts branches; those not counted are not needed. `bound_minor`: no plan with the same
    stems costs less. `alone` are the plants of which more should have come from a second shop.
    """

    bunches: tuple[tuple[Bunch, int], ...]
    ways: tuple[tuple[Way, int], ...]
    bound_minor: int
    proven: bool
    alone: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Want:
    """Stems that the same ends serve. `tied`: pool, its length, and how gladly (a level)."""

    purpose: int
    tied: tuple[tuple[Pool, float, int], ...]


class Programme:
    """The model of one market and what is wanted from it, with its columns by name."""

    def __init__(
        self,
        wanted: Sequence[StemWanted],
        shops: Sequence[Shop],
        garden: Sequence[GardenBranch],
        *,
        split: bool = False,
    ) -> None:
        self.model = Model()
        self.shops, self.garden = tuple(shops), tuple(garden)
        self.tapered = frozenset(
            plant for each in wanted if each.has_window for plant in each.plants
        )
        sources: list[Source] = [*garden, *(bunch for shop in shops for bunch in shop.bunches)]
        self.times = Counter(sources)  # equal rows of a list are one source that is there twice
        self.ways = {source: self._useful(source, wanted) for source in self.times}
        self.lengths = self._lengths()
        self.wants = self._wants(wanted)
        self.bunches: dict[Bunch, int] = {}
        self.trips: dict[str, int] = {}
        self.cut: dict[tuple[Source, int], int] = {}
        self.short: dict[_Want, int] = {}
        self.given: list[tuple[int, int]] = []
        self.alone: dict[str, int] = {}
        self._buy()
        self._cut()
        self._serve()
        self._tighten()
        if split:
            self._split()

    # Sets

    def pool(self, end: End) -> Pool:
        """The pool that an end is in."""
        taper = end.taper_mm_cm if end.plant in self.tapered else None
        return end.plant, end.natural, taper

    def _useful(self, source: Source, wanted: Sequence[StemWanted]) -> tuple[Way, ...]:
        """The ways to cut a source, where any of its ends is of use at all."""
        if not any(source.plant in each.plants for each in wanted):
            return ()
        return ways(source)

    def _lengths(self) -> dict[Pool, list[float]]:
        found: dict[Pool, set[float]] = defaultdict(set)
        for every in self.ways.values():
            for end in (end for way in every for end in way):
                found[self.pool(end)].add(end.length_cm)
        return {pool: sorted(lengths, reverse=True) for pool, lengths in found.items()}

    def _wants(self, wanted: Iterable[StemWanted]) -> Counter[_Want]:
        found: Counter[_Want] = Counter()
        samples: dict[Pool, End] = {}
        for every in self.ways.values():
            for end in (end for way in every for end in way):
                samples.setdefault(self.pool(end), end)
        for each in wanted:
            tied = []
            for pool, sample in samples.items():
                least_cm = least_cut_cm(sample, each)
                fits = [t for t in self.lengths[pool] if least_cm is not None and t >= least_cm]
                if fits:
                    tied.append((pool, fits[-1], each.level(pool[0])))
            found[_Want(PURPOSES.index(each.purpose), tuple(tied))] += each.count
        return found

    # Variables and constraints

    def _buy(self) -> None:
        model = self.model
        for shop in self.shops:
            used = model.column(high=1)
            self.trips[shop.name] = used
            spent: dict[int, float] = {used: -float(shop.minimum_minor)}
            for offer in dict.fromkeys(shop.bunches):
                most = self._most(offer, shop) if self.ways[offer] else 0
                bunches = model.column(high=most)
                self.bunches[offer] = bunches
                spent[bunches] = spent.get(bunches, 0.0) + offer.price_minor
                model.row({bunches: 1, used: -most}, high=0)
                if offer.least > 1:
                    taken = model.column(high=1)
                    model.row({bunches: 1, taken: -most}, high=0)
                    model.row({bunches: 1, taken: -offer.least}, low=0)
            if shop.minimum_minor:
                model.row(spent, low=0)

    def _most(self, offer: Bunch, shop: Shop) -> int:
        """As many bunches of an offer as could be of use."""
        pools = {self.pool(end) for way in self.ways[offer] for end in way}
        stems = sum(
            count for want, count in self.wants.items() if any(p in pools for p, _, _ in want.tied)
        )
        most = max(-(-stems // offer.stems), offer.least)
        if offer.price_minor > 0:
            most = max(most, -(-shop.minimum_minor // offer.price_minor))
        most = most if offer.most is None else min(most, offer.most * self.times[offer])
        return most if most >= offer.least else 0

    def _cut(self) -> None:
        model = self.model
        for source, every in self.ways.items():
            if not every:
                continue
            cut = {
                model.column(whole=len(every) > 1 or isinstance(source, GardenBranch)): 1.0
                for _ in every
            }
            self.cut |= {(source, number): column for number, column in enumerate(cut)}
            if isinstance(source, Bunch):
                model.row({**cut, self.bunches[source]: -float(source.stems)}, high=0)
            else:
                model.row(cut, high=source.count * self.times[source])

    def _serve(self) -> None:
        model = self.model
        cut: dict[tuple[Pool, float], dict[int, float]] = defaultdict(lambda: defaultdict(float))
        for (source, number), column in self.cut.items():
            for end in self.ways[source][number]:
                cut[self.pool(end), end.length_cm][column] += 1
        given: dict[tuple[Pool, float], list[int]] = defaultdict(list)
        for want, count in self.wants.items():
            arcs = []
            for pool, length_cm, level in want.tied:
                arc = model.column(high=count, whole=False)
                given[pool, length_cm].append(arc)
                self.given.append((arc, level))
                arcs.append(arc)
            short = model.column(high=count, whole=False)
            self.short[want] = short
            model.row(dict.fromkeys((*arcs, short), 1.0), low=count)
        for pool, lengths in self.lengths.items():
            passed: int | None = None
            for length_cm in lengths:
                weights = dict(cut[pool, length_cm])
                weights |= dict.fromkeys(given[pool, length_cm], -1.0)
                if passed is not None:
                    weights[passed] = 1.0
                if length_cm != lengths[-1]:
                    passed = model.column(whole=False)
                    weights[passed] = -1.0
                model.row(weights, low=0)

    def _tighten(self) -> None:
        """Rows that follow from the others and let the solver round up bunches.

        All wants that only ends of certain sources serve need so many ends of these.
        """
        serving = {want: self._serving(want) for want in self.wants}
        for group in dict.fromkeys(serving.values()):
            inside = [want for want, sources in serving.items() if sources <= group]
            weights: dict[int, float] = {self.short[want]: 1.0 for want in inside}
            for source in group:
                best = max(len(way) for way in self.ways[source])
                if isinstance(source, Bunch):
                    weights[self.bunches[source]] = float(best * source.stems)
                else:
                    for number, way in enumerate(self.ways[source]):
                        weights[self.cut[source, number]] = float(len(way))
            self.model.row(weights, low=sum(self.wants[want] for want in inside))

    def _serving(self, want: _Want) -> frozenset[Source]:
        least = {pool: length_cm for pool, length_cm, _ in want.tied}
        return frozenset(
            source
            for source, every in self.ways.items()
            for way in every
            for end in way
            if end.length_cm >= least.get(self.pool(end), math.inf)
        )

    def _split(self) -> None:
        """No shop sells more than its share of a plant that others sell too, or it is alone."""
        sold: dict[str, dict[str, list[Bunch]]] = defaultdict(lambda: defaultdict(list))
        for offer, column in self.bunches.items():
            if self.model.highs[column]:
                sold[offer.plant][offer.shop].append(offer)
        for plant, by_shop in sold.items():
            if len(by_shop) < 2:
                continue
            self.alone[plant] = self.model.column(high=1)
            every = [offer for offers in by_shop.values() for offer in offers]
            most = sum(self.model.highs[self.bunches[offer]] * offer.stems for offer in every)
            for offers in by_shop.values():
                weights = {self.bunches[o]: o.stems * ((o in offers) - MOST_SHARE) for o in every}
                self.model.row({**weights, self.alone[plant]: -most}, high=0)

    # Aims

    def missing(self, purpose: int) -> dict[int, float]:
        """Stems missing for one purpose."""
        return {column: 1.0 for want, column in self.short.items() if want.purpose == purpose}

    def of_level(self, level: int) -> dict[int, float]:
        """Stems that are taken so gladly and no more."""
        return {arc: 1.0 for arc, each in self.given if each == level}

    def money(self) -> dict[int, float]:
        """Prices and deliveries."""
        costs = {column: float(o.price_minor) for o, column in self.bunches.items()}
        return costs | {self.trips[s.name]: float(s.delivery_minor) for s in self.shops}

    def wood(self) -> dict[int, float]:
        """Lengths brought home, trips and cuts."""
        costs = {column: o.stems * o.length_cm for o, column in self.bunches.items()}
        costs |= dict.fromkeys(self.trips.values(), SHOP_TRIP_CM)
        for (source, number), column in self.cut.items():
            cuts = (len(self.ways[source][number]) - 1) * CUT_CM
            costs[column] = cuts + (0.0 if isinstance(source, Bunch) else source.length_cm)
        return costs


def bought(
    wanted: Sequence[StemWanted],
    shops: Sequence[Shop],
    garden: Sequence[GardenBranch],
    *,
    split: bool = False,
    limits: Limits | None = None,
    progress: Progress | None = None,
) -> Bought:
    """The best that can be bought and cut for the stems wanted.

    First it is tried whether everybody can have what is wished for or as good; where not, each aim
    is sought in turn.
    """
    made = Programme(wanted, shops, garden, split=split)
    told = limits or Limits()
    every_short = {short: float(made.wants[want]) for want, short in made.short.items()}
    highs = list(made.model.highs)
    for column in (*every_short, *(arc for arc, level in made.given if level)):
        made.model.highs[column] = 0.0
    found = _money(made, told, progress, None)
    if found is None:
        made.model.highs = highs
        start = dict.fromkeys(range(made.model.size[1]), 0.0) | every_short
        aims = [made.missing(purpose) for purpose in range(len(PURPOSES))]
        aims += [made.of_level(2), made.of_level(1)]
        for aim in aims:
            start = _kept(made.model, aim, start, told)
        found = _money(made, told, progress, start)
        if found is None:  # the time was too short for anything better
            found = tuple(start.values()), 0.0, False
    values, bound, proven = found
    return _read(made, values, bound, proven)


def _kept(model: Model, aim: Costs, start: dict[int, float], limits: Limits) -> dict[int, float]:
    """The plan that is best for an aim, which a new row keeps for the aims that come after it."""
    if sum(cost * start[column] for column, cost in aim.items()) > WITHIN:
        solved = solve(model, aim, start=start, steps=1.0, most_s=limits.money_s)
        if solved.found:
            start = dict(enumerate(solved.values))
    if aim:
        # Stems are whole: what the solver's tolerance adds must not add up from aim to aim.
        worth = sum(cost * start[column] for column, cost in aim.items())
        model.row(aim, high=math.ceil(worth - WITHIN))
    return start


def _money(
    made: Programme, limits: Limits, progress: Progress | None, start: dict[int, float] | None
) -> tuple[tuple[float, ...], float, bool] | None:
    """The plan of least money and then of least wood; None where there is none at all."""
    model, money = made.model, made.money()
    alone = dict.fromkeys(made.alone.values(), 1.0)
    if alone:
        first = solve(model, alone, start=start, steps=1.0, most_s=limits.money_s)
        if first.state == "impossible":
            return None
        if first.found:
            start = dict(enumerate(first.values))
            model.row(alone, high=round(first.objective))
    step = reduce(math.gcd, (round(cost) for cost in money.values()), 0)
    least = solve(
        model,
        money,
        start=start,
        steps=float(step),
        gap=limits.gap,
        most_s=limits.money_s,
        progress=progress,
    )
    if not least.found:
        return None
    values = least.values
    spent = round(sum(cost * values[column] for column, cost in money.items()))
    model.row(money, high=spent)
    wood = solve(model, made.wood(), start=dict(enumerate(values)), steps=1.0, most_s=limits.wood_s)
    bound = min(spent, math.ceil(least.bound - WITHIN)) if math.isfinite(least.bound) else 0
    return (
        wood.values or values,
        bound,
        least.state == "best" and spent - bound <= limits.gap * spent,
    )


def _read(made: Programme, values: Sequence[float], bound: float, proven: bool) -> Bought:
    bunches = tuple(
        (offer, round(values[column]))
        for offer, column in made.bunches.items()
        if round(values[column])
    )
    counted = dict(bunches)
    cut: list[tuple[Way, int]] = []
    for source, every in made.ways.items():
        if not every:
            continue
        counts = [round(values[made.cut[source, number]]) for number in range(len(every))]
        if isinstance(source, Bunch):  # what is not cut up stays whole, and is there to be used
            stems = counted.get(source, 0) * source.stems
            counts[0] = stems - sum(counts[1:])
        cut += [(way, count) for way, count in zip(every, counts, strict=True) if count]
    alone = tuple(plant for plant, column in made.alone.items() if round(values[column]))
    return Bought(bunches, tuple(cut), round(bound), proven, alone)
