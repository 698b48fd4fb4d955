"""How wide and how high a line of lettering is, without opening a font.

Model: advance widths of the font that the papers use, per thousand of the size; a character that
is not listed is as wide as it is high, which holds for kanji and kana and is too wide for others.
Shapes: sizes in points as on paper, results in millimetres.
Source: the advance widths of Noto Sans JP 400 and 700 as shipped, read once and grouped by width.
"""

from __future__ import annotations

FONT = "Noto Sans JP"
MM_PER_PT = 25.4 / 72  # [bipm2019] a point is 1/72 of an inch
LEAST_PT = 9.0  # [own] nothing on a drawing is smaller than this when it is printed
LINE_EM = 1.25  # [own] from one line to the next, over the size
RISE_EM = 0.86  # [own] from the top of a line's box to its baseline: capitals stand 0.73 high

_GROUPS = (  # [own] read from the font: width, width in bold, letters that are no wider
    (224, 227, " "),
    (275, 306, "|ij"),
    (284, 325, "',.:;’l"),
    (293, 330, "I"),
    (325, 372, "!f"),
    (347, 378, "()[]{}-"),
    (377, 421, "°t"),
    (388, 437, "r"),
    (392, 387, "/\\"),
    (475, 511, "*sz"),
    (474, 574, '?"“”'),
    (498, 562, "x"),
    (510, 527, "c"),
    (535, 580, "yvYJ"),
    (536, 544, "–"),
    (555, 590, "LFeé#$+0123456789<=>^~−"),
    (564, 604, "k·ag_"),
    (575, 627, "XV"),
    (603, 625, "ESTZ"),
    (620, 644, "`oöuühAnñbdpq"),
    (635, 682, "PR"),
    (638, 656, "C"),
    (646, 700, "ßK"),
    (657, 681, "B"),
    (680, 740, "&"),
    (689, 717, "DG"),
    (728, 757, "UNH"),
    (742, 770, "OQ"),
    (812, 863, "wM"),
    (894, 921, "¼W¾—"),
    (903, 948, "½"),
    (926, 964, "%m"),
    (946, 1007, "@"),
)
_USUAL = {letter: usual for usual, _, letters in _GROUPS for letter in letters}
_BOLD = {letter: bold for _, bold, letters in _GROUPS for letter in letters}


def width_mm(text: str, size_pt: float, *, bold: bool = False) -> float:
    """Width of a line of text."""
    widths = _BOLD if bold else _USUAL
    per_mille = sum(widths.get(letter, 1000) for letter in text)
    return per_mille / 1000 * size_pt * MM_PER_PT


def height_mm(lines: int, size_pt: float) -> float:
    """Height of so many lines, from the top of the first to the bottom of the last."""
    return lines * LINE_EM * size_pt * MM_PER_PT


def wrapped(text: str, size_pt: float, most_mm: float, *, bold: bool = False) -> tuple[str, ...]:
    """The text in lines that are no wider than `most_mm`, broken between words.

    A single word that is wider stays whole.
    """
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_mm(longer, size_pt, bold=bold) <= most_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)
