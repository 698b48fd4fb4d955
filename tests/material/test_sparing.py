"""How many spares: exact chances against an independent library, by hand, and by outcomes drawn."""

from __future__ import annotations

import random
import time
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom

from nejime.material.sparing import (
    chance,
    enough,
    nested_chance,
    shared,
    spare_counts,
    worth_keeping,
)

FAILS = st.sampled_from([0.01, 0.03, 0.05, 0.08, 0.2, 0.5])
SURE = st.sampled_from([0.5, 0.8, 0.9, 0.95, 0.99])
CLASSES = st.lists(st.integers(0, 9), min_size=1, max_size=5)


@pytest.mark.source("hand", "0.97^120 = e^(120 ln 0.97) = e^(-3.655) = 0.0259")
def test_without_spares_a_class_of_twelve_is_hardly_ever_complete():
    assert chance(120, 120, 0.03) == pytest.approx(0.0259, abs=0.0001)


@pytest.mark.source("hand", "exact binomial; checked against scipy.stats.binom, which is not ours")
@pytest.mark.parametrize(
    ("wanted", "fails", "stems", "sure"),
    [
        (12, 0.05, 14, 0.96995),
        (36, 0.05, 40, 0.95197),
        (24, 0.03, 26, 0.95802),
        (40, 0.08, 47, 0.96835),
        (120, 0.03, 127, 0.96185),
        (1500, 0.05, 1594, 0.95266),
    ],
)
def test_so_many_stems_are_enough_and_one_fewer_is_not(wanted, fails, stems, sure):
    assert enough(wanted, fails, 0.95) == stems
    assert chance(stems, wanted, fails) == pytest.approx(sure, abs=5e-6)
    assert binom.sf(wanted - 1, stems, 1 - fails) == pytest.approx(sure, abs=5e-6)
    assert binom.sf(wanted - 1, stems - 1, 1 - fails) < 0.95


@given(st.integers(0, 400), st.integers(0, 40), FAILS)
def test_the_chance_is_the_binomial_one(wanted, more, fails):
    expected = binom.sf(wanted - 1, wanted + more, 1 - fails)
    assert chance(wanted + more, wanted, fails) == pytest.approx(expected, abs=1e-10)


@given(st.integers(0, 60), FAILS, SURE)
def test_enough_is_the_fewest(wanted, fails, sure):
    stems = enough(wanted, fails, sure)
    assert binom.sf(wanted - 1, stems, 1 - fails) >= sure - 1e-9
    assert stems == wanted or binom.sf(wanted - 1, stems - 1, 1 - fails) < sure


@given(st.integers(1, 200), FAILS, FAILS, SURE, SURE)
def test_more_people_worse_stems_and_more_safety_never_take_fewer(wanted, one, two, low, high):
    assert enough(wanted + 1, one, low) > enough(wanted, one, low)
    assert enough(wanted, max(one, two), low) >= enough(wanted, min(one, two), low)
    assert enough(wanted, one, max(low, high)) >= enough(wanted, one, min(low, high))


def test_stems_that_never_fail_need_no_spares():
    assert enough(30, 0.0, 1.0) == 30
    assert spare_counts((4, 2), 0.0, 1.0) == (0, 0)
    assert spare_counts((), 0.05, 0.95) == ()


@pytest.mark.source("hand", "one stem of which 5 % fail is sound with the chance 1 - 0.05 = 0.95")
def test_the_chance_that_is_just_met_is_met():
    assert enough(1, 0.05, 0.95) == 1


@pytest.mark.parametrize(("fails", "sure"), [(1.0, 0.9), (-0.1, 0.9), (0.05, 1.0), (0.05, 1.1)])
def test_what_no_number_of_stems_can_do_is_refused(fails, sure):
    with pytest.raises(ValueError, match="no number of stems"):
        enough(4, fails, sure)


@pytest.mark.source(
    "hand",
    "a spare of the long: at most 1 of 3 fails, 0.9^3 + 3 x 0.1 x 0.9^2 = 0.972; of the short: the"
    " long one is sound, and of two short at most 1 fails, 0.9 x (1 - 0.1^2) = 0.891",
)
def test_a_long_spare_serves_both_and_a_short_one_only_the_short():
    assert nested_chance((1, 1), (1, 0), 0.1) == pytest.approx(0.972)
    assert nested_chance((1, 1), (0, 1), 0.1) == pytest.approx(0.891)


@pytest.mark.source(
    "hand",
    "four classes of six, 5 %. All three spares long: at most 3 of 27 fail,"
    " scipy.stats.binom.cdf(3, 27, 0.05) = 0.95626; the others by adding up all outcomes",
)
@pytest.mark.parametrize(
    ("spares", "sure"),
    [
        ((3, 0, 0, 0), 0.95626),
        ((4, 0, 0, 0), 0.98826),
        ((2, 1, 0, 0), 0.9542),
        ((1, 1, 1, 1), 0.93339),
    ],
)
def test_four_classes_of_six(spares, sure):
    assert nested_chance((6,) * 4, spares, 0.05) == pytest.approx(sure, abs=5e-5)
    assert _added_up((6,) * 4, spares, 0.05) == pytest.approx(sure, abs=5e-5)


def _added_up(wanted, spares, fails):
    """The chance by adding up every combination of sound stems, class by class."""
    stems = [one + two for one, two in zip(wanted, spares, strict=True)]
    total = 0.0
    for sound in product(*(range(each + 1) for each in stems)):
        if _complete(wanted, sound):
            one = 1.0
            for have, each in zip(sound, stems, strict=True):
                one *= binom.pmf(have, each, 1 - fails)
            total += one
    return total


