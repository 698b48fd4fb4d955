"""The room: nothing overlaps, everybody sees the front, and what is missing is said."""

import xml.etree.ElementTree as ET
from itertools import combinations

import pytest
from hypothesis import given
from lesson.classes import a_class, classes

from nejime.basis.sayings import Words
from nejime.drawings.room_plan import room_plan as drawn
from nejime.lesson.lesson import Room
from nejime.lesson.room import PLACE_HIGH_CM, ROUTE_CM, SEAT_CM, room_plan

WORDS = Words()


def overlap(one, two) -> bool:
    return (
        one.x_cm < two.x_cm + two.width_cm - 1e-6
        and two.x_cm < one.x_cm + one.width_cm - 1e-6
        and one.y_cm < two.y_cm + two.depth_cm - 1e-6
        and two.y_cm < one.y_cm + one.depth_cm - 1e-6
    )


@given(classes())
def test_things_stand_in_the_room_and_not_in_each_other(lesson) -> None:
    plan = room_plan(lesson)
    for box in plan.boxes:
        assert box.x_cm >= 0
        assert box.y_cm >= 0
        assert box.x_cm + box.width_cm <= plan.width_cm + 1e-6
        assert box.y_cm + box.depth_cm <= plan.depth_cm + 1e-6
    assert not [pair for pair in combinations(plan.boxes, 2) if overlap(*pair)]


@pytest.mark.parametrize("seats", range(1, 9))
@pytest.mark.parametrize("count", [1, 2, 25, 33, 49, 60])
def test_many_people_in_a_narrow_room_do_not_stand_outside_it(count, seats) -> None:
    lesson = a_class(count, room=Room(width_cm=300, seats_at_table=seats))
    plan = room_plan(lesson)
    assert all(box.x_cm >= 0 for box in plan.boxes)
    assert plan.of("bin")


@given(classes())
def test_everybody_has_a_place_behind_a_table_and_sees_the_front(lesson) -> None:
    plan = room_plan(lesson)
    if lesson.take_home:
        assert plan.places == ()
        return
    assert [place.number for place in plan.places] == list(range(1, len(lesson.people) + 1))
    teacher = plan.of("teacher")[0]
    for place in plan.places:
        before = [
            box
            for box in plan.of("table")
            if box.x_cm <= place.x_cm <= box.x_cm + box.width_cm
            and box.y_cm <= place.table_y_cm <= box.y_cm + box.depth_cm
        ]
        assert len(before) == 1
        assert place.y_cm < before[0].y_cm
        assert before[0].y_cm + before[0].depth_cm < teacher.y_cm
    for one, two in combinations(plan.places, 2):
        assert abs(one.x_cm - two.x_cm) >= SEAT_CM - 1e-6 or one.row != two.row


@given(classes())
def test_elbows_and_ways(lesson) -> None:
    """Left-handed people sit at a left end or beside another; wheelchairs by a way, chairless."""
    plan = room_plan(lesson)
    if lesson.take_home:
        return
    noted = [person.please_note for person in lesson.people]
    ends = sum(place.left_end for place in plan.places)
    ways = sum(place.on_route for place in plan.places)
    wheels = sum("wheelchair" in notes for notes in noted)
    lefts = sum("left-handed" in notes for notes in noted)
    for place in plan.places:
        notes = noted[place.number - 1]
        assert place.chair == ("wheelchair" not in notes)
        if "wheelchair" in notes and wheels <= ways:
            assert place.on_route
        if "left-handed" in notes and not wheels and lefts <= ends:
            on_the_left = [
                noted[other.number - 1]
                for other in plan.places
                if other.y_cm == place.y_cm and 0 < place.x_cm - other.x_cm < SEAT_CM + 1
            ]
            assert all("left-handed" in each for each in on_the_left)


@given(classes())
def test_a_room_that_is_large_enough_fits_and_a_smaller_one_is_told_what_is_missing(lesson) -> None:
    plan = room_plan(lesson)
    known = (lesson.room.width_cm, lesson.room.depth_cm)
    needs = (plan.needs_width_cm, plan.needs_depth_cm)
    small = any(have is not None and have < need for have, need in zip(known, needs, strict=True))
    assert plan.fits is (False if small else None if None in known else True)
    said = " ".join(WORDS.say(each) for each in plan.remarks)
    assert ("too small" in said) == small
    assert "needs a room of" in said
    assert "{" not in said


