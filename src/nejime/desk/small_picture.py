"""A piece drawn small, in ink and without numbers, for lists and comparisons."""

from __future__ import annotations

from nejime.basis.sayings import Words
from nejime.desk.arrange import Tree, on_table
from nejime.drawings.elevation import elevation

THUMBNAIL_MM = (62.0, 62.0)  # [own]


def small_picture(tree: Tree, words: Words) -> str:
    """A piece in ink, without numbers."""
    wide, high = THUMBNAIL_MM
    return elevation(
        on_table(tree).scene(), "front", words, width_mm=wide, height_mm=high, shows=frozenset()
    )
