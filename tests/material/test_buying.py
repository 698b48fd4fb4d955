"""What is bought and cut, on classes small enough to be worked out by hand."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from material.making import FORSYTHIA, QUINCE, ROSE, TULIP, shop, want

from nejime.basis.sayings import Words
from nejime.material.buying import buying
from nejime.material.supply import GardenBranch

WORDS = Words()


def bought(result):
    return {(buy.bunch.shop, buy.bunch.plant, buy.bunch.stems): buy.count for buy in result.buys}


def plants(result):
    return Counter(use.plant for use in result.uses)


@pytest.mark.source("practice", "a piece keeps its natural end: a long branch is still one stem")
def test_one_end_gives_one_stem_however_long_it_is():
    asked = [want(least_cm=30, count=4)]
    result = buying(asked, garden=[GardenBranch(TULIP, 120, count=3)])
    assert len(result.uses) == 3
    assert [(short.who, short.count) for short in result.short_of] == [("Ada", 1)]


@pytest.mark.source("hand", "12 stems from bunches of 10: 2 bunches at 7.99 are 15.98, 8 left over")
def test_bunches_are_bought_whole():
    result = buying([want(count=12)], [shop("grocery", (TULIP, 10, 799, 45))])
    assert bought(result) == {("grocery", TULIP, 10): 2}
    assert result.total_minor == 1598
    assert [left.count for left in result.left_over] == [8]
    assert not result.short_of


@pytest.mark.source("practice", "a length grade promises its lower bound and no more")
def test_a_bunch_counts_with_the_least_length_that_its_grade_promises():
    grocery = shop("grocery", (TULIP, 10, 799, 40))
    assert buying([want(least_cm=40)], [grocery]).complete
    assert not buying([want(least_cm=40.1)], [grocery]).uses


def test_the_garden_comes_first_and_costs_nothing():
    garden = [GardenBranch(FORSYTHIA, 90, count=3, name="hedge")]
    shops = [shop("wholesale", (FORSYTHIA, 5, 900, 80))]
    asked = [want(each, FORSYTHIA, least_cm=60) for each in ("Ada", "Ben", "Cleo")]
    result = buying(asked, shops, garden)
    assert result.total_minor == 0
    assert [(cut.branch.name, cut.count, cut.least_cm) for cut in result.from_garden] == [
        ("hedge", 3, 62)
    ]
    one_more = buying([*asked, want("Dot", FORSYTHIA, least_cm=60)], shops, garden)
    assert one_more.total_minor == 900


@pytest.mark.source("hand", "4 wanted, 5 bought: none is cut in the garden")
def test_what_is_paid_for_is_used_before_the_garden_is_cut():
    garden = [GardenBranch(FORSYTHIA, 50, count=1)]
    asked = [want("Ada", FORSYTHIA, least_cm=60), want("Ben", FORSYTHIA, least_cm=40, count=3)]
    result = buying(asked, [shop("wholesale", (FORSYTHIA, 5, 900, 80))], garden)
    assert result.from_garden == ()
    assert [left.count for left in result.left_over] == [1]


@pytest.mark.source("hand", "14 = 10 + 5: 8.00 + 4.50 = 12.50; 2 x 10: 16.00; 3 x 5: 13.50")
def test_a_small_bunch_fills_up_a_large_one():
    shops = [shop("one", (TULIP, 10, 800, 45)), shop("two", (TULIP, 5, 450, 45))]
    result = buying([want(count=14)], shops)
    assert bought(result) == {("one", TULIP, 10): 1, ("two", TULIP, 5): 1}
    assert result.total_minor == 1250


@pytest.mark.source(
    "hand", "5.00 + 3.00 delivery is more than 7.00; twice 5.00 + 3.00 less than 14.00"
)
def test_delivery_counts():
    shops = [shop("far", (TULIP, 10, 500, 45), delivery=300), shop("near", (TULIP, 10, 700, 45))]
    assert bought(buying([want(count=10)], shops)) == {("near", TULIP, 10): 1}
    both = buying([want(count=20)], shops)
    assert bought(both) == {("far", TULIP, 10): 2}
    assert (both.total_minor, both.by_shop[0].delivery_minor) == (1300, 300)


@pytest.mark.source("hand", "2 x (5 + 5 + 4) = 28; one of them and 6 + 6: 26; 4 x 6 = 24")
def test_shops_are_left_out_where_that_saves_more_than_their_delivery():
    pairs = {"one": (TULIP, FORSYTHIA), "two": (QUINCE, ROSE)}
    far = [
        shop(name, *((plant, 10, 500, 45) for plant in pair), delivery=400)
        for name, pair in pairs.items()
    ]
    near = shop("near", *((plant, 10, 600, 45) for plant in (TULIP, FORSYTHIA, QUINCE, ROSE)))
    asked = [want("Ada", plant) for plant in (TULIP, FORSYTHIA, QUINCE, ROSE)]
    assert buying(asked, far).total_minor == 2800
    result = buying(asked, [*far, near])
    assert [each.shop.name for each in result.by_shop] == ["near"]
    assert result.total_minor == 2400


@pytest.mark.source(
    "hand", "20.00 are not reached with 1 of 5.00: 4 make 20.00; 7.00 elsewhere is less"
)
def test_a_shop_that_asks_for_a_minimum_gets_it_or_nothing():
    far = shop("far", (TULIP, 10, 500, 45), minimum=2000)
    assert buying([want(count=10)], [far]).total_minor == 2000
    near = shop("near", (TULIP, 10, 700, 45))
    assert bought(buying([want(count=10)], [far, near])) == {("near", TULIP, 10): 1}


def test_a_minimum_that_cannot_be_reached_shuts_the_shop():
    far = shop("far", (TULIP, 10, 500, 45, 0, 3), minimum=2000)
    result = buying([want(count=10)], [far])
    assert not result.buys
    assert sum(short.count for short in result.short_of) == 10


@pytest.mark.source("hand", "at least 3 bunches though 1 would do; at most 2: 20 of 25 stems")
def test_the_least_and_the_most_of_an_offer_hold():
    assert bought(buying([want()], [shop("s", (TULIP, 10, 500, 45, 3))])) == {("s", TULIP, 10): 3}
    result = buying([want(count=25)], [shop("s", (TULIP, 10, 500, 45, 0, 2))])
    assert len(result.uses) == 20
    assert sum(short.count for short in result.short_of) == 5
    assert not buying([want()], [shop("s", (TULIP, 10, 500, 45, 3, 2))]).buys


def test_an_as_good_plant_is_taken_where_it_is_cheaper():
    shops = [shop("s", (FORSYTHIA, 5, 900, 80), (QUINCE, 5, 600, 80))]
    result = buying([want("Ada", FORSYTHIA, (QUINCE, "as good"))], shops)
    assert bought(result) == {("s", QUINCE, 5): 1}


def test_a_plant_that_will_do_is_taken_only_where_no_better_one_can_be_had():
    shops = [shop("s", (FORSYTHIA, 5, 900, 80, 0, 1), (QUINCE, 5, 100, 80), (ROSE, 5, 10, 80))]
    asked = want(
        "Ada", FORSYTHIA, (QUINCE, "will do"), (ROSE, "only if nothing else"), count=7, least_cm=60
    )
    assert plants(buying([asked], shops)) == {FORSYTHIA: 5, QUINCE: 2}
    only_plum = [shop("s", (ROSE, 10, 10, 80))]
    assert plants(buying([asked], only_plum)) == {ROSE: 7}


def test_a_plant_that_will_do_makes_room_for_somebody_who_has_no_choice():
    shops = [shop("s", (FORSYTHIA, 1, 900, 80, 0, 1), (QUINCE, 1, 100, 80, 0, 1))]
    asked = [want("Ada", FORSYTHIA, (QUINCE, "will do")), want("Ben", FORSYTHIA)]
    result = buying(asked, shops)
    assert result.complete
    assert {use.wanted.who: use.plant for use in result.uses} == {"Ada": QUINCE, "Ben": FORSYTHIA}


def test_of_what_is_bought_the_wished_plant_comes_first():
    shops = [shop("s", (FORSYTHIA, 2, 900, 80, 0, 1), (QUINCE, 2, 900, 80, 0, 1))]
    asked = [want(each, FORSYTHIA, (QUINCE, "as good")) for each in ("Ada", "Ben", "Cleo")]
    result = buying(asked, shops)
    assert [use.plant for use in result.uses] == [FORSYTHIA, FORSYTHIA, QUINCE]


def test_one_role_of_a_piece_gets_one_plant():
    shops = [shop("s", (FORSYTHIA, 3, 900, 80, 0, 1), (QUINCE, 3, 900, 80, 0, 1))]
    asked = [
        want(who, FORSYTHIA, (QUINCE, "as good"), stem=f"sub-{number}")
        for who in ("Ada", "Ben")
        for number in (1, 2)
    ]
    found = {
        who: {use.plant for use in buying(asked, shops).uses if use.wanted.who == who}
        for who in ("Ada", "Ben")
    }
    assert found == {"Ada": {FORSYTHIA}, "Ben": {QUINCE}}


@pytest.mark.source("hand", "60 serves 55, 45 serves 35; the other way round 55 would go without")
def test_the_longest_branch_goes_to_who_needs_it():
    garden = [GardenBranch(ROSE, 60), GardenBranch(ROSE, 45)]
    asked = [want("Ada", ROSE, least_cm=35), want("Ben", ROSE, least_cm=55)]
    result = buying(asked, garden=garden)
    assert [(use.wanted.who, use.length_cm) for use in result.uses] == [("Ada", 45), ("Ben", 60)]


@pytest.mark.source("hand", "40 and 35 for aims of 38 and 34 (least 34, 33): both reach their aim")
def test_ends_are_given_so_that_as_many_as_can_reach_their_aim():
    garden = [GardenBranch(ROSE, 35), GardenBranch(ROSE, 40)]
    asked = [
        want("Ada", ROSE, least_cm=33, aim_cm=34),
        want("Ben", ROSE, least_cm=34, aim_cm=38),
    ]
    result = buying(asked, garden=garden)
    assert [use.cut_to_cm for use in result.uses] == [34, 38]


def test_a_stem_shorter_than_its_aim_is_used_whole():
    result = buying([want("Ada", ROSE, least_cm=33, aim_cm=36)], garden=[GardenBranch(ROSE, 35)])
    assert [use.cut_to_cm for use in result.uses] == [35]


def test_people_come_before_demonstration_and_spares():
    asked = [want("Ada"), want("Ben"), want(purpose="demonstration"), want(purpose="spare")]
    result = buying(asked, garden=[GardenBranch(TULIP, 45, count=2)])
    assert [use.wanted.who for use in result.uses] == ["Ada", "Ben"]
    assert [(short.purpose, short.mild) for short in result.short_of] == [
        ("demonstration", False),
        ("spare", True),
    ]


def test_a_missing_spare_leaves_the_class_complete():
    asked = [want("Ada"), want(purpose="spare")]
    result = buying(asked, garden=[GardenBranch(TULIP, 45)])
    assert result.complete
    assert WORDS.say(result.short_of[0].says) == "One spare is missing: Tulip."


def test_a_spare_may_be_as_long_as_a_shorter_stem_and_that_is_said():
    asked = [
        want("Ada", ROSE, least_cm=60),
        want("Ada", ROSE, least_cm=40, stem="second"),
        want("", ROSE, least_cm=60, purpose="spare"),
    ]
    garden = [GardenBranch(ROSE, 70), GardenBranch(ROSE, 45, count=2)]
    result = buying(asked, garden=garden)
    assert [use.length_cm for use in result.uses] == [70, 45, 45]
    (short,) = result.short_of
    assert short.mild
    assert WORDS.say(short.says) == "One spare is shorter than 60 cm: Rose."
    assert "second stem (40 cm)" in WORDS.say(short.mend)


def says(*asked, shops=(), garden=()):
    (short,) = buying(asked, shops, garden).short_of
    return WORDS.say(short.says), WORDS.say(short.mend)


def test_a_shortage_is_told_by_person_and_stem_with_what_mends_it():
    lacking, mend = says(want("Ada", FORSYTHIA, (QUINCE, "as good"), (ROSE, "will do")))
    plants = "Forsythia, Flowering quince or Rose"
    assert lacking == f"Ada has nothing for the first stem: {plants}, at least 38 cm long."
    assert "Neither the shops nor the garden have it." in mend
    garden = [GardenBranch(ROSE, 30.8)]
    _, mend = says(want("Ada", FORSYTHIA, (ROSE, "will do"), least_cm=37.2), garden=garden)
    assert "The longest that can be had is 30 cm (Rose)." in mend
    lacking, mend = says(want(count=3, least_cm=37.2), garden=[GardenBranch(TULIP, 40)])
    assert lacking == "Ada lacks 2 stems like the first stem: Tulip, at least 38 cm long."
    assert "Find 2 more of at least 38 cm" in mend


def test_a_shortage_of_somebody_with_an_assumed_vessel_says_so():
    lacking, _ = says(replace(want("Ada"), assumed=True))
    assert lacking.startswith("Ada (a usual vessel assumed) has nothing")


@pytest.mark.parametrize("purpose", ["person", "demonstration", "filming", "display", "spare"])
@pytest.mark.parametrize("count", [1, 2])
def test_every_shortage_can_be_said(purpose, count):
    lacking, mend = says(want(purpose=purpose, count=count))
    assert "Tulip" in lacking
    assert mend


@pytest.mark.source("hand", "10.00 over 3 people, rounded up: 3.34; the demonstration is no head")
def test_money_per_head_is_rounded_up():
    asked = [*(want(who) for who in ("Ada", "Ben", "Cleo")), want(purpose="demonstration")]
    result = buying(asked, [shop("s", (TULIP, 10, 1000, 45))])
    assert (result.heads, result.per_head_minor) == (3, 334)


def test_nothing_wanted_buys_nothing():
    result = buying([], [shop("s", (TULIP, 10, 1000, 45), minimum=500)])
    assert (result.buys, result.uses, result.short_of, result.left_over) == ((), (), (), ())
    assert (result.total_minor, result.per_head_minor) == (0, None)


def test_many_who_are_short_of_different_things_are_planned_for():
    """Two ask for longer tulips than there are; the others have two tulips and two of quince."""
    told = [
        want("Ada", TULIP, least_cm=35, stem="sub-1"),
        want("Ada", TULIP, least_cm=35, stem="sub-2"),
        want("Ada", TULIP, FORSYTHIA, (QUINCE, "will do"), least_cm=25, stem="sub-3"),
        want("Ada", QUINCE, TULIP, least_cm=25, stem="sub-4"),
        want("Ada", TULIP, FORSYTHIA, (QUINCE, "only if nothing else"), least_cm=25, stem="sub-5"),
        want("Ada", TULIP, FORSYTHIA, (QUINCE, "will do"), least_cm=25, stem="sub-6"),
    ]
    shops = [shop("s", (QUINCE, 1, 5, 30), minimum=5)]
    result = buying(told, shops, [GardenBranch(TULIP, 30, count=2)])
    assert sum(short.count for short in result.short_of) == 2
    assert plants(result) == {TULIP: 2, QUINCE: 2}
    assert result.total_minor == 10
