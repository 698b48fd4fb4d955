"""Looking after a piece on display: when to pour, what comes out when, where it should not be."""

import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nejime.basis.sayings import Words
from nejime.forms.vessel import vessel
from nejime.keeping.looking_after import (
    ORDER,
    OnDisplay,
    Shown,
    card,
    in_short,
    looking_after,
    stand_ins,
)
from nejime.keeping.water_loss import ROOMS, Reading
from nejime.papers.wording import dated
from nejime.plants.table import plant, plants

WORDS = Words()
DAY = dt.date(2027, 2, 20)
MORNING = dt.datetime(2027, 2, 20, 9)
DISH = vessel("round", 30.0, 6.0)


def piece(*names: str, days: int = 20, **other) -> OnDisplay:
    told = {
        "vessel": DISH,
        "full_cm": 3.5,
        "pins_cm": 2.2,
        "room": "usual",
        "since": DAY,
        "until": DAY + dt.timedelta(days=days),
        "filled": MORNING,
        **other,
    }
    return OnDisplay(plants=tuple(Shown(plant(name), 2, DAY) for name in names), **told)


def days_of(found, kind: str) -> list[dt.date]:
    return [each.on for each in found.actions if each.kind == kind]


# What comes out


@pytest.mark.source(
    "memory", "tulip 4 days in a vase, quince 7 and camellia 3 on pins, pine 21, at the least"
)
def test_what_fades_first_comes_out_first_on_its_day() -> None:
    found = looking_after(piece("pine", "tulip", "flowering-quince", "camellia"), MORNING)
    out = [(each.plant, each.on.day) for each in found.actions if each.kind == "out"]
    assert out == [("camellia", 23), ("tulip", 24), ("flowering-quince", 27)]
    pine = found.plants[-1]
    assert pine.to_the_end
    assert "to the end" in dated(pine.says, WORDS)


@pytest.mark.source("hand", "a tulip that came in on 24 February with 4 days: out on the 28th")
def test_a_replaced_plant_begins_anew() -> None:
    fresh = Shown(plant("tulip"), 2, dt.date(2027, 2, 24))
    late = OnDisplay(DISH, 3.5, 2.2, "usual", (fresh,), DAY, DAY + dt.timedelta(days=20), MORNING)
    assert days_of(looking_after(late, MORNING), "out") == [dt.date(2027, 2, 28)]


@pytest.mark.source(
    "hand",
    "4 days at 20 °C are 4 / 3^0.8 = 1.66 at 28 °C, told as 2; 4 / 3^0.1 = 3.58 at 21 °C, as 4",
)
@pytest.mark.parametrize(
    ("room", "day"), [("hot", 22), ("heated", 24), ("usual", 24), ("cool", 24)]
)
def test_a_hot_room_takes_days_and_a_cool_one_promises_none(room, day) -> None:
    found = looking_after(piece("tulip", room=room), MORNING)
    assert days_of(found, "out") == [dt.date(2027, 2, day)]


@settings(deadline=None, max_examples=25)
@given(st.sampled_from(plants()))
def test_no_room_makes_a_plant_last_longer_than_its_low_end(each) -> None:
    days = [looking_after(piece(each.id, room=room), MORNING).plants[0].days for room in ROOMS]
    if None not in days:
        assert max(days) == looking_after(piece(each.id), MORNING).plants[0].days
        assert min(days) == looking_after(piece(each.id, room="hot"), MORNING).plants[0].days


def test_the_piece_is_taken_away_at_its_end_and_that_is_the_last() -> None:
    found = looking_after(piece("tulip"), MORNING)
    assert found.actions[-1].kind == "down"
    assert found.actions[-1].on == dt.date(2027, 3, 12)


@given(st.lists(st.sampled_from(plants()), min_size=1, max_size=5), st.integers(1, 40))
@settings(deadline=None, max_examples=40)
def test_days_are_in_order_and_what_is_not_known_has_none(chosen, days) -> None:
    found = looking_after(piece(*(each.id for each in chosen), days=days), MORNING)
    order = [(each.on, ORDER.index(each.kind)) for each in found.actions]
    assert order == sorted(order)
    assert all(DAY <= each.on <= DAY + dt.timedelta(days=days) for each in found.actions)
    for each in found.plants:
        assert (each.out_on is None) == (each.days is None)
        assert each.days is not None or "not known" in dated(each.says, WORDS)
        assert each.out_on is None or each.grade


@pytest.mark.source("memory", "tulips grow 2 to 5 cm after cutting")
def test_a_tulip_goes_on_growing() -> None:
    (tulip,) = looking_after(piece("tulip"), MORNING).plants
    assert tulip.grows is not None
    assert "2 to 5 cm" in WORDS.say(tulip.grows)
    (pine,) = looking_after(piece("pine"), MORNING).plants
    assert pine.grows is None


# What may come instead


@pytest.mark.source("hand", "a plant that goes a day before the piece; the day before that, two")
def test_for_one_day_nothing_is_bought() -> None:
    lasts = looking_after(piece("tulip"), MORNING).plants[0].days
    assert lasts is not None
    for more, bought in ((0, False), (1, False), (2, True)):
        (tulip,) = looking_after(piece("tulip", days=lasts + more), MORNING).plants
        assert bool(tulip.instead) is bought


