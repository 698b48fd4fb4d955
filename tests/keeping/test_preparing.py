"""Tasks before a class: all of them before it, and every plant with its rest."""

import datetime as dt
from collections import Counter
from dataclasses import replace
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.errors import InputError
from nejime.basis.sayings import Words
from nejime.keeping.opening import openings
from nejime.keeping.preparing import (
    Habits,
    Lot,
    buckets_needed,
    elapsed_min,
    later,
    light,
    preparing,
    rest_min,
    too_late,
)
from nejime.keeping.waiting import Place
from nejime.plants.table import plant, plants

WORDS = Words()
ZONE = ZoneInfo("America/New_York")
TEN = dt.datetime(2026, 3, 14, 10, tzinfo=ZONE)

LOTS = st.lists(
    st.builds(
        Lot,
        st.sampled_from(plants()),
        st.integers(1, 60),
        st.sampled_from(["shop", "garden"]),
        st.sampled_from(["", "market", "florist"]),
        st.integers(0, 3),
    ),
    max_size=6,
)
STARTS = st.datetimes(
    dt.datetime(2025, 1, 1), dt.datetime(2027, 12, 31), timezones=st.just(ZONE)
).filter(lambda at: 8 <= at.hour <= 20)


def of(tasks, kind, name=""):
    return [task for task in tasks if task.kind == kind and (not name or task.plant == name)]


@given(LOTS, STARTS, st.sets(st.integers(0, 5)))
def test_everything_is_done_before_the_class(lots, starts, closed) -> None:
    shut = {starts.date() - dt.timedelta(days=each) for each in closed}
    tasks = preparing(lots, starts, closed=shut)
    assert all(task.ends <= starts for task in tasks)
    assert all(task.minutes > 0 for task in tasks if task.kind != "hold")
    assert all(one.begins <= two.begins for one, two in pairwise(tasks))
    assert not any(task.begins.date() in shut for task in of(tasks, "buy"))


@given(LOTS, STARTS)
def test_every_lot_is_treated_once_and_has_its_rest(lots, starts) -> None:
    tasks = preparing(lots, starts)
    treated = Counter()
    for task in of(tasks, "treat"):
        treated[task.plant] += task.count
    wanted = Counter()
    for lot in lots:
        wanted[lot.plant.id] += lot.count
    assert treated == wanted
    for task in of(tasks, "hold"):
        assert task.minutes >= rest_min(plant(task.plant))
    assert sum(task.count for task in of(tasks, "hold")) == sum(lot.count for lot in lots)


@given(LOTS, STARTS)
def test_one_person_can_do_it(lots, starts) -> None:
    """On one day, buying, cutting and treating follow one another."""
    work = [t for t in preparing(lots, starts) if t.kind in ("buy", "cut", "piles", "treat")]
    for one, two in pairwise(work):
        assert one.ends <= two.begins


@pytest.mark.source(
    "hand",
    "class at 10, an hour to set up, 30 min way, 30 min loading: the house is left from 8:00; "
    "tulips bought 15-16 h the day before, 28 stems at a minute each rounded up to 30 min: in "
    "water at 16:30, so 15 h 30 = 930 min",
)
def test_a_morning_class_buys_its_tulips_the_day_before() -> None:
    tasks = preparing([Lot(plant("tulip"), 28, place="market")], TEN)
    buy, treat, hold = (of(tasks, kind)[0] for kind in ("buy", "treat", "hold"))
    assert buy.begins == dt.datetime(2026, 3, 13, 15, tzinfo=ZONE)
    assert (treat.begins.hour, treat.minutes) == (16, 30)
    assert hold.minutes == 930
    assert of(tasks, "load")[0].begins == dt.datetime(2026, 3, 14, 8, tzinfo=ZONE)
    assert of(tasks, "set-up")[0].begins == dt.datetime(2026, 3, 14, 9, tzinfo=ZONE)


@pytest.mark.source("practice", "garden branches are cut the evening before")
def test_garden_branches_are_cut_in_the_evening() -> None:
    cut = of(preparing([Lot(plant("flowering-quince"), 14, "garden")], TEN), "cut")[0]
    assert cut.begins == dt.datetime(2026, 3, 13, 18, tzinfo=ZONE)


