"""One sheet, both sides, for every vessel and whatever is said of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from papers.in_pdf import MM_PER_PT, opened

from nejime.basis.sayings import Saying, Words
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.stems import Piece
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel
from nejime.papers.blank import blank_handout
from nejime.papers.handout import Told, handout
from nejime.papers.pdf import print_sheets
from nejime.papers.sheet import SIZE_MM, Stock

Make = Callable[..., Stock]
LONG = "Poisonous if eaten. Keep it away from food and from small children, and wash hands."

CASES = {
    "dish": (vessel("round", 30, 6), "width-plus-height", "upright"),
    "cereal bowl": (vessel("bowl", 15, 5.5), "width-plus-height", "upright"),
    "oblong": (vessel("rectangle", 45, 5, depth_cm=13), "width-plus-height", "slanting"),
    "oval": (vessel("oval", 34, 6.5, depth_cm=22), "width-plus-height", "all-round"),
    "footed": (vessel("footed", 24, 13), "twice-upright", "upright"),
    "vase": (vessel("vase", 10, 25), "width-plus-height", "hanging"),
    "slanting vase": (vessel("vase", 12, 40), "width-plus-height", "slanting"),
    "water": (vessel("round", 36, 7), "water-viewing", "water-viewing"),
}


def made(case: str) -> Piece:
    shown, rule, form = CASES[case]
    return piece(shown, packaged()[rule], form)


def pages(told: Told, words: Words, stock: Stock) -> list[tuple[float, float]]:
    """Width and height of each page, in millimetres."""
    pdf = opened(print_sheets([handout(told, words, stock)], stock).pdf)
    boxes = [[float(x) * MM_PER_PT for x in page.mediabox] for page in pdf.pages]
    return [(box[2] - box[0], box[3] - box[1]) for box in boxes]


@pytest.mark.parametrize("case", CASES)
def test_every_vessel_gets_one_sheet(case: str, stock: Make) -> None:
    """Both sides in normal print; with supporting stems, both units and the smaller paper."""
    full = with_supporting(made(case), helpers=6, hearts=3, leaves=5)
    told = Told("Ada", full, cautions=(LONG,) * 9)
    assert len(pages(told, Words(unit="both"), stock("Letter"))) == 2


@pytest.mark.parametrize("case", ["dish", "vase", "oblong"])
def test_large_print_takes_two_sheets(case: str, stock: Make) -> None:
    full = with_supporting(made(case), helpers=2, hearts=1, leaves=2)
    told = Told("Ada", full, cautions=(LONG,) * 9)
    assert len(pages(told, Words(unit="both"), stock("Letter", large=True))) == 4


def test_long_texts_still_leave_one_sheet(dish: Piece, words: Words, stock: Make) -> None:
    told = Told(
        "Maria-Magdalena von und zu Hohenlohe-Schillingsfürst, geborene Wittelsbach",
        dish,
        occasion="A very long title for a class on a very long evening · Saturday, 14 March 2026",
        standing=(Saying("forms.no-holder-try"),) * 3,
        notes=tuple(Saying("papers.care.water") for _ in range(1)),
        cautions=tuple(f"{LONG} {number}" for number in range(30)),
        plants={stem.id: "Bunch-flowered narcissus" for stem in dish.stems},
    )
    assert len(pages(told, words, stock())) == 2


def test_a_piece_of_three_stems_gets_one_sheet_too(words: Words, stock: Make) -> None:
    assert len(pages(Told("Ada", made("dish")), words, stock())) == 2


@pytest.mark.source(
    "hand", "ISO 216: A4 is 210 by 297 mm; Letter is 8.5 by 11 in = 215.9 by 279.4 mm"
)
@pytest.mark.parametrize(("paper", "size"), [("A4", (210.0, 297.0)), ("Letter", (215.9, 279.4))])
def test_pages_have_the_size_of_the_paper(
    paper: str, size: tuple[float, float], dish: Piece, words: Words, stock: Make
) -> None:
    for page in pages(Told("Ada", dish), words, stock(paper)):
        assert page == pytest.approx(size, abs=0.1)
    assert SIZE_MM[paper] == pytest.approx(size)


def test_nobodys_vessel_gets_a_blank_sheet(dish: Piece, words: Words, stock: Make) -> None:
    told = Told("", dish, cautions=(LONG,) * 9)
    for large, count in ((False, 2), (True, 4)):
        on = stock(large=large)
        assert len(opened(print_sheets([blank_handout(told, words, on)], on).pdf).pages) == count


@pytest.mark.source("practice", "30 + 6 = 36; 1.5 × 36 = 54; 3/4 of 54 = 40.5; half of that 20.25")
def test_the_three_lengths_are_said_as_a_teacher_says_them(
    dish: Piece, words: Words, stock: Make
) -> None:
    rows = handout(Told("Ada", dish), words, stock()).data["stems"]
    assert [row["cut"]["number"] for row in rows] == ["54", "41", "20"]
    assert [row["kanji"] for row in rows] == ["真", "副", "控"]


def test_inches_are_said_alone_or_beside(dish: Piece, stock: Make) -> None:
    """54 cm and a little for the curve of the branch: 21¼ in to the nearest quarter."""
    told = Told("Ada", dish)
    inch = handout(told, Words(unit="in"), stock()).data["stems"][0]["cut"]
    both = handout(told, Words(unit="both"), stock()).data["stems"][0]["cut"]
    assert inch == {"number": "21¼", "unit": "in", "also": ""}
    assert both == {"number": "54", "unit": "cm", "also": "21¼ in"}


def test_directions_follow_the_side_to_which_the_piece_opens(
    dish: Piece, words: Words, stock: Make
) -> None:
    mirror = piece(dish.vessel, dish.rule, "upright", opens="left")
    right = [row["direction"] for row in handout(Told("A", dish), words, stock()).data["stems"]]
    left = [row["direction"] for row in handout(Told("A", mirror), words, stock()).data["stems"]]
    swap = {"Front left": "Front right", "Front right": "Front left"}
    assert left == [swap[each] for each in right]


def test_a_stem_that_leans_little_is_called_so(dish: Piece, words: Words, stock: Make) -> None:
    upright = tuple(replace(stem, stands_deg=0.0) for stem in dish.stems)
    data = handout(Told("A", replace(dish, stems=upright)), words, stock()).data
    assert "leave it upright" in data["steps"][1]["says"]


FORMS = [(rule.name, form, kind) for rule in packaged().values() for form, kind in rule.forms]


@pytest.mark.parametrize(("rule", "form", "kind"), FORMS)
def test_every_form_with_all_that_it_can_hold_keeps_to_its_sheets(
    rule: str, form: str, kind: str, stock: Make
) -> None:
    shown = vessel("vase", 9, 30) if kind == "tall" else vessel("footed", 20, 18)
    full = with_supporting(
        piece(shown, packaged()[rule], form, opens="left"), helpers=6, hearts=3, leaves=5
    )
    told = Told("Ada", full, cautions=tuple(f"{LONG} {number}" for number in range(12)))
    for large, count in ((False, 2), (True, 4)):
        assert len(pages(told, Words(unit="both"), stock("Letter", large=large))) == count
