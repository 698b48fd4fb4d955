"""All papers of a class, made from its plan."""

from __future__ import annotations

import re
import tomllib
from importlib.resources import files

import pytest
from papers.in_pdf import letters, opened

from nejime.basis.sayings import Words, texts
from nejime.forms.rules import packaged
from nejime.lesson.plan import LessonPlan
from nejime.papers import pdf as printing
from nejime.papers.cautions import minding
from nejime.papers.reckoner import SIZES_CM, reckoner
from nejime.papers.sheet import Sheet, Stock
from nejime.papers.whole import (
    class_sheets,
    drawings_for,
    file_name,
    handouts,
    papers_for,
    stock_of,
)


@pytest.fixture(scope="module")
def made(plan: LessonPlan, words: Words) -> dict[str, bytes]:
    return papers_for(plan, words).files


@pytest.fixture(scope="module")
def told(plan: LessonPlan, words: Words) -> dict[str, Sheet]:
    return {sheet.name: sheet for sheet in class_sheets(plan, words, stock_of(plan))}


def all_text(value: object) -> list[str]:
    """Every text in a sheet's data."""
    if isinstance(value, str):
        return [value]
    if isinstance(value, dict):
        return [text for each in value.values() for text in all_text(each)]
    if isinstance(value, list | tuple):
        return [text for each in value for text in all_text(each)]
    return []


def test_every_paper_of_the_class_is_there(made: dict[str, bytes]) -> None:
    wanted = {
        "handouts.pdf", "handouts-large-print.pdf", "handouts/01-ada-ukasz.pdf",
        "handouts/02-bo.pdf", "handouts/03.pdf", "teachers-sheet.pdf", "reckoner.pdf",
        "reckoner-tall.pdf", "which-bowl.pdf", "lean-cards.pdf", "bowl-mats.pdf",
        "cutting-strips.pdf", "please-mind.pdf",
        "please-mind-large-print.pdf", "shopping.pdf", "piles-and-sets.pdf", "preparing.pdf",
        "branch-by-branch.pdf",
        "order-of-the-class.pdf", "kit-and-room.pdf", "cautions.pdf", "display-card.pdf",
    }  # fmt: skip
    assert set(made) == wanted
    assert all(pdf.startswith(b"%PDF") for pdf in made.values())


def test_whoever_asked_for_large_print_gets_it(made: dict[str, bytes]) -> None:
    assert len(opened(made["handouts/02-bo.pdf"]).pages) == 4
    assert len(opened(made["handouts.pdf"]).pages) == 4  # the two others, two pages each
    assert len(opened(made["handouts-large-print.pdf"]).pages) == 4
    large = letters(opened(made["handouts/02-bo.pdf"]))
    assert min(run.size_pt for run in large if not run.in_drawing) >= 17.99


def test_no_letter_is_smaller_than_twelve_points_nor_nine_in_drawings(
    made: dict[str, bytes],
) -> None:
    for name, pdf in made.items():
        found = letters(opened(pdf))
        assert min(run.size_pt for run in found if not run.in_drawing) >= 11.99, name
        assert min((run.size_pt for run in found if run.in_drawing), default=9.0) >= 8.9, name


def test_the_same_plan_gives_the_same_bytes_and_progress_counts_every_paper(
    made: dict[str, bytes], plan: LessonPlan, words: Words
) -> None:
    told: list[tuple[int, int]] = []
    assert papers_for(plan, words, lambda done, of: told.append((done, of))).files == made
    assert told == [(number, len(made)) for number in range(1, len(made) + 1)]


def test_people_with_equal_pieces_share_their_drawings(plan: LessonPlan, words: Words) -> None:
    """The demonstration's dish is Ada's: drawn once, in the folder of drawings too."""
    first = [name for name in drawings_for(plan, words) if name.endswith("-front.svg")]
    assert len(first) == len({each.made.piece.vessel for each in plan.people if each.made})


def test_file_names_hold_latin_letters_and_figures(plan: LessonPlan) -> None:
    assert [file_name(person) for person in plan.people] == ["01-ada-ukasz", "02-bo", "03"]


def test_the_unknown_vessel_gets_the_reckoner(plan: LessonPlan, words: Words) -> None:
    assert [sheet.template for sheet in handouts(plan, words)] == ["handout", "handout", "blank"]


def test_a_cat_at_home_is_told_on_that_persons_handout_alone(
    plan: LessonPlan, words: Words
) -> None:
    """Tulips can make a cat ill that chews them: Bo has a cat, Ada has none."""
    ada, bo, _ = handouts(plan, words)
    said = words.say(plan.people[1].cautions.objections[0].says)
    assert any(said in text for text in bo.data["cautions"])
    assert not any(said in text for text in ada.data["cautions"])


