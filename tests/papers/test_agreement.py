"""The same stem says the same number on every paper, and only what is there is listed.

One class is planned from the example and all its papers are read: what one says, the others say.
"""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from nejime.basis.sayings import Words
from nejime.desk.plan_class import read_and_plan, words_of
from nejime.drawings.cutting_strip import STRIP_CM, folded
from nejime.forms.rules import packaged
from nejime.lesson.plan import LessonPlan, PersonPlan, plan_lesson
from nejime.papers.sheet import Sheet
from nejime.papers.whole import class_sheets, handouts, stock_of
from nejime.papers.wording import measure, one_unit, plant_name
from nejime.plants.table import plant

EXAMPLE = next(Path(__file__).parents[2].joinpath("examples").glob("1-*.toml"))


@pytest.fixture(scope="module")
def plan() -> LessonPlan:
    import datetime as dt

    return read_and_plan(EXAMPLE, dt.date(2027, 2, 1))


@pytest.fixture(scope="module")
def words(plan: LessonPlan) -> Words:
    return words_of(plan.lesson)


@pytest.fixture(scope="module")
def learners(plan: LessonPlan, words: Words) -> dict[str, Sheet]:
    return dict(zip([p.name for p in plan.people], handouts(plan, words), strict=True))


@pytest.fixture(scope="module")
def teachers(plan: LessonPlan, words: Words) -> dict[str, Sheet]:
    return {sheet.name: sheet for sheet in class_sheets(plan, words, stock_of(plan))}


def known(plan: LessonPlan) -> list[PersonPlan]:
    return [person for person in plan.people if person.made is not None]


def texts(value: object) -> list[str]:
    if isinstance(value, str):
        return [value]
    inside = value.values() if isinstance(value, dict) else value
    return [text for each in inside for text in texts(each)] if inside else []


def section(sheet: Sheet, title: str) -> dict:
    return next(each for each in sheet.data["sections"] if each["title"] == title)


def test_handout_and_teachers_sheet_say_the_same_lengths(
    plan: LessonPlan, learners: dict[str, Sheet], teachers: dict[str, Sheet]
) -> None:
    cards = {card["number"]: card["lengths"] for card in teachers["teachers-sheet"].data["cards"]}
    for person in known(plan):
        numbers = [row["cut"]["number"] for row in learners[person.name].data["stems"]]
        assert cards[str(person.seat.number)] == f"{' · '.join(numbers)} cm", person.name


def test_the_strip_says_the_length_of_the_handout(
    plan: LessonPlan, learners: dict[str, Sheet], teachers: dict[str, Sheet], words: Words
) -> None:
    strips = teachers["cutting-strips"].drawings.values()
    on_strips = [re.findall(r">([\d.]+) cm \([^)]*\)<", drawing.svg) for drawing in strips]
    for person in known(plan):
        numbers = [row["cut"]["number"] for row in learners[person.name].data["stems"]]
        assert any(set(numbers) <= set(each) for each in on_strips), person.name
        for stem in person.made.piece.main:
            strips_used, rest_cm = folded(stem.said_cm)
            together = f"{strips_used * STRIP_CM + rest_cm:g}"
            assert together == measure(words, stem.said_cm)["number"]


def test_a_pile_is_no_shorter_than_what_its_takers_cut(plan: LessonPlan) -> None:
    """Everybody cuts once more from the pile: every pile leaves at least the handout's length."""
    for one in plan.piles.sets:
        person = next((p for p in known(plan) if p.name == one.who), None)
        if person is not None and person.made is not None:
            for take in one.takes:
                for stem_id in take.stems:
                    assert take.pile.length_cm > person.made.piece.stem(stem_id).said_cm


def test_the_shop_the_garden_and_the_piles_say_one_length(
    teachers: dict[str, Sheet], plan: LessonPlan, words: Words
) -> None:
    """Every shop's bunches are as long as the longest pile cut from them, and so in the garden."""
    piles = section(teachers["piles-and-sets"], "Cut into piles")["rows"]
    names = {"tulip": "Tulip", "alstroemeria": "Alstroemeria", "aspidistra": "Aspidistra"}
    shops = [each for each in teachers["shopping"].data["sections"] if each["title"] != ""]
    rows = [row for each in shops for row in each.get("rows", ()) if "×" in str(row)]
    for plant_id in names:
        lengths = [words.quantity("cut_cm", each.length_cm) for each in plan.piles.of(plant_id)]
        listed = [str(row) for row in rows if names[plant_id] in str(row) and "×" in str(row)]
        assert any(f"{lengths[0]} or longer" in row for row in listed), plant_id
        for row in listed:
            assert any(f"{length} or longer" in row for length in lengths), row
    garden = section(teachers["shopping"], "Cut in the garden")["rows"]
    said = {row[2][0].partition("cut to ")[2] for row in garden if "cut to" in row[2][0]}
    assert said <= {row[3][0]["strong"] for row in piles}


