"""Piles, sets and single cuts: counted by hand, and what holds of all of them."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from material.making import FORSYTHIA, GARDENS, QUINCE, ROSE, SHOPS, TULIP, shop, want, wants

from nejime.basis.sayings import Words
from nejime.material.buying import buying
from nejime.material.piles import MOST_OFF_CM, MOST_PILES, branch_by_branch, piles
from nejime.material.supply import GardenBranch

WORDS = Words()


def rows(made):
    return [(pile.plant, pile.name, pile.length_cm, pile.count, pile.spares) for pile in made.piles]


PLENTY = (GardenBranch(ROSE, 200, count=99),)


def cut(*aims_cm, ends=PLENTY, by_name=(), spare_cm=None):
    asked = [
        want(f"P{number}", ROSE, least_cm=aim - 2, aim_cm=aim) for number, aim in enumerate(aims_cm)
    ]
    if spare_cm:
        asked.append(want("", ROSE, least_cm=spare_cm - 2, aim_cm=spare_cm, purpose="spare"))
    return piles(buying(asked, garden=ends), by_name)


@pytest.mark.source("hand", "44 cut from 50 loses 6: one pile")
def test_stems_of_nearly_one_length_make_one_pile():
    assert rows(cut(50, 47, 44)) == [(ROSE, "only", 50, 3, 0)]


@pytest.mark.source("hand", "one pile of 80 would lose 40; 80, 75 and 45, 40 lose 5 at most")
def test_two_piles_where_two_are_enough():
    assert rows(cut(80, 75, 45, 40)) == [(ROSE, "long", 80, 2, 0), (ROSE, "short", 45, 2, 0)]


@pytest.mark.source("hand", "90 / 60, 58 / 30, 25: 2 + 5 = 7 cm off, no stem more than 5")
def test_three_piles_as_long_as_their_longest_stem():
    assert rows(cut(90, 60, 58, 30, 25)) == [
        (ROSE, "long", 90, 1, 0),
        (ROSE, "middle", 60, 2, 0),
        (ROSE, "short", 30, 2, 0),
    ]


@pytest.mark.source("hand", "60, 59, 58 lose 3; of 100, 80, 60, 40 any two together lose 20")
def test_never_more_than_three_piles_and_the_least_cut_off():
    assert [pile.count for pile in cut(100, 80, 60, 59, 58).piles] == [1, 1, 3]
    made = cut(100, 80, 60, 40)
    assert len(made.piles) == MOST_PILES
    assert sorted(pile.count for pile in made.piles) == [1, 1, 2]


def test_a_spare_lies_on_the_long_pile_and_in_nobodys_set():
    made = cut(80, 45, spare_cm=80)
    assert rows(made) == [(ROSE, "long", 80, 2, 1), (ROSE, "short", 45, 1, 0)]
    assert [one.who for one in made.sets] == ["P0", "P1"]


@pytest.mark.source("hand", "four lengths, four ends just long enough: no two can be cut alike")
def test_where_no_pile_can_be_cut_each_branch_is_cut_for_its_owner():
    ends = [GardenBranch(ROSE, length) for length in (80, 70, 60, 50)]
    made = cut(80, 70, 60, 50, ends=ends)
    assert made.piles == ()
    assert [one.cut_to_cm for one in made.by_name] == [80, 70, 60, 50]
    assert [WORDS.say(one.says) for one in made.sets] == [
        "P0: Rose cut to 80 cm",
        "P1: Rose cut to 70 cm",
        "P2: Rose cut to 60 cm",
        "P3: Rose cut to 50 cm",
    ]


def test_a_plant_may_be_cut_by_name_though_piles_were_possible():
    made = cut(50, 47, by_name={ROSE})
    assert made.piles == ()
    assert [one.use.wanted.who for one in made.by_name] == ["P0", "P1"]


def test_a_set_is_read_like_a_list():
    asked = [
        want("Ada", ROSE, least_cm=80),
        want("Ada", ROSE, least_cm=50, stem="second"),
        *(want("Ada", TULIP, least_cm=30, stem=f"heart-{number}") for number in (1, 2, 3)),
        want("Ben", ROSE, least_cm=20),
        want(purpose="demonstration", least_cm=10),
    ]
    garden = [GardenBranch(ROSE, 90, count=3), GardenBranch(TULIP, 40, count=4)]
    ada, ben, shown = piles(buying(asked, garden=garden)).sets
    assert WORDS.say(ada.says) == "Ada: 1 long Rose, 1 middle Rose and 3 long Tulip"
    assert WORDS.say(ben.says) == "Ben: 1 short Rose"
    assert WORDS.say(shown.says) == "Demonstration: 1 short Tulip"
    assert ada.takes[2].stems == ("heart-1", "heart-2", "heart-3")


def test_piles_say_what_they_are_cut_from():
    asked = [want("Ada", QUINCE, least_cm=70, aim_cm=70), want("Ben", QUINCE, least_cm=30)]
    garden = [GardenBranch(QUINCE, 40, name="back yard")]
    made = piles(buying(asked, [shop("grocery", (QUINCE, 1, 300, 75))], garden))
    assert [[(each.source.length_cm, each.count) for each in p.from_] for p in made.piles] == [
        [(75, 1)],
        [(40, 1)],
    ]


def test_branch_by_branch_goes_from_the_longest_down():
    made = branch_by_branch(
        buying(
            [want("Ada", ROSE, least_cm=30), want("Ben", ROSE, least_cm=50)],
            garden=[GardenBranch(ROSE, 60, count=2)],
        )
    )
    assert [(one.use.wanted.who, one.cut_to_cm) for one in made] == [("Ben", 52), ("Ada", 32)]
    assert WORDS.say(made[0].says) == "Rose cut to 52 cm"


@given(wants(), SHOPS, GARDENS)
def test_everybody_finds_their_stems_long_enough_in_the_piles(asked, shops, garden):
    bought = buying(asked, shops, garden)
    made = piles(bought)
    need = {(use.wanted.who, use.wanted.stem): use.cut_to_cm for use in bought.uses}
    for one in made.sets:
        for take in one.takes:
            for stem in take.stems:
                assert take.pile.length_cm >= need[one.who, stem]


@given(wants(), SHOPS, GARDENS)
def test_piles_and_cuts_hold_every_stem_once_and_come_from_what_there_is(asked, shops, garden):
    bought = buying(asked, shops, garden)
    made = piles(bought)
    takes = [(one.who, take) for one in made.sets for take in one.takes]
    taken = Counter((who, stem) for who, take in takes for stem in take.stems)
    taken += Counter((one.who, each.use.wanted.stem) for one in made.sets for each in one.cuts)
    people = [use for use in bought.uses if use.wanted.purpose != "spare"]
    assert taken == Counter((use.wanted.who, use.wanted.stem) for use in people)
    for pile in made.piles:
        assert pile.count == pile.spares + sum(t.count for _, t in takes if t.pile == pile)
        assert pile.count == sum(each.count for each in pile.from_)
        assert all(each.source.length_cm >= pile.length_cm for each in pile.from_)
    used = Counter(each.use.from_ for each in made.by_name)
    for pile in made.piles:
        used += Counter({each.source: each.count for each in pile.from_})
    assert used == Counter(use.from_ for use in bought.uses)


@given(wants(), SHOPS, GARDENS)
def test_at_most_three_piles_a_plant_and_no_more_than_are_needed(asked, shops, garden):
    bought = buying(asked, shops, garden)
    made = piles(bought)
    for plant in {pile.plant for pile in made.piles}:
        lengths = [pile.length_cm for pile in made.of(plant)]
        assert lengths == sorted(set(lengths), reverse=True)
        assert len(lengths) <= MOST_PILES
        if len(lengths) > 1:
            needs = [
                use.cut_to_cm for use in buying(asked, shops, garden).uses if use.plant == plant
            ]
            ends = [use.from_ for use in buying(asked, shops, garden).uses if use.plant == plant]
            one_pile = all(end.length_cm >= max(needs) for end in ends)
            assert not one_pile or max(needs) - min(needs) > MOST_OFF_CM


def test_stems_whose_thickness_matters_are_cut_for_their_owners():
    thin = want("Ada", FORSYTHIA, least_cm=30, thickest_mm=4)
    thick = want("Ben", FORSYTHIA, least_cm=30, thinnest_mm=4, stem="second")
    branches = [GardenBranch(FORSYTHIA, 60, count=2, thickness_mm=6)]
    asked = [thin, replace(thick, aim_cm=42, most_cm=44)]
    bought = buying(asked, garden=branches)
    made = piles(bought)
    assert not made.piles
    assert {cut.use.wanted.who for cut in made.by_name} == {"Ada", "Ben"}
