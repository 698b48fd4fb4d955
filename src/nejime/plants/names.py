"""How a typed name is compared with a known one, in Latin letters, kana and kanji.

Case, hyphens, spaces, apostrophes, macrons and accents do not count, and katakana counts as
hiragana, so that `Chūrippu`, `churippu` and, for the kana, `ちゅーりっぷ` are found.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from functools import cache

KANA_MARKS = "\u3099\u309a"  # the voicing marks: が is not か
KATAKANA = range(0x30A1, 0x30F7)
KATAKANA_TO_HIRAGANA = -0x60  # the distance of the two blocks in Unicode


@cache
def folded(name: str) -> str:
    """A name as it is compared."""
    parts = unicodedata.normalize("NFKD", unicodedata.normalize("NFKC", name).casefold())
    kept = "".join(c for c in parts if c in KANA_MARKS or not unicodedata.combining(c))
    whole = unicodedata.normalize("NFC", kept)
    return "".join(_hiragana(c) for c in whole if c.isalnum())


def _hiragana(letter: str) -> str:
    return chr(ord(letter) + KATAKANA_TO_HIRAGANA) if ord(letter) in KATAKANA else letter


def singulars(name: str) -> Iterator[str]:
    """What an English plural may be the plural of: `peonies` of peony, `irises` of iris."""
    if name.endswith("ies"):
        yield f"{name[:-3]}y"
    if name.endswith("es"):
        yield name[:-2]
    if name.endswith("s"):
        yield name[:-1]
