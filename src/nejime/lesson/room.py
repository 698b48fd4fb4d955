"""Where tables, people, water and bins stand, to scale.

Model: groups of tables in rows, everybody on the side away from the front and facing it, so that
all see the demonstration. Two people have a table of the usual length, which leaves elbow room for
a piece that reaches to both sides. A way as wide as a wheelchair needs leads between the groups.
Water and bins stand behind the last row. Where the room's size is not known, the plan says what it
needs; where it is known and too small even for the least distances, what is missing.
Frame: the room's, seen from above by somebody who faces the front: origin in the back left corner,
x to the right, y towards the front. Centimetres.
Source: way and height of a wheelchair place from `ada2010`; the other measures are common practice
or our own. Local rules come first.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from nejime.basis.sayings import Saying
from nejime.basis.units import CM_PER_INCH
from nejime.lesson.lesson import Lesson, Person

ROUTE_CM = 36 * CM_PER_INCH  # [ada2010] 403.5.1, from memory
PLACE_HIGH_CM = (28 * CM_PER_INCH, 34 * CM_PER_INCH)  # [ada2010] 902.3
TABLE_CM = (180.0, 75.0)  # [practice] a usual folding table
SEAT_CM = 90.0  # [own] two at a table: a usual piece reaches 30 cm to either side
WATER_TABLE_CM = (120.0, 60.0)  # [own]
BIN_CM = 40.0  # [own]
BIN_STEP_CM = 50.0  # [own] from one bin to the next
CHAIR_OFF_CM = 35.0  # [own] from a table's edge to the middle of the person
PEOPLE_PER_BIN = 8  # [own]
KITS_PER_TABLE = 10  # [own] boxes of 30 by 30 cm in two rows
MOST_COLUMNS = 4  # [own]


@dataclass(frozen=True, slots=True)
class Distances:
    """Free floor around the tables.

    `behind_cm`: chair and passing behind it. `side_cm`: from a table's end to a wall where nobody
    passes. `teacher_cm`: for the teacher, between the wall and her table. `sight_cm`: between the
    demonstration and the first row. `back_cm`: strip for water and bins behind the last row.
    """

    behind_cm: float
    side_cm: float
    teacher_cm: float
    sight_cm: float
    back_cm: float


USUAL = Distances(120.0, 60.0, 100.0, 150.0, 120.0)  # [own]
LEAST = Distances(90.0, 30.0, 80.0, 100.0, 60.0)  # [own] for a room that is too small otherwise

Thing = Literal["table", "teacher", "water", "bin", "hand-out", "camera"]


@dataclass(frozen=True, slots=True)
class Box:
    """A thing on the floor: its back left corner and its measures."""

    thing: Thing
    x_cm: float
    y_cm: float
    width_cm: float
    depth_cm: float


@dataclass(frozen=True, slots=True)
class Place:
    """Where a person sits; `number` counts people from 1 in the order of the list.

    `chair` is False where a wheelchair comes. `left_end` is a place without a neighbour's elbow on
    its left, `on_route` one at the end of a table next to a way.
    """

    number: int
    x_cm: float
    y_cm: float
    row: int
    left_end: bool
    on_route: bool
    chair: bool = True

    @property
    def table_y_cm(self) -> float:
        """The middle of the table before it, front to back."""
        return self.y_cm + CHAIR_OFF_CM + TABLE_CM[1] / 2


@dataclass(frozen=True, slots=True)
class RoomPlan:
    """The room as it is set up. `fits` is None where nobody said how large the room is."""

    width_cm: float
    depth_cm: float
    needs_width_cm: float
    needs_depth_cm: float
    fits: bool | None
    boxes: tuple[Box, ...]
    places: tuple[Place, ...]
    cover: Box | None
    remarks: tuple[Saying, ...]

    def of(self, thing: Thing) -> tuple[Box, ...]:
        """All things of one kind."""
        return tuple(box for box in self.boxes if box.thing == thing)


@dataclass(frozen=True, slots=True)
class _Layout:
    """Groups of tables in columns and rows (the first row is the front one)."""

    people: int
    a_group: int
    columns: int
    free: Distances

    @property
    def groups(self) -> int:
        return math.ceil(self.people / self.a_group)

    @property
    def rows(self) -> int:
        return math.ceil(self.groups / self.columns)

    @property
    def group_cm(self) -> float:
        return tables_for(self.a_group) * TABLE_CM[0]

    @property
    def needs_cm(self) -> tuple[float, float]:
        """Width and depth of the room that it needs."""
        ways = max(1, self.columns - 1)
        sides = 2 if self.columns > 1 else 1
        wide = self.columns * self.group_cm + ways * ROUTE_CM + sides * self.free.side_cm
        front = self.free.teacher_cm + TABLE_CM[1] + self.free.sight_cm
        rows = self.rows * (TABLE_CM[1] + self.free.behind_cm)
        return wide, front + rows + self.free.back_cm

    def short_cm(self, width_cm: float, depth_cm: float) -> float:
        """What is missing in a room, both ways together."""
        wide, deep = self.needs_cm
        return max(0.0, wide - width_cm) + max(0.0, deep - depth_cm)

    def seats_of(self, group: int) -> int:
        """People of a group: as equal as can be, the fuller groups in front."""
        each, more = divmod(self.people, self.groups)
        return each + (group < more)


def tables_for(people: int) -> int:
    """Tables end to end for people side by side; nobody sits over a joint."""
    return math.ceil(people * SEAT_CM / TABLE_CM[0])


def room_plan(lesson: Lesson) -> RoomPlan:
    """The room for a class, for everybody in its list."""
    if lesson.take_home:
        return _handing_out(lesson)
    layout = _layout(lesson)
    needs = layout.needs_cm
    wide, deep = _drawn(lesson, needs)
    boxes, places = _rows(layout, wide, deep)
    people = lesson.people
    seated = _seated(places, people)
    boxes += _front(lesson, layout.free, wide, deep) + _back(layout.free, wide, len(people))
    tables = [box for box in boxes if box.thing == "table"]
    return RoomPlan(
        width_cm=wide,
        depth_cm=deep,
        needs_width_cm=needs[0],
        needs_depth_cm=needs[1],
        fits=_fits(lesson, needs),
        boxes=tuple(boxes),
        places=seated,
        cover=_cover(boxes) if lesson.room.floor == "carpet" else None,
        remarks=(*_size(lesson, needs), *_remarks(lesson, layout, len(tables))),
    )


def _layout(lesson: Lesson) -> _Layout:
    """What fits the room or misses the least: usual distances first, then the smaller room."""
    people, a_group = max(1, len(lesson.people)), max(1, lesson.room.seats_at_table)
    a_group = min(a_group, people)
    groups = math.ceil(people / a_group)
    choices = [
        _Layout(people, a_group, n, free)
        for free in (USUAL, LEAST)
        for n in range(1, min(groups, MOST_COLUMNS) + 1)
    ]
    width, depth = lesson.room.width_cm, lesson.room.depth_cm
    return min(
        choices,
        key=lambda each: (
            each.short_cm(width or math.inf, depth or math.inf),
            each.free is LEAST,
            sum(each.needs_cm),
        ),
    )


def _drawn(lesson: Lesson, needs: tuple[float, float]) -> tuple[float, float]:
    """The room as it is drawn: its own size, or what is needed where that is more."""
    return (
        max(lesson.room.width_cm or 0.0, needs[0]),
        max(lesson.room.depth_cm or 0.0, needs[1]),
    )


def _fits(lesson: Lesson, needs: tuple[float, float]) -> bool | None:
    known = (lesson.room.width_cm, lesson.room.depth_cm)
    if any(have is not None and have < need for have, need in zip(known, needs, strict=True)):
        return False
    return True if None not in known else None


def _rows(layout: _Layout, wide: float, deep: float) -> tuple[list[Box], list[Place]]:
    """Tables and places, the front row first, each row from left to right."""
    free = wide - layout.needs_cm[0]
    left = layout.free.side_cm + free / 2
    top = deep - layout.free.teacher_cm - TABLE_CM[1] - layout.free.sight_cm
    boxes: list[Box] = []
    places: list[Place] = []
    for group in range(layout.groups):
        row, column = divmod(group, layout.columns)
        x = left + column * (layout.group_cm + ROUTE_CM)
        y = top - row * (TABLE_CM[1] + layout.free.behind_cm) - TABLE_CM[1]
        boxes += [
            Box("table", x + n * TABLE_CM[0], y, *TABLE_CM)
            for n in range(tables_for(layout.seats_of(group)))
        ]
        places += _group(layout, group, x, y, len(places))
    return boxes, places


def _group(layout: _Layout, group: int, x: float, y: float, before: int) -> list[Place]:
    row, column = divmod(group, layout.columns)
    count = layout.seats_of(group)
    way_right = column < layout.columns - 1 or layout.columns == 1
    way_left = column > 0
    return [
        Place(
            number=before + n + 1,
            x_cm=x + (n + 0.5) * SEAT_CM,
            y_cm=y - CHAIR_OFF_CM,
            row=row,
            left_end=n == 0,
            on_route=(n == 0 and way_left) or (n == count - 1 and way_right),
        )
        for n in range(count)
    ]


def _seated(places: Sequence[Place], people: Sequence[Person]) -> tuple[Place, ...]:
    """Everybody at a place: those with a note choose first, the others follow in order."""
    free = list(places)
    taken: list[Place] = []
    lefts: set[tuple[float, float]] = set()
    first = sorted(
        range(len(people)),
        key=lambda i: (not _choosing(people[i]), "wheelchair" not in people[i].please_note, i),
    )
    for i in first:
        person = people[i]
        best = min(free, key=lambda place: _cost(place, person, places, lefts))
        free.remove(best)
        if "left-handed" in person.please_note:
            lefts.add((best.x_cm, best.y_cm))
        taken.append(replace(best, number=i + 1, chair="wheelchair" not in person.please_note))
    return tuple(sorted(taken, key=lambda place: place.number))


CHOOSING = ("wheelchair", "left-handed", "low-vision", "hard-of-hearing")
IN_FRONT = ("low-vision", "hard-of-hearing")


def _choosing(person: Person) -> bool:
    return any(note in CHOOSING for note in person.please_note)


def _cost(
    place: Place, person: Person, places: Sequence[Place], lefts: set[tuple[float, float]]
) -> tuple[int, int, int, int]:
    """What speaks against a place for a person, the gravest first."""
    notes = person.please_note
    alone = place.left_end or _left_of(place, places) in lefts
    return (
        int("wheelchair" in notes and not place.on_route),
        int("left-handed" in notes and not alone),
        place.row if any(note in IN_FRONT for note in notes) else 0,
        place.number,
    )


def _left_of(place: Place, places: Sequence[Place]) -> tuple[float, float] | None:
    """Where the neighbour on the left sits; None at the left end."""
    row = [each for each in places if each.y_cm == place.y_cm and each.x_cm < place.x_cm]
    nearest = max(row, key=lambda each: each.x_cm, default=None)
    return (nearest.x_cm, nearest.y_cm) if nearest and not place.left_end else None


def _front(lesson: Lesson, free: Distances, wide: float, deep: float) -> list[Box]:
    y = deep - free.teacher_cm - TABLE_CM[1]
    boxes = [Box("teacher", (wide - TABLE_CM[0]) / 2, y, *TABLE_CM)]
    if lesson.filmed:
        boxes.append(
            Box("camera", wide / 2 - BIN_CM / 2, y - (free.sight_cm + BIN_CM) / 2, BIN_CM, BIN_CM)
        )
    return boxes


def _back(free: Distances, wide: float, people: int) -> list[Box]:
    """Water on the right, bins beside it, along the back wall, as many as it takes."""
    width, depth = WATER_TABLE_CM
    x = wide - free.side_cm - width
    boxes = [Box("water", x, 0.0, width, depth)]
    bins = min(math.ceil(people / PEOPLE_PER_BIN), math.floor(x / BIN_STEP_CM))
    boxes += [Box("bin", x - (n + 1) * BIN_STEP_CM, 0.0, BIN_CM, BIN_CM) for n in range(bins)]
    return boxes


def _cover(boxes: Sequence[Box]) -> Box:
    """What of a carpet is covered: under tables and chairs, and back to the water."""
    wet = [box for box in boxes if box.thing in ("table", "water")]
    left = min(box.x_cm for box in wet)
    right = max(box.x_cm + box.width_cm for box in wet)
    top = max(box.y_cm + box.depth_cm for box in wet)
    return Box("table", left, 0.0, right - left, top)


def _size(lesson: Lesson, needs: tuple[float, float]) -> list[Saying]:
    width, depth = lesson.room.width_cm, lesson.room.depth_cm
    fits = _fits(lesson, needs)
    found = [Saying("lesson.room.needs", width_cm=needs[0], depth_cm=needs[1])]
    if fits is False:
        missing = [
            max(0.0, need - (need if have is None else have))
            for have, need in zip((width, depth), needs, strict=True)
        ]
        found += [
            Saying("lesson.room.too-small", across_cm=missing[0], away_cm=missing[1]),
            Saying("lesson.room.too-small-try"),
        ]
    elif fits:
        found.append(Saying("lesson.room.fits", width_cm=width, depth_cm=depth))
    return found


def _remarks(lesson: Lesson, layout: _Layout, tables: int) -> list[Saying]:
    notes = {note for person in lesson.people for note in person.please_note}
    found = [
        Saying(
            "lesson.room.tables",
            tables=tables,
            long_cm=TABLE_CM[0],
            deep_cm=TABLE_CM[1],
            rows=tables_for(layout.a_group),
        ),
        Saying("lesson.room.front"),
    ]
    if layout.free is LEAST:
        found.append(Saying("lesson.room.tight"))
    if "wheelchair" in notes:
        # Rounded to the safe side: a whole centimetre inside the limits.
        low, high = math.ceil(PLACE_HIGH_CM[0]), math.floor(PLACE_HIGH_CM[1])
        route = math.ceil(ROUTE_CM)
        found.append(Saying("lesson.room.wheelchair", low_cm=low, high_cm=high, route_cm=route))
    if "left-handed" in notes:
        found.append(Saying("lesson.room.left-end"))
    if lesson.room.floor == "carpet":
        found.append(Saying("lesson.room.carpet"))
    found.append(
        Saying("lesson.room.water-in-room" if lesson.room.water_in_room else "lesson.room.no-water")
    )
    found.append(Saying("lesson.room.exits"))
    return found


def _handing_out(lesson: Lesson) -> RoomPlan:
    """Kits on a line of tables, a way past them in front, room for those who hand out behind."""
    tables = max(1, math.ceil(len(lesson.people) / KITS_PER_TABLE))
    needs = (
        tables * TABLE_CM[0] + 2 * ROUTE_CM,
        USUAL.back_cm + 2 * ROUTE_CM + TABLE_CM[1] + USUAL.teacher_cm,
    )
    wide, deep = _drawn(lesson, needs)
    left = (wide - tables * TABLE_CM[0]) / 2
    y = deep - USUAL.teacher_cm - TABLE_CM[1]
    boxes = [Box("hand-out", left + n * TABLE_CM[0], y, *TABLE_CM) for n in range(tables)]
    boxes.append(Box("water", wide - USUAL.side_cm - WATER_TABLE_CM[0], 0.0, *WATER_TABLE_CM))
    return RoomPlan(
        width_cm=wide,
        depth_cm=deep,
        needs_width_cm=needs[0],
        needs_depth_cm=needs[1],
        fits=_fits(lesson, needs),
        boxes=tuple(boxes),
        places=(),
        cover=None,
        remarks=(
            *_size(lesson, needs),
            Saying("lesson.room.hand-out-table"),
            Saying("lesson.room.exits"),
        ),
    )
