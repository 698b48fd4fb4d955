"""The printed file: tags, sizes of letters, true sizes, equal bytes, refusals."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pdfua
import pytest
from papers.in_pdf import letters, opened, strokes, tags

from nejime.basis.errors import InputError
from nejime.basis.sayings import Words
from nejime.forms.rules import packaged
from nejime.forms.stems import Piece
from nejime.papers import pdf as printing
from nejime.papers.handout import Told, handout
from nejime.papers.pdf import PrintingFailed, print_sheets
from nejime.papers.reckoner import reckoner
from nejime.papers.sheet import Sheet, Stock
from nejime.papers.true_size import bowl_mats, cutting_strips, lean_cards

Make = Callable[..., Stock]


@pytest.fixture(scope="module")
def sheets(dish: Piece, words: Words, stock: Make) -> Callable[[Stock], list[Sheet]]:
    def make(on: Stock) -> list[Sheet]:
        told = Told("Ada", dish, cautions=("Pin holders are sharp.",))
        return [
            handout(told, words, on),
            reckoner(packaged()["width-plus-height"], "upright", words),
            *(tool([("Ada", dish)], words, on) for tool in (lean_cards, bowl_mats, cutting_strips)),
        ]

    return make


def printed(on: Stock, sheets: Callable[[Stock], list[Sheet]]) -> bytes:
    return print_sheets(sheets(on), on, "Papers").pdf


@pytest.mark.source("hand", "ISO 14289-1 (PDF/UA-1), 7.1, 7.2, 7.3: what it asks of every file")
def test_the_file_is_tagged_and_names_title_and_language(
    sheets: Callable[[Stock], list[Sheet]], stock: Make
) -> None:
    found = opened(printed(stock(), sheets))
    root = found.Root
    assert bool(root.MarkInfo.Marked)
    assert str(root.Lang) == "en"
    assert bool(root.ViewerPreferences.DisplayDocTitle)
    with found.open_metadata() as about:
        assert about["dc:title"] == "Papers"
        assert about["pdfuaid:part"] == "1"
        assert "width-plus-height" in str(about["pdf:Keywords"])
        assert "draws 1" in str(about["pdf:Keywords"])
    kinds = [str(tag.S) for tag in tags(found)]
    assert {"/H1", "/H2", "/Table", "/TH", "/TD", "/Figure", "/L"} <= set(kinds)


def test_every_drawing_is_described(sheets: Callable[[Stock], list[Sheet]], stock: Make) -> None:
    found = opened(printed(stock(), sheets))
    figures = [tag for tag in tags(found) if tag.S == "/Figure"]
    assert len(figures) >= 9
    assert all(len(str(figure.Alt)) > 10 for figure in figures)


def test_headers_of_tables_say_what_they_head(
    sheets: Callable[[Stock], list[Sheet]], stock: Make
) -> None:
    found = opened(printed(stock(), sheets))
    heads = [tag for tag in tags(found) if tag.S == "/TH"]
    assert heads
    assert all("Scope" in str(head.A) for head in heads)


@pytest.mark.parametrize(("large", "least"), [(False, 12.0), (True, 18.0)])
@pytest.mark.source(
    "hand", "12 pt is normal, 18 pt large print (APH, UKAAF guidance as summarised)"
)
def test_no_letter_of_the_text_is_smaller_than_the_print_allows(
    large: bool, least: float, sheets: Callable[[Stock], list[Sheet]], stock: Make
) -> None:
    found = letters(opened(printed(stock(large=large), sheets)))
    text = [run.size_pt for run in found if not run.in_drawing]
    drawn = [run.size_pt for run in found if run.in_drawing]
    assert len(text) > 200
    assert min(text) >= least - 0.01
    assert drawn
    assert min(drawn) >= 8.98  # drawings are written to a hundredth of a millimetre


def test_a_smaller_letter_would_be_noticed(
    monkeypatch: pytest.MonkeyPatch, words: Words, stock: Make
) -> None:
    monkeypatch.setattr("nejime.papers.sheet.NORMAL_PT", 11)
    sheet = reckoner(packaged()["width-plus-height"], "upright", words)
    found = letters(opened(print_sheets([sheet], stock()).pdf))
    assert min(run.size_pt for run in found) == pytest.approx(11.0)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("tool", [lean_cards, bowl_mats, cutting_strips])
@pytest.mark.source("hand", "the check line: 10 cm = 100 mm = 283.46 pt")
def test_the_check_line_is_ten_centimetres(
    paper: str, tool: Callable[..., Sheet], dish: Piece, words: Words, stock: Make
) -> None:
    on = stock(paper)
    for page in opened(print_sheets([tool([("Ada", dish)], words, on)], on).pdf).pages:
        long = [stroke.long_mm for stroke in strokes(page) if stroke.level]
        assert any(each == pytest.approx(100.0, abs=0.05) for each in long)


def test_equal_sheets_give_equal_bytes(sheets: Callable[[Stock], list[Sheet]], stock: Make) -> None:
    assert printed(stock(), sheets) == printed(stock(), sheets)


def test_the_only_date_in_the_file_is_the_one_given(
    sheets: Callable[[Stock], list[Sheet]], stock: Make
) -> None:
    one = opened(printed(stock(date=dt.date(2027, 5, 6)), sheets))
    dates = [str(one.docinfo[key]) for key in ("/CreationDate", "/ModDate") if key in one.docinfo]
    assert dates
    assert all(date.startswith("D:20270506") for date in dates)


def test_a_warning_is_a_failure(monkeypatch: pytest.MonkeyPatch, words: Words, stock: Make) -> None:
    """An unknown font is only warned of, and another one would be used in silence."""
    bad = dict(printing._templates())
    page = bad["page.typ"].replace(b'"Source Serif 4"', b'"Nobody Has This"')
    monkeypatch.setattr(printing, "_templates", lambda: bad | {"page.typ": page})
    sheet = reckoner(packaged()["width-plus-height"], "upright", words)
    with pytest.raises(PrintingFailed, match=r"unknown font|nobody has this"):
        print_sheets([sheet], stock())


def test_a_drawing_without_words_is_refused(dish: Piece, words: Words, stock: Make) -> None:
    sheet = lean_cards([("Ada", dish)], words, stock())
    silent = {name: replace(each, alt="") for name, each in sheet.drawings.items()}
    bad = replace(sheet, drawings=silent)
    with pytest.raises(PrintingFailed):
        print_sheets([bad], stock())


def test_a_letter_that_no_font_has_is_replaced_and_named(
    dish: Piece, words: Words, stock: Make
) -> None:
    made = print_sheets([handout(Told("Zoë 🌸 مريم", dish), words, stock())], stock())
    assert "🌸" in made.not_shown
    assert made.pdf.startswith(b"%PDF")


@pytest.mark.parametrize("name", ["Łukasz Żółć", "岡田 さくら", "Ərəbxan", "Nguyễn Thị", "Søren"])
def test_names_of_many_places_are_printed_as_they_are(
    name: str, dish: Piece, words: Words, stock: Make
) -> None:
    assert print_sheets([handout(Told(name, dish), words, stock())], stock()).not_shown == ()


def test_without_fonts_it_is_said_what_to_do(
    monkeypatch: pytest.MonkeyPatch, tmp_path: object, words: Words, stock: Make
) -> None:
    monkeypatch.setattr(printing, "FONTS", tmp_path)
    printing._fonts.cache_clear()
    try:
        with pytest.raises(InputError) as refused:
            print_sheets([reckoner(packaged()["width-plus-height"], "upright", words)], stock())
    finally:
        printing._fonts.cache_clear()
    assert refused.value.faults[0].says.key == "papers.no-fonts"


def test_an_independent_checker_finds_no_error(
    tmp_path: Path, sheets: Callable[[Stock], list[Sheet]], stock: Make
) -> None:
    """pdfua checks 16 of the 106 rules of PDF/UA-1: no proof that the others hold."""
    file = tmp_path / "papers.pdf"
    file.write_bytes(printed(stock(), sheets))
    report = pdfua.validate(str(file))
    assert len(report.outcomes) > len(report.skipped)
    assert [str(finding) for finding in report.findings] == []
