"""The order of a class, to the minute: `data/order.csv`.

Model: each part has the least and the usual number of minutes; some need at least so many seconds
for each person. What the hour holds beyond the least goes first to correcting, three minutes for
each person; when everybody is seen, the parts grow towards their usual length; then correcting
grows to four minutes a person; what is still left goes to making and looking. Where not everybody
can be corrected one by one, the order says how many can and how long the class would have to be.
Shapes: whole minutes from the beginning; the parts follow one another without gap and fill the
class exactly.
Source: three to four minutes a correction, tidying before looking, 12 to 15 minutes for a piece by
somebody who can: common practice. The other minutes are our own choice.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

from nejime.basis import tables
from nejime.basis.errors import refuse
from nejime.basis.sayings import Saying
from nejime.forms.stems import Piece
from nejime.lesson.filming import Spoken, spoken
from nejime.lesson.lesson import Lesson

FILE = "order.csv"
COLUMNS = (
    "part",
    "class",
    "when",
    "least_min",
    "usual_min",
    "person_s",
    "late",
    "late_how",
    "source",
    "grade",
)
CORRECTION_MIN = (3, 4)  # [practice] least and usual minutes for one person's correction
CORRECTING = "correcting"
LONGER = (CORRECTING, "make-first", "make-second", "make-third", "looking", "handing-out")
"""What a long class has more time for."""
IN_VASE = ("make-holder", "make-first", "make-second", "make-third", "make-leaves")
IN_MIXED = ("make-holder",)
"""Parts that are told in other words where all vessels, or some, are tall vases."""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the class: when it begins, how long it takes, what is done and said.

    `late` is its place among the parts that are dropped or shortened when the class runs late;
    None where it is not touched. `spoken` are the lines said to a camera, none where none films.
    `worded` tells the part in its own words where vessels are tall vases; empty elsewhere.
    """

    name: str
    begins_min: int
    minutes: int
    least_min: int
    late: int | None
    dropped_when_late: bool
    source: str
    grade: str
    spoken: tuple[Spoken, ...] = ()
    worded: str = ""

    @property
    def ends_min(self) -> int:
        """When it is over."""
        return self.begins_min + self.minutes

    @property
    def title(self) -> Saying:
        """Its name, as it stands in the list."""
        return Saying(f"lesson.order.{self.worded or self.name}")

    @property
    def says(self) -> Saying:
        """What is done."""
        return Saying(f"lesson.order.{self.worded or self.name}-does")

    @property
    def saves_min(self) -> int:
        """What is won when it is dropped or shortened."""
        return self.minutes - (0 if self.dropped_when_late else self.least_min)


@dataclass(frozen=True, slots=True)
class Order:
    """The whole class. `corrected` of `people` have time for a correction of their own.

    `enough_min` is how long the class would have to be to correct everybody. `film` are all spoken
    lines of a filmed class, also where kits are handed out and the film is made another day.
    """

    parts: tuple[Part, ...]
    minutes: int
    people: int
    corrected: int
    correction_min: float
    enough_min: int
    remarks: tuple[Saying, ...]
    left_out: tuple[str, ...] = ()
    film: tuple[Spoken, ...] = ()

    def part(self, name: str) -> Part | None:
        """The part of that name; None where this class has none."""
        return next((part for part in self.parts if part.name == name), None)

    @property
    def when_late(self) -> tuple[Part, ...]:
        """What is dropped or shortened when the class runs late, in that order."""
        some = [part for part in self.parts if part.late is not None and part.saves_min > 0]
        return tuple(sorted(some, key=lambda part: part.late or 0))


@dataclass(frozen=True, slots=True)
class Late:
    """How a late class comes back to its time: what to drop or shorten, and what is still short."""

    parts: tuple[Part, ...]
    saved_min: int
    short_min: int


def order(lesson: Lesson, piece: Piece | None = None) -> Order:
    """The order of a class. With a `piece`, a filmed class gets its spoken lines.

    Raises `InputError` where the class is too short for what cannot be left out.
    """
    people = len(lesson.people)
    rows = _chosen(lesson)
    least = {row["part"]: _least(row, people) for row in rows}
    left_out: list[str] = []
    for row in sorted((r for r in rows if r["late_how"] == "drop"), key=lambda r: int(r["late"])):
        if sum(least.values()) > lesson.minutes:
            left_out.append(row["part"])
            del least[row["part"]]
    if sum(least.values()) > lesson.minutes:
        raise refuse(
            "minutes",
            "lesson.order.too-short",
            "lesson.order.too-short-try",
            lesson_min=lesson.minutes,
            least_min=sum(least.values()),
        )
    kept = [row for row in rows if row["part"] in least]
    corrected = 0 if lesson.take_home else _corrected(lesson.minutes, least, people)
    shared = _shared(lesson.minutes, kept, least, people, corrected)
    lines = _lines(lesson, piece)
    parts = []
    begins = 0
    for row in kept:
        if shared[row["part"]]:
            made = _part(row, begins, shared, least, lines)
            parts.append(replace(made, worded=_worded(made.name, lesson)))
            begins += shared[row["part"]]
    found = Order(
        parts=tuple(parts),
        minutes=lesson.minutes,
        people=people,
        corrected=corrected,
        correction_min=shared.get(CORRECTING, 0) / corrected if corrected else 0.0,
        enough_min=sum(least.values()) + CORRECTION_MIN[0] * people,
        remarks=(),
        left_out=tuple(left_out),
        film=tuple(line for of_part in lines.values() for line in of_part),
    )
    return replace(found, remarks=_remarks(found, lesson.take_home))


