"""Stems wanted: lengths by hand, one head a stem, demonstration, display and spares."""

from __future__ import annotations

import pytest
from material.making import FORSYTHIA, QUINCE, ROSE, TULIP, dish, want

from nejime.material.supply import StandIn, Wish
from nejime.material.wanted import ONE_CUT_CM, replacements, spares, spares_by_share, stems_wanted

FIRST = Wish("first", FORSYTHIA)
SECOND = Wish("second", FORSYTHIA)
HEARTS = Wish("heart", TULIP, each=3)


@pytest.mark.source(
    "hand",
    "1.5 x (30 + 6) = 54; bow 0.03 x 54 = 1.62, along it 8/3 x 1.62^2 / 54 = 0.1296 more;"
    " two cuts of 2.5; a lesson's 5 % of 54 is 2.7",
)
def test_a_length_wanted_is_the_cut_and_what_later_cuts_take():
    (first,) = stems_wanted([("Ada", dish())], [FIRST])
    assert first.aim_cm == pytest.approx(54 + 0.1296 + 5.0)
    assert first.least_cm == pytest.approx(first.aim_cm - 2.7)
    assert first.most_cm == pytest.approx(first.aim_cm + 2.7)


@pytest.mark.source("own", "a stem treated again is cut once more: 2.5 cm")
def test_a_stem_that_is_treated_after_every_cut_is_wanted_longer():
    (usual,) = stems_wanted([("Ada", dish())], [FIRST])
    (again,) = stems_wanted([("Ada", dish())], [FIRST], treated_again={FORSYTHIA})
    assert again.least_cm - usual.least_cm == pytest.approx(ONE_CUT_CM)
    (instead,) = stems_wanted(
        [("Ada", dish())],
        [Wish("first", ROSE, stand_ins=(StandIn(FORSYTHIA, "will do"),))],
        treated_again={FORSYTHIA},
    )
    assert instead.least_cm == again.least_cm


@pytest.mark.source("practice", "a bought flower has one head: three flowers are three stems")
def test_every_stem_of_a_piece_is_an_end_of_its_own():
    people = [(name, dish(hearts=3)) for name in ("Ada", "Ben", "Cleo", "Dot")]
    wanted = stems_wanted(people, [FIRST, SECOND, HEARTS])
    assert sum(each.count for each in wanted if each.wished == TULIP) == 4 * 3
    assert sum(each.count for each in wanted if each.wished == FORSYTHIA) == 4 * 2
    assert [each.stem for each in wanted if each.who == "Ada"] == [
        "first",
        "second",
        "heart-1",
        "heart-2",
        "heart-3",
    ]


def test_places_are_made_for_what_is_wished_where_the_piece_has_none():
    (*_, bare) = stems_wanted([("Ada", dish())], [HEARTS])
    (*_, made) = stems_wanted([("Ada", dish(hearts=3))], [HEARTS])
    assert bare == made


def test_wishes_for_one_role_share_its_places():
    wishes = [Wish("heart", TULIP, each=2), Wish("heart", "anemone", each=1)]
    wanted = stems_wanted([("Ada", dish(hearts=3))], wishes)
    assert [(each.stem, each.wished) for each in wanted] == [
        ("heart-1", TULIP),
        ("heart-2", TULIP),
        ("heart-3", "anemone"),
    ]


def test_stems_for_which_there_is_no_place_are_wanted_at_the_longest():
    wanted = stems_wanted([("Ada", dish(hearts=3))], [Wish("heart", TULIP, each=5)])
    assert sum(each.count for each in wanted) == 5
    longest = max(wanted, key=lambda each: each.aim_cm)
    assert wanted[-1].count == 2
    assert wanted[-1].aim_cm == longest.aim_cm


def test_stand_ins_follow_the_wish_from_the_gladdest_on():
    wish = Wish(
        "first",
        FORSYTHIA,
        stand_ins=(
            StandIn(ROSE, "only if nothing else"),
            StandIn(QUINCE, "as good"),
            StandIn(FORSYTHIA, "will do"),
        ),
    )
    (first,) = stems_wanted([("Ada", dish())], [wish])
    assert first.plants == (FORSYTHIA, QUINCE, ROSE)
    assert [first.level(plant) for plant in first.plants] == [0, 0, 2]
    with pytest.raises(ValueError, match="not in tuple"):
        first.level(TULIP)