def _complete(wanted, sound):
    """Whether wants can be served one by one, the longest first, by stems that are long enough."""
    free = [at for at, have in enumerate(sound) for _ in range(have)]
    for at, count in enumerate(wanted):
        for _ in range(count):
            usable = [each for each in free if each <= at]
            if not usable:
                return False
            free.remove(max(usable))
    return True


@given(
    st.lists(st.tuples(st.integers(0, 3), st.integers(0, 2)), min_size=1, max_size=3),
    FAILS,
)
def test_the_chance_is_that_of_all_outcomes_served_stem_by_stem(classes, fails):
    wanted, spares = zip(*classes, strict=True)
    expected = _added_up(wanted, spares, fails)
    assert nested_chance(wanted, spares, fails) == pytest.approx(expected, abs=1e-9)


@pytest.mark.source(
    "hand", "three in all (0.95626); fewer of the longest: (2,1,0,0) has 0.9542, (1,2,0,0) less"
)
def test_three_spares_serve_four_classes_of_six():
    assert spare_counts((6,) * 4, 0.05, 0.95) == (2, 1, 0, 0)


@given(st.lists(st.integers(0, 4), min_size=1, max_size=4), FAILS, SURE)
def test_the_spares_are_the_fewest_and_the_shortest_of_all_that_suffice(wanted, fails, sure):
    found = spare_counts(wanted, fails, sure)
    total = sum(found)
    assert nested_chance(wanted, found, fails) >= sure - 1e-9
    if total > 6:
        return
    others = product(range(total + 1), repeat=len(wanted))
    suffice = [
        each
        for each in others
        if sum(each) <= total and nested_chance(wanted, each, fails) >= sure - 1e-12
    ]
    assert found == min(suffice, key=lambda each: (sum(each), each))


@given(CLASSES, FAILS, SURE)
def test_as_many_spares_as_for_all_stems_pooled(wanted, fails, sure):
    pooled = enough(sum(wanted), fails, sure) - sum(wanted)
    assert sum(spare_counts(wanted, fails, sure)) == pooled


@given(st.lists(st.tuples(st.integers(0, 9), st.integers(0, 3)), min_size=2, max_size=5), FAILS)
def test_two_classes_made_one_and_a_longer_spare_are_never_less_sure(classes, fails):
    wanted, spares = (list(each) for each in zip(*classes, strict=True))
    apart = nested_chance(wanted, spares, fails)
    together = nested_chance(
        [wanted[0] + wanted[1], *wanted[2:]], [spares[0] + spares[1], *spares[2:]], fails
    )
    longer = nested_chance(wanted, [spares[0] + spares[1], 0, *spares[2:]], fails)
    assert together >= apart - 1e-12
    assert longer >= apart - 1e-12
    assert longer >= nested_chance(wanted, [spares[0], 0, *spares[2:]], fails) - 1e-12


@pytest.mark.source("hand", "three kinds, each with 0.95^(1/3): the product of all is 0.95 again")
def test_kinds_share_the_chance():
    assert shared(0.95, 3) ** 3 == pytest.approx(0.95)
    assert shared(0.95, 1) == 0.95
    assert shared(0.95, 0) == 0.95


def test_the_rule_keeps_its_promise_in_classes_that_are_drawn():
    """Three kinds in several lengths, 4,000 classes; the deviation of such a share is 0.0035."""
    kinds = [((12, 12, 11, 4), 0.04), ((20, 12), 0.05), ((24, 5), 0.03)]
    each_sure = shared(0.95, len(kinds))
    spares = [spare_counts(wanted, fails, each_sure) for wanted, fails in kinds]
    dice, runs, complete = random.Random(20260314), 4000, 0
    for _ in range(runs):
        complete += all(
            _complete(
                wanted,
                [
                    sum(dice.random() >= fails for _ in range(one + two))
                    for one, two in zip(wanted, spare, strict=True)
                ],
            )
            for (wanted, fails), spare in zip(kinds, spares, strict=True)
        )
    assert complete / runs >= 0.95 - 3 * 0.0035


def test_many_classes_of_length_are_quick():
    wanted = [37] * 40
    begun = time.perf_counter()
    found = spare_counts(wanted, 0.05, 0.95)
    assert time.perf_counter() - begun < 0.5
    assert sum(found) == enough(1480, 0.05, 0.95) - 1480


@pytest.mark.source(
    "memory",
    "newsvendor rule: (8 - 1.2) / (8 - 0.2) = 0.87179; scipy.stats.binom.cdf(5, 120, 0.03) is less"
    " and of 6 more",
)
def test_spares_are_worth_keeping_up_to_the_newsvendors_share():
    ratio = (800 - 120) / (800 - 20)
    assert binom.cdf(5, 120, 0.03) < ratio <= binom.cdf(6, 120, 0.03)
    assert worth_keeping(120, 0.03, 120, 800, 20) == 6


@given(st.integers(1, 120), FAILS, st.integers(1, 500), st.integers(1, 2000))
def test_worth_keeping_is_what_costs_least_on_average(stems, fails, price, missing):
    found = worth_keeping(stems, fails, price, missing)
    chances = binom.pmf(range(stems + 1), stems, fails)

    def costs(spare):
        short = sum(one * max(0, failed - spare) for failed, one in enumerate(chances))
        return spare * price + missing * short

    assert all(costs(found) <= costs(found + step) + 1e-6 for step in (-1, 1) if found + step >= 0)


def test_a_spare_that_costs_more_than_it_saves_is_not_kept():
    assert worth_keeping(12, 0.05, 800, 500) == 0
    with pytest.raises(ValueError, match="less than it costs"):
        worth_keeping(12, 0.05, 100, 500, 100)