def test_a_vase_says_what_is_cut_and_what_stands_over_its_mouth(
    learners: dict[str, Sheet], plan: LessonPlan, words: Words
) -> None:
    carmen = next(person for person in plan.people if person.name == "Carmen")
    data = learners["Carmen"].data
    for row, stem in zip(data["stems"], carmen.made.piece.main, strict=True):
        over = one_unit(words).quantity("length_cm", stem.length_cm)
        assert row["over"] == f"{over} over the mouth"
    assert all("over the mouth" in text for row in data["supporting"] for text in row["stems"])
    assert data["front"].endswith("lengths over the mouth")
    assert not any("pins" in step["says"] or "pin holder" in step["says"] for step in data["steps"])


def test_a_handout_names_only_plants_of_its_own_set(
    plan: LessonPlan, learners: dict[str, Sheet]
) -> None:
    """Alstroemeria is in Carmen's set alone: nobody else is told what it does."""
    every = {plant(each.id).english for each in plan.plants}
    for person in known(plan):
        own = {plant_name(name) for name in person.made.had}
        said = " ".join(texts(learners[person.name].data))
        assert {name for name in every if name in said} <= own, person.name


def test_of_pets_a_plant_is_told_once(learners: dict[str, Sheet]) -> None:
    """Edith has a cat: what her tulips do to it is said to her alone, not again to everybody."""
    edith = [text for text in learners["Edith"].data["cautions"] if "Tulip" in text]
    assert sum("ill" in text for text in edith) == 1


def test_what_cannot_be_had_is_not_listed_as_if_it_could(plan: LessonPlan, words: Words) -> None:
    """Without a shop that sells them there are no leaves: every handout says so."""
    lesson = replace(plan.lesson, shops=plan.lesson.shops[:1], people=plan.lesson.people[:2])
    short = plan_lesson(lesson, dict(packaged()), plan.today)
    ada = handouts(short, words)[0].data
    leaves = next(row for row in ada["supporting"] if row["role"].startswith("Leaves"))
    assert leaves["plant"] == "Aspidistra: still missing"
    assert "still missing" not in " ".join(texts(ada["stems"]))


def test_learners_are_not_told_what_the_teacher_must_see_to(plan: LessonPlan, words: Words) -> None:
    """With no holder to lend but one, the others' handouts do not ask them to bring one."""
    lend = replace(plan.lesson.lend, holders=((plan.lesson.lend.holders[0][0], 1),))
    lesson = replace(plan.lesson, lend=lend, people=plan.lesson.people[:4])
    short = plan_lesson(lesson, dict(packaged()), plan.today)
    remarks = [each.key for person in short.people for each in person.seat.remarks]
    assert "plan.no-holder-left" in remarks
    said = " ".join(text for sheet in handouts(short, words) for text in texts(sheet.data))
    assert "lend another vessel" not in said


def test_a_blank_handout_has_a_table_in_every_unit_of_the_class(
    plan: LessonPlan, learners: dict[str, Sheet]
) -> None:
    assert plan.lesson.units == "both"
    assert [table["unit"] for table in learners["Greta"].data["tables"]] == ["cm", "in"]


def test_everybody_gets_the_sheet_that_their_handout_speaks_of(
    plan: LessonPlan, learners: dict[str, Sheet], words: Words
) -> None:
    item = next(item for item in plan.kit.items if item.what == "please-mind")
    assert item.count == len(plan.people)
    assert "Please mind" in words.say(item.says)
    assert "“Please mind”" in learners["Ada"].data["fixed"]["more-cautions"]


def test_the_display_card_names_the_plants_of_the_piece_that_stays_and_its_dangers(
    plan: LessonPlan, teachers: dict[str, Sheet]
) -> None:
    """Alstroemeria is in Carmen's vase, not in the dish that stays."""
    said = " ".join(texts(teachers["display-card"].data))
    assert "Tulip" in said
    assert "Alstroemeria" not in said
    for danger in ("lead", "Vase water", plan.lesson.poison_line):
        assert danger in said


def test_the_demonstration_has_its_numbers_on_the_teachers_sheet(
    plan: LessonPlan, teachers: dict[str, Sheet], words: Words
) -> None:
    card = teachers["teachers-sheet"].data["cards"][0]
    numbers = [measure(words, stem.said_cm)["number"] for stem in plan.demonstration.piece.main]
    assert card["name"] == "Demonstration"
    assert card["lengths"] == f"{' · '.join(numbers)} cm"
