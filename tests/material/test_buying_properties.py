"""What holds of every plan: nothing used twice, nothing too short, nobody forgotten; and against
trying everything on instances small enough."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import product
from random import Random

import numpy as np
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from material.making import FORSYTHIA, GARDENS, QUINCE, SHOPS, TULIP, shop, want, wants
from scipy.optimize import linear_sum_assignment
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import maximum_bipartite_matching

from nejime.material.buying import buying
from nejime.material.ends import End, given_out, suffice
from nejime.material.supply import Bunch, GardenBranch, Shop
from nejime.material.wanted import StemWanted


@given(wants(), SHOPS, GARDENS)
def test_no_end_is_used_twice_and_no_bunch_is_broken(asked, shops, garden):
    result = buying(asked, shops, garden)
    used = Counter(use.from_ for use in result.uses)
    have: Counter[Bunch | GardenBranch] = Counter()
    for branch in garden:
        have[branch] += branch.count
    for buy in result.buys:
        have[buy.bunch] += buy.count * buy.bunch.stems
        assert buy.price_minor == buy.count * buy.bunch.price_minor
    assert all(number <= have[source] for source, number in used.items())
    left = Counter({left.bunch: left.count for left in result.left_over})
    bought = {source: number for source, number in have.items() if isinstance(source, Bunch)}
    assert {source: used[source] + left[source] for source in bought} == bought
    cut = Counter({cut.branch: cut.count for cut in result.from_garden})
    assert cut == Counter({s: n for s, n in used.items() if isinstance(s, GardenBranch)})


@given(wants(), SHOPS, GARDENS)
def test_every_stem_is_served_with_what_is_long_enough_or_told_to_be_missing(asked, shops, garden):
    result = buying(asked, shops, garden)
    for use in result.uses:
        assert use.plant == use.from_.plant
        assert use.plant in use.wanted.plants
        assert use.from_.length_cm == use.length_cm >= use.wanted.least_cm
    told = Counter[tuple[str, str, str]]()
    for use in result.uses:
        told[use.wanted.who, use.wanted.purpose, ""] += 1
    for short in result.short_of:
        if short.says.key != "material.short.shorter-spare":
            told[short.who, short.purpose, ""] += short.count
    assert told == Counter(
        (each.who, each.purpose, "") for each in asked for _ in range(each.count)
    )


@given(wants(), SHOPS, GARDENS)
def test_every_shop_agrees_to_sell(asked, shops, garden):
    result = buying(asked, shops, garden)
    for each in result.by_shop:
        assert each.bunches_minor >= each.shop.minimum_minor
        for buy in each.buys:
            assert buy.bunch in each.shop.bunches
            assert buy.count >= max(1, buy.bunch.least)
            assert buy.bunch.most is None or buy.count <= buy.bunch.most
    assert result.total_minor == sum(buy.price_minor for buy in result.buys) + sum(
        each.shop.delivery_minor for each in result.by_shop
    )


def worth(asked, shops, garden) -> tuple[int, ...]:
    """What is sought, the first aim first: people's stems and spares missing, levels, money.

    Where somebody is short, people are served in turn, and only the number of stems counts.
    """
    result = buying(asked, shops, garden)
    missing = [0, 0]
    for short in result.short_of:
        if short.says.key != "material.short.shorter-spare":
            missing[short.mild] += short.count
    levels = [sum(use.wanted.level(use.plant) == level for use in result.uses) for level in (2, 1)]
    return (*missing, *([0, 0, 0] if missing[0] else [*levels, result.total_minor]))


@given(wants(), SHOPS, GARDENS)
def test_one_shop_more_is_never_worse_and_one_fewer_never_better(asked, shops, garden):
    assume(shops)
    asked = tuple(each for each in asked if each.purpose == "person")
    every = worth(asked, shops, garden)
    for place in range(len(shops)):
        assert every <= worth(asked, shops[:place] + shops[place + 1 :], garden)


@given(wants(), SHOPS, GARDENS)
def test_one_branch_more_is_never_worse(asked, shops, garden):
    assume(garden)
    asked = tuple(each for each in asked if each.purpose == "person")
    assert worth(asked, shops, garden) <= worth(asked, shops, garden[1:])


@given(wants(), SHOPS, GARDENS)
def test_equal_questions_have_equal_answers(asked, shops, garden):
    assert buying(asked, shops, garden) == buying(asked, shops, garden)


# Trying everything: an independent statement of the model, with scipy's matching.

Counts = dict[Bunch, int]


def orders(shops: Sequence[Shop], most: int = 7) -> Iterator[tuple[int, Counts]]:
    """Every order that the shops would sell, up to so many bunches of an offer, and its cost."""
    offers = [(each, bunch) for each in shops for bunch in each.bunches]
    ranges = [
        [0, *range(max(1, bunch.least), 1 + (most if bunch.most is None else bunch.most))]
        for _, bunch in offers
    ]
    for numbers in product(*ranges):
        cost, sold = 0, True
        for each in shops:
            own = [n for n, (where, _) in zip(numbers, offers, strict=True) if where is each]
            spent = sum(n * b.price_minor for n, b in zip(own, each.bunches, strict=True))
            if any(own):
                cost += spent + each.delivery_minor
                sold = sold and spent >= each.minimum_minor
        if sold:
            counts: Counts = {}
            for number, (_, bunch) in zip(numbers, offers, strict=True):
                counts[bunch] = counts.get(bunch, 0) + number
            yield cost, counts


def served(allowed: Sequence[tuple[StemWanted, int]], ends: Sequence[Bunch | GardenBranch]) -> int:
    """How many stems can be served together, each with plants up to its level."""
    if not allowed or not ends:
        return 0
    edges = np.array(
        [
            [
                end.length_cm >= each.least_cm
                and end.plant in each.plants
                and each.level(end.plant) <= level
                for end in ends
            ]
            for each, level in allowed
        ],
        dtype=int,
    )
    return int((maximum_bipartite_matching(csr_matrix(edges), perm_type="column") >= 0).sum())


def ends_of(counts: Counts, garden: Sequence[GardenBranch]) -> list[Bunch | GardenBranch]:
    bought = [bunch for bunch, count in counts.items() for _ in range(count * bunch.stems)]
    return [*(branch for branch in garden for _ in range(branch.count)), *bought]


@st.composite
def small(draw: st.DrawFn):
    """People's stems, shops that differ in every bunch, a garden."""
    asked = tuple(each for each in draw(wants(most=5)) if each.purpose == "person")
    shops, garden = draw(SHOPS), draw(GARDENS)
    offers = [bunch for each in shops for bunch in each.bunches]
    assume(len(offers) <= 3 and len(set(offers)) == len(offers))
    return asked, shops, garden


