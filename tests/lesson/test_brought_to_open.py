"""The three example classes: every material has its day and hour, and says what to look for."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from nejime.basis.sayings import Words
from nejime.forms.rules import packaged
from nejime.keeping.forcing import rows
from nejime.keeping.opening import openings
from nejime.keeping.preparing import buckets_needed, rest_min
from nejime.lesson.supplying import supplying
from nejime.papers.timeline import timeline
from nejime.plants.table import plant
from nejime.reading.class_file import read_class

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
RULES = packaged()
WORDS = Words(unit="both")


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def supplied(request):
    lesson = read_class(request.param.name, request.param.read_bytes(), RULES)
    return lesson, supplying(lesson, RULES, dt.date(2027, 2, 1))


def test_every_material_has_its_day_and_hour(supplied) -> None:
    lesson, found = supplied
    bought = {buy.bunch.plant for buy in found.bought.buys}
    grown = {cut.branch.plant for cut in found.bought.from_garden}
    assert bought | grown
    said = {task: WORDS.say(task.says) for task in found.tasks}
    for kind, plants in (("buy", bought), ("cut", grown)):
        for name in plants:
            english = plant(name).english
            (begins, *_) = [t.begins for t in said if t.kind == kind and english in said[t]]
            assert begins < lesson.starts
    for name in bought | grown:
        treat = [t for t in found.tasks if t.kind == "treat" and t.plant == name]
        hold = [t for t in found.tasks if t.kind == "hold" and t.plant == name]
        assert len(treat) == len(hold) > 0
        assert {t.ends for t in treat} == {t.begins for t in hold}
        assert all(t.minutes >= rest_min(plant(name)) for t in hold)
        assert all(t.stays and t.stays[0].place.says for t in hold)


def test_what_opens_says_what_to_look_for_and_how_it_will_be(supplied) -> None:
    lesson, found = supplied
    budded = {wish.plant for wish in lesson.wishes if wish.in_bud}
    for name in {buy.bunch.plant for buy in found.bought.buys}:
        known = openings().get(name)
        holds = [t for t in found.tasks if t.kind == "hold" and t.plant == name]
        if known is None or not known.stages:
            assert not any(t.notes for t in holds)
            continue
        aims = {note.key for t in holds for note in t.notes}
        assert aims == {"keeping.wait.bud" if name in budded else "keeping.wait.open"}
    for cut in found.bought.from_garden:
        if cut.branch.plant in rows():
            notes = [n for t in found.tasks if t.kind == "cut" for n in t.notes]
            assert "keeping.forcing.instead-twice" in {note.key for note in notes}


@pytest.mark.source("hand", "85, 54 and 26 days: (20/85 + 10/54 + 5/26)/3 = 0.2043; see below")
def test_a_told_day_of_bloom_forces_the_garden_branches() -> None:
    path = next(each for each in EXAMPLES if each.name.startswith("1-"))
    lesson = read_class(path.name, path.read_bytes(), RULES)
    garden = tuple(
        replace(branch, blooms=dt.date(2027, 4, 10)) if branch.plant == "forsythia" else branch
        for branch in lesson.garden
    )
    told = replace(lesson, garden=garden)
    found = supplying(told, RULES, dt.date(2027, 2, 1))
    days = {t.begins.date() for t in found.tasks if t.kind == "cut"}
    # The mean of three shares is 0.2043; 28 days before its bloom: n = 0.2043 (28 + n), n = 7.2.
    assert days == {dt.date(2027, 3, 5), dt.date(2027, 2, 26)}


def test_the_sheet_tells_where_everything_waits(supplied) -> None:
    _, found = supplied
    made = timeline(found.tasks, WORDS)
    first = made.data["sections"][0]
    assert len(first["items"]) == len(buckets_needed(found.tasks)) > 0
    printed = str(made.data)
    assert "{" not in "".join(cell for cell in _texts(made.data))
    for task in found.tasks:
        assert WORDS.say(task.says) in printed or "'" in WORDS.say(task.says)


def _texts(value):
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for each in value.values():
            yield from _texts(each)
    elif isinstance(value, list | tuple):
        for each in value:
            yield from _texts(each)
