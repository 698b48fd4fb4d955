"""Who is served from where: from all that can be had, and then with the plants liked best.

Model: each single stem wanted is a seeker, each kind of branch or bunch a source (`matching`).
Seekers are served in the order in which they ask. A spare for which no long end is left takes the
length of the next shorter stem of its plant. A choice of plant is narrowed seeker by seeker, in
the same order, as far as everybody stays served.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from nejime.material.cheapest import Order, everything
from nejime.material.ends import Source, given_out, suffice
from nejime.material.matching import NONE, Matching
from nejime.material.supply import Bunch, GardenBranch, Shop
from nejime.material.wanted import StemWanted


@dataclass(frozen=True, slots=True)
class Market:
    """Where ends may come from: `sources` are the garden's branches, then what the shops offer."""

    shops: tuple[Shop, ...]
    garden: tuple[GardenBranch, ...]
    sources: tuple[Source, ...]

    @classmethod
    def of(cls, shops: Sequence[Shop], garden: Sequence[GardenBranch]) -> Market:
        """The market of these shops and this garden."""
        offers = [bunch for shop in shops for bunch in shop.bunches]
        return cls(tuple(shops), tuple(garden), (*garden, *offers))

    def accepts(self, wanted: StemWanted) -> tuple[int, ...]:
        """The sources that serve a stem."""
        return tuple(place for place, each in enumerate(self.sources) if serves(each, wanted))

    def order(self, counts: Sequence[Sequence[int]], asked: Iterable[StemWanted]) -> Order:
        """So many bunches of each offer in each shop, with nobody served yet."""
        flat = tuple(count for shop in counts for count in shop)
        offers = tuple(bunch for shop in self.shops for bunch in shop.bunches)
        ends = [branch.count for branch in self.garden]
        ends += [count * offer.stems for count, offer in zip(flat, offers, strict=True)]
        return Order(
            shops=self.shops,
            offers=offers,
            shop_of=tuple(at for at, shop in enumerate(self.shops) for _ in shop.bunches),
            first=len(self.garden),
            counts=flat,
            matching=Matching([self.accepts(each) for each in asked], ends),
        )


@dataclass(frozen=True, slots=True)
class Served:
    """An order with its seekers; a spare among them has the length that it got."""

    market: Market
    order: Order
    seekers: tuple[StemWanted, ...]


def serves(source: Source, wanted: StemWanted) -> bool:
    """Whether an end is of a plant that may be used, and long enough."""
    return source.length_cm >= wanted.least_cm and source.plant in wanted.plants


def served(market: Market, asked: Sequence[StemWanted]) -> Served:
    """Everybody served, in turn, from everything that can be had."""
    lengths = [(each, *_shorter(each, asked)) for each in asked]

    def useful(offer: Bunch) -> int:
        return sum(serves(offer, each[-1]) for each in lengths)

    order = market.order(everything(market.shops, useful), asked)
    seekers = tuple(
        _serve(market, order.matching, seeker, tries) for seeker, tries in enumerate(lengths)
    )
    return Served(market, order, seekers)


def _serve(
    market: Market, matching: Matching, seeker: int, tries: Sequence[StemWanted]
) -> StemWanted:
    """Serve a seeker with the first of these that is possible; what it got, or asked for."""
    for each in tries:
        matching.accepts[seeker] = market.accepts(each)
        if matching.serve(seeker):
            return each
    return tries[0]


def _shorter(spare: StemWanted, asked: Iterable[StemWanted]) -> Iterator[StemWanted]:
    """A spare at the lengths of the shorter stems of its plant, the longest first."""
    if spare.purpose != "spare":
        return
    family = {
        each.least_cm: each
        for each in asked
        if each.wished == spare.wished and each.least_cm < spare.least_cm
    }
    for _, each in sorted(family.items(), reverse=True):
        yield replace(
            spare,
            stem=each.stem,
            role=each.role,
            least_cm=each.least_cm,
            aim_cm=each.aim_cm,
            most_cm=each.most_cm,
        )


def by_level(full: Served) -> Served:
    """Each stem kept to the plants taken most gladly that still leave everybody served."""
    matching = full.order.matching
    for seeker, each in enumerate(full.seekers):
        levels = {at: each.level(full.market.sources[at].plant) for at in matching.accepts[seeker]}
        for most in sorted(set(levels.values())):
            allowed = tuple(at for at, level in levels.items() if level <= most)
            narrowed = matching.narrowed({seeker: allowed})
            if narrowed is not None:
                matching = narrowed
                break
    return replace(full, order=replace(full.order, matching=matching))


def one_kind(full: Served) -> Served:
    """One plant for each role of a piece, the wished one first, where that leaves all served.

    Where no one plant can serve the whole role, its stems choose one after the other.
    """
    matching = full.order.matching
    roles: dict[object, list[int]] = {}
    for seeker, each in enumerate(full.seekers):
        if matching.held[seeker] != NONE:
            role = (each.who, each.purpose, each.role, each.choices)
            roles.setdefault(role, []).append(seeker)
    for members in roles.values():
        for group in (members, *([seeker] for seeker in members)):
            matching = _of_one_kind(full, matching, group) or matching
    return replace(full, order=replace(full.order, matching=matching))


def _of_one_kind(full: Served, matching: Matching, seekers: Sequence[int]) -> Matching | None:
    for plant in full.seekers[seekers[0]].plants:
        narrowed = matching.narrowed(
            {
                seeker: tuple(
                    at for at in matching.accepts[seeker] if full.market.sources[at].plant == plant
                )
                for seeker in seekers
            }
        )
        if narrowed is not None:
            return narrowed
    return None


def handed_out(full: Served) -> list[tuple[StemWanted, Source]]:
    """One end for each seeker that is served, plant by plant; the matching says which plant."""
    matching, sources = full.order.matching, full.market.sources
    members: dict[str, list[int]] = {}
    for seeker, at in enumerate(matching.held):
        if at != NONE:
            members.setdefault(sources[at].plant, []).append(seeker)
    found: dict[int, Source] = {}
    for plant, seekers in members.items():
        pairs = zip(sources, matching.ends, strict=True)
        ends = [each for each, count in pairs if each.plant == plant for _ in range(count)]
        needs_cm = _needs_cm([full.seekers[seeker] for seeker in seekers], ends)
        found |= dict(zip(seekers, given_out(needs_cm, ends), strict=True))
    return [(full.seekers[seeker], found[seeker]) for seeker in sorted(found)]


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