def test_a_plant_from_two_places_is_cut_at_each_and_prepared_once() -> None:
    lots = [Lot(plant("forsythia"), n, "garden", at) for n, at in ((8, "the hedge"), (20, "shed"))]
    tasks = preparing(lots, TEN)
    assert [WORDS.say(t.says).count(t.place) for t in of(tasks, "cut")] == [1, 1]
    assert [t.count for t in of(tasks, "treat")] == [28]
    assert [t.count for t in of(tasks, "hold")] == [28]


@pytest.mark.source(
    "hand",
    "31 days before the March equinox the sun is 12 degrees south; at 45 degrees its half day is"
    " acos(tan 12) = 77.7 degrees = 5 h 11: down at 17:11, up at 6:49",
)
def test_nobody_cuts_in_the_dark() -> None:
    february = TEN.replace(month=2, day=19)
    cut = of(preparing([Lot(plant("forsythia"), 50, "garden")], february), "cut")[0]
    assert cut.begins == dt.datetime(2026, 2, 18, 7, tzinfo=ZONE)
    up, down = light(february)
    assert up.hour * 60 + up.minute == pytest.approx(6 * 60 + 49, abs=5)
    assert down.hour * 60 + down.minute == pytest.approx(17 * 60 + 11, abs=5)


@given(LOTS, STARTS, st.booleans())
def test_an_evening_in_the_garden_ends_by_daylight(lots, starts, southern) -> None:
    cuts = of(preparing(lots, starts, southern=southern), "cut")
    for day in {task.begins.date() for task in cuts} - {starts.date()}:
        today = [task for task in cuts if task.begins.date() == day]
        if today[0].begins.hour >= 18:
            assert today[-1].ends <= light(today[-1].begins, southern=southern)[1]


def test_what_is_bought_is_cut_into_piles_before_it_is_prepared() -> None:
    tasks = preparing([Lot(plant("tulip"), 28, place="market")], TEN, piled={"tulip"})
    pile, treat = of(tasks, "piles")[0], of(tasks, "treat")[0]
    assert pile.ends == treat.begins
    assert not of(preparing([Lot(plant("tulip"), 28, place="market")], TEN), "piles")


@pytest.mark.source("doorn1998", "why it stands apart")
@pytest.mark.source("hand", "24 h before 8:00 on the 14th is 8:00 on the 13th: bought on the 12th")
def test_narcissus_is_bought_two_days_before_and_cut_to_length_first() -> None:
    lots = [Lot(plant("trumpet-daffodil"), 10), Lot(plant("tulip"), 10)]
    tasks = preparing(lots, TEN)
    treat = of(tasks, "treat", "trumpet-daffodil")[0]
    assert treat.begins.date() == dt.date(2026, 3, 12)
    assert treat.says.key == "keeping.task.treat-final"
    assert of(tasks, "hold", "trumpet-daffodil")[0].minutes >= 24 * 60
    assert of(tasks, "treat", "tulip")[0].begins.date() == dt.date(2026, 3, 13)
    assert "not cut it again" in " ".join(
        WORDS.say(each) for each in of(tasks, "hold", "trumpet-daffodil")[0].cautions
    )


@pytest.mark.source(
    "hand", "14 sets at a minute: 15 min before 8:00; 30 kits at 3 min: 90 min, 6:30"
)
def test_sets_are_counted_out_before_loading() -> None:
    room = preparing([Lot(plant("tulip"), 14)], TEN, sets=14)
    assert of(room, "sets")[0].begins == TEN.replace(hour=7, minute=45)
    kits = preparing([Lot(plant("tulip"), 30)], TEN, sets=30, wrapped=True)
    assert of(kits, "sets")[0].begins == TEN.replace(hour=6, minute=30)
    many = preparing([Lot(plant("tulip"), 60)], TEN, sets=60, wrapped=True)
    assert of(many, "sets")[0].begins == dt.datetime(2026, 3, 13, 18, tzinfo=ZONE)


@pytest.mark.source("own", "boiling water only at home, said on the task")
def test_a_plant_for_boiling_water_says_where_and_that_the_cut_is_final() -> None:
    treat = of(preparing([Lot(plant("euphorbia"), 3)], TEN), "treat")[0]
    said = " ".join(WORDS.say(each) for each in treat.cautions)
    assert "Never in the library" in said
    assert treat.says.key == "keeping.task.treat-final"


@pytest.mark.source("hand", "2026-03-13 is closed, so the shop is visited on the 12th")
def test_a_closed_shop_is_visited_earlier() -> None:
    tasks = preparing([Lot(plant("tulip"), 5)], TEN, closed=[dt.date(2026, 3, 13)])
    assert of(tasks, "buy")[0].begins.date() == dt.date(2026, 3, 12)


