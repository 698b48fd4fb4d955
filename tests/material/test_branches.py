"""Branches with side shoots: which ends a cutting gives, and what can be served from them."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import combinations_with_replacement, product
from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from material.making import FORSYTHIA, TULIP, shop, want
from scipy.optimize import Bounds, LinearConstraint, linear_sum_assignment, milp

from nejime.material.branches import LEAST_END_CM, ways
from nejime.material.buying import buying
from nejime.material.ends import END_MM, End, least_cut_cm, serves
from nejime.material.programme import Programme
from nejime.material.supply import Bunch, GardenBranch, Shoot, Shop
from nejime.material.wanted import StemWanted

FORK = GardenBranch(FORSYTHIA, 70, shoots=(Shoot(35, 30),))
TREE = GardenBranch(FORSYTHIA, 100, shoots=(Shoot(40, 30), Shoot(60, 25), Shoot(80, 18)))


def lengths(branch: GardenBranch, *, natural: bool) -> set[tuple[float, ...]]:
    """The ways that begin with a natural end, or the others, each the longest end first."""
    return {
        tuple(sorted((round(end.length_cm, 6) for end in way), reverse=True))
        for way in ways(branch)
        if way[0].natural is natural
    }


def all_served(branch: GardenBranch, *stems: tuple[float, bool]) -> bool:
    """Whether one branch gives all these stems: least length, and whether it keeps its shoots."""
    asked = [
        want("Ada", FORSYTHIA, least_cm=least_cm, stem=f"sub-{n}", with_shoots=shoots)
        for n, (least_cm, shoots) in enumerate(stems)
    ]
    return buying(asked, garden=[branch]).complete


@pytest.mark.source("hand", "the shoot or the branch keeps the 35 cm below: 70 + 30 or 35 + 65")
def test_a_fork_gives_two_stems_in_two_ways():
    assert lengths(FORK, natural=False) == {(70, 30), (65, 35)}
    assert all_served(FORK, (64, False), (34, False))
    assert not all_served(FORK, (69, False), (34, False))


@pytest.mark.source("practice", "a piece keeps its natural end: what is left below is bare wood")
def test_a_straight_stem_gives_one_stem_however_long_it_is():
    result = buying([want(least_cm=40, count=2)], garden=[GardenBranch(TULIP, 100)])
    assert sum(short.count for short in result.short_of) == 1


@pytest.mark.source("hand", "the lowest shoot is 60 below the end: 60 is two thirds of 90")
def test_a_natural_stem_keeps_the_shoots_on_its_upper_two_thirds():
    assert all_served(TREE, (90, True), (30, False))
    assert not all_served(TREE, (91, True), (30, False))
    assert lengths(TREE, natural=True) == {(100,), (90, 30), (60, 30, 25), (30, 30, 25, 18)}


@pytest.mark.source(
    "hand",
    "every choice of the shoots that keep the wood below, written out; 20 + 18 above the uppermost",
)
def test_three_forks_give_eight_ways():
    assert lengths(TREE, natural=False) == {
        (100, 30, 25, 18),
        (70, 60, 25, 18),
        (85, 40, 30, 18),
        (98, 30, 25, 20),
        (70, 45, 40, 18),
        (70, 58, 25, 20),
        (85, 38, 30, 20),
        (70, 45, 38, 20),
    }


@pytest.mark.source("practice", "a shoot taken off is a bare twig, no branch with side shoots")
def test_a_stem_that_wants_its_shoots_is_no_side_shoot_and_not_stripped():
    assert not all_served(FORK, (20, True), (20, True))
    assert all_served(FORK, (20, True), (20, False))


@pytest.mark.source("hand", "10 in 18.00 or 5 in 10.00; 12 stems: one of each, 28.00")
def test_two_sizes_of_bunch():
    shops = [shop("s", (TULIP, 10, 1800, 60), (TULIP, 5, 1000, 60))]
    assert buying([want(count=12)], shops).total_minor == 2800


@pytest.mark.source("hand", "60 cm 10 in 9.00, 80 cm 10 in 14.00: all from the long bunch; 14 + 9")
def test_a_long_bunch_serves_the_short_stems_too():
    shops = [shop("s", (TULIP, 10, 900, 60), (TULIP, 10, 1400, 80))]

    def cost(short: int) -> int:
        asked = [want(least_cm=70, count=4), want(least_cm=50, count=short, stem="second")]
        return buying(asked, shops).total_minor

    assert (cost(6), cost(12)) == (1400, 2300)


@pytest.mark.source("hand", "15.00 + 3.00 = 18.00; with 16.00 + 3.00 the other shop's 18.00")
@pytest.mark.parametrize("price", [1500, 1600])
def test_a_delivery_is_part_of_the_price(price):
    shops = [shop("a", (TULIP, 10, price, 60), delivery=300), shop("b", (TULIP, 10, 1800, 60))]
    assert buying([want(count=8)], shops).total_minor == 1800


@pytest.mark.source("hand", "at least 2 bunches of 5 at 8.00, or 10 at 17.00: 16.00")
def test_the_least_that_a_shop_sells():
    shops = [shop("a", (TULIP, 5, 800, 60, 2), (TULIP, 10, 1700, 60))]
    assert buying([want(count=4)], shops).total_minor == 1600


@pytest.mark.source("hand", "2 mm at its end, 8 mm at 60 cm: 0.1 mm a cm, so 6 mm are at 40 cm")
def test_a_stem_is_cut_where_it_has_the_thickness():
    end = End(GardenBranch(FORSYTHIA, 60, thickness_mm=8), 60)
    assert end.taper_mm_cm == pytest.approx((8 - END_MM) / 60)
    asked = want("Ada", FORSYTHIA, least_cm=35, aim_cm=43, thinnest_mm=6)
    assert least_cut_cm(end, asked) == pytest.approx(40)
    assert not serves(end, want("Ada", FORSYTHIA, least_cm=30, aim_cm=33, thinnest_mm=6))
    assert not serves(end, want("Ada", FORSYTHIA, least_cm=45, thickest_mm=6))
    unknown = End(GardenBranch(FORSYTHIA, 60), 60)
    assert serves(unknown, want("Ada", FORSYTHIA, least_cm=45, thickest_mm=6))


branches = st.builds(
    lambda length, shoots: GardenBranch(
        FORSYTHIA,
        length,
        shoots=tuple(Shoot(share * length, long) for share, long in shoots),
    ),
    st.sampled_from([60.0, 90.0, 120.0]),
    st.lists(st.tuples(st.floats(0.1, 0.9), st.sampled_from([5.0, 15.0, 30.0])), max_size=5),
)


@given(branches)
def test_no_wood_is_there_twice(branch):
    wood_cm = branch.length_cm + sum(shoot.length_cm for shoot in branch.shoots)
    for way in ways(branch):
        stripped = [end.length_cm for end in way if not (end.natural and end.part == 0)]
        assert sum(end.length_cm for end in way) <= wood_cm + 1e-6
        assert len({end.part for end in way}) == len(way)
        assert all(length >= LEAST_END_CM for length in stripped)


@given(branches, st.floats(1.1, 3))
def test_a_larger_branch_gives_larger_ends(branch, scale):
    larger = GardenBranch(
        branch.plant,
        branch.length_cm * scale,
        shoots=tuple(Shoot(s.at_cm * scale, s.length_cm * scale) for s in branch.shoots),
    )
    most = max(end.length_cm for way in ways(branch) for end in way)
    assert max(end.length_cm for way in ways(larger) for end in way) == pytest.approx(most * scale)
    assert max(map(len, ways(larger))) >= max(map(len, ways(branch)))


# Trying everything: all bunches, all ways to cut every branch, all who might get which end.


def small(chance: Random) -> tuple[list[StemWanted], list[Shop], list[GardenBranch]]:
    """A class of a few stems and branches with shoots; its prices are invented."""

    def shoots(length_cm: float, count: int) -> tuple[Shoot, ...]:
        at = chance.sample(range(15, int(length_cm * 0.7), 5), count)
        return tuple(Shoot(float(each), float(chance.randrange(10, 30))) for each in at)

    asked = [
        want(
            "Ada",
            FORSYTHIA,
            least_cm=float(chance.randrange(15, 75)),
            count=chance.choice([1, 1, 2]),
            stem=f"sub-{number}",
            with_shoots=chance.random() < 0.4,
        )
        for number in range(4)
    ]
    bunches = [
        Bunch("a", FORSYTHIA, 2, 400, 50.0, most=2, shoots=shoots(50, 1)),
        Bunch("b", FORSYTHIA, 2, chance.choice([500, 700]), 80.0, most=1, shoots=shoots(80, 2)),
        Bunch("b", FORSYTHIA, 2, chance.choice([250, 450]), 70.0, 2, 3),
    ]
    shops = [Shop("a", (bunches[0],)), Shop("b", tuple(bunches[1:]), delivery_minor=300)]
    lengths_cm = [chance.choice([40.0, 60.0, 90.0]) for _ in range(2)]
    garden = [GardenBranch(FORSYTHIA, each, shoots=shoots(each, 1)) for each in lengths_cm]
    return asked, shops, garden


def least_cost(asked: list[StemWanted], shops: list[Shop], garden: list[GardenBranch]) -> int:
    """The least money with which everybody is complete; -1 where nobody can make them so."""
    stems = [replaced for each in asked for replaced in [each] * each.count]
    offers = [bunch for each in shops for bunch in each.bunches]
    found = []
    for numbers in product(*(range((bunch.most or 0) + 1) for bunch in offers)):
        counts = dict(zip(offers, numbers, strict=True))
        if any(0 < number < bunch.least for bunch, number in counts.items()):
            continue
        cost = sum(number * bunch.price_minor for bunch, number in counts.items())
        cost += sum(
            each.delivery_minor for each in shops if any(counts[bunch] for bunch in each.bunches)
        )
        found.append((cost, counts))
    for cost, counts in sorted(found, key=lambda each: each[0]):
        choices = [
            combinations_with_replacement(ways(bunch), number * bunch.stems)
            for bunch, number in counts.items()
        ]
        for chosen in product(*choices, *([(way,) for way in ways(each)] for each in garden)):
            ends = [end for group in chosen for way in group for end in way]
            if len(ends) >= len(stems) and _fit(stems, ends):
                return cost
    return -1


def _fit(stems: list[StemWanted], ends: list[End]) -> bool:
    misfits = np.array([[not serves(end, each) for end in ends] for each in stems], dtype=int)
    return int(misfits[linear_sum_assignment(misfits)].sum()) == 0


@pytest.mark.parametrize("number", range(100))
def test_forked_branches_cost_as_little_as_trying_everything_finds(number):
    asked, shops, garden = small(Random(number))
    result = buying(asked, shops, garden)
    least = least_cost(asked, shops, garden)
    assert result.complete == (least >= 0)
    if result.complete:
        assert result.total_minor == least == result.bound_minor


@pytest.mark.parametrize("number", range(40))
def test_another_solver_agrees(number):
    asked, shops, garden = small(Random(1000 + number))
    made = Programme(asked, shops, garden)
    model = made.model
    for column in made.short.values():
        model.highs[column] = 0.0
    costs = np.zeros(model.size[1])
    for column, cost in made.money().items():
        costs[column] = cost
    rows = np.zeros(model.size)
    for place, (weights, _, _) in enumerate(model.rows):
        for column, weight in weights.items():
            rows[place, column] = weight
    second = milp(
        costs,
        integrality=model.whole,
        bounds=Bounds(model.lows, model.highs),
        constraints=LinearConstraint(
            rows, [low for _, low, _ in model.rows], [high for _, _, high in model.rows]
        ),
        options={"mip_rel_gap": 0},
    )
    result = buying(asked, shops, garden)
    assert result.complete == bool(second.success)
    if second.success:
        assert result.total_minor == round(second.fun)


@pytest.mark.parametrize("number", range(60))
def test_every_end_is_of_one_branch_cut_in_one_way(number):
    asked, shops, garden = small(Random(2000 + number))
    result = buying(asked, shops, garden)
    branches_cut: dict[object, list[End]] = {}
    for use in result.uses:
        assert serves(use.end, use.wanted)
        branches_cut.setdefault((use.from_, use.branch), []).append(use.end)
    for (source, _), ends in branches_cut.items():
        assert any(not Counter(ends) - Counter(way) for way in ways(source))
    for source, most in {
        **{buy.bunch: buy.stems for buy in result.buys},
        **{branch: branch.count * garden.count(branch) for branch in garden},
    }.items():
        cut = {use.branch for use in result.uses if use.from_ == source}
        assert all(1 <= number <= most for number in cut)
    assert {use.from_ for use in result.uses} <= {*garden, *(buy.bunch for buy in result.buys)}
    for left in result.left_over:
        used = {use.branch for use in result.uses if use.from_ == left.bunch}
        bought = sum(buy.stems for buy in result.buys if buy.bunch == left.bunch)
        assert left.count == bought - len(used)


@pytest.mark.source(
    "hand", "12 stems, 10 in a bunch: 2 of one shop; split: 2 of one and 1 of other"
)
def test_what_two_shops_have_is_bought_in_both_against_one_bad_bunch():
    shops = [shop("near", (TULIP, 10, 700, 45)), shop("far", (TULIP, 10, 900, 45))]
    assert buying([want(count=12)], shops).total_minor == 1400
    split = buying([want(count=12)], shops, split=True)
    assert {each.shop.name for each in split.by_shop} == {"near", "far"}
    assert not split.alone
    only = buying([want(count=30)], [shops[0], shop("far", (TULIP, 10, 900, 45, 0, 0))], split=True)
    assert only.complete


@pytest.mark.parametrize("number", range(40))
def test_one_offer_or_one_branch_fewer_is_never_better(number):
    asked, shops, garden = small(Random(3000 + number))

    def worth(shops: list[Shop], garden: list[GardenBranch]) -> tuple[int, int]:
        result = buying(asked, shops, garden)
        missing = sum(short.count for short in result.short_of)
        return missing, 0 if missing else result.total_minor

    every = worth(shops, garden)
    for place, here in enumerate(shops):
        for offer in here.bunches:
            rest = tuple(each for each in here.bunches if each != offer)
            fewer = [*shops[:place], replace(here, bunches=rest), *shops[place + 1 :]]
            assert every <= worth(fewer, garden)
    for place in range(len(garden)):
        assert every <= worth(shops, garden[:place] + garden[place + 1 :])