def late(planned: Order, late_min: int) -> Late:
    """What to drop or shorten when the class is so many minutes late, as little as is enough."""
    parts: list[Part] = []
    saved = 0
    for part in planned.when_late:
        if saved >= late_min:
            break
        parts.append(part)
        saved += part.saves_min
    return Late(tuple(parts), saved, max(0, late_min - saved))


def _corrected(minutes: int, least: Mapping[str, int], people: int) -> int:
    """How many people's corrections the hour holds at the least time for each."""
    return min(people, (minutes - sum(least.values())) // CORRECTION_MIN[0])


def _shared(
    minutes: int,
    rows: Sequence[dict[str, str]],
    least: Mapping[str, int],
    people: int,
    corrected: int,
) -> dict[str, int]:
    """The minutes of every part; they add up to the class."""
    shared = dict(least)
    if CORRECTING in shared:
        shared[CORRECTING] = corrected * CORRECTION_MIN[0]
    if corrected == people or CORRECTING not in shared:
        usual = {row["part"]: max(int(row["usual_min"]), least[row["part"]]) for row in rows}
        _grow(shared, {part: usual[part] - least[part] for part in least}, minutes)
        if CORRECTING in shared:
            _grow(
                shared, {CORRECTING: corrected * (CORRECTION_MIN[1] - CORRECTION_MIN[0])}, minutes
            )
    longer = [part for part in LONGER if part in shared and (part != CORRECTING or corrected)]
    if corrected < people and CORRECTING in shared:
        longer = [part for part in longer if part.startswith("make-")]
    _grow(shared, dict.fromkeys(longer, minutes), minutes)
    return shared


def _grow(shared: dict[str, int], wanted: Mapping[str, int], minutes: int) -> None:
    """Gives the minutes that are free to parts, in proportion to what each wants, at most that.

    Minutes that do not divide go to the largest remainders, the earlier part first among equals.
    """
    free = minutes - sum(shared.values())
    total = sum(wanted.values())
    if free <= 0 or total <= 0:
        return
    given = min(free, total)
    exact = {part: given * want / total for part, want in wanted.items()}
    whole = {part: math.floor(share + 1e-9) for part, share in exact.items()}
    rest = given - sum(whole.values())
    by_rest = sorted(exact, key=lambda part: whole[part] - exact[part])
    for part in by_rest[:rest]:
        whole[part] += 1
    for part, more in whole.items():
        shared[part] += more


def _part(
    row: dict[str, str],
    begins: int,
    shared: Mapping[str, int],
    least: Mapping[str, int],
    lines: Mapping[str, tuple[Spoken, ...]],
) -> Part:
    name = row["part"]
    return Part(
        name=name,
        begins_min=begins,
        minutes=shared[name],
        least_min=least[name],
        late=int(row["late"]) if row["late"] else None,
        dropped_when_late=row["late_how"] == "drop",
        source=row["source"],
        grade=row["grade"],
        spoken=lines.get(name, ()),
    )


def _least(row: dict[str, str], people: int) -> int:
    return max(int(row["least_min"]), math.ceil(people * int(row["person_s"]) / 60))


def _chosen(lesson: Lesson) -> list[dict[str, str]]:
    """The rows that this class has."""
    asked = "take-home" if lesson.take_home else "room"
    roles = {wish.role for wish in lesson.wishes}
    has = {
        "always": True,
        "filmed": lesson.filmed,
        "helpers": "helper" in roles,
        "hearts": "heart" in roles,
        "leaves": "leaf" in roles,
    }
    return [row for row in _rows() if row["class"] == asked and has[row["when"]]]


def _worded(name: str, lesson: Lesson) -> str:
    """The key of a part's own words in a class with tall vases."""
    vessels = [person.vessel for person in lesson.people]
    tall = [vessel is not None and vessel.tall for vessel in vessels]
    if all(tall) and name in IN_VASE:
        return f"{name}-vase"
    return f"{name}-mixed" if any(tall) and name in IN_MIXED else ""


def _lines(lesson: Lesson, piece: Piece | None) -> Mapping[str, tuple[Spoken, ...]]:
    """The spoken lines by the part in which they are said."""
    if not lesson.filmed or piece is None:
        return {}
    found: dict[str, tuple[Spoken, ...]] = {}
    for line in spoken(piece):
        found[line.part] = (*found.get(line.part, ()), line)
    return found


def _remarks(found: Order, take_home: bool) -> tuple[Saying, ...]:
    if take_home:
        handing = found.part("handing-out")
        each = handing.minutes / found.people if handing and found.people else 0.0
        return (Saying("lesson.order.hand-out-pace", people=found.people, each_min=each),)
    remarks = []
    if found.corrected < found.people:
        remarks.append(
            Saying(
                "lesson.order.not-all-corrected",
                corrected=found.corrected,
                people=found.people,
                correction_min=CORRECTION_MIN[0],
                enough_min=found.enough_min,
            )
        )
        remarks.append(Saying("lesson.order.not-all-corrected-try"))
    else:
        remarks.append(
            Saying(
                "lesson.order.all-corrected",
                people=found.people,
                correction_min=math.floor(found.correction_min),
            )
        )
    remarks += [Saying(f"lesson.order.left-out-{part}") for part in found.left_out]
    return tuple(remarks)


@cache
def _rows() -> tuple[dict[str, str], ...]:
    """The table, checked. Raises `TableError`."""
    rows = tables.read_csv(FILE, COLUMNS)
    for number, row in enumerate(rows, start=2):
        if int(row["usual_min"]) < int(row["least_min"]):
            raise tables.TableError(FILE, number, "the usual time is shorter than the least")
        if row["late_how"] not in ("", "drop", "shorten") or bool(row["late"]) != bool(
            row["late_how"]
        ):
            raise tables.TableError(FILE, number, "late needs a number and drop or shorten")
    return rows