@pytest.mark.source(
    "hand",
    "1 January 2026 is a Thursday, so 14 March, 72 = 10 x 7 + 2 days later, is a Saturday;"
    " Wednesday is the 11th",
)
def test_a_shop_is_visited_on_a_day_on_which_it_sells() -> None:
    stall = Lot(plant("tulip"), 5, place="stall", sells_on=frozenset({2}))
    daily = Lot(plant("rose"), 5, place="florist")
    days = {task.place: task.begins.date() for task in of(preparing([stall, daily], TEN), "buy")}
    assert days == {"stall": dt.date(2026, 3, 11), "florist": dt.date(2026, 3, 13)}
    shut = preparing([stall], TEN, closed=[dt.date(2026, 3, 11)])
    assert of(shut, "buy")[0].begins.date() == dt.date(2026, 3, 4)


@given(LOTS, STARTS, st.sets(st.integers(0, 6)))
def test_no_shop_is_visited_on_a_day_on_which_it_does_not_sell(lots, starts, days) -> None:
    told = [replace(lot, sells_on=frozenset(days)) for lot in lots]
    tasks = preparing(told, starts)
    assert all(not days or task.begins.weekday() in days for task in of(tasks, "buy"))
    for task in of(tasks, "hold"):
        assert task.minutes >= rest_min(plant(task.plant))
    garden = [lot for lot in told if lot.origin == "garden"]
    usual = [replace(lot, sells_on=frozenset()) for lot in garden]
    assert preparing(garden, starts) == preparing(usual, starts)


def test_a_weekday_that_is_none_is_refused() -> None:
    with pytest.raises(ValueError, match="Monday"):
        Lot(plant("tulip"), 5, sells_on=frozenset({7}))


@pytest.mark.source(
    "hand",
    "clocks go forward at 2:00 on 8 March 2026 in New York: from 16:10 on the 7th to 8:00 on the "
    "8th the hands move 15 h 50 but 14 h 50 = 890 min pass",
)
def test_a_change_of_the_clock_is_counted() -> None:
    sunday = dt.datetime(2026, 3, 8, 10, tzinfo=ZONE)
    hold = of(preparing([Lot(plant("tulip"), 10)], sunday), "hold")[0]
    assert (hold.begins.hour, hold.begins.minute) == (16, 10)
    assert hold.minutes == 890


@given(STARTS, st.integers(-5000, 5000))
def test_minutes_there_and_back(moment, minutes) -> None:
    assert elapsed_min(moment, later(moment, minutes)) == minutes


def test_on_the_day_itself_only_where_the_rest_allows() -> None:
    morning = preparing([Lot(plant("tulip"), 5, days_before=0)], TEN)
    assert of(morning, "buy")[0].begins.date() == dt.date(2026, 3, 13)
    evening = preparing([Lot(plant("tulip"), 5, days_before=0)], TEN.replace(hour=19))
    assert of(evening, "buy")[0].begins == TEN.replace(hour=7)


def test_the_look_at_the_buckets_is_at_a_human_hour() -> None:
    early = preparing([Lot(plant("tulip"), 5)], TEN.replace(hour=8))
    assert of(early, "check")[0].begins == dt.datetime(2026, 3, 13, 18, tzinfo=ZONE)
    late = preparing([Lot(plant("tulip"), 5)], TEN.replace(hour=14))
    assert of(late, "check")[0].begins == TEN.replace(hour=10, minute=45)


def test_a_shop_is_visited_once_for_all_its_plants() -> None:
    lots = [Lot(plant(name), 5, place="market") for name in ("tulip", "rose")]
    tasks = preparing(lots, TEN)
    assert len(of(tasks, "buy")) == 1
    assert of(tasks, "buy")[0].count == 10


def test_what_is_too_late_is_told() -> None:
    tasks = preparing([Lot(plant("tulip"), 5)], TEN)
    assert too_late(tasks, TEN - dt.timedelta(days=3)) == ()
    late = too_late(tasks, dt.datetime(2026, 3, 13, 23, tzinfo=ZONE))
    assert {task.kind for task in late} == {"buy", "treat"}


def test_a_class_without_a_zone_is_refused() -> None:
    with pytest.raises(InputError) as trouble:
        preparing([], dt.datetime(2026, 3, 14, 10))
    assert trouble.value.faults[0].field == "starts"


