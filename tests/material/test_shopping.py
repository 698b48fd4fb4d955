"""The lists for the shop aisle and the garden."""

from __future__ import annotations

import pytest
from hypothesis import given
from material.making import FORSYTHIA, GARDENS, QUINCE, ROSE, SHOPS, TULIP, shop, want, wants

from nejime.basis.sayings import Words
from nejime.material.buying import buying
from nejime.material.piles import piles
from nejime.material.shopping import shopping
from nejime.material.supply import GardenBranch

WORDS = Words()


def listed(asked, shops=(), garden=(), by_name=()):
    bought = buying(asked, shops, garden)
    return shopping(bought, piles(bought, by_name))


@pytest.mark.source(
    "hand", "12 wanted: 2 bunches of 10; 2 x 7.99 = 15.98, and 3.00: 18.98; 33.2 + 2 said 35"
)
def test_a_row_tells_bunches_stems_length_and_price():
    asked = [want(least_cm=30, count=11), want("Ben", least_cm=33.2)]
    (grocery,) = listed(asked, [shop("grocery", (TULIP, 10, 799, 45), delivery=300)]).shops
    (row,) = grocery.rows
    assert (row.bunches, row.stems_each, row.stems, row.wanted) == (2, 10, 20, 12)
    assert (row.long_cm, row.grade_cm) == (max(each.aim_cm for each in asked), 45)
    assert (row.each_minor, row.price_minor) == (799, 1598)
    assert (grocery.bunches_minor, grocery.delivery_minor, grocery.total_minor) == (1598, 300, 1898)
    assert WORDS.say(row.says) == "2 bunches of 10 Tulip, at least 35 cm long"


def test_stand_ins_are_ranked_and_the_wished_plant_is_among_them():
    asked = want("Ada", FORSYTHIA, (QUINCE, "as good"), (ROSE, "only if nothing else"))
    (only,) = listed([asked], [shop("s", (QUINCE, 5, 900, 80))]).shops
    assert [WORDS.say(each) for each in only.rows[0].instead] == [
        "Forsythia (wished for)",
        "Rose (only if nothing else)",
    ]


def test_the_garden_is_cut_pile_by_pile():
    asked = [want(f"P{number}", ROSE, least_cm=least) for number, least in enumerate((78, 40, 38))]
    made = listed(asked, garden=[GardenBranch(ROSE, 90, count=5, name="hedge")])
    assert [(row.place, row.count, row.cut_cm, row.pile) for row in made.garden] == [
        ("hedge", 1, 80, "long"),
        ("hedge", 2, 42, "short"),
    ]
    assert WORDS.say(made.garden[1].says) == "2 Rose, 42 cm long"
    assert (made.shops, made.total_minor) == ((), 0)


def test_what_is_cut_by_name_is_one_row_for_the_garden():
    asked = [want("Ada", ROSE, least_cm=78), want("Ben", ROSE, least_cm=40)]
    made = listed(asked, garden=[GardenBranch(ROSE, 90, count=5)], by_name={ROSE})
    (row,) = made.garden
    assert (row.count, row.cut_cm, row.pile) == (2, 80, None)
    assert WORDS.say(row.says) == "2 Rose, up to 80 cm long"


@given(wants(), SHOPS, GARDENS)
def test_the_lists_hold_what_is_bought_and_cut(asked, shops, garden):
    bought = buying(asked, shops, garden)
    made = shopping(bought, piles(bought))
    assert sum(row.price_minor for each in made.shops for row in each.rows) == sum(
        buy.price_minor for buy in bought.buys
    )
    assert sum(each.total_minor for each in made.shops) == made.total_minor == bought.total_minor
    assert sum(row.count for row in made.garden) == sum(cut.count for cut in bought.from_garden)
    for each in made.shops:
        for row in each.rows:
            assert WORDS.say(row.says)
            assert row.plant not in [choice.plant for choice in row.stand_ins]
