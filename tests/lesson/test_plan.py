"""The whole plan of a class: everybody has one, nothing is lost, every sentence is said."""

import dataclasses
import datetime as dt
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying, Words
from nejime.forms.holder import holder
from nejime.forms.rules import packaged
from nejime.forms.vessel import vessel
from nejime.lesson.lesson import NOTES, Lend, Lesson, Money, Person
from nejime.lesson.plan import plan_lesson
from nejime.material.supply import Bunch, GardenBranch, Shop, StandIn, Wish
from nejime.reading.class_file import read_class

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
RULES = packaged()
TODAY = dt.date(2027, 2, 1)


def sayings(value: object) -> Iterator[Saying]:
    """Every saying in a value, however deep."""
    if isinstance(value, Saying):
        yield value
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from sayings(getattr(value, field.name))
    elif isinstance(value, Mapping):
        for each in value.values():
            yield from sayings(each)
    elif isinstance(value, tuple | list | frozenset):
        for each in value:
            yield from sayings(each)


VESSELS = st.one_of(
    st.none(),
    st.builds(
        lambda shape, width, height: vessel(shape, width, height),
        st.sampled_from(["round", "oval", "rectangle", "bowl", "footed"]),
        st.floats(14, 45),
        st.floats(5, 14),
    ),
    st.builds(
        lambda width, height: vessel("vase", width, height), st.floats(7, 14), st.floats(18, 40)
    ),
)
PEOPLE = st.lists(
    st.tuples(VESSELS, st.sets(st.sampled_from(NOTES), max_size=2)), min_size=1, max_size=5
).map(
    lambda rows: tuple(
        Person(f"Person {at}", made, please_note=tuple(sorted(notes)))
        for at, (made, notes) in enumerate(rows, start=1)
    )
)
WISHES = (
    Wish("first", "forsythia"),
    Wish("second", "forsythia", stand_ins=(StandIn("flowering-quince", "as good"),)),
    Wish("third", "tulip", in_bud=True),
    Wish("helper", "forsythia", each=1),
    Wish("heart", "tulip", each=2, stand_ins=(StandIn("trumpet-daffodil", "will do"),)),
    Wish("leaf", "aspidistra", each=2),
)
SHOPS = st.lists(
    st.builds(
        Bunch,
        shop=st.just("a shop"),
        plant=st.sampled_from(["tulip", "forsythia", "aspidistra", "trumpet-daffodil"]),
        stems=st.integers(1, 12),
        price_minor=st.integers(100, 3000),
        length_cm=st.floats(20, 110),
        most=st.none() | st.integers(0, 5),
    ),
    max_size=4,
).map(lambda bunches: (Shop("a shop", tuple(bunches), 500, 250),) if bunches else ())
GARDENS = st.lists(
    st.builds(
        GardenBranch,
        plant=st.sampled_from(["forsythia", "flowering-quince"]),
        length_cm=st.floats(30, 150),
        count=st.integers(1, 30),
    ),
    max_size=2,
).map(tuple)
LESSONS = st.builds(
    Lesson,
    title=st.just("A class"),
    library=st.just("A library"),
    place=st.just("A room"),
    starts=st.dates(dt.date(2026, 1, 1), dt.date(2028, 12, 31)).map(
        lambda day: dt.datetime.combine(day, dt.time(10), ZoneInfo("America/Chicago"))
    ),
    minutes=st.integers(90, 180),
    people=PEOPLE,
    form=st.sampled_from(["upright", "slanting"]),
    opens=st.sampled_from(["right", "left"]),
    filmed=st.booleans(),
    take_home=st.booleans(),
    display_days=st.integers(0, 7),
    money=st.just(Money("$")),
    lend=st.sampled_from([Lend(), Lend(((vessel("round", 28, 6), 2),), ((holder(7), 2),))]),
    wishes=st.sampled_from([WISHES, WISHES[:3], ()]),
    shops=SHOPS,
    garden=GARDENS,
    southern=st.booleans(),
)


@given(LESSONS)
@settings(max_examples=25, deadline=None)
def test_any_class_is_planned_or_refused(lesson):
    try:
        plan = plan_lesson(lesson, RULES, TODAY)
    except InputError:  # a vessel in which no holder lies flat, or a class too short
        return
    assert [person.name for person in plan.people] == [person.name for person in lesson.people]
    for person, asked in zip(plan.people, lesson.people, strict=True):
        assert (person.made is None) == (asked.vessel is None)
    _nothing_is_lost(plan)
    for unit in ("cm", "in", "both"):
        words = Words(unit=unit, currency="$")
        for saying in sayings(plan):
            assert words.say(saying)


def _nothing_is_lost(plan):
    """Ends bought and cut = ends used and left over; every end used is in exactly one set."""
    bought = plan.bought
    from_shops = Counter()
    for buy in bought.buys:
        from_shops[buy.bunch] += buy.stems
    branches = {(use.from_, use.branch): use.from_garden for use in bought.uses}
    used = Counter(source for (source, _), garden in branches.items() if not garden)
    left = Counter()
    for rest in bought.left_over:
        left[rest.bunch] += rest.count
    assert used + left == from_shops
    cut = Counter()
    for each in bought.from_garden:
        cut[each.branch] += each.count
    assert Counter(source for (source, _), garden in branches.items() if garden) == cut
    in_sets = sum(
        sum(len(take.stems) for take in each.takes) + len(each.cuts) for each in plan.piles.sets
    )
    spares = sum(1 for use in bought.uses if use.wanted.purpose == "spare")
    assert in_sets + spares == len(bought.uses)


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_every_sentence_of_the_examples_is_said_in_every_unit(example):
    lesson = read_class(example.name, example.read_bytes())
    plan = plan_lesson(lesson, RULES, TODAY)
    found = list(sayings(plan))
    assert len(found) > 100
    for unit in ("cm", "in", "both"):
        words = Words(unit=unit, currency="$")
        for saying in found:
            text = words.say(saying)
            assert text
            assert "{" not in text
    assert plan.bought.complete
    _nothing_is_lost(plan)


def test_a_plan_follows_from_the_class_and_the_day_alone():
    lesson = read_class(EXAMPLES[0].name, EXAMPLES[0].read_bytes())
    assert plan_lesson(lesson, RULES, TODAY) == plan_lesson(lesson, RULES, TODAY)