def best(allowed: Sequence[StemWanted], ends: Sequence[Bunch | GardenBranch]):
    """The fewest missing, of these the fewest at level 2, of these the fewest at level 1."""
    if not allowed or not ends:
        return len(allowed), 0, 0
    none, last, will_do = 10_000, 100, 1
    costs = [
        [
            {0: 0, 1: will_do, 2: last}[each.level(end.plant)]
            if end.plant in each.plants and end.length_cm >= each.least_cm
            else none
            for end in ends
        ]
        + [none] * len(allowed)
        for each in allowed
    ]
    rows, columns = linear_sum_assignment(costs)
    total = sum(costs[row][column] for row, column in zip(rows, columns, strict=True))
    return total // none, total % none // last, total % last


@given(small())
@settings(max_examples=120)
def test_everything_is_as_good_and_as_cheap_as_any_order_could_make_it(told):
    asked, shops, garden = told
    least = min((*best(asked, ends_of(counts, garden)), cost) for cost, counts in orders(shops))
    missing, spare, last, will_do, money = worth(asked, shops, garden)
    assert missing == least[0]
    assert not spare
    if not missing:  # else people are served in turn, though a later one would ask for less
        assert (last, money) == (least[1], least[3])
        assert will_do >= least[2]  # who comes first chooses first of what there is


def generated(chance: Random) -> tuple[list[StemWanted], list[Shop], list[GardenBranch]]:
    """A small class with invented prices: one shop in three asks for a minimum or a delivery."""
    plants, lengths = [TULIP, FORSYTHIA, QUINCE], [30.0, 40.0, 50.0, 60.0]
    asked = []
    for number in range(chance.randint(3, 9)):
        likes = chance.sample(plants, chance.randint(1, 2))
        least_cm = chance.choice([25.0, 35.0, 45.0])
        asked.append(want(chance.choice("AB"), *likes, least_cm=least_cm, stem=f"sub-{number}"))
    shops = [
        shop(
            name,
            *(
                (
                    chance.choice(plants),
                    chance.choice([1, 2, 3, 5]),
                    chance.randint(3, 30),
                    chance.choice(lengths),
                    chance.choice([0, 0, 2]),
                )
                for _ in range(2)
            ),
            minimum=chance.choice([0, 0, 20]),
            delivery=chance.choice([0, 0, 4]),
        )
        for name in ("one", "two")
    ]
    branch = GardenBranch(chance.choice(plants), chance.choice(lengths), chance.randint(1, 3))
    return asked, shops, [branch]


def test_money_is_the_least_over_sixty_classes():
    chance = Random(4)
    for _ in range(60):
        asked, shops, garden = generated(chance)
        result = buying(asked, shops, garden)
        allowed = [(use.wanted, 0) for use in result.uses]
        by_cost = sorted(orders(shops, most=9), key=lambda pair: pair[0])
        least = next(
            cost
            for cost, counts in by_cost
            if served(allowed, ends_of(counts, garden)) == len(allowed)
        )
        assert result.total_minor == least == result.bound_minor
        assert result.proven


@given(
    st.lists(st.sampled_from([30.0, 40.0, 50.0]), max_size=5),
    st.lists(st.sampled_from([30.0, 40.0, 50.0]), max_size=6),
)
def test_ends_suffice_exactly_when_they_can_be_given_out(needs, lengths):
    sources = [GardenBranch(TULIP, length) for length in lengths]
    ends = [End(source, source.length_cm) for source in sources]
    allowed = [(want(least_cm=need), 0) for need in needs]
    assert suffice(needs, ends) == (served(allowed, sources) == len(needs))
    if suffice(needs, ends):
        given = given_out(needs, ends)
        assert all(end.length_cm >= need for end, need in zip(given, needs, strict=True))
        assert Counter(given) <= Counter(ends)


def test_a_class_of_sixty_and_five_shops_is_planned():
    asked = [want(f"P{n}", TULIP, least_cm=30 + n % 20, count=5) for n in range(60)]
    shops = [
        shop(f"shop {n}", (TULIP, 5, 400 + n, 45), (TULIP, 20, 1500 - n, 55), delivery=100 * n)
        for n in range(5)
    ]
    result = buying(asked, shops)
    assert result.complete
    assert len(result.uses) == 300