def test_notes_about_people_are_for_the_teacher_alone(
    told: dict[str, Sheet], plan: LessonPlan, words: Words
) -> None:
    note = words.say(plan.people[1].cautions.notes[0])
    with_note = [name for name, sheet in told.items() if note in " ".join(all_text(sheet.data))]
    assert sorted(with_note) == ["cautions", "teachers-sheet"]
    assert not any(note in " ".join(all_text(sheet.data)) for sheet in handouts(plan, words))


def test_the_shopping_list_has_ranked_stand_ins_and_room_for_what_was_bought(
    told: dict[str, Sheet],
) -> None:
    sections = told["shopping"].data["sections"]
    stand_ins = next(each for each in sections if each["title"] == "If the shop has none")
    assert stand_ins["rows"][0][1] == ["Flowering quince"]
    shop = next(each for each in sections if each["title"] == "Grocery")
    blanks = [cell for cell in shop["rows"][0] if isinstance(cell[0], dict) and "blank" in cell[0]]
    assert len(blanks) == 2


def test_sharp_things_go_out_and_come_in_with_their_sum(
    told: dict[str, Sheet], plan: LessonPlan
) -> None:
    sections = told["kit-and-room"].data["sections"]
    rows = next(each for each in sections if each["title"].startswith("Sharp"))["rows"]
    out = [int(row[1][0]) for row in rows[:-1]]
    assert sum(out) == int(rows[-1][1][0]["strong"]) == plan.kit.sharps_out


def test_days_on_the_display_card_are_words(told: dict[str, Sheet]) -> None:
    """14 March 2026 is a Saturday; five days later it is Thursday, 19 March."""
    assert "Thursday, 19 March" in told["display-card"].data["remove"]
    assert not any(re.search(r"\d{4}-\d\d", text) for text in all_text(told["display-card"].data))


@pytest.mark.source("practice", "size 36: 54, 40.5, 20.25; small 36, 27, 20.25; large 72, 54, 27")
def test_the_reckoner_agrees_with_the_lesson(words: Words) -> None:
    table = reckoner(packaged()["width-plus-height"], "upright", words).data["tables"]["cm"]
    line = table["lines"][SIZES_CM.index(36)]
    assert line["base"] == "36"
    assert line["lengths"] == [["36", "27", "20"], ["54", "41", "20"], ["72", "54", "27"]]


@pytest.mark.source("hand", "14 in: 1.5 × 14 = 21; 3/4 of it 15.75; half of that 7.875, said 8")
def test_the_reckoner_reckons_in_inches_too(words: Words) -> None:
    table = reckoner(packaged()["width-plus-height"], "upright", words).data["tables"]["in"]
    line = next(each for each in table["lines"] if each["base"] == "14")
    assert line["lengths"][1] == ["21", "15¾", "8"]


def test_cautions_of_one_class_are_not_said_twice(plan: LessonPlan, words: Words) -> None:
    sheet = minding(plan.cautions, [person.name for person in plan.people], words)
    said = [text for text in all_text(sheet.data["sections"]) if len(text) > 40]
    assert len(said) == len(set(said))


FORBIDDEN = ("tilt", "bearing", "subordinate", "focal", "bench", "bundle", "run sheet", "rule set")


def test_the_words_of_the_papers_are_plain() -> None:
    """No sentence over 25 words, and none of the words that are kept from people."""
    known = {key: text for key, text in texts("en").items() if key.startswith("papers.")}
    for key, text in known.items():
        for sentence in re.split(r"[.:;?!]\s", text):
            assert len(sentence.split()) <= 25, key
        plain = re.sub(r"\{[^}]*\}", "", text).lower()
        assert not any(re.search(rf"\b{word}\b", plain) for word in FORBIDDEN), key


def test_every_text_of_the_papers_is_used(plan: LessonPlan) -> None:
    """A key that no module and no template names is a leftover."""
    folder = files("nejime") / "papers"
    code = "".join(
        file.read_text(encoding="utf-8")
        for place in (folder, folder / "templates")
        for file in place.iterdir()
        if file.name.endswith((".py", ".typ"))
    )
    table = tomllib.loads(
        (files("nejime") / "data/sayings/en/papers.toml").read_text(encoding="utf-8")
    )["papers"]
    fixed = [
        key for each in table.values() if isinstance(each, dict) for key in each.get("fixed", ())
    ]
    assert [key for key in fixed if key not in code] == []


@pytest.mark.parametrize("large", [False, True])
def test_the_papers_of_a_class_are_printed_large_too(
    large: bool, told: dict[str, Sheet], plan: LessonPlan, words: Words
) -> None:
    on = stock_of(plan, large=large)
    lists = [sheet for name, sheet in told.items() if sheet.template in ("sections", "showing")]
    found = letters(opened(printing.print_sheets(lists, on).pdf))
    least = 18.0 if large else 12.0
    assert min(run.size_pt for run in found if not run.in_drawing) >= least - 0.01


def test_a_stock_is_stamped_with_version_and_seed(plan: LessonPlan) -> None:
    on: Stock = stock_of(plan)
    assert on.version
    assert on.seed is not None
    assert on.date == plan.lesson.starts.date()
