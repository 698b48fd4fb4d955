"""What may be said at the beginning: true to the calendar and to what is known of the plants."""

from __future__ import annotations

import datetime as dt
from itertools import product

import pytest

from nejime.basis.sayings import Saying, Words, texts
from nejime.forms.rules import FORMS
from nejime.lesson.talking import PARTS, Seen, Talk, talk
from nejime.plants.table import plant
from nejime.season.terms import current

DAY = dt.date(2026, 3, 26)
WORDS = Words()


def made(*seen: Seen, day: dt.date = DAY, form: str | None = "upright", **more: bool) -> Talk:
    return talk(current(day, "sekki"), current(day, "ko"), seen, form, **more)


def says(saying: Saying) -> str:
    return WORDS.say(saying)


@pytest.mark.source(
    "naoj-reki", "spring equinox of 2026 on 20 March; the next term is 15 degrees on"
)
@pytest.mark.source("ko1874", "from 5 degrees on: 桜始開, cherry blossoms begin")
def test_the_word_is_that_of_the_days_term_and_of_its_five_days():
    said = says(made().word)
    assert "春分" in said
    assert "Shunbun" in said
    assert "桜始開" in said


@pytest.mark.source("hand", "spring equinox, 0 degrees, and 180 degrees on: autumn equinox")
def test_in_the_south_the_day_keeps_its_name_and_the_season_there_is_told():
    said = says(made(southern=True).word)
    assert "春分" in said
    assert "Autumn equinox" in said
    assert "Autumn equinox" not in says(made().word)


def test_a_known_stage_is_told_and_an_unknown_one_is_asked_for():
    forsythia, tulip = plant("forsythia"), plant("tulip")
    known = says(made(Seen(forsythia, "bud"), Seen(tulip, "open")).material)
    assert "Forsythia is in bud and Tulip is open" in known
    assert "I cannot tell" not in known
    both = says(made(Seen(forsythia, "bud"), Seen(tulip, None)).material)
    assert "Forsythia is in bud" in both
    assert "Of Tulip I cannot tell" in both
    asked = says(made(Seen(forsythia, None), Seen(tulip, None)).material)
    assert "Forsythia and Tulip" in asked
    for stage in ("is in bud", "is open", "showing"):
        assert stage not in asked


@pytest.mark.parametrize("name", ["susuki", "hosta", "beautyberry", "red-stem-dogwood"])
def test_grass_leaves_berries_and_bare_wood_are_not_said_to_open(name):
    for stage in ("bud", "colour showing", "open", "past"):
        said = says(made(Seen(plant(name), stage)).material)
        assert "best" in said
        assert "open" not in said
    assert "is open" in says(made(Seen(plant("forsythia"), "open")).material)


def test_what_is_there_all_year_is_never_said_to_open():
    evergreen = Seen(plant("aspidistra"), "open", lasting=True)
    said = says(made(Seen(plant("forsythia"), "bud"), evergreen).material)
    assert "Forsythia is in bud and Aspidistra is there all year" in said
    assert "open" not in says(made(evergreen).material).replace("open flower", "")
    assert "gone next week" not in says(made(evergreen).home)


@pytest.mark.parametrize(
    ("stage", "word"), [("bud", "opens on your table"), ("open", "gone next week")]
)
def test_the_thought_to_take_home_follows_the_first_plant_that_is_known(stage, word):
    seen = (
        Seen(plant("tulip"), None),
        Seen(plant("forsythia"), stage),
        Seen(plant("plum"), "past"),
    )
    assert word in says(made(*seen).home)


def test_nothing_is_claimed_of_plants_of_which_nothing_is_known():
    for home in (says(made().home), says(made(Seen(plant("tulip"), None)).home)):
        assert "opens" not in home
        assert "open today" not in home


def test_every_sentence_can_be_said_and_is_used():
    stages = (None, "not yet", "bud", "colour showing", "open", "past")
    used: set[str] = set()

    def note(saying: Saying) -> None:
        used.add(saying.key)
        for value in saying.quantities.values():
            for each in value if isinstance(value, tuple) else (value,):
                if isinstance(each, Saying):
                    note(each)

    groups = [
        (),
        *(tuple(Seen(plant("plum"), s) for s in pair) for pair in product(stages, stages)),
    ]
    groups += [(Seen(plant("susuki"), stage),) for stage in stages]
    groups.append((Seen(plant("plum"), "bud"), Seen(plant("pine"), None, lasting=True)))
    for seen, form, southern in product(groups, (*FORMS, None), (False, True)):
        found = made(*seen, form=form, southern=southern)
        assert [name for name, _ in found.parts] == list(PARTS)
        for _, saying in found.parts:
            assert says(saying).rstrip("?.") != says(saying)
            note(saying)
    assert used == {key for key in texts() if key.startswith("lesson.talking.")}


def test_a_whole_year_can_be_spoken_of():
    words = {says(made(day=DAY + dt.timedelta(days=after)).word) for after in range(365)}
    assert 72 <= len(words) <= 96  # a line is told with the term in which it falls
