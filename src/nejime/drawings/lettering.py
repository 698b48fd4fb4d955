"""How wide and how high a line of lettering is, without opening a font.

Model: advance widths of the font that the papers use, per thousand of the size; a character that
is not listed is as wide as it is high, which holds for kanji and kana and is too wide for others.
Shapes: sizes in points as on paper, results in millimetres.
Source: the advance widths of Noto Sans JP 400 as shipped, read once and grouped by width.
"""

from __future__ import annotations

FONT = "Noto Sans JP"
MM_PER_PT = 25.4 / 72  # [bipm2019] a point is 1/72 of an inch
LEAST_PT = 9.0  # [own] nothing on a drawing is smaller than this when it is printed
LINE_EM = 1.25  # [own] from one line to the next, over the size
RISE_EM = 0.86  # [own] from the top of a line's box to its baseline: capitals stand 0.73 high
BOLD = 1.07  # [own] a bold line is at most so much wider: 0.863 against 0.802 for a w

_GROUPS = {  # [own] read from the font
    224: " ",
    280: "ij',.:;’l|",
    325: "fI!",
    340: "()[]{}",
    348: "-",
    390: "tr/\\°",
    468: "*s",
    475: '"?“”z',
    500: "x",
    512: "c",
    532: "vyYJ–",
    555: "LFkeé#$+0123456789<=>^~−_·",
    566: "ag",
    575: "XV",
    610: "ESTZ`ohuAn",
    621: "bdpq",
    640: "PRC",
    660: "KB",
    690: "&DG",
    730: "UNH",
    745: "OQ",
    813: "wM",
    880: "¼W",
    903: "¾—½",
    930: "%m",
    950: "@",
}
_PER_MILLE = {letter: width for width, letters in _GROUPS.items() for letter in letters}


def width_mm(text: str, size_pt: float, *, bold: bool = False) -> float:
    """Width of a line of text."""
    per_mille = sum(_PER_MILLE.get(letter, 1000) for letter in text)
    return per_mille / 1000 * size_pt * MM_PER_PT * (BOLD if bold else 1.0)


def height_mm(lines: int, size_pt: float) -> float:
    """Height of so many lines, from the top of the first to the bottom of the last."""
    return lines * LINE_EM * size_pt * MM_PER_PT


def wrapped(text: str, size_pt: float, most_mm: float) -> tuple[str, ...]:
    """The text in lines that are no wider than `most_mm`, broken between words.

    A single word that is wider stays whole.
    """
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_mm(longer, size_pt) <= most_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)