@pytest.mark.source(
    "hand",
    "four at two tables of 180: 360 wide, one group, a way of 91.44 on the right and 60 on the "
    "left: 511.44; deep 100 + 75 + 150 in front, 75 + 120 for the row, 120 behind: 640",
)
def test_one_table_of_four() -> None:
    plan = room_plan(a_class(4))
    assert plan.needs_width_cm == pytest.approx(511.44)
    assert plan.needs_depth_cm == pytest.approx(640)
    assert len(plan.of("table")) == 2


@pytest.mark.source(
    "hand",
    "14 at tables for four in 900 × 700: two by two groups need at the least "
    "2·360 + 91.44 + 2·30 = "
    "871.44 wide and 80 + 75 + 100 + 2·(75 + 90) + 60 = 645 deep",
)
def test_a_tight_room_takes_the_least_distances_and_says_so() -> None:
    plan = room_plan(a_class(14, room=Room(width_cm=900, depth_cm=700)))
    assert plan.fits
    assert plan.needs_width_cm == pytest.approx(871.44)
    assert plan.needs_depth_cm == pytest.approx(645)
    assert "lesson.room.tight" in [each.key for each in plan.remarks]
    free = room_plan(a_class(14, room=Room(width_cm=1200, depth_cm=1000)))
    assert "lesson.room.tight" not in [each.key for each in free.remarks]


@pytest.mark.source("ada2010", "902.3: 28 to 34 in (711 to 864 mm); 403.5.1: a way 36 in wide")
def test_the_measures_of_a_wheelchair_place() -> None:
    assert pytest.approx((71.1, 86.4), abs=0.05) == PLACE_HIGH_CM
    assert pytest.approx(91.4, abs=0.05) == ROUTE_CM
    said = " ".join(WORDS.say(each) for each in room_plan(a_class(4, p2=("wheelchair",))).remarks)
    # Rounded to the safe side: 72 to 86 cm high, 92 cm wide.
    assert "72 cm to 86 cm" in said
    assert "92 cm wide" in said


def test_a_carpet_is_covered_under_all_tables_and_to_the_water() -> None:
    plan = room_plan(a_class(8, room=Room(floor="carpet")))
    cover = plan.cover
    for box in (*plan.of("table"), *plan.of("water")):
        assert cover.x_cm <= box.x_cm
        assert cover.x_cm + cover.width_cm >= box.x_cm + box.width_cm
        assert cover.y_cm + cover.depth_cm >= box.y_cm + box.depth_cm
    assert room_plan(a_class(8)).cover is None


@given(classes())
def test_the_drawing_is_to_scale_and_names_nobody(lesson) -> None:
    plan = room_plan(lesson)
    svg = drawn(plan, WORDS, width_mm=170.0)
    root = ET.fromstring(svg)
    assert root.get("width") == "170mm"
    wide, high = (float(each) for each in root.get("viewBox").split()[2:])
    # 1 mm free on either side, 18 mm below: what is left has the room's proportions.
    assert (wide - 2) / (high - 20) == pytest.approx(plan.width_cm / plan.depth_cm, rel=0.01)
    assert "Person" not in svg
    for word in ("left-handed", "allergy", "cat", "child", "vision", "hearing"):
        assert word not in svg


def test_turned_is_half_a_turn() -> None:
    plan = room_plan(a_class(6))
    as_seen, turned = (drawn(plan, WORDS, turned=each) for each in (False, True))

    def numbers(svg):
        root = ET.fromstring(svg)
        found = {}
        for text in root.iter("{http://www.w3.org/2000/svg}text"):
            if text.text.isdigit():
                found[text.text] = (float(text.get("x")), float(text.get("y")))
        return found

    one, two = numbers(as_seen), numbers(turned)
    assert one.keys() == two.keys()
    sums = {(round(one[n][0] + two[n][0], 1), round(one[n][1] + two[n][1], 1)) for n in one}
    assert len(sums) == 1
