"""Lettering is measured without the font; here the font itself is asked."""

from importlib.resources import files
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from nejime.basis.sayings import texts
from nejime.drawings import lettering

FONTS = Path(str(files("nejime"))) / "papers" / "fonts"
SAID = sorted(text for key, text in texts().items() if key.startswith("drawings."))
NUMBERS = ["54 cm (21¼ in)", "first · shin 真", "69° (65° to 85°)", "third · kyakushi 客枝", "½ in"]


def advance_mm(font, text, size_pt):
    """The sum of the font's own advance widths."""
    letters, widths = font.getBestCmap(), font["hmtx"]
    units = sum(widths[letters[ord(letter)]][0] for letter in text)
    return units / font["head"].unitsPerEm * size_pt * 25.4 / 72


@pytest.mark.parametrize(("file", "bold"), [("400Regular", False), ("700Bold", True)])
def test_a_line_is_never_wider_than_measured_and_hardly_narrower(file, bold):
    with TTFont(FONTS / f"NotoSansJP_{file}.ttf") as font:
        for text in SAID + NUMBERS:
            real = advance_mm(font, text, 9.0)
            measured = lettering.width_mm(text, 9.0, bold=bold)
            assert real <= measured + 0.1, text
            assert measured <= 1.05 * real + 0.3, text


@pytest.mark.source("hand", "a point is 25.4/72 mm: 9 pt are 3.175 mm; a kanji is square")
def test_a_kanji_at_nine_points():
    assert lettering.width_mm("真", 9.0) == pytest.approx(3.175)


def test_lines_break_between_words_and_nowhere_else():
    lines = lettering.wrapped("flat part of the floor", 9.0, 20.0)
    assert " ".join(lines) == "flat part of the floor"
    assert all(lettering.width_mm(line, 9.0) <= 20.0 for line in lines)
    assert lettering.wrapped("unbreakable", 9.0, 5.0) == ("unbreakable",)