@given(st.sampled_from(plants()), st.integers(0, 364), st.integers(1, 40))
@settings(deadline=None, max_examples=60)
def test_what_comes_instead_is_alike_lasts_longer_and_is_there(old, on, days) -> None:
    day = dt.date(2027, 1, 1) + dt.timedelta(days=on)
    low = [fact.low for fact in (*old.facts_of("display_on_pins_d"), *old.facts_of("vase_life_d"))]
    for new in stand_ins(old, day, day + dt.timedelta(days=days)):
        assert new.id != old.id
        assert new.kind == old.kind
        assert old.roles[0] in new.roles
        assert new.on_market(day.month)
        assert all(hazard.hazard not in ("cat-fatal", "urushiol") for hazard in new.hazards)
        assert not any(h.hazard == "toxic-eaten" and h.to == "people" for h in new.hazards)
        facts = (*new.facts_of("display_on_pins_d"), *new.facts_of("vase_life_d"))
        known = [each for each in low if each is not None]
        assert max(fact.low or 0 for fact in facts) > min(known, default=0)


@pytest.mark.source("ichimura2011", "chrysanthemum 20 days in distilled water at 23 °C")
def test_for_a_tulip_a_flower_that_lasts_to_the_end() -> None:
    day = dt.date(2027, 2, 24)
    found = stand_ins(plant("tulip"), day, day + dt.timedelta(days=16))
    assert found[0].id == "chrysanthemum"


# Water


@given(st.sampled_from(list(ROOMS)), st.floats(2.8, 4.6), st.integers(0, 40), st.integers(3, 40))
@settings(deadline=None, max_examples=40)
def test_it_is_poured_before_the_water_can_be_down(room, full, hours, days) -> None:
    now = MORNING + dt.timedelta(hours=hours)
    found = looking_after(piece("rose", room=room, full_cm=full, days=days), now)
    first = next((each.on for each in found.actions if each.kind == "fill"), None)
    if first is not None:
        waited = (first - DAY).days
        assert waited == 1 or waited <= found.pouring.lasts_d.low
        assert first < DAY + dt.timedelta(days=days)


def test_pouring_again_puts_it_off() -> None:
    later = MORNING + dt.timedelta(days=3)
    before = days_of(looking_after(piece("rose"), later), "fill")
    after = days_of(looking_after(piece("rose", filled=later), later), "fill")
    assert before[0] < later.date()  # it is overdue
    assert before[1] > later.date()
    assert after[0] > later.date()


def test_a_slow_ruler_makes_looking_rarer() -> None:
    slow = piece("rose", readings=(Reading(48.0, 0.1),))
    assert looking_after(slow, MORNING).pouring.every_d > 1
    assert "once" in " ".join(WORDS.say(each) for each in looking_after(slow, MORNING).pouring.why)


@pytest.mark.source("hand", "a reading of 2 mm a day: 1 cm in 5 days; half an inch in 6")
def test_the_water_in_one_line() -> None:
    read = piece("rose", readings=(Reading(24.0, 0.2),))
    line = WORDS.say(looking_after(read, MORNING).pouring.line)
    assert line.startswith("The water falls about 1 cm in 5 days: look")
    inches = looking_after(read, MORNING, step_cm=1.27).pouring.line
    assert "½ in in 6 days" in Words(unit="in").say(inches)


@pytest.mark.source(
    "hand", "a round dish of 30 cm: 2 mm · 707 cm² = 141 ml a day, a little less as the water falls"
)
def test_what_is_missing_is_the_area_times_the_fall() -> None:
    read = piece("rose", readings=(Reading(24.0, 0.2),))
    found = looking_after(read, MORNING + dt.timedelta(days=1))
    assert found.pouring.now_ml == pytest.approx(141, abs=5)
    fill = next(each for each in found.actions if each.kind == "fill")
    days = (fill.on - DAY).days
    assert fill.says.quantities["pour_ml"] == pytest.approx(141 * days, rel=0.06)


def test_in_a_tall_vase_a_third_may_go() -> None:
    vase = piece("rose", vessel=vessel("vase", 12.0, 28.0), full_cm=21.0, pins_cm=None)
    found = looking_after(vase, MORNING)
    assert found.pouring.lowest_cm == pytest.approx(14.0)
    assert card(vase, found).pins is None


def test_of_all_pourings_the_first_is_told_in_short() -> None:
    found = looking_after(piece("tulip"), MORNING)
    short = in_short(found.actions)
    assert [each.kind for each in short].count("fill") == 1
    assert [each for each in short if each.kind != "fill"] == [
        each for each in found.actions if each.kind != "fill"
    ]


def test_a_piece_that_begins_later_is_first_set_up() -> None:
    early = looking_after(piece("tulip"), MORNING - dt.timedelta(days=2))
    assert early.actions[0].kind == "up"
    assert early.pouring.level_cm.usual == pytest.approx(3.5)


# Where not to put it, and what colleagues must know


def test_books_and_heaters_always_and_reach_where_it_harms() -> None:
    said = [WORDS.say(each) for each in looking_after(piece("pine"), MORNING).places]
    assert any("heater" in each and "vent" in each and "sun" in each for each in said)
    assert any("books" in each for each in said)
    assert not any("child" in each for each in said)
    daffodil = looking_after(piece("trumpet-daffodil", "tulip"), MORNING).places
    assert "nobody may eat of Trumpet daffodil." in WORDS.say(daffodil[-1])


@given(st.sampled_from([each for each in plants() if each.kind == "berry"]))
def test_berries_are_kept_out_of_reach(berry) -> None:
    said = looking_after(piece(berry.id), MORNING).places
    assert any("child" in WORDS.say(each) for each in said)


def test_the_card_says_line_fall_days_places_and_whom_to_ring() -> None:
    shown = piece("tulip", contact="desk, 555-0100", poison_line="555-0111")
    told = card(shown, looking_after(shown, MORNING))
    assert told.water is not None
    assert "look daily" in WORDS.say(told.water)
    assert "below the rim" in WORDS.say(told.fill)
    assert "555-0100" in WORDS.say(told.ring)
    assert any("555-0111" in WORDS.say(each) for each in told.minding)
    assert told.places
    assert told.grade is not None