def test_her_own_hours_replace_ours() -> None:
    own = Habits(shopping=dt.time(9), travel_min=0, setting_up_min=90)
    tasks = preparing([Lot(plant("tulip"), 5)], TEN, habits=own)
    assert of(tasks, "buy")[0].begins.hour == 9
    assert of(tasks, "load")[0].begins == TEN.replace(hour=8)


@given(LOTS, STARTS)
def test_every_task_can_be_said(lots, starts) -> None:
    for task in preparing(lots, starts):
        for says in (task.says, *task.notes, *task.cautions):
            assert "{" not in WORDS.say(says)


# Brought to open on the day

OPENED = sorted(name for name, known in openings().items() if known.stages)
UTC_LOTS = st.lists(
    st.builds(
        Lot,
        st.sampled_from(plants()) | st.sampled_from(OPENED).map(plant),
        st.integers(1, 60),
        st.just("shop"),
        st.sampled_from(["market", "florist"]),
        in_bud=st.booleans(),
    ),
    max_size=6,
)


@given(UTC_LOTS, STARTS, st.integers(1, 40))
def test_a_class_moved_by_days_moves_everything_by_as_many(lots, starts, days) -> None:
    utc = starts.replace(tzinfo=dt.UTC)
    moved = dt.timedelta(days=days)
    one, two = preparing(lots, utc), preparing(lots, utc + moved)
    assert [(t.begins + moved, t.minutes, t.kind, t.plant) for t in one] == [
        (t.begins, t.minutes, t.kind, t.plant) for t in two
    ]


@given(UTC_LOTS, STARTS)
def test_every_flower_that_is_known_to_open_says_what_to_look_for(lots, starts) -> None:
    tasks = preparing(lots, starts)
    looked = " ".join(WORDS.say(note) for t in of(tasks, "buy") for note in t.notes)
    for lot in lots:
        known = openings().get(lot.plant.id)
        asked = f"{lot.plant.english}: look for"
        assert (asked in looked) is (known is not None and bool(known.stages))
    for hold in of(tasks, "hold"):
        said = [note.key.rpartition(".")[2] for note in hold.notes]
        assert not {"not-yet", "will-not-open"} & set(said), hold.plant


@given(LOTS, STARTS)
def test_stems_are_always_somewhere(lots, starts) -> None:
    tasks = preparing(lots, starts)
    for hold in of(tasks, "hold"):
        assert hold.stays[0].begins == hold.begins
        assert hold.stays[-1].ends - hold.ends < dt.timedelta(minutes=1)
        moves = [t for t in of(tasks, "move", hold.plant) if hold.begins < t.begins < hold.ends]
        assert {stay.begins for stay in hold.stays[1:]} <= {move.begins for move in moves}
        assert hold.buckets > 0
    needed = buckets_needed(tasks)
    every = sum(task.buckets for task in of(tasks, "hold"))
    assert all(0 < count <= every for count in needed.values())
    assert bool(needed) is bool(lots)


@pytest.mark.source("doorn2004", "iris at 20 °C: most open on day 1, all by day 2")
@pytest.mark.source(
    "hand",
    "bought on the 13th it stands in water from 16:10 to 8:00, 15 h 50 = 0.66 d: too short; from"
    " the 12th on 1.66 d",
)
def test_iris_is_bought_two_days_before_a_morning_class() -> None:
    tasks = preparing([Lot(plant("dutch-iris"), 10), Lot(plant("aspidistra"), 10)], TEN)
    bought = {t.notes != (): t.begins.date() for t in of(tasks, "buy")}
    assert bought == {True: dt.date(2026, 3, 12), False: dt.date(2026, 3, 13)}
    hold = of(tasks, "hold", "dutch-iris")[0]
    assert [note.key for note in hold.notes] == ["keeping.wait.open"]
    assert any("lying dry" in WORDS.say(each) for each in hold.cautions)
    budded = preparing([Lot(plant("dutch-iris"), 10, in_bud=True)], TEN)
    assert of(budded, "buy")[0].begins.date() == dt.date(2026, 3, 13)
    assert of(budded, "hold")[0].notes[0].key == "keeping.wait.bud"


def test_what_lasts_anyhow_is_fetched_with_what_must_come_earlier() -> None:
    lots = [Lot(plant(name), 10, place="stall") for name in ("dutch-iris", "aspidistra")]
    tasks = preparing(lots, TEN)
    assert [t.begins.date() for t in of(tasks, "buy")] == [dt.date(2026, 3, 12)]
    with_tulips = preparing([*lots, Lot(plant("tulip"), 10, place="stall")], TEN)
    assert len(of(with_tulips, "buy")) == 2


