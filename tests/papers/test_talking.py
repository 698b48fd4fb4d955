"""The talking card: one page, in letters as large as what she wrote has room for."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from papers.in_pdf import letters, opened

from nejime.basis.sayings import Words
from nejime.papers.pdf import print_sheets
from nejime.papers.sheet import Sheet, Stock
from nejime.papers.talking import talking

Make = Callable[..., Stock]
SENTENCE = "Follow the first stem from the water to its end, and let the second lead you on. "


def card(words: Words, *parts: tuple[str, str]) -> Sheet:
    return talking("Saturday, 13 March 2027", "啓蟄", parts, words)


def sizes(sheet: Sheet, stock: Stock) -> set[float]:
    return {round(each.size_pt) for each in letters(opened(print_sheets([sheet], stock).pdf))}


def test_a_part_without_words_is_left_out(words: Words) -> None:
    made = card(words, ("word", "One.\n\nTwo."), ("why", " \n "), ("home", "Four."))
    assert [each["says"] for each in made.data["parts"]] == [["One.", "Two."], ["Four."]]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("large", [False, True])
def test_a_few_sentences_are_one_page_in_large_letters(
    words: Words, stock: Make, paper: str, large: bool
) -> None:
    made = card(
        words, *((name, SENTENCE * 2) for name in ("word", "material", "why", "look", "home"))
    )
    pdf = opened(print_sheets([made], stock(paper, large=large)).pdf)
    assert len(pdf.pages) == 1
    assert max(sizes(card(words, ("word", SENTENCE)), stock(paper))) >= 22


def test_more_words_are_smaller_before_they_are_a_second_page(words: Words, stock: Make) -> None:
    parts = ("word", "material", "why", "look", "home")
    for many in (3, 5, 7):
        made = card(words, *((name, SENTENCE * many) for name in parts))
        assert len(opened(print_sheets([made], stock()).pdf).pages) == 1
        assert min(sizes(made, stock())) >= 12
    long = card(words, *((name, SENTENCE * 20) for name in parts))
    assert min(sizes(long, stock())) >= 12
