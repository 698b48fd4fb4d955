"""Go or cancel: days worked back by hand from the class, and what is said of them."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lesson.classes import TEN, a_class

from nejime.basis.sayings import Words
from nejime.forms.rules import packaged
from nejime.keeping.preparing import Lot, preparing
from nejime.lesson.going import Going, going
from nejime.lesson.plan import plan_lesson
from nejime.material.supply import Bunch, GardenBranch, Shop, Wish
from nejime.plants.table import plant

TODAY = dt.date(2026, 3, 1)
SAY = Words().say


def told(*shops: Shop, people: int = 12, today: dt.date = TODAY) -> Going | None:
    """The class of Saturday, 14 March, with tulips from each shop."""
    lots = [
        Lot(plant("tulip"), 10, place=shop.name, sells_on=frozenset(shop.days)) for shop in shops
    ]
    return going(preparing(lots, TEN), shops, people, today)


@pytest.mark.source("hand", "bought on Friday the 13th; ordered 13 - 3 = the 10th; free on the 9th")
def test_notice_is_counted_back_from_the_day_of_the_visit():
    found = told(Shop("florist", (), notice_days=3), Shop("grocery", ()))
    assert found is not None
    assert [(each.shop, each.order_on.day, each.buy_on.day) for each in found.orders] == [
        ("florist", 10, 13),
        ("grocery", 13, 13),
    ]
    assert found.first == dt.date(2026, 3, 10)
    assert found.last == dt.date(2026, 3, 9)


@pytest.mark.source("hand", "nobody wants notice: the day before the first purchase, the 13th - 1")
def test_without_notice_it_is_the_day_before_the_first_purchase():
    found = told(Shop("grocery", ()))
    assert found is not None
    assert found.last == dt.date(2026, 3, 12)


@pytest.mark.source(
    "hand",
    "the stall sells on Wednesdays, the 11th, and is paid then; the florist is ordered on the 12th:"
    " the stall comes first, so free until the 10th",
)
def test_a_market_day_may_come_before_the_first_order():
    found = told(Shop("florist", (), notice_days=1), Shop("stall", (), days=(2,)))
    assert found is not None
    assert [each.shop for each in found.orders] == ["stall", "florist"]
    assert found.last == dt.date(2026, 3, 10)


@pytest.mark.source("hand", "the 11th is the stall's Wednesday, the week's notice reaches the 4th")
def test_notice_is_added_to_the_market_day():
    found = told(Shop("stall", (), days=(2,), notice_days=7))
    assert found is not None
    assert found.first == dt.date(2026, 3, 4)


def test_where_nothing_is_bought_nothing_is_lost():
    tasks = preparing([Lot(plant("forsythia"), 10, "garden")], TEN)
    assert going(tasks, (), 12, TODAY) is None


def test_it_is_said_with_the_people_and_the_days():
    found = told(
        Shop("florist", (), notice_days=3), Shop("corner", (), notice_days=1), Shop("g", ())
    )
    assert found is not None
    assert SAY(found.says).startswith("On 2026-03-09 nothing is ordered")
    assert "12 people are" in SAY(found.says)
    florist, corner, grocery = (SAY(each.says) for each in found.orders)
    assert florist.endswith("wants to know 3 days before.")
    assert corner.endswith("wants to know a day before.")
    assert grocery == "Buy on 2026-03-13."
    alone = told(Shop("florist", ()), people=1)
    assert alone is not None
    assert "1 person is" in SAY(alone.says)


@pytest.mark.parametrize(("day", "over"), [(9, False), (10, True), (11, True)])
def test_after_that_day_it_is_said_that_it_is_over(day, over):
    found = told(Shop("florist", (), notice_days=3), today=dt.date(2026, 3, day))
    assert found is not None
    assert found.over == over
    assert ("may cost money" in SAY(found.says)) == over


SHOPS = st.lists(
    st.tuples(st.sets(st.integers(0, 6)), st.integers(0, 9)), min_size=1, max_size=4
).map(
    lambda rows: tuple(
        Shop(f"shop {at}", (), days=tuple(sorted(days)), notice_days=notice)
        for at, (days, notice) in enumerate(rows)
    )
)


@given(SHOPS, st.integers(0, 3))
def test_one_more_shop_or_more_notice_never_leaves_more_time(shops, more):
    found, fewer = told(*shops), told(*shops[1:])
    assert found is not None
    assert all(found.last < each.order_on <= each.buy_on for each in found.orders)
    assert fewer is None or found.last <= fewer.last
    first, *rest = shops
    later = Shop(first.name, (), days=first.days, notice_days=first.notice_days + more)
    noticed = told(later, *rest)
    assert noticed is not None
    assert noticed.last <= found.last


@pytest.mark.source("hand", "the Thursday before Saturday the 14th is the 12th; 12 - 2 - 1 = 9")
def test_the_plan_of_a_class_knows_days_and_notice():
    stall = Shop("stall", (Bunch("stall", "tulip", 10, 700, 45),), days=(3,), notice_days=2)
    garden = (GardenBranch("flowering-quince", 120, 30), GardenBranch("aspidistra", 60, 30))
    wishes = (Wish("first", "flowering-quince"), Wish("heart", "tulip"))
    lesson = a_class(3, shops=(stall,), garden=garden, wishes=wishes)
    found = plan_lesson(lesson, packaged(), TODAY).going
    assert found is not None
    assert found.orders[0].buy_on == dt.date(2026, 3, 12)
    assert found.last == dt.date(2026, 3, 9)
    assert found.people == 3
    bare = a_class(3, garden=garden, wishes=wishes[:1])
    assert plan_lesson(bare, packaged(), TODAY).going is None