@pytest.mark.source("bieleski2000", "lilies open about two hours after lights-on")
@pytest.mark.source(
    "hand", "for a class at 10 they are open by 8, for one at 9 a day must pass more"
)
def test_lilies_are_bought_for_whole_mornings() -> None:
    days = [
        of(preparing([Lot(plant("lily"), 5)], TEN.replace(hour=hour)), "buy")[0].begins.date().day
        for hour in (9, 10, 14)
    ]
    assert days == [12, 13, 13]


@pytest.mark.source("practice", "out of the cold before the class")
def test_what_waits_long_is_moved_at_a_human_hour() -> None:
    lot = Lot(plant("tulip"), 20, days_before=4)
    tasks = preparing([lot], TEN)
    hold = of(tasks, "hold")[0]
    moves = of(tasks, "move")
    assert hold.stays[0].place.name == "fridge"
    assert len(moves) == len(hold.stays) - 1 == 1
    assert moves[0].begins.hour in (7, 18)
    assert "fridge" in WORDS.say(moves[0].says)


def test_a_class_on_a_day_after_the_only_market_says_that_flowers_will_be_past() -> None:
    """Sweet peas are open after half a day at the most and last three: the stall sells six days
    before."""
    lot = Lot(plant("sweet-pea"), 10, place="stall", sells_on=frozenset({6}))
    hold = of(preparing([lot], TEN), "hold")[0]
    assert [note.key for note in hold.notes] == ["keeping.wait.past", "keeping.wait.another-day"]
    assert "will be past" in WORDS.say(hold.notes[0])


@pytest.mark.source(
    "hand",
    "quince takes 0.2845 of the days until 20 April: cut n days before 14 March, 37 days before:"
    " n = 0.2845 (37 + n), n = 14.7, so 15 days before, on 27 February",
)
def test_a_branch_of_which_the_bloom_is_known_is_forced() -> None:
    lot = Lot(plant("flowering-quince"), 14, "garden", bloom=dt.date(2026, 4, 20))
    tasks = preparing([lot], TEN)
    early, cut = of(tasks, "cut")
    hold = of(tasks, "hold")[1]
    assert cut.begins.date() == dt.date(2026, 2, 27)
    assert early.begins.date() == dt.date(2026, 2, 20)  # the other batch, a week before
    assert [t.count for t in of(tasks, "treat")] == [14, 14]
    assert list(buckets_needed(tasks).values()) == [2 * hold.buckets]
    assert "one of the two" in WORDS.say(cut.notes[0])
    assert [stay.place.name for stay in hold.stays] == ["light-room"]
    assert any("fresh water every day" in WORDS.say(each) for each in hold.cautions)
    # Where nobody told the day, it is cut as ever, and what would have to be done is said.
    usual = of(preparing([replace(lot, bloom=None)], TEN), "cut")[0]
    assert usual.begins.date() == dt.date(2026, 3, 13)
    said = " ".join(WORDS.say(note) for note in usual.notes)
    assert "bare bud" in said
    assert "2026-02-27" in said
    budded = of(preparing([replace(lot, in_bud=True)], TEN), "cut")[0]
    assert budded.begins.date() == dt.date(2026, 3, 13)
    assert budded.notes == ()


def test_a_branch_in_bloom_outdoors_is_cut_the_evening_before() -> None:
    lot = Lot(plant("flowering-quince"), 14, "garden", bloom=dt.date(2026, 3, 10))
    cut = of(preparing([lot], TEN), "cut")[0]
    assert cut.begins.date() == dt.date(2026, 3, 13)
    assert "look for" in WORDS.say(cut.notes[0])


@pytest.mark.source("costa2021", "tropical plants: not below 13 °C")
def test_a_tropical_plant_waits_in_the_warm() -> None:
    hold = of(preparing([Lot(plant("anthurium"), 5)], TEN), "hold")[0]
    assert [stay.place.name for stay in hold.stays] == ["warm-room"]
    assert "not in a fridge" in WORDS.say(hold.cautions[0])


def test_her_own_places_replace_ours() -> None:
    cellar = Place("cool-room", 8.0, 10.0)
    tasks = preparing([Lot(plant("tulip"), 5, in_bud=True)], TEN, places=[cellar])
    assert {stay.place for stay in of(tasks, "hold")[0].stays} == {cellar}