@pytest.mark.source("hand", "2 stems a piece: shown once 2, filmed 2 more; 1 tulip x 2 rounds = 2")
def test_demonstration_film_and_display_want_stems_of_their_own():
    wanted = stems_wanted(
        [("Ada", dish())],
        [FIRST, Wish("heart", TULIP)],
        demonstration=dish(),
        demonstrations=2,
        replaced={TULIP: 2},
    )
    count = {
        purpose: sum(each.count for each in wanted if each.purpose == purpose)
        for purpose in ("person", "demonstration", "filming", "display", "spare")
    }
    assert count == {"person": 2, "demonstration": 2, "filming": 2, "display": 2, "spare": 0}
    assert {each.wished for each in wanted if each.purpose == "display"} == {TULIP}
    assert {each.who for each in wanted if each.purpose != "person"} == {""}


@pytest.mark.source(
    "hand", "5 days: flowers of 3 days, 2 in all; of 5 days, 1; 7 days of 2: 4 in all"
)
@pytest.mark.parametrize(
    ("days", "lasts", "more"), [(5, 3, 1), (5, 5, 0), (7, 2, 3), (0, 3, 0), (5, 2.5, 1)]
)
def test_replacements_for_the_days_on_display(days, lasts, more):
    assert replacements(days, lasts) == more


def test_an_assumed_vessel_is_marked():
    wanted = stems_wanted([("Ada", dish()), ("Ben", dish())], [FIRST], assumed={"Ben"})
    assert [each.assumed for each in wanted] == [False, True]


@pytest.mark.source(
    "hand", "14 people x 2 forsythia = 28, 10 % of them 2.8, so 3 (by stems: 2 + 2 = 4)"
)
def test_spares_are_pooled_by_plant_and_long():
    people = [(f"P{number}", dish()) for number in range(14)]
    wanted = stems_wanted(people, [FIRST, SECOND], spare_percent=10)
    (spare,) = (each for each in wanted if each.purpose == "spare")
    assert wanted[-1] is spare
    assert spare.count == 3
    assert spare.least_cm == max(each.least_cm for each in wanted)


@pytest.mark.source("hand", "10 % of 2 is 0.2: 1 for two people, 0 for one; nobody asked: none")
def test_at_least_one_spare_of_what_several_want():
    shared = [want("Ada"), want("Ben")]
    assert [each.count for each in spares_by_share(shared, 10)] == [1]
    assert spares_by_share([want("Ada", count=2)], 10) == ()
    assert spares_by_share(shared, 0) == ()


@pytest.mark.source("hand", "one piece wants 20: 10 % is 2")
def test_a_single_piece_of_many_stems_has_spares_too():
    assert [each.count for each in spares_by_share([want("Ada", count=20)], 10)] == [2]


def test_nobody_wants_nothing():
    assert stems_wanted([], [FIRST, HEARTS], spare_percent=10) == ()
    assert stems_wanted([("Ada", dish())], []) == ()


@pytest.mark.source(
    "hand",
    "four lengths of six stems, 5 % fail: 3 spares are enough, 2 of the longest and 1 of the next "
    "(0.9542); 1 of each of the first three would be 0.9334 at most",
)
def test_spares_by_chance_are_few_and_only_some_are_long():
    asked = [want("Ada", least_cm=least, count=6) for least in (30, 40, 50, 60)]
    found = spares(asked, 95)
    assert [(each.least_cm, each.count) for each in found] == [(60, 2), (50, 1)]
    assert {each.purpose for each in found} == {"spare"}
    assert spares(asked, 0) == ()


def test_a_spare_is_of_a_plant_that_every_stem_it_may_replace_may_be_of():
    long = want("Ada", TULIP, (QUINCE, "as good"), (ROSE, "as good"), least_cm=60)
    short = want("Ada", TULIP, (QUINCE, "will do"), least_cm=30)
    (spare,) = spares([long, short], 95)
    assert spare.plants == (TULIP, QUINCE)
    assert spare.level(QUINCE) == short.level(QUINCE)
