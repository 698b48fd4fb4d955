"""What to buy and what to cut, and who is short of what.

Model: what is bought and how branches are cut is the best plan of `programme`; `serving` says who
gets which end of it. People are served first, spares last. Nobody is given up for money, and a
plant that will do comes in only where neither the wished one nor one as good can be had.
Source: one end, one stem; whole bunches; a grade's length as its lower bound: common practice.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from nejime.basis.sayings import Saying
from nejime.material.ends import End, Source, least_cut_cm
from nejime.material.matching import NONE
from nejime.material.programme import Bought, Limits, bought
from nejime.material.serving import Served, handed_out, served
from nejime.material.shortage import Shortage, mending, shortage, shorter_spare
from nejime.material.solving import Progress
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
    """One end for one stem. `wanted.count` is 1; `branch` counts the branches of its source.

    A spare for which no long end could be had has the shorter length in `wanted`.
    """

    wanted: StemWanted
    end: End
    branch: int

    @property
    def plant(self) -> str:
        """The plant's id."""
        return self.end.plant

    @property
    def from_(self) -> Source:
        """Where it comes from."""
        return self.end.source

    @property
    def length_cm(self) -> float:
        """The length of the end as it comes."""
        return self.end.length_cm

    @property
    def from_garden(self) -> bool:
        """Whether it is cut in the garden."""
        return isinstance(self.from_, GardenBranch)

    @property
    def cut_to_cm(self) -> float:
        """The length to cut it to for the bucket: what is aimed at, or all that it has."""
        aim_cm = self.wanted.aim_cm
        least_cm = least_cut_cm(self.end, self.wanted)
        return min(max(aim_cm, least_cm or aim_cm), self.length_cm)


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

    `uses` has one entry an end, in the order of the stems wanted. `heads` counts people. No plan
    with as many stems costs less than `bound_minor`; `proven`: this one costs no more. `alone`:
    plants that come from one shop although two were asked for. `mended_by` says what one purchase
    would make everybody complete, where somebody is short.
    """

    by_shop: tuple[AtShop, ...]
    uses: tuple[Use, ...]
    from_garden: tuple[Cut, ...]
    short_of: tuple[Shortage, ...]
    left_over: tuple[LeftOver, ...]
    heads: int
    bound_minor: int = 0
    proven: bool = True
    alone: tuple[str, ...] = ()
    mended_by: Saying | None = None

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
    wanted: Sequence[StemWanted],
    shops: Sequence[Shop] = (),
    garden: Sequence[GardenBranch] = (),
    *,
    split: bool = False,
    limits: Limits | None = None,
    progress: Progress | None = None,
) -> Buying:
    """What to buy and cut for the stems wanted, which are served in the order given.

    `split`: of a plant that several shops have, none sells more than two thirds. Raises
    `InputError` where a plant that somebody is short of is not in the plant table.
    """
    asked = [replace(each, count=1) for each in wanted for _ in range(each.count)]
    plan, full = _planned(asked, shops, garden, split, limits, progress)
    handed = handed_out(full)
    uses = tuple(_numbered(full.seekers, handed, plan))
    short = tuple(_short_of(asked, full, (*_offered(shops), *garden)))
    return Buying(
        by_shop=_by_shop(plan, shops),
        uses=uses,
        from_garden=_from_garden(uses),
        short_of=short,
        left_over=_left_over(plan, uses),
        heads=len({each.who for each in wanted if each.purpose == "person"}),
        bound_minor=plan.bound_minor,
        proven=plan.proven,
        alone=plan.alone,
        mended_by=mending(short),
    )


def _planned(
    asked: Sequence[StemWanted],
    shops: Sequence[Shop],
    garden: Sequence[GardenBranch],
    split: bool,
    limits: Limits | None,
    progress: Progress | None,
) -> tuple[Bought, Served]:
    """What is bought and who gets what of it; spares that cannot be had long are shorter."""
    seekers = list(asked)
    while True:
        plan = bought(
            _together(seekers), shops, garden, split=split, limits=limits, progress=progress
        )
        counts = Counter(end for way, count in plan.ways for end in way for _ in range(count))
        full = served(seekers, tuple(counts.items()))
        shorter = {
            number: spare
            for number, at in enumerate(full.matching.held)
            if at == NONE and (spare := _shorter(seekers[number], asked)) is not None
        }
        if not shorter:
            return plan, full
        seekers = [shorter.get(number, each) for number, each in enumerate(seekers)]


def _together(stems: Iterable[StemWanted]) -> list[StemWanted]:
    """Equal stems as one entry with their number."""
    return [replace(each, count=count) for each, count in Counter(stems).items()]


def _shorter(spare: StemWanted, asked: Iterable[StemWanted]) -> StemWanted | None:
    """A spare at the length of the next shorter stem of its plant, if there is one."""
    if spare.purpose != "spare":
        return None
    family = [
        each
        for each in asked
        if each.wished == spare.wished
        and each.purpose != "spare"
        and each.least_cm < spare.least_cm
    ]
    if not family:
        return None
    like = max(family, key=lambda each: each.least_cm)
    return replace(
        spare,
        stem=like.stem,
        role=like.role,
        least_cm=like.least_cm,
        aim_cm=like.aim_cm,
        most_cm=like.most_cm,
    )


def _numbered(seekers: Sequence[StemWanted], handed: dict[int, End], plan: Bought) -> Iterator[Use]:
    """The ends with the branches that they are parts of."""
    branches: dict[End, list[int]] = defaultdict(list)
    first: Counter[Source] = Counter()
    for way, count in plan.ways:
        source = way[0].source
        for end in way:
            branches[end] += range(first[source] + 1, first[source] + count + 1)
        first[source] += count
    for numbers in branches.values():
        numbers.sort(reverse=True)
    for seeker, end in handed.items():
        yield Use(seekers[seeker], end, branches[end].pop())


def _offered(shops: Iterable[Shop]) -> Iterator[Bunch]:
    return (bunch for shop in shops for bunch in shop.bunches)


def _by_shop(plan: Bought, shops: Sequence[Shop]) -> tuple[AtShop, ...]:
    found = []
    for shop in shops:
        buys = tuple(
            Buy(offer, count, count * offer.price_minor)
            for offer, count in plan.bunches
            if offer.shop == shop.name
        )
        if buys:
            found.append(AtShop(shop, buys, sum(b.price_minor for b in buys), shop.delivery_minor))
    return tuple(found)


def _from_garden(uses: Iterable[Use]) -> tuple[Cut, ...]:
    """Branches, not ends: a branch that gives two ends is cut once, at its longest."""
    cut: dict[GardenBranch, dict[int, float]] = defaultdict(dict)
    for use in uses:
        if isinstance(use.from_, GardenBranch):
            needs_cm = use.from_.length_cm if use.from_.shoots else use.cut_to_cm
            own = cut[use.from_]
            own[use.branch] = max(own.get(use.branch, 0.0), needs_cm)
    return tuple(
        Cut(branch, len(lengths), max(lengths.values())) for branch, lengths in cut.items()
    )


def _left_over(plan: Bought, uses: Iterable[Use]) -> tuple[LeftOver, ...]:
    used: dict[Source, set[int]] = defaultdict(set)
    for use in uses:
        used[use.from_].add(use.branch)
    left = {bunch: count * bunch.stems - len(used[bunch]) for bunch, count in plan.bunches}
    return tuple(LeftOver(bunch, stems) for bunch, stems in left.items() if stems)


def _short_of(
    asked: Sequence[StemWanted], full: Served, sources: Sequence[Source]
) -> Iterator[Shortage]:
    held = full.matching.held
    missing = Counter(each for each, at in zip(asked, held, strict=True) if at == NONE)
    for each, count in missing.items():
        yield shortage(replace(each, count=count), sources)
    pairs = zip(asked, full.seekers, held, strict=True)
    shorter = Counter((each, has) for each, has, at in pairs if at != NONE and each != has)
    for (each, has), count in shorter.items():
        yield shorter_spare(replace(each, count=count), has)
