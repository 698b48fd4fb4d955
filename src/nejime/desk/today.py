"""Today: what is due before the classes to come, what is in season, and a piece to look at."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import groupby

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying, Words
from nejime.desk.blooming import with_blooms
from nejime.desk.classes import Listed, classes, fingerprint, read
from nejime.desk.displays import Listed as OnDisplay
from nejime.desk.displays import due as due_on_display
from nejime.desk.known_plants import known_plants, own_plants
from nejime.desk.season import here, in_gardens, in_shops, nearest_day
from nejime.desk.settings import settings
from nejime.desk.shelf import Shelf
from nejime.desk.taught import known_rules
from nejime.desk.where import place
from nejime.drawings.elevation import elevation
from nejime.drawings.scene import scene
from nejime.forms.piece import piece
from nejime.forms.stems import Piece
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel
from nejime.keeping.preparing import Task
from nejime.lesson.lesson import northern_month
from nejime.lesson.supplying import supplying
from nejime.material.programme import Limits
from nejime.papers.looks import look
from nejime.papers.timeline import lasts
from nejime.papers.wording import clock, date, dated
from nejime.plants.plant import SHOPS, TEMPERATE_NORTH
from nejime.plants.table import Plant
from nejime.reading.class_file import read_class_tree
from nejime.reading.when import is_southern

SOON = Limits(money_s=1.0, wood_s=0.5)  # [own] a page does not wait longer for the least money
DAYS_SHOWN = 3  # [own] days on which something is due: more are for the paper
REMEMBERED = 30  # [own] classes whose tasks need not be reckoned again
SHORTEST_FIRST = 8  # [own] plants of a kind that are named before the rest
RESTING = "hold"  # stems stand in water: nothing to do
ALL_YEAR = 10  # [own] months; what is there for so long is no sign of a season
KINDS = ("branch", "flower", "berry", "leaf", "grass")


@dataclass(frozen=True, slots=True)
class Due:
    """One thing to do: at what time, and how long it takes."""

    at: str
    says: str
    lasts: str


@dataclass(frozen=True, slots=True)
class Day:
    """What is to be done on a day for a class: the day in words, and how many days from now."""

    says: str
    away: int
    class_id: int
    title: str
    due: tuple[Due, ...]


@dataclass(frozen=True, slots=True)
class InSeason:
    """Plants of a kind in a month: those with the shortest season, then the rest."""

    kind: str
    first: tuple[str, ...]
    rest: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Today:
    """Everything on the first page."""

    says: str
    days: tuple[Day, ...]
    coming: tuple[Listed, ...]
    month: str
    garden: tuple[InSeason, ...]
    shops: tuple[InSeason, ...]
    nothing_kept: bool
    on_display: tuple[OnDisplay, ...] = ()
    place: str = ""
    """For where gardens are told; empty where only months are known."""


def today(shelf: Shelf, now: dt.datetime, words: Words) -> Today:
    """What the first page shows at a moment."""
    day = now.date()
    ahead, over = classes(shelf, day)
    south = is_southern(settings(shelf)["zone"])
    in_garden = northern_month(day.month, southern=south)
    known = known_plants(shelf)
    where = place(shelf)
    garden = _season(known, "garden_months", TEMPERATE_NORTH, in_garden)
    shops = _season(known, "market_months", SHOPS, in_garden)
    if where.told:
        there = here(shelf, nearest_day(day))
        garden, shops = _by_kind(in_gardens(there)), _by_kind(in_shops(there))
    return Today(
        says=date(words, day),
        days=_days(shelf, ahead, day, words),
        coming=ahead,
        month=words.say(Saying(f"papers.month.{day.month}")),
        garden=garden,
        place=where.name or words.say(Saying("season.your-place")) if where.told else "",
        shops=shops,
        nothing_kept=not (ahead or over or shelf.all("piece") or shelf.all("display")),
        on_display=due_on_display(shelf, now),
    )


def _days(shelf: Shelf, ahead: Sequence[Listed], today: dt.date, words: Words) -> tuple[Day, ...]:
    """The next days on which something is due, class by class."""
    due = [
        (task.begins.date(), number, task)
        for number, listed in enumerate(ahead)
        for task in _tasks_of(shelf, listed)
        if task.begins.date() >= today and task.kind != RESTING
    ]
    due.sort(key=lambda each: each[:2])  # the tasks of a class are in order
    found = []
    for (day, number), of_day in groupby(due, key=lambda each: each[:2]):
        kept, away = ahead[number].kept, (day - today).days
        tasks = tuple(_due(task, words) for _, _, task in of_day)
        found.append(Day(date(words, day, short=True), away, kept.id, kept.name, tasks))
    return tuple(found[:DAYS_SHOWN])


def _due(task: Task, words: Words) -> Due:
    says = " ".join(dated(each, words) for each in (task.says, *task.notes[:1]))
    return Due(clock(words, task.begins), says, lasts(task.minutes, words))


def _tasks_of(shelf: Shelf, listed: Listed) -> tuple[Task, ...]:
    """Everything before a class; nothing while it cannot be planned."""
    if read(listed.kept)[0] is None:
        return ()
    tree = with_blooms(shelf, listed.kept.content)
    return _tasks(fingerprint(tree), own_plants(shelf))


@lru_cache(maxsize=REMEMBERED)
def _tasks(tree: str, own: tuple[Plant, ...]) -> tuple[Task, ...]:
    rules = known_rules()
    try:
        lesson = read_class_tree("", json.loads(tree), rules, own)
        return supplying(lesson, rules, lesson.starts.date(), limits=SOON).tasks
    except InputError:
        return ()


# In season: by what blooms here, or by months alone


def _by_kind(there: Sequence[tuple[int, Plant]]) -> tuple[InSeason, ...]:
    """What gardens or shops here have, kind by kind, the shortest season first."""
    found = []
    for kind in KINDS:
        names = [each.english for months, each in there if each.kind == kind and months < ALL_YEAR]
        if names:
            first, rest = names[:SHORTEST_FIRST], names[SHORTEST_FIRST:]
            found.append(InSeason(kind, tuple(first), tuple(rest)))
    return tuple(found)


@lru_cache(maxsize=24)
def _season(known: tuple[Plant, ...], what: str, place: str, month: int) -> tuple[InSeason, ...]:
    """The plants of each kind that are to be had in a month, by what is known of them."""
    found = []
    for kind in KINDS:
        timed = [(_months(each, what, place), each) for each in known if each.kind == kind]
        there = [(len(months), each.english) for months, each in timed if month in months]
        names = [name for months, name in sorted(there) if months < ALL_YEAR]
        if names:
            first, rest = names[:SHORTEST_FIRST], names[SHORTEST_FIRST:]
            found.append(InSeason(kind, tuple(first), tuple(rest)))
    return tuple(found)


def _months(each: Plant, what: str, place: str) -> frozenset[int]:
    facts = each.facts_of(what, place)
    return frozenset(month for month in range(1, 13) if any(fact.holds_in(month) for fact in facts))


# A piece to look at

MATERIAL = {  # [own] by role: what many can cut in early spring
    "main": ("flowering-quince", 8.0),
    "heart": ("tulip", 6.0),
    "leaf": ("aspidistra", 4.0),
}


@lru_cache(maxsize=1)
def picture() -> str:
    """An ink drawing of a piece: quince, tulips and aspidistra in a round dish."""
    shown = _example()
    looks = {each.id: look(*MATERIAL[each.role], each.role, each.id) for each in shown.stems}
    drawn = replace(scene(shown, looks), holder=None)
    return elevation(drawn, "front", Words(unit="cm"), width_mm=150.0, shows=frozenset())


def _example() -> Piece:
    rule = known_rules()["width-plus-height"]
    return with_supporting(piece(vessel("round", 30, 6), rule, "upright"), hearts=2, leaves=2)
