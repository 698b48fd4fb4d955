"""What to buy and what to cut, and who is short of what.

Model: everybody's stems are served in turn, people first and spares last, from all that the garden
and the shops could give (`matching`). Nobody so served is given up for money. A plant that will do
comes in only where neither the wished one nor one as good can be had. Then bunches are given back
as long as everybody stays served (`cheapest`), and of what is bought the wished plant comes first.
Ends go to the longest stem first, each the shortest end that reaches its aim.
Source: one end, one stem; whole bunches; a grade's length as its lower bound: common practice.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from nejime.material.cheapest import Order, cheaper, everything
from nejime.material.ends import Source, given_out, suffice
from nejime.material.matching import NONE, Matching
from nejime.material.shortage import Shortage, shortage, shorter_spare
from nejime.material.supply import Bunch, GardenBranch, Shop
from nejime.material.wanted import StemWanted


@dataclass(frozen=True, slots=True)
class Buy:
    """So many bunches of one kind, and their price together."""

    bunch: Bunch
    count: int
    price_minor: int

    @property
    def stems(self) -> int:
        """How many stems are in them."""
        return self.count * self.bunch.stems


@dataclass(frozen=True, slots=True)
class Use:
    """One end for one stem. `wanted.count` is 1; `length_cm` is the length of the end as it comes.

    A spare for which no long end could be had has the shorter length in `wanted`.
    """

    wanted: StemWanted
    plant: str
    from_: Source
    length_cm: float

    @property
    def from_garden(self) -> bool:
        """Whether it is cut in the garden."""
        return isinstance(self.from_, GardenBranch)

    @property
    def cut_to_cm(self) -> float:
        """The length to cut it to for the bucket: what is aimed at, or all that it has."""
        return min(self.wanted.aim_cm, self.length_cm)


@dataclass(frozen=True, slots=True)
class Cut:
    """So many branches to cut in the garden, none shorter than `least_cm`."""

    branch: GardenBranch
    count: int
    least_cm: float


@dataclass(frozen=True, slots=True)
class LeftOver:
    """Stems bought and not wanted: further material for the class."""

    bunch: Bunch
    count: int


@dataclass(frozen=True, slots=True)
class AtShop:
    """What one shop gets: bunches, delivery and both together."""

    shop: Shop
    buys: tuple[Buy, ...]
    bunches_minor: int
    delivery_minor: int

    @property
    def total_minor(self) -> int:
        """Bunches and delivery."""
        return self.bunches_minor + self.delivery_minor


@dataclass(frozen=True, slots=True)
class Buying:
    """What is bought and cut for a class, who gets what, and who is short of what.

    `uses` has one entry an end, in the order of the stems wanted. `heads` counts people.
    """

    by_shop: tuple[AtShop, ...]
    uses: tuple[Use, ...]
    from_garden: tuple[Cut, ...]
    short_of: tuple[Shortage, ...]
    left_over: tuple[LeftOver, ...]
    heads: int

    @property
    def buys(self) -> tuple[Buy, ...]:
        """Every purchase, shop by shop."""
        return tuple(buy for each in self.by_shop for buy in each.buys)

    @property
    def total_minor(self) -> int:
        """Bunches and deliveries."""
        return sum(each.total_minor for each in self.by_shop)

    @property
    def per_head_minor(self) -> int | None:
        """The total over the people, rounded up; None where nobody comes."""
        return -(-self.total_minor // self.heads) if self.heads else None

    @property
    def complete(self) -> bool:
        """Whether everybody has everything; spares apart."""
        return all(each.mild for each in self.short_of)


def buying(
    wanted: Sequence[StemWanted], shops: Sequence[Shop] = (), garden: Sequence[GardenBranch] = ()
) -> Buying:
    """What to buy and cut for the stems wanted, which are served in the order given.

    Raises `InputError` where a plant that somebody is short of is not in the plant table.
    """
    market = _Market(tuple(shops), tuple(garden))
    asked = _single(wanted)
    full, seekers = _served(market, asked)
    order = cheaper(_narrowed(market, seekers, full, StemWanted.level))
    final = _narrowed(market, seekers, order, _place)
    uses = _uses(market, seekers, final.matching)
    return Buying(
        by_shop=_by_shop(order),
        uses=uses,
        from_garden=_from_garden(uses),
        short_of=_short_of(market, asked, seekers, full.matching),
        left_over=_left_over(order, uses),
        heads=len({each.who for each in wanted if each.purpose == "person"}),
    )


@dataclass(frozen=True, slots=True)
class _Market:
    """Where ends may come from: garden branches first, then what the shops offer."""

    shops: tuple[Shop, ...]
    garden: tuple[GardenBranch, ...]

    @property
    def offers(self) -> tuple[Bunch, ...]:
        return tuple(bunch for shop in self.shops for bunch in shop.bunches)

    @property
    def sources(self) -> tuple[Source, ...]:
        return (*self.garden, *self.offers)

    def accepts(self, wanted: StemWanted) -> tuple[int, ...]:
        """The sources that serve a stem."""
        return tuple(place for place, each in enumerate(self.sources) if serves(each, wanted))


def serves(source: Source, wanted: StemWanted) -> bool:
    """Whether an end is of a plant that may be used, and long enough."""
    return source.length_cm >= wanted.least_cm and source.plant in wanted.plants


def _single(wanted: Iterable[StemWanted]) -> list[StemWanted]:
    return [replace(each, count=1) for each in wanted for _ in range(each.count)]


def _place(wanted: StemWanted, plant: str) -> int:
    """The place of a plant among those that may be used."""
    return wanted.plants.index(plant)


def _served(market: _Market, asked: Sequence[StemWanted]) -> tuple[Order, list[StemWanted]]:
    """Everybody served in turn from all that can be had; the spares with the length they got."""
    seekers = list(asked)
    ladder = _ladder(asked)

    def useful(offer: Bunch) -> int:
        return sum(serves(offer, each) or _as_shorter(offer, each, ladder) for each in asked)

    counts = tuple(count for shop in everything(market.shops, useful) for count in shop)
    ends = [branch.count for branch in market.garden]
    ends += [count * offer.stems for count, offer in zip(counts, market.offers, strict=True)]
    matching = Matching([market.accepts(each) for each in asked], ends)
    for number, each in enumerate(asked):
        if not matching.serve(number) and each.purpose == "spare":
            for shorter in _shorter(each, ladder):
                matching.accepts[number] = market.accepts(shorter)
                if matching.serve(number):
                    seekers[number] = shorter
                    break
    shop_of = tuple(place for place, shop in enumerate(market.shops) for _ in shop.bunches)
    first = len(market.garden)
    return Order(market.shops, market.offers, shop_of, first, counts, matching), seekers


def _ladder(asked: Iterable[StemWanted]) -> dict[str, list[StemWanted]]:
    """For each plant wished for, its stems from the longest to the shortest, one of a length."""
    found: dict[str, dict[float, StemWanted]] = {}
    for each in sorted(asked, key=lambda each: -each.least_cm):
        if each.purpose != "spare":
            found.setdefault(each.wished, {}).setdefault(each.least_cm, each)
    return {plant: list(lengths.values()) for plant, lengths in found.items()}


def _shorter(spare: StemWanted, ladder: dict[str, list[StemWanted]]) -> list[StemWanted]:
    """The same spare at the lengths of shorter stems of its plant, the longest first."""
    return [
        replace(
            spare,
            stem=each.stem,
            role=each.role,
            least_cm=each.least_cm,
            aim_cm=each.aim_cm,
            most_cm=each.most_cm,
        )
        for each in ladder.get(spare.wished, ())
        if each.least_cm < spare.least_cm
    ]


def _as_shorter(offer: Bunch, wanted: StemWanted, ladder: dict[str, list[StemWanted]]) -> bool:
    return wanted.purpose == "spare" and any(
        serves(offer, each) for each in _shorter(wanted, ladder)[-1:]
    )


def _narrowed(
    market: _Market,
    seekers: Sequence[StemWanted],
    order: Order,
    rank: Callable[[StemWanted, str], int | None],
) -> Order:
    """The order with each stem, in turn, kept to the plants of best rank that still serve all."""
    matching = order.matching
    for number, each in enumerate(seekers):
        if matching.held[number] == NONE:
            continue
        ranks = {
            place: rank(each, market.sources[place].plant) or 0
            for place in matching.accepts[number]
        }
        for limit in sorted(set(ranks.values())):
            allowed = tuple(place for place, has in ranks.items() if has <= limit)
            found = matching.narrowed(number, allowed)
            if found is not None:
                matching = found
                break
    return replace(order, matching=matching)


def _uses(market: _Market, seekers: Sequence[StemWanted], matching: Matching) -> tuple[Use, ...]:
    """Ends given out plant by plant; the matching says who gets which plant."""
    by_plant: dict[str, list[int]] = {}
    for number, source in enumerate(matching.held):
        if source != NONE:
            by_plant.setdefault(market.sources[source].plant, []).append(number)
    found: dict[int, Use] = {}
    for plant, numbers in by_plant.items():
        ends = [
            source
            for source, count in zip(market.sources, matching.ends, strict=True)
            if source.plant == plant
            for _ in range(count)
        ]
        wanted = [seekers[number] for number in numbers]
        for number, end in zip(numbers, given_out(_needs_cm(wanted, ends), ends), strict=True):
            found[number] = Use(seekers[number], plant, end, end.length_cm)
    return tuple(found[number] for number in sorted(found))


def _needs_cm(wanted: Sequence[StemWanted], ends: Sequence[Source]) -> list[float]:
    """What length each stem of a plant can have: its aim for as many as possible, else its least.

    Raised one after the other, in the order of the stems; the ends suffice for the least lengths.
    """
    needs = [each.least_cm for each in wanted]
    for number, each in enumerate(wanted):
        raised = [*needs[:number], each.aim_cm, *needs[number + 1 :]]
        if suffice(raised, ends):
            needs = raised
    return needs


def _by_shop(order: Order) -> tuple[AtShop, ...]:
    found = []
    for place, shop in enumerate(order.shops):
        buys = tuple(
            Buy(offer, count, count * offer.price_minor)
            for offer, count, where in zip(order.offers, order.counts, order.shop_of, strict=True)
            if where == place and count
        )
        if buys:
            found.append(AtShop(shop, buys, order.spent_minor(place), shop.delivery_minor))
    return tuple(found)


def _from_garden(uses: Iterable[Use]) -> tuple[Cut, ...]:
    cut: dict[GardenBranch, list[float]] = {}
    for use in uses:
        if isinstance(use.from_, GardenBranch):
            cut.setdefault(use.from_, []).append(use.cut_to_cm)
    return tuple(Cut(branch, len(lengths), max(lengths)) for branch, lengths in cut.items())


def _left_over(order: Order, uses: Iterable[Use]) -> tuple[LeftOver, ...]:
    used = Counter(use.from_ for use in uses)
    bought: Counter[Bunch] = Counter()
    for offer, count in zip(order.offers, order.counts, strict=True):
        bought[offer] += count * offer.stems
    return tuple(
        LeftOver(bunch, stems - used[bunch])
        for bunch, stems in bought.items()
        if stems > used[bunch]
    )


def _short_of(
    market: _Market,
    asked: Sequence[StemWanted],
    seekers: Sequence[StemWanted],
    matching: Matching,
) -> tuple[Shortage, ...]:
    missing = Counter(each for each, held in zip(asked, matching.held, strict=True) if held == NONE)
    shorter = Counter(pair for pair in zip(asked, seekers, strict=True) if pair[0] != pair[1])
    return (
        *(shortage(replace(each, count=count), market.sources) for each, count in missing.items()),
        *(shorter_spare(replace(each, count=count), has) for (each, has), count in shorter.items()),
    )
