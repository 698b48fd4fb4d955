"""What to buy and what to cut, and who is short of what.

Model: everybody's stems are served in turn, people first and spares last, from all that the garden
and the shops could give. Nobody so served is given up for money, and anything more on offer never
makes somebody short. A plant that will do comes in only where neither the wished one nor one as
good can be had. Then bunches are given back as long as everybody stays served (`cheapest`). Of what
is bought, one role of a piece gets one plant if it can, the wished one first.
Source: one end, one stem; whole bunches; a grade's length as its lower bound: common practice.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from nejime.material.cheapest import Order, cheaper
from nejime.material.ends import Source
from nejime.material.matching import NONE
from nejime.material.serving import Market, Served, by_level, handed_out, one_kind, served
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
    asked = [replace(each, count=1) for each in wanted for _ in range(each.count)]
    full = served(Market.of(shops, garden), asked)
    order = cheaper(by_level(full).order)
    handed = handed_out(one_kind(replace(full, order=order)))
    uses = tuple(Use(each, end.plant, end, end.length_cm) for each, end in handed)
    return Buying(
        by_shop=_by_shop(order),
        uses=uses,
        from_garden=_from_garden(uses),
        short_of=_short_of(full, asked),
        left_over=_left_over(order, uses),
        heads=len({each.who for each in wanted if each.purpose == "person"}),
    )


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


def _short_of(full: Served, asked: Sequence[StemWanted]) -> tuple[Shortage, ...]:
    held = full.order.matching.held
    missing = Counter(each for each, at in zip(asked, held, strict=True) if at == NONE)
    pairs = zip(asked, full.seekers, strict=True)
    shorter = Counter((each, has) for each, has in pairs if each != has)
    return (
        *(shortage(replace(each, count=n), full.market.sources) for each, n in missing.items()),
        *(shorter_spare(replace(each, count=n), has) for (each, has), n in shorter.items()),
    )
